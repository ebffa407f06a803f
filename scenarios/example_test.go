package scenarios_test

import (
	"context"
	"errors"
	"fmt"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

const aTub = `
format: 1
title: A tub, holed forward
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
bulkheads:
  - {name: B1, at: 850 mm, top: 80 mm}
compartments: [aft, fore]
openings:
  - {name: cut, between: [outside, fore], at: [1 m, 0 mm, 20 mm], hole: 20 mm}
`

// Run a scenario: three lines and a loop.
func Example() {
	scenario, err := scenarios.Read(nil, "tub.yaml", []byte(aTub))
	if err != nil {
		fmt.Println(err) // every fault with its line and column
		return
	}
	vessel, err := scenario.Build()
	if err != nil {
		fmt.Println(err)
		return
	}
	run, err := flood.Start(vessel, scenario.Run.Settings())
	if err != nil {
		fmt.Println(err)
		return
	}
	for step, err := range run.Steps(context.Background()) {
		if err != nil {
			fmt.Println(err)
			return
		}
		_ = step // Time, Length, what limited it, Events
	}
	document := scenarios.NewSinkDocument(scenario, run.Result())
	fmt.Println(*document.Title+":", *document.Fate)
	// Output: A tub, holed forward: founders
}

// What is wrong with a file is told all at once, each fault at its place.
func ExampleRead() {
	_, err := scenarios.Read(nil, "tub.yaml", []byte("format: 1\nhull:\n  box: {length: 1 m, breadth: 200, depht: 150 mm}\n"))
	var faults scenarios.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			fmt.Printf("line %d, column %d\n", f.Line, f.Column)
		}
	}
	// Output:
	// line 3, column 8
	// line 3, column 31
	// line 3, column 36
}

// A variant, or one value written as in the file.
func ExampleScenario_Set() {
	scenario, err := scenarios.Read(nil, "tub.yaml", []byte(aTub))
	if err != nil {
		fmt.Println(err)
		return
	}
	high, err := scenario.Set("bulkheads.B1.top", "140 mm")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(*scenario.Spec.Bulkheads[0].Top, *high.Spec.Bulkheads[0].Top, scenario.Digest != high.Digest)
	// Output: 0.08 0.14 true
}
