package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// fateCase is a small case of a loss of stability, with the events in their order and the fate.
type fateCase struct {
	name   string
	spec   compartment.Spec
	events []flood.EventKind
	fate   flood.Fate
}

// capsizingSpec is a tender box with a holed wing space: heel, a fold, over.
func capsizingSpec() compartment.Spec {
	s := wingSpec()
	s.Weights[0].At.Z = 0.078
	s.Compartments[1].X = &[2]float64{0.2, 0.8}
	return s
}

// plungingSpec is a box with little reserve that takes water in a long fore space: level by the head, then it plunges.
func plungingSpec() compartment.Spec {
	s := endSpec()
	s.Weights[0].Mass = 22
	s.Bulkheads[0].At = 0.6
	return s
}

// snappingSpec is shorter than it is broad and unstable lengthwise: it lolls by the stern, to which its weight lies a little,
// until the water pumped into a tank under the deck forward throws it over to the head, all at once.
func snappingSpec() compartment.Spec {
	s := bargeSpec()
	s.Hull.Box = &compartment.BoxSpec{Length: 0.3, Breadth: 0.6, Depth: 0.15}
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: 12, At: r3.Vec{X: 0.149, Z: 0.148}}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}, {Name: "tank", X: &[2]float64{0.25, 0.3}, Y: &[2]float64{-0.1, 0.1}, Z: &[2]float64{0.1, 0.15}}}
	s.Openings = []compartment.OpeningSpec{{Name: "pump", Between: [2]string{"outside", "tank"}, At: r3.Vec{X: 0.27, Z: 0.15}, Faces: &r3.Vec{Z: 1}, Flow: ptr(5e-6)}}
	return s
}

// keelUpSpec is so top-heavy that it rests keel up from the start, and floods there through its deck.
func keelUpSpec() compartment.Spec {
	s := bargeSpec()
	s.Weights[0].At.Z = 0.14
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}}
	s.Openings = []compartment.OpeningSpec{bored("deck", "outside", "hold", r3.Vec{X: 0.5, Z: 0.15}, r3.Vec{Z: 1}, 0.012)}
	return s
}

// Each case comes to the same fate by the same events at every tolerance from 1e-3 to 1e-8, at times within 0.5 % of the
// finest run's; at 1e-3, where a step may err by a thousandth of a space, within 1 %.
func TestFates(t *testing.T) {
	for _, c := range []fateCase{
		{"a wing fills and it goes over", capsizingSpec(), []flood.EventKind{flood.DeckEdgeUnder, flood.LostStability, flood.Capsized,
			flood.Filled, flood.SettledDown}, flood.Capsizes},
		{"an end fills and it plunges", plungingSpec(), []flood.EventKind{flood.DeckEdgeUnder, flood.Foundered}, flood.Founders},
		{"it snaps from the stern to the head", snappingSpec(), []flood.EventKind{flood.LostStability, flood.Filled, flood.SettledDown}, flood.Floats},
		{"keel up from the start", keelUpSpec(), []flood.EventKind{flood.Capsized, flood.DeckEdgeUnder, flood.Foundered}, flood.Capsizes},
	} {
		v := mustBuild(t, c.spec)
		var finest []flood.Event
		for _, tolerance := range []float64{1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3} {
			r, err := mustStart(t, v, flood.Settings{Tolerance: tolerance}).Finish(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			if finest == nil {
				finest = r.Events
			}
			c.check(t, tolerance, r, finest)
		}
	}
}

// check holds a run against what the case expects and the finest run.
func (c *fateCase) check(t *testing.T, tolerance float64, r *flood.Result, finest []flood.Event) {
	t.Helper()
	var kinds []flood.EventKind
	for _, e := range r.Events {
		kinds = append(kinds, e.Kind)
	}
	if r.Fate != c.fate || !slices.Equal(kinds, c.events) {
		t.Errorf("%s, tolerance %g: %s by %v, wanted %s by %v; %+v", c.name, tolerance, r.Fate, kinds, c.fate, c.events, r.GaveUp)
		return
	}
	within, worst := 0.005, 0.0
	if tolerance > 5e-4 {
		within = 0.01
	}
	for i, e := range r.Events {
		worst = max(worst, math.Abs(e.Time-finest[i].Time)/max(1, finest[i].Time))
	}
	if worst > within {
		t.Errorf("%s, tolerance %g: events %v, by the finest %v", c.name, tolerance, r.Events, finest)
	}
	t.Logf("%s, tolerance %g: %d steps, events at most %.2g off", c.name, tolerance, r.Stats.Steps, worst)
}
