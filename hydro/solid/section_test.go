package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestSectionAgreesWithBelow: the outline's area and moment are those of the cut, at random planes and at those through
// corners.
func TestSectionAgreesWithBelow(t *testing.T) {
	for name, s := range treeBodies(t) {
		if s.Volume() < 0 {
			continue // an outline has no sign of its own
		}
		rnd := rand.New(rand.NewPCG(8, 1))
		planes := randomPlanes(s, 40, 15)
		for range 20 {
			n := randomUnit(rnd)
			planes = append(planes, Plane{n, r3.Dot(n, s.corners[rnd.IntN(len(s.corners))])})
		}
		for _, p := range planes {
			b, o := s.Below(p), s.Section(p)
			scale := s.size * s.size
			near(t, name+": area", o.Area(), b.Area, 1e-11, scale)
			nearVec(t, name+": moment", o.AreaMoment(), b.AreaMoment, 1e-11, scale*(s.size+r3.Norm(s.centre)))
		}
	}
}

// TestSectionLoops: numbers and senses of loops.
func TestSectionLoops(t *testing.T) {
	room, block := Box(r3.Vec{}, r3.Vec{X: 4, Y: 3, Z: 2}), Box(r3.Vec{X: 1, Y: 1, Z: 0}, r3.Vec{X: 2, Y: 2, Z: 1})
	void := Sum(room, block.Reversed())
	ring := torus(1, 0.3, 32, 16)
	for _, c := range []struct {
		s      *Solid
		p      Plane
		loops  int
		area   float64
		reason string
	}{
		{room, Plane{r3.Vec{Z: 1}, 1}, 1, 12, "a rectangle"},
		{void, Plane{r3.Vec{Z: 1}, 0.5}, 2, 11, "a rectangle with a hole"},
		{void, Plane{r3.Vec{X: -1}, -1.5}, 2, 5, "a hole on the floor, its edge on the outer one"},
		{void, Plane{r3.Vec{Z: 1}, 1.5}, 1, 12, "above the void"},
		{room, Plane{r3.Vec{Z: 1}, 2}, 1, 12, "the lid: the solid lies below it"},
		{room, Plane{r3.Vec{Z: 1}, 0}, 0, 0, "the floor: nothing lies below it"},
		{room, Plane{r3.Vec{Z: 1}, 7}, 0, 0, "beside it"},
		{room, Plane{r3.Vec{Z: 1}, math.NaN()}, 0, 0, "not a plane"},
		{ring, Plane{r3.Vec{X: 1}, 0}, 2, 2 * 16 / 2 * 0.09 * math.Sin(2*math.Pi/16), "a ring along its axis: two polygons of 16"},
		{ring, Plane{r3.Vec{Z: 1}, 0}, 2, 32 * math.Sin(2*math.Pi/32) / 2 * (1.3*1.3 - 0.7*0.7), "a ring across its axis: one in another"},
	} {
		o := c.s.Section(c.p)
		if len(o) != c.loops {
			t.Errorf("%s: %d loops, want %d", c.reason, len(o), c.loops)
		}
		near(t, c.reason, o.Area(), c.area, 1e-12, 12)
		for _, l := range o {
			for _, v := range l {
				near(t, c.reason+": a corner's height", r3.Dot(c.p.N, v), c.p.D, 1e-14, 4)
			}
		}
	}
	if o := void.Section(Plane{r3.Vec{Z: 1}, 0.5}); len(o) == 2 && loopArea(o[0]).Z*loopArea(o[1]).Z >= 0 {
		t.Errorf("a hole runs the same way as what is around it")
	}
}

