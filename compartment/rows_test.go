package compartment

import (
	"flag"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

var partTrials = flag.Int("parttrials", 30, "how many random hulls TestRandomPartings parts")

// TestRowOfABox: a box of 1.2 × 0.2 × 0.13 m with its weight spread evenly, in four pieces, the hold over all of them: what the
// two middle ones are together, by hand.
func TestRowOfABox(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.3, 0.6, 1)
	spec.Weights = append(spec.Weights, WeightSpec{Name: "mast", Mass: 0.2, At: r3.Vec{X: 0.6, Z: 0.3}, Later: true},
		WeightSpec{Name: "fin", Mass: 1, At: r3.Vec{X: 0.6, Z: -0.01}, Size: &[3]float64{1, 0.01, 0.02}, Density: ptr(5000.0)})
	spec.Compartments = []CompartmentSpec{{Name: "hold", Permeability: ptr(0.8), Starts: &StartSpec{Depth: ptr(0.05)}},
		{Name: "tank", X: &[2]float64{0.4, 0.9}, Y: &[2]float64{-0.02, 0.02}, Z: &[2]float64{0.1, 0.13}},
		{Name: "locker", X: &[2]float64{0.35, 0.5}, Y: &[2]float64{0.05, 0.1}, Z: &[2]float64{0.1, 0.13}},
		{Name: "peak", X: &[2]float64{0.8, 1.1}, Y: &[2]float64{0.05, 0.1}, Z: &[2]float64{0.1, 0.13}}}
	v := mustBuild(t, spec)
	b := v.BodyOf(1, 2)
	if b.Name != "p1+p2" || b.First != 1 || b.Last != 2 || v.BodyOf(1, 2) != b || v.BodyOf(0, 3) != v.Whole || v.BodyOf(2, 2) != v.Pieces[2] {
		t.Errorf("bodies %q, %d to %d", b.Name, b.First, b.Last)
	}
	near(t, "form", b.Form.Volume(), 0.7*0.2*0.13, 1e-15)
	nearVec(t, "its middle", b.Form.Centroid(), r3.Vec{X: 0.65, Z: 0.065}, 1e-14)
	near(t, "mass", b.Mass, 6*0.7/1.2+0.7, 1e-12)
	nearVec(t, "centre", b.Centre, r3.Vec{X: 0.65, Z: (3.5*0.03 - 0.7*0.01) / 4.2}, 1e-12)
	near(t, "inertia along x about the origin", b.Inertia.XX, 4.2*(0.65*0.65+0.7*0.7/12), 1e-12)
	near(t, "later", b.LaterMass, 0.2, 0)
	nearVec(t, "later's centre", b.LaterCentre, r3.Vec{X: 0.6, Z: 0.3}, 1e-12)
	near(t, "fin", b.Appendages.Volume(), 0.7*0.01*0.02, 1e-15)
	nearVec(t, "keel aft", b.KeelAft, r3.Vec{X: 0.3}, 0)
	nearVec(t, "keel fore", b.KeelFore, r3.Vec{X: 1}, 0)
	nearVec(t, "keel middle", b.KeelMiddle, r3.Vec{X: 0.65}, 1e-15)
	near(t, "freeboard", b.Freeboard(Upright(0.05)), 0.08, 1e-15)
	if first, last := b.DeckEdge[0].X, b.DeckEdge[len(b.DeckEdge)-1].X; first != 0.3 || last != 1 {
		t.Errorf("deck edge from %g to %g", first, last)
	}
	for i, want := range []struct {
		name     string
		piece    int
		capacity float64
	}{
		{"hold.p1+p2", -1, 0.8 * (0.7*0.2*0.13 - 0.5*0.04*0.03 - 0.15*0.05*0.03 - 0.2*0.05*0.03)},
		{"tank", -1, 0.5 * 0.04 * 0.03},
		{"locker", 1, 0.15 * 0.05 * 0.03},
		{"peak.p2", 2, 0.2 * 0.05 * 0.03},
	} {
		s := b.Spaces[i]
		if s.Name != want.name || s.Piece != want.piece || s.Index != i {
			t.Errorf("space %d is %q in piece %d, of %d; want %+v", i, s.Name, s.Piece, s.Index, want)
		}
		near(t, want.name, s.Capacity(), want.capacity, 1e-15)
	}
	if b.Spaces[1] != v.Spaces[1] || b.Spaces[3] != v.Pieces[2].Spaces[2] {
		t.Error("spaces that are the same are not shared")
	}
	near(t, "water at the start", b.Spaces[0].StartVolume(), 0.8*0.7*0.2*0.05, 1e-12)
}

