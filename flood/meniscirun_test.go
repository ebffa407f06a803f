package flood_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// A dry run that is saved and resumed hands out the same bits, with menisci that hold and such that have broken, over a parting too.
func TestResumeDry(t *testing.T) {
	for name, spec := range map[string]compartment.Spec{"parts": onEnd(), "air": randomAir(7), "edge": sump(1.4, func(s *compartment.Spec) { s.Bulkheads[0].Top = ptr(0.02) })} {
		v := buildable(t, spec)
		var whole, parts trail
		set := flood.Settings{Until: 300, Every: 0.7, Menisci: flood.Dry, Samples: whole.sample}
		if name == "edge" {
			set.Motion, set.Keel = flood.Held, ptr(1.0)
		}
		run := mustStart(t, v, set)
		for run.Result().Ended == flood.Running {
			whole.step(run, run.Step())
		}
		set.Samples = parts.sample
		rng := rand.New(rand.NewPCG(7, 7))
		again, saves := interrupted(t, v, set, &parts, func(int) bool { return rng.IntN(4) == 0 })
		a, b := run.Result(), again.Result()
		if at := firstDifference(whole.bits, parts.bits); at >= 0 || a.Stats != b.Stats || saves == 0 {
			t.Errorf("%s: resumed %d times, differs from number %d of %d on", name, saves, at, len(whole.bits))
		}
		broke := 0
		for _, e := range a.Events {
			if e.Kind == flood.BrokeThrough && e.Time > 0 {
				broke++
			}
		}
		if fmt.Sprint(a.HeldBack, a.Margins) != fmt.Sprint(b.HeldBack, b.Margins) || broke == 0 {
			t.Errorf("%s: %d broke through; %v %v, else %v %v", name, broke, b.HeldBack, b.Margins, a.HeldBack, a.Margins)
		}
	}
}

// A hole through a doubled bulkhead is two after the parting, each as dry or wet as the one was: two that hold, two that break through
// as the sea comes to them, or two that are wet.
func TestDryHoleDoubledByAParting(t *testing.T) {
	doubled := func(diameter, aboard float64) compartment.Spec {
		s := onEnd()
		s.Joints[0].Keeps, s.Joints[0].Release = compartment.KeepBoth, []compartment.Condition{{Time: ptr(1.0)}}
		s.Openings = []compartment.OpeningSpec{bored("weep", "engine", "hold", r3.Vec{X: 0.6, Z: 0.015}, r3.Vec{X: 1}, diameter)}
		if aboard > 0 {
			s.Compartments[1].Starts, s.Compartments[2].Starts = &compartment.StartSpec{Depth: &aboard}, &compartment.StartSpec{Depth: &aboard}
		}
		return s
	}
	for _, c := range []struct {
		name          string
		spec          compartment.Spec
		held, through int
	}{{"fine", doubled(0.0006, 0), 2, 0}, {"coarse", doubled(0.004, 0), 0, 2}, {"wet", doubled(0.0006, 0.02), 0, 0}} {
		_, r := finish(t, c.spec, flood.Settings{Until: 20, Menisci: flood.Dry})
		through := 0
		for _, e := range r.Events {
			if e.Kind == flood.BrokeThrough {
				through++
				if e.Time != 1 || e.Name != "weep.stern" && e.Name != "weep.bow" {
					t.Errorf("%s: %+v", c.name, e)
				}
			}
		}
		if len(r.HeldBack) != c.held || through != c.through || len(r.Separations) != 1 {
			t.Errorf("%s: held back %+v, %d broke through, want %d and %d", c.name, r.HeldBack, through, c.held, c.through)
		}
		if (r.WaterCrossed > 0) != (c.name != "fine") {
			t.Errorf("%s: %g m³ crossed", c.name, r.WaterCrossed)
		}
	}
}

// Hulls with joints, dry: no mouth breaks through twice, none gives up, the accounts close.
func TestRandomDryPartings(t *testing.T) {
	tooLongUnderRace(t)
	dryPartings(t, flood.Settled)
	dryPartings(t, flood.Free)
}

