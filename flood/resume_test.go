package flood_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// trail is all that a run hands out, as bits: its steps with their events, its samples, its waters and poses.
type trail struct{ bits []uint64 }

func (r *trail) add(values ...float64) {
	for _, v := range values {
		r.bits = append(r.bits, math.Float64bits(v))
	}
}

func (r *trail) step(run *flood.Run, s flood.Step) {
	r.add(s.Time, s.Length, float64(s.Limit), float64(len(s.Events)))
	for _, e := range s.Events {
		r.add(e.Time, float64(len(e.Kind)), float64(len(e.Name)))
	}
	p := run.Pose(0)
	r.add(p.Up.X, p.Up.Y, p.Up.Z, p.Sea)
	r.add(run.Water()...)
}

func (r *trail) sample(s *flood.Sample) {
	r.add(s.Time, s.Bodies[0].Trim, s.Bodies[0].Heel, s.Bodies[0].GM, s.Bodies[0].Freeboard)
	for _, p := range s.Passages {
		r.add(p.Water)
	}
}

// resumeCases are cases that between them fill, spill, open, shut, loll, capsize and founder.
func resumeCases() map[string]compartment.Spec {
	cases := map[string]compartment.Spec{"spill": spillSpec(), "loll": lollTrunk.spec(), "four": fourSpaces(), "filled": filledSpec()}
	for seed := range uint64(6) {
		cases["random "+string('0'+rune(seed))] = randomBarge(seed)
	}
	for name, depth := range map[string]float64{"free four": 0.4, "free spill": 0.2} {
		spec := cases[strings.TrimPrefix(name, "free ")]
		spec.Water.Depth = ptr(depth)
		cases[name] = spec
	}
	return cases
}

// A run that is saved and resumed at random steps, every time from the bytes alone, hands out the same bits as one that is not.
func TestResumeToTheSameBits(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	for name, spec := range resumeCases() {
		v := mustBuild(t, spec)
		var whole, parts trail
		set := flood.Settings{Until: 150, Every: 0.7, Samples: whole.sample}
		if strings.HasPrefix(name, "free") {
			set.Motion = flood.Free
		}
		run := mustStart(t, v, set)
		for run.Result().Ended == flood.Running {
			whole.step(run, run.Step())
		}
		set.Samples = parts.sample
		again, saves := interrupted(t, v, set, &parts, func(saves int) bool { return saves == 0 || rng.IntN(8) == 0 })
		if at := firstDifference(whole.bits, parts.bits); at >= 0 {
			t.Errorf("%s: resumed %d times, differs from number %d of %d on", name, saves, at, len(whole.bits))
		}
		a, b := run.Result(), again.Result()
		if a.Stats != b.Stats || len(a.Events) != len(b.Events) || a.Fate != b.Fate || saves == 0 {
			t.Errorf("%s: resumed %d times, %v %v, else %v %v", name, saves, b.Fate, b.Stats, a.Fate, a.Stats)
		}
	}
}

// interrupted runs to the end, and after a step where stops says so, by the number of times so far, goes on from the bytes alone.
func interrupted(t *testing.T, v *compartment.Vessel, set flood.Settings, seen *trail, stops func(saves int) bool) (run *flood.Run, saves int) {
	t.Helper()
	run = mustStart(t, v, set)
	for run.Result().Ended == flood.Running {
		seen.step(run, run.Step())
		if !stops(saves) {
			continue
		}
		data, err := run.Save()
		if err != nil {
			t.Fatal(err)
		}
		if run, err = flood.Resume(v, set, data); err != nil {
			t.Fatal(err)
		}
		saves++
	}
	return run, saves
}

// firstDifference is the first place where two lists differ; −1: nowhere.
func firstDifference(a, b []uint64) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	if len(a) != len(b) {
		return min(len(a), len(b))
	}
	return -1
}

// Runs that are repeated, and runs in goroutines that share one Vessel, hand out the same bits.
func TestSameBitsInParallel(t *testing.T) {
	v := mustBuild(t, fourSpaces())
	trails := make([]trail, 6)
	var wait sync.WaitGroup
	for i := range trails {
		wait.Go(func() {
			run, err := flood.Start(v, flood.Settings{Until: 120, Samples: trails[i].sample})
			if err != nil {
				t.Error(err)
				return
			}
			for run.Result().Ended == flood.Running {
				trails[i].step(run, run.Step())
			}
		})
	}
	wait.Wait()
	for i := range trails {
		if at := firstDifference(trails[0].bits, trails[i].bits); at >= 0 || len(trails[i].bits) < 1000 {
			t.Errorf("run %d differs from number %d of %d on", i, at, len(trails[i].bits))
		}
	}
}

