package plan

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// programme is a linear programme: least cost·x with rows·x = rhs and lower ≤ x ≤ upper. A step > 0 asks for whole multiples.
type programme struct {
	cost, lower, upper, step []float64
	rows                     [][]float64
	rhs                      []float64
	bound                    []int // variables whose upper bounds have mattered
}

// column adds a variable and gives its index.
func (p *programme) column(cost, lower, upper float64) int {
	p.cost, p.lower, p.upper = append(p.cost, cost), append(p.lower, lower), append(p.upper, upper)
	p.step = append(p.step, 0)
	return len(p.cost) - 1
}

// row adds an equation; its coefficients are set by the caller.
func (p *programme) row(rhs float64) []float64 {
	r := make([]float64, len(p.cost))
	p.rows, p.rhs = append(p.rows, r), append(p.rhs, rhs)
	return r
}

// artificialCost is the price of a unit by which an equation fails: beyond all others, which are a thousand at most, and no
// more than that: a reduced cost is rounded by 1e-16 of it, times the condition of the basis.
const artificialCost = 1e4

// How near a programme has to be solved; its numbers are all of the order of one.
const (
	simplexWithin = 1e-8
	equationHolds = 1e-6
)

// The perturbations keep two edges from meeting in one corner exactly, where the simplex could go round in circles; the next
// one is for when it does all the same.
var perturbations = [...]float64{1e-11, 1e-9, 1e-8}

var errProgramme = errors.New("plan: a linear programme could not be solved")

// solve gives the best x. Infeasible (ok false): the equations and bounds contradict each other.
//
// Upper bounds are brought in as rows only once they are passed: most never are, and a small programme is quick.
func (p *programme) solve() (x []float64, ok bool, err error) {
	in := make([]bool, len(p.cost))
	for _, i := range p.bound {
		in[i] = true
	}
	for {
		x, ok, err = p.solveBounded(p.bound)
		if err != nil || !ok {
			return x, ok, err
		}
		more := false
		for i, v := range x {
			if !in[i] && v > p.upper[i]+simplexWithin {
				p.bound, in[i], more = append(p.bound, i), true, true
			}
		}
		if !more {
			return x, true, nil
		}
	}
}

// solveBounded solves with the upper bounds of some variables.
//
// Every row gets a column of its own, an artificial one at a high price, or the slack of an upper bound. These make the rows
// independent and a first basis to start from, so that the simplex never has to look for one; more columns than rows follows.
func (p *programme) solveBounded(bound []int) (x []float64, ok bool, err error) {
	var free []int
	for _, i := range bound {
		if p.upper[i] < p.lower[i]-simplexWithin {
			return nil, false, nil
		}
		if !p.fixed(i) {
			free = append(free, i)
		}
	}
	bound = free
	used := p.usedColumns(bound)
	m, n := len(p.rows)+len(bound), len(used)
	a := mat.NewDense(m, n+m, nil)
	b, c, basis := make([]float64, m), make([]float64, n+m), make([]int, m)
	for j, col := range used {
		c[j] = p.cost[col]
	}
	for i := range m {
		p.fillRow(i, bound, used, a, b)
		basis[i] = n + i
		if i < len(p.rows) {
			c[n+i] = artificialCost
		}
	}
	if !finite(a.RawMatrix().Data) || !finite(b) || !finite(c) {
		return nil, false, errProgramme // the simplex would go on for ever
	}
	y, err := perturbed(c, a, b, basis)
	if y == nil {
		return nil, false, errProgramme
	}
	x = append([]float64(nil), p.lower...)
	for j, col := range used {
		x[col] += max(0, y[j])
	}
	return x, p.holds(x), p.judge(err, x)
}

// perturbed runs the simplex, with a larger perturbation where it does not come to an end.
func perturbed(c []float64, a *mat.Dense, b []float64, basis []int) (y []float64, err error) {
	moved := make([]float64, len(b))
	for _, size := range perturbations {
		for i := range b {
			moved[i] = b[i] + size*(1+math.Mod(float64(i+1)*0.6180339887498949, 1))
		}
		if y, err = boundedSimplex(c, a, moved, basis); y != nil && err == nil {
			return y, nil
		}
	}
	return y, err
}

