package flood

import "math"

// FixedStep does one step of a given length, however large its error: shorter only where something happens in it, or is due
// by the clock. ok is false where its stages do not converge.
func (r *Run) FixedStep(h float64) (step Step, ok bool) {
	r.events = r.events[:0]
	r.chooseUnknowns()
	limit := ByGrowth
	if due := r.nextScheduled() - r.now.time; due <= h*(1+1e-9) {
		h, limit = due, ByEvent
	}
	if _, v := r.attempt(h); v != found {
		return Step{}, false
	}
	h, limit = r.cut(h, limit)
	r.commit(h)
	r.affect()
	return Step{Time: r.now.time, Length: h, Limit: limit, Events: r.events}, true
}

// SharpEvents lets steps be cut to events as finely as rounding allows, so that an order shows down to small errors.
func (r *Run) SharpEvents() {
	for i := range r.watch {
		r.watch[i].slack = math.Min(r.watch[i].slack, 1e-13)
	}
}

// Eliminate solves the linearised equations of the present state once, as every iteration of a stage does.
func (r *Run) Eliminate() bool {
	r.trial[0].copyFrom(&r.now)
	r.linearise(r.length*diagonal, r.now.water, &r.trial[0])
	return r.eliminate()
}
