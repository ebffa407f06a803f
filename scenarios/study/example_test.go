package study_test

import (
	"context"
	"fmt"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

// How high must the bulkhead of a barge be for her to stay afloat? (bargeLevel, the closed form, says 88.8 mm too.)
func ExampleSize() {
	scenario, err := scenarios.Read(nil, "barge.yaml", []byte(barge))
	if err != nil {
		fmt.Println(err)
		return
	}
	model, err := study.NewModel(scenario)
	if err != nil {
		fmt.Println(err)
		return
	}
	found, err := study.Size(context.Background(), model, "bulkheads.B1.top", 0.06, 0.14, study.Want{Result: "fate", Text: "floats"}, study.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("above %.1f mm she %s\n", 1000*found.Value, found.Outcome.Text)
	// Output: above 88.8 mm she floats
}
