package plan

import (
	"context"
	"math"
	"slices"
)

// Rounds are a sequence of linear programmes within a trust region (Nocedal and Wright, Numerical Optimization, chapters 4 and
// 18; from memory): an answer is taken if the merit, by the true balances, falls by a fair share of what the programme said,
// and the stride shrinks where it does not. Without that, rounds swing for ever about a hull whose stability has a hollow.
const (
	mostRounds  = 80
	leastStride = 1e-4
	leastGain   = 1e-5 // of merit, where 1 is the whole hull's displacement in ballast
	fairShare   = 0.1  // of the gain, to go at all
	goodShare   = 0.4  // to dare a longer stride
)

// rounds goes on until no stride gains anything.
func (p *planner) rounds(ctx context.Context) error {
	r := p.newRound()
	cost, missing := r.merit()
	stride := 1.0
	var failed error
	solved := false
	for k := 0; k < mostRounds && stride > leastStride; k++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		r.limit(stride)
		r.bound = append(r.bound[:0], p.bound...)
		x, ok, err := r.solve()
		if err == nil && !ok {
			err = errProgramme // soft wishes can always be met somehow
		}
		if failed = err; err != nil { // rounding: another stride is another programme
			stride /= 2
			continue
		}
		solved = true
		p.bound = r.reached(x)
		hoped := cost - r.value(x) - r.tangent
		if hoped < leastGain {
			break
		}
		back := p.position()
		p.accept(r, x)
		next := p.newRound()
		c, m := next.merit()
		share := (cost - c) / hoped
		switch {
		case share >= goodShare || math.IsInf(cost, 1):
			stride = min(1, 2*stride)
		case share < fairShare || math.IsNaN(share):
			p.goBack(back)
			stride /= 2
			continue
		}
		r, cost, missing = next, c, m
	}
	if !solved {
		return failed
	}
	p.missing = missing
	for _, a := range p.bodies {
		a.weigh(p.cells, p.masses)
	}
	return nil
}

// position is what a round changes.
type position struct {
	masses []float64
	bodies []afloat
}

func (p *planner) position() position {
	at := position{masses: slices.Clone(p.masses)}
	for _, a := range p.bodies {
		at.bodies = append(at.bodies, afloat{pose: a.pose, balance: a.balance})
	}
	return at
}

func (p *planner) goBack(at position) {
	copy(p.masses, at.masses)
	for k, a := range p.bodies {
		a.pose, a.balance = at.bodies[k].pose, at.bodies[k].balance
	}
}

// accept takes a programme's answer over.
func (p *planner) accept(r *round, x []float64) {
	for i := range p.cells {
		p.masses[i] = max(0, x[i]) * p.scale
	}
	for k, a := range p.bodies {
		move := r.moves[k]
		var d [3]float64
		for i := range d {
			d[i] = x[move[i][0]] - x[move[i][1]]
		}
		a.pose = a.pose.Turned(a.balance.Pitch, a.balance.Roll, d[0], d[1], d[2]*a.length)
	}
}

// keep lets only those cells be used that are in use.
func (p *planner) keep() {
	p.kept = make([]bool, len(p.cells))
	for i := range p.kept {
		p.kept[i] = p.masses[i] > 1e-9*p.scale
	}
}
