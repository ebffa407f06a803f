package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// Two airtight spaces without air pass water on as any full ones: three holes in series, Δh = q²/2g·Σ 1/(C_d·A)² (Torricelli
// three times over; creep switched off). Once they are full from the start, once they fill, their air leaving by vents into the
// third space, which then shut, on bubbles of some millionths.
func TestWaterPassesThroughAirlessSpaces(t *testing.T) {
	d := [3]float64{0.008, 0.006, 0.005}
	full, filling := threeTanks(d), threeTanks(d)
	for i := 1; i <= 2; i++ {
		full.Compartments[i].Airtight, filling.Compartments[i].Airtight = true, true
		full.Compartments[i].Starts = &compartment.StartSpec{Share: ptr(1.0)}
	}
	pipe := bored("vent-1", "first", "second", r3.Vec{X: 0.2, Y: 0.03, Z: 0.038}, r3.Vec{X: 1}, 0.004)
	pipe.Shuts = []compartment.Condition{{Time: ptr(100.0)}}
	vent := bored("vent-2", "second", "third", r3.Vec{X: 0.3, Y: 0.03, Z: 0.038}, r3.Vec{X: 1}, 0.004)
	vent.Shuts = pipe.Shuts
	filling.Openings = append(filling.Openings, pipe, vent)
	sum := 0.0
	for _, x := range d {
		sum += math.Pow(0.61*disc(x), -2)
	}
	want := math.Sqrt(2 * hydro.Gravity * (0.08 - 0.03) / sum)
	for name, spec := range map[string]compartment.Spec{"full": full, "filling": filling} {
		spec.Compartments[3].Z = &[2]float64{0, 0.15}
		rate := math.NaN()
		run := mustStart(t, withoutCreep(mustBuild(t, spec), 1), flood.Settings{Motion: flood.Held, Keel: ptr(-0.08), Until: 120, Samples: func(s *flood.Sample) {
			if s.Spaces[3].Depth < 0.027 && (s.Time > 101 || name == "full" && s.Time > 0) {
				if a, b := s.Spaces[1].Depth, s.Spaces[2].Depth; math.Min(a, b) < 0.03999 {
					t.Fatalf("%s, %g s: %g and %g m deep, not full", name, s.Time, a, b)
				}
				rate = s.Passages[2].Water
				if q := s.Passages[0].Water; math.Abs(q/rate-1) > 1e-9 {
					t.Errorf("%s, %.2f s: %g m³/s go in and %g out of the airless spaces", name, s.Time, q, rate)
				}
			}
		}})
		r, err := run.Finish(t.Context())
		if err != nil || r.GaveUp != nil {
			t.Fatal(name, err, r.GaveUp)
		}
		t.Logf("%s: %.6g m³/s, by the closed form %.6g; %v", name, rate, want, r.Events)
		if !(math.Abs(rate/want-1) < 2e-3) { // the head of the free jet varies over its hole, as in TestWaterPassesThroughFullSpaces
			t.Errorf("%s: %g m³/s through two airless spaces, by the closed form %g", name, rate, want)
		}
	}
}

// raisedEnd is the barge with an airtight end of 100 mm full of water, a hole of 12 mm in its bottom and a vent of 10 mm in its
// deck that opens after 20 s.
func raisedEnd() compartment.Spec {
	s := bargeSpec()
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.9}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "rest"}, {Name: "end", Airtight: true, Starts: &compartment.StartSpec{Share: ptr(1.0)}}}
	vent := bored("vent", "end", "outside", r3.Vec{X: 0.95, Z: 0.15}, r3.Vec{Z: 1}, 0.01)
	vent.Opens = []compartment.Condition{{Time: ptr(20.0)}}
	s.Openings = []compartment.OpeningSpec{bored("hole", "outside", "end", r3.Vec{X: 0.95}, r3.Vec{Z: -1}, 0.012), vent}
	return s
}

