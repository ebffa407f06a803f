package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// Free motion is Lagrange's equations of every body,
//
//	d/dt ∂T/∂q̇ = −∂E/∂q + ∂T/∂q + damping + floor
//
// in the three coordinates of a chart that is laid anew at the start of every step, with T of kinetics.go and E the energy
// whose minimum is a rest; all over ρg. In an implicit stage the velocity is (q − what the earlier stages make of q)/hg, so
// that the pose stays the only unknown, and the equation is that of a rest with inertia and damping added to its stiffness:
// the longer the step, the more the body just stands in its rest.

// mover is what a body's motion needs.
type mover struct {
	around *compartment.Surround // nil: it sets nothing against it
	floor  floor
	chart
	kinetics
	begun, landed footing            // at the start and at the end of the attempted step
	rate, push    [stages][3]float64 // of the coordinates, and of their momenta, in each stage
	place         [3]float64         // what the present stage starts from
	momentum      [3]float64
	trial         thrust // of the last iteration
}

// footing is the state of a body's motion between steps, along the tangents of its pose.
type footing struct {
	Momentum, Push [3]float64 // over ρg: m⁴s, m⁴s, m³s, and their rates of change
	Mass           [3][3]float64
	Pressed        float64 // what the floor bears, m³ of water's weight
}

// thrust is what an iteration found at a trial pose, in the chart but for what is said.
type thrust struct {
	at, momentum, push [3]float64
	taken              [3]float64    // of the momentum by water that leaves, along the tangents: no force on what stays
	slopes             [2][2]float64 // of the tangents by the coordinates
	mass               [3][3]float64 // along the tangents
	drag, stiff        [3][3]float64 // how the damping falls with the velocity, and the floor's force with the pose: along the tangents
	pressed            float64
}

// free tells whether bodies move with inertia; rests, whether each stands in its rest at every instant.
func (r *Run) free() bool  { return r.set.Motion == Free }
func (r *Run) rests() bool { return r.set.Motion == Settled }

// newMover makes what a body of the run needs to move.
func (r *Run) newMover(b *compartment.Body) *mover {
	if !r.free() {
		return nil
	}
	m := &mover{floor: newFloor(b, r.vessel)}
	if r.factors != (compartment.MotionFactors{}) {
		m.around = r.vessel.NewSurround(b, r.factors)
	}
	return m
}

// factors are those of the settings on what the sea sets against motion.
func (s *Settings) factors() compartment.MotionFactors {
	f := compartment.DocumentedMotion
	for _, one := range [3]struct{ to, from *float64 }{
		{&f.AddedMass, s.AddedMass}, {&f.LinearDamping, s.LinearDamping}, {&f.QuadraticDamping, s.QuadraticDamping},
	} {
		if one.from != nil {
			*one.to = *one.from
		}
	}
	return f
}

// thrusts finds momentum and forces of a body at the pose of its balance, for coordinates and a velocity in its chart.
func (r *Run) thrusts(k int, q, v [3]float64) {
	b := &r.bodies[k]
	m := b.mover
	t := &m.trial
	*t = thrust{at: q}
	p := &b.balance.Pose
	m.takeMasses(b, func(local int) bool { return r.movesWater(b, local) }, r.weight)
	if m.around != nil {
		m.around.Immerse(*p)
		m.takeAdded(m.around, r.weight)
	}
	var ways [3][6]float64
	t.mass, ways = m.inertia()
	t.slopes = m.slopes(q, p.Up, b.balance.Pitch, b.balance.Roll)
	along := forward(&t.slopes, v)
	push := r3x(-1, b.balance.Gradient)
	r.resist(m, &ways, along, &push)
	t.pressed = m.floor.press(&b.balance, along, &push, &t.stiff, &t.drag)
	r.takeAlong(b, &ways, along, t)
	t.momentum = pullBack(&t.slopes, times(&t.mass, along))
	t.push = pullBack(&t.slopes, push)
	for c, f := range m.energySlope(q, v, b.floater.Length()) {
		t.push[c] += f
	}
}

// movesWater tells whether water in a space moves along with its body. Of less than leastDrop of the space, such as what is left where all
// has run out, rounding has the centre anywhere: its first moment is known to the rounding of the whole space's only.
func (r *Run) movesWater(b *body, local int) bool {
	sp := &r.spaces[b.spaces[local]]
	return !sp.open && b.floater.Surfaces()[local].Volume > leastDrop*sp.capacity
}

// leastDrop is far more than the rounding of a space's moments and no weight to speak of.
const leastDrop = 1e-12

