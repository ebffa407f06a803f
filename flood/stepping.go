package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

// Step does one step, in this order:
//
//  1. choose   its length, the least of what error, growth, schedule and stability allow
//  2. attempt  its stages, shorter where they do not converge or the error is too large
//  3. cut      it to the first thing that happens in it
//  4. commit   waters, ledger, margins, samples
//  5. affect   the run by what happened, after which the flows are found anew
//
// Where no length will do, the body is about to lose its rest, and falls to the next one.
func (r *Run) Step() Step {
	r.events = r.events[:0]
	if r.failedStart || r.plunged() {
		return r.sinkAtOnce()
	}
	if r.stats.Steps+r.stats.Rejected > mostAttempts {
		r.giveUp(TooManySteps, "")
		return Step{Time: r.now.time, Limit: ByIteration, Events: r.events}
	}
	if r.creeps() {
		r.giveUp(Creeping, r.culprit())
		return Step{Time: r.now.time, Limit: ByIteration, Events: r.events}
	}
	r.chooseUnknowns()
	if r.startled > 0 {
		if step, ok := r.instant(); ok {
			return step
		}
	}
	h, limit := r.choose()
	h, limit, ok := r.shorten(h, limit, r.leastUsual())
	if !ok && r.airtight && limit != ByStability { // an instant helps an air to its balance, and no body to its rest
		r.length = 0
		if step, ok := r.instant(); ok {
			return step
		}
		h, limit, ok = r.shorten(h, limit, 0)
	}
	if !ok {
		return r.fallOff()
	}
	h, limit = r.cut(h, limit)
	r.commit(h)
	r.edges = 0
	r.stats.Limits[limit]++
	r.affect()
	return Step{Time: r.now.time, Length: h, Limit: limit, Events: r.events}
}

// mostAttempts is how many steps a run may try: a hundred times what a run of three hundred spaces takes.
const mostAttempts = 500_000

// choose is the length that the last step proposes, cut to what stands in its way.
func (r *Run) choose() (h float64, limit Limit) {
	h, limit = r.length, r.limit
	left := r.set.Until - r.now.time
	if t := r.nextScheduled() - r.now.time; t < h*1.001 {
		h, limit = t, ByEvent
	} else if t < 2*h {
		h = t / 2
	}
	if left < h*1.001 {
		h, limit = left, ByEnd
	}
	if t := math.Min(0.9*r.roomLasts(), r.leaning()); t < h {
		h, limit = t, ByStability
	}
	return h, limit
}

// roomLasts is how long the reserve of buoyancy lasts at the present flows, s.
func (r *Run) roomLasts() float64 {
	least := math.Inf(1)
	if !r.rests() {
		return least
	}
	for k := range r.bodies {
		if r.bodies[k].gone {
			continue
		}
		if gain := r.inflow(k, r.now.rate); gain > 0 {
			least = math.Min(least, r.room(k)/gain)
		}
	}
	return least
}

// inflow is what a body takes in from outside, m³/s.
func (r *Run) inflow(k int, rate []float64) float64 {
	sum := 0.0
	for j := range r.ports {
		if p := &r.ports[j]; p.body != k {
			continue
		} else if p.fromWater == compartment.Outside && p.toWater != compartment.Outside {
			sum += rate[j]
		} else if p.toWater == compartment.Outside && p.fromWater != compartment.Outside {
			sum -= rate[j]
		}
	}
	return sum
}

// room is what a body could displace beyond what it must now, m³.
func (r *Run) room(k int) float64 {
	return r.bodies[k].floater.Room(r.loadBody(k, &r.now))
}

// plungeShare of a body's volume is the reserve of buoyancy at which it is taken to have none.
const plungeShare = 1e-9

// plunged tells that a body has no rest left.
func (r *Run) plunged() bool {
	if !r.rests() {
		return false
	}
	for k := range r.bodies {
		if !r.bodies[k].gone && r.room(k) < plungeShare*r.bodies[k].Form.Volume() {
			return true
		}
	}
	return false
}

