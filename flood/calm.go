package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// balanceAirs puts the pressure of every air that would find its balance in no time, as a bubble of a millionth of a space beside
// a wide opening does, where that is: at it as much air enters as keeps it while the water goes its way. A step's first stage
// takes the flows as they come, and no step could be short enough for those of such a bubble out of balance. The airs so balanced
// are marked quick; the search for the flows then finds their pressures more exactly.
func (r *Run) balanceAirs(s *state) {
	if !r.airtight {
		return
	}
	for i := range r.spaces {
		r.spaces[i].quick = false
	}
	for range 20 {
		moved := 0.0
		for i := range r.spaces {
			if sp := &r.spaces[i]; sp.holdsAir() && sp.capacity-r.now.water[i] < bubbleShare*sp.capacity {
				moved = math.Max(moved, r.balanceAir(i, s))
			}
		}
		if moved < 1e-3*r.weight*r.size {
			return
		}
	}
}

// bubbleShare of a space is the most that such a bubble may be: what goes between two large spaces through a wide door would pass
// in no time too, but it has to be followed.
const bubbleShare = 1e-5

// inNoTime is a share of the time in which something falls the hull's length.
const inNoTime = 1e-4

// balanceAir does that for one space, and returns by how much the pressure changed, Pa.
func (r *Run) balanceAir(i int, s *state) (moved float64) {
	sp := &r.spaces[i]
	before, room := s.press[i], sp.capacity-r.now.water[i]
	gain := r.crowdAt(i, before, s)
	if gain == 0 {
		s.press[i] = before
		return 0
	}
	after := r.calmPressure(i, gain, s)
	need := (after - before) * room / hydro.Atmosphere // of air or water, to change the pressure
	if !sp.quick && math.Abs(need) > math.Abs(gain)*inNoTime*math.Sqrt(r.size/hydro.Gravity) {
		s.press[i] = before
		return 0
	}
	sp.quick, s.press[i] = true, after
	return math.Abs(after - before)
}

// fetchAirs brings in what the balanced pressures need.
func (r *Run) fetchAirs(s *state) {
	for i := range r.spaces {
		if sp := &r.spaces[i]; sp.quick {
			r.fetch(i, s.press[i]/hydro.Atmosphere*(sp.capacity-r.now.water[i])-r.now.excess[i], s)
			sp.quick = false
		}
	}
}

// calmPressure is the pressure at which the inflow of air and water into a space vanishes; it falls as the pressure rises.
func (r *Run) calmPressure(i int, gain float64, s *state) float64 {
	before := s.press[i]
	near, sign := before, math.Copysign(1, gain)
	for step := 1e-6 * r.weight * r.size; ; step *= 2 {
		far := math.Max(near+sign*step, -0.9*hydro.Atmosphere)
		if r.crowdAt(i, far, s)*sign > 0 && far > -0.9*hydro.Atmosphere && far < 100*hydro.Atmosphere {
			near = far
			continue
		}
		for range 100 {
			middle := near + (far-near)/2
			if r.crowdAt(i, middle, s)*sign > 0 {
				near = middle
			} else {
				far = middle
			}
		}
		return far
	}
}

// crowdAt is the air that flows into a space at a pressure of its air beyond what keeps that as it is while the water takes or
// leaves room, m³/s at one atmosphere.
func (r *Run) crowdAt(i int, press float64, s *state) (sum float64) {
	s.press[i] = press
	for j := range r.ports {
		if p := &r.ports[j]; p.open && (p.From == i || p.To == i) {
			sum += p.sign(i) * ((1+press/hydro.Atmosphere)*r.plainFlow(p, s) + r.plainAir(p, s))
		}
	}
	return sum
}

// sign is 1 where a port's flow enters space i, −1 where it leaves it.
func (p *port) sign(i int) float64 {
	if p.To == i {
		return 1
	}
	return -1
}

// fetch brings a little air, or water, into space i in the accounts of the present, by the way that most of it takes among those
// that lead to where none is short of it. Between spaces that both wait for theirs it counts as air from outside: it is what
// passes in no time through a bubble of a millionth of a space.
func (r *Run) fetch(i int, volume float64, s *state) {
	other, most, air := compartment.Outside, 0.0, true
	for j := range r.ports {
		p := &r.ports[j]
		if !p.open || p.From != i && p.To != i || r.trapped(p.From+p.To-i) {
			continue
		}
		if q := math.Abs(r.plainAir(p, s)); q > most {
			other, most, air = p.From+p.To-i, q, true
		}
		if q := math.Abs(r.plainFlow(p, s)); q > most {
			other, most, air = p.From+p.To-i, q, false
		}
	}
	r.now.excess[i] += volume
	if air {
		r.airBook.crossed += math.Abs(volume)
		r.airBook.enter(volume)
		return
	}
	r.book.crossed += math.Abs(volume)
	r.now.water[i] += volume
	if other == compartment.Outside {
		r.book.enter(volume)
		return
	}
	r.now.water[other] -= volume
}
