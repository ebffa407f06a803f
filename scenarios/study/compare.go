package study

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// Column is one model of a comparison.
type Column struct {
	Name  string
	Model *Model
}

// Comparison is what several models come to, side by side.
type Comparison struct {
	Columns  []string
	Digests  []string   // of each column's input: Model.Digest
	Outcomes []*Outcome // of each column
	Rows     []Row
}

// Row is one result of all columns.
type Row struct {
	Result      string
	Values      []*Result // of each column; nil: it has none
	Best, Worst []string  // names of columns, more than one where they are equal; none where all are, or neither is better
}

// uncompared are results that are no measure of a layout.
var uncompared = []string{"water_balance_m3", "air_balance_kg"}

// Compare runs every column and sets their results side by side: first those of the whole, then of its bodies, the events with
// trim and heel at each, and the margins.
//
// Better is what a hull wants that has to stay up: to float rather than ground, founder or capsize (undecided stands between
// grounding and foundering); later, or never, where it is about what befalls her; less trim and heel; more margin. Of
// what is neither good nor bad, such as how long the run took, no column is best.
func Compare(ctx context.Context, columns []Column, o Options) (*Comparison, error) {
	c := &Comparison{}
	for _, col := range columns {
		c.Columns, c.Digests = append(c.Columns, col.Name), append(c.Digests, col.Model.Digest())
	}
	err := inOrder(ctx, len(columns), o.workers(), func(ctx context.Context, i int) (*Outcome, error) {
		out, err := columns[i].Model.Run(ctx)
		if err != nil && ctx.Err() == nil {
			err = fmt.Errorf("%s: %w", columns[i].Name, err)
		}
		return out, err
	}, func(i int, out *Outcome) error {
		c.Outcomes = append(c.Outcomes, out)
		o.tell(i+1, len(columns))
		return nil
	})
	if err != nil {
		return nil, err
	}
	for _, name := range unitedNames(c.Outcomes) {
		c.Rows = append(c.Rows, c.row(name))
	}
	return c, nil
}

// unitedNames are the results that any outcome has: group by group, each where it stands first.
func unitedNames(outcomes []*Outcome) (names []string) {
	seen := map[string]bool{}
	for _, o := range outcomes {
		for i := range o.Results {
			if path := o.Results[i].Path; !seen[path] && !slices.Contains(uncompared, path) {
				seen[path] = true
				names = append(names, path)
			}
		}
	}
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(group(a), group(b)) })
	return names
}

// group is the part of the table that a result belongs to.
func group(path string) int {
	first, _, nested := strings.Cut(path, ".")
	switch {
	case path == "fate":
		return -1
	case !nested:
		return 0
	case first == "gave_up":
		return 1
	case first == "separation" || first == "separations":
		return 2
	case first == "events":
		return 5
	case first == "margins":
		return 6
	case first == "earlier":
		return 4
	}
	return 3 // a section
}

func (c *Comparison) row(name string) Row {
	r := Row{Result: name}
	least, most := math.Inf(1), math.Inf(-1)
	worth := make([]float64, len(c.Outcomes))
	for i, o := range c.Outcomes {
		found := o.Find(name)
		r.Values = append(r.Values, found)
		if worth[i] = rounded(name, worthOf(name, found, o)); !math.IsNaN(worth[i]) {
			least, most = math.Min(least, worth[i]), math.Max(most, worth[i])
		}
	}
	if !(least < most) {
		return r
	}
	for i, w := range worth {
		switch w {
		case most:
			r.Best = append(r.Best, c.Columns[i])
		case least:
			r.Worst = append(r.Worst, c.Columns[i])
		}
	}
	return r
}

// rounded leaves out what no table shows and rounding decides: less than 0.01 degrees, 0.01 s, 0.01 mm.
func rounded(name string, worth float64) float64 {
	step := 0.01
	switch ResultKind(name) {
	case scenarios.Length:
		step = 1e-5
	case scenarios.Time, scenarios.Angle:
	default:
		return worth
	}
	return math.Round(worth/step) * step
}

// fateWorth is how good a fate is.
var fateWorth = map[flood.Fate]float64{flood.Floats: 5, flood.Grounds: 4, flood.Undecided: 3, flood.Founders: 2, flood.Capsizes: 1}

// worthOf is how good a result is: more is better, NaN says nothing.
func worthOf(name string, r *Result, o *Outcome) float64 {
	last := name[strings.LastIndexByte(name, '.')+1:]
	if r == nil {
		if befalls(name) && o.GaveUp == nil {
			return math.Inf(1) // never
		}
		return math.NaN()
	}
	switch {
	case last == "fate":
		if w, ok := fateWorth[flood.Fate(r.Text)]; ok {
			return w
		}
	case befalls(name):
		return r.Number
	case last == "past_vertical":
		if r.Text == "true" {
			return 0
		}
		return 1
	case last == "steepest_deg" || last == "worst_heel_deg" || group(name) == 5 && strings.HasSuffix(last, "_deg"):
		return -math.Abs(r.Number)
	case last == "closest_m" && !math.IsNaN(r.Number):
		return r.Number
	}
	return math.NaN()
}

// befalls tells the times of what a hull had better not meet.
func befalls(name string) bool {
	words := strings.Split(name, ".")
	last := words[len(words)-1]
	if last == "foundered_s" || last == "afloat_alone_s" || last == "parted_s" {
		return true
	}
	if last != "time_s" {
		return false
	}
	switch words[0] {
	case "separation", "separations":
		return true
	case "events":
		return words[1] != string(flood.SettledDown) && words[1] != string(flood.Opened) && words[1] != string(flood.Shut)
	}
	return false
}
