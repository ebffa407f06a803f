package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// An airtight space whose own boundary a parting has cut stands at sea level, under the atmosphere, while its mouth reaches out of
// the water. Where that lies wholly under water what air is in it stays: it is a diving bell. Its water belongs to the sea, passes
// the wide mouth without resistance and stands where the pressures balance, in every pose (compartment.Floater.Bell): no time passes
// for it, and no account is kept of it. What a bell has of its own is its air, the unknown of a stage, from which with the pose level
// and pressure follow. It comes and goes by the openings, and over the upper edge of the mouth where that stands over the level
// inside.

// newMouth is a port by which the air of a bell leaves over the upper edge of its mouth: the law of a cut face, for air only.
func (r *Run) newMouth(i int, face *compartment.CutFace) port {
	p := port{
		Passage: &compartment.Passage{Name: r.spaces[i].Name, From: i, To: compartment.Outside, Figure: face.Figure, Law: face.Law, Bulkhead: -1, Joint: -1},
		passage: cutFace, body: r.spaces[i].body, centre: face.Figure.Centre(), wants: true, mouth: true,
		seen: r3.Vec{X: math.NaN()}, least: r.spaces[i].capacity, upper: noSide,
	}
	p.sides = [2]int{i, compartment.Outside}
	p.vesselsLaw(r.vessel.Air.Density)
	return p
}

// addMouths makes the mouths of all airtight spaces that are cut open.
func (r *Run) addMouths() {
	for i := range r.spaces {
		if sp := &r.spaces[i]; sp.Airtight {
			for f := range sp.faces {
				r.addPort(r.newMouth(i, &sp.faces[f]))
				r.menisci = append(r.menisci, meniscus{})
			}
		}
	}
}

// rewire says of every port what it leads to now: a space that stands at sea level is the outside, and the water of a bell is the
// sea's. What leads nowhere is shut as long as it does.
func (r *Run) rewire() {
	for j := range r.ports {
		p := &r.ports[j]
		if from, to := r.orSea(p.sides[0]), r.orSea(p.sides[1]); from != p.From || to != p.To {
			p.From, p.To = from, to // of a copy: what a parting leaves alone leads where it did
		}
		p.fromWater, p.toWater = r.waterOf(p.From), r.waterOf(p.To)
		p.breathes = p.From >= 0 && r.spaces[p.From].Airtight || p.To >= 0 && r.spaces[p.To].Airtight
		if p.open = p.wants && !p.leadsNowhere() && !r.bodies[p.body].gone; !p.open {
			r.now.rate[j], r.now.speed[j], r.now.gust[j], r.now.blow[j] = 0, 0, 0, 0
		}
	}
}

// waterOf is whose water it is that stands in a space: the sea's in a bell.
func (r *Run) waterOf(i int) int {
	if i >= 0 && r.spaces[i].bell {
		return compartment.Outside
	}
	return i
}

// loadBody fills a body's scratch with what each space holds in a state: its water, or of a bell its air.
func (r *Run) loadBody(k int, s *state) []float64 {
	b := &r.bodies[k]
	for i, g := range b.spaces {
		b.water[i] = r.heldIn(g, s)
	}
	return b.water
}

// heldIn is what a space holds in a state, as the stages weigh it: one that is full is so to the last drop, though what was let go of, or
// what the iterations left, is not in its water. A body with hardly any reserve of buoyancy has a rest by the one and none by the other.
func (r *Run) heldIn(i int, s *state) float64 {
	sp := &r.spaces[i]
	switch {
	case sp.bell:
		return r.bellAir(i, s)
	case sp.airless, sp.brimmed && sp.byHead && s.water[i] >= reopens*sp.capacity && s.head[i] >= r.surfaceOf(sp).High:
		return sp.capacity
	}
	return s.water[i]
}

// bellAir is the air in a bell, m³ at one atmosphere.
func (r *Run) bellAir(i int, s *state) float64 { return s.excess[i] + r.spaces[i].capacity }

