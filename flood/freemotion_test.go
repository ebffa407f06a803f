package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestDampedAndClosed: nothing but damping takes energy from a closed hull, and nothing gives it any.
func TestDampedAndClosed(t *testing.T) {
	for name, away := range map[string][3]float64{"all three": {0.1, 0.3, 0.02}, "roll": {0, 0.5, 0}} {
		w := letSwing(t, swinging(0.07, 0.25), flood.Settings{Until: 20}, away, heave)
		t.Logf("%s: energy %.3g, then %.3g; it rose by %.2g at most; %d queries", name, w.start, w.end, w.gained, w.queries)
		if w.gained > 1e-7*w.start {
			t.Errorf("%s: the energy rose by %g of what it was at first", name, w.gained/w.start)
		}
		if !(w.end < 0.01*w.start) {
			t.Errorf("%s: after 20 s %g of the energy is left", name, w.end/w.start)
		}
	}
}

// TestSlowFloodingInBothMotions: a hull that floods slowly goes through its rests, so that inertia changes neither what happens
// nor when, to a hundredth.
func TestSlowFloodingInBothMotions(t *testing.T) {
	for name, spec := range map[string]compartment.Spec{"four": fourSpaces(), "spill": spillSpec(), "random": randomBarge(0)} {
		for i := range spec.Openings { // holes a third as wide
			if d := spec.Openings[i].Hole; d != nil {
				spec.Openings[i].Hole = ptr(*d / 3)
			}
		}
		v := mustBuild(t, spec)
		var results [2]*flood.Result
		for i, m := range []flood.Motion{flood.Settled, flood.Free} {
			r, err := mustStart(t, v, flood.Settings{Motion: m, Until: 3600}).Finish(t.Context())
			if err != nil || r.GaveUp != nil {
				t.Fatal(name, m, err, r.GaveUp)
			}
			results[i] = r
		}
		a, b := results[0], results[1]
		if a.Fate != b.Fate {
			t.Errorf("%s: settled %s, free %s", name, a.Fate, b.Fate)
		}
		told := 0
		for _, e := range a.Events {
			if e.Kind == flood.SettledDown { // free, it is still swinging then
				continue
			}
			i := slices.IndexFunc(b.Events, func(f flood.Event) bool { return f.Kind == e.Kind && f.Name == e.Name })
			if i < 0 || math.Abs(b.Events[i].Time/e.Time-1) > 0.01 {
				t.Errorf("%s: %v settled; free %v", name, e, b.Events)
			}
			told++
		}
		if told == 0 {
			t.Errorf("%s: nothing happens that could be compared: %v", name, a.Events)
		}
		if math.Abs(b.WaterBalance) > 1e-12*b.WaterCrossed {
			t.Errorf("%s: water balance %g of %g m³", name, b.WaterBalance, b.WaterCrossed)
		}
		t.Logf("%s: %s at %.2f s settled, %.2f s free; %d and %d steps", name, a.Fate, a.Duration, b.Duration, a.Stats.Steps, b.Stats.Steps)
	}
}

// TestUnstableUprightIsLeftToStarboard: a hull that loses its stability upright while a trunk fills leans over to starboard, at a
// time that the tolerance does not decide: to a thousandth of what it takes from the loss on.
func TestUnstableUprightIsLeftToStarboard(t *testing.T) {
	spec := lollTrunk.spec()
	spec.Weights[0].Size = &[3]float64{0.8, 0.2, 0.05}
	v := mustBuild(t, spec)
	var lost, left []float64
	for _, tolerance := range []float64{3e-4, 1e-4, 1e-5, 1e-6} {
		run := mustStart(t, v, flood.Settings{Until: 120, Motion: flood.Free, Tolerance: tolerance})
		before, heel, loses := 0.0, 0.0, 0.0
		for run.Result().Ended == flood.Running && heel < leftBy {
			s := run.Step()
			before, heel = heel, run.Pose(0).Heel()
			if heel < -1e-3 {
				t.Fatalf("tolerance %g: it leans to port by %g rad", tolerance, heel)
			}
			if heel < 1e-9 {
				loses = s.Time
			} else if heel >= leftBy { // as it grows, by so many times a second
				left = append(left, s.Time-s.Length*math.Log(heel/leftBy)/math.Log(heel/before))
			}
		}
		lost = append(lost, loses)
	}
	t.Logf("stability lost at %.4f s, heels %g rad at %.4f s", lost, leftBy, left)
	if len(left) < 4 {
		t.Fatalf("it left %d times of 4", len(left))
	}
	for i := range left {
		if takes := left[3] - lost[3]; !(math.Abs(lost[i]-lost[3]) < 1e-3*takes && math.Abs(left[i]-left[3]) < 1e-3*takes) {
			t.Errorf("by tolerance it has lost its stability at %v s and left at %v s", lost, left)
		}
	}
}

