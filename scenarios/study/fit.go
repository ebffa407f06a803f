package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/stat/distuv"
)

// Fitted is what a flood test's log says of some values.
type Fitted struct {
	Values        []FittedValue
	NotIdentified []NotIdentified
	Residuals     []Residual // of the readings, in order of the log
	RMS           float64    // root mean square of the residuals over their sigmas
	Spare         int        // readings more than values
	Known         bool       // all sigmas were given: the intervals go by them, or by the residuals where those are larger
	Rounds        int
}

// FittedValue is a value with the interval that holds it 19 times of 20, and what it was.
type FittedValue struct {
	Path                 string
	Value, Low95, High95 float64
	Listed               float64 // what the model reckons with
	Given                bool    // by the file, not a default
}

// NotIdentified is a value that the log does not show, and why: Like names what it cannot be told apart from, nothing where the
// readings hardly depend on it.
type NotIdentified struct {
	Path string
	Like []string
}

// Residual is a reading against the fitted run.
type Residual struct {
	Reading
	Read, Fitted float64 // SI and radians; s of an event
	Seen         bool    // the fitted run has it
}

// Off is the residual over its sigma.
func (r *Residual) Off() float64 { return (r.Read - r.Fitted) / r.Sigma }

// The numbers of Fit.
const (
	priorWidth = 0.5  // standard deviation of the logarithm of a value before anything was read: a factor of 1.65
	shownWidth = 0.1  // and what it must have come down to for the value to count as shown: a fifth of that, ±20 %
	fitStep    = 5e-3 // of the logarithm, for derivatives: its error is a hundred thousandth of them, that of the runs' noise less
	fineStep   = 1e-5 // of the logarithm, with which the search ends
	alike      = 0.9  // correlation of two values from which on they are told to be alike
)

// fitter looks for values by their logarithms.
type fitter struct {
	base    *Model
	paths   []string
	listed  []float64
	p       *predictor
	o       Options
	prior   []bool // the value is held by its prior
	counted int
}

// ErrNoFit is the error of a log that no values fit.
var ErrNoFit = errors.New("no values fit this log")

// FitPaths are the values that a log may show: the discharge coefficient of every opening that is no pump.
func FitPaths(m *Model) (paths []string) {
	for _, p := range m.Vessel.Passages {
		if p.Listed != nil && p.Pump == 0 {
			paths = append(paths, "openings."+p.Name+".cd")
		}
	}
	return paths
}

// Fit takes values from the readings of a flood test: those that make the sum of squares of the residuals, over their sigmas,
// least. Every value starts from the list, held by a wide prior; the prior of what the readings show is then let go, so
// that the list has no say in it. What they do not show keeps its prior and its uncertainty enters the others' intervals, but
// it is given no value: whether the readings hardly depend on it, or only on it together with another.
//
// Intervals are those of the linearised problem in the logarithms, by Student's t (G. A. F. Seber & C. J. Wild, Nonlinear
// Regression, 1989, chapter 5): with the scatter of the residuals; where all sigmas were given with those, or the scatter
// if that is more. The error is compartment.Faults of a wrong path, ErrNoFit, that of flood.Start, or ctx's.
func Fit(ctx context.Context, m *Model, readings []Reading, paths []string, o Options) (*Fitted, error) {
	f := &fitter{base: m, paths: paths, p: newPredictor(m, readings), o: o}
	given := make([]bool, len(paths))
	for i, path := range paths {
		x, fromFile, err := startOf(m, path)
		if err != nil {
			return nil, err
		}
		given[i] = fromFile
		f.listed, f.prior = append(f.listed, x), append(f.prior, true)
	}
	x, found := make([]float64, len(paths)), (*leastResult)(nil)
	var deviations [][]float64
	for range len(paths) + 1 {
		var err error
		if found, err = leastSquares(ctx, f.problem(), x); err != nil {
			if errors.Is(err, errNoStart) || errors.Is(err, errNoEnd) {
				err = fmt.Errorf("%w: %w", ErrNoFit, err)
			}
			return nil, err
		}
		x, deviations = found.x, covariance(found.jacobian)
		if !f.letGo(found, deviations) {
			break
		}
	}
	return f.result(ctx, found, deviations, given)
}

func (f *fitter) problem() leastProblem {
	return leastProblem{
		residuals: f.residuals,
		step:      func(float64) float64 { return fitStep },
		slight:    func(float64) float64 { return fineStep },
	}
}

// startOf is what the model has at a path; of a coefficient that the file does not give what it reckons with.
func startOf(m *Model, path string) (x float64, given bool, err error) {
	x, err = m.Value(path)
	if err == nil {
		if !(x > 0) {
			err = compartment.Faults{{Path: path, What: fmt.Sprintf("it is %g, and its logarithm is sought", x), Want: "a value above zero"}}
		}
		return x, true, err
	}
	for _, p := range m.Vessel.Passages {
		switch {
		case p.Listed != nil && path == "openings."+p.Name+".cd":
			return p.Law.Cd, false, nil
		case p.Bulkhead >= 0 && path == "bulkheads."+p.Name+".cd":
			return p.Law.Cd, false, nil
		}
	}
	return x, false, err
}