// TestHairBeyondAJoint: a space that a wall within half a millimetre of a plane bounds has no part beyond it, though it is
// divided by another plane.
func TestHairBeyondAJoint(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.4, 0.8)
	spec.Bulkheads = []BulkheadSpec{{Name: "B", At: 0.8003}}
	spec.Compartments = []CompartmentSpec{{Name: "aft"}, {Name: "fore"}}
	v := mustBuild(t, spec)
	for k, want := range []string{"aft.p0", "aft.p1", "fore"} {
		if s := v.Pieces[k].Spaces; len(s) != 1 || s[0].Name != want || s[0].Piece != k {
			t.Errorf("piece %d has %d spaces, the first %q", k, len(s), s[0].Name)
		}
	}
	near(t, "all of the water", v.Pieces[0].Spaces[0].Capacity()+v.Pieces[1].Spaces[0].Capacity(), v.Spaces[0].Capacity(), 1e-15)
	if v.BodyOf(0, 1).Spaces[0] != v.Spaces[0] || len(v.BodyOf(1, 2).Spaces) != 2 {
		t.Error("rows of pieces have other spaces")
	}
}

// TestRowsAreShared by goroutines.
func TestRowsAreShared(t *testing.T) {
	v := mustBuild(t, jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.3, 0.6, 1))
	var all sync.WaitGroup
	got := make([]*Body, 8)
	for i := range got {
		all.Go(func() { got[i] = v.BodyOf(i%2, 2) })
	}
	for range 4 {
		all.Go(func() { v.Parted([]bool{true, false, true}) })
	}
	all.Wait()
	if q := v.Parted([]bool{true, false, true}); v.Parted([]bool{true, false, true}) != q || v.Parted(nil) != v.Parted([]bool{false}) {
		t.Error("two descriptions of the same parting")
	}
	for i := range got {
		if got[i] != v.BodyOf(i%2, 2) {
			t.Error("two bodies of the same pieces")
		}
	}
}

// sums are the integrals of bodies that a parting must leave as they are.
type sums struct {
	form, outside, rooms lump // by volume
	now, later           lump // by mass
}

func sumsOf(bodies ...*Body) (s sums) {
	of := func(x *solid.Solid, f float64) lump {
		return lump{f * x.Volume(), r3.Scale(f*x.Volume(), x.Centroid()), x.Second().Scale(f)}
	}
	for _, b := range bodies {
		s.form = s.form.plus(of(b.Form, 1))
		if b.Appendages != nil {
			s.outside = s.outside.plus(of(b.Appendages, 1))
		}
		for _, x := range b.Spaces {
			s.rooms = s.rooms.plus(of(x.Room, x.Fraction))
		}
		s.now, s.later = s.now.plus(b.lump(false)), s.later.plus(b.laterLump())
	}
	return s
}

func nearLump(t *testing.T, what string, got, want lump, tolerance float64) {
	t.Helper()
	near(t, what, got.mass, want.mass, tolerance)
	nearVec(t, what+", first moment", got.first, want.first, tolerance)
	nearMoments(t, what+", second moments", got.second, want.second, tolerance)
}