// TestCapsStayWithin: the cap over a section that is not convex has its area, not more, so that nothing reaches out of it.
func TestCapsStayWithin(t *testing.T) {
	l := []StationPoint{{0, 0.2}, {1, 0.2}, {1.2, 1}, {2, 1}} // a T: narrow below, wide above
	s, _, err := Stations([]Station{{0, l}, {3, l}}, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []Plane{{r3.Vec{X: 1}, 1.3}, {r3.Unit(r3.Vec{X: 1, Y: 0.3, Z: 0.2}), 1.7}} {
		c := s.Clip(p)
		var caps float64
		for _, f := range c.faces {
			a := r3.Cross(r3.Sub(c.corners[f[1]], c.corners[f[0]]), r3.Sub(c.corners[f[2]], c.corners[f[0]]))
			if l := r3.Norm(a); l > 0 && r3.Dot(a, p.N) > (1-1e-9)*l {
				caps += l / 2
			}
		}
		near(t, "cap", caps, s.Below(p).Area, 1e-12, 10)
	}
}

// TestNearest against a search through all plates.
func TestNearest(t *testing.T) {
	for name, s := range treeBodies(t) {
		rnd := rand.New(rand.NewPCG(9, 1))
		for range 60 {
			x := r3.Add(s.centre, r3.Scale(s.size*rnd.Float64(), randomUnit(rnd)))
			best := math.Inf(1)
			for tri := range s.Triangles() {
				best = min(best, r3.Norm(r3.Sub(x, tri.closest(x))))
			}
			point, normal, distance := s.Nearest(x)
			near(t, name+": distance", distance, best, 1e-11, s.size)
			near(t, name+": point", r3.Norm(r3.Sub(x, point)), best, 1e-11, s.size)
			near(t, name+": normal", r3.Norm(normal), 1, 1e-12, 1)
		}
	}
}

// TestNearestOnEdges: a point off an edge or a corner gets the normal of a plate that it faces.
func TestNearestOnEdges(t *testing.T) {
	s := Box(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1})
	for _, c := range []struct{ x, point, normal r3.Vec }{
		{r3.Vec{X: 0.5, Y: 0.5, Z: 2}, r3.Vec{X: 0.5, Y: 0.5, Z: 1}, r3.Vec{Z: 1}},
		{r3.Vec{X: 0.5, Y: 1.1, Z: 2}, r3.Vec{X: 0.5, Y: 1, Z: 1}, r3.Vec{Z: 1}},
		{r3.Vec{X: 0.3, Y: 0.2, Z: 0.1}, r3.Vec{X: 0.3, Y: 0.2}, r3.Vec{Z: -1}},
		{r3.Vec{X: 3, Y: 1.1, Z: 1.2}, r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{X: 1}},
	} {
		point, normal, distance := s.Nearest(c.x)
		nearVec(t, "point", point, c.point, 1e-14, 1)
		nearVec(t, "normal", normal, c.normal, 1e-14, 1)
		near(t, "distance", distance, r3.Norm(r3.Sub(c.x, c.point)), 1e-14, 1)
	}
}

func TestInside(t *testing.T) {
	ring := torus(1, 0.3, 32, 16)
	room, block := Box(r3.Vec{}, r3.Vec{X: 4, Y: 3, Z: 2}), Box(r3.Vec{X: 1, Y: 1, Z: 0}, r3.Vec{X: 2, Y: 2, Z: 1})
	void := Sum(room, block.Reversed())
	for _, c := range []struct {
		s    *Solid
		x    r3.Vec
		want bool
	}{
		{ring, r3.Vec{}, false}, {ring, r3.Vec{X: 0.8, Y: 0.6}, true}, {ring, r3.Vec{X: 0.8, Y: 0.6, Z: 0.31}, false},
		{void, r3.Vec{X: 1.5, Y: 1.5, Z: 0.5}, false}, {void, r3.Vec{X: 1.5, Y: 1.5, Z: 1.5}, true},
		{void, r3.Vec{X: 5, Y: 1.5, Z: 0.5}, false},
	} {
		if got := c.s.Inside(c.x); got != c.want {
			t.Errorf("%v: inside %v, want %v", c.x, got, c.want)
		}
	}
}
