package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

// watch is something that may happen: it does when its value passes zero from below.
type watch struct {
	kind   watchKind
	index  int  // of the space, bulkhead, body or trigger that it is about
	cuts   bool // a step ends there; else it is only noted
	on     bool // the value is positive already
	before float64
	after  float64
	slack  float64 // how far below zero counts as reached

	airtight bool // it is about a space's own air
}

// watchKind is what is watched.
type watchKind int

// In the order in which things at one instant happen.
const (
	watchFilled watchKind = iota
	watchGasp
	watchOvertopped
	watchDeckEdge
	watchCapsized
	watchPastVertical
	watchFoundered
	watchTouched
	watchLies
	watchUnstable
	watchBroke
	watchTrim
	watchUnder
	watchEmerged
	watchStrain
	watchMouth
	watchQuiet
)

// startWatches lays out what is watched, in the order in which things at one instant happen: states, then openings, each
// in the order of the file.
func (r *Run) startWatches() {
	add := func(kind watchKind, index int, cuts bool, slack float64) {
		airtight := (kind == watchFilled || kind == watchGasp) && r.spaces[index].gas >= 0
		r.watch = append(r.watch, watch{kind: kind, index: index, cuts: cuts, slack: slack, airtight: airtight})
	}
	for i := range r.spaces {
		if sp := &r.spaces[i]; sp.open || sp.bell {
			if sp.Airtight {
				add(watchFilled, i, true, r.fillSlack(i))
				add(watchGasp, i, true, 1e-10)
				add(watchMouth, i, true, 1e-10)
			}
			continue
		}
		add(watchFilled, i, true, r.fillSlack(i))
		if r.spaces[i].gas >= 0 {
			add(watchGasp, i, true, 1e-10)
		}
	}
	for i, b := range r.vessel.Bulkheads {
		if b.Passage >= 0 {
			add(watchOvertopped, i, true, 1e-9)
		}
	}
	for k := range r.bodies {
		add(watchDeckEdge, k, true, 1e-9)
		add(watchCapsized, k, true, 1e-9)
		add(watchPastVertical, k, true, 1e-9)
		if r.set.Motion != Held { // clamped under water is not sunk
			add(watchFoundered, k, true, 1e-9)
		}
		if r.free() {
			add(watchTouched, k, true, 1e-9)
			add(watchLies, k, true, 1e-3)
			add(watchUnstable, k, true, 1e-9)
		}
	}
	for j := range r.ports {
		if r.set.Menisci == Dry && r.ports[j].Pump == 0 {
			add(watchBroke, j, true, 1e-10)
		}
	}
	for i, t := range r.triggers {
		if t.condition.Trim != nil {
			add(watchTrim, i, true, 1e-10)
		}
		if t.condition.Wet != nil {
			add(watchUnder, i, true, 1e-10)
			add(watchEmerged, i, true, 1e-10)
		}
	}
	for i := range r.joints {
		add(watchStrain, i, true, 1e-9)
	}
	add(watchQuiet, 0, true, 1e-3)
}

// survey brings the waters to rest in a state's poses and takes every watch's value there as its value after.
func (r *Run) survey(s *state) {
	r.settleWaters(s)
	r.bear(s)
	for i := range r.watch {
		w := &r.watch[i]
		w.after = r.value(w, s)
	}
}

// mark makes the values of the last survey those at the start of the next step.
func (r *Run) mark() {
	for i := range r.watch {
		w := &r.watch[i]
		w.before = w.after
		w.on = w.on && w.before >= -w.rearm() || w.before >= 0
	}
}

// rearm is how far below zero a value has to fall before the thing can happen again, so that nothing chatters.
func (w *watch) rearm() float64 {
	switch w.kind {
	case watchFilled, watchGasp:
		if w.airtight {
			return 0
		}
		return 1e-3
	case watchOvertopped:
		return 1e-3
	case watchDeckEdge, watchUnder, watchEmerged:
		return 1e-6
	}
	return 0
}

