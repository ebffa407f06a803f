package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestWaterLeavesWithItsMomentum: a leaking box that falls through the air falls as everything does, by ½gt², and what has left it is none of
// what it has to move. (Closed form.) Were the water's momentum to stay with the box, it would be faster the more it has lost.
func TestWaterLeavesWithItsMomentum(t *testing.T) {
	s := bargeSpec()
	s.Weights[0].Mass = 6
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold", Starts: &compartment.StartSpec{Depth: ptr(0.05)}}}
	s.Openings = []compartment.OpeningSpec{bored("leak", "hold", "outside", r3.Vec{X: 0.5}, r3.Vec{Z: -1}, 0.1)}
	const until = 0.25
	run := mustStart(t, mustBuild(t, s), flood.Settings{Motion: flood.Free, Until: until, Tolerance: 1e-7})
	run.Displace(0, 0, 0, -0.6)
	from, held := run.Pose(0).Sea, run.Account().Water
	for range run.Steps(t.Context()) {
	}
	lost := held - run.Account().Water
	fell := run.Pose(0).Sea - from
	want := hydro.Gravity * until * until / 2
	t.Logf("%.2f l of %.2f lost, fell %.7f m, want %.7f", 1e3*lost, 1e3*held, fell, want)
	if lost < held/10 {
		t.Errorf("it lost %g m³ of %g only", lost, held)
	}
	if math.Abs(fell/want-1) > 1e-5 {
		t.Errorf("it fell %g m, want %g", fell, want)
	}
}