// boundedSimplex is the simplex, stopped when it has looked at more columns than an honest run needs.
func boundedSimplex(c []float64, a *mat.Dense, b []float64, basis []int) (y []float64, err error) {
	m, n := a.Dims()
	counted := &countedMatrix{dense: a, left: 3*m*n + 40*(m+n)*m}
	defer func() {
		if r := recover(); r == errEndless {
			y, err = nil, errProgramme
		} else if r != nil {
			panic(r)
		}
	}()
	_, y, err = lp.Simplex(c, counted, b, simplexWithin, basis)
	return y, err
}

// errEndless stops a simplex that goes round in circles: the library has no other way out.
var errEndless = errors.New("plan: endless simplex")

// countedMatrix counts how often it is looked at; every step of the simplex reads one column.
type countedMatrix struct {
	dense *mat.Dense
	left  int
}

func (m *countedMatrix) Dims() (r, c int) { return m.dense.Dims() }
func (m *countedMatrix) T() mat.Matrix    { return mat.Transpose{Matrix: m} }
func (m *countedMatrix) At(i, j int) float64 {
	if m.left--; m.left < 0 {
		panic(errEndless)
	}
	return m.dense.At(i, j)
}

// judge lets a simplex that stopped for want of accuracy pass if what it has is a solution.
func (p *programme) judge(err error, x []float64) error {
	if err != nil && !p.holds(x) {
		return errProgramme
	}
	return nil
}

// reached are the variables that lie at their upper bounds: the next programme, much like this one, begins with them.
func (p *programme) reached(x []float64) (at []int) {
	for i, v := range x {
		if v > p.upper[i]-simplexWithin {
			at = append(at, i)
		}
	}
	return at
}

// fixed tells that a variable can have one value only.
func (p *programme) fixed(i int) bool { return p.upper[i] <= p.lower[i]+simplexWithin*1e-3 }

// usedColumns are those that stand in some row: the simplex takes no others, and they are best left at their lower bound, where
// fixed ones have to be.
func (p *programme) usedColumns(bound []int) (used []int) {
	in := make([]bool, len(p.cost))
	for _, r := range p.rows {
		for j, v := range r {
			in[j] = in[j] || v != 0
		}
	}
	for _, j := range bound {
		in[j] = true
	}
	for j := range in {
		if in[j] && !p.fixed(j) {
			used = append(used, j)
		}
	}
	return used
}

// fillRow writes equation i, turned so that its right-hand side is positive, shifted by the lower bounds.
func (p *programme) fillRow(i int, bound, used []int, a *mat.Dense, b []float64) {
	n := len(used)
	a.Set(i, n+i, 1)
	if i >= len(p.rows) {
		k := bound[i-len(p.rows)]
		for j, col := range used {
			if col == k {
				a.Set(i, j, 1)
			}
		}
		b[i] = max(0, p.upper[k]-p.lower[k])
		return
	}
	rhs := p.rhs[i]
	for j, v := range p.rows[i] {
		rhs -= v * p.lower[j]
	}
	sign := 1.0
	if rhs < 0 {
		sign = -1
	}
	for j, col := range used {
		if col < len(p.rows[i]) {
			a.Set(i, j, sign*p.rows[i][col])
		}
	}
	b[i] = sign * rhs
}

// holds tells whether x meets the equations and the lower bounds.
func (p *programme) holds(x []float64) bool {
	for i, r := range p.rows {
		sum, scale := -p.rhs[i], math.Abs(p.rhs[i])
		for j, v := range r {
			sum += v * x[j]
			scale = max(scale, math.Abs(v*x[j]))
		}
		if !(math.Abs(sum) <= equationHolds*max(1, scale)) {
			return false
		}
	}
	return true
}

// value is the cost of x.
func (p *programme) value(x []float64) (sum float64) {
	for i, c := range p.cost {
		sum += c * x[i]
	}
	return sum
}

func finite(all []float64) bool {
	for _, x := range all {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
