package scenarios

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
)

// bellWith runs the demo bell with one value of it replaced, or as it is where path is "".
func bellWith(t *testing.T, path, value string) (*flood.Result, *compartment.Vessel, []flood.Sample) {
	t.Helper()
	folder, data, err := OpenDemo("bell")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read(folder, "demo:bell", data)
	if err != nil {
		t.Fatal(err)
	}
	switch path {
	case "":
	case "variant":
		s, err = s.Variant(value)
	default:
		s, err = s.Set(path, value)
	}
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	var samples []flood.Sample
	run, err := flood.Start(v, flood.Settings{Until: s.Run.Until, Every: 0.1, Samples: func(q *flood.Sample) {
		c := *q
		c.Spaces, c.Bodies = append([]flood.SpaceSample(nil), q.Spaces...), append([]flood.BodySample(nil), q.Bodies...)
		samples = append(samples, c)
	}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	if !(math.Abs(r.AirBalance) <= 1e-12*r.AirCrossed) {
		t.Errorf("%s %s: air balance %g kg of %g", path, value, r.AirBalance, r.AirCrossed)
	}
	return r, v, samples
}

// The larger the pinhole, the sooner the bell sinks; without one it stays.
func TestBellSinksByItsPinhole(t *testing.T) {
	r, _, _ := bellWith(t, "variant", "no-hole")
	if r.Fate != flood.Floats {
		t.Errorf("without a pinhole it %s", r.Fate)
	}
	last := math.Inf(1)
	for _, hole := range []string{"0.3 mm", "0.4 mm", "0.5 mm", "0.8 mm", "1.2 mm", "2 mm", "4 mm"} {
		r, _, _ := bellWith(t, "openings.pinhole.hole", hole)
		at := r.Sections[0].Foundered
		t.Logf("%s: %.2f s", hole, at)
		if r.Fate != flood.Founders || !(at < last) {
			t.Errorf("a hole of %s: %s after %g s; sooner than %g expected", hole, r.Fate, at, last)
		}
		last = at
	}
}

// The time of the demo by hand: as long as the lead is under water, what carries the bell is the water that its air keeps out, so
// that its pressure p = ρg·(weight in water)/ρ/(area inside) does not change, and the air goes at one rate q: with the freeboard f at
// which p has come about, t = area·f·density(p)/q. q by the law of the scenario format with the pinhole's figures put in: 0.8 mm in
// 2 mm, L/d 2.5, C_d 0.827 − 0.0085·2.5 = 0.80575. The engine takes the plates' volume evenly from the space, which by hand stand
// where they are: two or three per cent.
func TestBellByHand(t *testing.T) {
	const d, wall, cd, temperature = 0.8e-3, 2e-3, 0.80575, 291.15
	r, v, samples := bellWith(t, "", "")
	const length, breadth, depth = 0.3, 0.2, 0.15
	lead, thickness := 7.8/11340, 0.48/1050/(2*(length*breadth+length*depth+breadth*depth))
	inside := length*breadth - 2*(length+breadth)*thickness
	wet := lead + thickness*(length*breadth+2*(length+breadth)*(depth-samples[0].Bodies[0].Freeboard)) // the lid is dry
	p := hydro.Gravity * (0.48 + 7.8 - v.Water.Density*wet) / inside
	density := (hydro.Atmosphere + p) / (287.05 * temperature)
	area := math.Pi / 4 * d * d
	viscosity := 1.458e-6 * math.Pow(temperature, 1.5) / (temperature + 110.4)
	creep, jet := viscosity*area/(d*d*d)*(24+128*wall/(math.Pi*d)), density/2/(cd*cd)
	q := area * (math.Sqrt(creep*creep+4*jet*p) - creep) / (2 * jet) // ε is 0.998 here
	var first flood.Sample
	for _, s := range samples {
		if s.Time >= 0.5 { // the mouth has let the water in
			first = s
			break
		}
	}
	want := first.Time + inside*first.Bodies[0].Freeboard/q
	got := r.Sections[0].Foundered
	t.Logf("pressure %.1f Pa, by hand %.1f; goes under after %.2f s, by hand %.2f", first.Spaces[0].Air, p, got, want)
	if math.Abs(first.Spaces[0].Air/p-1) > 0.02 || math.Abs(got/want-1) > 0.03 {
		t.Errorf("pressure %g Pa, by hand %g; after %g s, by hand %g", first.Spaces[0].Air, p, got, want)
	}
}

// In the side, under water, the small pinhole holds the air by its surface and the larger one does not: 4σ/d against what the hull
// presses out, 1.1 kPa less 0.2 kPa or so of water over the hole.
func TestBellsHoleUnderWater(t *testing.T) {
	for variant, want := range map[string]flood.Fate{"side-02": flood.Floats, "side-05": flood.Founders} {
		if r, _, _ := bellWith(t, "variant", variant); r.Fate != want {
			t.Errorf("%s: %s, want %s", variant, r.Fate, want)
		}
	}
}

// What the story says of the air: all kept, some gone.
func TestStoryOfTrappedAir(t *testing.T) {
	for _, c := range []struct{ variant, want string }{
		{"no-hole", `bell: all of 7\.8\d+ l kept; under 1\.\d+ kPa at most`},
		{"drill-05", `bell: 7\.\d+ l of 7\.8\d+ l left, \d+\.?\d* ml gone; under 1\.\d+ kPa at most`},
	} {
		folder, data, err := OpenDemo("bell")
		if err != nil {
			t.Fatal(err)
		}
		s, err := Read(folder, "demo:bell", data)
		if err != nil {
			t.Fatal(err)
		}
		if s, err = s.Variant(c.variant); err != nil {
			t.Fatal(err)
		}
		v, err := s.Build()
		if err != nil {
			t.Fatal(err)
		}
		story := NewStory(s, v)
		run, err := flood.Start(v, flood.Settings{Until: 300, Samples: story.Sample})
		if err != nil {
			t.Fatal(err)
		}
		r, err := run.Finish(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		var out strings.Builder
		if err := story.Write(&out, r); err != nil || !regexp.MustCompile(c.want).MatchString(out.String()) {
			t.Errorf("%s: %v; no %q in\n%s", c.variant, err, c.want, out.String())
		}
	}
}
