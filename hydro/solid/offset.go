package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Offset finds the plane n·x = d below which the given volume lies. near is a guess of d; NaN: none. It returns d, the
// integrals below that plane, and the number of plane queries spent.
//
// The search ends as soon as the error that the next step leaves is under 1e-11 of the lesser of the volumes below and
// above; the integrals are then carried over that last step by their rates instead of being asked for again, and Volume is
// exactly as asked. A volume of 0 or less gives the solid's lowest point and nothing below, one of the whole or more the
// highest point and all of it. Where a range of planes cuts off the same volume (a gap between pieces), d is one of them.
// With an n, or a volume, that is not a number, so are the results. The solid's volume must be positive.
func (s *Solid) Offset(n r3.Vec, volume, near float64) (d float64, below Below, queries int) {
	switch {
	case math.IsNaN(volume) || !finite(n):
		return math.NaN(), notANumber(), 0
	case volume <= 0 || s.volume <= 0:
		low, _ := s.Reach(n)
		return low, Below{}, 0
	case volume >= s.volume:
		_, high := s.Reach(n)
		return high, Below{Volume: s.volume, Moment: s.moment}, 0
	}
	q := search{s: s, n: n, target: volume}
	q.begin(near)
	for {
		q.ask()
		step := q.next()
		if q.accept(step) {
			d, below = q.carried(step)
			return d, below, q.asked
		}
		q.at += step
	}
}

const (
	offsetTolerance = 1e-11 // of the lesser of the volumes below and above
	offsetQueries   = 80    // bisection of the reach alone needs 53
)

// search is the state of one Offset.
type search struct {
	s         *Solid
	n         r3.Vec
	target    float64
	low, high float64 // ends of the solid
	from, to  float64 // planes known to cut off too little and too much
	at        float64 // the plane to ask for
	now, last sample
	asked     int
}

// sample is what one query told.
type sample struct {
	d float64
	Below
}

// begin sets the bracket to the solid's reach and takes the guess, or makes one.
func (q *search) begin(near float64) {
	q.low, q.high = q.s.Reach(q.n)
	q.from, q.to = q.low, q.high
	q.at = near
	if !(near > q.from && near < q.to) {
		q.at = q.guess()
	}
}

// guess takes the solid to be spread along n like a beta distribution with the same mean and variance between the same
// ends: exact for a box on its face, a wedge on its edge or a pyramid on its point.
func (q *search) guess() float64 {
	return q.low + (q.high-q.low)*q.target/q.s.volume
}

func (q *search) ask() {
	q.last = q.now
	q.now = sample{d: q.at, Below: q.s.Below(Plane{N: q.n, D: q.at})}
	q.asked++
	if q.now.Volume < q.target {
		q.from = q.at
	} else {
		q.to = q.at
	}
}

// next is the step from the present plane: the first of the trusted ones that stays within the bracket.
func (q *search) next() float64 {
	if q.far() {
		if step := q.powerStep(); q.inside(step) {
			return step
		}
	}
	if q.asked > 1 {
		if step := q.hermiteStep(); q.inside(step) {
			return step
		}
	}
	if step := q.newtonStep(); q.inside(step) {
		return step
	}
	return (q.from+q.to)/2 - q.at
}

func (q *search) inside(step float64) bool {
	d := q.at + step
	return d >= q.from && d <= q.to && (d > q.from && d < q.to || math.Abs(step) < 1e-13*(q.high-q.low))
}

// lesser is the smaller of what lies below and above a plane that cuts off the target.
func (q *search) lesser() float64 { return min(q.target, q.s.volume-q.target) }

// far tells whether the volume is so far off that its growth has to be taken as a power of the distance from the end.
func (q *search) far() bool {
	return math.Abs(q.target-q.now.Volume) > 0.3*min(q.lesser(), q.now.Volume, q.s.volume-q.now.Volume)
}

// powerStep takes the volume from the nearer end to be C x^m, with C and m from its value and its rate.
func (q *search) powerStep() float64 {
	x, v, target, sign := q.at-q.low, q.now.Volume, q.target, 1.0
	if q.target > q.s.volume/2 {
		x, v, target, sign = q.high-q.at, q.s.volume-v, q.s.volume-target, -1
	}
	m := min(max(q.now.Area*x/v, 0.5), 4)
	return sign * x * (math.Pow(target/v, 1/m) - 1)
}

func (q *search) newtonStep() float64 { return (q.target - q.now.Volume) / q.now.Area }

// hermiteStep takes d as the cubic in the volume that has the last two values and slopes.
func (q *search) hermiteStep() float64 {
	a, b := &q.last, &q.now
	h := b.Volume - a.Volume
	t := (q.target - b.Volume) / h // 0 at b, −1 at a
	da, db := h/a.Area, h/b.Area
	back := a.d - b.d
	// The cubic through (−1, back) with slope da and (0, 0) with slope db.
	c2 := 3*back + da + 2*db
	c3 := 2*back + da + db
	return t * (db + t*(c2+t*c3))
}

// accept tells whether the step leaves an error under the tolerance. From a single query the curvature is unknown, and the
// bound is that of a pyramid on its point, 3V (δ/x)². From two it is what the cubic adds to a step with the curvature of
// the last two areas.
func (q *search) accept(step float64) bool {
	if q.asked >= offsetQueries || q.to-q.from <= 4e-16*max(math.Abs(q.from), math.Abs(q.to)) {
		return true
	}
	tol := offsetTolerance*q.lesser() + 1e-15*q.s.volume
	if math.Abs(q.target-q.now.Volume) < 1e-3*tol {
		return true
	}
	x := min(q.at-q.low, q.high-q.at)
	if rel := step / x; 3*rel*rel*q.lesser() < tol*1e-2 {
		return true
	}
	if q.asked < 2 || math.Abs(step) > 1e-4*x {
		return false
	}
	newton := q.newtonStep()
	curved := newton - 0.5*q.rate()/q.now.Area*newton*newton
	return q.now.Area*math.Abs(step-curved) < tol
}

// rate is dA/dd between the last two queries.
func (q *search) rate() float64 {
	if q.asked < 2 || q.now.d == q.last.d {
		return 0
	}
	return (q.now.Area - q.last.Area) / (q.now.d - q.last.d)
}

// carried takes the integrals over the last step to second order: dV = A dd, d∫x dV = ∫x dA dd, and the rates of the cut's
// moments from the last two queries.
func (q *search) carried(step float64) (float64, Below) {
	b := q.now.Below
	var t float64
	if q.asked > 1 && q.now.d != q.last.d {
		t = step / (q.now.d - q.last.d)
	}
	dArea := t * (b.Area - q.last.Area)
	dMoment := r3.Scale(t, r3.Sub(b.AreaMoment, q.last.AreaMoment))
	b.Moment = r3.Add(b.Moment, r3.Scale(step, r3.Add(b.AreaMoment, r3.Scale(0.5, dMoment))))
	b.Area += dArea
	b.AreaMoment = r3.Add(b.AreaMoment, dMoment)
	b.AreaSecond = b.AreaSecond.Add(b.AreaSecond.Add(q.last.AreaSecond.Scale(-1)).Scale(t))
	b.Volume = q.target
	return q.now.d + step, b
}