// An airtight end that stands 100 mm out of the sea holds its water, under as much less than the atmosphere, until a hole lets air
// in; then it runs out by Torricelli's law: t = A/(C_d·a)·(√(2h₁/g) − √(2h₂/g)) between two heights over the sea.
func TestRaisedEndHoldsItsWater(t *testing.T) {
	var at, h []float64
	run := mustStart(t, withoutCreep(mustBuild(t, raisedEnd()), 1), flood.Settings{Motion: flood.Held, Keel: ptr(-0.05), Until: 120, Every: 0.05,
		Tolerance: 1e-7, Samples: func(s *flood.Sample) {
			end := s.Spaces[1]
			at, h = append(at, s.Time), append(h, end.Depth)
			if s.Time < 20 && (!end.Full || math.Abs(end.Depth-0.15) > 1e-9 || math.Abs(end.Air+1000*hydro.Gravity*0.1) > 1) {
				t.Errorf("%g s: %+v; full, and 0.1 m of water under the atmosphere, expected", s.Time, end)
			}
		}})
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	cross := func(mark float64) float64 {
		i := slices.IndexFunc(h, func(x float64) bool { return x <= mark })
		if i < 1 {
			t.Fatalf("the level never comes down to %g m; events %v", mark, r.Events)
		}
		return at[i-1] + (at[i]-at[i-1])*(h[i-1]-mark)/(h[i-1]-h[i])
	}
	falls := func(from, to float64) float64 {
		return 0.1 * 0.2 / (0.61 * disc(0.012)) * (math.Sqrt(2*from/hydro.Gravity) - math.Sqrt(2*to/hydro.Gravity))
	}
	a, b, want := cross(0.14), cross(0.07), falls(0.09, 0.02)
	t.Logf("at 140 mm after %.4f s, Torricelli %.4f; from there to 70 mm in %.4f, %.4f; %v", a-20, falls(0.1, 0.09), b-a, want, r.Events)
	// The vent needs (0.012/0.01)⁴·ρ_air/ρ = 0.25 % of the head, which is 0.13 % of the time.
	if off := (b-a)/want - 1; !(off > 0 && off < 0.0014) || math.Abs(a-20-falls(0.1, 0.09)) > 0.01 {
		t.Errorf("at 140 mm after %g s, then in %g to 70 mm; Torricelli %g and %g", a-20, b-a, falls(0.1, 0.09), want)
	}
}

// heaving is the barge, light, with 10 litres of water in its ends that pumps throw out, and a tank amidships that is under the sea
// until then and open to it through a hole in its side 60 mm up.
func heaving(airtight bool) compartment.Spec {
	s := bargeSpec()
	s.Weights[0].Mass, s.Weights[0].At.Z = 6, 0.02
	s.Compartments = []compartment.CompartmentSpec{{Name: "rest", Starts: &compartment.StartSpec{Volume: ptr(0.012)}},
		{Name: "tank", Airtight: airtight, X: &[2]float64{0.45, 0.55}, Y: &[2]float64{-0.1, 0.1}, Z: &[2]float64{0, 0.085}}}
	pump := compartment.OpeningSpec{Name: "pump", Between: [2]string{"rest", "outside"}, At: r3.Vec{X: 0.2, Y: 0.1, Z: 0.01}, Faces: &r3.Vec{Y: 1},
		Flow: ptr(1e-4), Opens: []compartment.Condition{{Time: ptr(60.0)}}}
	hole := bored("hole", "outside", "tank", r3.Vec{X: 0.5, Y: 0.1, Z: 0.06}, r3.Vec{Y: 1}, 0.02)
	vent := bored("vent", "tank", "rest", r3.Vec{X: 0.5, Z: 0.085}, r3.Vec{Z: 1}, 0.006)
	vent.Shuts = []compartment.Condition{{Time: ptr(50.0)}}
	s.Openings = []compartment.OpeningSpec{hole, vent, pump}
	return s
}

// A space that has filled empties again to the hole's lower edge when the hull heaves up, as the pumps throw water out of others:
// where its air comes and goes freely at once, an airtight one once the hole's upper edge is out and air passes the water in it.
func TestFilledSpaceEmptiesWhenTheHullHeaves(t *testing.T) {
	for _, airtight := range []bool{false, true} {
		var full float64
		var last flood.SpaceSample
		var draft float64
		s := heaving(airtight)
		if !airtight {
			s.Openings = slices.Delete(s.Openings, 1, 2)
		}
		run := mustStart(t, mustBuild(t, s), flood.Settings{Until: 400, Samples: func(s *flood.Sample) {
			last, draft = s.Spaces[1], s.Bodies[0].DraftFore
			if last.Full {
				full = s.Time
			}
		}})
		r, err := run.Finish(t.Context())
		if err != nil || r.GaveUp != nil {
			t.Fatal(airtight, err, r.GaveUp)
		}
		t.Logf("airtight %v: full until %.1f s, at the end %+v, draft %.4f, %s %s, %v", airtight, full, last, draft, r.Ended, r.Fate, r.Events)
		if !(full > 60 && full < 150) || last.Full || !(math.Abs(last.Depth-0.05) < 0.003) || !(draft < 0.05) {
			t.Errorf("airtight %v: full until %g s, at the end %+v at a draft of %g m", airtight, full, last, draft)
		}
		if !(math.Abs(r.WaterBalance) <= 1e-12*r.WaterCrossed && math.Abs(r.AirBalance) <= 1e-12*r.AirCrossed+1e-18) {
			t.Errorf("airtight %v: balances %g m³ and %g kg", airtight, r.WaterBalance, r.AirBalance)
		}
	}
}
