package main

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// fillingModel is the author's own formula: the time in which a clamped tank of an area fills through a hole in its floor, to
// the height of the water outside; by Torricelli's law under a head that falls as the water rises.
func fillingModel(area, hole, head, share float64) float64 {
	flow := 0.61 * math.Pi / 4 * hole * hole
	return 2 * area / flow / math.Sqrt(2*hydro.Gravity) * math.Sqrt(head) * (1 - math.Sqrt(1-share))
}

// The engine as a reference: half of the way up must take as long, within what viscosity and the jet's surface are worth.
func TestFillingModel(t *testing.T) {
	const area, hole, head = 0.02, 0.02, 0.1
	mass, place, diameter, keel := 1.0, r3.Vec{X: 0.1, Z: 0.02}, hole, -head
	vessel, err := compartment.Build(compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
		Hull: compartment.HullSpec{
			Box:   &compartment.BoxSpec{Length: 0.2, Breadth: 0.1, Depth: 0.2},
			Shell: compartment.ShellSpec{Mass: &mass, At: &place},
		},
		Openings: []compartment.OpeningSpec{{Name: "plug", Between: [2]string{"outside", "hold"}, At: r3.Vec{X: 0.1}, Hole: &diameter}},
	})
	if err != nil {
		t.Fatal(err)
	}
	half := math.NaN()
	run, err := flood.Start(vessel, flood.Settings{Motion: flood.Held, Keel: &keel, Every: 0.01, Samples: func(s *flood.Sample) {
		if math.IsNaN(half) && s.Spaces[0].Water >= area*head/2 {
			half = s.Time
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := run.Finish(t.Context()); err != nil {
		t.Fatal(err)
	}
	if want := fillingModel(area, hole, head, 0.5); !(math.Abs(half-want) <= 0.01+0.02*want) {
		t.Errorf("half full after %.2f s, by the formula %.2f s", half, want)
	}
}
