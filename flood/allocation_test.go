package flood_test

import (
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// A step allocates nothing after warm-up. Rounds of steps in which nothing happens are measured, the first told of them.
func TestStepAllocatesNothing(t *testing.T) {
	for name, spec := range map[string]compartment.Spec{"corner": cornerSpec(), "spill": spillSpec(), "wing": wingSpec()} {
		samples := 0
		run := mustStart(t, mustBuild(t, spec), flood.Settings{Every: 0.1, Tolerance: 1e-10, Samples: func(*flood.Sample) { samples++ }})
		for range 20 {
			run.Step()
		}
		before, quiet := samples, true
		got := testing.AllocsPerRun(20, func() { quiet = len(run.Step().Events) == 0 && quiet })
		if !quiet || run.Result().Ended != flood.Running || samples == before {
			t.Fatalf("%s: the stretch is not fit: %+v", name, run.Result().Events)
		}
		if got != 0 {
			t.Errorf("%s: a step allocates %g times", name, got)
		}
	}
}
