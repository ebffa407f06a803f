package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Offset finds the plane n·x = d below which the given volume lies. near is a guess of d; NaN: none. It returns d, the
// integrals below that plane, and the number of plane queries spent. It allocates nothing.
//
// The search ends as soon as the error that the next step leaves is under 1e-11 of the lesser of the volumes below and
// above; the integrals are then carried over that last step by their rates instead of being asked for again, and Volume is
// exactly as asked. A volume of 0 or less gives the solid's lowest point and nothing below, one of the whole or more the
// highest point and all of it. Where a range of planes cuts off the same volume (a gap between pieces), d is one of them.
// With an n or a volume that is not a number, so are the results. The solid's volume has to be positive.
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
	q := search{s: s, n: n, target: volume, lesser: min(volume, s.volume-volume)}
	q.begin(near)
	for {
		q.ask()
		if q.hit() {
			d, below = q.carried(0)
			return d, below, q.asked
		}
		step, led := q.next()
		if q.closed() || led && q.accept(step) {
			d, below = q.carried(step)
			return d, below, q.asked
		}
		q.at += step
	}
}

const (
	offsetTolerance = 1e-11 // of the lesser of the volumes below and above
	offsetQueries   = 100   // halving the reach down to rounding takes 53
)

// search is the state of one Offset.
type search struct {
	s         *Solid
	n         r3.Vec
	target    float64
	lesser    float64 // of the volumes below and above the plane sought
	low, high float64 // the solid's reach, once it is known
	reached   bool
	from, to  float64 // planes that cut off too little and too much
	at        float64 // the plane to ask for
	now, last sample
	asked     int
}

// sample is what one query told.
type sample struct {
	d float64
	Below
}

// begin sets the bracket to the bounds, and takes the caller's guess if it lies between them, or one of its own.
func (q *search) begin(near float64) {
	middle := r3.Dot(q.n, q.s.centre)
	half := math.Abs(q.n.X)*q.s.half.X + math.Abs(q.n.Y)*q.s.half.Y + math.Abs(q.n.Z)*q.s.half.Z
	half += 1e-14 * (q.s.size + math.Abs(middle))
	q.from, q.to = middle-half, middle+half
	if near > q.from && near < q.to {
		q.at = near
		return
	}
	q.reach()
	q.at = q.guess()
}

// guess is the plane that would be right if the solid were a prism; for a small share one further in, from where points and
// edges are approached by powerStep as well as faces, while from too near the end their volume is lost in rounding.
func (q *search) guess() float64 {
	share := q.lesser / q.s.volume
	if share < 0.01 {
		share = math.Sqrt(0.01 * share)
	}
	if q.target > q.s.volume/2 {
		return q.high - share*(q.high-q.low)
	}
	return q.low + share*(q.high-q.low)
}

