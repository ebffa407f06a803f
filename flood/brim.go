package flood

import (
	"math"
)

// balanceBrims finds the heads of the full spaces at which what flows in flows out, with all else as it is: space by space,
// since the inflow of each falls as its own head rises, until none moves any more. A space whose inflow falls short even at
// the brim is only just full, and is pinned there.
func (r *Run) balanceBrims(s *state) {
	for range maxSweeps {
		moved := 0.0
		for i := range r.spaces {
			sp := &r.spaces[i]
			if !sp.byHead {
				continue
			}
			before := s.head[i]
			s.head[i], sp.pinned = r.brimHead(i, s)
			moved = math.Max(moved, math.Abs(s.head[i]-before))
		}
		if moved < 1e-13*r.size {
			return
		}
	}
}

const maxSweeps = 200

// brimHead is the head at which the inflow of a full space vanishes, by regula falsi in the Illinois variant; pinned: it does
// not even flow in at the brim.
func (r *Run) brimHead(i int, s *state) (head float64, pinned bool) {
	sp := &r.spaces[i]
	brim := r.bodies[sp.body].floater.Surfaces()[sp.local].High
	lo, flo := brim, r.inflowAt(i, brim, s)
	if flo < 0 {
		return brim, true
	}
	if flo == 0 {
		return math.Max(brim, s.head[i]), false // no open way, or nothing moves: it keeps what it had
	}
	hi, fhi := lo, flo
	for step := 0.01 * r.size; fhi > 0; step *= 2 {
		if step > 1e6*r.size {
			return s.head[i], false // it can only fill: a pump into a closed space
		}
		hi = lo + step
		fhi = r.inflowAt(i, hi, s)
	}
	side := 0
	for range 200 {
		x := (lo*fhi - hi*flo) / (fhi - flo)
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		f := r.inflowAt(i, x, s)
		if f == 0 || hi-lo < 1e-15*r.size {
			return x, false
		}
		if f > 0 {
			lo, flo = x, f
			if side > 0 {
				fhi /= 2
			}
			side = 1
		} else {
			hi, fhi = x, f
			if side < 0 {
				flo /= 2
			}
			side = -1
		}
	}
	return (lo + hi) / 2, false
}

// inflowAt is what flows into a space at a head of it, m³/s.
func (r *Run) inflowAt(i int, head float64, s *state) float64 {
	s.head[i] = head
	sum := 0.0
	for j := range r.ports {
		p := &r.ports[j]
		if !p.open || p.From != i && p.To != i {
			continue
		}
		if q := r.plainFlow(p, s); p.To == i {
			sum += q
		} else {
			sum -= q
		}
	}
	return sum
}

// plainFlow is a port's flow at the present heads.
func (r *Run) plainFlow(p *port, s *state) float64 {
	b := &r.bodies[p.body]
	p.look(b.balance.Pose.Up)
	if p.Pump != 0 {
		r.pump(p, s)
		return p.flow
	}
	r.flowEvaluations++
	from, to := r.side(p.From, b, s), r.side(p.To, b, s)
	return p.law.Water(&p.view, &r.vessel.Water, from, to).Rate
}
