package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// fresh20 is fresh water of 20 °C: its σ by IAPWS R1-76(2014), its ρ by Kell, as hydro has them.
func fresh20(t *testing.T) (tension, weight float64) {
	t.Helper()
	w, err := hydro.FreshWater(293.15)
	if err != nil {
		t.Fatal(err)
	}
	return w.SurfaceTension, w.Density * hydro.Gravity
}

const sumpRate = 2e-6 // m³/s

// sump is a box over the sink, 100 × 100 mm in each half, of which the first is filled slowly by a pump until what is between it
// and the second lets water through.
func sump(angle float64, way func(*compartment.Spec)) compartment.Spec {
	s := compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
		Hull: compartment.HullSpec{Box: &compartment.BoxSpec{Length: 0.2, Breadth: 0.1, Depth: 0.15},
			ContactAngle: &angle},
		Weights:      []compartment.WeightSpec{{Name: "all", Mass: 1}},
		Bulkheads:    []compartment.BulkheadSpec{{Name: "wall", At: 0.1}},
		Compartments: []compartment.CompartmentSpec{{Name: "sump"}, {Name: "beyond"}},
		Openings:     []compartment.OpeningSpec{{Name: "tap", Between: [2]string{"outside", "sump"}, At: r3.Vec{Z: 0.01}, Flow: ptr(sumpRate)}},
	}
	way(&s)
	return s
}

// inWall is an opening in the wall of a sump, its centre 20 mm over the bottom.
func inWall(shape func(*compartment.OpeningSpec)) func(*compartment.Spec) {
	return func(s *compartment.Spec) {
		o := compartment.OpeningSpec{Name: "way", Between: [2]string{"sump", "beyond"}, At: r3.Vec{X: 0.1, Z: 0.02}, Faces: &r3.Vec{X: 1}, Along: &r3.Vec{Y: 1}}
		shape(&o)
		s.Openings = append(s.Openings, o)
	}
}

func round(diameter float64) func(*compartment.Spec) {
	return inWall(func(o *compartment.OpeningSpec) { o.Hole = &diameter })
}

// brokeAt is when water broke through at a name; NaN: never.
func brokeAt(r *flood.Result, name string) float64 {
	at := math.NaN()
	for _, e := range r.Events {
		if e.Kind == flood.BrokeThrough && e.Name == name {
			if !math.IsNaN(at) {
				return math.Inf(1) // once, not twice
			}
			at = e.Time
		}
	}
	return at
}

func finish(t *testing.T, spec compartment.Spec, set flood.Settings) (*flood.Run, *flood.Result) {
	t.Helper()
	run := mustStart(t, mustBuild(t, spec), set)
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatalf("%v, %+v", err, r.GaveUp)
	}
	return run, r
}

