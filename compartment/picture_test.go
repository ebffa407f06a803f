package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// A box of 0.5 × 0.2 × 0.1 m with 1 kg of a density of 10000 kg/m³ in it (0.1 l): the room is 10 l less that, and bare it is 10 l
// again. The section through the solid is the room's less the solid's, and no seam is left of the cuts that took it out.
func TestBareRoomAndItsSection(t *testing.T) {
	density, mass := 10000.0, 1.0
	spec := Spec{
		Water: WaterSpec{Kind: Fresh, Temperature: 288.15},
		Hull:  HullSpec{Box: &BoxSpec{Length: 0.5, Breadth: 0.2, Depth: 0.1}},
		Weights: []WeightSpec{{Name: "lead", Mass: mass, At: r3.Vec{X: 0.25, Z: 0.03}, Size: &[3]float64{0.1, 0.05, 0.02},
			Density: &density}},
	}
	v, err := Build(spec)
	if err != nil {
		t.Fatal(err)
	}
	s := v.Spaces[0]
	if room := s.Room.Volume(); math.Abs(room-9.9e-3) > 1e-12 {
		t.Errorf("the room is %g m³, want 9.9 l", room)
	}
	if bare := v.Bare(s).Volume(); math.Abs(bare-10e-3) > 1e-12 {
		t.Errorf("bare it is %g m³, want 10 l", bare)
	}
	for _, c := range []struct {
		of    *solid.Solid
		area  float64
		loops int
	}{{s.Room, 0.2*0.1 - 0.05*0.02, 2}, {v.Bare(s), 0.2 * 0.1, 1}} {
		loops, err := SectionSeen(c.of, AcrossX, 0.25)
		if err != nil {
			t.Fatal(err)
		}
		area := 0.0
		for _, l := range loops {
			area += areaOfLoop(l)
		}
		if len(loops) != c.loops || math.Abs(area-c.area) > 1e-8 {
			t.Errorf("%d loops of %g m², want %d of %g", len(loops), area, c.loops, c.area)
		}
	}
}
