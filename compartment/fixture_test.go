package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// barge is a box of 1 × 0.2 × 0.15 m with three transverse spaces (after to 0.3, mid to 0.7, fore), a low bulkhead before
// mid, a box cut out of mid and fore, a shell, and lead in it.
func barge() Spec {
	return Spec{
		Water: WaterSpec{Kind: Fresh, Temperature: 291.15},
		Hull: HullSpec{
			Box:   &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
			Shell: ShellSpec{Mass: ptr(0.6), At: &r3.Vec{X: 0.52, Z: 0.07}, Density: ptr(1050.0)},
		},
		Bulkheads: []BulkheadSpec{{Name: "B1", At: 0.3}, {Name: "B2", At: 0.7, Top: ptr(0.1)}},
		Compartments: []CompartmentSpec{
			{Name: "after", Airtight: true},
			{Name: "mid", Permeability: ptr(0.9), Starts: &StartSpec{Volume: ptr(3e-4)}},
			{Name: "wing", X: &[2]float64{0.6, 0.8}, Y: &[2]float64{0.04, 0.1}, Z: &[2]float64{0, 0.08}},
			{Name: "fore"},
		},
		Weights: []WeightSpec{
			{Name: "lead", Mass: 2, At: r3.Vec{X: 0.45, Z: 0.01}, Size: &[3]float64{0.2, 0.1, 0.01}, Density: ptr(1e4)},
			{Name: "engine", Mass: 0.5, At: r3.Vec{X: 0.2, Z: 0.05}},
			{Name: "house", Mass: 0.3, At: r3.Vec{X: 0.5, Z: 0.17}, Over: &[2]float64{0.3, 0.72}, Later: true},
			{Name: "keel", Mass: 1, At: r3.Vec{X: 0.5, Z: -0.02}, Size: &[3]float64{0.5, 0.01, 0.02}, Density: ptr(1e4)},
		},
		Openings: []OpeningSpec{
			{Name: "cut", Between: [2]string{"outside", "fore"}, At: r3.Vec{X: 0.9, Y: -0.1, Z: 0.03},
				Slot: &SlotSpec{Length: 0.024, Width: 0.0012}, Wall: 0.0016},
			{Name: "limber", Between: [2]string{"mid", "after"}, At: r3.Vec{X: 0.301, Y: 0.01, Z: 0.02}, Hole: ptr(0.014)},
			{Name: "hatch", Between: [2]string{"mid", "outside"}, At: r3.Vec{X: 0.5, Z: 0.15}, Door: &DoorSpec{Length: 0.06, Height: 0.04},
				Rises: 0.012},
			{Name: "valve", Between: [2]string{"wing", "fore"}, At: r3.Vec{X: 0.75, Y: 0.04, Z: 0.03}, Area: ptr(1e-4), Cd: ptr(0.7)},
			{Name: "pump", Between: [2]string{"fore", "outside"}, At: r3.Vec{X: 1, Z: 0.1}, Flow: ptr(2e-5), Opens: []Condition{{Time: ptr(5.0)}}},
		},
		Joints: []JointSpec{{Name: "J1", At: 0.5, Sections: [2]string{"stern", "bow"}, Holds: HoldSpec{Hogging: ptr(2.0)}}},
		Marks:  []MarkSpec{{Name: "M1", At: r3.Vec{X: 0.9, Z: 0.1}}},
	}
}

// ship is a hull of ship shape by a table of offsets, with flare, a flat bottom amidships and a stem that comes to a point.
func ship() *OffsetsSpec {
	station := func(x float64, zy ...float64) Station {
		st := Station{X: x}
		for i := 0; i < len(zy); i += 2 {
			st.Points = append(st.Points, StationPoint{Z: zy[i], Y: zy[i+1]})
		}
		return st
	}
	return &OffsetsSpec{Mirror: true, Stations: []Station{
		station(0, 0.06, 0.02, 0.08, 0.05, 0.11, 0.06),
		station(0.25, 0, 0.02, 0.03, 0.07, 0.1, 0.085),
		station(0.5, 0, 0.05, 0.02, 0.08, 0.1, 0.09),
		station(0.75, 0, 0.01, 0.03, 0.05, 0.07, 0.07, 0.105, 0.08),
		station(1, 0.12, 0),
	}}
}

func ptr[T any](x T) *T { return &x }

func mustBuild(t testing.TB, spec Spec) *Vessel {
	t.Helper()
	v, err := Build(spec)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.12g, want %.12g (±%.1g)", what, got, want, tolerance)
	}
}

func nearVec(t testing.TB, what string, got, want r3.Vec, tolerance float64) {
	t.Helper()
	if !(r3.Norm(r3.Sub(got, want)) <= tolerance) {
		t.Errorf("%s: %.12g, want %.12g (±%.1g)", what, got, want, tolerance)
	}
}

func nearMoments(t testing.TB, what string, got, want solid.Moments, tolerance float64) {
	t.Helper()
	d := got.Add(want.Scale(-1))
	if !(max(math.Abs(d.XX), math.Abs(d.YY), math.Abs(d.ZZ), math.Abs(d.XY), math.Abs(d.XZ), math.Abs(d.YZ)) <= tolerance) {
		t.Errorf("%s: %.12g, want %.12g (±%.1g)", what, got, want, tolerance)
	}
}

func space(t testing.TB, v *Vessel, name string) *Space {
	t.Helper()
	for _, s := range v.Spaces {
		if s.Name == name {
			return s
		}
	}
	t.Fatalf("there is no space %q", name)
	return nil
}

func mustBox() *solid.Solid { return solid.Box(r3.Vec{Y: -0.1}, r3.Vec{X: 1, Y: 0.1, Z: 0.15}) }

// star are n directions in the plane x = 0, all round.
func star(n int) []r3.Vec {
	out := make([]r3.Vec, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = r3.Vec{Y: cos, Z: sin}
	}
	return out
}
