package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// attempt tries a step of length h from r.now, and leaves its end in r.next and its flows in r.rates. It returns the
// estimated error as a multiple of the tolerance.
func (r *Run) attempt(h float64) (err float64, v verdict) {
	copy(r.rates[0], r.now.rate)
	copy(r.gusts[0], r.now.gust)
	r.letsDown, r.mover = 0, -1
	clear(r.peak)
	r.beginMotion()
	r.trial[0].copyFrom(&r.now)
	for i := 1; i < stages; i++ {
		s := &r.trial[i]
		r.base(i, h)
		r.baseMotion(i, h)
		r.guess(i, h, s)
		s.time = r.now.time + stageAt[i]*h
		if v := r.solve(diagonal*h, r.from, s); v != found {
			r.bent = firstBent // what it showed on its way astray is no measure
			return 0, v
		}
		copy(r.rates[i], s.rate)
		copy(r.gusts[i], s.gust)
		r.accountMotion(i, diagonal*h, s)
		r.keepPeaks(s)
	}
	err = math.Max(r.estimate(h), r.motionError(h)/(errorShare*r.set.Tolerance))
	r.next.copyFrom(&r.trial[stages-1])
	if !r.sameRest() {
		return 0, lostRest
	}
	r.finishFlows(h)
	r.land(stages - 1)
	return err, found
}

// keepPeaks keeps by how much each space was over full in any stage: how far over its highest point its head stood, as a share of
// the hull's length, or, where its water is the unknown, how much more that was than it holds, as a share of that.
func (r *Run) keepPeaks(s *state) {
	for i := range r.spaces {
		sp := &r.spaces[i]
		if sp.gas >= 0 {
			continue
		}
		over := s.water[i]/sp.capacity - 1
		if sp.byHead {
			over = (s.head[i] - r.bodies[sp.body].floater.Surfaces()[sp.local].High) / r.size
		}
		r.peak[i] = math.Max(r.peak[i], over)
	}
}

// sameRest tells whether the bodies ended in the rest that the fall of their energy leads to from where the step began: the
// stages' iterations only know that they stand in some rest. Asked only where a body turned far or over the upright, or had to
// be let down.
func (r *Run) sameRest() bool {
	if !r.rests() {
		return true
	}
	for k := range r.bodies {
		b, start, end := &r.bodies[k], r.now.pose[k], r.next.pose[k]
		if b.gone {
			continue
		}
		crossed := start.Up.Y*end.Up.Y < 0 && math.Abs(end.Up.Y) > 1e-6
		turn := turned(start, end)
		if r.letsDown == 0 && turn < turnAsked && !crossed {
			continue
		}
		r.loadBody(k, &r.next)
		balance := b.balance // the step's own, which the pose's rate of change is found from
		rest := b.floater.Settle(start, b.water, compartment.SearchStride/5, nil)
		b.floater.Levels(end.Up, b.water)
		b.floater.LetIn(end)
		b.balance = balance
		r.stats.PoseSolves++
		if !rest.Stable || turned(rest.Pose, end) > 0.3*turn+1e-4 {
			return false
		}
	}
	return true
}

// turnAsked is the turn in a step, rad, from which the rest that it leads to is looked at again.
const turnAsked = 0.02

// base sets r.from and r.fromAir to the waters and airs at the step's start with what flowed in the earlier stages, as stage i
// counts them.
func (r *Run) base(i int, h float64) {
	copy(r.from, r.now.water)
	copy(r.fromAir, r.now.excess)
	for k := range i {
		if a := weights[i][k]; a != 0 {
			r.addFlows(r.from, r.rates[k], a*h)
			r.addAir(r.fromAir, r.rates[k], r.gusts[k], a*h)
		}
	}
}

// guess lays a polynomial through the stages so far and follows it to stage i; the first one follows the last step.
func (r *Run) guess(i int, h float64, s *state) {
	if i == 1 {
		r.guessFirst(h, s)
		return
	}
	first := max(0, i-4)
	clear(s.water)
	clear(s.head)
	clear(s.speed)
	clear(s.rate) // of a port that has shut since, nothing may be left
	clear(s.press)
	clear(s.blow)
	clear(s.gust)
	for k := range s.pose {
		s.pose[k] = compartment.Pose{}
	}
	for k := first; k < i; k++ {
		s.addScaled(r.extrapolate[i][k], &r.trial[k])
	}
	r.tidyPoses(s)
	r.tidySpaces(s, &r.trial[i-1])
	r.guessBells(i, h, s)
}

// extrapolation gives the weights of the polynomial through the up to four stages before each stage, at its time.
func extrapolation() (w [stages][stages]float64) {
	for i := 2; i < stages; i++ {
		first := max(0, i-4)
		for k := first; k < i; k++ {
			w[i][k] = 1
			for m := first; m < i; m++ {
				if m != k {
					w[i][k] *= (stageAt[i] - stageAt[m]) / (stageAt[k] - stageAt[m])
				}
			}
		}
	}
	return w
}