// pierced draws a hull as sound does, with low bulkheads too, and holes of 1 mm exactly in their plates: in the hull, and in
// walls across.
func (r sound) pierced() (Spec, bool) {
	spec := r.spec()
	for k := range spec.Joints {
		spec.Joints[k].Keeps = [3]KeepKind{KeepAfter, KeepForward, KeepBoth}[r.IntN(3)]
	}
	for k := range spec.Bulkheads {
		if r.IntN(2) == 0 {
			spec.Bulkheads[k].Top = ptr(r.between(0.04, 0.09))
		}
	}
	if n := len(spec.Joints); len(spec.Bulkheads) > 0 && r.IntN(3) > 0 { // a hair beside it, or in it
		spec.Joints[0].At = spec.Bulkheads[0].At + []float64{0, 4e-4, -4e-4}[r.IntN(3)]
		if n > 1 && spec.Joints[1].At < spec.Joints[0].At+0.01 {
			return spec, false
		}
	}
	if len(spec.Compartments) == 0 {
		spec.Compartments = []CompartmentSpec{{Name: "all"}}
	}
	v, err := Build(spec)
	if err != nil {
		return spec, false
	}
	hole := func(abaft, before string, at r3.Vec) {
		between := [2]string{abaft, before}
		if r.IntN(2) == 0 {
			between[0], between[1] = before, abaft
		}
		spec.Openings = append(spec.Openings, OpeningSpec{Name: "o" + string(rune('a'+len(spec.Openings))), Between: between, At: at, Hole: ptr(1e-3)})
	}
	for range 6 {
		at, normal, _ := v.Whole.Form.Nearest(r3.Vec{X: r.Float64(), Y: r.between(-0.2, 0.2), Z: r.between(-0.1, 0.1)})
		hole(outside, v.Spaces[v.made.rooms.spaceAt(r3.Sub(at, r3.Scale(1e-6, normal)))].Name, at)
	}
	for _, w := range v.made.rooms.boxes { // of a box the after wall
		if w.given {
			at := r3.Vec{X: w.lo.X, Y: (w.lo.Y + w.hi.Y) / 2, Z: (w.lo.Z + w.hi.Z) / 2}
			hole(v.Spaces[v.made.rooms.spaceAt(r3.Sub(at, r3.Vec{X: 1e-6}))].Name, v.Spaces[v.made.rooms.spaceAt(r3.Add(at, r3.Vec{X: 1e-6}))].Name, at)
		}
	}
	for _, w := range spec.Bulkheads {
		at := r3.Vec{X: w.At, Y: r.between(-0.05, 0.05), Z: r.between(0.02, 0.04)}
		a, b := v.made.rooms.spaceAt(r3.Sub(at, r3.Vec{X: 1e-6})), v.made.rooms.spaceAt(r3.Add(at, r3.Vec{X: 1e-6}))
		if a != b {
			hole(v.Spaces[a].Name, v.Spaces[b].Name, at)
		}
	}
	return spec, true
}

// TestRandomPartings: however random hulls part, volumes, room for water and masses of the bodies and their first and second
// moments add up to those of the whole; every passage is accounted for and leads where it lies; and water in any pose is
// split into what it was.
func TestRandomPartings(t *testing.T) {
	r, parted, twain, found := sound{rand.New(rand.NewPCG(6, 42))}, 0, 0, 0
	for trial := range *partTrials {
		spec, ok := r.pierced()
		if !ok {
			continue
		}
		v, err := Build(spec)
		if err != nil {
			continue
		}
		which := make([]bool, len(spec.Joints))
		for k := range which {
			which[k] = r.IntN(3) > 0
		}
		q := v.Parted(which)
		if len(q.Bodies) > 1 {
			parted++
		}
		got, want := sumsOf(q.Bodies...), sumsOf(v.Whole)
		nearLump(t, "forms", got.form, want.form, 1e-14)
		nearLump(t, "outside solids", got.outside, want.outside, 1e-15)
		nearLump(t, "rooms", got.rooms, want.rooms, 1e-14)
		nearLump(t, "masses", got.now, want.now, 1e-13)
		nearLump(t, "later masses", got.later, want.later, 1e-13)
		up := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
		for i, s := range v.Spaces {
			splits(t, q, v, i, up, s.Capacity()*r.between(-0.1, 1.1))
		}
		checkParted(t, v, q)
		if len(q.Passages) > len(v.Passages) {
			twain++
		}
		found += leads(t, v, q)
		if t.Failed() {
			t.Fatalf("trial %d", trial)
		}
	}
	t.Logf("%d parted, %d with a passage in two, %d sides of passages looked for", parted, twain, found)
	if n := *partTrials; parted < n/3 || twain < n/25 || found < 3*n {
		t.Errorf("only %d hulls parted, %d with a passage in two, %d sides were found", parted, twain, found)
	}
}

