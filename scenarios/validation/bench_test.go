package validation

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

// benchTimes are when the ruler goes in, s.
var benchTimes = []float64{20, 40, 60, 80, 100}

// benchDepths are the depths in both halves at those times, m; NaN once the box has gone.
func benchDepths(t *testing.T, m *study.Model) (fore, aft []float64) {
	t.Helper()
	next := 0
	fore, aft = make([]float64, len(benchTimes)), make([]float64, len(benchTimes))
	for i := range benchTimes {
		fore[i], aft[i] = nan, nan
	}
	watched(t, m, func(s *flood.Sample) {
		for next < len(benchTimes) && s.Time >= benchTimes[next]-1e-9 {
			if s.Time < benchTimes[next]+0.01 {
				aft[next], fore[next] = s.Spaces[0].Depth, s.Spaces[1].Depth
			}
			next++
		}
	})
	return fore, aft
}

// quantileOf is the value that a share of a spread stays below.
func quantileOf(t *testing.T, s *study.Summary, name string) study.Quantiles {
	t.Helper()
	for _, q := range s.Quantiles {
		if q.Result == name {
			return q
		}
	}
	t.Fatalf("the spread has no %s", name)
	return study.Quantiles{}
}

// spreadOf is what a spread of so many runs comes to.
func spreadOf(t *testing.T, m *study.Model, runs int) *study.Summary {
	t.Helper()
	s, err := study.NewSpread(m, study.LatinHypercube, runs, 1)
	if err != nil {
		t.Fatal(err)
	}
	var tally study.Tally
	if err := s.Run(t.Context(), s.Todo(study.Shard{}, tally.Has), study.Options{}, tally.Add); err != nil {
		t.Fatal(err)
	}
	summary, err := tally.Summary("")
	if err != nil {
		t.Fatal(err)
	}
	return summary
}

// benchTable is what is foretold, in times and in depths.
func benchTable(t *testing.T, m *study.Model) string {
	const runs = 100
	s := spreadOf(t, m, runs)
	var b table
	fmt.Fprintf(&b, "Of %d runs with the spread of the file (`byhead spread testdata/experiments/bench.yaml --runs %d --seed 1`):\n\n", runs, runs)
	b.head("", "1 in 20 before, s", "half before, s", "1 in 20 after, s")
	q := quantileOf(t, s, "events.deck-edge-under.hull.time_s")
	b.row("the rim touches the water", figure(q.P05, 0), figure(q.P50, 0), figure(q.P95, 0))
	if !(q.P05 > benchTimes[len(benchTimes)-1] && q.P95 < 600 && q.P05 < q.P50 && q.P50 < q.P95) {
		t.Errorf("the rim goes under after %g, %g, %g s: not to be timed by hand in a sink, after the last reading", q.P05, q.P50, q.P95)
	}
	b.WriteString("\nDepths with everything as in the file, at the deepest corner, which is the fore end of each half:\n\n")
	b.head("after, s", "fore half, mm", "after half, mm")
	fore, aft := benchDepths(t, m)
	for i, at := range benchTimes {
		b.row(figure(at, 0), figure(1e3*fore[i], 0), figure(1e3*aft[i], 0))
		if math.IsNaN(fore[i]) {
			t.Errorf("no depth at %g s", at)
		}
	}
	return b.String()
}

// benchLog is a log as somebody would fill it in: depths to a millimetre, the rim's time to half a second, by a box whose holes pass
// more and less than the file says.
func benchLog(t *testing.T, m *study.Model) string {
	fore, aft := benchDepths(t, m)
	var b strings.Builder
	b.WriteString(scenarios.LogHeader + "\n")
	for i, at := range benchTimes {
		fmt.Fprintf(&b, "%g,depth,fore,%.0f,mm,1\n%g,depth,aft,%.0f,mm,1\n", at, 1e3*fore[i], at, 1e3*aft[i])
	}
	for _, e := range watched(t, m, nil).Events {
		if e.Kind == flood.DeckEdgeUnder {
			fmt.Fprintf(&b, "%.1f,event,deck-edge-under:hull,,s,1\n", math.Round(2*e.Time)/2)
		}
	}
	return b.String()
}

// TestBench: the page of the experiment in a sink has what the engine foretells now, and its log can be fitted: from a made-up log that
// was read as coarsely as one reads a ruler, `fit` finds the coefficients that it was made with.
func TestBench(t *testing.T) {
	m := experiment(t, "bench", "")
	fillPage(t, "../../docs/bench.md", map[string]string{"predicted": benchTable(t, m)})

	truth := map[string]float64{"openings.bottom.cd": 0.68, "openings.through.cd": 0.57}
	real := must(m.With([]study.Value{{Path: "openings.bottom.cd", Value: 0.68}, {Path: "openings.through.cd", Value: 0.57}}))
	log := benchLog(t, real)
	rows, err := m.Scenario.ReadLog("log.csv", []byte(log))
	if err != nil {
		t.Fatal(err)
	}
	readings, err := study.Readings(m, "log.csv", rows)
	if err != nil {
		t.Fatal(err)
	}
	f, err := study.Fit(t.Context(), m, readings, study.FitPaths(m), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d readings, RMS %.2f sigma, %d rounds", len(readings), f.RMS, f.Rounds)
	if len(f.NotIdentified) > 0 || len(f.Values) != 2 {
		t.Errorf("%d values found, not identified %v\n%s", len(f.Values), f.NotIdentified, log)
	}
	for _, v := range f.Values {
		t.Logf("%s: %.4f (%.4f to %.4f), made with %g", v.Path, v.Value, v.Low95, v.High95, truth[v.Path])
		if want := truth[v.Path]; !(v.Low95 <= want && want <= v.High95) || math.Abs(v.Value/want-1) > 0.03 || v.High95-v.Low95 > 0.1 {
			t.Errorf("%s: %g (%g to %g), the log was made with %g\n%s", v.Path, v.Value, v.Low95, v.High95, want, log)
		}
	}
}
