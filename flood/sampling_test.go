package flood_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// Samples are taken at 0, at every multiple of Every, at every event and at the end, whether that is a multiple or not; their
// times never fall, though 3·0.1 is more than 0.3 (the contract, scenario.md §6).
func TestSampleTimes(t *testing.T) {
	for _, c := range []struct{ until, every, opens float64 }{
		{30.25, 1, 7.3}, {3, 7, 0}, {1, 0.1, 0.3}, {0.3, 0.1, 0.2}, {0.7, 0.1, 0.7}, {30, 1, 4},
	} {
		spec := midSpec()
		spec.Openings[0].Opens = []compartment.Condition{{Time: &c.opens}}
		var times []float64
		set := flood.Settings{Until: c.until, Every: c.every, Samples: func(s *flood.Sample) { times = append(times, s.Time) }}
		res, err := mustStart(t, mustBuild(t, spec), set).Finish(context.Background())
		if err != nil || res.Ended != flood.EndedUntil {
			t.Fatal(res.Ended, err)
		}
		near := func(want float64) bool {
			return slices.ContainsFunc(times, func(x float64) bool { return math.Abs(x-want) <= 1e-14*want })
		}
		for k := 0; float64(k)*c.every <= c.until; k++ {
			if !near(float64(k) * c.every) {
				t.Errorf("%v: no sample at %d times %g s", c, k, c.every)
			}
		}
		for _, e := range res.Events {
			if !slices.Contains(times, e.Time) {
				t.Errorf("%v: no sample at %s, %v s", c, e.Kind, e.Time)
			}
		}
		if !slices.IsSorted(times) || times[0] != 0 || times[len(times)-1] != res.Duration {
			t.Errorf("%v: sampled at %v of a run of %v s", c, times, res.Duration)
		}
	}
}