// leads looks for the sides of passages a micrometre off their plates, where the whole space is there: the part that the
// passage leads to must be too. It tells how many it has found.
func leads(t *testing.T, v *Vessel, q *Parted) (found int) {
	t.Helper()
	for _, p := range q.Passages {
		was := v.Passages[p.Index]
		if p.Bulkhead >= 0 {
			continue
		}
		for side, i := range [2]int{p.From, p.To} {
			if i == Outside {
				continue
			}
			step := r3.Scale(1e-6, p.Figure.Normal()) // toward To, or out of the hull
			if side == 0 || was.From == Outside || was.To == Outside {
				step = r3.Scale(-1, step)
			}
			at := r3.Add(p.Figure.Centre(), step)
			if !v.Spaces[q.Spaces[i].Index].Room.Inside(at) {
				continue // a solid stands there
			}
			found++
			if !q.Spaces[i].Room.Inside(at) {
				t.Errorf("passage %s leads to %s, which is not there", p.Name, q.Spaces[i].Name)
			}
		}
	}
	return found
}

// splits checks how the water of a space is split.
func splits(t *testing.T, q *Parted, v *Vessel, i int, up r3.Vec, water float64) {
	t.Helper()
	s := v.Spaces[i]
	heirs := q.Heirs(i, v.Whole)
	parts := make([]*Space, len(heirs))
	for k, h := range heirs {
		parts[k] = q.Spaces[h].Space
	}
	f := NewFloater(v.Whole, v.Water.Density, true)
	f.Level(i, up, water)
	sum, moment := 0.0, r3.Vec{}
	for k, w := range s.Split(up, water, parts) {
		sum += w
		g := NewFloater(q.Bodies[q.Spaces[heirs[k]].Body], v.Water.Density, true)
		g.Level(q.Spaces[heirs[k]].Local, up, w)
		moment = r3.Add(moment, g.Surfaces()[q.Spaces[heirs[k]].Local].Moment)
		if w < -1e-18 && water >= 0 || w > parts[k].Capacity()*(1+1e-10) && water <= s.Capacity() {
			t.Errorf("%s gets %g of %g m³", parts[k].Name, w, water)
		}
	}
	near(t, "water of "+s.Name, sum, water, 1e-17)
	if water > 0 && water < s.Capacity() {
		nearVec(t, "its moment", moment, f.Surfaces()[i].Moment, 1e-13)
	}
}

// checkParted checks what must hold of every description.
func checkParted(t *testing.T, v *Vessel, q *Parted) {
	t.Helper()
	for i := range q.Spaces {
		s := &q.Spaces[i]
		if q.Bodies[s.Body].Spaces[s.Local] != s.Space {
			t.Errorf("space %s is not where it says", s.Name)
		}
		for _, f := range s.Faces {
			if !(f.Figure.Area() > 0) || !(f.Law.Jet > 0) {
				t.Errorf("%s has a face of %g m²", s.Name, f.Figure.Area())
			}
		}
	}
	had := make([]bool, len(v.Passages))
	for _, p := range q.Passages {
		had[p.Index] = true
		for _, side := range [2]int{p.From, p.To} {
			if side != Outside && q.Spaces[side].Body != p.Body {
				t.Errorf("passage %s leads from body to body", p.Name)
			}
		}
		if p.From == p.To {
			t.Errorf("passage %s leads nowhere", p.Name)
		}
	}
	for i, there := range had {
		if !there {
			t.Errorf("passage %s is lost", v.Passages[i].Name)
		}
	}
}
