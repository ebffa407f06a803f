package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

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

// Displace turns a body out of its rest by angles along pitch and roll, and raises the sea about it, then lets it go.
func (r *Run) Displace(k int, pitch, roll, rise float64) {
	p, q := compartment.Tangents(r.now.pose[k].Up)
	r.now.pose[k] = r.now.pose[k].Turned(p, q, pitch, roll, rise)
	r.ended, r.told = Running, nil
	r.restart()
	r.survey(&r.now)
	r.mark()
}

// Energies are a body's potential and kinetic energy over ρg, m⁴.
func (r *Run) Energies(k int) (potential, kinetic float64) {
	m := r.bodies[k].mover
	r.stand(k, &r.now)
	v := m.alongTangents(r.now.turning[k])
	for c := range v {
		kinetic += v[c] * m.trial.momentum[c] / 2
	}
	return r.bodies[k].balance.Energy, kinetic
}

// PoseBetween is a body's pose at a share of the last step.
func (r *Run) PoseBetween(k int, x float64) compartment.Pose {
	r.now, r.next = r.next, r.now // as they were before the step was committed
	h := r.next.time - r.now.time
	r.interpolate(x, h, &r.between)
	r.now, r.next = r.next, r.now
	return r.between.pose[k]
}