// The sump fills until the water stands the scenario format's height over the lowest point of a dry hole, slot, door or edge, and
// then lets go: σ(T) by IAPWS R1-76(2014), the times by filling at a steady rate. Until then nothing passes; from then on it runs.
// A wet start warns of that height, less what a jet loses to its own surface, under which a wet one lets nothing pass either.
func TestDryMouthsBreakThrough(t *testing.T) {
	sigma, weight := fresh20(t)
	length := math.Sqrt(sigma / weight)
	const degree = math.Pi / 180
	slot := func(l, w float64) func(*compartment.Spec) {
		return inWall(func(o *compartment.OpeningSpec) { o.Slot = &compartment.SlotSpec{Length: l, Width: w} })
	}
	top := func(s *compartment.Spec) { s.Bulkheads[0].Top = ptr(0.02) }
	for _, c := range []struct {
		name        string
		angle       float64 // degrees
		way         func(*compartment.Spec)
		low         float64 // of the opening, m
		holds, lets float64 // m of head: a dry one holds, a wet one lets nothing pass
	}{
		{"hole 2 mm, 80°", 80, round(0.002), 0.019, 4 * sigma * math.Sin(80*degree) / 0.002 / weight, 2 * sigma / 0.002 / weight},
		{"hole 5 mm, 50°", 50, round(0.005), 0.0175, 4 * sigma * math.Sin(50*degree) / 0.005 / weight, 2 * sigma / 0.005 / weight},
		{"hole 2 mm, 110°", 110, round(0.002), 0.019, 4 * sigma / 0.002 / weight, 2 * sigma / 0.002 / weight},
		{"hole 40 mm, 80°", 80, round(0.04), 0, 4 * sigma * math.Sin(80*degree) / 0.04 / weight, 2 * sigma / 0.04 / weight},
		{"slot 24 × 1.2 mm, 80°", 80, slot(0.024, 0.0012), 0.0194, 2 * sigma * math.Sin(80*degree) / 0.0012 / weight, sigma / 0.0012 / weight},
		{"edge, 80°", 80, top, 0.02, 2 * length * math.Sin(40*degree), 0},
		{"edge, 55°", 55, top, 0.02, 2 * length * math.Sin(27.5*degree), 0},
		{"edge, 120°", 120, top, 0.02, 2 * length * math.Sin(60*degree), 0},
	} {
		spec := sump(c.angle*degree, c.way)
		name := "way"
		if c.lets == 0 {
			name = "wall"
		}
		set := flood.Settings{Motion: flood.Held, Keel: ptr(1.0), Until: 300, Menisci: flood.Dry}
		run, r := finish(t, spec, set)
		want := (c.low + c.holds) * 0.1 * 0.1 / sumpRate
		if got := brokeAt(r, name); !(math.Abs(got-want) < 1e-6*want) {
			t.Errorf("%s: broke through at %.6f s, closed form %.6f s", c.name, got, want)
		}
		if run.Water()[1] == 0 || len(r.Warnings) != 0 {
			t.Errorf("%s: %g m³ beyond, warnings %v", c.name, run.Water()[1], r.Warnings)
		}
		set.Until = 0.999 * want
		if run, r := finish(t, spec, set); run.Water()[1] != 0 || len(r.Events) != 0 {
			t.Errorf("%s: before it, %g m³ beyond, %v", c.name, run.Water()[1], r.Events)
		}
		set.Until, set.Menisci = 300, flood.Wet
		_, r = finish(t, spec, set)
		if len(r.Warnings) != 1 || !(math.Abs(r.Warnings[0].Value-(c.holds-c.lets)) < 1e-9) || len(r.HeldBack) != 1 {
			t.Errorf("%s: wet, warnings %+v, held back %+v; the want is of %.6f m", c.name, r.Warnings, r.HeldBack, c.holds-c.lets)
		}
	}
}

// Without surface tension, and with an opening so wide that it holds less than a step may err by, dry is wet: the same bits.
func TestDryWithoutTensionIsWet(t *testing.T) {
	wide := inWall(func(o *compartment.OpeningSpec) {
		o.At.Z = 0.075
		o.Door = &compartment.DoorSpec{Length: 0.098, Height: 0.149}
	})
	for name, c := range map[string]struct {
		tension float64
		way     func(*compartment.Spec)
		events  int
	}{"none": {0, round(0.002), 0}, "soap": {0.035, round(0.002), 1}, "a wide door": {1e-5, wide, 0}} {
		spec := sump(1.4, c.way)
		spec.Water.SurfaceTension = &c.tension
		set := flood.Settings{Motion: flood.Held, Keel: ptr(1.0), Until: 300}
		wet, _ := finish(t, spec, set)
		set.Menisci = flood.Dry
		dry, r := finish(t, spec, set)
		same := wet.Water()[0] == dry.Water()[0] && wet.Water()[1] == dry.Water()[1]
		if len(r.Events) != c.events || same != (c.events == 0) {
			t.Errorf("%s: %v, the same bits: %t", name, r.Events, same)
		}
	}
}

// lid is a lid of MT-7: 36 × 12.5 mm, walls of 1 mm, 6 g, here square of the same area, with a hole in its bottom.
func lid(diameter, tension, mass float64) compartment.Spec {
	side := math.Sqrt(math.Pi/4) * 0.036
	return compartment.Spec{
		Water:   compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15, SurfaceTension: &tension},
		Hull:    compartment.HullSpec{Box: &compartment.BoxSpec{Length: side, Breadth: side, Depth: 0.0125}, ContactAngle: ptr(math.Pi / 2)},
		Weights: []compartment.WeightSpec{{Name: "lid", Mass: mass, At: r3.Vec{X: side / 2, Z: 0.004}}},
		Openings: []compartment.OpeningSpec{{Name: "hole", Between: [2]string{"outside", "hold"}, At: r3.Vec{X: side / 2}, Faces: &r3.Vec{Z: -1},
			Hole: &diameter, Wall: 0.001}},
	}
}

