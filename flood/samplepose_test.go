package flood_test

import (
	"context"
	"math"
	"testing"

	"github.com/byhead/byhead/flood"
)

// The pose and the levels of a sample say the same as its angles and depths: what draws by the ones shows the others.
func TestSamplesCarryPoses(t *testing.T) {
	v := mustBuild(t, midSpec())
	seen := 0
	set := flood.Settings{Until: 60, Every: 1, Samples: func(s *flood.Sample) {
		for _, b := range s.Bodies {
			if b.Present && (b.Pose.Trim() != b.Trim || b.Pose.Heel() != b.Heel) {
				t.Errorf("%g s: pose %v is not trim %g, heel %g", s.Time, b.Pose, b.Trim, b.Heel)
			}
		}
		for i, c := range s.Spaces {
			low, high := v.Spaces[i].Room.Reach(s.Bodies[0].Pose.Up)
			if math.Abs(c.Level-low-c.Depth) > 1e-6 || c.Level > high+1e-6 { // a sample is let into its rest by less than 1e-5 rad
				t.Errorf("%g s: %s: level %g, depth %g, from %g to %g", s.Time, c.Name, c.Level, c.Depth, low, high)
			}
			if c.Depth > 0 {
				seen++
			}
		}
	}}
	if _, err := mustStart(t, v, set).Finish(context.Background()); err != nil {
		t.Fatal(err)
	}
	if seen == 0 {
		t.Error("no water was seen")
	}
}
