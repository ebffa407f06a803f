package study_test

import (
	"bytes"
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
	"gonum.org/v1/gonum/stat/distuv"
)

// records does the runs of a shard and gives their lines.
func records(t testing.TB, s *study.Spread, shard study.Shard, workers int) []byte {
	t.Helper()
	var out bytes.Buffer
	todo := s.Todo(shard, func(int) bool { return false })
	err := s.Run(background, todo, study.Options{Workers: workers}, func(r *study.Record) error {
		line, err := r.Line()
		out.Write(line)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// summary sums up lines of records.
func summary(t testing.TB, about string, files ...[]byte) *study.Summary {
	t.Helper()
	tally := &study.Tally{}
	for _, data := range files {
		r := study.NewRecordReader("test.ndjson", bytes.NewReader(data))
		for {
			record, err := r.Next()
			if errors.Is(err, io.EOF) {
				break
			}
			if err == nil {
				err = tally.Add(record)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	s, err := tally.Summary(about)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func newSpread(t testing.TB, m *study.Model, runs int, seed uint64) *study.Spread {
	t.Helper()
	s, err := study.NewSpread(m, study.LatinHypercube, runs, seed)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The time to the top falls with C_d, so that its quantile at p is the time at C_d's quantile at 1 − p. A Latin hypercube has
// one run in each slice of 1/N, hence the bounds a slice to either side.
func TestQuantilesOfAKnownDistribution(t *testing.T) {
	const runs = 300
	m := read(t, clamped)
	s := summary(t, rises, records(t, newSpread(t, m, runs, 7), study.Shard{}, 2))
	at := func(p float64) float64 {
		return risingTime(m, 0.02, 0.61*(1+0.05*distuv.UnitNormal.Quantile(1-p)))
	}
	for _, q := range s.Quantiles {
		if q.Result != rises {
			continue
		}
		for p, got := range map[float64]float64{0.05: q.P05, 0.5: q.P50, 0.95: q.P95} {
			if low, high := at(p-1.0/runs), at(p+1.0/runs); !(got >= low && got <= high) {
				t.Errorf("quantile %g is %.6g, want from %.6g to %.6g", p, got, low, high)
			}
		}
	}
	if s.About != rises || s.Matters[0].Path != "openings.cut.cd" || s.Matters[0].Share < 0.95 || s.Matters[1].Share > 0.05 {
		t.Errorf("what matters for %s: %+v", s.About, s.Matters)
	}
}

// Any number of workers, and shards of it put together in any order, give the same bytes.
func TestSameBits(t *testing.T) {
	m := read(t, clamped)
	want := records(t, newSpread(t, m, 60, 3), study.Shard{}, 1)
	for _, workers := range []int{2, 7} {
		if got := records(t, newSpread(t, m, 60, 3), study.Shard{}, workers); !bytes.Equal(got, want) {
			t.Errorf("%d workers wrote other records", workers)
		}
	}
	document := func(s *study.Summary) string {
		var out bytes.Buffer
		if err := scenarios.WriteJSON(&out, study.NewSpreadDocument(s)); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	var parts [][]byte
	for i := 4; i >= 1; i-- {
		parts = append(parts, records(t, newSpread(t, m, 60, 3), study.Shard{I: i, N: 4}, 2))
	}
	if got, want := document(summary(t, "", parts...)), document(summary(t, "", want)); got != want {
		t.Errorf("the shards together give\n%s\nall at once\n%s", got, want)
	}
	if other := records(t, newSpread(t, m, 60, 4), study.Shard{}, 2); bytes.Equal(other, want) {
		t.Error("another seed gives the same")
	}
}

func TestTallyRefuses(t *testing.T) {
	m := read(t, clamped)
	lines := bytes.SplitAfter(records(t, newSpread(t, m, 5, 3), study.Shard{}, 1), []byte("\n"))
	record := func(line []byte) *study.Record {
		r, err := study.NewRecordReader("x", bytes.NewReader(line)).Next()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	var tally study.Tally
	if err := tally.Add(record(lines[0])); err != nil {
		t.Fatal(err)
	}
	if err := tally.Add(record(lines[0])); !errors.As(err, new(*study.Twice)) {
		t.Errorf("a run twice: %v", err)
	}
	other := records(t, newSpread(t, m, 6, 3), study.Shard{}, 1)
	if err := tally.Add(record(bytes.SplitAfter(other, []byte("\n"))[1])); !errors.As(err, new(*study.Other)) {
		t.Errorf("another study: %v", err)
	}
	s, err := tally.Summary("")
	if err != nil || len(s.Missing) != 4 || s.Missing[0] != 1 || s.Runs != 1 {
		t.Errorf("missing %v of %+v, %v", s.Missing, s, err)
	}
	if _, err := tally.Summary("no.such_s"); err == nil {
		t.Error("ranked for what no run has")
	}
}

func TestRecordsThatAreNone(t *testing.T) {
	whole := string(records(t, newSpread(t, read(t, clamped), 1, 3), study.Shard{}, 1))
	for _, text := range []string{"hello\n", "{}\n", "[1]\n", "null\n", whole[:50] + "\n", strings.Replace(whole, `"run":0`, `"run":7`, 1),
		strings.Replace(whole, "\n", " x\n", 1), strings.Replace(whole, `"run"`, `"ran"`, 1), "a text without an end"} {
		r := study.NewRecordReader("x.ndjson", strings.NewReader(text))
		if _, err := r.Next(); err == nil || !strings.HasPrefix(err.Error(), "x.ndjson:1:1: ") {
			t.Errorf("%.40q: %v", text, err)
		}
	}
	for _, torn := range []string{whole[:len(whole)-1], whole[:40], whole[:3]} {
		if _, err := study.NewRecordReader("x", strings.NewReader(torn)).Next(); !errors.Is(err, study.ErrTorn) {
			t.Errorf("%.40q: %v", torn, err)
		}
	}
}

// Values out of range are drawn again: none below nothing, and those that were fit stay where the hypercube has them.
func TestRedraws(t *testing.T) {
	m := read(t, strings.Replace(clamped, "normal: 5 %", "normal: 70 %", 1))
	d, err := study.NewDesign(m, study.LatinHypercube, 400, 1)
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0
	for run := range 400 {
		_, values, redrawn, err := d.Model(m, run)
		if err != nil {
			t.Fatal(err)
		}
		before := d.Values(run)
		drawn += redrawn
		if values[0].Value <= 0 || values[0].Value > 2 || values[1] != before[1] {
			t.Errorf("run %d has %+v, first %+v", run, values, before)
		}
		if redrawn == 0 && values[0] != before[0] {
			t.Errorf("run %d moved without being drawn again", run)
		}
	}
	// P(C_d ≤ 0) = Φ(−1/0.7) = 7.7 % and P(C_d > 2) = 0.06 %: some 31 of 400, a few of them twice
	if drawn < 25 || drawn > 45 {
		t.Errorf("%d were drawn again", drawn)
	}
	impossible := read(t, strings.Replace(clamped, "uniform: [-10 g, 10 g]", "uniform: [-900 g, -800 g]", 1))
	bad, err := study.NewDesign(impossible, study.Halton, 2, 1)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, _, err := bad.Model(impossible, 0); err == nil || !strings.Contains(err.Error(), "narrower") {
		t.Errorf("masses below nothing: %v", err)
	}
}

// Of y = 3u + v with u and v uniform, u explains 9/10 of the variance and v 1/10; of z = |u − ½| all comes of u though there is
// no straight line in it.
func TestWhatMatters(t *testing.T) {
	const n = 2000
	var tally study.Tally
	random := rand.New(rand.NewPCG(1, 2))
	for run := range n {
		u, v := random.Float64(), random.Float64()
		err := tally.Add(&study.Record{Identity: study.Identity{Of: n}, Run: run, Values: map[string]float64{"u": u, "v": v},
			Result: map[string]any{"fate": "floats", "y": 3*u + v, "z": math.Abs(u - 0.5), "same": 40.1}})
		if err != nil {
			t.Fatal(err)
		}
	}
	for about, want := range map[string][2]float64{"y": {0.9, 0.1}, "z": {1, 0}, "same": {0, 0}} {
		s, err := tally.Summary(about)
		if err != nil {
			t.Fatal(err)
		}
		// 20 slices miss 1/400 of what they cut; chance is √(2·19)/2000 = 0.003 of one standard deviation
		if math.Abs(s.Matters[0].Share-want[0]) > 0.02 || math.Abs(s.Matters[1].Share-want[1]) > 0.02 || s.Matters[0].Path != "u" || math.Abs(s.Joint-(1-want[0]-want[1])*map[string]float64{"y": 1, "z": 1}[about]) > 0.02 {
			t.Errorf("%s: %+v, want %v", about, s.Matters, want)
		}
	}
}

// BenchmarkSpread is the throughput of 24 runs of the packet demo on one worker and on two, by turns.
func BenchmarkSpread(b *testing.B) {
	s, err := study.NewSpread(demo(b, "packet"), study.LatinHypercube, 24, 1)
	if err != nil {
		b.Fatal(err)
	}
	var spent [2]time.Duration
	for b.Loop() {
		for i := range spent {
			at := time.Now()
			err := s.Run(background, s.Todo(study.Shard{}, func(int) bool { return false }), study.Options{Workers: i + 1}, func(*study.Record) error { return nil })
			if err != nil {
				b.Fatal(err)
			}
			spent[i] += time.Since(at)
		}
	}
	b.ReportMetric(float64(spent[0])/float64(spent[1]), "×two-workers")
}
