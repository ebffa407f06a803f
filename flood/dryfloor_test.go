package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/flood"
)

// TestDryFloorGivesNoWater runs a hull with a hole that reaches under the floor of a space which is dry at first, to a hundredth of the
// tolerance. What the space gave that it did not have depended on the step, so that she foundered after 26.7 s or after 42.4 s.
func TestDryFloorGivesNoWater(t *testing.T) {
	tooLongUnderRace(t)
	const seed = 782
	v := buildable(t, randomScenario(seed))
	founders := func(tolerance float64) float64 {
		r, err := mustStart(t, v, flood.Settings{Motion: flood.Settled, Tolerance: tolerance, Until: 3600}).Finish(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range r.Events {
			if e.Kind == flood.Foundered {
				return e.Time
			}
		}
		t.Fatalf("tolerance %g: she does not founder", tolerance)
		return 0
	}
	if rough, fine := founders(flood.DefaultTolerance), founders(flood.DefaultTolerance/100); math.Abs(rough-fine) > 1e-4*fine {
		t.Errorf("she founders after %g s, at a hundredth of the tolerance after %g s", rough, fine)
	}
}
