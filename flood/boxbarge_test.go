package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

func mustBuild(t testing.TB, spec compartment.Spec) *compartment.Vessel {
	t.Helper()
	v, err := compartment.Build(spec)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func mustStart(t testing.TB, v *compartment.Vessel, set flood.Settings) *flood.Run {
	t.Helper()
	r, err := flood.Start(v, set)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What two methods may differ by. Water: both are allowed 1e-8 of a room's capacity a step, and take up to a hundred. Pose:
// both solve the same equilibrium to rounding; 1e-9 is what the engine's solver owes, as masses, not poses, are under its
// error control.
const (
	waterNear = 1e-6 // of a room's capacity
	poseNear  = 1e-9 // rad, and metres
)

// against runs a box barge by both methods and compares them after every step of the engine.
// The reference is explicit, and stops being compared at a given time, before levels that have all but met make it slow.
func against(t *testing.T, spec compartment.Spec, set flood.Settings, until float64) (*flood.Run, *refShip, refState) {
	t.Helper()
	set.Tolerance = 1e-8
	run := mustStart(t, mustBuild(t, spec), set)
	ship := refFrom(spec)
	s := refState{water: refStart(spec, ship)}
	ref := &refRun{ship: ship, limit: 1e-8, held: set.Motion == flood.Held}
	start := refPose{sea: 0.08, levels: make([]float64, len(ship.rooms))}
	if ref.held {
		start.sea = -*set.Keel
		ref.pose = start
	} else if p, err := ship.rest(s.water, start); err != nil {
		t.Fatal(err)
	} else {
		ref.pose = p
	}
	worst := make([]float64, len(ship.rooms))
	worstPose, steps := 0.0, 0
	for step, err := range run.Steps(t.Context()) {
		if err != nil {
			t.Fatal(err)
		}
		if step.Time > until {
			continue
		}
		steps++
		if err := ref.to(&s, step.Time); err != nil {
			t.Fatal(err)
		}
		worstPose = max(worstPose, compareStep(t, run, ship, &s, worst, ref.held))
	}
	t.Logf("%d steps to %.2f s, largest difference in water %.2g of the capacities, in pose %.2g", steps, s.time, worst, worstPose)
	if steps < 10 {
		t.Errorf("only %d steps", steps)
	}
	return run, ship, s
}

// compareStep compares the water with the reference's, and the pose with the reference's rest for the engine's own water.
func compareStep(t *testing.T, run *flood.Run, ship *refShip, s *refState, worst []float64, held bool) float64 {
	t.Helper()
	water := run.Water()
	for i := range water {
		off := math.Abs(water[i]-s.water[i]) / ship.rooms[i].capacity()
		if off > waterNear {
			t.Fatalf("room %d at %.4f s: %.9g m³, by the reference %.9g, %.2g of its capacity apart", i, s.time, water[i], s.water[i], off)
		}
		worst[i] = max(worst[i], off)
	}
	p := s.pose
	if !held {
		var err error
		if p, err = ship.rest(water, s.pose); err != nil {
			t.Fatal(err)
		}
	}
	up, pose := refUp(p.trim, p.heel), run.Pose(0)
	off := math.Sqrt(math.Pow(pose.Up.X-up[0], 2) + math.Pow(pose.Up.Y-up[1], 2) + math.Pow(pose.Up.Z-up[2], 2))
	off = max(off, math.Abs(pose.Sea-p.sea))
	if off > poseNear {
		t.Fatalf("at %.4f s: up %v sea %.12g, by the reference %v, %.12g", s.time, pose.Up, pose.Sea, up, p.sea)
	}
	return off
}

func TestBoxBarge(t *testing.T) {
	tooLongUnderRace(t)
	for _, c := range []struct {
		name   string
		spec   compartment.Spec
		bilged []int   // the rooms that are open to the sea in the end
		until  float64 // how long the histories are compared
	}{
		{"mid compartment, sinking on an even keel", midSpec(), []int{1}, 80},
		{"end compartment, trim", endSpec(), []int{1}, 100},
		{"wing space, heel", wingSpec(), []int{1}, 80},
		{"two wing spaces near the end, heel and trim", cornerSpec(), []int{0, 2}, 80},
		{"low bulkhead overtopped", spillSpec(), []int{1, 2}, 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			run, ship, s := against(t, c.spec, flood.Settings{}, c.until)
			r, end := run.Result(), run.Pose(0)
			if r.Ended != flood.EndedSettled || r.Fate != flood.Floats {
				t.Fatalf("ended %q, fate %q at %g s", r.Ended, r.Fate, r.Duration)
			}
			// Flows are under 1e-8 of the hull's volume a second by then (scenario.md §3 The end), and creep levels what is
			// left in a few seconds: the lost-buoyancy equilibrium to 1e-6.
			p, err := ship.bilged(c.bilged, s.pose)
			if err != nil {
				t.Fatal(err)
			}
			if d := max(math.Abs(end.Trim()-p.trim), math.Abs(end.Heel()-p.heel), math.Abs(end.Sea-p.sea)); d > 1e-6 {
				t.Errorf("ends at trim %.9g, heel %.9g, sea %.9g; the lost-buoyancy equilibrium is %.9g, %.9g, %.9g, %.2g apart",
					end.Trim(), end.Heel(), end.Sea, p.trim, p.heel, p.sea, d)
			}
			t.Logf("ends at trim %.5f°, heel %.5f°, sea %.6f m", p.trim*180/math.Pi, p.heel*180/math.Pi, p.sea)
		})
	}
}

// The moment at which water comes over the low bulkhead: by the reference its surface then stands at the edge, to 1e-7 m (it
// rises by 4 mm a second).
func TestBoxOvertopped(t *testing.T) {
	r, err := mustStart(t, mustBuild(t, spillSpec()), flood.Settings{Until: 20, Tolerance: 1e-8}).Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Events) != 1 || r.Events[0].Kind != flood.Overtopped || r.Events[0].Name != "B2" {
		t.Fatalf("events %v, wanted B2 overtopped alone", r.Events)
	}
	ship := refFrom(spillSpec())
	s := refState{water: make([]float64, len(ship.rooms))}
	ref := &refRun{ship: ship, limit: 1e-10, pose: refPose{sea: 0.08, levels: make([]float64, len(ship.rooms))}}
	if err := ref.to(&s, r.Events[0].Time); err != nil {
		t.Fatal(err)
	}
	edge := refUp(s.pose.trim, s.pose.heel).dot(refVec{0.6, 0, 0.06})
	t.Logf("overtopped at %.6f s, the reference's surface %.2g m over the edge", s.time, s.pose.levels[2]-edge)
	if math.Abs(s.pose.levels[2]-edge) > 1e-7 {
		t.Errorf("overtopped at %.9g s, when the surface stands %g m over the edge", s.time, s.pose.levels[2]-edge)
	}
}

