package compartment

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// told writes what a parting has made, a line for each space, face and passage.
func told(q *Parted) string {
	var out []string
	name := func(i int) string {
		if i == Outside {
			return outside
		}
		return q.Spaces[i].Name
	}
	for _, s := range q.Spaces {
		line := s.Name + " in " + q.Bodies[s.Body].Name
		for _, f := range s.Faces {
			c, n := f.Figure.Centre(), f.Figure.Normal()
			line += openAt(c.X, c.Y, c.Z, n.X, f.Figure.Area())
		}
		out = append(out, line)
	}
	for _, p := range q.Passages {
		out = append(out, fmt.Sprintf("%s: %s > %s in %s", p.Name, name(p.From), name(p.To), q.Bodies[p.Body].Name))
	}
	return strings.Join(out, "\n")
}

// openAt writes a face to the micrometre and its area to 1e-9 m².
func openAt(x, y, z, n, area float64) string {
	micro := func(x float64) float64 { return math.Round(1e6*x)/1e6 + 0 }
	return fmt.Sprintf(", open at %g %g %g to %+g over %g", micro(x), micro(y), micro(z), n, math.Round(1e9*area)/1e9)
}

func tells(t *testing.T, what string, v *Vessel, parted []bool, want ...string) *Parted {
	t.Helper()
	q := v.Parted(parted)
	if got := told(q); got != strings.Join(want, "\n") {
		t.Errorf("%s:\n%s\nwant\n%s", what, got, strings.Join(want, "\n"))
	}
	checkParted(t, v, q)
	return q
}

func pinhole(name, from, to string, at r3.Vec) OpeningSpec {
	return OpeningSpec{Name: name, Between: [2]string{from, to}, At: at, Hole: ptr(0.004)}
}

// walled is a box of 1.2 × 0.2 × 0.13 m with a low bulkhead, 80 mm high, in the plane of its one joint at 0.6.
func walled(keeps KeepKind) Spec {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.6)
	spec.Joints[0].Keeps = keeps
	spec.Bulkheads = []BulkheadSpec{{Name: "B", At: 0.6, Top: ptr(0.08)}}
	spec.Compartments = []CompartmentSpec{{Name: "aft"}, {Name: "fore"}}
	spec.Openings = []OpeningSpec{
		pinhole("door", "fore", "aft", r3.Vec{X: 0.603, Z: 0.04}), // 3 mm off its plate
		pinhole("bottom", "aft", "outside", r3.Vec{X: 0.5997}),
	}
	return spec
}

// TestWallsInThePlane: the table of what Keeps says, of a low bulkhead with a door, in the plane of the joint; the contract's
// "Joints". Sections are 0.2 × 0.13 m.
func TestWallsInThePlane(t *testing.T) {
	tear := pinhole("tear", "outside", "aft", r3.Vec{X: 0.6, Z: 0.03})
	for keeps, want := range map[KeepKind][]string{
		KeepBoth: {"aft in p0", "fore in p1", "door.p0: outside > aft in p0", "door.p1: fore > outside in p1",
			"bottom: aft > outside in p0", "tear: outside > aft in p0", "B.p0: aft > outside in p0", "B.p1: outside > fore in p1"},
		KeepAfter: {"aft in p0", "fore in p1, open at 0.6 0 0.065 to -1 over 0.026", "door: outside > aft in p0",
			"bottom: aft > outside in p0", "tear: outside > aft in p0", "B: aft > outside in p0"},
		KeepForward: {"aft in p0, open at 0.6 0 0.065 to +1 over 0.026", "fore in p1", "door: fore > outside in p1",
			"bottom: aft > outside in p0", "B: outside > fore in p1"},
	} {
		spec := walled(keeps)
		if keeps != KeepForward {
			spec.Openings = append(spec.Openings, tear)
		}
		v := mustBuild(t, spec)
		q := tells(t, "keeps "+string(keeps), v, []bool{true}, want...)
		for _, p := range q.Passages {
			was := v.Passages[p.Index]
			if p.Joint != -1 || p.Figure != was.Figure || p.Law != was.Law || p.Bulkhead != was.Bulkhead || p.Listed != was.Listed {
				t.Errorf("keeps %s: %s has another figure or law, or is still shut", keeps, p.Name)
			}
		}
		for _, s := range q.Spaces {
			for _, f := range s.Faces {
				if f.Joint != 0 || f.Law != hydro.FaceLaw(f.Figure.Area(), v.Water, v.Air) {
					t.Errorf("keeps %s: the law of the face of %s is %+v", keeps, s.Name, f.Law)
				}
			}
		}
	}
	v := mustBuild(t, walled("")) // both is what it is by default
	if q := v.Parted([]bool{true}); len(q.Passages) != 5 {
		t.Errorf("by default %d passages", len(q.Passages))
	}
}

