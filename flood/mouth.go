package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// When the mouth of an airtight space goes under, what stays in it, and when it comes up.

// brow is the height along up of the highest point of a space's mouths.
func (r *Run) brow(sp *space, up r3.Vec) float64 {
	high := math.Inf(-1)
	for f := range sp.faces {
		high = math.Max(high, r3.Dot(up, sp.faces[f].Figure.Highest(up)))
	}
	return high
}

// mouthValue passes zero when an airtight space that stands at sea level becomes a bell: its mouth has gone under, and there is air
// over it; or, of a bell, when its mouth has come out of the water, by a little more, and its air has come under the atmosphere.
func (r *Run) mouthValue(i int, s *state) float64 {
	sp := &r.spaces[i]
	out := (r.brow(sp, s.pose[sp.body].Up) - s.pose[sp.body].Sea) / r.size
	switch {
	case r.bodies[sp.body].gone:
		return -1
	case sp.airless:
		return out - comesUp
	case sp.bell:
		return math.Min(out-comesUp, comesUp/100-math.Abs(s.press[i])/(r.weight*r.size))
	}
	return math.Min(-out, 1-r.surfaceOf(sp).Volume/sp.capacity-reopensShare)
}

// comesUp is how far a mouth that was under has to come out of the water, as a share of the hull's length, so that nothing chatters.
const comesUp = 1e-3

// turnMouth makes a bell of what stood at sea level, with the air over that, or the other way round.
func (r *Run) turnMouth(i int) {
	sp := &r.spaces[i]
	if sp.bell {
		r.unseal(i)
	} else {
		r.seal(i, r.now.pose[sp.body])
	}
	r.rewire()
}

// seal makes a bell of a space that stands at sea level in a pose: the air in it, at one atmosphere, stays.
func (r *Run) seal(i int, p compartment.Pose) {
	sp := &r.spaces[i]
	below := sp.Room.Below(solid.Plane{N: p.Up, D: p.Sea})
	air := math.Max(0, sp.capacity-sp.Fraction*below.Volume)
	sp.open, sp.bell = false, true
	r.now.excess[i], r.now.press[i] = air-sp.capacity, 0
	r.bodies[sp.body].floater.Bell(sp.local, air)
	r.airBook.pass(air)
}

// unseal lets a bell stand at sea level; its air is the outside's.
func (r *Run) unseal(i int) {
	sp := &r.spaces[i]
	r.airBook.pass(-r.bellAir(i, &r.now)) // of one without air, none
	sp.open, sp.bell, sp.airless = true, false, false
	r.now.excess[i], r.now.press[i] = 0, 0
	r.bodies[sp.body].floater.Open(sp.local, true)
}

// pass enters an amount that came in, or went out, at once.
func (l *ledger) pass(volume float64) {
	l.crossed += math.Abs(volume)
	l.enter(volume)
}

// fall lets a body down from where it lies to its next rest, the waters running to their levels in every pose on the way. Nothing
// passes an opening meanwhile; but a bell whose mouth turns out of the water on the way loses what air is then over its brow. Where
// spaces standing at sea level leave no rest, those keep their air whose mouths go under on the way.
func (r *Run) fall(k int) compartment.Rest {
	start, floater := r.now.pose[k], r.bodies[k].floater
	r.passed[k] = passage{}
	rest := r.fallWhile(k, start, r.spills, r.spill)
	if rest.Stable || !r.gapes(k) || floater.Room(r.loadBody(k, &r.now)) <= 0 {
		return rest
	}
	r.passed[k] = passage{}
	return r.fallWhile(k, start, r.drowns, r.drown)
}

// fallWhile is one way down: where happens tells that something happens to a space of the body, act lets it.
func (r *Run) fallWhile(k int, from compartment.Pose, happens func(i int, p compartment.Pose) bool, act func(i int, p compartment.Pose)) (rest compartment.Rest) {
	b := &r.bodies[k]
	for range mostSpills {
		r.stats.PoseSolves++
		rest = b.floater.SettleWhile(from, r.loadBody(k, &r.now), compartment.FallStride, func(p compartment.Pose) bool {
			r.passing(k, p)
			for _, g := range b.spaces {
				if happens(g, p) {
					return false
				}
			}
			return true
		})
		if !rest.Stopped {
			break
		}
		for _, g := range b.spaces {
			if happens(g, rest.Pose) {
				act(g, rest.Pose)
			}
		}
		from = rest.Pose
	}
	r.rewire()
	return rest
}

// mostSpills is how often air may leave on one way down.
const mostSpills = 1000

// gapes tells whether a body has an airtight space that stands at sea level.
func (r *Run) gapes(k int) bool {
	for _, g := range r.bodies[k].spaces {
		if r.spaces[g].open && r.spaces[g].Airtight {
			return true
		}
	}
	return false
}

// spills tells whether the brow of a bell stands over its level, or over the sea, by more than a little.
func (r *Run) spills(i int, p compartment.Pose) bool {
	sp := &r.spaces[i]
	level := r.surfaceOf(sp).Level
	if sp.airless { // full, whatever stands over the sea
		level = p.Sea
	}
	return sp.bell && r.brow(sp, p.Up)-math.Min(p.Sea, level) > comesUp/10*r.size
}

// spill lets the air of a bell under its brow out: all of it where that is out of the water, else what the water up to it leaves no
// room for, under the pressure there.
func (r *Run) spill(i int, p compartment.Pose) {
	sp := &r.spaces[i]
	brow := r.brow(sp, p.Up)
	if brow >= p.Sea {
		r.unseal(i)
		return
	}
	room := sp.capacity - sp.Fraction*sp.Room.Below(solid.Plane{N: p.Up, D: brow}).Volume
	left := room * (1 + r.weight*(p.Sea-brow)/hydro.Atmosphere)
	if gone := r.bellAir(i, &r.now) - left; gone > 0 {
		r.airBook.pass(-gone)
		r.now.excess[i] -= gone
	}
}

// drowns tells whether the mouth of a space that stands at sea level has gone under on the way down, with air over it.
func (r *Run) drowns(i int, p compartment.Pose) bool {
	sp := &r.spaces[i]
	return sp.open && sp.Airtight && r.brow(sp, p.Up) < p.Sea && r.surfaceOf(sp).Volume < (1-reopensShare)*sp.capacity || r.spills(i, p)
}

// drown keeps the air of such a space.
func (r *Run) drown(i int, p compartment.Pose) {
	if r.spaces[i].bell {
		r.spill(i, p)
		return
	}
	r.seal(i, p)
}
