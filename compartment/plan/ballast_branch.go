package plan

import (
	"context"
	"math"
)

// branching looks for the best solution in whole multiples of the steps, depth first: each programme without that demand
// bounds what its branches can reach.
type branching struct {
	gap   float64 // a branch that could gain less than this is left out
	most  int     // programmes to solve at most
	count int
	best  []float64
	cost  float64
	cut   bool // it stopped at most, and a better one might be left
}

// wholly solves a programme in whole multiples. nil: there is none.
func (p *programme) wholly(ctx context.Context, gap float64, most int) (*branching, error) {
	b := &branching{gap: gap, most: most, cost: math.Inf(1)}
	lower, upper := append([]float64(nil), p.lower...), append([]float64(nil), p.upper...)
	err := b.branch(ctx, p)
	p.lower, p.upper = lower, upper
	if err != nil {
		return nil, err
	}
	return b, nil
}

// branch solves one programme and, where a multiple is broken, the two either side of it, the nearer one first.
func (b *branching) branch(ctx context.Context, p *programme) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if b.count++; b.count > b.most {
		b.cut = true
		return nil
	}
	kept := p.bound
	defer func() { p.bound = kept }()
	x, ok, err := p.solve()
	if err != nil || !ok {
		return nil // contradictory bounds, or ones that rounding makes so: nothing to be had in this branch
	}
	cost := p.value(x)
	if cost >= b.cost-b.gap {
		return nil
	}
	k, part := p.mostBroken(x)
	if k < 0 {
		b.best, b.cost = p.rounded(x), cost
		return nil
	}
	down := math.Floor(x[k]/p.step[k]) * p.step[k]
	sides := []bool{part < 0.5, part >= 0.5}
	for _, low := range sides {
		lower, upper := p.lower[k], p.upper[k]
		if low {
			p.upper[k] = down
		} else {
			p.lower[k] = down + p.step[k]
		}
		err := b.branch(ctx, p)
		p.lower[k], p.upper[k] = lower, upper
		if err != nil {
			return err
		}
	}
	return nil
}

// wholeWithin is how near to a whole multiple counts as one: a piece is some 1e-4 of the scale, the simplex good to 1e-8.
const wholeWithin = 1e-4

// mostBroken is the variable that is farthest from a whole multiple, and how far over one it is; −1: none is.
func (p *programme) mostBroken(x []float64) (k int, part float64) {
	k = -1
	worst := wholeWithin
	for i, step := range p.step {
		if step == 0 {
			continue
		}
		f := x[i]/step - math.Floor(x[i]/step)
		if d := min(f, 1-f); d > worst {
			k, part, worst = i, f, d
		}
	}
	return k, part
}

// rounded puts the multiples exactly.
func (p *programme) rounded(x []float64) []float64 {
	for i, step := range p.step {
		if step > 0 {
			x[i] = math.Round(x[i]/step) * step
		}
	}
	return x
}