// guessFirst goes on along the parabola through the last step's start, middle and end, or along the flows where there is no such step.
func (r *Run) guessFirst(h float64, s *state) {
	s.copyFrom(&r.now)
	c := stageAt[1] * h
	if last := 2 * r.pastLength; r.hasPast && c <= last {
		r.extend(c/last, s)
		r.tidyPoses(s)
	}
	r.guessMotion(c, s)
	copy(s.water, r.now.water)
	r.addFlows(s.water, r.now.rate, c)
	r.tidySpaces(s, &r.now)
	r.guessBells(1, h, s)
}

// extend follows that parabola from the step's end, where s is, for a share x of the step's length. A nominal speed that would turn
// round by that goes on along the straight line from the middle: there is a bend, which a parabola does not follow.
func (r *Run) extend(x float64, s *state) {
	s.addScaled(2*(x+1)*(x+0.5)-1, &r.now)
	s.addScaled(-4*x*(x+1), &r.past)
	s.addScaled(2*x*(x+0.5), &r.older)
	for j := range s.speed {
		if v := r.now.speed[j]; v*s.speed[j] < 0 {
			s.speed[j] = v + 2*x*(v-r.past.speed[j])
		}
		if u := r.now.blow[j]; u*s.blow[j] < 0 {
			s.blow[j] = u + 2*x*(u-r.past.blow[j])
		}
	}
}

// tidySpaces sees to it that a guess leaves the air some room, and some pressure, and that a space that was full in the last state
// is so in the guess: its head may be anything above the brim, and the way back from below it is long.
func (r *Run) tidySpaces(s, last *state) {
	for i := range r.spaces {
		switch sp := &r.spaces[i]; {
		case sp.bell:
		case sp.gas < 0:
			if high := r.bodies[sp.body].floater.Surfaces()[sp.local].High; sp.byHead && last.head[i] >= high {
				s.head[i] = math.Max(s.head[i], high)
			}
		case sp.holdsAir():
			least := leastRoom * (sp.capacity - r.now.water[i])
			s.water[i] = math.Min(s.water[i], sp.capacity-least)
			s.press[i] = math.Max(s.press[i], (r.now.press[i]+hydro.Atmosphere)/4-hydro.Atmosphere)
		}
	}
}

// addScaled adds w × o to all that a guess needs.
func (s *state) addScaled(w float64, o *state) {
	for i := range s.water {
		s.water[i] += w * o.water[i]
		s.head[i] += w * o.head[i]
		s.press[i] += w * o.press[i]
	}
	for j := range s.speed {
		s.speed[j] += w * o.speed[j]
		s.blow[j] += w * o.blow[j]
	}
	for k := range s.pose {
		s.pose[k].Up = r3.Add(s.pose[k].Up, r3.Scale(w, o.pose[k].Up))
		s.pose[k].Sea += w * o.pose[k].Sea
	}
}

// tidyPoses makes the up directions unit vectors again. A hull that is held stays as it is to the last bit: extrapolated from step to
// step, rounding alone would set it in motion.
func (r *Run) tidyPoses(s *state) {
	if r.set.Motion == Held {
		copy(s.pose, r.now.pose)
		return
	}
	for k := range s.pose {
		s.pose[k].Up = r3.Unit(s.pose[k].Up)
	}
}

// estimate is the difference between the waters by the two sets of weights, as a multiple of the tolerance times capacity.
// It is taken as it comes: passing it through the stage's equations once more, as is done for stiff systems, would let a
// flow that is over in a moment linger for a long step.
func (r *Run) estimate(h float64) float64 {
	clear(r.from)
	clear(r.fromAir)
	for k := range stages {
		if d := weights[stages-1][k] - embedded[k]; d != 0 {
			r.addFlows(r.from, r.rates[k], d*h)
			r.addAir(r.fromAir, r.rates[k], r.gusts[k], d*h)
		}
	}
	r.filterAirErrors()
	worst := 0.0
	r.mover = -1
	for i := range r.spaces {
		worst = r.larger(worst, math.Abs(r.from[i])/r.spaces[i].capacity, i)
		worst = r.larger(worst, r.pressureError(i), i)
	}
	return worst / (errorShare * r.set.Tolerance)
}