// resist adds the water's damping to the forces along the tangents.
func (r *Run) resist(m *mover, ways *[3][6]float64, along [3]float64, push *[3]float64) {
	if m.around == nil {
		return
	}
	var velocity, force [6]float64
	var slope [6][6]float64
	for a := range ways {
		for i, x := range ways[a] {
			velocity[i] += along[a] * x
		}
	}
	m.around.Damp(velocity, &force, &slope)
	for a := range ways {
		for i, x := range ways[a] {
			push[a] += x * force[i] / r.weight
		}
		for c := range ways {
			m.trial.drag[a][c] -= product(&ways[a], &slope, &ways[c]) / r.weight
		}
	}
}

// energySlope is ∂T/∂q, by differences of what is linear in the pose but for the turn of the axes.
func (m *mover) energySlope(q, v [3]float64, length float64) (slope [3]float64) {
	if v == ([3]float64{}) {
		return slope
	}
	const small = 1e-4
	for c, step := range [3]float64{small, small, small * length} {
		var t [2]float64
		for side, sign := range [2]float64{-1, 1} {
			there := q
			there[c] += sign * step
			pose, fast := m.pose(there, v)
			t[side] = m.energy(pose.Up, pose.Sea, fast)
		}
		slope[c] = (t[1] - t[0]) / (2 * step)
	}
	return slope
}

// beginMotion lays the charts for a step from the present state.
func (r *Run) beginMotion() {
	if !r.free() {
		return
	}
	for k := range r.bodies {
		if m := r.bodies[k].mover; !r.bodies[k].gone {
			m.chart = chartAt(r.now.pose[k])
			m.rate[0] = m.alongTangents(r.now.turning[k])
			m.push[0] = m.begun.Push
		}
	}
}

// alongTangents are a pose's rates of change along the tangents at the chart's middle.
func (c *chart) alongTangents(rate compartment.Pose) [3]float64 {
	return [3]float64{r3.Dot(rate.Up, c.pitch), r3.Dot(rate.Up, c.roll), rate.Sea}
}

// baseMotion sets what stage i starts from.
func (r *Run) baseMotion(i int, h float64) {
	if !r.free() {
		return
	}
	for k := range r.bodies {
		if m := r.bodies[k].mover; !r.bodies[k].gone {
			m.place, m.momentum = [3]float64{}, m.begun.Momentum
			for j := range i {
				for c := range 3 {
					m.place[c] += h * weights[i][j] * m.rate[j][c]
					m.momentum[c] += h * weights[i][j] * m.push[j][c]
				}
			}
		}
	}
}

// enterMotion puts inertia, damping and the floor into a body's equations, in which its rest's are already.
func (r *Run) enterMotion(k int) {
	e, b := &r.eq, &r.bodies[k]
	if e.hg == 0 { // the pose is given, and the flows are sought
		for a := range 3 {
			clear(e.row[3*k+a])
			clear(e.schur[(3*k+a)*len(e.turn) : (3*k+a+1)*len(e.turn)])
		}
		r.enterFixed(k)
		return
	}
	m := b.mover
	q := m.places(b.balance.Pose)
	r.thrusts(k, q, r3x(1/e.hg, minus(q, m.place)))
	var lack [3]float64
	taken := pullBack(&m.trial.slopes, m.trial.taken)
	for c := range 3 {
		lack[c] = m.trial.push[c] + taken[c] - (m.trial.momentum[c]-m.momentum[c])/e.hg
	}
	lack = pushForward(&m.trial.slopes, lack)
	n := len(e.turn)
	for a := range 3 {
		e.turn[3*k+a] = lack[a]
		for c := range 3 {
			e.schur[(3*k+a)*n+3*k+c] += m.trial.mass[a][c]/(e.hg*e.hg) + m.trial.drag[a][c]/e.hg + m.trial.stiff[a][c]
		}
	}
}

// accountMotion keeps the velocity and the force of a stage, as its last change of the pose leaves them.
func (r *Run) accountMotion(i int, hg float64, s *state) {
	if !r.free() {
		return
	}
	for k := range r.bodies {
		m := r.bodies[k].mover
		if r.bodies[k].gone {
			continue
		}
		q := m.places(s.pose[k])
		m.rate[i] = r3x(1/hg, minus(q, m.place))
		more := pullBack(&m.trial.slopes, times(&m.trial.mass, forward(&m.trial.slopes, r3x(1/hg, minus(q, m.trial.at)))))
		for c := range 3 {
			m.push[i][c] = (m.trial.momentum[c] + more[c] - m.momentum[c]) / hg
		}
	}
}

