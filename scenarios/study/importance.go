package study

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

func version() string { return scenarios.Version }

func compareText(a, b string) int { return cmp.Compare(a, b) }

// fewest is how often a second fate must occur for the rank of importance to be about the fate.
const fewest = 5

// matters ranks the values by how much of a result's scatter each explains.
func (t *Tally) matters(s *Summary, runs []int, counts map[flood.Fate]int, about string) error {
	if len(runs) == 0 { // as in a shard, where there are more of them than runs
		s.About = cmp.Or(about, "duration_s")
		return nil
	}
	if about == "" {
		about = "duration_s"
		commonest := 0
		for _, fate := range Fates {
			commonest = max(commonest, counts[fate])
		}
		if len(runs)-s.GaveUp-commonest >= fewest {
			about = "fate"
		}
	}
	s.About = about
	inputs, outputs, err := t.columns(runs, about)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(outputs, scatters) {
		s.Joint = 1
	}
	for i, path := range t.values {
		share := explained(inputs[i], outputs)
		s.Matters = append(s.Matters, Matter{path, share})
		s.Joint -= share
	}
	s.Joint = math.Max(0, s.Joint)
	slices.SortStableFunc(s.Matters, func(a, b Matter) int { return cmp.Compare(b.Share, a.Share) })
	return nil
}

// columns are the values, and the result as numbers, of the runs that have it. The fate is a number for each that occurs: 1
// where a run has it.
func (t *Tally) columns(runs []int, about string) (inputs, outputs [][]float64, err error) {
	index, known := t.numbers[about]
	if about != "fate" && !known {
		var names []string
		for name := range t.numbers {
			names = append(names, name)
		}
		slices.Sort(names)
		want := "fate, or a number such as duration_s"
		if near := compartment.Nearest(about, names); near != "" {
			want = "did you mean " + near + "? " + want
		}
		return nil, nil, fmt.Errorf("no run has a number %q; %s", about, want)
	}
	inputs = make([][]float64, len(t.values))
	outputs = make([][]float64, 1)
	if about == "fate" {
		outputs = make([][]float64, len(Fates))
	}
	for _, run := range runs {
		r := t.records[run]
		switch {
		case about == "fate" && r.fate == flood.NoFate, about != "fate" && math.IsNaN(r.number(index)):
			continue
		case about == "fate":
			for k, fate := range Fates {
				outputs[k] = append(outputs[k], map[bool]float64{true: 1}[r.fate == fate])
			}
		default:
			outputs[0] = append(outputs[0], r.number(index))
		}
		for i, x := range r.values {
			inputs[i] = append(inputs[i], x)
		}
	}
	return inputs, outputs, nil
}

// explained is the share of the outputs' variance that lies between slices of one input: Pearson's correlation ratio η² over
// slices of equal count (K. Pearson, 1905), which is the first-order index of Sobol' (E. Plischke, Reliab. Eng. Syst. Saf. 95
// (2010) 354), less what chance gives so many slices (ε², T. L. Kelley, Proc. Natl. Acad. Sci. 21 (1935) 554). It sees
// thresholds and humps as well as straight lines.
func explained(input []float64, outputs [][]float64) float64 {
	n := len(input)
	slicesOf := max(2, min(20, n/10))
	if n < 2*slicesOf {
		return 0
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(input[a], input[b]) })
	total, between := 0.0, 0.0
	for _, y := range outputs {
		mean := 0.0
		for _, v := range y {
			mean += v / float64(n)
		}
		for _, v := range y {
			total += (v - mean) * (v - mean)
		}
		for k := range slicesOf {
			from, to := k*n/slicesOf, (k+1)*n/slicesOf
			sum := 0.0
			for _, i := range order[from:to] {
				sum += y[i] - mean
			}
			between += sum * sum / float64(to-from)
		}
	}
	if !slices.ContainsFunc(outputs, scatters) {
		return 0
	}
	share := 1 - float64(n-1)/float64(n-slicesOf)*(1-between/total)
	return math.Max(0, share)
}

// scatters tells whether numbers differ by more than rounding.
func scatters(y []float64) bool {
	if len(y) == 0 {
		return false
	}
	low, high := slices.Min(y), slices.Max(y)
	return high-low > 1e-9*math.Max(math.Abs(low), math.Abs(high))
}