// leftBy is the heel, rad, at which it has left.
const leftBy = 0.05

// sinker is a closed box heavier than the water it can displace.
func sinker(mass, depth float64) compartment.Spec {
	s := bargeSpec()
	s.Water.Depth = &depth
	s.Weights[0].Mass, s.Weights[0].Size, s.Weights[0].At = mass, &[3]float64{0.9, 0.15, 0.05}, r3.Vec{X: 0.5, Z: 0.03}
	return s
}

// TestTerminalSpeed: what sinks goes as fast in the end as its weight in water drives it against its drag.
func TestTerminalSpeed(t *testing.T) {
	const mass = 36.0
	v := mustBuild(t, sinker(mass, 15))
	run := mustStart(t, v, flood.Settings{Until: 60, Motion: flood.Free})
	for run.Result().Ended == flood.Running && run.Pose(0).Sea < 8 {
		run.Step()
	}
	before, at := run.Pose(0), run.Time()
	run.Step()
	after := run.Pose(0)
	speed := (after.Sea - before.Sea) / (run.Time() - at)
	around := v.NewSurround(v.Whole, compartment.DocumentedMotion)
	around.Immerse(after)
	drag := func(speed float64) float64 {
		var force [6]float64
		var slope [6][6]float64
		around.Damp([6]float64{0, 0, -speed, 0, 0, 0}, &force, &slope)
		return force[2]
	}
	weight := (mass - 1000*0.03) * 9.80665
	want := math.Sqrt(weight / drag(1)) // all of it goes by the square: there are no waves
	t.Logf("it sinks at %.5f m/s; weight against drag gives %.5f", speed, want)
	if math.Abs(speed/want-1) > 1e-3 {
		t.Errorf("it sinks at %g m/s, want %g", speed, want)
	}
}

// TestFloor: a box that sinks comes to lie on the floor without going into it or bouncing off it.
func TestFloor(t *testing.T) {
	const depth = 2.0
	v := mustBuild(t, sinker(36, depth))
	last := -1.0
	run := mustStart(t, v, flood.Settings{Until: 60, Motion: flood.Free, Samples: func(s *flood.Sample) { last = s.Time }})
	deepest, touched, rose := 0.0, false, 0.0
	for run.Result().Ended == flood.Running {
		step := run.Step()
		for _, e := range step.Events {
			touched = touched || e.Kind == flood.TouchedBottom
		}
		down := run.Pose(0).Sea
		deepest = math.Max(deepest, down)
		if touched {
			rose = math.Max(rose, deepest-down)
		}
	}
	r := run.Result()
	t.Logf("%s after %.2f s, %.2g m into the floor at most, %.2g m off it afterwards; %d steps", r.Ended, r.Duration, deepest-depth, rose, r.Stats.Steps)
	if !touched || r.Ended != flood.EndedFoundered || r.Fate != flood.Founders {
		t.Fatalf("touched %v, ended %s, fate %s", touched, r.Ended, r.Fate)
	}
	if last != r.Duration { // the contract, §6: a row at the end
		t.Errorf("sampled at %g s last, of a run of %g s", last, r.Duration)
	}
	if deepest-depth > 2e-3 || rose > 1e-3 {
		t.Errorf("%g m into the floor, %g m off it again", deepest-depth, rose)
	}
}

// TestFloorStiffness: how the floor's force changes as a body turns and sinks on it, against central differences. Without what its levers
// turn by, a hull that rocks where it holds itself but weakly took 12,700 steps and 800,000 queries for an hour (random scenario 3160).
func TestFloorStiffness(t *testing.T) {
	spec := bargeSpec()
	spec.Water.Depth = ptr(0.05)
	for _, lean := range [][2]float64{{0.11, 0.23}, {-0.11, 0.23}, {-0.3, -0.9}, {0.001, 0.0005}} {
		run := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 60, Motion: flood.Free})
		run.Displace(0, lean[0], lean[1], 0.03)
		push, stiff := run.FloorOn(0, 0, 0, 0)
		if push[2] >= 0 {
			t.Fatalf("leaning by %v it is not borne by the floor: %v", lean, push)
		}
		const small = 1e-7
		for c := range 3 {
			var by [3]float64
			by[c] = small
			more, _ := run.FloorOn(0, by[0], by[1], by[2])
			less, _ := run.FloorOn(0, -by[0], -by[1], -by[2])
			for a := range 3 {
				if got := (less[a] - more[a]) / (2 * small); math.Abs(got-stiff[a][c]) > 1e-6*stiff[2][2] {
					t.Errorf("leaning by %v, force %d by coordinate %d: stiffness %g, by differences %g", lean, a, c, stiff[a][c], got)
				}
			}
		}
	}
}

