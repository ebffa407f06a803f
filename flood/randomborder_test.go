package flood_test

import (
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// toleranceEvery is every how many of the random scenarios is run at a hundredth of the tolerance: three hundred of ten thousand.
const toleranceEvery = 33

// sameFate tells whether a scenario comes to the same fate at a hundredth of the tolerance. Where it does not it must lie on a border:
// a change of one opening by 1 % takes it from the one fate to the other.
func sameFate(t *testing.T, seed uint64, v *compartment.Vessel, rough flood.Fate) bool {
	t.Helper()
	fine := runScenario(t, seed, v, settingsOf(*scenarioMotion, flood.DefaultTolerance/100)).result
	if fine.Fate == rough {
		return true
	}
	for i := range v.Spec.Openings {
		for _, factor := range []float64{1.01, 0.99} {
			other := runScenario(t, seed, mustBuild(t, withOpening(v.Spec, i, factor)), settingsOf(*scenarioMotion, flood.DefaultTolerance/100)).result
			if other.Fate == rough {
				t.Logf("seed %d: %s, at a hundredth of the tolerance %s; it is the former too with %s by %g", seed, rough, fine.Fate, v.Spec.Openings[i].Name, factor)
				return false
			}
		}
	}
	t.Errorf("seed %d: %s, at a hundredth of the tolerance %s %+v, and no change of an opening by 1 %% shows a border", seed, rough, fine.Fate, fine.GaveUp)
	return false
}

// withOpening is a description with one opening's measures multiplied.
func withOpening(spec compartment.Spec, i int, factor float64) compartment.Spec {
	spec.Openings = slices.Clone(spec.Openings)
	o := &spec.Openings[i]
	for _, measure := range []**float64{&o.Hole, &o.Area, &o.Flow} {
		if *measure != nil {
			*measure = ptr(**measure * factor)
		}
	}
	if o.Slot != nil {
		o.Slot = &compartment.SlotSpec{Length: o.Slot.Length * factor, Width: o.Slot.Width * factor}
	}
	if o.Door != nil {
		o.Door = &compartment.DoorSpec{Length: o.Door.Length * factor, Height: o.Door.Height * factor}
	}
	return spec
}
