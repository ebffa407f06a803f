package flood_test

import (
	"testing"
	"time"

	"github.com/byhead/byhead/flood"
)

func TestZZ(t *testing.T) {
	for seed := *scenarioFrom; seed < *scenarioFrom+uint64(*scenarioCount); seed++ {
		v := buildable(t, randomScenario(seed))
		set := flood.Settings{Motion: flood.Motion(*scenarioMotion), Tolerance: flood.DefaultTolerance, Until: 3600, Every: 15}
		a := time.Now()
		r, err := mustStart(t, v, set).Finish(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		ev := r.Events
		lt := 0.0
		if len(ev) > 0 {
			lt = ev[len(ev)-1].Time
		}
		t.Logf("%d %.2fs %s end %.1f lastev %.1f n %d steps %d rej %d lim %v q %d spaces %d gave %v", seed, time.Since(a).Seconds(), r.Fate, r.Duration, lt, len(ev), r.Stats.Steps, r.Stats.Rejected, r.Stats.Limits, r.Stats.HullQueries, len(v.Spaces), r.GaveUp)
	}
}