// shorten attempts the step until its stages converge and its error is small enough. ok is false where even the shortest
// one loses its rest, or where stages do not converge in one shorter than least.
func (r *Run) shorten(h float64, limit Limit, least float64) (float64, Limit, bool) {
	for again := false; ; again = true {
		err, v := r.attempt(h)
		if v == found && err <= 1 {
			err = math.Max(err, math.Max(r.ebbError(h), r.leanError(h)))
		}
		if v == found && err <= 1 {
			r.propose(h, err, again)
			return h, limit, true
		}
		if math.IsNaN(err) {
			v = astray
		}
		r.stats.Rejected++
		r.blameMover()
		switch {
		case v == found:
			h, limit = h*shorter(err, again), ByError
		case v == lostRest:
			h, limit = h/4, ByStability
		default:
			h, limit = h/4, ByIteration
			r.wary = waryFor
			r.bent = firstBent
			r.hasPast = false
		}
		if h < r.shortest() && (v == lostRest || !r.airtight) || h < r.shortestOfAir() || v == astray && h < least {
			return h, limit, false
		}
	}
}

// shorter is by how much to shorten a step that erred too much: by the order of the method. Refused again, it has the beginning of
// a flow in it, or a bend of its law, before which the order is lower, and by the method's it would creep there.
func shorter(err float64, again bool) float64 {
	if again {
		return math.Max(0.1, math.Min(0.5, 0.9/math.Sqrt(err)))
	}
	return math.Max(0.1, 0.9*math.Pow(err, -1.0/stagesOrder))
}

// stagesOrder is the order of the method.
const stagesOrder = 4

// shortest is the length below which a step that does not converge is taken to stand at the edge of its rest: a millionth
// of the time in which something falls the hull's length.
func (r *Run) shortest() float64 {
	return math.Max(1e-6*math.Sqrt(r.size/9.8), 1e-13*r.now.time)
}

// shortestOfAir is that length where it is not a rest that stands in the way, but trapped air that has to find its balance: a
// bubble does in microseconds.
func (r *Run) shortestOfAir() float64 {
	if !r.airtight {
		return r.shortest()
	}
	return math.Max(1e-7*r.shortest(), 1e-14*r.now.time)
}

// propose sets the next step's length from this one's error; again: a longer one was refused. In a swing the next would be as well.
func (r *Run) propose(h, err float64, again bool) {
	f := 0.9 * math.Pow(math.Max(err, 1e-12), -1.0/stagesOrder)
	if again && r.free() {
		f = math.Min(f, 1)
	}
	r.length, r.limit = h*f, ByError
	most := longestGrowth
	if r.wary > 0 && r.free() {
		r.wary--
		most = waryGrowth
	}
	if f > most {
		r.length, r.limit = h*most, ByGrowth
	}
}

// A step is at most so many times its predecessor; in free motion at most waryGrowth times for some steps after one whose stages
// did not converge: on the floor the next one as long would not either.
const (
	longestGrowth = 4.0
	waryGrowth    = 1.15
	waryFor       = 8
)

// cut ends the step where the first of the things happens that a step may not pass: where the interpolant has it, then by
// regula falsi over the step's own ends until the thing is reached, and hardly passed.
func (r *Run) cut(h float64, limit Limit) (float64, Limit) {
	r.surveyStep()
	x, hit := r.firstCrossing(h)
	if r.hit = hit; hit < 0 {
		return h, limit
	}
	w := &r.watch[hit]
	r.blameWatch(w)
	short, below, long, beyond := 0.0, w.before, h, w.after
	at, last := x*h, 0
	for range maxCuts {
		r.stats.Rejected++
		if _, v := r.attempt(at); v != found {
			at = short + (at-short)/2
			continue
		}
		r.surveyStep()
		switch {
		case w.after < -w.slack:
			short, below = at, w.after
			if last < 0 {
				beyond /= 2 // Illinois: the end that stays loses weight
			}
			last = -1
		case w.after > math.Max(2*w.slack, 1e-3*r.set.Tolerance) && at > short*(1+1e-12):
			long, beyond = at, w.after
			if last > 0 {
				below /= 2
			}
			last = 1
		default:
			return at, ByEvent
		}
		if at = short + (long-short)*below/(below-beyond); !(at > short && at < long) {
			at = (short + long) / 2
		}
	}
	r.attempt(long) // reached for sure
	r.surveyStep()
	return long, ByEvent
}

// surveyStep surveys the step's end. A space that was full in one of its stages has filled, whatever the end says: a step that
// passes the jump of a flow may end with the water just at the brim again, and that would be taken for the event.
func (r *Run) surveyStep() {
	r.survey(&r.next)
	for i := range r.watch {
		w := &r.watch[i]
		if w.kind == watchFilled && !w.on && r.peak[w.index] > peakShare*r.set.Tolerance {
			w.after = math.Max(w.after, r.peak[w.index])
		}
	}
}

// peakShare of the tolerance is a head over the highest point, as a share of the hull's length, that is more than the stages'
// iterations leave.
const peakShare = 0.1

const maxCuts = 40
