package study_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios/study"
)

// twoHoles is a tub held in the water with a hole in either space, and a second one beside that of the after space. Invented.
const twoHoles = `format: 1
water: {surface_tension: 0 mN/m}
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
bulkheads:
  - {name: B1, at: 900 mm}
compartments: [aft, fore]
openings:
  - {name: one, between: [outside, fore], at: [950 mm, 0 mm, 0 mm], hole: 12 mm}
  - {name: two, between: [outside, aft], at: [450 mm, 0 mm, 0 mm], hole: 20 mm}
marks:
  - {name: M, at: [1000 mm, 0 mm, 150 mm]}
run: {motion: held, keel: -140 mm, until: 60 s}
`

const beside = "  - {name: three, between: [outside, aft], at: [250 mm, 0 mm, 0 mm], hole: 20 mm}\n"

// timed writes the log of a flood test: the depths every 2 s, by a run of its own, with noise of a millimetre.
func timed(t *testing.T, m *study.Model, truth []study.Value, noise float64, seed uint64, sigma string) string {
	t.Helper()
	real, err := m.With(truth)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(seed, 1))
	var log strings.Builder
	log.WriteString("time_s,kind,name,value,unit,sigma\n")
	settings := real.Settings
	settings.Every, settings.Until = 2, 20
	settings.Samples = func(s *flood.Sample) {
		for _, space := range s.Spaces {
			if s.Time > 0 && !s.Event && math.Mod(s.Time, 2) == 0 && s.Time <= 16 {
				fmt.Fprintf(&log, "%g,depth,%s,%.4f,mm,%s\n", s.Time, space.Name, 1000*(space.Depth+noise*random.NormFloat64()), sigma)
			}
		}
	}
	run, err := flood.Start(real.Vessel, settings)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := run.Finish(background); err != nil {
		t.Fatal(err)
	}
	return log.String()
}