// reach finds the solid's ends when they are first needed.
func (q *search) reach() {
	if !q.reached {
		q.low, q.high = q.s.Reach(q.n)
		q.reached = true
	}
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

// next is the step from the present plane. Where nothing leads anywhere, or to where it is while the volume is off, led is false and
// the step halves the bracket.
func (q *search) next() (step float64, led bool) {
	if !q.crawling() {
		step = q.lead()
		if math.Abs(step) > q.ulp() || !math.IsNaN(step) && q.rounded() {
			return step, true
		}
	}
	return (q.from+q.to)/2 - q.at, false
}

// lead is the first step that stays in the bracket; NaN: none does. Far from the plane sought the volume's
// growth counts as a power of the distance from the end, near it the last two queries tell more; one that lies far off
// tells nothing.
func (q *search) lead() float64 {
	if q.far() {
		if step := q.powerStep(); q.inside(step) {
			return step
		}
	}
	if q.apart() < 1 {
		if step := q.hermiteStep(); q.inside(step) {
			return step
		}
	}
	if step := q.newtonStep(); q.inside(step) {
		return step
	}
	return math.NaN()
}

// apart is the distance of the last two planes in lengths V/A, over which the cut changes; +Inf after one query, or
// where one has met no cut.
func (q *search) apart() float64 {
	if q.asked < 2 || !(q.now.Area > 0 && q.last.Area > 0) {
		return math.Inf(1)
	}
	return math.Abs(q.now.d-q.last.d) * max(q.now.Area, q.last.Area) / q.lesser
}

// inside tells whether a step stays in the bracket; NaN does not.
func (q *search) inside(step float64) bool {
	d := q.at + step
	return d >= q.from && d <= q.to
}

// crawling is every third query of a long search, for those that creep along one side of a jump of the area.
func (q *search) crawling() bool { return q.asked >= 12 && q.asked%3 == 0 }

// far tells whether the volume is off by so much that a straight line is of no use.
func (q *search) far() bool {
	return math.Abs(q.target-q.now.Volume) > 0.3*min(q.lesser, q.now.Volume, q.s.volume-q.now.Volume)
}

// powerStep takes the volume, counted from the nearer end, to be C x^m, with C and m from its value and its rate: exact
// for a face (m = 1), an edge (2) and a point (3) of the solid.
func (q *search) powerStep() float64 {
	x, v, target, sign := q.fromEnd(), q.now.Volume, q.target, 1.0
	if q.target > q.s.volume/2 {
		v, target, sign = q.s.volume-v, q.s.volume-target, -1
	}
	m := min(max(q.now.Area*x/v, 0.5), 4)
	return sign * x * (math.Pow(target/v, 1/m) - 1)
}

func (q *search) newtonStep() float64 { return (q.target - q.now.Volume) / q.now.Area }

// hermiteStep takes d as the cubic in the volume that has the last two values and slopes.
func (q *search) hermiteStep() float64 {
	h := q.now.Volume - q.last.Volume
	t := (q.target - q.now.Volume) / h // 0 at the present plane, −1 at the last
	slope, slopeLast := h/q.now.Area, h/q.last.Area
	back := q.last.d - q.now.d
	// The cubic through (−1, back) and (0, 0) with those slopes.
	c2 := 3*back + slopeLast + 2*slope
	c3 := 2*back + slopeLast + slope
	return t * (slope + t*(c2+t*c3))
}

// tolerance is the error of the volume that is taken: with a floor at what rounding does to it.
func (q *search) tolerance() float64 { return offsetTolerance*q.lesser + 1e-15*q.s.volume }

// hit tells whether the volume is right as it stands.
func (q *search) hit() bool { return math.Abs(q.target-q.now.Volume) <= 1e-3*q.tolerance() }

// closed tells whether there is nothing left to seek.
func (q *search) closed() bool { return q.asked >= offsetQueries || q.to-q.from <= q.ulp() }

// ulp is the rounding of a plane's place.
func (q *search) ulp() float64 { return 3e-16 * max(math.Abs(q.from), math.Abs(q.to)) }

// lost tells whether the lesser volume is little more than what rounding makes of the whole.
func (q *search) lost() bool { return q.lesser < 1e-11*q.s.volume }

// fromEnd is the distance of the present plane from the solid's end beyond which the lesser volume lies.
func (q *search) fromEnd() float64 {
	q.reach()
	if q.target > q.s.volume/2 {
		return q.high - q.at
	}
	return q.at - q.low
}

// rounded tells whether the volume is off by no more than rounding makes it, of the volume itself and of the plane's place.
func (q *search) rounded() bool {
	return math.Abs(q.target-q.now.Volume) <= q.tolerance()+q.now.Area*q.ulp()
}

// accept tells whether the step leaves an error under the tolerance. With V/A as the length over which the cut changes, and
// short the step in such lengths, the second-order term is ½ V short² for a solid that grows like a power of d; from one query
// that, a hundredfold, is the bound. From two not far apart the curvature is known, and the error is less than what the
// cubic adds to the step with that curvature; only for short steps, so that a jump of the area is seen before it is stepped
// over. A step that the bracket has cut short proves nothing. Where the lesser volume is little more than rounding, V/A is no length
// to go by: there the distance from the end is.
func (q *search) accept(step float64) bool {
	if math.Abs(step) <= q.ulp() && q.rounded() {
		return true
	}
	if !(q.now.Area > 0) || q.lost() && !(math.Abs(step) <= 0.1*q.fromEnd()) { // at the very end of the solid, within rounding
		return false
	}
	tol := q.tolerance()
	newton := q.newtonStep()
	short := math.Abs(step) * q.now.Area / q.lesser
	if 50*short*short*q.lesser < tol {
		return math.Abs(step-newton)*q.now.Area <= tol
	}
	if short > 1e-4 || q.apart() > 0.1 {
		return false
	}
	rate := (q.now.Area - q.last.Area) / (q.now.d - q.last.d)
	curved := newton - 0.5*rate/q.now.Area*newton*newton
	return q.now.Area*math.Abs(step-curved) < tol
}

// carried takes the integrals over the last step to second order: dV = A dd, d∫x dV = ∫x dA dd, with the rates of the
// cut's moments from the last two queries.
func (q *search) carried(step float64) (float64, Below) {
	b := q.now.Below
	var t float64
	if q.apart() < 1 && q.now.d != q.last.d {
		t = step / (q.now.d - q.last.d)
	}
	dMoment := r3.Scale(t, r3.Sub(b.AreaMoment, q.last.AreaMoment))
	b.Moment = r3.Add(b.Moment, r3.Scale(step, r3.Add(b.AreaMoment, r3.Scale(0.5, dMoment))))
	b.AreaMoment = r3.Add(b.AreaMoment, dMoment)
	b.AreaSecond = b.AreaSecond.Add(b.AreaSecond.Add(q.last.AreaSecond.Scale(-1)).Scale(t))
	b.Area += t * (b.Area - q.last.Area)
	b.Volume = q.target
	return q.now.d + step, b
}