// TestGrounds: a hull that floods in water less deep than itself comes to stand on the floor.
func TestGrounds(t *testing.T) {
	spec := midSpec()
	spec.Openings[0].At.Z = 0.01
	spec.Openings = append(spec.Openings, bored("cut-2", "outside", "aft", r3.Vec{X: 0.2, Y: 0.1, Z: 0.03}, r3.Vec{Y: 1}, 0.012))
	spec.Water.Depth = ptr(0.12)
	r, err := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 900, Motion: flood.Free}).Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	if r.Fate != flood.Grounds || r.Ended != flood.EndedSettled {
		t.Errorf("it %s, ended %s at %g s", r.Fate, r.Ended, r.Duration)
	}
}

// TestShallowPool: a hull that draws more than the pool is deep starts aground, and comes to stand level on the floor.
func TestShallowPool(t *testing.T) {
	spec := bargeSpec()
	spec.Water.Depth = ptr(0.05)
	spec.Weights[0].At, spec.Weights[0].Size = r3.Vec{X: 0.45, Y: 0.01, Z: 0.03}, &[3]float64{0.8, 0.15, 0.02}
	run := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 60, Motion: flood.Free})
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil || r.Fate != flood.Grounds {
		t.Fatalf("%v, %+v", err, r)
	}
	for _, w := range r.Warnings { // it stands on the floor, and does not reach under it
		if w.Kind == flood.TooShallow {
			t.Errorf("%+v", w)
		}
	}
	if p := run.Pose(0); math.Abs(p.Trim()) > 1e-3 || math.Abs(p.Heel()) > 1e-3 || math.Abs(p.Sea-0.05) > 1e-4 {
		t.Errorf("it stands %g m deep, trim %g, heel %g rad", p.Sea, p.Trim(), p.Heel())
	}
}

// TestChangeInFreeMotion: a hull that is given more weight sinks deeper, swings, and comes to rest at the draft of the new weight.
func TestChangeInFreeMotion(t *testing.T) {
	light := mustBuild(t, midSpec())
	heavy, err := light.With("weights.all.mass", 20.0)
	if err != nil {
		t.Fatal(err)
	}
	heavy, err = heavy.With("openings.cut.hole", 1e-4)
	if err != nil {
		t.Fatal(err)
	}
	run := mustStart(t, light, flood.Settings{Until: 30, Motion: flood.Free})
	if err := run.Change(heavy); err != nil {
		t.Fatal(err)
	}
	deepest := 0.0
	for range run.Steps(t.Context()) {
		deepest = math.Max(deepest, run.Pose(0).Sea)
	}
	if sea := run.Pose(0).Sea; math.Abs(sea-0.1) > 1e-4 || deepest < 0.105 {
		t.Errorf("it lies %g m deep, and swung to %g", sea, deepest)
	}
}

// TestLastDropHasNoInertia: what is left in a space where all has run out has no weight to speak of, and the rounding of its first moment
// over its volume is no place. (Closed form: the mass without it. Random scenario 1048 spun by the inertia of 1e-55 m³ of water.)
func TestLastDropHasNoInertia(t *testing.T) {
	v := mustBuild(t, midSpec())
	for _, lean := range []float64{0.013, 0.31, 1.2, 2.9} {
		run := mustStart(t, v, flood.Settings{Motion: flood.Free})
		run.Displace(0, 0.4*lean, lean, 0)
		dry := run.InertiaWith(0, 1, 0)
		for _, water := range []float64{1e-18, 1e-30, 1e-55, 1e-300} {
			for a, row := range run.InertiaWith(0, 1, water) {
				for c, m := range row {
					if off := math.Abs(m-dry[a][c]) / math.Sqrt(dry[a][a]*dry[c][c]); !(off < 1e-12) {
						t.Errorf("leaning by %g rad with %g m³: mass %d, %d is %g, dry %g", lean, water, a, c, m, dry[a][c])
					}
				}
			}
		}
	}
}

// TestBodiesDriftOverWhatNoStepPasses: where a run has to leave out a moment, its bodies go on through it as they went, and it is no longer
// than a step may err by. (Closed form: velocity × time.) They stood still in it for milliseconds once.
func TestBodiesDriftOverWhatNoStepPasses(t *testing.T) {
	run := mustStart(t, mustBuild(t, swinging(0.07, 0.25)), flood.Settings{Motion: flood.Free})
	run.Displace(0, 0.1, 0.3, 0.02)
	for run.Time() < 0.1 {
		run.Step()
	}
	before, start := run.Pose(0), run.Time()
	run.Step()
	between, step := run.Pose(0), run.Time()-start
	speed := r3.Scale(1/step, r3.Sub(between.Up, before.Up)) // about
	for range 30 {
		run.FallOff()
	}
	left := run.Time() - start - step
	want, got := r3.Scale(left, speed), r3.Sub(run.Pose(0).Up, between.Up)
	if r3.Norm(r3.Sub(got, want)) > 0.2*r3.Norm(want) {
		t.Errorf("%g s left out: turned by %v, at its speed %v", left, got, want)
	}
	if most := 30 * flood.DefaultTolerance * math.Sqrt(1/9.8); left > 1.001*most {
		t.Errorf("%g s left out, at most %g may be", left, most)
	}
}