// land finds the velocities at the end of an attempted step whose last stage is i, and what the bodies stand on there.
func (r *Run) land(i int) {
	if !r.free() {
		return
	}
	for k := range r.bodies {
		m := r.bodies[k].mover
		if r.bodies[k].gone {
			continue
		}
		_, fast := m.pose(m.places(r.next.pose[k]), m.rate[i])
		r.next.turning[k] = compartment.Pose{Up: fast.up, Sea: fast.sea}
		at := m.chart
		m.landed = r.stand(k, &r.next)
		m.chart = at
	}
}

// stand finds a body's footing in a state, and its acceleration there.
func (r *Run) stand(k int, s *state) footing {
	b := &r.bodies[k]
	m := b.mover
	b.floater.Balance(s.pose[k], r.loadBody(k, s), &b.balance)
	m.chart = chart{s.pose[k], b.balance.Pitch, b.balance.Roll}
	r.countLeavingAt(s)
	v := m.alongTangents(s.turning[k])
	r.thrusts(k, [3]float64{}, v)
	t := &m.trial
	a, pivots := minus(t.push, m.momentumSlope(v)), [3]int{}
	mass := flat(&t.mass)
	solveDense(mass[:], a[:], pivots[:])
	up := r3.Add(r3.Scale(a[0], m.pitch), r3.Scale(a[1], m.roll))
	s.hastening[k] = compartment.Pose{Up: up, Sea: a[2]}
	b.soft = b.floater.Stiffness(&b.balance)
	r.gm[k], _ = b.floater.Metacentric(&b.balance)
	for c, x := range t.taken { // the slopes at the chart's middle are one
		t.push[c] += x
	}
	return footing{Momentum: t.momentum, Push: t.push, Mass: t.mass, Pressed: t.pressed}
}

// noSpeed is one whose square is nothing beside any force: velocities die away to the least numbers that there are, and their reciprocals
// are none.
const noSpeed = 1e-60

// momentumSlope is by how much the momenta grow as the masses go along at a velocity that stays, at the chart's middle.
func (m *mover) momentumSlope(v [3]float64) (slope [3]float64) {
	fast := math.Max(math.Hypot(v[0], v[1]), math.Abs(v[2]))
	if fast < noSpeed {
		return slope
	}
	small := 1e-4 / fast
	for _, sign := range [2]float64{-1, 1} {
		q := r3x(sign*small, v)
		for c := range 3 {
			var t [2]float64
			for side, more := range [2]float64{-1, 1} {
				w := v
				w[c] += more * math.Abs(small) // T is a square: this difference is exact
				pose, fast := m.pose(q, w)
				t[side] = m.energy(pose.Up, pose.Sea, fast)
			}
			slope[c] += sign * (t[1] - t[0]) / (2 * small) / (2 * small)
		}
	}
	return slope
}

// motionError is the largest error of a body's pose and velocity in the attempted step of length h: in rad, as shares of its
// length, and of what it would change by in the time in which water as deep as a twentieth of it falls.
func (r *Run) motionError(h float64) (worst float64) {
	if !r.free() {
		return 0
	}
	for k := range r.bodies {
		b := &r.bodies[k]
		if b.gone {
			continue
		}
		var place, speed [3]float64
		for j := range stages {
			d := h * (weights[stages-1][j] - embedded[j])
			for c := range 3 {
				place[c] += d * b.mover.rate[j][c]
				speed[c] += d * b.mover.push[j][c]
			}
		}
		mass, pivots := flat(&b.mover.begun.Mass), [3]int{}
		solveDense(mass[:], speed[:], pivots[:])
		length := b.floater.Length()
		off := math.Max(sizeOf(place, length), r.beat(b)*sizeOf(speed, length))
		if !math.IsNaN(r.sections[k].foundered) {
			off *= wreckShare
		}
		worst = math.Max(worst, off)
	}
	return worst / r.motionShare()
}

// motionShare of what a step may err by in a space's water is what it may err by in a pose.
func (r *Run) motionShare() float64 {
	if r.undamped() {
		return undampedShare
	}
	return dampedShare
}

// undamped tells that the caller has switched all damping off.
func (r *Run) undamped() bool {
	return r.free() && r.factors.LinearDamping == 0 && r.factors.QuadraticDamping == 0
}

// With dampedShare a swing of some degrees loses some millionths of displacement × length by the method in fifty periods,
// far less than by its damping; with undampedShare, where nothing but the method's own is left, no more
// than a millionth of its own energy.
//
// wreckShare of a foundered body's error counts: nothing hangs on its way to the floor.
const (
	wreckShare    = 1.0 / 10
	dampedShare   = 1.0
	undampedShare = 1.0 / 10000
)