func fit(t *testing.T, m *study.Model, log string, paths ...string) *study.Fitted {
	t.Helper()
	if len(paths) == 0 {
		paths = study.FitPaths(m)
	}
	f, err := study.Fit(background, m, readings(t, m, log), paths, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func readings(t *testing.T, m *study.Model, log string) []study.Reading {
	t.Helper()
	rows, err := m.Scenario.ReadLog("log.csv", []byte(log))
	if err != nil {
		t.Fatal(err)
	}
	out, err := study.Readings(m, "log.csv", rows)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var truth = []study.Value{{Path: "openings.one.cd", Value: 0.72}, {Path: "openings.two.cd", Value: 0.55}}

// Without noise the coefficients come back as they were.
func TestFitWithoutNoise(t *testing.T) {
	m := read(t, twoHoles)
	f := fit(t, m, timed(t, m, truth, 0, 1, "0.1"))
	if len(f.Values) != 2 || len(f.NotIdentified) != 0 || f.Spare != 14 {
		t.Fatalf("found %+v, not %+v", f.Values, f.NotIdentified)
	}
	for i, v := range f.Values {
		within(t, v.Path, v.Value, truth[i].Value, 1e-4)
		if v.Listed != 0.61 || v.Given || !(v.Low95 < v.Value && v.Value < v.High95) {
			t.Errorf("%+v", v)
		}
	}
	if f.RMS > 0.01 {
		t.Errorf("the residuals are %g sigmas", f.RMS)
	}
	lines := study.FitLines(m.Scenario, f)
	again := read(t, twoHoles+lines)
	v, err := again.Variant("fitted")
	if err != nil {
		t.Fatalf("the lines to paste\n%s: %v", lines, err)
	}
	within(t, "the pasted coefficient", *v.Vessel.Spec.Openings[0].Cd, 0.72, 1e-3)
}

// Of 100 logs with noise, in at least 90 each interval holds the truth (it should be in some 95), whether the log gives its
// sigmas, or gives none and the usual one is three times too large or half of what it is.
func TestFitIntervals(t *testing.T) {
	m := read(t, twoHoles)
	for _, c := range []struct {
		sigma string
		noise float64
		seeds uint64
	}{{"1", 1e-3, 100}, {"", 0.3e-3, 25}, {"", 2e-3, 25}} {
		held := [2]int{}
		for seed := range c.seeds {
			f := fit(t, m, timed(t, m, truth, c.noise, seed, c.sigma))
			if len(f.Values) != 2 {
				t.Fatalf("seed %d: found %+v", seed, f.Values)
			}
			for i, v := range f.Values {
				if v.Low95 <= truth[i].Value && truth[i].Value <= v.High95 {
					held[i]++
				}
			}
		}
		for i, n := range held {
			t.Logf("sigma %q, noise %g: %s within its interval in %d of %d", c.sigma, c.noise, truth[i].Path, n, c.seeds)
			if 10*n < 9*int(c.seeds)-10 || c.seeds == 100 && n < 90 {
				t.Errorf("sigma %q, noise %g: %s within its interval in %d of %d", c.sigma, c.noise, truth[i].Path, n, c.seeds)
			}
		}
	}
}

// Two holes of one space cannot be told apart by its depth; the third is found all the same, and right.
func TestFitRefusesWhatTheLogDoesNotShow(t *testing.T) {
	m := read(t, strings.Replace(twoHoles, "marks:", beside+"marks:", 1))
	f := fit(t, m, timed(t, m, truth, 0.5e-3, 3, "0.5"))
	if len(f.Values) != 1 || f.Values[0].Path != "openings.one.cd" || !(f.Values[0].Low95 <= 0.72 && 0.72 <= f.Values[0].High95) {
		t.Errorf("found %+v", f.Values)
	}
	if len(f.NotIdentified) != 2 || !slices.Equal(f.NotIdentified[0].Like, []string{"openings.three.cd"}) {
		t.Errorf("not found %+v", f.NotIdentified)
	}
	// and a hole into a space of which the log says nothing
	log := strings.Split(timed(t, m, truth, 0.5e-3, 3, "0.5"), "\n")
	log = slices.DeleteFunc(log, func(line string) bool { return strings.Contains(line, ",aft,") })
	f = fit(t, m, strings.Join(log, "\n"), "openings.one.cd", "openings.two.cd")
	if len(f.Values) != 1 || len(f.NotIdentified) != 1 || f.NotIdentified[0].Path != "openings.two.cd" || f.NotIdentified[0].Like != nil {
		t.Errorf("found %+v, not %+v", f.Values, f.NotIdentified)
	}
}

// listing is a box with a space along its starboard side holed: it heels and trims. Invented.
const listing = `format: 1
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
compartments: [hold, {name: wing, x: [600 mm, 900 mm], y: [-100 mm, -60 mm], z: [0 mm, 100 mm]}]
openings:
  - {name: hole, between: [outside, wing], at: [750 mm, -100 mm, 20 mm], hole: 6 mm}
marks:
  - {name: M, at: [1000 mm, -100 mm, 120 mm]}
`

// Marks, angles and an event of a hull that floats and leans.
func TestFitByMarksAnglesAndEvents(t *testing.T) {
	m := read(t, listing)
	real, err := m.With([]study.Value{{Path: "openings.hole.cd", Value: 0.7}})
	if err != nil {
		t.Fatal(err)
	}
	log := "time_s,kind,name,value,unit,sigma\n"
	mark := m.Vessel.Marks[0].At
	settings := real.Settings
	settings.Every, settings.Until = 5, 40
	settings.Samples = func(s *flood.Sample) {
		b := s.Bodies[0]
		if s.Event || s.Time == 0 {
			return
		}
		up := [3]float64{-math.Sin(b.Trim), math.Cos(b.Trim) * math.Sin(b.Heel), math.Cos(b.Trim) * math.Cos(b.Heel)}
		depth := b.DraftAft - up[0]*mark.X - up[1]*mark.Y - up[2]*mark.Z // the keel line begins at x = 0
		log += fmt.Sprintf("%g,mark,M,%.5f,mm,0.5\n%g,heel,,%.5f,deg,\n%g,trim,,%.5f,deg,\n", s.Time, 1000*depth, s.Time, b.Heel*180/math.Pi, s.Time, b.Trim*180/math.Pi)
	}
	run, err := flood.Start(real.Vessel, settings)
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(background)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range r.Events {
		if e.Kind == flood.SettledDown {
			continue // it comes to rest when flows are under a threshold, long after anybody sees them
		}
		log += fmt.Sprintf("%.3f,event,%s:%s,,s,0.5\n", e.Time, e.Kind, e.Name)
	}
	f := fit(t, m, log, "openings.hole.cd")
	if len(f.Values) != 1 || f.RMS > 0.05 {
		t.Fatalf("found %+v, residuals of %g sigmas: %+v", f.Values, f.RMS, f.Residuals)
	}
	within(t, "the coefficient", f.Values[0].Value, 0.7, 1e-3)
}

func TestFitRefuses(t *testing.T) {
	m := read(t, twoHoles)
	const head = "time_s,kind,name,value,unit,sigma\n"
	for log, want := range map[string]string{
		head:                            "log.csv:1:1: nothing was read off",
		head + ",mark,M,3,mm,\n":        "log.csv:2:2: a row without a time",
		head + ",event,filled:aft,,,\n": "log.csv:1:1: nothing was read off",
		head + "1,trim,,2,deg,\n,depth,aft,3,mm,\n": "log.csv:3:2: a row without a time",
		head + "3,event,filled:aff,,,\n":            "did you mean",
		head + "3,event,flies:aft,,,\n":             "a run has no result",
	} {
		rows, err := m.Scenario.ReadLog("log.csv", []byte(log))
		if err == nil {
			_, err = study.Readings(m, "log.csv", rows)
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", log, err, want)
		}
	}
	some := readings(t, m, timed(t, m, truth, 0, 1, ""))
	for _, path := range []string{"openings.four.cd", "run.keel"} {
		if _, err := study.Fit(background, m, some, []string{path}, study.Options{}); !errors.As(err, new(compartment.Faults)) {
			t.Errorf("%s: %v", path, err)
		}
	}
}