// TestNoLoadsOnTheFloor: a box that starts on the floor of a pool too shallow for it, with a joint that holds next to nothing, does not come
// apart; what its joint bears there is unknown, in samples, in the table and, where it parts by the clock, at the parting.
func TestNoLoadsOnTheFloor(t *testing.T) {
	spec := bargeSpec()
	spec.Water.Depth = ptr(0.05)
	spec.Weights[0].Over = &[2]float64{0, 1}
	spec.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.5}}
	spec.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "fore"}}
	spec.Joints = []compartment.JointSpec{{Name: "J", At: 0.5, Keeps: compartment.KeepBoth, Sections: [2]string{"stern", "bow"}}}
	spec.Joints[0].Holds.Hogging, spec.Joints[0].Holds.Sagging, spec.Joints[0].Holds.Shear = ptr(1e-3), ptr(1e-3), ptr(1e-3)
	for _, release := range []bool{false, true} {
		if release {
			spec.Joints[0].Release = []compartment.Condition{{Time: ptr(5.0)}}
		}
		known, seen := 0, 0
		set := flood.Settings{Motion: flood.Free, Until: 10, Samples: func(s *flood.Sample) {
			if j := s.Joints[0]; j.Present {
				seen++
				if !math.IsNaN(j.Bending) {
					known++
				}
			}
		}}
		r, err := mustStart(t, mustBuild(t, spec), set).Finish(t.Context())
		if err != nil || r.GaveUp != nil {
			t.Fatal(err, r.GaveUp)
		}
		if seen == 0 || known != 0 || !math.IsNaN(r.Joints[0].Start.Bending) || r.Joints[0].Hogging.Value != 0 {
			t.Errorf("release %t: of %d samples the load is known in %d; %+v", release, seen, known, r.Joints[0])
		}
		switch {
		case !release && len(r.Separations) != 0:
			t.Errorf("it parts on the floor: %+v", r.Separations)
		case release && (len(r.Separations) != 1 || r.Separations[0].Time != 5 || !math.IsNaN(r.Separations[0].Bending) || r.Curve != nil):
			t.Errorf("by the clock: %+v, curve %v", r.Separations, r.Curve)
		}
		for _, m := range r.Margins {
			if m.Kind == flood.MarginGM && !math.IsInf(m.Closest, 1) {
				t.Errorf("release %t: a margin of GM on the floor: %+v", release, m)
			}
		}
	}
}

// TestSwingsGoFarthestWithinSteps: the steepest angle, the heel and the freeboard of a swinging hull are those of samples far finer than steps.
func TestSwingsGoFarthestWithinSteps(t *testing.T) {
	var steep, heel, board float64 = 0, 0, math.Inf(1)
	set := flood.Settings{Motion: flood.Free, Until: 6, Every: 0.002, Tolerance: 1e-3, Samples: func(s *flood.Sample) {
		if s.Time > 0 {
			b := &s.Bodies[0]
			steep, heel, board = math.Max(steep, math.Abs(b.Trim)), math.Max(heel, math.Abs(b.Heel)), math.Min(board, b.Freeboard)
		}
	}}
	run := mustStart(t, mustBuild(t, swinging(0.07, 0.25)), set)
	run.Displace(0, -0.02, -0.05, 0) // the farthest is on the other side, a half swing later
	r, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	s := r.Sections[0]
	if s.Fate != flood.Undecided || !s.OnlySwings {
		t.Errorf("a closed hull that swings to the end: %+v", s)
	}
	deck := math.NaN()
	for _, m := range r.Margins {
		if m.Kind == flood.MarginDeck {
			deck = m.Closest
		}
	}
	t.Logf("%d steps: steepest %.6f of samples %.6f, heel %.6f of %.6f, freeboard %.6f of %.6f", r.Stats.Steps, s.Steepest, steep, math.Abs(s.WorstHeel), heel, deck, board)
	if math.Abs(s.Steepest/steep-1) > 2e-3 || math.Abs(math.Abs(s.WorstHeel)/heel-1) > 2e-3 || math.Abs(deck-board) > 1e-4 {
		t.Errorf("steepest %g of samples %g, heel %g of %g, freeboard %g of %g", s.Steepest, steep, s.WorstHeel, heel, deck, board)
	}
}
