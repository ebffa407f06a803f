package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// fallOff carries the run over the edge of a rest: for an instant the waters go on with the flows they have, and the bodies
// follow the fall of their energy to where they rest then. No water moves between spaces on the way. In free motion, where the stages of
// no step converge over a jump in what drives a body or a flow, the bodies go on as they go; so no more than a step may err is left to that.
func (r *Run) fallOff() Step {
	r.edges++
	h := math.Min(r.untilBrim(), r.shortest()*math.Pow(2, float64(min(r.edges, longestCreep))))
	h = math.Min(h, r.set.Until-r.now.time)
	if r.free() {
		h = math.Min(h, r.set.Tolerance*math.Sqrt(r.size/hydro.Gravity))
	}
	if r.edges > mostEdges {
		r.giveUp(StepTooSmall, "")
		return Step{Time: r.now.time, Limit: ByStability, Events: r.events}
	}
	r.creep(h)
	r.drift(h)
	if r.rests() {
		r.fallToRest()
	}
	r.settleAfterFall()
	r.stats.Steps++
	r.stats.Limits[ByStability]++
	r.affect()
	return Step{Time: r.now.time, Length: h, Limit: ByStability, Events: r.events}
}

// How often in a row a fall may lead nowhere before the run is given up, and how often its creep doubles.
const (
	mostEdges    = 60
	longestCreep = 12
	mostFlat     = 30 // falls in a row that found no rest
)

// untilBrim is half the time that the present flows need to fill or empty the first space, s.
func (r *Run) untilBrim() float64 {
	least := math.Inf(1)
	clear(r.from)
	r.addFlows(r.from, r.now.rate, 1)
	for i := range r.spaces {
		switch left := r.spaces[i].capacity - r.now.water[i]; {
		case r.from[i] > 0 && left > 0:
			least = math.Min(least, left/r.from[i]/2)
		case r.from[i] < 0 && r.now.water[i] > 0:
			least = math.Min(least, -r.now.water[i]/r.from[i]/2)
		}
	}
	return math.Min(math.Max(least, r.shortest()), r.untilPressed())
}

// untilPressed is how long the present flows may go on until the first pressure of an air has changed by a hundredth of the
// hull's length of water, s.
func (r *Run) untilPressed() float64 {
	least := math.Inf(1)
	clear(r.fromAir)
	r.addAir(r.fromAir, r.now.rate, r.now.gust, 1)
	for i, gain := range r.fromAir {
		if gain != 0 {
			least = math.Min(least, 0.01*r.size*r.weight/(r.stiffness(i, &r.now)*math.Abs(gain)))
		}
	}
	return least
}

// creep moves the waters by the flows they have for a very short time.
func (r *Run) creep(h float64) {
	for j := range r.crossed {
		r.crossed[j], r.blown[j] = h*r.now.rate[j], h*r.now.gust[j]
	}
	copy(r.next.press, r.now.press)
	r.moveWaters()
	r.moveAirs()
	r.accountFor()
	copy(r.now.water, r.next.water)
	copy(r.now.excess, r.next.excess)
	r.now.time += h
}

// fallToRest lets every body down to its next rest, and notes what it went through.
func (r *Run) fallToRest() {
	for k := range r.bodies {
		b := &r.bodies[k]
		if b.gone {
			continue
		}
		start := r.now.pose[k]
		rest := r.fall(k)
		if rest.Sunk {
			r.founder(k, r.now.time)
			continue
		}
		if !rest.Stable {
			if r.room(k) <= plungeShare*b.Form.Volume() {
				continue
			}
			if r.edges >= mostFlat {
				r.giveUp(NoRest, b.Name)
			}
			continue // the energy may be level to rounding, as of a box where its loll ends: a little more water tilts it
		}
		r.now.pose[k] = rest.Pose
		if turned(rest.Pose, start) > farFromRest {
			r.edges = 0
			r.note(LostStability, b.Name, b.Name, r.now.time)
			r.notePassed(k)
		}
		r.passed[k] = passage{}
	}
}

// passage is what a body went through on its way down.
type passage struct{ capsized, vertical bool }

// passing watches a falling body.
func (r *Run) passing(k int, p compartment.Pose) {
	if p.Up.Z < 0 && !p.Steep() {
		r.passed[k].capsized = true
	}
	if p.Up.Z*r.upSide[k] < -upright && p.Steep() {
		r.passed[k].vertical = true
	}
}

// notePassed puts down what a body went through in a fall.
func (r *Run) notePassed(k int) {
	if r.passed[k].capsized {
		r.capsize(k, r.now.time)
	}
	if r.passed[k].vertical {
		r.passVertical(k, r.now.time)
	}
}

// settleAfterFall finds the flows in the new poses; things that are so now happen at this instant.
func (r *Run) settleAfterFall() {
	if r.ended != Running {
		return
	}
	r.restart()
}

// sinkAtOnce lets bodies founder that have no rest: they can displace less than their mass and floodwater. What is so from then on
// happens at the same instant: with that flow over, all that is left may have come to rest.
func (r *Run) sinkAtOnce() Step {
	for k := range r.bodies {
		if r.failedStart || r.rests() && !r.bodies[k].gone && r.room(k) < plungeShare*r.bodies[k].Form.Volume() {
			r.founder(k, r.now.time)
		}
	}
	r.failedStart = false
	if r.ended == Running {
		r.restart()
		r.affect()
	} else {
		r.sampleNow(true)
	}
	return Step{Time: r.now.time, Limit: ByStability, Events: r.events}
}