// TestNoneParted is the vessel itself.
func TestNoneParted(t *testing.T) {
	spec := walled(KeepAfter)
	spec.Openings = append(spec.Openings, pinhole("tear", "outside", "aft", r3.Vec{X: 0.6, Z: 0.03}))
	v := mustBuild(t, spec)
	for _, parted := range [][]bool{nil, {false}} {
		q := v.Parted(parted)
		if len(q.Bodies) != 1 || q.Bodies[0] != v.Whole || len(q.Spaces) != 2 || len(q.Passages) != 4 {
			t.Fatalf("%d bodies, %d spaces, %d passages", len(q.Bodies), len(q.Spaces), len(q.Passages))
		}
		for i, p := range q.Passages {
			if p.Passage != v.Passages[i] || p.Index != i {
				t.Errorf("passage %s is not the vessel's", p.Name)
			}
		}
	}
}

// TestDividedSpaces: three joints, of which some part, through a hold with permeability that a tank and a lead bar stand in.
func TestDividedSpaces(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.3, 0.6, 0.9)
	spec.Weights = append(spec.Weights, WeightSpec{Name: "bar", Mass: 1, At: r3.Vec{X: 0.6, Z: 0.01}, Size: &[3]float64{0.2, 0.05, 0.02}, Density: ptr(5000.0)})
	spec.Compartments = []CompartmentSpec{{Name: "hold", Permeability: ptr(0.5)},
		{Name: "tank", X: &[2]float64{0.5, 0.7}, Y: &[2]float64{0.04, 0.1}, Z: &[2]float64{0, 0.05}}}
	spec.Openings = []OpeningSpec{
		pinhole("a", "hold", "outside", r3.Vec{X: 0.1, Y: -0.1, Z: 0.05}),
		pinhole("plane", "hold", "outside", r3.Vec{X: 0.6, Y: -0.1, Z: 0.05}), // on the hull, in the plane: forward
		pinhole("valve-aft", "tank", "hold", r3.Vec{X: 0.55, Y: 0.04, Z: 0.02}),
		pinhole("valve-fore", "hold", "tank", r3.Vec{X: 0.65, Y: 0.06, Z: 0.05}),
		pinhole("end", "tank", "hold", r3.Vec{X: 0.702, Y: 0.07, Z: 0.02}),
	}
	v := mustBuild(t, spec)
	// The face of the hold in the plane 0.6 is the section less the tank's 0.06 × 0.05 and the bar's 0.05 × 0.02; its centre
	// by moments of those.
	area := 0.2*0.13 - 0.06*0.05 - 0.05*0.02
	y, z := -0.003*0.07/area, (0.026*0.065-0.003*0.025-0.001*0.01)/area
	face := func(n float64) string { return openAt(0.6, y, z, n, 0.022) }
	tells(t, "the middle", v, []bool{false, true, false},
		"hold.p0+p1 in p0+p1"+face(1), "hold.p2+p3 in p2+p3"+face(-1),
		"tank.p1 in p0+p1, open at 0.6 0.07 0.025 to +1 over 0.003", "tank.p2 in p2+p3, open at 0.6 0.07 0.025 to -1 over 0.003",
		"a: hold.p0+p1 > outside in p0+p1", "plane: hold.p2+p3 > outside in p2+p3", "valve-aft: tank.p1 > hold.p0+p1 in p0+p1",
		"valve-fore: hold.p2+p3 > tank.p2 in p2+p3", "end: tank.p2 > hold.p2+p3 in p2+p3")
	tells(t, "the ends", v, []bool{true, false, true},
		"hold.p0 in p0, open at 0.3 0 0.065 to +1 over 0.026",
		"hold.p1+p2 in p1+p2, open at 0.3 0 0.065 to -1 over 0.026, open at 0.9 0 0.065 to +1 over 0.026",
		"hold.p3 in p3, open at 0.9 0 0.065 to -1 over 0.026", "tank in p1+p2",
		"a: hold.p0 > outside in p0", "plane: hold.p1+p2 > outside in p1+p2", "valve-aft: tank > hold.p1+p2 in p1+p2",
		"valve-fore: hold.p1+p2 > tank in p1+p2", "end: tank > hold.p1+p2 in p1+p2")
	q, all := v.Parted([]bool{false, true}), v.Parted([]bool{true, true, true})
	if heirs := all.Heirs(0, q.Bodies[1]); !slices.Equal(heirs, []int{2, 3}) || all.Spaces[heirs[0]].Name != "hold.p2" {
		t.Errorf("the hold's fore half goes over into %v", heirs)
	}
	if heirs := all.Heirs(1, q.Bodies[0]); len(heirs) != 1 || all.Spaces[heirs[0]].Name != "tank.p1" {
		t.Errorf("the tank's after half goes over into %v", heirs)
	}
}

