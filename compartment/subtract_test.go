package compartment

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestRoomUnderBox gives a boxed compartment the whole upper half of a hull: the highest and the lowest point of what is left
// are those of the room that is there, in any attitude, and its volume below any plane is that of the hull less the box.
func TestRoomUnderBox(t *testing.T) {
	v, err := Build(Spec{
		Water: WaterSpec{Kind: Fresh, Temperature: 288.15}, Hull: HullSpec{Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.1}},
		Compartments: []CompartmentSpec{
			{Name: "bottom"}, {Name: "top", X: &[2]float64{-1, 2}, Y: &[2]float64{-1, 1}, Z: &[2]float64{0.05, 1}},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	bottom, top, hull := v.Spaces[0].Room, v.Spaces[1].Room, v.Whole.Form
	if math.Abs(bottom.Volume()-0.01) > 1e-15 {
		t.Errorf("volume %g, wanted 0.01 m³", bottom.Volume())
	}
	for i := range 40 {
		up := Inclined(float64(i)*0.7, float64(i)*0.11)
		_, high := bottom.Reach(up)
		want := math.Inf(-1)
		for c := range 8 {
			x := r3.Vec{X: float64(c & 1), Y: 0.1 - 0.2*float64(c>>1&1), Z: 0.05 * float64(c>>2&1)}
			want = math.Max(want, r3.Dot(up, x))
		}
		if math.Abs(high-want) > 1e-12 {
			t.Errorf("up %v: the highest point stands at %g, wanted %g", up, high, want)
		}
		p := planeAt(up, high-0.03)
		got, sum := bottom.Below(p).Volume, hull.Below(p).Volume-top.Below(p).Volume
		if math.Abs(got-sum) > 1e-14 {
			t.Errorf("up %v: %g m³ below a plane, the hull less the box has %g", up, got, sum)
		}
	}
}
