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
	"github.com/byhead/byhead/hydro"
)

var (
	airNetworks = flag.Int("air-networks", 40, "how many random networks of airtight spaces to run")
	airFrom     = flag.Uint64("air-from", 0, "the seed of the first of them")
)

// manySteps of a random network are told: most take a hundred.
const manySteps = 2000

var dryNetworks = flag.Int("dry-networks", 20, "how many of them to run with dry menisci")

// randomAir is a box with two to eight spaces in a row, most of them airtight, some full from the start and in every other one a
// cluster of them, with holes of 0.3 to 60 mm in walls, bottom, sides and deck, vents among them that open and shut; with
// surface tension and without in turn.
func randomAir(seed uint64) compartment.Spec {
	rng := rand.New(rand.NewPCG(seed, 11))
	s := bargeSpec()
	if seed/2%2 == 1 {
		s.Water.SurfaceTension = nil // as it is
	}
	at := laidOut(rng, &s, 5)
	n := len(at) - 1
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

// buildable takes out the openings that stand where they cannot.
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

// TestRandomAirNetworks runs networks in which spaces fill, lose their last air, draw in new, and ways open and shut. None may leave
// its bounds or lose water or air, and of a thousand one may give up.
func TestRandomAirNetworks(t *testing.T) {
	tooLongUnderRace(t)
	seen, gaveUp, steps := map[flood.EventKind]int{}, 0, []int{}
	gasps := 0
	for seed := *airFrom; seed < *airFrom+uint64(*airNetworks); seed++ {
		v := buildable(t, randomAir(seed))
		set := flood.Settings{Motion: flood.Settled}
		if seed%3 == 0 {
			set.Motion = flood.Held
		}
		name := fmt.Sprintf("seed %d, %s", seed, set.Motion)
		gasped := false
		set.Samples = airWatch(t, name, v, &gasped)
		run := mustStart(t, v, set)
		if !keepsWithinBounds(t, name, run, v) {
			continue
		}
		r := run.Result()
		for _, e := range r.Events {
			seen[e.Kind]++
		}
		if gasped {
			gasps++
		}
		if steps = append(steps, r.Stats.Steps); r.Stats.Steps > manySteps {
			t.Logf("%s: %d steps, by what limited them %v", name, r.Stats.Steps, r.Stats.Limits)
		}
		if *scenarioTell {
			t.Logf("%s: %d steps, %d refused", name, r.Stats.Steps, r.Stats.Rejected)
		}
		if r.GaveUp != nil {
			gaveUp++
			t.Logf("%s: gave up: %+v", name, *r.GaveUp)
		}
		keepsAccounts(t, name, v, r)
	}
	slices.Sort(steps)
	n := len(steps)
	t.Logf("%d networks: %v, %d drew in air again, %d gave up; steps: median %d, one in a hundred over %d, most %d",
		n, seen, gasps, gaveUp, steps[n/2], steps[n-1-n/100], steps[n-1])
	if 1000*gaveUp > n {
		t.Errorf("%d of %d networks gave up, at most one in a thousand may", gaveUp, n)
	}
	for kind, every := range map[flood.EventKind]int{flood.Filled: 5, flood.AirLost: 40, flood.Opened: 1, flood.Shut: 2} {
		if every*seen[kind] < n {
			t.Errorf("only %d times %s in %d networks: they show little", seen[kind], kind, n)
		}
	}
	if 10*gasps < n {
		t.Errorf("only %d of %d networks drew in air again: they show little", gasps, n)
	}
}

// TestMendedAirNetworks runs networks that took many thousand steps once: 2866 and 1874 where air passed on through a full space and the
// pressure that drove it was not in the equation of the space where it came to, 4022 where the last gap over a low wall between two
// waters was counted as the whole opening; 6381 never ended, since a change that was no number was not seen to be one; 7591 sought
// the head of two full spaces in the noise of the edge between them.
func TestMendedAirNetworks(t *testing.T) {
	for seed, motion := range map[uint64]flood.Motion{1874: flood.Settled, 2866: flood.Settled, 4022: flood.Settled, 6381: flood.Held, 7591: flood.Settled} {
		r, err := mustStart(t, buildable(t, randomAir(seed)), flood.Settings{Motion: motion}).Finish(t.Context())
		if err != nil || r.GaveUp != nil || r.Stats.Steps > 500 {
			t.Errorf("seed %d: %d steps, %+v, %v", seed, r.Stats.Steps, r.GaveUp, err)
		}
	}
}

// TestRandomDryNetworks runs the same networks with dry menisci: what breaks through does once, nothing passes before, and they stumble
// no more than wet ones.
func TestRandomDryNetworks(t *testing.T) {
	tooLongUnderRace(t)
	gaveUp, broke, held := 0, 0, 0
	for k := range uint64(*dryNetworks) {
		seed := 4*(k/2) + 2 + k%2 // those with surface tension
		v := buildable(t, randomAir(seed))
		set := flood.Settings{Motion: flood.Settled, Menisci: flood.Dry}
		if seed%3 == 0 {
			set.Motion = flood.Held
		}
		name, gasped := fmt.Sprintf("seed %d, %s, dry", seed, set.Motion), false
		set.Samples = airWatch(t, name, v, &gasped)
		run := mustStart(t, v, set)
		if !keepsWithinBounds(t, name, run, v) {
			continue
		}
		r := run.Result()
		if r.GaveUp != nil {
			gaveUp++
			t.Logf("%s: gave up: %+v", name, *r.GaveUp)
		}
		times := map[string]int{}
		for _, e := range r.Events {
			if e.Kind == flood.BrokeThrough {
				broke++
				if times[e.Name]++; times[e.Name] > 1 {
					t.Errorf("%s: %s broke through twice", name, e.Name)
				}
			}
		}
		for _, h := range r.HeldBack {
			if math.IsNaN(h.Broke) {
				held++
			}
		}
		keepsAccounts(t, name, v, r)
	}
	t.Logf("%d networks: %d broke through, %d held to the end, %d gave up", *dryNetworks, broke, held, gaveUp)
	if 1000*gaveUp > *dryNetworks {
		t.Errorf("%d of %d networks gave up, at most one in a thousand may", gaveUp, *dryNetworks)
	}
	if broke < *dryNetworks || 50*held < *dryNetworks {
		t.Errorf("only %d broke through and %d held in %d networks: they show little", broke, held, *dryNetworks)
	}
}

// airWatch looks at every sample for an absolute pressure that is negative or no number, and for a full airtight space that is
// not full any more.
func airWatch(t *testing.T, name string, v *compartment.Vessel, gasped *bool) func(*flood.Sample) {
	full := make([]bool, len(v.Spaces))
	return func(s *flood.Sample) {
		for i, space := range s.Spaces {
			if !(space.Air > -hydro.Atmosphere) {
				t.Errorf("%s: %.4f s, the air of %s has %g Pa", name, s.Time, space.Name, space.Air)
			}
			if v.Spaces[i].Airtight {
				*gasped = *gasped || full[i] && !space.Full
				full[i] = space.Full
			}
		}
	}
}

// keepsAccounts holds the balances against what crossed openings, and the rounding of what the spaces hold: each step adds what each opening
// gave to their waters, and those roundings add up as the root of their number.
func keepsAccounts(t *testing.T, name string, v *compartment.Vessel, r *flood.Result) {
	t.Helper()
	rounding, added := 0.0, float64(r.Stats.Steps*len(v.Passages))
	for _, s := range v.Spaces {
		rounding += (4e-16 + 1.1e-16*math.Sqrt(added)) * s.Capacity()
	}
	if !(math.Abs(r.WaterBalance) <= 1e-12*r.WaterCrossed+rounding) {
		t.Errorf("%s: balance %g m³ of %g that crossed", name, r.WaterBalance, r.WaterCrossed)
	}
	if !(math.Abs(r.AirBalance) <= 1e-12*r.AirCrossed+rounding*v.Air.Density) {
		t.Errorf("%s: air balance %g kg of %g that crossed", name, r.AirBalance, r.AirCrossed)
	}
}

// TestRandomAirTolerance runs networks in which no space fills or loses its air, whose waters follow from the tolerance smoothly,
// at a hundredth of it.
func TestRandomAirTolerance(t *testing.T) {
	tooLongUnderRace(t)
	compared, worst := 0, 0.0
	for seed := uint64(0); compared < 24; seed++ {
		v := buildable(t, randomAir(seed))
		ends := func(tolerance float64) (*flood.Result, []float64) {
			run := mustStart(t, v, flood.Settings{Motion: flood.Held, Until: 20, Tolerance: tolerance})
			r, err := run.Finish(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			return r, run.Water()
		}
		r, rough := ends(1e-5)
		if !smooth(v, r) {
			continue
		}
		_, fine := ends(1e-7)
		compared++
		for i, w := range rough {
			off := math.Abs(w-fine[i]) / v.Spaces[i].Capacity()
			worst = math.Max(worst, off)
			if !(off < 1e-5) {
				t.Errorf("seed %d: at a hundredth of the tolerance %s holds another water by %.2g of its capacity", seed, v.Spaces[i].Name, off)
			}
		}
	}
	t.Logf("%d networks agree to %.2g of the capacities", compared, worst)
}

// smooth tells whether no space was full, and something happened at all.
func smooth(v *compartment.Vessel, r *flood.Result) bool {
	for _, c := range v.Spec.Compartments {
		if c.Starts != nil && c.Starts.Share != nil && *c.Starts.Share == 1 {
			return false
		}
	}
	for _, e := range r.Events {
		if e.Kind == flood.Filled || e.Kind == flood.AirLost {
			return false
		}
	}
	return r.AirCrossed > 0
}