// Experiment MT-7: a dry lid floats on a hole of less than 4σ/(ρgh), h its draft: about 4 mm at a head of 8 mm, 7 mm at 4 mm, and
// with σ = 30 mN/m it sinks above 2 to 3 mm. A wet one sinks through all of these.
func TestLidsOnTheirHoles(t *testing.T) {
	tooLongUnderRace(t)
	_, weight := fresh20(t)
	const area = math.Pi / 4 * 0.036 * 0.036
	for _, c := range []struct{ head, tension, low, high float64 }{
		{0.008, 0.0728, 0.0035, 0.0042}, {0.004, 0.0728, 0.0068, 0.0077}, {0.0055, 0.030, 0.002, 0.003},
	} {
		least := 4 * c.tension / (weight * c.head)
		if least < c.low || least > c.high {
			t.Errorf("head %g m: holds up to %.2f mm, measured about %.1f to %.1f", c.head, 1000*least, 1000*c.low, 1000*c.high)
		}
		mass := c.head * area * weight / hydro.Gravity
		for _, d := range []float64{0.97 * least, 1.03 * least} {
			motion := flood.Settled
			if c.tension < 0.05 {
				motion = flood.Free
			}
			set := flood.Settings{Menisci: flood.Dry, Motion: motion}
			_, dry := finish(t, lid(d, c.tension, mass), set)
			want := flood.Floats
			if d > least {
				want = flood.Founders
			}
			set.Menisci = flood.Wet
			_, wet := finish(t, lid(d, c.tension, mass), set)
			if dry.Fate != want || wet.Fate != flood.Founders {
				t.Errorf("head %g m, hole %.2f mm: dry %s (want %s), wet %s", c.head, 1000*d, dry.Fate, want, wet.Fate)
			}
			if held := d < least; held != (len(dry.HeldBack) == 1 && math.IsNaN(dry.HeldBack[0].Broke)) {
				t.Errorf("head %g m, hole %.2f mm: held back %+v", c.head, 1000*d, dry.HeldBack)
			}
			if at := brokeAt(dry, "hole"); d > least && at != 0 {
				t.Errorf("head %g m, hole %.2f mm: broke through at %g s, not at once", c.head, 1000*d, at)
			}
		}
	}
}

// A pump draws an airtight tank under the sea empty until the sea breaks in through a hole: from both the depth and the air's loss
// of pressure by Boyle's law. While the hole is dry, no air leaves through it either, for its mouth is under water.
func TestSuctionBreaksThrough(t *testing.T) {
	sigma, weight := fresh20(t)
	const d, area, depth, starts, rate = 0.001, 0.2 * 0.1, 0.01, 0.06, 1e-6
	spec := compartment.Spec{
		Water:        compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
		Hull:         compartment.HullSpec{Box: &compartment.BoxSpec{Length: 0.2, Breadth: 0.1, Depth: 0.15}, ContactAngle: ptr(math.Pi / 2)},
		Weights:      []compartment.WeightSpec{{Name: "all", Mass: 1}},
		Compartments: []compartment.CompartmentSpec{{Name: "tank", Airtight: true, Starts: &compartment.StartSpec{Depth: ptr(starts)}}},
		Openings: []compartment.OpeningSpec{
			{Name: "pump", Between: [2]string{"tank", "outside"}, At: r3.Vec{X: 0.1, Y: 0.05, Z: 0.01}, Flow: ptr(rate)},
			{Name: "way", Between: [2]string{"outside", "tank"}, At: r3.Vec{X: 0.1, Y: -0.05, Z: 0.1}, Faces: &r3.Vec{Y: -1}, Hole: ptr(d)}},
	}
	set := flood.Settings{Motion: flood.Held, Keel: ptr(-0.1 + d/2 - depth), Until: 30, Menisci: flood.Dry}
	_, r := finish(t, spec, set)
	gauge := weight*depth - 4*sigma/d
	air := area * (0.15 - starts)
	want := air * (hydro.Atmosphere/(hydro.Atmosphere+gauge) - 1) / rate
	if got := brokeAt(r, "way"); !(math.Abs(got-want) < 1e-5*want) {
		t.Errorf("broke through at %.6f s, closed form %.6f s", got, want)
	}
}

