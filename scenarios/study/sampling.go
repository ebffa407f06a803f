package study

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/byhead/byhead/scenarios"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// Sampling is how the points of a study are strewn over the unit cube.
type Sampling string

// The samplings.
const (
	LatinHypercube Sampling = "latin-hypercube" // each value has one run in each of N slices of equal probability
	Halton         Sampling = "halton"          // Owen's randomised Halton sequence (arXiv:1706.02808)
)

// The limits of a design: what fits into memory, and the dimensions of gonum's Halton sequence.
const (
	mostRuns   = 1_000_000
	mostSpread = 500
)

// Design says which values each run of a study has.
type Design struct {
	Spread []scenarios.Spread
	Base   []float64 // the values of the scenario, in order of Spread
	Runs   int
	Seed   uint64

	units *mat.Dense // a row for each run, in (0, 1)
}

// NewDesign strews so many runs over the spread of a model's scenario.
func NewDesign(m *Model, sampling Sampling, runs int, seed uint64) (*Design, error) {
	d := &Design{Spread: m.Scenario.Spread, Runs: runs, Seed: seed}
	switch {
	case len(d.Spread) == 0:
		return nil, m.Scenario.Lacks("the scenario has no list `spread`",
			"one item for each value that the workshop may miss, such as {value: openings.cut.slot.width, normal: 15 %}")
	case len(d.Spread) > mostSpread:
		return nil, fmt.Errorf("the list `spread` has %d values; at most %d", len(d.Spread), mostSpread)
	case runs < 1 || runs > mostRuns:
		return nil, fmt.Errorf("%d runs; from 1 to %d", runs, mostRuns)
	}
	for _, s := range d.Spread {
		x, err := m.Value(s.Path)
		if err != nil {
			return nil, err
		}
		if s.Relative && x == 0 {
			return nil, fmt.Errorf("%s is 0, and its spread is given as a share of it; a spread with a unit", s.Path)
		}
		d.Base = append(d.Base, x)
	}
	d.units = mat.NewDense(runs, len(d.Spread), nil)
	source := rand.NewPCG(seed, math.MaxUint64) // the runs' own streams have their number here
	cube := distmv.NewUnitUniform(len(d.Spread), nil)
	switch sampling {
	case LatinHypercube:
		samplemv.LatinHypercube{Q: cube, Src: source}.Sample(d.units)
	case Halton:
		samplemv.Halton{Kind: samplemv.Owen, Q: cube, Src: source}.Sample(d.units)
	default:
		return nil, fmt.Errorf("no sampling %q; %s or %s", sampling, LatinHypercube, Halton)
	}
	return d, nil
}

// Values are those of a run, before any is drawn again.
func (d *Design) Values(run int) []Value {
	values := make([]Value, len(d.Spread))
	for i, s := range d.Spread {
		values[i] = Value{Path: s.Path, Value: d.place(i, d.units.At(run, i))}
	}
	return values
}

// place is the value of a spread at a probability.
func (d *Design) place(i int, p float64) float64 {
	const edge = 0x1p-53 // rounding can put a point on the face of the cube, where a normal value has no end
	p = math.Max(edge, math.Min(1-edge, p))
	s := &d.Spread[i]
	if s.Uniform != nil {
		return d.Base[i] + s.Uniform[0] + (s.Uniform[1]-s.Uniform[0])*p
	}
	sigma := s.Normal
	if s.Relative {
		sigma *= math.Abs(d.Base[i])
	}
	return d.Base[i] + sigma*distuv.UnitNormal.Quantile(p)
}

// mostDraws is how often a run's values are drawn before the spread is given up as impossible.
const mostDraws = 1000

// Model is the model of a run. Values with which no vessel can be built are drawn again from their distributions, those alone
// that are out of range by themselves, or else all of the run; redrawn counts the draws. The stream of numbers is the
// run's own, so that the order of the runs says nothing.
func (d *Design) Model(base *Model, run int) (m *Model, values []Value, redrawn int, err error) {
	values = d.Values(run)
	stream := rand.New(rand.NewPCG(d.Seed, uint64(run)))
	for range mostDraws {
		if m, err = base.With(values); err == nil || faulty(err) == nil {
			return m, values, redrawn, err
		}
		again := d.outOfRange(base, values)
		for _, i := range again {
			values[i].Value = d.place(i, stream.Float64())
		}
		redrawn += len(again)
	}
	return nil, nil, redrawn, fmt.Errorf("run %d: no values that fit were found in %d draws; a narrower spread (%w)", run, mostDraws, err)
}

// outOfRange are the values with which alone no vessel can be built; all of them where it is their company.
func (d *Design) outOfRange(base *Model, values []Value) (which []int) {
	for i := range values {
		if _, err := base.With(values[i : i+1]); err != nil {
			which = append(which, i)
		}
	}
	if len(which) > 0 {
		return which
	}
	for i := range values {
		which = append(which, i)
	}
	return which
}
