package flood

import (
	"math"

	"github.com/byhead/byhead/hydro"
)

// After a jump the air of a small bubble, or of a space behind a wide opening, may be out of its balance with the flows, and find
// it in a millionth of a second or in far less: a space of which a millionth is air, beside an open top, in 1e-8 s. The first
// stage of a step takes the flows as they come and would need steps as short as that. So the first instants after a jump are
// steps of the implicit Euler method, which lands on the balance however far it is, and so short that no water moves by more
// than a step may err.

// instants is how many there are after a jump: each leaves of what was out of balance only the share of the air's own time in it.
const instants = 2

// startle asks for instants where there is an air out of its balance.
func (r *Run) startle() {
	if r.airtight && r.unbalanced(r.instantLength()) {
		r.startled = instants
	}
}

// instantLength is how long an instant may be: no water gains more than a step may err.
func (r *Run) instantLength() float64 {
	h := math.Sqrt(r.size/hydro.Gravity) * r.set.Tolerance
	h = math.Min(h, math.Min(r.nextScheduled(), r.set.Until)-r.now.time)
	clear(r.from)
	r.addFlows(r.from, r.now.rate, 1)
	for i, gain := range r.from {
		if gain != 0 {
			h = math.Min(h, errorShare*r.set.Tolerance*r.spaces[i].capacity/math.Abs(gain))
		}
	}
	return h
}

// leastUsual is the length from which on an instant is tried where the stages of a usual step do not converge.
func (r *Run) leastUsual() float64 {
	if !r.airtight {
		return 0
	}
	return r.instantLength()
}

// unbalanced tells whether there is an air of which the present flows, going on for so long, would change the pressure by much,
// and which yields before.
func (r *Run) unbalanced(h float64) bool {
	clear(r.fromAir)
	r.addAir(r.fromAir, r.now.rate, r.now.gust, h)
	for i := range r.spaces {
		if r.spaces[i].holdsAir() && math.Abs(r.fromAir[i])*r.stiffness(i, &r.now) > r.set.Tolerance*r.weight*r.size && r.yields(i, h) {
			return true
		}
	}
	return false
}

// stiffness is by how much the pressure of a space's air rises with it, Pa/m³.
func (r *Run) stiffness(i int, s *state) float64 {
	if sp := &r.spaces[i]; sp.bell {
		return -r.weight * r.levelByAir(sp)
	}
	return hydro.Atmosphere / (r.spaces[i].capacity - s.water[i])
}

// yields tells whether the flows of a space's air follow its pressure faster than in a time h, as they were last evaluated.
func (r *Run) yields(i int, h float64) bool {
	return h*r.yield(i)*r.stiffness(i, &r.now) > 1
}

// yield is how much less flows into a space the higher the pressure of its air, m³/s/Pa.
func (r *Run) yield(i int) (sum float64) {
	for j := range r.ports {
		if p := &r.ports[j]; p.open && p.From == i {
			sum += math.Abs(p.air.pushA) + math.Abs(p.water.pushA)
		} else if p.open && p.To == i {
			sum += math.Abs(p.air.pushB) + math.Abs(p.water.pushB)
		}
	}
	return sum
}

// instant does one of them; ok is false where no length will do.
func (r *Run) instant() (step Step, ok bool) {
	r.startled = max(0, r.startled-1)
	for h := r.instantLength(); h > 1e-6*r.shortest(); h /= 8 {
		if r.euler(h) {
			r.surveyStep()
			r.commit(h)
			r.hasPast = false
			r.lengthAfter(h)
			r.stats.Limits[ByEvent]++
			r.affect()
			return Step{Time: r.now.time, Length: h, Limit: ByEvent, Events: r.events}, true
		}
		r.stats.Rejected++
		r.blameMover()
	}
	r.startled = 0
	r.lengthAfter(math.Inf(1))
	return Step{}, false
}

// lengthAfter sets the length of the step after an instant: as it was proposed before, or found anew after a jump; no more than so
// many times the instant's.
func (r *Run) lengthAfter(h float64) {
	if r.length == 0 {
		r.length = r.firstLength()
	}
	r.length, r.limit = math.Min(r.length, 1e4*h), ByEvent
}

// euler tries a step of length h by the implicit Euler method, from the pressures at which the airs would be in balance.
func (r *Run) euler(h float64) bool {
	s := &r.trial[1]
	r.mover = -1
	s.copyFrom(&r.now)
	s.time = r.now.time + h
	r.beginMotion()
	r.baseMotion(0, h)
	if !r.weigh(s) {
		return false
	}
	r.balanceAirs(h, s)
	r.driven(s)
	copy(r.from, r.now.water)
	copy(r.fromAir, r.now.excess)
	if r.solve(h, r.from, s) != found {
		return false
	}
	r.accountMotion(1, h, s)
	r.next.copyFrom(s)
	for j := range r.crossed {
		r.crossed[j], r.blown[j] = h*s.rate[j], h*s.gust[j]
	}
	clear(r.peak)
	r.moveWaters()
	r.moveAirs()
	r.land(1)
	return true
}

// balanceAirs seeks the pressures which the airs would have after an instant, one after the other, for a first guess.
func (r *Run) balanceAirs(h float64, s *state) {
	for range 20 {
		moved := 0.0
		for i := range r.spaces {
			if sp := &r.spaces[i]; sp.holdsAir() && !sp.bell {
				before := s.press[i]
				s.press[i] = r.calmPressure(i, h, s)
				moved = math.Max(moved, math.Abs(s.press[i]-before))
			}
		}
		if moved < 1e-3*r.weight*r.size {
			return
		}
	}
}

// calmPressure is the pressure of a space's air after an instant.
func (r *Run) calmPressure(i int, h float64, s *state) float64 {
	room := r.spaces[i].capacity - r.now.water[i]
	return r.balanced(s.press[i], func(press float64) float64 {
		return r.now.excess[i] + h*r.crowdAt(i, press, s) - press/hydro.Atmosphere*room
	})
}

// balanced is the pressure near a first one at which a surplus that falls as it rises vanishes, within what air can have.
func (r *Run) balanced(near float64, surplus func(press float64) float64) float64 {
	first := surplus(near)
	if first == 0 {
		return near
	}
	sign := math.Copysign(1, first)
	for step := 1e-6 * r.weight * r.size; ; step *= 2 {
		far := math.Max(near+sign*step, -0.9*hydro.Atmosphere)
		if surplus(far)*sign > 0 && far > -0.9*hydro.Atmosphere && far < 100*hydro.Atmosphere {
			near = far
			continue
		}
		for range 60 {
			middle := near + (far-near)/2
			if surplus(middle)*sign > 0 {
				near = middle
			} else {
				far = middle
			}
		}
		return far
	}
}

// crowdAt is what flows into a space at a pressure of its air, water and air, m³/s at one atmosphere.
func (r *Run) crowdAt(i int, press float64, s *state) (sum float64) {
	s.press[i] = press
	for j := range r.ports {
		if p := &r.ports[j]; p.open && p.beside(i) {
			water := r.plainFlow(p, s)
			if r.spaces[i].bell { // whose water is the sea's
				water = 0
			}
			sum += p.sign(i) * (water + r.plainAir(p, s))
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