// readBells takes the pressures of a body's bells over into a state in whose pose they have been let in.
func (r *Run) readBells(k int, s *state) {
	b := &r.bodies[k]
	for i, g := range b.spaces {
		if r.spaces[g].bell {
			s.press[g] = r.weight * b.floater.Surfaces()[i].Gauge
		}
	}
}

// roomOf is the room for the air of a space, m³.
func (r *Run) roomOf(i int, s *state) float64 {
	sp := &r.spaces[i]
	if sp.bell {
		return math.Max(sp.capacity-r.surfaceOf(sp).Volume, 1e-12*sp.capacity)
	}
	return sp.capacity - s.water[i]
}

func (r *Run) surfaceOf(sp *space) *compartment.Surface {
	return &r.bodies[sp.body].floater.Surfaces()[sp.local]
}

// levelByAir is how the level in a bell changes with its air in a pose that stays, m/m³ at one atmosphere: from q = d − h and Boyle's
// law. The pressure changes by the opposite.
func (r *Run) levelByAir(sp *space) float64 {
	s := r.surfaceOf(sp)
	room := math.Max(sp.capacity-s.Volume, 1e-12*sp.capacity)
	if sp.airless {
		return 0
	}
	return -s.Yield * hydro.Atmosphere / (r.weight * room)
}

// enterBell puts the air of a bell into its equation: what there was and what flows in. Of one that stands at sea level there is none.
func (r *Run) enterBell(i int, s *state) {
	e, sp := &r.eq, &r.spaces[i]
	e.spaces.add(sp.gas, sp.gas, 1)
	if e.rest[sp.gas] = 0; sp.bell && !sp.airless {
		e.rest[sp.gas] = r.fromAir[i] - s.excess[i]
	}
}

// enterBellLevel puts coefficient × (change of a bell's level over a place) into an equation, and enterBellPressure coefficient × that
// of its pressure. The level follows the sea by the bell's yield, and for the rest stays in its place in the body; the pressure is
// what is between.
func (r *Run) enterBellLevel(sp *space, row int, place r3.Vec, coefficient float64) {
	s, yield := r.surfaceOf(sp), r.yieldOf(sp)
	r.eq.spaces.add(row, sp.gas, coefficient*r.levelByAir(sp))
	r.enterPose(sp.body, row, r3.Sub(r3.Scale(1-yield, s.Centre), place), yield, coefficient)
}

func (r *Run) enterBellPressure(sp *space, row int, coefficient float64) {
	s := r.surfaceOf(sp)
	r.eq.spaces.add(row, sp.gas, -coefficient*r.weight*r.levelByAir(sp))
	r.enterPose(sp.body, row, r3.Scale(s.Yield-1, s.Centre), 1-s.Yield, coefficient*r.weight)
}

// yieldOf is by how much the level of a bell follows the sea's; the head of one without air does all the way.
func (r *Run) yieldOf(sp *space) float64 {
	if sp.airless {
		return 1
	}
	return r.surfaceOf(sp).Yield
}

// enterPose puts coefficient × (arm · change of up + rise × change of the sea) into an equation.
func (r *Run) enterPose(k, row int, arm r3.Vec, rise, coefficient float64) {
	if r.set.Motion == Held {
		return
	}
	e, b := &r.eq, &r.bodies[k]
	e.column[3*k][row] += coefficient * r3.Dot(arm, b.balance.Pitch)
	e.column[3*k+1][row] += coefficient * r3.Dot(arm, b.balance.Roll)
	e.column[3*k+2][row] += coefficient * rise
}