// settleWaters finds the levels of all waters for a state.
func (r *Run) settleWaters(s *state) {
	for k := range r.bodies {
		floater := r.bodies[k].floater
		floater.Levels(s.pose[k].Up, r.loadBody(k, s))
		floater.LetIn(s.pose[k])
		r.readBells(k, s)
	}
}

// value is what a watch looks at. The waters must have been settled in the state.
func (r *Run) value(w *watch, s *state) float64 {
	switch w.kind {
	case watchFilled:
		return r.fillValue(w, s)
	case watchGasp:
		return r.gaspValue(w.index, s)
	case watchOvertopped:
		j := r.portOf(r.vessel.Bulkheads[w.index].Passage)
		if p := &r.ports[j]; !p.open || p.held { // the sea stands on both sides, or the body has gone; or what stands over it is held
			return -1
		}
		return r.edgeExcess(j, s) / r.size
	case watchBroke:
		return r.breakValue(w.index, s)
	case watchTrim, watchUnder, watchEmerged:
		return r.triggerValue(w, s)
	case watchMouth:
		return r.mouthValue(w.index, s)
	case watchStrain:
		return r.strainValue(w.index, s)
	case watchQuiet:
		return r.quiet(s)
	}
	b, p := &r.bodies[w.index], s.pose[w.index]
	if b.gone || r.sunk(w) {
		return -1
	}
	steep := math.Abs(p.Up.X) - sin60
	switch w.kind {
	case watchDeckEdge:
		return -b.Freeboard(p) / r.size
	case watchCapsized:
		return math.Min(-p.Up.Z, -steep)
	case watchPastVertical:
		return math.Min(-p.Up.Z*r.upSide[w.index]-upright, steep)
	case watchTouched:
		return r.touchValue(w.index, s)
	case watchLies:
		return r.lieValue(w.index, s)
	case watchUnstable:
		return -r.softness(w.index, s)
	default: // watchFoundered
		return r.founderValue(w.index, s)
	}
}

const sin60 = 0.86602540378443864676

// upright is by how much a body on end may have turned beyond the vertical and stand on it still: rounding leans either way.
const upright = 1e-9

// fillValue passes zero when the water of a space reaches its highest point. What is more than it holds counts too, beyond
// what the stages may leave: a space that was less than half full has no head above that point.
func (r *Run) fillValue(w *watch, s *state) float64 {
	sp := &r.spaces[w.index]
	if sp.gas >= 0 {
		return r.airGone(w.index, s)
	}
	if over := s.water[w.index]/sp.capacity - 1 - 10*iterationShare*r.set.Tolerance; over > 0 {
		return over
	}
	head, _ := r.head(w.index, s)
	high := r.bodies[sp.body].floater.Surfaces()[sp.local].High
	return math.Max(-1, (head-high)/r.size)
}

// edgeExcess is how far the higher water beside an opening stands over its lowest point, m.
func (r *Run) edgeExcess(j int, s *state) float64 {
	p := &r.ports[j]
	up := s.pose[p.body].Up
	p.look(up)
	return math.Max(r.headBeside(p, p.From, s), r.headBeside(p, p.To, s)) - p.view.Low
}

// headBeside is the head on one side of a port, m above the origin along up.
func (r *Run) headBeside(p *port, of int, s *state) float64 {
	if of == compartment.Outside {
		return s.pose[p.body].Sea
	}
	head, _ := r.head(of, s)
	return head
}

// quietShare of the hull's volume a second is the flow under which nothing is said to move any more.
const quietShare = 1e-8

// quiet is the logarithm of how far the largest flow lies under the quiet one, between −30 and 30; held back while something is
// still to open or shut by itself.
func (r *Run) quiet(s *state) float64 {
	if !math.IsInf(r.nextScheduled(), 1) {
		return -1
	}
	calm := math.Inf(1)
	for k := range r.bodies {
		if !r.bodies[k].gone {
			calm = math.Min(calm, r.quietOf(k, s))
		}
	}
	return math.Max(-30, math.Min(30, calm))
}

