package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// stillness is the speed, m/s, under which nothing of a hull is said to move any more.
const stillness = 1e-4

// wreckStillness is that under which a hull that has foundered is said to lie on the floor: it rocks there for long, without
// friction, and nothing hangs on it.
const wreckStillness = 2e-3

// calmOf is the logarithm of how far the fastest point of a body lies under stillness, in its swing: a body at the turning
// point of one has no speed, but it has an acceleration.
func (r *Run) calmOf(k int, s *state) float64 {
	b := &r.bodies[k]
	fastest := func(rate compartment.Pose) float64 {
		return math.Abs(r3.Dot(rate.Up, b.KeelMiddle)-rate.Sea) + r3.Norm(rate.Up)*b.floater.Length()
	}
	return math.Log(stillness / math.Max(fastest(s.turning[k]), r.beat(b)*fastest(s.hastening[k])))
}

// founderValue passes zero when the last of a body goes under. In free motion it must also be too heavy to come up again: a
// section that falls over may be under water for a moment.
func (r *Run) founderValue(k int, s *state) float64 {
	b, p := &r.bodies[k], s.pose[k]
	_, high := b.Form.Reach(p.Up)
	under := (p.Sea - high) / r.size
	if !r.free() {
		return under
	}
	return math.Min(under, -b.floater.Room(r.loadBody(k, s))/b.Form.Volume())
}

// sinksOn tells whether bodies that have foundered go on to the floor.
func (r *Run) sinksOn() bool { return r.free() && !math.IsInf(r.vessel.Depth, 1) }

// touchValue passes zero when a body reaches the floor.
func (r *Run) touchValue(k int, s *state) float64 {
	if math.IsInf(r.vessel.Depth, 1) {
		return -1
	}
	low, _ := r.bodies[k].Form.Reach(s.pose[k].Up)
	return (s.pose[k].Sea - low - r.vessel.Depth) / r.size
}

// touch puts down that a body has reached the floor.
func (r *Run) touch(k int, time float64) {
	if !r.sections[k].touched {
		r.sections[k].touched = true
		r.note(TouchedBottom, r.bodies[k].Name, r.bodies[k].Name, time)
	}
}

// lieValue passes zero when a body that has foundered lies still on the floor.
func (r *Run) lieValue(k int, s *state) float64 {
	if math.IsNaN(r.sections[k].foundered) || r.touchValue(k, s) < -giveShare {
		return -30
	}
	return math.Max(-30, r.calmOf(k, s)+math.Log(wreckStillness/stillness))
}

// aground tells whether the floor bears a body.
func (r *Run) aground(k int) bool { return r.free() && r.bodies[k].mover.begun.Pressed > 0 }

// softness is the least stiffness of a body in a state.
func (r *Run) softness(k int, s *state) float64 {
	b := &r.bodies[k]
	if b.balance.Pose != s.pose[k] {
		b.floater.Balance(s.pose[k], r.loadBody(k, s), &b.balance)
		b.soft = b.floater.Stiffness(&b.balance)
	}
	return b.soft
}

// leanRate is how fast, rad/s, a body begins to heel to starboard that has lost its stability with nothing to tell it whereto.
const leanRate = 1e-6

// lean sets a body off to starboard where it stands upright, or on end, in a pose that it does not hold any more.
func (r *Run) lean(k int) bool {
	if r.onTheFloor(k, &r.now) {
		return false
	}
	p, v := r.now.pose[k], &r.now.turning[k]
	if math.Abs(p.Up.Y) > leanRate || math.Abs(v.Up.Y) > leanRate/2 { // as it does that was set off a moment ago
		return false
	}
	side := r3.Vec{Y: leanRate}
	v.Up = r3.Add(v.Up, r3.Sub(side, r3.Scale(r3.Dot(side, p.Up), p.Up)))
	return true
}

// sunk tells whether a watch is about how a body floats that has foundered and is on its way to the floor.
func (r *Run) sunk(w *watch) bool {
	switch w.kind {
	case watchDeckEdge, watchCapsized, watchPastVertical, watchUnstable:
		return !math.IsNaN(r.sections[w.index].foundered)
	}
	return false
}

// leaning is how long a step may be while a body stands where it does not hold itself: half the time in which it leaves by a
// factor of e. A longer one would let the method damp away what really grows.
func (r *Run) leaning() float64 {
	least := math.Inf(1)
	if !r.free() {
		return least
	}
	for k := range r.bodies {
		least = math.Min(least, r.leans(k, &r.now))
	}
	return least
}

// leans is that time of one body in a state; infinite: it holds itself.
func (r *Run) leans(k int, s *state) float64 {
	b := &r.bodies[k]
	if b.gone || b.soft >= 0 || r.onTheFloor(k, s) {
		return math.Inf(1)
	}
	return 0.5 * math.Sqrt(b.floater.Length()/(hydro.Gravity*-b.soft))
}

// leanError is how much longer an attempted step is, as a power of the order, than one may be at its end, while a body that stands upright is
// about to leave: in the step in which it ceases to hold itself its start says nothing of that, and what it leaves by is far less than a step
// may err by.
func (r *Run) leanError(h float64) (worst float64) {
	if !r.free() {
		return 0
	}
	for k := range r.bodies {
		if math.Abs(r.next.pose[k].Up.Y) < hardlyLeans {
			worst = math.Max(worst, math.Pow(h/(leanGrowth*r.leans(k, &r.next)), stagesOrder))
		}
	}
	return worst
}

// hardlyLeans is what leans by less, rad, has hardly begun to; and a step may be so many times too long at its end.
const (
	hardlyLeans = 1e-3
	leanGrowth  = 1.5
)

// overFloor is a rest of a body, or the same attitude with its lowest point just on the floor of a pool that is less deep.
func (r *Run) overFloor(k int, rest compartment.Pose) compartment.Pose {
	if low, _ := r.bodies[k].Form.Reach(rest.Up); r.free() && rest.Sea-low > r.vessel.Depth {
		rest.Sea = low + r.vessel.Depth
	}
	return rest
}

// onTheFloor tells whether the floor bears a body in free motion, or will: what joints bear is not known there, since the floor's
// force is no part of the loads, and nothing hangs on it.
func (r *Run) onTheFloor(k int, s *state) bool {
	return r.free() && (!math.IsNaN(r.sections[k].foundered) || r.onIt(k, s))
}

// onIt tells whether a body reaches down to the floor, or stands just on it, as one does that starts there: see overFloor.
func (r *Run) onIt(k int, s *state) bool { return r.free() && r.touchValue(k, s) > -touchRounding }

// touchRounding is how well the height over the floor is known, as a share of the size.
const touchRounding = 1e-12
