package flood_test

import (
	"flag"
	"fmt"
	"math"
	"testing"

	"github.com/byhead/byhead/flood"
)

var zEvery = flag.Int("zevery", 500, "")
var zFrom = flag.Float64("zfrom", 0, "")
var zTo = flag.Float64("zto", -1, "")
var zSample = flag.Float64("zsample", 1e9, "")
var zTol = flag.Float64("ztol", 1e-5, "")
var zEnd = flag.Int("zend", 1<<60, "")

func TestZY(t *testing.T) {
	seed := *scenarioFrom
	v := buildable(t, randomScenario(seed))
	show := func(s *flood.Sample) {
		if s.Time < *zFrom || s.Time > *zTo {
			return
		}
		out := fmt.Sprintf("  S %.5f", s.Time)
		for _, b := range s.Bodies {
			if b.Present {
				out += fmt.Sprintf(" | %s up %.6f %.6f %.6f sea %.7f gm %.4f", b.Name, b.Pose.Up.X, b.Pose.Up.Y, b.Pose.Up.Z, b.Pose.Sea, b.GM)
			}
		}
		for _, b := range s.Spaces {
			out += fmt.Sprintf(" ; %s w %.7g air %.4g", b.Name, b.Water, b.Air)
		}
		for _, b := range s.Passages {
			out += fmt.Sprintf(" ' %s %.3g %.3g", b.Name, b.Water, b.Air)
		}
		t.Log(out)
	}
	set := flood.Settings{Motion: flood.Motion(*scenarioMotion), Tolerance: *zTol, Until: 3600, Every: *zSample, Samples: show}
	r := mustStart(t, v, set)
	n := 0
	var lim [6]int
	sumh := 0.0
	for s := range r.Steps(t.Context()) {
		for _, e := range s.Events {
			t.Logf("  %.6f EVENT %+v", s.Time, e)
		}
		n++
		lim[s.Limit]++
		sumh += s.Length
		if n%*zEvery == 0 {
			t.Logf("n %d t %.6f mean h %.6g limits %v", n, s.Time, sumh/float64(*zEvery), lim)
			lim = [6]int{}
			sumh = 0
		}
		if s.Time >= *zFrom && s.Time <= *zTo {
			t.Logf("   step %.6f h %.4g %v", s.Time, s.Length, s.Limit)
		}
		if math.IsNaN(s.Time) || n > *zEnd {
			break
		}
	}
	q := r.Result()
	t.Logf("%v %+v %+v", q.Fate, q.GaveUp, q.Stats)
}
