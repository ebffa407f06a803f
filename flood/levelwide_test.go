package flood_test

import (
	"context"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// A hull that rests keel up on its deck's side, its water running through what was the gap over a bulkhead into the next space
// until it is level there: the rounding of the heads over so wide a gap is a flow of its own, which may not keep the run busy.
func TestLevelWatersOfAHullKeelUp(t *testing.T) {
	spec := bargeSpec()
	spec.Water.Density = nil
	spec.Weights = []compartment.WeightSpec{{Name: "all", Mass: 11.41, At: r3.Vec{X: 0.5, Z: 0.095}}}
	spec.Bulkheads = []compartment.BulkheadSpec{{Name: "B0", At: 0.22, Top: ptr(0.061)}, {Name: "B1", At: 0.24},
		{Name: "B2", At: 0.42, Top: ptr(0.032)}, {Name: "B3", At: 0.82, Top: ptr(0.04)}}
	spec.Compartments = []compartment.CompartmentSpec{{Name: "c0", Starts: &compartment.StartSpec{Share: ptr(0.49)}}, {Name: "c1"},
		{Name: "c2", Permeability: ptr(0.74)}, {Name: "c3", Permeability: ptr(0.47)}, {Name: "c4"}}
	waits := bored("waits", "outside", "c1", r3.Vec{X: 0.234, Y: 0.1, Z: 0.016}, r3.Vec{Y: 1}, 0.007)
	waits.Opens = []compartment.Condition{{Time: ptr(30.0)}} // so that the run cannot settle before
	door := bored("door", "c3", "c4", r3.Vec{X: 0.82, Z: 0.012}, r3.Vec{X: 1}, 0.005)
	spec.Openings = []compartment.OpeningSpec{waits, door}
	run := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 60})
	res, err := run.Finish(context.Background())
	if err != nil || res.Ended != flood.EndedSettled || res.Fate != flood.Capsizes {
		t.Fatalf("%s, %s, %+v, %v", res.Ended, res.Fate, res.GaveUp, err)
	}
	if steps := res.Stats.Steps + res.Stats.Rejected; steps > 300 {
		t.Errorf("%d steps", steps)
	}
	water := run.Water()
	if sum := water[0] + water[1]; math.Abs(sum-0.49*0.22*0.2*0.15) > 1e-15 || water[1] < 1e-4 {
		t.Errorf("%v m³ in the two spaces", water)
	}
}
