package study

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// leastProblem is a non-linear least-squares problem: the unknowns x that make the sum of squares of the residuals least.
type leastProblem struct {
	// residuals of several points at once, so that they can be had side by side; nil where there are none
	residuals func(ctx context.Context, points [][]float64) ([][]float64, error)
	step      func(x float64) float64 // how far the differences reach that make the derivatives
	slight    func(x float64) float64 // a step of an unknown that is nothing
}

// leastResult is what was found.
type leastResult struct {
	x, residual []float64
	jacobian    *mat.Dense // of the residuals at x, by central differences
	squares     float64
	rounds      int
}

// The numbers of the search.
const (
	mostRounds = 2000
	upright    = 1e-10 // cosine between the residual and every column of the Jacobian at which it is a minimum
)

var (
	errNoStart = errors.New("there is no result at the values to start from")
	errNoEnd   = errors.New("the search came to no end")
)

// leastSquares goes down by the method of Levenberg and Marquardt. Each step is the least-squares solution, by QR, of the
// Jacobian over √λ·D, where D has the largest lengths that each of its columns has had (J. J. Moré, Lecture Notes in
// Mathematics 630 (1978) 105), so that units do not matter; λ follows how well the step foretold the gain (H. B. Nielsen, report
// IMM-REP-1999-05, Technical University of Denmark).
func leastSquares(ctx context.Context, p leastProblem, start []float64) (*leastResult, error) {
	now, err := p.at(ctx, start)
	if err != nil {
		return nil, err
	}
	sizes := make([]float64, len(start))
	lambda, rise := 1e-3, 2.0
	for now.rounds = 1; now.rounds <= mostRounds; now.rounds++ {
		for c := range sizes {
			sizes[c] = math.Max(sizes[c], mat.Norm(now.jacobian.ColView(c), 2))
		}
		if now.isLeast() {
			return now, nil
		}
		step, foretold, err := now.step(lambda, sizes)
		if err != nil {
			return nil, err
		}
		next := slices.Clone(now.x)
		slight := true
		for c := range next {
			next[c] += step[c]
			slight = slight && math.Abs(step[c]) <= p.slight(next[c])
		}
		if slight {
			return now, nil
		}
		gain, tried := math.Inf(-1), now
		if residual, err := p.one(ctx, next); err != nil {
			return nil, err
		} else if residual != nil {
			tried = &leastResult{x: next, residual: residual, squares: sumSquares(residual)}
			gain = (now.squares - tried.squares) / foretold
		}
		if !(gain > 0) {
			lambda, rise = lambda*rise, 2*rise
			if math.IsInf(lambda, 1) {
				return now, nil // no step goes down any more
			}
			continue
		}
		tried.rounds = now.rounds
		if err := p.differentiate(ctx, tried); err != nil {
			return nil, err
		}
		now = tried
		lambda, rise = lambda*math.Max(1.0/3, 1-math.Pow(2*gain-1, 3)), 2
	}
	return nil, errNoEnd
}

// at is a place with all that a step needs.
func (p leastProblem) at(ctx context.Context, x []float64) (*leastResult, error) {
	residual, err := p.one(ctx, x)
	if err != nil {
		return nil, err
	}
	if residual == nil {
		return nil, errNoStart
	}
	r := &leastResult{x: slices.Clone(x), residual: residual, squares: sumSquares(residual)}
	return r, p.differentiate(ctx, r)
}

// one is the residual at a point, nil where there is none or it is no number.
func (p leastProblem) one(ctx context.Context, x []float64) ([]float64, error) {
	all, err := p.residuals(ctx, [][]float64{x})
	if err != nil || all[0] == nil || math.IsNaN(sumSquares(all[0])) || math.IsInf(sumSquares(all[0]), 0) {
		return nil, err
	}
	return all[0], nil
}