// What has water on both sides from the start, or as it opens, is wet, and is not told; what water comes to from both sides is wet from
// then on, and is told.
func TestWaterOnBothSides(t *testing.T) {
	both := func(here, there float64, opens float64) compartment.Spec {
		s := sump(1.4, round(0.002))
		s.Compartments[0].Starts = &compartment.StartSpec{Depth: &here}
		if there > 0 {
			s.Compartments[1].Starts = &compartment.StartSpec{Depth: &there}
		}
		if opens > 0 {
			s.Openings[1].Opens = []compartment.Condition{{Time: &opens}}
		}
		return s
	}
	for name, c := range map[string]struct {
		spec  compartment.Spec
		broke float64 // s; NaN: never
	}{
		"from the start": {both(0.030, 0.025, 0), math.NaN()},
		"as it opens":    {both(0.030, 0.025, 5), math.NaN()},
		"opens dry":      {both(0.030, 0.010, 5), math.NaN()},
		"opens, pressed": {both(0.040, 0.010, 5), 5},
		"from both":      {both(0.0185, 0.0195, 0), (0.019 - 0.0185) * 0.01 / sumpRate},
	} {
		set := flood.Settings{Motion: flood.Held, Keel: ptr(1.0), Until: 6, Menisci: flood.Dry}
		run, r := finish(t, c.spec, set)
		got := brokeAt(r, "way")
		if !(math.IsNaN(got) && math.IsNaN(c.broke)) && !(math.Abs(got-c.broke) < 1e-6*c.broke) {
			t.Errorf("%s: broke through at %g s, not %g", name, got, c.broke)
		}
		flows := r.WaterCrossed > sumpRate*6*(1+1e-6)
		if want := name != "opens dry"; flows != want {
			t.Errorf("%s: flows %t, water %v", name, flows, run.Water())
		}
		if name == "from the start" && len(r.Margins) > 0 {
			for _, m := range r.Margins {
				if m.Kind == flood.MarginMeniscus {
					t.Errorf("%s: margin %+v", name, m)
				}
			}
		}
	}
}

// A full sump presses on its dry outlet with all the head of the sea from the moment that it is full: water breaks through there at
// that instant, and the run does not end for want of a flow.
func TestFullSpaceBreaksThrough(t *testing.T) {
	s := sump(1.4, round(0.002))
	s.Openings[0] = bored("cut", "outside", "sump", r3.Vec{X: 0.05, Y: 0.05, Z: 0.02}, r3.Vec{Y: 1}, 0.01)
	s.Openings[1].At.Z = 0.149
	set := flood.Settings{Motion: flood.Held, Keel: ptr(-0.2), Until: 1000, Menisci: flood.Dry}
	_, r := finish(t, s, set)
	filled := math.NaN()
	for _, e := range r.Events {
		if e.Kind == flood.Filled && e.Name == "sump" {
			filled = e.Time
		}
	}
	if at := brokeAt(r, "way"); at != filled {
		t.Errorf("full at %g s, broke through at %g s", filled, at)
	}
}