// quietOf is the same of one body, whatever is still to happen.
func (r *Run) quietOf(k int, s *state) float64 {
	calm := r.ebbOf(k, s)
	if r.free() {
		calm = math.Min(calm, r.calmOf(k, s))
	}
	return calm
}

// ebbOf is the logarithm of how far the largest flow of a body lies under the quiet one, however the body moves.
func (r *Run) ebbOf(k int, s *state) float64 {
	largest := 0.0
	for j := range r.ports {
		if r.ports[j].body == k {
			largest = math.Max(largest, math.Max(r.felt(j, s.rate[j]), r.feltAir(j, s.gust[j])))
		}
	}
	return math.Log(r.quietFlow() / largest)
}

// restsAlone tells whether a body has come to rest though the run has not: nothing flows in it any more, and nothing of it is still to
// open, shut or part by itself.
func (r *Run) restsAlone(k int) bool {
	for i := range r.triggers {
		t := &r.triggers[i]
		if t.spent || math.IsInf(t.due, 1) {
			continue
		}
		if body, _ := r.triggerPlace(t); body == k {
			return false
		}
	}
	return r.quietOf(k, &r.now) >= 0
}

// felt is the size of a port's flow beyond what the rounding of the heads on its sides makes: over a wide edge between level
// waters that alone can be more than the quiet flow, to and fro for ever.
func (r *Run) felt(j int, rate float64) float64 {
	p := &r.ports[j]
	rounding := headRounding * r.size * math.Max(math.Abs(p.water.byA), math.Abs(p.water.byB))
	return math.Max(0, math.Abs(rate)-rounding)
}

// feltAir is the same for air.
func (r *Run) feltAir(j int, gust float64) float64 {
	p := &r.ports[j]
	rounding := headRounding * r.size * r.weight * math.Max(math.Abs(p.air.pushA), math.Abs(p.air.pushB))
	return math.Max(0, math.Abs(gust)-rounding)
}

// headRounding is how well the heads are known, as a share of the hull's length: levels are found to about 1e-11 of the lesser
// volume and mostly better, and 1e-13 of the length was seen where a hull lies keel up and two spaces are one under its deck.
const headRounding = 1e-12

// quietFlow is the flow, m³/s, under which nothing is said to move any more.
func (r *Run) quietFlow() float64 { return quietShare * r.vessel.Whole.Form.Volume() }

// firstCrossing finds which of the watches that cut a step passes zero first, by the step's interpolant, and at what share
// of the step; −1: none does. Those that are only noted are put down with their times.
func (r *Run) firstCrossing(h float64) (x float64, hit int) {
	x, hit = 1, -1
	for i := range r.watch {
		w := &r.watch[i]
		if !w.cuts || w.on || w.after < 0 {
			continue
		}
		if at := r.crossing(w, h); hit < 0 || at < x {
			x, hit = at, i
		}
	}
	return x, hit
}

// crossing finds where a watch's value passes zero on the interpolant: regula falsi in the Illinois variant.
func (r *Run) crossing(w *watch, h float64) float64 {
	lo, hi, flo, fhi := 0.0, 1.0, w.before, w.after
	if math.IsInf(flo, 0) {
		flo = -1
	}
	side := 0
	for range 60 {
		x := (lo*fhi - hi*flo) / (fhi - flo)
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		r.interpolate(x, h, &r.between)
		r.settleWaters(&r.between)
		if w.kind == watchStrain {
			r.bear(&r.between)
		}
		f := r.value(w, &r.between)
		if f >= 0 {
			hi, fhi = x, f
			if side == 1 {
				flo /= 2
			}
			side = 1
		} else {
			lo, flo = x, f
			if side == -1 {
				fhi /= 2
			}
			side = -1
		}
		if hi-lo < 1e-12 || f >= 0 && f <= w.slack {
			break
		}
	}
	return hi
}