func TestResumeRefuses(t *testing.T) {
	run := mustStart(t, mustBuild(t, spillSpec()), flood.Settings{})
	data, err := run.Save()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := flood.Resume(mustBuild(t, midSpec()), flood.Settings{}, data); err == nil || !strings.Contains(err.Error(), "another vessel") {
		t.Errorf("another vessel: %v", err)
	}
	for n := range len(data) {
		if _, err := flood.Resume(mustBuild(t, spillSpec()), flood.Settings{}, data[:n]); err == nil {
			t.Fatalf("%d of %d bytes are taken for a saved run", n, len(data))
		}
		if n > 200 {
			break
		}
	}
}

// A value changed between two steps: the water stays, the flow follows the new value, the ledger closes.
func TestChangeBetweenSteps(t *testing.T) {
	v := mustBuild(t, midSpec())
	run := mustStart(t, v, flood.Settings{Motion: flood.Held})
	for run.Time() < 5 {
		run.Step()
	}
	before, at := run.Water()[1], run.Time()
	wider, err := v.With("openings.cut.hole", 0.024)
	if err != nil {
		t.Fatal(err)
	}
	if err := run.Change(wider); err != nil {
		t.Fatal(err)
	}
	if got := run.Water()[1]; got != before {
		t.Errorf("%g m³ before the change, %g after it", before, got)
	}
	step := run.Step()
	rate := (run.Water()[1] - before) / (step.Time - at)
	// four times the area, at the same head: creep is a thousandth of the loss of a hole of this size
	if want := 4 * before / at; math.Abs(rate/want-1) > 0.01 {
		t.Errorf("%g m³/s after the hole was made twice as wide, want about %g", rate, want)
	}
	r, err := run.Finish(t.Context())
	if err != nil || math.Abs(r.WaterBalance) > 1e-12*r.WaterCrossed {
		t.Errorf("%v, balance %g of %g m³", err, r.WaterBalance, r.WaterCrossed)
	}
	if err := run.Change(mustBuild(t, spillSpec())); err == nil {
		t.Error("a vessel with other spaces is taken")
	}
}

func TestStepsStopWithContext(t *testing.T) {
	run := mustStart(t, mustBuild(t, spillSpec()), flood.Settings{})
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	steps, stopped := 0, false
	for _, err := range run.Steps(ctx) {
		if err != nil {
			stopped = errors.Is(err, context.Canceled)
			continue
		}
		if steps++; steps == 5 {
			cancel()
		}
	}
	if steps != 5 || !stopped {
		t.Errorf("%d steps, stopped by the context: %v", steps, stopped)
	}
	if r, err := run.Finish(ctx); !errors.Is(err, context.Canceled) || r == nil || r.Ended != flood.Running {
		t.Errorf("Finish: %v, %+v", err, r)
	}
	if r, err := run.Finish(t.Context()); err != nil || r.Ended == flood.Running {
		t.Errorf("going on: %v", err)
	}
}

func TestStartRefuses(t *testing.T) {
	v := mustBuild(t, midSpec())
	for name, set := range map[string]flood.Settings{
		"Until": {Until: -1}, "Until is": {Until: math.Inf(1)}, "Until is NaN": {Until: math.NaN()}, "Every": {Every: -1},
		"Every is NaN": {Every: math.NaN()}, "Tolerance": {Tolerance: 1e-13}, "Tolerance is": {Tolerance: 0.2},
		"Tolerance is NaN": {Tolerance: math.NaN()}, "no motion": {Motion: "flying"}, "no menisci": {Menisci: "oiled"},
		"AddedMass is -1": {Motion: flood.Free, AddedMass: ptr(-1.0)}, "LinearDamping is NaN": {LinearDamping: ptr(math.NaN())},
		"QuadraticDamping is 1e+300": {QuadraticDamping: ptr(1e300)},
	} {
		if _, err := flood.Start(v, set); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
