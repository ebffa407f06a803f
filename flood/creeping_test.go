package flood_test

import (
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// relay is a law that no opening has: it equals two levels out by a flow that does not grow less before they are equal, and then
// turns round. No state of a stage is at rest there.
type relay struct{}

func (relay) Water(v *hydro.View, a, b hydro.Side) hydro.Flow {
	if a.Head > b.Head {
		return hydro.Flow{Rate: 2e-4, ByA: 1e-3, ByB: -1e-3}
	}
	return hydro.Flow{Rate: -1e-4, ByA: 1e-3, ByB: -1e-3}
}

func (relay) Air(*hydro.View, hydro.Side, hydro.Side) hydro.AirFlow { return hydro.AirFlow{} }

func (relay) Resistance() (water, air flood.Resistance) {
	return flood.Resistance{Linear: 1e4, Quadratic: 1e8}, flood.Resistance{Linear: 1e4, Quadratic: 1e8}
}

// creepingCase is a box in which a law of the caller's own goes to and fro for ever.
func creepingCase(t *testing.T) (*compartment.Vessel, flood.Settings) {
	s := bargeSpec()
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.5}}
	s.Compartments = []compartment.CompartmentSpec{
		{Name: "aft", Starts: &compartment.StartSpec{Share: ptr(0.3)}}, {Name: "fore", Airtight: true, Starts: &compartment.StartSpec{Share: ptr(0.2)}},
	}
	s.Openings = []compartment.OpeningSpec{
		bored("gate", "aft", "fore", r3.Vec{X: 0.5, Z: 0.01}, r3.Vec{X: 1}, 0.01),
		bored("vent", "fore", "outside", r3.Vec{X: 0.75, Z: 0.15}, r3.Vec{Z: 1}, 0.03),
	}
	return mustBuild(t, s), flood.Settings{Motion: flood.Held, Until: 3600, Laws: map[string]flood.Law{"gate": relay{}}}
}

// A run that goes to and fro gives up within some ten thousand attempts, and names what stood in the way. Saved on the way and
// resumed, it does so at the same step.
func TestCreepingRunGivesUp(t *testing.T) {
	tooLongUnderRace(t)
	v, set := creepingCase(t)
	run := mustStart(t, v, set)
	var half []byte
	for _, err := range run.Steps(t.Context()) {
		if err != nil {
			t.Fatal(err)
		}
		if s := run.Result().Stats; half == nil && s.Steps+s.Rejected > 5000 {
			if half, err = run.Save(); err != nil {
				t.Fatal(err)
			}
		}
	}
	r := run.Result()
	if r.GaveUp == nil || r.GaveUp.Cause != flood.Creeping || r.GaveUp.Name != "fore" || r.Ended != flood.EndedGaveUp {
		t.Fatalf("%s, %+v; it should give up, creeping at fore", r.Ended, r.GaveUp)
	}
	if tried := r.Stats.Steps + r.Stats.Rejected; tried > 30_000 {
		t.Errorf("it gave up after %d attempts", tried)
	}
	resumed, err := flood.Resume(v, set, half)
	if err != nil {
		t.Fatal(err)
	}
	again, err := resumed.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if *again.GaveUp != *r.GaveUp || again.Stats != r.Stats {
		t.Errorf("resumed, it gave up with %+v, %+v; else with %+v, %+v", *again.GaveUp, again.Stats, *r.GaveUp, r.Stats)
	}
}
