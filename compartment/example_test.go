package compartment_test

import (
	"fmt"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// A tub of 1 m × 200 mm × 150 mm that weighs 12 kg.
func tub() compartment.Spec {
	mass, place := 12.0, r3.Vec{X: 0.5, Z: 0.03}
	return compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
		Hull: compartment.HullSpec{
			Box:   &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
			Shell: compartment.ShellSpec{Mass: &mass, At: &place},
		},
	}
}

// Float a hull: build it, and ask how it lies and how firmly.
func ExampleVessel_FloatTest() {
	vessel, err := compartment.Build(tub())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range vessel.FloatTest() {
		fmt.Printf("%s: draft %.1f mm, GM %.1f mm, freeboard %.1f mm, %s\n",
			f.Name, 1000*f.DraftFore, 1000*f.GMTransverse, 1000*f.Freeboard, f.Verdict)
	}
	// Output: hull: draft 60.1 mm, GM 55.5 mm, freeboard 89.9 mm, upright
}

// Change a value and ask again: what the value does not touch is shared with the old vessel, which stays as it is.
func ExampleVessel_With() {
	vessel, err := compartment.Build(tub())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, mass := range []float64{12, 15, 18} {
		heavier, err := vessel.With("hull.shell.mass", mass)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f kg: draft %.1f mm\n", mass, 1000*heavier.FloatTest()[0].DraftFore)
	}
	// Output:
	// 12 kg: draft 60.1 mm
	// 15 kg: draft 75.1 mm
	// 18 kg: draft 90.2 mm
}

// Everything that is wrong with a description is told at once, each fault at the path of its value.
func ExampleBuild() {
	spec := tub()
	hole := -0.02
	spec.Openings = []compartment.OpeningSpec{{Name: "cut", Between: [2]string{"outside", "engine room"}, Hole: &hole}}
	_, err := compartment.Build(spec)
	if faults, ok := err.(compartment.Faults); ok {
		for _, f := range faults {
			fmt.Println(f.Path)
		}
	}
	// Output:
	// openings.cut.between.1
	// openings.cut.hole
}
