package compartment

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The share of an opening beyond its wall, by hand: half of a hole whose middle is on an edge; of one with its middle s radii inside it
// the segment (arccos s − s√(1−s²))/π; of a rectangle the share of its sides. The barge is 1 m × 200 mm × 150 mm, B2 at 0.7 m has its
// top at 100 mm.
func TestOverhang(t *testing.T) {
	segment := func(s float64) float64 { return (math.Acos(s) - s*math.Sqrt(1-s*s)) / math.Pi }
	side, wall := [2]string{"outside", "fore"}, [2]string{"mid", "fore"}
	for _, c := range []struct {
		what string
		o    OpeningSpec
		want float64
	}{
		{"well within the side", OpeningSpec{Between: side, At: r3.Vec{X: 0.9, Y: 0.1, Z: 0.05}, Hole: ptr(0.04)}, 0},
		{"middle on the deck edge", OpeningSpec{Between: side, At: r3.Vec{X: 0.9, Y: 0.1, Z: 0.15}, Hole: ptr(0.04), Faces: &r3.Vec{Y: 1}}, 0.5},
		{"under the floor", OpeningSpec{Between: side, At: r3.Vec{X: 0.9, Y: 0.1, Z: 0.01}, Hole: ptr(0.04)}, segment(0.5)},
		{"across the bulkhead", OpeningSpec{Between: side, At: r3.Vec{X: 0.71, Y: -0.1, Z: 0.05}, Slot: &SlotSpec{Length: 0.08, Width: 0.002}}, 3.0 / 8},
		{"beside the bulkhead", OpeningSpec{Between: side, At: r3.Vec{X: 0.71, Y: -0.1, Z: 0.05}, Along: &r3.Vec{Z: 1}, Slot: &SlotSpec{Length: 0.08, Width: 0.002}}, 0},
		{"over the bulkhead's top", OpeningSpec{Between: wall, At: r3.Vec{X: 0.7, Z: 0.09}, Door: &DoorSpec{Length: 0.03, Height: 0.04}}, 0.25},
		{"up to the bulkhead's top", OpeningSpec{Between: wall, At: r3.Vec{X: 0.7, Z: 0.08}, Door: &DoorSpec{Length: 0.03, Height: 0.04}}, 0},
		{"no shape that is known", OpeningSpec{Between: side, At: r3.Vec{X: 0.9, Y: 0.1, Z: 0.05}, Area: ptr(1.0)}, 0},
		{"a pump", OpeningSpec{Between: side, At: r3.Vec{X: 0.9, Y: 0.1, Z: 0.15}, Flow: ptr(1e-5)}, 0},
	} {
		spec := barge()
		c.o.Name = "test"
		spec.Openings = []OpeningSpec{c.o}
		v := mustBuild(t, spec)
		near(t, c.what, passage(t, v, "test").overhang, c.want, 0.02) // 1/16 of points a side
		told := false
		for _, n := range v.Notes {
			told = told || n.Path == "openings.test" && strings.Contains(n.Text, "counts as open")
		}
		if told != (c.want > overhangTold) {
			t.Errorf("%s: %v", c.what, v.Notes)
		}
	}
}

// A plate that falls away from an opening is its wall all the same: a hole in the round bilge of a hull sticks out of nothing.
func TestNoOverhangOnRoundPlates(t *testing.T) {
	spec := barge()
	spec.Hull = HullSpec{Wigley: &WigleySpec{Length: 1, Breadth: 0.2, Draft: 0.1, Depth: 0.15}, Shell: ShellSpec{Thickness: ptr(0.001), Density: ptr(1000.0)}}
	spec.Bulkheads, spec.Compartments, spec.Weights, spec.Joints, spec.Marks = nil, nil, nil, nil, nil
	spec.Openings = []OpeningSpec{{Name: "test", Between: [2]string{"outside", lone}, At: r3.Vec{X: 0.5, Y: 0.07, Z: 0.045}, Hole: ptr(0.04)}}
	near(t, "share", passage(t, mustBuild(t, spec), "test").overhang, 0, 0)
}
