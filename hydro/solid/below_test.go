package solid

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// sameBelow holds two results against each other, relative to what the whole solid's integrals amount to.
func sameBelow(t *testing.T, s *Solid, p Plane, got, want Below, tol float64) {
	t.Helper()
	far := s.size + r3.Norm(s.centre)
	volume, area := math.Abs(s.Volume()), s.size*s.size
	off := math.Abs(got.Volume-want.Volume) / volume
	off = max(off, r3.Norm(r3.Sub(got.Moment, want.Moment))/(volume*far))
	off = max(off, math.Abs(got.Area-want.Area)/area)
	off = max(off, r3.Norm(r3.Sub(got.AreaMoment, want.AreaMoment))/(area*far))
	d := got.AreaSecond.Add(want.AreaSecond.Scale(-1))
	for _, x := range [6]float64{d.XX, d.YY, d.ZZ, d.XY, d.XZ, d.YZ} {
		off = max(off, math.Abs(x)/(area*far*far))
	}
	if !(off <= tol) {
		t.Errorf("%v: off by %.3g, allowed %.0e\n got %+v\nwant %+v", p, off, tol, got, want)
	}
}

// treeBodies are shapes for the comparison of tree and plain loop, of one leaf and of many.
func treeBodies(t *testing.T) map[string]*Solid {
	bodies := offsetBodies()
	bodies["reversed"] = bodies["hull"].Reversed()
	hull, _, err := Stations(coaster(), true)
	if err != nil {
		t.Fatal(err)
	}
	bodies["coaster"] = hull
	return bodies
}

// TestTreeIsThePlainLoop: all integrals to 1e-11, at random planes, at planes through corners, and along the axes.
func TestTreeIsThePlainLoop(t *testing.T) {
	bodies := treeBodies(t)
	bodies["fine hull"] = benchHull(50_000)
	for name, s := range bodies {
		tris := slices.Collect(s.Triangles())
		rnd := rand.New(rand.NewPCG(6, 1))
		planes := randomPlanes(s, 120, 11)
		for range 40 {
			n := randomUnit(rnd)
			planes = append(planes, Plane{n, r3.Dot(n, tris[rnd.IntN(len(tris))][0])})
		}
		for _, n := range directions(6, 1)[:4] {
			low, high := s.Reach(n)
			for i := range 11 {
				planes = append(planes, Plane{n, low + (high-low)*(float64(i)+0.37)/11})
			}
		}
		for _, p := range planes {
			sameBelow(t, s, p, s.Below(p), plainBelow(tris, p, s.centre), 1e-11)
		}
		if t.Failed() {
			t.Fatal(name)
		}
	}
}

// lattice draws solids with corners on a coarse lattice, so that planes through many corners at once are common.
func lattice(t *rapid.T) *Solid {
	var parts []*Solid
	for range rapid.IntRange(1, 3).Draw(t, "parts") {
		x, y, z := rapid.IntRange(-3, 2).Draw(t, "x"), rapid.IntRange(-3, 2).Draw(t, "y"), rapid.IntRange(-3, 2).Draw(t, "z")
		l := rapid.IntRange(1, 3).Draw(t, "l")
		lo := r3.Vec{X: float64(x), Y: float64(y), Z: float64(z)}
		parts = append(parts, Box(lo, r3.Add(lo, r3.Vec{X: float64(l), Y: 1, Z: 2})))
	}
	return Sum(parts...)
}

func latticePlane(t *rapid.T) Plane {
	var n r3.Vec
	for r3.Norm(n) == 0 {
		draw := func() float64 { return float64(rapid.IntRange(-2, 2).Draw(t, "n")) }
		n = r3.Vec{X: draw(), Y: draw(), Z: draw()}
	}
	l := r3.Norm(n)
	return Plane{r3.Scale(1/l, n), float64(rapid.IntRange(-8, 8).Draw(t, "d")) / l}
}