func dryPartings(t *testing.T, motion flood.Motion) {
	t.Helper()
	parted, broke, sigma := 0, 0, 0.07
	for seed := range uint64(16) {
		spec := randomJoints(seed)
		spec.Water.SurfaceTension = &sigma
		v := buildable(t, spec)
		r, err := mustStart(t, v, flood.Settings{Menisci: flood.Dry, Motion: motion}).Finish(t.Context())
		if err != nil || r.GaveUp != nil {
			t.Errorf("seed %d: %v, %+v", seed, err, r.GaveUp)
		}
		parted += len(r.Separations)
		for _, e := range r.Events {
			if e.Kind == flood.BrokeThrough {
				broke++
				if at := brokeAt(r, e.Name); math.IsInf(at, 1) {
					t.Errorf("seed %d: %s broke through twice", seed, e.Name)
				}
			}
		}
		keepsAccounts(t, fmt.Sprintf("seed %d", seed), v, r)
	}
	if parted < 10 || broke < 16 {
		t.Errorf("%s: %d partings, %d broke through: they show little", motion, parted, broke)
	}
}

// A dry hole over the waterline of a barge that a pump fills slowly breaks through when the water stands 4σ/(ρg d) over its lowest point,
// with inertia as without.
func TestDryHoleBreaksThroughInBothMotions(t *testing.T) {
	const diameter, above = 0.002, 0.09
	for _, motion := range []flood.Motion{flood.Settled, flood.Free} {
		spec := midSpec()
		spec.Water.SurfaceTension = ptr(0.0728)
		spec.Hull.ContactAngle = ptr(math.Pi / 2)
		spec.Openings = []compartment.OpeningSpec{
			{Name: "pump", Between: [2]string{"outside", "mid"}, At: r3.Vec{X: 0.5, Y: 0.1, Z: 0.01}, Flow: ptr(2e-5)},
			bored("pin", "outside", "fore", r3.Vec{X: 0.8, Y: 0.1, Z: above}, r3.Vec{Y: 1}, diameter),
		}
		stands := math.NaN() // the water over the hole's lowest point at the last sample before it breaks through
		broken := false
		set := flood.Settings{Motion: motion, Menisci: flood.Dry, Until: 600, Every: 0.1}
		v := mustBuild(t, spec)
		set.Samples = func(s *flood.Sample) {
			for _, p := range s.Passages {
				broken = broken || p.Name == "pin" && p.Water != 0
			}
			if !broken {
				stands = -s.Bodies[0].Pose.Height(r3.Vec{X: 0.8, Y: 0.1, Z: above - diameter/2})
			}
		}
		r, err := mustStart(t, v, set).Finish(t.Context())
		if err != nil || r.GaveUp != nil {
			t.Fatal(err, r.GaveUp)
		}
		want := 4 * 0.0728 / (v.Water.Density * hydro.Gravity * diameter)
		t.Logf("%s: it breaks through at %.3f s under %.3f mm, by the formula %.3f mm", motion, brokeAt(r, "pin"), 1e3*stands, 1e3*want)
		if at := brokeAt(r, "pin"); !(at > 10) || math.Abs(stands/want-1) > 0.02 {
			t.Errorf("%s: broke through at %g s, under %g m of water", motion, at, stands)
		}
	}
}

// Soap put into the pool between two steps lets go what clean water held: at once.
func TestSoapLetsGo(t *testing.T) {
	for _, c := range []struct {
		tension float64
		events  int
	}{{0.030, 1}, {0, 0}, {0.060, 0}} {
		v := mustBuild(t, sump(1.4, round(0.002)))
		run := mustStart(t, v, flood.Settings{Motion: flood.Held, Keel: ptr(1.0), Until: 300, Menisci: flood.Dry})
		for range 14 { // until the water stands 9 mm over the hole's lowest point
			run.FixedStep(10)
		}
		at := run.Time()
		soapy, err := v.With("water.surface_tension", c.tension)
		if err != nil {
			t.Fatal(err)
		}
		if err := run.Change(soapy); err != nil {
			t.Fatal(err)
		}
		run.Step()
		events := run.Result().Events
		flows := run.Water()[1] > 0
		if len(events) != c.events || c.events > 0 && events[0].Time != at || flows != (c.tension < 0.05) {
			t.Errorf("σ %g: %v at %g s, flows %t", c.tension, events, at, flows)
		}
	}
}