// at is the model at some logarithms over the listed values, nil where there is none.
func (f *fitter) at(x []float64) (*Model, error) {
	values := make([]Value, len(x))
	for i := range x {
		values[i] = Value{Path: f.paths[i], Value: f.listed[i] * math.Exp(x[i])}
	}
	m, err := f.base.With(values)
	if err != nil && faulty(err) != nil {
		return nil, nil
	}
	return m, err
}

// residuals are those of the readings and of the priors, at several points side by side.
func (f *fitter) residuals(ctx context.Context, points [][]float64) (all [][]float64, err error) {
	err = inOrder(ctx, len(points), f.o.workers(), func(ctx context.Context, i int) ([]float64, error) {
		m, err := f.at(points[i])
		if m == nil || err != nil {
			return nil, err
		}
		values, _, err := f.p.predict(ctx, m)
		if values == nil || err != nil {
			return nil, err
		}
		out := make([]float64, 0, len(values)+len(f.paths))
		for k := range f.p.readings {
			r := &f.p.readings[k]
			out = append(out, (values[k]-r.value())/r.Sigma)
		}
		for k, held := range f.prior {
			if held {
				out = append(out, points[i][k]/priorWidth)
			}
		}
		return out, nil
	}, func(_ int, r []float64) error {
		all = append(all, r)
		f.counted++
		f.o.tell(f.counted, f.counted+1)
		return nil
	})
	return all, err
}

// spare is how many readings there are more than values that they show.
func (f *fitter) spare() int {
	n := len(f.p.readings)
	for _, held := range f.prior {
		if !held {
			n--
		}
	}
	return max(0, n)
}

// scatter is by what the sigmas have to be multiplied, and the quantile that an interval reaches to.
func (f *fitter) scatter(found *leastResult) (scale, reach float64) {
	spare := f.spare()
	known := !slices.ContainsFunc(f.p.readings, func(r Reading) bool { return !r.Given })
	if spare == 0 {
		return 1, distuv.UnitNormal.Quantile(0.975)
	}
	scale = math.Sqrt(sumSquares(found.residual[:len(f.p.readings)]) / float64(spare))
	if known && scale <= 1 {
		return 1, distuv.UnitNormal.Quantile(0.975)
	}
	return scale, distuv.StudentsT{Sigma: 1, Nu: float64(spare)}.Quantile(0.975)
}

// letGo drops the priors of what the readings show, and tells whether it dropped any.
func (f *fitter) letGo(found *leastResult, c [][]float64) (dropped bool) {
	scale, _ := f.scatter(found)
	for i, held := range f.prior {
		// a scatter of less than the sigmas is luck, or sigmas that were guessed too wide
		if held && math.Sqrt(c[i][i])*math.Max(1, scale) < shownWidth {
			f.prior[i], dropped = false, true
		}
	}
	return dropped
}

// result puts together what was found.
func (f *fitter) result(ctx context.Context, found *leastResult, c [][]float64, given []bool) (*Fitted, error) {
	n := len(f.p.readings)
	out := &Fitted{RMS: math.Sqrt(sumSquares(found.residual[:n]) / float64(n)), Spare: f.spare(), Rounds: found.rounds}
	out.Known = !slices.ContainsFunc(f.p.readings, func(r Reading) bool { return !r.Given })
	scale, reach := f.scatter(found)
	for i, path := range f.paths {
		if f.prior[i] {
			out.NotIdentified = append(out.NotIdentified, NotIdentified{path, f.like(i, c, found)})
			continue
		}
		value, width := f.listed[i]*math.Exp(found.x[i]), reach*scale*math.Sqrt(c[i][i])
		out.Values = append(out.Values, FittedValue{Path: path, Value: value, Low95: value * math.Exp(-width), High95: value * math.Exp(width),
			Listed: f.listed[i], Given: given[i]})
	}
	m, err := f.at(found.x)
	if err != nil {
		return nil, err
	}
	values, seen, err := f.p.predict(ctx, m)
	if err != nil {
		return nil, err
	}
	for i, r := range f.p.readings {
		out.Residuals = append(out.Residuals, Residual{Reading: r, Read: r.value(), Fitted: values[i], Seen: seen[i]})
	}
	return out, nil
}

// like are the values that one is not told apart from: it would be shown if it were alone, and is not beside them.
func (f *fitter) like(i int, c [][]float64, found *leastResult) (names []string) {
	length := 0.0
	for k := range f.p.readings {
		length += found.jacobian.At(k, i) * found.jacobian.At(k, i)
	}
	if scale, _ := f.scatter(found); !(math.Max(1, scale)/math.Sqrt(length) < shownWidth) {
		return nil
	}
	for k, path := range f.paths {
		if k != i && math.Abs(c[i][k]) > alike*math.Sqrt(c[i][i]*c[k][k]) {
			names = append(names, path)
		}
	}
	return names
}