// TestBothSidesMakeTheWhole: what lies below and what lies above add up, and so do the two clips, which are closed and agree
// with the integrals, at planes through corners, edges and faces.
func TestBothSidesMakeTheWhole(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s, p := lattice(rt), latticePlane(rt)
		q := Plane{r3.Scale(-1, p.N), -p.D}
		below, above := s.Below(p), s.Below(q)
		scale := s.Volume()
		if off := math.Abs(below.Volume + above.Volume - scale); off > 1e-12*scale {
			rt.Fatalf("%v: volumes below and above off by %g", p, off)
		}
		if off := r3.Norm(r3.Sub(r3.Add(below.Moment, above.Moment), s.moment)); off > 1e-11*scale {
			rt.Fatalf("%v: moments off by %g", p, off)
		}
		for _, half := range []struct {
			plane Plane
			want  Below
		}{{p, below}, {q, above}} {
			c := s.Clip(half.plane)
			if _, err := New(slices.Collect(c.Triangles())); err != nil {
				rt.Fatalf("%v: clip is open: %v", half.plane, err)
			}
			if off := math.Abs(c.Volume() - half.want.Volume); off > 1e-12*scale {
				rt.Fatalf("%v: clip off by %g", half.plane, off)
			}
			if off := r3.Norm(r3.Sub(c.moment, half.want.Moment)); off > 1e-11*scale {
				rt.Fatalf("%v: moment of the clip off by %g", half.plane, off)
			}
		}
	})
}

// TestClipsOfAHull: the parts between oblique and repeated cuts are closed and add up, and a part cut again where it was
// cut already stays what it is.
func TestClipsOfAHull(t *testing.T) {
	for name, s := range treeBodies(t) {
		rest, total := s, 0.0
		for i := range 5 {
			low, high := s.Reach(r3.Vec{X: 1})
			p := Plane{r3.Vec{X: 1}, low + (high-low)*float64(i+1)/6}
			part := rest.Clip(p)
			again := part.Clip(p)
			near(t, name+": cut again", again.Volume(), part.Volume(), 1e-13, math.Abs(s.Volume()))
			if _, err := New(slices.Collect(part.Triangles())); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			total += part.Volume()
			rest = rest.Clip(Plane{r3.Vec{X: -1}, -p.D})
		}
		near(t, name+": parts", total+rest.Volume(), s.Volume(), 1e-12, math.Abs(s.Volume()))
		for _, p := range randomPlanes(s, 30, 12) {
			c := s.Clip(p)
			near(t, name+": oblique", c.Volume(), s.Below(p).Volume, 1e-12, math.Abs(s.Volume()))
			nearVec(t, name+": oblique", c.moment, s.Below(p).Moment, 1e-11, math.Abs(s.Volume())*(s.size+r3.Norm(s.centre)))
		}
	}
}

// TestClipBox: a corner of a box, a box around it, one beside it.
func TestClipBox(t *testing.T) {
	s := Box(r3.Vec{}, r3.Vec{X: 2, Y: 2, Z: 2})
	c := s.ClipBox(r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{X: 3, Y: 3, Z: 3})
	near(t, "corner", c.Volume(), 1, 1e-14, 1)
	near(t, "skin of the corner", c.Surface(), 6, 1e-14, 1)
	if lo, hi := c.Bounds(); lo != (r3.Vec{X: 1, Y: 1, Z: 1}) || hi != (r3.Vec{X: 2, Y: 2, Z: 2}) {
		t.Errorf("bounds %v %v", lo, hi)
	}
	inf := math.Inf(1)
	if c := s.ClipBox(r3.Vec{X: -inf, Y: -inf, Z: -inf}, r3.Vec{X: inf, Y: inf, Z: 9}); c != s {
		t.Errorf("a box around it changes it")
	}
	if c := s.ClipBox(r3.Vec{X: 2, Y: 0, Z: 0}, r3.Vec{X: 3, Y: 2, Z: 2}); c.Len() != 0 || c.Volume() != 0 {
		t.Errorf("a box beside it leaves %d triangles", c.Len())
	}
}