// A mouth that has bubbled under water is as dry as before, for air came from its far side: pumped in, water drives air out through it,
// and pumped out, lets it in only at what a dry hole holds, by the pressures at that moment.
func TestBubblingMouthStaysDry(t *testing.T) {
	sigma, weight := fresh20(t)
	const d, depth, turn = 0.001, 0.01, 20.0
	pump := func(name, from, to string, rate float64) compartment.OpeningSpec {
		return compartment.OpeningSpec{Name: name, Between: [2]string{from, to}, At: r3.Vec{X: 0.1, Y: 0.05, Z: 0.01}, Flow: &rate}
	}
	in, out := pump("in", "outside", "tank", 4e-6), pump("out", "tank", "outside", 4e-6)
	in.Shuts, out.Opens = []compartment.Condition{{Time: ptr(turn)}}, []compartment.Condition{{Time: ptr(turn)}}
	spec := compartment.Spec{
		Water:        compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
		Hull:         compartment.HullSpec{Box: &compartment.BoxSpec{Length: 0.2, Breadth: 0.1, Depth: 0.15}, ContactAngle: ptr(math.Pi / 3)},
		Weights:      []compartment.WeightSpec{{Name: "all", Mass: 1}},
		Compartments: []compartment.CompartmentSpec{{Name: "tank", Airtight: true, Starts: &compartment.StartSpec{Depth: ptr(0.05)}}},
		Openings: []compartment.OpeningSpec{in, out,
			{Name: "way", Between: [2]string{"outside", "tank"}, At: r3.Vec{X: 0.1, Y: -0.05, Z: 0.1}, Faces: &r3.Vec{Y: -1}, Hole: ptr(d)}},
	}
	bubbled, air, at := 0.0, math.NaN(), math.NaN()
	set := flood.Settings{Motion: flood.Held, Keel: ptr(-0.1 + d/2 - depth), Until: 60, Every: 0.01, Menisci: flood.Dry, Samples: func(s *flood.Sample) {
		bubbled = math.Max(bubbled, -s.Passages[2].Air)
		if s.Event && s.Time > turn && math.IsNaN(air) {
			air, at = s.Spaces[0].Air, s.Time
		}
	}}
	_, r := finish(t, spec, set)
	want := weight*depth - 4*sigma*math.Sin(math.Pi/3)/d
	if broke := brokeAt(r, "way"); broke != at || !(math.Abs(air-want) < 0.02) || bubbled == 0 {
		t.Errorf("broke through at %g s, the air at %g Pa at %g s, closed form %g Pa; bubbled %g m³/s", broke, air, at, want, bubbled)
	}
}

// A flat hole that water stands over: into an airtight space a wide one gulps as soon as there is water over it, a narrower one holds what
// its rim does; into a space with free air both hold that.
func TestFlatDryHoles(t *testing.T) {
	sigma, weight := fresh20(t)
	for _, c := range []struct {
		diameter float64
		airtight bool
		holds    float64
	}{
		{0.03, true, 0}, {0.015, true, 4 * sigma / 0.015 / weight}, {0.03, false, 4 * sigma / 0.03 / weight},
	} {
		spec := compartment.Spec{
			Water:   compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
			Hull:    compartment.HullSpec{Box: &compartment.BoxSpec{Length: 0.2, Breadth: 0.1, Depth: 0.15}, ContactAngle: ptr(math.Pi / 2)},
			Weights: []compartment.WeightSpec{{Name: "all", Mass: 1}},
			Compartments: []compartment.CompartmentSpec{{Name: "hold"},
				{Name: "tank", Airtight: c.airtight, X: &[2]float64{0, 0.1}, Y: &[2]float64{-0.05, 0.05}, Z: &[2]float64{0, 0.05}}},
			Openings: []compartment.OpeningSpec{
				{Name: "tap", Between: [2]string{"outside", "hold"}, At: r3.Vec{X: 0.15, Y: 0.05, Z: 0.01}, Flow: ptr(sumpRate)},
				{Name: "way", Between: [2]string{"hold", "tank"}, At: r3.Vec{X: 0.05, Z: 0.05}, Faces: &r3.Vec{Z: 1}, Hole: &c.diameter}},
		}
		_, r := finish(t, spec, flood.Settings{Motion: flood.Held, Keel: ptr(1.0), Until: 400, Menisci: flood.Dry})
		want := (0.1*0.1*0.05 + 0.2*0.1*c.holds) / sumpRate
		if got := brokeAt(r, "way"); !(math.Abs(got-want) < 1e-6*want) {
			t.Errorf("%g m, airtight %t: broke through at %.6f s, closed form %.6f s", c.diameter, c.airtight, got, want)
		}
	}
}
