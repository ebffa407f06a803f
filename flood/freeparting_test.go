package flood_test

import (
	"flag"
	"fmt"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestPartingLeavesMomentumAlone: mass, momentum and angular momentum of hull, weights and floodwater are the same before a hull
// that swings comes apart and after it.
func TestPartingLeavesMomentumAlone(t *testing.T) {
	spec := onEnd()
	for i := range spec.Weights { // rods along have no inertia in roll, and would be given some
		spec.Weights[i].Over, spec.Weights[i].Size = nil, &[3]float64{0.5, 0.14, 0.04}
	}
	run := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 60, Motion: flood.Free})
	run.Displace(0, 0.1, 0.2, 0.02)
	for run.Time() < 0.1 {
		run.Step()
	}
	before, after := run.PartNow(0)
	if len(run.Result().Sections) != 2 || before[4] == 0 || before[6] == 0 {
		t.Fatalf("%d sections, %v", len(run.Result().Sections), before)
	}
	for c, want := range before {
		if scale := math.Max(math.Abs(want), 1e-3*math.Abs(before[0])); math.Abs(after[c]-want) > 1e-12*scale {
			t.Errorf("number %d: %g before, %g after", c, want, after[c])
		}
	}
}

// TestSternStandsUpInFreeMotion: thrown by its joint, it overshoots the attitude that it then hangs in, and goes by its pinhole as in
// settled motion.
func TestSternStandsUpInFreeMotion(t *testing.T) {
	v := mustBuild(t, onEnd())
	settled, err := mustStart(t, v, flood.Settings{Until: 3000}).Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	r, err := mustStart(t, v, flood.Settings{Until: 3000, Motion: flood.Free}).Finish(t.Context())
	if err != nil || r.GaveUp != nil || r.Fate != flood.Founders {
		t.Fatalf("%v, %+v", err, r)
	}
	a, b := settled.Sections[0], r.Sections[0]
	t.Logf("steepest %.2f° settled, %.2f° free; afloat alone %.2f and %.2f s; %d and %d hull queries",
		a.Steepest*180/math.Pi, b.Steepest*180/math.Pi, a.AfloatAlone, b.AfloatAlone, settled.Stats.HullQueries, r.Stats.HullQueries)
	if !(math.Abs(b.AfloatAlone/a.AfloatAlone-1) < 0.03) {
		t.Errorf("afloat alone for %g s settled, %g s free", a.AfloatAlone, b.AfloatAlone)
	}
	if math.Abs(r.WaterBalance) > 1e-12*r.WaterCrossed || math.Abs(r.AirBalance) > 1e-12*r.AirCrossed {
		t.Errorf("water %g of %g, air %g of %g", r.WaterBalance, r.WaterCrossed, r.AirBalance, r.AirCrossed)
	}
}

var freePartings = flag.Int("free-partings", 3, "random hulls that TestRandomPartingsInFreeMotion runs")

// TestRandomPartingsInFreeMotion: no hull stumbles, and the balances close.
func TestRandomPartingsInFreeMotion(t *testing.T) {
	tooLongUnderRace(t)
	parted, ends, gaveUp := 0, map[string]int{}, 0
	for seed := range uint64(*freePartings) {
		spec := randomJoints(seed)
		spec.Weights[0].Size = nil
		if seed%3 > 0 {
			spec.Water.Depth = ptr(0.3 + 0.1*float64(seed%7))
		}
		v := buildable(t, spec)
		run := mustStart(t, v, flood.Settings{Motion: flood.Free})
		steps := stepsOf(t, seed, run, 30000)
		r := run.Result()
		parted += len(r.Separations)
		ends[string(r.Ended)+" "+string(r.Fate)]++
		if r.GaveUp != nil {
			gaveUp++
			t.Logf("seed %d: %+v", seed, *r.GaveUp)
		}
		if steps > 3000 {
			t.Logf("seed %d: %d steps, %s %s", seed, steps, r.Ended, r.Fate)
		}
		keepsAccounts(t, fmt.Sprintf("seed %d", seed), v, r)
	}
	if parted < *freePartings/2 || gaveUp > 0 {
		t.Errorf("%d partings, %d gave up", parted, gaveUp)
	}
	t.Log(parted, ends, gaveUp)
}

// TestSectionAtRestIsLeftAlone: of two closed halves one rolls and the other lies still. While a stage is sought for the one, the other is
// weighed once; where both roll, both are each time.
func TestSectionAtRestIsLeftAlone(t *testing.T) {
	asked := func(others float64) float64 {
		spec := onEnd()
		spec.Openings, spec.Joints[0].Keeps = nil, compartment.KeepBoth
		for i, x := range []float64{0.3, 0.9} {
			spec.Weights[i].Mass, spec.Weights[i].Over = 5, nil
			spec.Weights[i].At, spec.Weights[i].Size = r3.Vec{X: x, Z: 0.04}, &[3]float64{0.5, 0.14, 0.04}
		}
		run := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 60, Motion: flood.Free})
		run.PartNow(0)
		run.Displace(0, 0, 0.1, 0)
		run.Displace(1, 0, others, 0)
		before := run.Result().Stats
		for run.Time() < 3 {
			run.Step()
		}
		after := run.Result().Stats
		return float64(after.HullQueries-before.HullQueries) / float64(after.Iterations-before.Iterations)
	}
	one, both := asked(0), asked(0.1)
	t.Logf("plane queries of the two in an iteration: %.2f where one rolls, %.2f where both do", one, both)
	if !(one < 0.75*both) {
		t.Errorf("%.2f plane queries of the two in an iteration where one rolls, %.2f where both do", one, both)
	}
}
