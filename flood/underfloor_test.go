package flood_test

import (
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// A hole reaches 20 mm under the floor of a dry tank, whose wall it is in: nothing enters before the water beside it stands over that
// floor, and it takes no more steps than a hole above the floor does. (From the law: what lies under the floor is a hole into nothing.)
func TestHoleUnderADryFloor(t *testing.T) {
	const floor, fill = 0.04, 2e-5
	steps := map[float64]int{}
	for _, z := range []float64{0.05, 0.08} {
		s := bargeSpec()
		s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}, {Name: "tank", X: &[2]float64{0.4, 0.7}, Y: &[2]float64{0.02, 0.2}, Z: &[2]float64{floor, 0.12}}}
		s.Openings = []compartment.OpeningSpec{
			bored("hole", "hold", "tank", r3.Vec{X: 0.5, Y: 0.02, Z: z}, r3.Vec{Y: 1}, 0.06),
			{Name: "pump", Between: [2]string{"outside", "hold"}, At: r3.Vec{X: 0.2, Z: 0.15}, Faces: &r3.Vec{Z: 1}, Flow: ptr(fill)},
		}
		early, entered := 0.0, false
		set := flood.Settings{Motion: flood.Held, Until: 0.05 * 0.2 / fill, Samples: func(s *flood.Sample) {
			if hold, tank := s.Spaces[0], s.Spaces[1]; hold.Depth < floor {
				early = max(early, tank.Water)
			} else if hold.Depth > floor+0.005 {
				entered = tank.Water > 1e-5
			}
		}}
		r, err := mustStart(t, mustBuild(t, s), set).Finish(t.Context())
		if err != nil || early > 1e-9 || entered != (z < 0.07) {
			t.Errorf("hole at %g m: %g m³ under the floor, entered above it: %t; %v", z, early, entered, err)
		}
		steps[z] = r.Stats.Steps + r.Stats.Rejected
	}
	if steps[0.05] > 3*steps[0.08]+50 {
		t.Errorf("%d attempts at a hole that reaches under the floor, %d at one that does not", steps[0.05], steps[0.08])
	}
	t.Log(steps)
}