// Tanks that drain with the hull clamped over the sink: through side holes, an upright slot,
// one to the next, and over an edge to a third; and the same with surface tension, whose jets into air lose 2σ/d.
func TestBoxTanksHeld(t *testing.T) {
	spec := bargeSpec()
	spec.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.3}, {Name: "B2", At: 0.6, Top: ptr(0.08)}}
	spec.Compartments = []compartment.CompartmentSpec{
		{Name: "first", Starts: &compartment.StartSpec{Depth: ptr(0.14)}},
		{Name: "second", Starts: &compartment.StartSpec{Depth: ptr(0.13)}, Permeability: ptr(0.7)},
		{Name: "third"}}
	spec.Openings = []compartment.OpeningSpec{
		bored("side", "first", "outside", r3.Vec{X: 0.1, Y: 0.1, Z: 0.03}, r3.Vec{Y: 1}, 0.01),
		bored("between", "first", "second", r3.Vec{X: 0.3, Z: 0.05}, r3.Vec{X: 1}, 0.015),
		{Name: "slot", Between: [2]string{"second", "outside"}, At: r3.Vec{X: 0.45, Y: 0.1, Z: 0.05}, Faces: &r3.Vec{Y: 1},
			Along: &r3.Vec{Z: 1}, Slot: &compartment.SlotSpec{Length: 0.06, Width: 0.004}, Cd: ptr(0.7), Wall: 0.002},
		bored("foot", "third", "outside", r3.Vec{X: 0.8, Y: -0.1, Z: 0.004}, r3.Vec{Y: -1}, 0.006),
	}
	for _, c := range []struct {
		name    string
		tension float64
	}{{"no surface tension", 0}, {"surface tension of water", 0.0735}} {
		t.Run(c.name, func(t *testing.T) {
			spec.Water.SurfaceTension = ptr(c.tension)
			against(t, spec, flood.Settings{Until: 60, Motion: flood.Held, Keel: ptr(0.1)}, 60)
		})
	}
}
