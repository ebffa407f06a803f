package flood_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
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

// Near the end of a loll the heel goes to nothing like a square root, within one step that its waters make long: every sample on
// the way carries its own weight all the same, and none lies on the other side.
func TestSamplesWhereTheHeelGoesLikeASquareRoot(t *testing.T) {
	for kilograms := 5.0; kilograms < 6; kilograms += 0.08 {
		spec := bargeSpec()
		spec.Weights = []compartment.WeightSpec{{Name: "all", Mass: kilograms, At: r3.Vec{X: 0.5, Z: 0.054}}}
		spec.Compartments = []compartment.CompartmentSpec{{Name: "hold", Permeability: ptr(0.93)}}
		spec.Openings = []compartment.OpeningSpec{bored("cut", "outside", "hold", r3.Vec{X: 0.588, Y: -0.1, Z: 0.021}, r3.Vec{Y: -1}, 0.011)}
		var heels []float64
		set := flood.Settings{Until: 300, Every: 1, Samples: func(s *flood.Sample) {
			b := s.Bodies[0]
			heels = append(heels, b.Heel)
			if want := kilograms/1000 + s.Spaces[0].Water; math.Abs(b.Displaced-want) > 1e-8 || b.Heel < -1e-6 {
				t.Errorf("%v kg, %v s: %v m³ displaced at heel %v, want %v", kilograms, s.Time, b.Displaced, b.Heel, want)
			}
		}}
		_, err := mustStart(t, mustBuild(t, spec), set).Finish(context.Background())
		if err != nil || slices.Max(heels) < 0.3 || math.Abs(heels[len(heels)-1]) > 1e-6 {
			t.Errorf("%v kg: heeled %v and came to %v, %v", kilograms, slices.Max(heels), heels[len(heels)-1], err)
		}
	}
}
