package compartment_test

import (
	"errors"
	"testing"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// Two bulkheads may change places past each other's old ones, which one after the other they could not; the hull is shared.
func TestWithAll(t *testing.T) {
	mass := 4.0
	v, err := compartment.Build(compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15},
		Hull: compartment.HullSpec{
			Box:   &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
			Shell: compartment.ShellSpec{Mass: &mass, At: &r3.Vec{X: 0.5, Z: 0.05}},
		},
		Bulkheads:    []compartment.BulkheadSpec{{Name: "A", At: 0.3}, {Name: "B", At: 0.5}},
		Compartments: []compartment.CompartmentSpec{{Name: "x"}, {Name: "y"}, {Name: "z"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := v.With("bulkheads.A.at", 0.6); err == nil {
		t.Fatal("a bulkhead past the next one was built")
	}
	w, err := v.WithAll([]compartment.PathValue{{Path: "bulkheads.A.at", Value: 0.6}, {Path: "bulkheads.B.at", Value: 0.8}})
	if err != nil {
		t.Fatal(err)
	}
	if w.Spec.Bulkheads[0].At != 0.6 || w.Spec.Bulkheads[1].At != 0.8 || v.Spec.Bulkheads[0].At != 0.3 {
		t.Errorf("bulkheads at %v, of the old vessel at %v", w.Spec.Bulkheads, v.Spec.Bulkheads)
	}
	if w.Whole.Form != v.Whole.Form {
		t.Error("the hull was built anew")
	}
	if _, err := v.WithAll([]compartment.PathValue{{Path: "bulkheads.C.at", Value: 0.6}}); !errors.As(err, new(compartment.Faults)) {
		t.Errorf("an unknown path: %v", err)
	}
}
