package flood_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

var airNetworks = flag.Int("air-networks", 12, "how many random networks of airtight spaces to run")

// randomAir is a box with two to eight spaces in a row, most of them airtight, some full from the start and in every other one a
// cluster of them, with holes of 0.3 to 60 mm in walls, bottom, sides and deck, vents among them that open and shut.
func randomAir(seed uint64) compartment.Spec {
	rng := rand.New(rand.NewPCG(seed, 11))
	s := bargeSpec()
	n := 2 + rng.IntN(7)
	s.Weights[0].Mass = 10 + 8*rng.Float64()
	s.Weights[0].At.X = 0.5 + 0.03*rng.NormFloat64()
	s.Weights[0].At.Y = 0.003 * rng.NormFloat64()
	at := []float64{0}
	for i := 1; i < n; i++ {
		at = append(at, (float64(i)+0.3*(rng.Float64()-0.5))/float64(n))
		b := compartment.BulkheadSpec{Name: fmt.Sprintf("B%d", i), At: at[i]}
		if rng.IntN(5) == 0 {
			b.Top = ptr(0.03 + 0.09*rng.Float64())
		}
		s.Bulkheads = append(s.Bulkheads, b)
	}
	at = append(at, 1)
	full := -1
	if rng.IntN(2) == 0 {
		full = rng.IntN(n)
		s.Weights[0].Mass = 8
	}
	for i := range n {
		c := compartment.CompartmentSpec{Name: fmt.Sprintf("C%d", i), Permeability: ptr(0.6 + 0.4*rng.Float64()), Airtight: rng.IntN(3) > 0}
		switch {
		case i == full || i == full+1 && full >= 0 && n > 4:
			c.Starts = &compartment.StartSpec{Share: ptr(1.0)}
		case rng.IntN(4) == 0:
			c.Starts = &compartment.StartSpec{Share: ptr(0.3 * rng.Float64())}
		}
		s.Compartments = append(s.Compartments, c)
	}
	for k := range 1 + rng.IntN(2*n) {
		s.Openings = append(s.Openings, wideRange(rng, randomSeaWay(rng, fmt.Sprintf("sea-%d", k), at, s.Compartments)))
	}
	for i := 1; i < n; i++ {
		for k := range rng.IntN(3) {
			if s.Bulkheads[i-1].Top == nil {
				o := randomWallWay(rng, i, at[i])
				o.Name = fmt.Sprintf("%s-%d", o.Name, k)
				s.Openings = append(s.Openings, wideRange(rng, o))
			}
		}
	}
	return s
}

// wideRange gives a hole 0.3 to 60 mm, and a wall.
func wideRange(rng *rand.Rand, o compartment.OpeningSpec) compartment.OpeningSpec {
	if o.Hole != nil {
		o.Hole = ptr(0.0003 * math.Pow(200, rng.Float64()))
	}
	o.Wall = 0.003 * rng.Float64()
	return o
}

// fits takes out the openings that stand where they cannot.
func buildable(t *testing.T, s compartment.Spec) *compartment.Vessel {
	t.Helper()
	for {
		v, err := compartment.Build(s)
		if err == nil {
			return v
		}
		faults, ok := err.(compartment.Faults)
		if !ok {
			t.Fatal(err)
		}
		bad := map[string]bool{}
		for _, f := range faults {
			bad[f.Path] = true
		}
		before := len(s.Openings)
		s.Openings = slices.DeleteFunc(s.Openings, func(o compartment.OpeningSpec) bool {
			for p := range bad {
				if p == "openings."+o.Name || len(p) > len("openings."+o.Name) && p[:len("openings."+o.Name)+1] == "openings."+o.Name+"." {
					return true
				}
			}
			return false
		})
		if len(s.Openings) == before {
			t.Fatal(err)
		}
	}
}

func TestRandomAirNetworks(t *testing.T) {
	ends, gaveUp, steps := map[string]int{}, 0, []int{}
	for seed := range uint64(*airNetworks) {
		v := buildable(t, randomAir(seed))
		motion := flood.Settled
		if seed%3 == 0 {
			motion = flood.Held
		}
		name := fmt.Sprintf("seed %d, %s", seed, motion)
		run := mustStart(t, v, flood.Settings{Motion: motion})
		if !keepsWithinBounds(t, name, run, v) {
			continue
		}
		r := run.Result()
		ends[string(motion)+" "+string(r.Ended)+" "+string(r.Fate)]++
		steps = append(steps, r.Stats.Steps)
		if r.GaveUp != nil {
			gaveUp++
			t.Logf("%s: gave up: %+v", name, *r.GaveUp)
		}
		if !(math.Abs(r.WaterBalance) <= 1e-12*r.WaterCrossed+1e-18) {
			t.Errorf("%s: balance %g m³ of %g that crossed", name, r.WaterBalance, r.WaterCrossed)
		}
		if !(math.Abs(r.AirBalance) <= 1e-12*r.AirCrossed+1e-18) {
			t.Errorf("%s: air balance %g kg of %g that crossed", name, r.AirBalance, r.AirCrossed)
		}
	}
	slices.Sort(steps)
	t.Log(ends, gaveUp, "steps: median", steps[len(steps)/2], "most", steps[len(steps)-1])
}
