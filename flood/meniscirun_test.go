package flood_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
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
	parted, broke, sigma := 0, 0, 0.07
	for seed := range uint64(16) {
		spec := randomJoints(seed)
		spec.Water.SurfaceTension = &sigma
		v := buildable(t, spec)
		r, err := mustStart(t, v, flood.Settings{Menisci: flood.Dry}).Finish(t.Context())
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
		t.Errorf("%d partings, %d broke through: they show little", parted, broke)
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
