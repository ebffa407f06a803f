package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

func passage(t testing.TB, v *Vessel, name string) *Passage {
	t.Helper()
	for _, p := range v.Passages {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("there is no passage %q", name)
	return nil
}

// TestPassages: spaces, normals, mouths and laws of the barge's openings, in file order, then the gap.
func TestPassages(t *testing.T) {
	v := mustBuild(t, barge())
	index := func(name string) int {
		if name == outside {
			return Outside
		}
		return space(t, v, name).Index
	}
	for i, want := range []struct {
		name, from, to string
		centre, normal r3.Vec
		area           float64
	}{
		{"cut", "outside", "fore", r3.Vec{X: 0.9, Y: -0.1, Z: 0.03}, r3.Vec{Y: -1}, 0.024 * 0.0012},
		{"limber", "mid", "after", r3.Vec{X: 0.301, Y: 0.01, Z: 0.02}, r3.Vec{X: -1}, math.Pi / 4 * 0.014 * 0.014},
		{"hatch", "mid", "outside", r3.Vec{X: 0.5, Z: 0.162}, r3.Vec{Z: 1}, 0.06 * 0.04},
		{"valve", "wing", "fore", r3.Vec{X: 0.75, Y: 0.04, Z: 0.03}, r3.Vec{Y: -1}, 1e-4},
		{"pump", "fore", "outside", r3.Vec{X: 1, Z: 0.1}, r3.Vec{X: 1}, math.Pi / 4 * pumpMouth * pumpMouth},
		{"B2", "mid", "fore", r3.Vec{X: 0.7, Z: 0.125}, r3.Vec{X: 1}, 0.2 * 0.05},
	} {
		p := v.Passages[i]
		if p.Name != want.name || p.From != index(want.from) || p.To != index(want.to) || p.Joint != -1 {
			t.Errorf("passage %d is %+v, want %+v", i, p, want)
		}
		nearVec(t, want.name+" centre", p.Figure.Centre(), want.centre, 1e-12)
		nearVec(t, want.name+" normal", p.Figure.Normal(), want.normal, 1e-12)
		near(t, want.name+" area", p.Figure.Area(), want.area, 1e-12)
		if (p.Pump != 0) != (want.name == "pump") {
			t.Errorf("%s pumps %g", want.name, p.Pump)
		}
	}
	near(t, "the valve's coefficient", passage(t, v, "valve").Law.Cd, 0.7, 0)
	near(t, "contact angle", passage(t, v, "cut").Angle, hydro.ContactAngle, 0)
	slot := hydro.SlotLaw(0.024, 0.0012, 0.0016, hydro.Sharp, math.NaN(), v.Water, v.Air)
	if got := passage(t, v, "cut").Law; got != slot {
		t.Errorf("the cut's law is %+v, want %+v", got, slot)
	}
}

// TestFigureDirections: a length lies along x, on a plate across x along y, or as told.
func TestFigureDirections(t *testing.T) {
	spec := barge()
	slot := &SlotSpec{Length: 0.03, Width: 0.002}
	spec.Openings = []OpeningSpec{
		{Name: "side", Between: [2]string{"outside", "after"}, At: r3.Vec{X: 0.1, Y: 0.1, Z: 0.05}, Slot: slot},
		{Name: "upright", Between: [2]string{"outside", "after"}, At: r3.Vec{X: 0.1, Y: 0.1, Z: 0.05}, Slot: slot, Along: &r3.Vec{Z: 5}},
		{Name: "transom", Between: [2]string{"outside", "after"}, At: r3.Vec{Z: 0.05}, Slot: slot},
		{Name: "faced", Between: [2]string{"outside", "after"}, At: r3.Vec{Z: 0.05}, Slot: slot, Faces: &r3.Vec{Z: 3}},
	}
	v := mustBuild(t, spec)
	high := map[string]float64{"side": 0.002, "upright": 0.03, "transom": 0.002, "faced": 0}
	for name, want := range high {
		var view hydro.View
		passage(t, v, name).Figure.View(r3.Vec{Z: 1}, &view)
		near(t, name+" height", view.High-view.Low, want, 1e-9)
	}
	nearVec(t, "faced", passage(t, v, "faced").Figure.Normal(), r3.Vec{Z: 1}, 0)
}

// TestTearInJoint: an opening to the outside in a joint's plane stays shut until the parting, in the wall that its piece keeps.
func TestTearInJoint(t *testing.T) {
	for keeps, want := range map[KeepKind]string{KeepAfter: "after", KeepForward: "mid", KeepBoth: "after", "": "mid"} {
		spec := barge()
		spec.Joints[0].At, spec.Joints[0].Keeps = 0.3004, keeps
		o := tear("after")
		o.Between[1] = want
		spec.Openings = append(spec.Openings, o)
		v := mustBuild(t, spec)
		p := passage(t, v, "tear")
		normal := 1.0
		if want == "mid" {
			normal = -1
		}
		if p.Joint != 0 || v.Spaces[p.To].Name != want || p.From != Outside {
			t.Errorf("keeps %q: %+v", keeps, p)
		}
		nearVec(t, "normal", p.Figure.Normal(), r3.Vec{X: normal}, 0)
		if hatch := passage(t, v, "hatch"); hatch.Joint != -1 {
			t.Error("a hatch far from the joint is in its plane")
		}
	}
}

// TestReach: 5 mm off the plate, or half its own height, and no farther.
func TestReach(t *testing.T) {
	at := func(off float64, shape func(*OpeningSpec)) error {
		spec := barge()
		o := OpeningSpec{Name: "o", Between: [2]string{"outside", "after"}, At: r3.Vec{X: 0.1, Y: 0.1 + off, Z: 0.05}}
		shape(&o)
		spec.Openings = []OpeningSpec{o}
		_, err := Build(spec)
		return err
	}
	for _, c := range []struct {
		off   float64
		ok    bool
		shape func(*OpeningSpec)
	}{
		{0.0049, true, func(o *OpeningSpec) { o.Hole = ptr(0.001) }},
		{-0.0049, true, func(o *OpeningSpec) { o.Hole = ptr(0.001) }},
		{0.0051, false, func(o *OpeningSpec) { o.Hole = ptr(0.001) }},
		{0.0095, true, func(o *OpeningSpec) { o.Hole = ptr(0.02) }},
		{0.0105, false, func(o *OpeningSpec) { o.Hole = ptr(0.02) }},
		{0.0095, true, func(o *OpeningSpec) { o.Door = &DoorSpec{Length: 0.01, Height: 0.02} }},
		{0.0095, false, func(o *OpeningSpec) { o.Slot = &SlotSpec{Length: 0.03, Width: 0.001} }},
		{0.0095, true, func(o *OpeningSpec) { o.Slot, o.Along = &SlotSpec{Length: 0.03, Width: 0.001}, &r3.Vec{Z: 1} }},
	} {
		if err := at(c.off, c.shape); (err == nil) != c.ok {
			t.Errorf("%g m off: %v", c.off, err)
		}
	}
}