// TestBoxesInThePlane: a boxed compartment that ends in the plane keeps its wall; what lay against it is open.
func TestBoxesInThePlane(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.6)
	spec.Compartments = []CompartmentSpec{{Name: "hold"},
		{Name: "tank", X: &[2]float64{0.6, 0.7}, Y: &[2]float64{0, 0.1}, Z: &[2]float64{0, 0.05}},
		{Name: "twin", X: &[2]float64{0.5, 0.6}, Y: &[2]float64{0.05, 0.1}, Z: &[2]float64{0, 0.05}}}
	spec.Openings = []OpeningSpec{
		pinhole("after-wall", "hold", "tank", r3.Vec{X: 0.6, Y: 0.02, Z: 0.02}),
		pinhole("between", "tank", "twin", r3.Vec{X: 0.6, Y: 0.07, Z: 0.02}),
		pinhole("fore-wall", "hold", "tank", r3.Vec{X: 0.7, Y: 0.02, Z: 0.02}),
	}
	v := mustBuild(t, spec)
	tells(t, "boxes", v, []bool{true},
		"hold.p0 in p0"+openAt(0.6, -0.0025*0.075/0.0235, (0.026*0.065-0.0025*0.025)/0.0235, 1, 0.0235),
		"hold.p1 in p1"+openAt(0.6, -0.005*0.05/0.021, (0.026*0.065-0.005*0.025)/0.021, -1, 0.021),
		"tank in p1", "twin in p0", "after-wall: outside > tank in p1",
		"between.p0: outside > twin in p0", "between.p1: tank > outside in p1", "fore-wall: hold.p1 > tank in p1")
}