// filterAirErrors passes the errors of the airs through the last stage's equations, with the waters and poses as they are, and
// leaves them in the equations' right-hand side as errors of the pressures: air that finds its balance within a fraction of the
// step leaves no trace in what follows, and the flows of a stage are known only as well as its iteration leaves them. What
// several spaces have in common, such as all their air behind one pinhole, is not filtered away by that.
func (r *Run) filterAirErrors() {
	if !r.airtight {
		return
	}
	clear(r.eq.rest)
	for i := range r.spaces {
		if sp := &r.spaces[i]; sp.holdsAir() {
			r.eq.rest[sp.gas] = r.fromAir[i]
		}
	}
	r.eq.spaces.solve(r.eq.rest)
}

// pressureError is the filtered error of a space's pressure as a share of the weight of water as high as the space.
func (r *Run) pressureError(i int) float64 {
	sp := &r.spaces[i]
	if !sp.holdsAir() {
		return 0
	}
	if sp.bell {
		return math.Abs(r.fromAir[i]) / sp.capacity
	}
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	return math.Abs(r.eq.rest[sp.gas]) / (r.weight * (w.High - w.Low))
}

// errorShare of the tolerance is what one step may err by, so that a run of some dozen steps stays within it.
const errorShare = 0.2

// ebbError is the error of the flows themselves at the step's end, once they have nearly died away, as a multiple of a tenth
// of the largest of them: what the stages before would have led one to expect against what the last one found. Volumes
// say nothing about it then, and a long step would let a flow linger that is over in a moment. Nothing does in a step so short that what
// its iterations may leave is as much as the quiet flow brings; nor, in free motion, while a body swings and its flows with it, or in a step so
// short: what leans on the floor would be followed in its last bounces, of nanometres, and kept bouncing by that (random scenario 4141).
func (r *Run) ebbError(h float64) float64 {
	quiet, largest, worst := r.quietFlow(), 0.0, 0.0
	if diagonal*h*quiet < leastAllowed*r.largest || h < r.leastBeat() {
		return 0
	}
	for j := range r.ports {
		if r.ports[j].Pump == 0 {
			largest = math.Max(largest, r.felt(j, r.rates[0][j]))
		}
	}
	if largest > ebbing*quiet {
		return 0
	}
	const last = stages - 1
	for j := range r.ports {
		if r.ports[j].Pump != 0 || r.swings(r.ports[j].body) {
			continue
		}
		expected := 0.0
		for k := 1; k < last; k++ {
			expected += r.extrapolate[last][k] * r.rates[k][j]
		}
		worst = math.Max(worst, r.felt(j, r.rates[last][j]-expected))
	}
	return worst / (0.1 * (largest + quiet))
}

// ebbing is how many times the quiet flow the flows are at most when they are said to ebb.
const ebbing = 1000

// swings tells whether a body moves so fast in free motion that what flows in it follows that, and is not over before.
func (r *Run) swings(k int) bool {
	return r.free() && r.calmOf(k, &r.now) < -swinging
}

// swinging is the logarithm of how many times stillness that is: ten times.
const swinging = math.Ln10

// finishFlows sums what went through each port in the step, sees to it that no space gives more than it has or takes more
// than it holds, and makes the waters at the end of what was there and of these sums.
func (r *Run) finishFlows(h float64) {
	for j := range r.crossed {
		sum := 0.0
		for k := range stages {
			sum += weights[stages-1][k] * r.rates[k][j]
		}
		r.crossed[j] = h * sum
	}
	for j := range r.blown {
		sum := 0.0
		for k := range stages {
			sum += weights[stages-1][k] * r.gusts[k][j]
		}
		r.blown[j] = h * sum
	}
	r.moveWaters()
	r.moveAirs()
}

// moveAirs makes the airs at the step's end of those at its start and of what crossed, and their pressures. Where a bubble's is
// another one than the last stage found, since some water was held back, that stands, and the bubble takes the air for it: what is
// nothing to a space is much to a bubble in it.
func (r *Run) moveAirs() {
	copy(r.next.excess, r.now.excess)
	r.addAir(r.next.excess, r.crossed, r.blown, 1)
	copy(r.between.press, r.next.press)
	r.pressurise(&r.next)
	clear(r.added)
	for i, press := range r.between.press {
		sp := &r.spaces[i]
		room := sp.capacity - r.next.water[i]
		off := math.Abs(r.next.press[i] - press)
		if sp.holdsAir() && !sp.bell && room < bubbleShare*sp.capacity && off > r.set.Tolerance*r.weight*r.size {
			r.next.press[i] = press
			r.added[i] = press/hydro.Atmosphere*room - r.next.excess[i]
			r.next.excess[i] += r.added[i]
		}
	}
}

// bubbleShare of a space is the most that counts as a bubble.
const bubbleShare = 1e-4

