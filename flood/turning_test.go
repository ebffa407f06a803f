package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestTurningIsTheRateOfThePose: at rest at every instant, every section's pose changes over a very short step as its rates at both ends
// say, with waters known by their levels and by themselves, and with bells.
func TestTurningIsTheRateOfThePose(t *testing.T) {
	const short = 1e-3
	size := func(p compartment.Pose) float64 { return math.Max(r3.Norm(p.Up), math.Abs(p.Sea)) }
	compared, several := 0, 0
	for seed := range uint64(20) {
		run := mustStart(t, buildable(t, randomJoints(seed)), flood.Settings{})
		for i := 0; i < 200 && run.Result().Ended == flood.Running; i++ {
			run.Step()
			if i%4 != 0 {
				continue
			}
			before, poses := run.Turnings(), run.Poses()
			step, ok := run.FixedStep(short)
			if !ok || len(step.Events) > 0 || step.Length != short {
				continue
			}
			after := run.Turnings()
			for k, p := range run.Poses() {
				mean := compartment.Pose{Up: r3.Scale(0.5, r3.Add(before[k].Up, after[k].Up)), Sea: (before[k].Sea + after[k].Sea) / 2}
				went := compartment.Pose{Up: r3.Scale(1/short, r3.Sub(p.Up, poses[k].Up)), Sea: (p.Sea - poses[k].Sea) / short}
				bend := size(compartment.Pose{Up: r3.Sub(after[k].Up, before[k].Up), Sea: after[k].Sea - before[k].Sea})
				off := size(compartment.Pose{Up: r3.Sub(mean.Up, went.Up), Sea: mean.Sea - went.Sea})
				if size(went) < 1e-5 || bend > 0.1*size(went) { // at rest, or at a bend of the flows
					continue
				}
				compared++
				several += min(1, len(poses)-1)
				if off > 0.02*size(went)+bend {
					t.Errorf("seed %d, %.6g s, body %d of %d: rate %v, by the poses %v", seed, run.Time(), k, len(poses), mean, went)
				}
			}
		}
	}
	t.Logf("%d rates compared, %d of them of one of several sections", compared, several)
	if compared < 200 || several < 50 {
		t.Errorf("only %d rates compared, %d of them of one of several sections", compared, several)
	}
}

// TestFlowsOfASwing: water that goes in and out of a small hole as a hull swings is not followed as flows are that die away. What it costs is
// held against the same swing without the hole.
func TestFlowsOfASwing(t *testing.T) {
	none := 0.0
	attempts := func(holes bool) int {
		spec := midSpec()
		spec.Openings[0].Hole = ptr(0.002)
		spec.Compartments[1].Starts = &compartment.StartSpec{Depth: ptr(0.09)}
		if !holes {
			spec.Openings = nil
		}
		run := mustStart(t, mustBuild(t, spec), flood.Settings{Motion: flood.Free, Until: 1e5, Tolerance: 1e-2, LinearDamping: &none, QuadraticDamping: &none})
		for run.Result().Ended == flood.Running {
			run.Step()
		}
		settled, before := run.Time(), run.Result().Stats
		run.Displace(0, 0, 0, 0.0003)
		for run.Time() < settled+15 {
			run.Step()
		}
		after := run.Result().Stats
		return after.Steps + after.Rejected - before.Steps - before.Rejected
	}
	closed, holed := attempts(false), attempts(true)
	t.Logf("15 s take %d attempts at steps, without the hole %d", holed, closed)
	if float64(holed) > 1.2*float64(closed) {
		t.Errorf("15 s take %d attempts at steps, without the hole %d", holed, closed)
	}
}
