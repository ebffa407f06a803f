package study

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/flood"
)

// Fates are all that a run can have, in the order in which summaries list them.
var Fates = []flood.Fate{flood.Floats, flood.Grounds, flood.Founders, flood.Capsizes, flood.Undecided}

// Summary is what the runs of a spread come to.
type Summary struct {
	Identity
	Runs      int                       // that are there
	Missing   []int                     // that are not, of those of the study
	GaveUp    int                       // runs without a fate; they count in no share
	Redrawn   int                       // values that were out of range and drawn again
	Fates     map[flood.Fate]Proportion // of the runs that have a fate
	Quantiles []Quantiles               // in alphabetical order
	Matters   []Matter                  // the most important first
	About     string                    // the result that Matters is about
	Joint     float64                   // what no value explains alone: their working together, and the noise of few runs
}

// Quantiles are those of one result over the runs that have it.
type Quantiles struct {
	Result        string
	Count         int
	P05, P50, P95 float64
}

// Matter is how large a share of a result's scatter comes of one value.
type Matter struct {
	Path  string
	Share float64
}

// Tally gathers records. Records may come in any order; the summary of the same records is the same to the bit.
type Tally struct {
	id      Identity
	records map[int]*row
	numbers map[string]int // index of a result in a row
	values  []string       // paths, sorted
	redrawn int
}

// row is what a summary needs of a record.
type row struct {
	values  []float64
	numbers []float64 // NaN or beyond the end: it has none
	fate    flood.Fate
}

// Twice is the error of a run that is there a second time.
type Twice struct{ Run int }

func (t *Twice) Error() string { return fmt.Sprintf("run %d is there a second time", t.Run) }

// Other is the error of a record of another study.
type Other struct{ Want, Got Identity }

func (o *Other) Error() string {
	switch {
	case o.Want.InputDigest != o.Got.InputDigest:
		return "the record comes from another scenario"
	case o.Want.Version != o.Got.Version:
		return fmt.Sprintf("the record comes from version %s, not %s", o.Got.Version, o.Want.Version)
	}
	return fmt.Sprintf("the record comes from a study of %d runs (%s) with seed %d, not of %d (%s) with seed %d",
		o.Got.Of, o.Got.Sampling, o.Got.Seed, o.Want.Of, o.Want.Sampling, o.Want.Seed)
}

// Tally is one for the records of this spread, of which there are none yet.
func (s *Spread) Tally() *Tally { return &Tally{id: s.id} }

// Len is how many runs are there.
func (t *Tally) Len() int { return len(t.records) }

// Has tells whether a run is there.
func (t *Tally) Has(run int) bool { return t.records[run] != nil }

// Add takes a record in. The error is of type *Twice or *Other.
func (t *Tally) Add(r *Record) error {
	if t.records == nil {
		t.id, t.records, t.numbers = r.Identity, map[int]*row{}, map[string]int{}
		for path := range r.Values {
			t.values = append(t.values, path)
		}
		slices.Sort(t.values)
	}
	if r.Identity != t.id || len(r.Values) != len(t.values) {
		return &Other{t.id, r.Identity}
	}
	if t.records[r.Run] != nil {
		return &Twice{r.Run}
	}
	line := &row{}
	for _, path := range t.values {
		x, ok := r.Values[path]
		if !ok {
			return &Other{t.id, r.Identity}
		}
		line.values = append(line.values, x)
	}
	for name, x := range r.Result {
		if fate, ok := x.(string); ok && name == "fate" {
			line.fate = flood.Fate(fate)
		}
		if n := number(x); !math.IsNaN(n) && !slices.Contains(uncompared, name) {
			line.set(t.index(name), n)
		}
	}
	t.redrawn += r.Redrawn
	t.records[r.Run] = line
	return nil
}

func (t *Tally) index(name string) int {
	i, ok := t.numbers[name]
	if !ok {
		i = len(t.numbers)
		t.numbers[name] = i
	}
	return i
}

func (r *row) set(i int, x float64) {
	for len(r.numbers) <= i {
		r.numbers = append(r.numbers, math.NaN())
	}
	r.numbers[i] = x
}

func (r *row) number(i int) float64 {
	if i < len(r.numbers) {
		return r.numbers[i]
	}
	return math.NaN()
}

// Summary sums up. about is the result that Matters is to be about; "" takes the fate where it differs in five runs or more, else
// how long the run took.
func (t *Tally) Summary(about string) (*Summary, error) {
	s := &Summary{Identity: t.id, Runs: len(t.records), Redrawn: t.redrawn, Fates: map[flood.Fate]Proportion{}}
	var runs []int
	for run := range t.id.Of {
		if t.records[run] == nil {
			s.Missing = append(s.Missing, run)
		} else {
			runs = append(runs, run)
		}
	}
	counts := map[flood.Fate]int{}
	for _, run := range runs {
		counts[t.records[run].fate]++
	}
	s.GaveUp = counts[flood.NoFate]
	for _, fate := range Fates {
		s.Fates[fate] = Wilson(counts[fate], len(runs)-s.GaveUp)
	}
	for name, i := range t.numbers {
		if q := t.quantiles(runs, name, i); q.Count > 0 {
			s.Quantiles = append(s.Quantiles, q)
		}
	}
	slices.SortFunc(s.Quantiles, func(a, b Quantiles) int { return compareText(a.Result, b.Result) })
	return s, t.matters(s, runs, counts, about)
}

func (t *Tally) quantiles(runs []int, name string, i int) Quantiles {
	var sorted []float64
	for _, run := range runs {
		if x := t.records[run].number(i); !math.IsNaN(x) {
			sorted = append(sorted, x)
		}
	}
	slices.Sort(sorted)
	return Quantiles{name, len(sorted), quantile(sorted, 0.05), quantile(sorted, 0.5), quantile(sorted, 0.95)}
}
