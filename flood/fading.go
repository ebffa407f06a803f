package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// Flows that fade with the last water or the last air of the space that they come from follow that water, not a level at some place: a
// film of water lies wherever its body heels to, and heels it.

// filmShare of a space's capacity is the film of water that leaves it ever more slowly: a hole at the lowest point would
// empty it in a finite time with an infinitely steep end, in which no step can be found.
const filmShare = 1e-9

// source is the side that a stream comes from.
func (p *port) source(t *stream) int {
	if t.flow < 0 {
		return p.To
	}
	return p.From
}

// fade lets the outflow of a space with no more than a film of water fade with that.
func (r *Run) fade(p *port, s *state) {
	t := &p.water
	source := p.source(t)
	if source == compartment.Outside || r.spaces[source].bell {
		return
	}
	sp := &r.spaces[source]
	film := filmShare * sp.capacity
	x := s.water[source] / film
	if sp.byHead || x >= 1 {
		return
	}
	flow := t.flow
	t.scale(max(0, x))
	if x > 0 { // of what a trial owes no more water brings a flow, and the tangent would go on with one that there was
		t.byWater, t.source = flow/film, source
	}
}

// fadeAir lets the last air of a space leave ever more slowly, so that a stage that looks beyond the loss of it has a state; so too the
// air that comes and goes freely, where water leaves it hardly any room: a space at its brim beside an airtight one would else be full
// and a vent of that by turns.
func (r *Run) fadeAir(p *port, s *state) {
	t := &p.air
	source := p.source(t)
	if source == compartment.Outside || r.spaces[source].open {
		return
	}
	sp := &r.spaces[source]
	film := sp.lostAt * sp.capacity
	x := r.roomOf(source, s) / film
	if x >= 1 {
		return
	}
	flow := t.flow
	p.fading = math.Max(0, x)
	t.scale(p.fading)
	t.byWater, t.source = -flow/film, source
}

// enterWater puts coefficient × (change of the water in a space) into an equation.
func (r *Run) enterWater(row, of int, coefficient float64) {
	sp := &r.spaces[of]
	if sp.airless {
		return
	}
	w := r.surfaceOf(sp)
	switch {
	case sp.bell:
		r.enterBellLevel(sp, row, w.Centre, coefficient*w.Area)
	case sp.byHead:
		r.eq.spaces.add(row, of, coefficient*w.Area)
		r.enterPose(sp.body, row, r3.Scale(-1, w.Centre), 0, coefficient*w.Area)
	default:
		r.eq.spaces.add(row, of, coefficient)
	}
}

// waterChange is how the water in the space that a stream fades with changes by the whole solution.
func (r *Run) waterChange(t *stream, hg float64) float64 {
	if t.byWater == 0 || r.spaces[t.source].airless {
		return 0
	}
	sp := &r.spaces[t.source]
	switch {
	case sp.bell:
		c := r.bellChange(sp, r.surfaceOf(sp).Centre, hg)
		return r.surfaceOf(sp).Area * c.level
	case sp.byHead:
		return r.gainByHead(t.source) / r.eq.share
	}
	return r.eq.rest[t.source] / r.eq.share
}