// TestEmpty: every method works on a solid without triangles.
func TestEmpty(t *testing.T) {
	for _, s := range []*Solid{{}, Sum(), Box(r3.Vec{X: 1}, r3.Vec{}), Wigley(1, 1, 1, math.NaN(), 4, 4), (&Solid{}).Reversed()} {
		p := Plane{r3.Vec{Z: 1}, 1}
		low, high := s.Reach(p.N)
		lo, hi := s.Bounds()
		_, _, distance := s.Nearest(r3.Vec{})
		if s.Below(p) != (Below{}) || low != 0 || high != 0 || lo != hi || s.Section(p) != nil || s.Clip(p).Len() != 0 ||
			s.Inside(r3.Vec{}) || !math.IsInf(distance, 1) || s.Centroid() != (r3.Vec{}) || s.SurfaceCentroid() != (r3.Vec{}) {
			t.Errorf("an empty solid is not empty to all its methods")
		}
	}
	if s, err := New(nil); err != nil || s.Len() != 0 {
		t.Errorf("no triangles: %v", err)
	}
}

// TestNewRefuses what does not close, with the place, and corners that are no numbers.
func TestNewRefuses(t *testing.T) {
	tris := slices.Collect(Box(r3.Vec{X: 5}, r3.Vec{X: 6, Y: 1, Z: 1}).Triangles())
	_, err := New(tris[:11])
	open, ok := err.(*OpenError)
	if !ok || open.Edges != 3 || open.From.X < 5 {
		t.Errorf("a box less one triangle: %v", err)
	}
	tris[3][1].Y = math.Inf(1)
	if _, err := New(tris); err == nil || err.Error() != "triangle 3, corner 1 is not finite" {
		t.Errorf("an infinite corner: %v", err)
	}
}

// TestNothingAllocated by what is called in every step.
func TestNothingAllocated(t *testing.T) {
	s := benchHull(10_000)
	planes := randomPlanes(s, 8, 13)
	for name, f := range map[string]func(Plane){
		"Below":   func(p Plane) { s.Below(p) },
		"Reach":   func(p Plane) { s.Reach(p.N) },
		"Offset":  func(p Plane) { s.Offset(p.N, s.Volume()/3, p.D) },
		"Nearest": func(p Plane) { s.Nearest(r3.Scale(p.D, p.N)) },
	} {
		if n := testing.AllocsPerRun(20, func() {
			for _, p := range planes {
				f(p)
			}
		}); n != 0 {
			t.Errorf("%s allocates %g times", name, n)
		}
	}
}

// TestReach against all corners.
func TestReach(t *testing.T) {
	for name, s := range treeBodies(t) {
		for _, n := range directions(30, 14) {
			low, high := s.Reach(n)
			wantLow, wantHigh := math.Inf(1), math.Inf(-1)
			for _, c := range s.corners {
				wantLow, wantHigh = min(wantLow, r3.Dot(n, c)), max(wantHigh, r3.Dot(n, c))
			}
			near(t, name+": low", low, wantLow, 1e-14, s.size+r3.Norm(s.centre))
			near(t, name+": high", high, wantHigh, 1e-14, s.size+r3.Norm(s.centre))
		}
	}
}

// TestTreeGrowsLikeTheRoot: triangles visited rise with √N, not with N.
func TestTreeGrowsLikeTheRoot(t *testing.T) {
	small, large := benchHull(1_000), benchHull(64_000)
	a, b := visitedMean(small, randomPlanes(small, 64, 7)), visitedMean(large, randomPlanes(large, 64, 7))
	growth := math.Log(b/a) / math.Log(float64(large.Len())/float64(small.Len()))
	t.Logf("%d triangles: %.0f visited; %d: %.0f; exponent %.2f", small.Len(), a, large.Len(), b, growth)
	if growth > 0.62 {
		t.Errorf("visited triangles grow with N to the %.2f", growth)
	}
}