// beat is a time to compare velocities by, s.
func (r *Run) beat(b *body) float64 { return math.Sqrt(b.floater.Length() / 20 / hydro.Gravity) }

// leastBeat is the least of those of the bodies that move; 0: none does.
func (r *Run) leastBeat() float64 {
	if !r.free() {
		return 0
	}
	least := math.Inf(1)
	for k := range r.bodies {
		if !r.bodies[k].gone {
			least = math.Min(least, r.beat(&r.bodies[k]))
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// sizeOf is the size of a change of pose, rad or share of the length.
func sizeOf(t [3]float64, length float64) float64 {
	return math.Max(math.Hypot(t[0], t[1]), math.Abs(t[2])/length)
}

func minus(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// r3x is f × a.
func r3x(f float64, a [3]float64) [3]float64 { return [3]float64{f * a[0], f * a[1], f * a[2]} }

func times(m *[3][3]float64, v [3]float64) (out [3]float64) {
	for a := range m {
		for c, x := range v {
			out[a] += m[a][c] * x
		}
	}
	return out
}

// guessMotion follows the bodies' motion for a first guess.
func (r *Run) guessMotion(duration float64, s *state) {
	if !r.free() {
		return
	}
	for k := range r.bodies {
		if m := r.bodies[k].mover; !r.bodies[k].gone {
			v, a := m.rate[0], m.alongTangents(r.now.hastening[k])
			var q [3]float64
			for c := range q {
				q[c] = duration * (v[c] + duration/2*a[c])
			}
			s.pose[k], _ = m.pose(q, v)
		}
	}
}

// drift moves the bodies by the velocities that they have for a very short time.
func (r *Run) drift(duration float64) {
	r.beginMotion()
	for k := range r.bodies {
		if m := r.bodies[k].mover; r.free() && !r.bodies[k].gone {
			pose, fast := m.pose(r3x(duration, m.rate[0]), m.rate[0])
			r.now.pose[k], r.now.turning[k] = pose, compartment.Pose{Up: fast.up, Sea: fast.sea}
		}
	}
}

// interpolateMotion sets rates of change at a share x of the step: those of the cubic by which the poses go, and what lies
// between their changes at both ends.
func (r *Run) interpolateMotion(x, h float64, s *state) {
	if !r.free() {
		return
	}
	between := func(x float64, p, q compartment.Pose) compartment.Pose {
		return compartment.Pose{Up: r3.Add(r3.Scale(1-x, p.Up), r3.Scale(x, q.Up)), Sea: (1-x)*p.Sea + x*q.Sea}
	}
	for k := range s.pose {
		p, q, u, w := &r.now.pose[k], &r.next.pose[k], &r.now.turning[k], &r.next.turning[k]
		a, c, d := 6*x*(1-x)/h, (1-x)*(1-3*x), -x*(2-3*x)
		up := r3.Add(r3.Scale(a, r3.Sub(q.Up, p.Up)), r3.Add(r3.Scale(c, u.Up), r3.Scale(d, w.Up)))
		across := r3.Sub(up, r3.Scale(r3.Dot(up, s.pose[k].Up), s.pose[k].Up))
		s.turning[k] = compartment.Pose{Up: across, Sea: a*(q.Sea-p.Sea) + c*u.Sea + d*w.Sea}
		s.hastening[k] = between(x, r.now.hastening[k], r.next.hastening[k])
	}
}

// asVelocity is how much more a change of pose in a stage is as a change of velocity.
func (r *Run) asVelocity(b *body, hg float64) float64 {
	if !r.free() || hg == 0 {
		return 1
	}
	return math.Max(1, r.beat(b)/hg) * dampedShare / r.motionShare()
}

// landed makes the footing at the end of the step that of the next one's start.
func (r *Run) landed() {
	if r.free() {
		for k := range r.bodies {
			r.bodies[k].mover.begun = r.bodies[k].mover.landed
		}
	}
}

// standUp finds every body's footing anew at the present state.
func (r *Run) standUp() {
	if !r.free() {
		return
	}
	for k := range r.bodies {
		if !r.bodies[k].gone {
			r.bodies[k].mover.begun = r.stand(k, &r.now)
		}
	}
}

// loadMotion is a body's motion as the loads at its joints count it; nil: it has none.
func (r *Run) loadMotion(k int, s *state) *compartment.Motion {
	if !r.free() {
		return nil
	}
	up, fast, faster := s.pose[k].Up, s.turning[k], s.hastening[k]
	return &compartment.Motion{
		Linear: r3.Scale(-faster.Sea, up), Angular: r3.Cross(faster.Up, up), Spin: r3.Cross(fast.Up, up),
	}
}