// bellChange is how a bell's level over a place, and its pressure, change by the whole solution.
func (r *Run) bellChange(sp *space, place r3.Vec, hg float64) (c sideChange) {
	s, e, k := r.surfaceOf(sp), &r.eq, 3*sp.body
	b := &r.bodies[sp.body].balance
	turn := func(arm r3.Vec) float64 {
		return e.turn[k]*r3.Dot(arm, b.Pitch) + e.turn[k+1]*r3.Dot(arm, b.Roll)
	}
	level, whole := r.levelByAir(sp)*e.rest[sp.gas], 1/e.share
	c.pressBack = -hg * r.weight * r.levelByAir(sp)
	if r.set.Motion == Held {
		c.level, c.press = whole*level, -whole*r.weight*level
		return c
	}
	sea, yield := e.turn[k+2], r.yieldOf(sp)
	level += (1-yield)*turn(s.Centre) + yield*sea
	c.level, c.press = whole*(level-turn(place)), whole*r.weight*(sea-level)
	return c
}

// applyToBell moves the air of a bell, and returns the size of that: a share of the space, however little air there is, since the
// pressure hardly follows it.
func (r *Run) applyToBell(i int, s *state) (size float64) {
	sp := &r.spaces[i]
	if sp.airless {
		return 0
	}
	air := r.bellAir(i, s)
	gain := r.eq.rest[sp.gas]
	s.excess[i] += math.Max(gain, -(1-leastRoom)*math.Max(0, air))
	return math.Abs(gain) / sp.capacity
}

// guessBells takes for a stage's airs in bells what there was and what flowed in the stage before.
func (r *Run) guessBells(i int, h float64, s *state) {
	for g := range r.spaces {
		sp := &r.spaces[g]
		if !sp.bell {
			continue
		}
		if s.excess[g] = r.fromAir[g]; sp.airless { // it has none, and keeps none
			continue
		}
		for j := range r.ports {
			if p := &r.ports[j]; p.open && p.beside(g) {
				s.excess[g] += diagonal * h * p.sign(g) * r.gusts[i-1][j]
			}
		}
		s.excess[g] = math.Max(s.excess[g], leastRoom*r.bellAir(g, &r.now)-r.spaces[g].capacity)
	}
}

// drain sets the air of a bell, m³ at one atmosphere.
func (r *Run) drain(i int, air float64) {
	sp := &r.spaces[i]
	r.now.excess[i] = air - sp.capacity
	r.bodies[sp.body].floater.Bell(sp.local, air)
}

// gaspBell gives a bell without any its first air again, from the other side of an opening.
func (r *Run) gaspBell(i, other int) bool {
	sp := &r.spaces[i]
	gauge := r.now.pose[sp.body].Sea - r.surfaceOf(sp).High
	air := reopensShare * sp.capacity * (1 + r.weight*gauge/hydro.Atmosphere)
	if r.airBook.crossed += air; r.hardlyFeels(other, air) {
		r.now.excess[other] -= air
	} else {
		r.airBook.enter(air)
	}
	r.drain(i, air)
	r.now.press[i] = r.weight * gauge
	sp.airless, sp.lostAt = false, reopensShare/2
	sp.vain, sp.gasped = sp.vain+1, r.now.time
	return true
}

// bellGrowth is the air that would come into a bell without any if it had a bubble; as a share of the space in the time in which
// something falls the hull's length.
func (r *Run) bellGrowth(i int, s *state) float64 {
	sp := &r.spaces[i]
	b, air := &r.bodies[sp.body], s.excess[i]
	pose, now := b.balance.Pose, s.press[i]
	for j := range r.ports {
		r.streams[2*j], r.streams[2*j+1] = r.ports[j].water, r.ports[j].air
	}
	b.balance.Pose = s.pose[sp.body]
	b.floater.Bell(sp.local, reopensShare*sp.capacity)
	b.floater.LetIn(b.balance.Pose)
	sp.airless = false
	sum := r.crowdAt(i, r.weight*r.surfaceOf(sp).Gauge, s)
	b.floater.Bell(sp.local, 0)
	b.floater.LetIn(b.balance.Pose)
	sp.airless, s.excess[i], s.press[i], b.balance.Pose = true, air, now, pose
	for j := range r.ports {
		r.ports[j].water, r.ports[j].air = r.streams[2*j], r.streams[2*j+1]
	}
	return sum / sp.capacity * math.Sqrt(r.size/hydro.Gravity)
}