// pressurise finds the pressures of the airs: Boyle's law. Of a bubble that is as good as gone, the pressure is that of the water
// about it, as the last stage found it.
func (r *Run) pressurise(s *state) {
	for i := range r.spaces {
		sp := &r.spaces[i]
		switch room := sp.capacity - s.water[i]; {
		case sp.bell: // by its level: see readBells
		case !sp.holdsAir():
			s.press[i] = 0
		case room > 0.01*sp.lostAt*sp.capacity:
			s.press[i] = hydro.Atmosphere * s.excess[i] / room
		default:
			s.press[i] = r.next.press[i]
		}
	}
}

// moveWaters makes the waters at the step's end of those at its start and of what crossed, held back where there is not so
// much, or no room for it.
func (r *Run) moveWaters() {
	r.held = false
	for range 2*len(r.spaces) + 2 {
		copy(r.next.water, r.now.water)
		r.addFlows(r.next.water, r.crossed, 1)
		if !r.holdBack() {
			return
		}
		r.held = true
	}
}

// holdBack scales down what leaves the spaces that would be left with less than nothing, and what enters those that would
// hold more than they can (both by less than the step's error).
func (r *Run) holdBack() (held bool) {
	for i := range r.spaces {
		if lack := -r.next.water[i]; lack > 0 {
			held = r.throttle(i, lack, -1) || held
		}
		if excess := r.next.water[i] - r.spaces[i].capacity; excess > roundingShare*r.spaces[i].capacity {
			held = r.throttle(i, excess, 1) || held
		}
	}
	return held
}

// roundingShare of its capacity is what a space may hold too much.
const roundingShare = 1e-14

// throttle scales down what leaves space i (sign −1) or enters it (sign 1) by a volume in all.
func (r *Run) throttle(i int, volume, sign float64) bool {
	sum := 0.0
	for j := range r.ports {
		sum += math.Max(0, sign*r.into(j, i))
	}
	if sum <= 0 {
		return false
	}
	f := math.Max(0, 1-volume/sum*(1+1e-12))
	for j := range r.ports {
		if sign*r.into(j, i) > 0 {
			r.crossed[j] *= f
		}
	}
	return true
}

// into is what port j brings into space i in the step, m³.
func (r *Run) into(j, i int) float64 {
	switch p := &r.ports[j]; i {
	case p.To:
		return r.crossed[j]
	case p.From:
		return -r.crossed[j]
	}
	return 0
}

// interpolate sets s to the state at a share x of the step from r.now to r.next: the waters by the cubic that has the flows
// at both ends as slopes, the poses by one that has their own, the rest straight. Its error is of the fourth order.
func (r *Run) interpolate(x, h float64, s *state) {
	a, b, c, d := cubic(x, h)
	for i := range s.water {
		s.water[i] = a*r.now.water[i] + b*r.next.water[i]
		s.head[i] = (1-x)*r.now.head[i] + x*r.next.head[i]
		s.excess[i] = a*r.now.excess[i] + b*r.next.excess[i]
	}
	r.addFlows(s.water, r.now.rate, c)
	r.addFlows(s.water, r.next.rate, d)
	r.addAir(s.excess, r.now.rate, r.now.gust, c)
	r.addAir(s.excess, r.next.rate, r.next.gust, d)
	for i := range s.water {
		s.water[i] = max(0, s.water[i])
	}
	r.pressurise(s)
	for j := range s.rate {
		s.rate[j] = (1-x)*r.now.rate[j] + x*r.next.rate[j]
		s.speed[j] = (1-x)*r.now.speed[j] + x*r.next.speed[j]
		s.gust[j] = (1-x)*r.now.gust[j] + x*r.next.gust[j]
		s.blow[j] = (1-x)*r.now.blow[j] + x*r.next.blow[j]
	}
	for k := range s.pose {
		s.pose[k] = r.poseWithin(k, x, h)
	}
	r.interpolateMotion(x, h, s)
	s.time = r.now.time + x*h
}

// cubic gives Hermite's weights at a share x of a step: of the values at its ends, and of their rates of change.
func cubic(x, h float64) (a, b, c, d float64) {
	return (1 + 2*x) * (1 - x) * (1 - x), x * x * (3 - 2*x), x * (1 - x) * (1 - x) * h, -x * x * (1 - x) * h
}

// poseWithin is a body's pose at a share x of the step from r.now to r.next.
func (r *Run) poseWithin(k int, x, h float64) compartment.Pose {
	a, b, c, d := cubic(x, h)
	p, q := &r.now.pose[k], &r.next.pose[k]
	u, w := &r.now.turning[k], &r.next.turning[k]
	up := r3.Add(r3.Scale(a, p.Up), r3.Scale(b, q.Up))
	up = r3.Add(up, r3.Add(r3.Scale(c, u.Up), r3.Scale(d, w.Up)))
	return compartment.Pose{Up: r3.Unit(up), Sea: a*p.Sea + b*q.Sea + c*u.Sea + d*w.Sea}
}
