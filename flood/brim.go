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
	if sp.airless {
		return r.airlessHead(i, s), false
	}
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
	return r.headBetween(i, lo, flo, hi, fhi, s), false
}

// airlessHead is the same for an airtight space without air, whose head may be anything while no air can enter. Where nothing
// flows over a range of heads, held back by menisci, it is the nearest end of that.
func (r *Run) airlessHead(i int, s *state) float64 {
	from := s.head[i]
	f := r.inflowAt(i, from, s)
	if f == 0 {
		return from
	}
	near, sign := from, math.Copysign(1, f)
	for step := 0.001 * r.size; step < 1e6*r.size; step *= 2 {
		far := near + sign*step
		if r.inflowAt(i, far, s)*sign > 0 {
			near = far
			continue
		}
		for range 200 {
			middle := near + (far-near)/2
			if r.inflowAt(i, middle, s)*sign > 0 {
				near = middle
			} else {
				far = middle
			}
		}
		return far
	}
	return from // it can only fill, or only empty
}

// headBetween is the head at which a space's inflow vanishes, which is not negative at lo and not positive at hi.
func (r *Run) headBetween(i int, lo, flo, hi, fhi float64, s *state) float64 {
	side := 0
	for range 200 {
		x := (lo*fhi - hi*flo) / (fhi - flo)
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		f := r.inflowAt(i, x, s)
		if f == 0 || hi-lo < 1e-15*r.size {
			return x
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
	return (lo + hi) / 2
}

// inflowAt is what flows into a space at a head of it, m³/s.
func (r *Run) inflowAt(i int, head float64, s *state) float64 {
	s.head[i] = head
	sum := 0.0
	for j := range r.ports {
		p := &r.ports[j]
		if !p.open || !p.beside(i) {
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
		return p.water.flow
	}
	r.flowEvaluations++
	from, to := r.side(p.From, b.balance.Pose.Sea, s), r.side(p.To, b.balance.Pose.Sea, s)
	p.water.still()
	if p.held || p.mouth {
		return 0
	}
	p.water.flow = p.waterThrough(&r.vessel.Water, from, to).Rate
	if p.breathes {
		r.exchange(p, from, to)
	}
	return p.water.flow
}

// plainAir is a port's flow of air, m³/s at one atmosphere, at the present pressures.
func (r *Run) plainAir(p *port, s *state) float64 {
	if !p.breathes || p.Pump != 0 {
		return 0
	}
	b := &r.bodies[p.body]
	from, to := r.side(p.From, b.balance.Pose.Sea, s), r.side(p.To, b.balance.Pose.Sea, s)
	p.air.still()
	if p.mouth {
		r.passMouth(p, from, to)
		return p.air.flow
	}
	p.air.flow = p.airThrough(&r.vessel.Water, &r.vessel.Air, from, to).Rate / r.vessel.Air.Density
	r.exchange(p, from, to)
	return p.air.flow
}
