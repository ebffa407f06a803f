package plan_test

import (
	"context"
	"fmt"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"gonum.org/v1/gonum/spatial/r3"
)

// The least lead on the floor of a tub that puts her down to 80 mm on an even keel. In fresh water of 998.2 kg/m³ she displaces
// 15.97 kg there.
func ExampleBallast() {
	mass, place, draft := 12.0, r3.Vec{X: 0.5, Z: 0.05}, 0.08
	spec := compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
		Hull: compartment.HullSpec{
			Box:   &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
			Shell: compartment.ShellSpec{Mass: &mass, At: &place},
		},
	}
	floor := plan.Place{Name: "floor", X: [2]float64{0.3, 0.7}, Y: [2]float64{-0.09, 0.09}, Z: [2]float64{0, 0.02}, Material: "lead", Density: 11340}
	found, err := plan.Ballast(context.Background(), spec, []plan.Wish{{DraftFore: &draft, DraftAft: &draft}}, []plan.Place{floor})
	if err != nil {
		fmt.Println(err)
		return
	}
	sum := 0.0
	for _, e := range found.Entries {
		sum += e.Weight.Mass
	}
	fmt.Printf("%v: %.2f kg, draft %.1f mm fore, %.1f mm aft\n", found.Feasible, sum, 1000*found.Reached[0].DraftFore, 1000*found.Reached[0].DraftAft)
	// Output: true: 3.97 kg, draft 80.0 mm fore, 80.0 mm aft
}
