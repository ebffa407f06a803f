package flood_test

import (
	"context"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// A light box with one open hold: water over a part of its bottom makes it loll. Once the water covers the whole bottom, sea and
// water inside cut the same sides, and the layer between them, t = m/(ρLB) thick in the middle, is all that carries: its centre
// lies in the middle line at any heel. In a box of 1 m × 200 mm and 2.5 kg with G at 37.5 mm this is level with G when the
// sea stands at 37.5 + 12.5/2 = 43.75 mm: 8.75 l displaced, 6.25 l within, at tan θ = 2 V/(L B²) = 0.3125. Every heel up to that
// one is a rest then; a drop more, and the box comes upright, to founder level.
func TestBoxComesUprightFromItsLoll(t *testing.T) {
	spec := compartment.Spec{
		Water:    compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0), SurfaceTension: ptr(0.0)},
		Hull:     compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15}},
		Weights:  []compartment.WeightSpec{{Name: "all", Mass: 2.5, At: r3.Vec{X: 0.5, Z: 0.0375}}},
		Openings: []compartment.OpeningSpec{bored("cut", "outside", "hold", r3.Vec{X: 0.5}, r3.Vec{Z: -1}, 0.015)},
	}
	var before, after flood.BodySample
	fallen := false
	set := flood.Settings{Until: 3600, Every: 0.01, Samples: func(s *flood.Sample) {
		if b := s.Bodies[0]; b.Heel > 0.1 && !fallen {
			before = b
		} else if before.Heel > 0 && !fallen {
			after, fallen = b, true
		}
	}}
	res, err := mustStart(t, mustBuild(t, spec), set).Finish(context.Background())
	if err != nil || res.Fate != flood.Founders {
		t.Fatalf("%s, %s, %+v, %v", res.Ended, res.Fate, res.GaveUp, err)
	}
	if want := math.Atan(0.3125); math.Abs(before.Heel-want) > 2e-3 { // up to 0.01 s earlier, where heel moves like a square root
		t.Errorf("heel %v rad before it comes upright, want %v", before.Heel, want)
	}
	if math.Abs(after.Displaced-8.75e-3) > 1e-8 || math.Abs(after.Heel) > 1e-6 {
		t.Errorf("it comes upright with %v m³ displaced at heel %v, want 8.75e-3 and 0", after.Displaced, after.Heel)
	}
	if res.Events[0].Kind != flood.LostStability || len(res.Events) != 3 {
		t.Errorf("it went through %+v", res.Events)
	}
}