// differentiate makes the Jacobian by central differences; where one side has no residuals by those of the other.
func (p leastProblem) differentiate(ctx context.Context, r *leastResult) error {
	var points [][]float64
	for c := range r.x {
		for _, sign := range [2]float64{-1, 1} {
			x := slices.Clone(r.x)
			x[c] += sign * p.step(x[c])
			points = append(points, x)
		}
	}
	all, err := p.residuals(ctx, points)
	if err != nil {
		return err
	}
	r.jacobian = mat.NewDense(max(len(r.residual), len(r.x)), len(r.x), nil)
	for c := range r.x {
		low, high := all[2*c], all[2*c+1]
		a, b := points[2*c][c], points[2*c+1][c]
		if low == nil {
			low, a = r.residual, r.x[c]
		}
		if high == nil {
			high, b = r.residual, r.x[c]
		}
		for k := range r.residual {
			if a != b {
				r.jacobian.Set(k, c, (high[k]-low[k])/(b-a))
			}
		}
	}
	return nil
}

// isLeast tells whether the residual stands upright on every column of the Jacobian.
func (r *leastResult) isLeast() bool {
	length := math.Sqrt(r.squares)
	for c := range r.x {
		dot := 0.0
		for k, v := range r.residual {
			dot += v * r.jacobian.At(k, c)
		}
		if math.Abs(dot) > upright*length*mat.Norm(r.jacobian.ColView(c), 2) {
			return false
		}
	}
	return true
}

// step is the damped step and the gain that it foretells.
func (r *leastResult) step(lambda float64, sizes []float64) (step []float64, foretold float64, err error) {
	rows, n := r.jacobian.Dims()
	scaled, right := mat.NewDense(rows+n, n, nil), mat.NewVecDense(rows+n, nil)
	size := make([]float64, n)
	for c := range n {
		if size[c] = sizes[c]; size[c] == 0 {
			size[c] = 1
		}
		for k := range rows {
			scaled.Set(k, c, r.jacobian.At(k, c)/size[c])
		}
		scaled.Set(rows+c, c, math.Sqrt(lambda))
	}
	for k, v := range r.residual {
		right.SetVec(k, -v)
	}
	var qr mat.QR
	qr.Factorize(scaled)
	var solution mat.VecDense
	var ill mat.Condition
	if err := qr.SolveVecTo(&solution, false, right); err != nil && (!errors.As(err, &ill) || math.IsInf(float64(ill), 1)) {
		return nil, 0, err
	}
	step = make([]float64, n)
	for c := range n {
		step[c] = solution.AtVec(c) / size[c]
		foretold += lambda * solution.AtVec(c) * solution.AtVec(c)
	}
	var change mat.VecDense
	change.MulVec(r.jacobian, mat.NewVecDense(n, step))
	left := 0.0
	for k, v := range r.residual {
		left += (v + change.AtVec(k)) * (v + change.AtVec(k))
	}
	return step, r.squares - left + foretold, nil
}

// covariance is (JᵀJ)⁻¹ = R⁻¹R⁻ᵀ by QR of the Jacobian with columns of length one; +Inf on the diagonal where a column is nothing
// or they cannot be told apart.
func covariance(j *mat.Dense) [][]float64 {
	rows, n := j.Dims()
	out := make([][]float64, n)
	for a := range out {
		out[a] = make([]float64, n)
		out[a][a] = math.Inf(1)
	}
	scaled, length := mat.DenseCopyOf(j), make([]float64, n)
	for c := range n {
		if length[c] = mat.Norm(j.ColView(c), 2); length[c] == 0 {
			return out
		}
		for k := range rows {
			scaled.Set(k, c, j.At(k, c)/length[c])
		}
	}
	var qr mat.QR
	qr.Factorize(scaled)
	var full, inverse, product mat.Dense
	qr.RTo(&full)
	var ill mat.Condition
	if err := inverse.Inverse(full.Slice(0, n, 0, n)); err != nil && (!errors.As(err, &ill) || math.IsInf(float64(ill), 1)) {
		return out
	}
	product.Mul(&inverse, inverse.T())
	for a := range n {
		for b := range n {
			out[a][b] = product.At(a, b) / (length[a] * length[b])
		}
	}
	return out
}

func sumSquares(x []float64) (sum float64) {
	for _, v := range x {
		sum += v * v
	}
	return sum
}