// TestTearInABoxsWall: a boxed compartment's own wall in the plane may be torn whoever keeps bulkheads; of the hold that lies
// against it no wall is left to tear.
func TestTearInABoxsWall(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.6)
	spec.Joints[0].Keeps = KeepForward
	spec.Compartments = []CompartmentSpec{{Name: "hold"}, {Name: "tank", X: &[2]float64{0.5, 0.6}, Y: &[2]float64{-0.05, 0.05}, Z: &[2]float64{0, 0.05}}}
	spec.Openings = []OpeningSpec{pinhole("tear", "outside", "tank", r3.Vec{X: 0.6, Z: 0.03})}
	v := mustBuild(t, spec)
	if q := v.Parted([]bool{true}); len(q.Passages) != 1 || q.Spaces[q.Passages[0].To].Name != "tank" || v.Passages[0].Joint != 0 || q.Passages[0].Joint != -1 {
		t.Errorf("%s", told(q))
	}
	spec.Openings[0].Between[1] = "hold"
	if _, err := Build(spec); err == nil || !strings.Contains(err.Error(), "no wall bounds hold in the joint's plane") {
		t.Errorf("a tear in no wall: %v", err)
	}
}

// TestPartedAndOpen: a stern with a closed peak and a hold open to the sea floats on its peak alone, level where
// its weight lies amid it, by the closed form for a box. A bow full of foam (permeability 0.4) bears 0.6 of its breadth.
func TestPartedAndOpen(t *testing.T) {
	spec := jointsAt(laden(1.2), 0.6)
	spec.Weights = []WeightSpec{{Name: "aft", Mass: 2, At: r3.Vec{X: 0.15, Z: 0.01}}, {Name: "fore", Mass: 3, At: r3.Vec{X: 0.9, Z: 0.01}}}
	spec.Bulkheads = []BulkheadSpec{{Name: "B", At: 0.3}, {Name: "C", At: 0.6}}
	spec.Joints[0].Keeps = KeepAfter
	spec.Compartments = []CompartmentSpec{{Name: "peak"}, {Name: "hold"}, {Name: "foam", Permeability: ptr(0.4)}}
	v := mustBuild(t, spec)
	q := v.Parted([]bool{true})
	for _, c := range []struct {
		body  int
		open  int // in the body's list
		draft float64
	}{
		{0, 1, 2 / v.Water.Density / (0.2 * 0.3)},
		{1, 0, 3 / v.Water.Density / (0.2 * 0.6 * 0.6)},
	} {
		f := NewFloater(q.Bodies[c.body], v.Water.Density, true)
		f.Open(c.open, true)
		water := make([]float64, len(f.Body.Spaces))
		rest := f.Settle(Upright(0.03), water, FallStride, nil)
		fore, aft := f.Body.Drafts(rest.Pose)
		near(t, "draft fore", fore, c.draft, 1e-12)
		near(t, "draft aft", aft, c.draft, 1e-12)
	}
	if len(q.Spaces[1].Faces) != 0 || len(q.Spaces[2].Faces) != 1 {
		t.Errorf("the wrong spaces are open:\n%s", told(q))
	}
}

// TestGapBesideBoxes: a gap over a low bulkhead that a box of one side takes part of, or all: gone with its side, it leaves the
// gap of the other wider.
func TestGapBesideBoxes(t *testing.T) {
	for _, c := range []struct {
		from float64 // the box reaches from there to the port side, above the bulkhead
		want []string
		area float64
	}{
		{0.05, []string{"aft in p0", "fore in p1", "over in p1", "B.p0: aft > outside in p0", "B.p1: outside > fore in p1"}, 0.2 * 0.05},
		{-0.1, []string{"aft in p0, open at 0.6 0 0.105 to +1 over 0.01", "fore in p1", "over in p1"}, 0},
	} {
		spec := walled(KeepBoth)
		spec.Openings = nil
		spec.Compartments = append(spec.Compartments,
			CompartmentSpec{Name: "over", X: &[2]float64{0.6, 0.7}, Y: &[2]float64{c.from, 0.1}, Z: &[2]float64{0.08, 0.13}})
		q := tells(t, "box over the wall", mustBuild(t, spec), []bool{true}, c.want...)
		if c.area > 0 {
			near(t, "gap of the after side", q.Passages[0].Figure.Area(), c.area, 1e-15)
			near(t, "gap of the fore side", q.Passages[1].Figure.Area(), 0.15*0.05, 1e-15)
			near(t, "width of its law", q.Passages[0].Law.Width/q.Passages[1].Law.Width, 1.1547005383792515, 1e-12) // √(4/3)
		}
	}
}

