package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
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

// InertiaWith is a body's generalised mass, over ρg along the tangents of its pose, with so much water in one of its spaces.
func (r *Run) InertiaWith(k, space int, water float64) [3][3]float64 {
	was := r.now.water[space]
	r.now.water[space] = water
	mass := r.stand(k, &r.now).Mass
	r.now.water[space] = was
	return mass
}

// FallOff does what a step does of which no length will do.
func (r *Run) FallOff() { r.fallOff() }

// PoseBetween is a body's pose at a share of the last step.
func (r *Run) PoseBetween(k int, x float64) compartment.Pose {
	r.now, r.next = r.next, r.now // as they were before the step was committed
	h := r.next.time - r.now.time
	r.interpolate(x, h, &r.between)
	r.now, r.next = r.next, r.now
	return r.between.pose[k]
}

// PartNow lets a joint go, and gives what the matter of the hull had before it and what that of its sections has after it: mass, its
// first moments, momentum upward, and angular momentum about the body's origin, over ρg. The centre of a section goes on along
// the sea as it went, with nothing to change that, which is why its motion does not count it.
func (r *Run) PartNow(i int) (before, after []float64) {
	k := r.joints[i].body
	r.stand(k, &r.now)
	m := r.bodies[k].mover
	centre := r3.Scale(1/m.mass, m.first)
	before = r.matter(k, centre)
	r.letGo(i, "time")
	after = make([]float64, len(before))
	for k := range r.bodies {
		r.stand(k, &r.now)
		for c, x := range r.matter(k, centre) {
			after[c] += x
		}
	}
	return before, after
}

// matter is what the matter of a body has in a motion that leaves a centre over its place.
func (r *Run) matter(k int, centre r3.Vec) []float64 {
	m := r.bodies[k].mover
	s := m.second
	v, _, turn := motion(r.now.pose[k].Up, centre, rates{r.now.turning[k].Up, r.now.turning[k].Sea})
	u := r3.Vec{X: v[0], Y: v[1], Z: v[2]} // of the origin
	up := r3.Scale(m.mass, u)
	up = r3.Add(up, r3.Cross(turn, m.first))
	angular := r3.Add(r3.Cross(m.first, u), r3.Sub(r3.Scale(s.XX+s.YY+s.ZZ, turn), s.Apply(turn)))
	return []float64{m.mass, m.first.X, m.first.Y, m.first.Z, r3.Dot(up, r.now.pose[k].Up), angular.X, angular.Y, angular.Z}
}

// Account is what all bodies weigh without water, kg and kg·m, and what water and air is in their spaces and has come into them on the
// whole, m³.
type Account struct {
	Mass                       float64
	Moment                     r3.Vec
	Water, WaterIn, Air, AirIn float64
}

// Account sums up a run's present state.
func (r *Run) Account() (a Account) {
	for k := range r.bodies {
		f := r.bodies[k].floater
		a.Mass += f.Mass
		a.Moment = r3.Add(a.Moment, r3.Scale(f.Mass, f.Centre))
	}
	for i, w := range r.now.water {
		if a.Water += w; r.spaces[i].holdsAir() {
			a.Air += r.now.excess[i] + (r.spaces[i].capacity - w)
		}
	}
	a.WaterIn, a.AirIn = r.book.in, r.airBook.in
	return a
}

// FloorOn is what the pool's floor does to a body at rest that is turned and sunk from its pose: force, m³ of water's weight, along the
// tangents of that pose, and its stiffness there.
func (r *Run) FloorOn(k int, pitch, roll, rise float64) (push [3]float64, stiff [3][3]float64) {
	b := &r.bodies[k]
	p, q := compartment.Tangents(r.now.pose[k].Up)
	turned := r.now.pose[k].Turned(p, q, pitch, roll, rise)
	b.floater.Balance(turned, r.loadBody(k, &r.now), &b.balance)
	var at [3]float64
	var drag [3][3]float64
	b.mover.floor.press(&b.balance, [3]float64{}, &at, &stiff, &drag)
	force := r3.Add(r3.Scale(at[0], b.balance.Pitch), r3.Scale(at[1], b.balance.Roll))
	return [3]float64{r3.Dot(force, p), r3.Dot(force, q), at[2]}, stiff
}

// Turnings are the bodies' rates of change of pose, as the step between two states counts them; of one that has gone, nothing.
func (r *Run) Turnings() []compartment.Pose { return append([]compartment.Pose(nil), r.now.turning...) }

// Poses are the bodies' poses.
func (r *Run) Poses() []compartment.Pose { return append([]compartment.Pose(nil), r.now.pose...) }

// SoughtAgain tells whether a body that was found is sought again when less is allowed, and whether it is then found by a change of a two
// hundredth after none.
func (r *Run) SoughtAgain() (again, rash bool) {
	b := &r.bodies[0]
	b.found, b.allowed, b.moved, r.allowed = true, 1e-3, 0, 1e-12
	_, again = r.near(5)
	b.movedBefore, b.moved = b.moved, 5e-3
	rash, _ = r.near(6)
	return again && !b.found, rash
}

// HoldAfter is what a bubble needs at the brim of a hole after rises of the level, Pa: from where it is and how it rises up to a most.
func HoldAfter(now, steep, most float64, rises ...float64) (all []float64) {
	for _, rise := range rises {
		h := hold{now, steep, most}
		all = append(all, now+h.after(rise))
	}
	return all
}