// TestRoomAgainstABox: without a bulkhead, a compartment that ends where a box fills the section is open once the box has gone.
func TestRoomAgainstABox(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.6)
	spec.Compartments = []CompartmentSpec{{Name: "hold"}, {Name: "bow", X: &[2]float64{0.6, 2}, Y: &[2]float64{-1, 1}, Z: &[2]float64{-1, 1}}}
	spec.Openings = []OpeningSpec{pinhole("hole", "hold", "bow", r3.Vec{X: 0.6, Z: 0.02})}
	tells(t, "box for a bow", mustBuild(t, spec), []bool{true},
		"hold in p0, open at 0.6 0 0.065 to +1 over 0.026", "bow in p1", "hole: outside > bow in p1")
}

// TestSplitOfABox: the water of a box, trimmed so that it covers the floor, split in the middle, by the closed form for a
// trapezium; and with the fore half full. Either is 0.5 of the room.
func TestSplitOfABox(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.4)
	spec.Compartments = []CompartmentSpec{{Name: "hold", Permeability: ptr(0.5)}}
	v := mustBuild(t, spec)
	q := v.Parted([]bool{true})
	parts := []*Space{q.Spaces[0].Space, q.Spaces[1].Space}
	up := Inclined(0, 0.03) // by the head: the depth over the floor falls by tan(trim) a metre aft
	const mean, slope = 0.05, 0.030009003241180
	got := v.Spaces[0].Split(up, 0.5*0.2*1.2*mean, parts)
	near(t, "abaft", got[0], 0.5*0.2*0.4*(mean-0.4*slope), 1e-12)
	near(t, "before", got[1], 0.5*0.2*0.8*(mean+0.2*slope), 1e-12)
	near(t, "together", got[0]+got[1], 0.5*0.2*1.2*mean, 1e-18)
	on := r3.Vec{X: -1} // on its nose
	got = v.Spaces[0].Split(on, 0.5*0.2*0.13*0.9, parts)
	near(t, "abaft, on its nose", got[0], 0.5*0.2*0.13*0.1, 1e-13)
	near(t, "before, on its nose", got[1], 0.5*0.2*0.13*0.8, 1e-13)
	for _, share := range []float64{-0.01, 0, 1, 1.001} { // nothing, and full
		water := share * v.Spaces[0].Capacity()
		got = v.Spaces[0].Split(up, water, parts)
		near(t, "abaft", got[0], water/3, 1e-16)
		near(t, "before", got[1], water*2/3, 1e-16)
	}
}

// TestSplitOfAFullBox: full but for some roundings, in any attitude, each part is full, and holds no more.
func TestSplitOfAFullBox(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.4)
	spec.Compartments = []CompartmentSpec{{Name: "hold", Permeability: ptr(0.744)}}
	v := mustBuild(t, spec)
	q := v.Parted([]bool{true})
	s, parts := v.Spaces[0], []*Space{q.Spaces[0].Space, q.Spaces[1].Space}
	rnd := rand.New(rand.NewPCG(9, 1))
	for range 200 {
		up := r3.Unit(r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()})
		for _, lacks := range []float64{1.2e-16, 1e-15, 9e-15, 2e-14, 1e-13} {
			for i, w := range s.Split(up, (1-lacks)*s.Capacity(), parts) {
				near(t, fmt.Sprintf("%s, up %v, lacking %g", parts[i].Name, up, lacks), w/parts[i].Capacity(), 1, 1e-12)
			}
		}
	}
}

// TestKeelPoint is where a joint is wetted.
func TestKeelPoint(t *testing.T) {
	j := JointSpec{At: 0.42}
	nearVec(t, "keel point", j.KeelPoint(), r3.Vec{X: 0.42}, 0)
}
