package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rest is where a body comes to rest: a minimum of its potential energy.
type Rest struct {
	Pose      Pose
	Stable    bool    // a minimum was reached; false: there is none (it sinks), or it was not found
	Sunk      bool    // it went down, all of it under water, and there is no rest below
	Stopped   bool    // by the caller, on the way
	Stiffness float64 // the least eigenvalue of the energy's second derivative in the metric of mass and gyradii, × Length; > 0
	Queries   int     // plane queries of the form
}

// Strides of a search, rad: how far one step may turn the body. A search takes Newton's step where it may; a fall goes in
// small steps along the steepest descent in the metric of the body's mass, as the body itself would creep.
const (
	SearchStride = 0.5
	FallStride   = 0.04
)

// poseTolerance is how far from the minimum a rest may be, rad, and as a share of the length: 1e-12 is twenty times the
// rounding of a residual (1e-16 of volume × length, over a stiffness that is a few hundredths of it).
const poseTolerance = 1e-12

const maxRestSteps = 400

// Settle finds the rest that a body goes to from a pose, with the water in its spaces given and running to its level on
// the way. stride: the longest turn in one step, rad; watch: called with every pose on the way, may be nil.
// Where both sides are equal it goes to starboard, where both ends are, by the head.
func (f *Floater) Settle(start Pose, water []float64, stride float64, watch func(Pose)) Rest {
	if f.Room(water) <= 0 {
		return Rest{Pose: start}
	}
	return f.SettleWhile(start, water, stride, func(p Pose) bool {
		if watch != nil {
			watch(p)
		}
		return true
	})
}

// SettleWhile is Settle for as long as a condition holds, which is asked with every pose on the way. A body that can displace less
// than its load goes down.
func (f *Floater) SettleWhile(start Pose, water []float64, stride float64, condition func(Pose) bool) Rest {
	queries := f.HullQueries
	d := descent{f: f, water: water, stride: stride}
	d.begin(start)
	var rest Rest
	for range maxRestSteps {
		if d.step() {
			break
		}
		if rest.Stopped = !condition(d.here.Pose); rest.Stopped {
			break
		}
		if rest.Sunk = d.sunk(); rest.Sunk {
			break
		}
	}
	rest.Pose, rest.Stable, rest.Stiffness, rest.Queries = d.end, d.done, d.soft*f.length, f.HullQueries-queries
	return rest
}

// sunk tells that the body is well under water and heavier than what it displaces: since air only yields with depth, it goes on
// down.
func (d *descent) sunk() bool {
	_, high := d.f.Body.Form.Reach(d.here.Pose.Up)
	return d.here.Pose.Sea-high > sunkShare*d.f.length && d.here.Displaced < d.here.Load
}

// sunkShare of the length is how far under water a step towards a rest near the surface does not lead.
const sunkShare = 0.25

// descent is a walk down the energy.
type descent struct {
	f      *Floater
	water  []float64
	stride float64 // longest turn allowed
	radius float64 // longest turn trusted now
	here   Balance
	next   Balance
	end    Pose
	last   float64 // size of the last full Newton step, 0: none
	soft   float64 // least eigenvalue here
	done   bool
}

func (d *descent) begin(start Pose) {
	d.radius = d.stride
	d.f.Balance(start, d.water, &d.here)
	d.end = start
}

// step goes one step down, and tells whether the walk is over.
func (d *descent) step() bool {
	m := newMetric(d.f, &d.here)
	move, newton := m.descend(&d.here, d.radius)
	d.soft = m.value[0]
	size := m.size(move)
	target := d.here.Pose.Turned(d.here.Pitch, d.here.Roll, move[0], move[1], move[2])
	if newton && (size < poseTolerance || d.provenClose(size)) {
		d.end, d.done = target, true
		return true
	}
	d.f.Balance(target, d.water, &d.next)
	slack := 1e-13 * d.here.Load * d.f.length
	if d.next.Energy > d.here.Energy+slack && size > 1e-7 {
		d.radius = math.Min(d.radius, size) / 4
		d.last = 0
		return d.radius < 1e-9
	}
	d.radius = math.Min(2*d.radius, d.stride)
	d.last = 0
	if newton {
		d.last = size
	}
	d.here, d.next = d.next, d.here
	d.end = d.here.Pose
	return false
}

// provenClose tells that the pose after a Newton step of this size is within tolerance without asking the solid: the steps
// shrink quadratically with the constant that the last two show, taken four times over.
func (d *descent) provenClose(size float64) bool {
	if d.last == 0 || size > 1e-3 || d.last > 0.1 {
		return false
	}
	constant := math.Max(4*size/(d.last*d.last), 1)
	return constant*size*size < poseTolerance
}

// metric is the energy's second derivative seen in the metric of the body's mass: turning is measured by gyradii.
type metric struct {
	chol   [3][3]float64 // lower factor of the mass matrix over ρ
	value  [3]float64    // eigenvalues, ascending, 1/m
	vector [3][3]float64 // eigenvectors, rows
	length float64
	arm    [2]float64 // how much the body's centre rises by the two turns, m
}

// newMetric takes the eigenvalues of the Hessian of b in the metric of f's mass.
func newMetric(f *Floater, b *Balance) metric {
	m := metric{length: f.length, arm: [2]float64{r3.Dot(b.Pitch, f.Centre), r3.Dot(b.Roll, f.Centre)}}
	m.chol = cholesky3(f.massMatrix(b))
	h := b.Hessian
	for i := range 3 { // h ← L⁻¹ h
		col := m.forward([3]float64{h[0][i], h[1][i], h[2][i]})
		h[0][i], h[1][i], h[2][i] = col[0], col[1], col[2]
	}
	for i := range 3 { // h ← h L⁻ᵀ
		h[i] = m.forward(h[i])
	}
	h[1][0], h[2][0], h[2][1] = h[0][1], h[0][2], h[1][2]
	m.value, m.vector = eigen3(h)
	return m
}

// massMatrix is the generalised mass over ρ of a turn along pitch, one along roll and a rise of the sea, m⁵, m⁴ and m³. The
// gyradii are at least a hundredth of the length: a point mass would turn at no cost.
func (f *Floater) massMatrix(b *Balance) [3][3]float64 {
	j := f.Inertia.Add(outer(f.Centre).Scale(-f.Mass))
	mass := math.Max(f.Mass, 1e-6*f.Density*f.Body.Form.Volume())
	least := mass * f.length * f.length * 1e-4
	trace := j.XX + j.YY + j.ZZ
	jr, jp := j.Apply(b.Roll), j.Apply(b.Pitch)
	gp, gr := r3.Dot(b.Pitch, f.Centre), r3.Dot(b.Roll, f.Centre)
	m := [3][3]float64{
		{trace - r3.Dot(b.Roll, jr) + least + mass*gp*gp, r3.Dot(b.Roll, jp) + mass*gp*gr, -mass * gp},
		{0, trace - r3.Dot(b.Pitch, jp) + least + mass*gr*gr, -mass * gr},
		{0, 0, mass},
	}
	m[1][0], m[2][0], m[2][1] = m[0][1], m[0][2], m[1][2]
	for i := range 3 {
		for k := range 3 {
			m[i][k] /= f.Density
		}
	}
	return m
}

// descend is the step down from b: Newton's where the energy is convex and the step short enough, else one bent towards the
// steepest descent until it is no longer than radius. newton tells which.
func (m *metric) descend(b *Balance, radius float64) (move [3]float64, newton bool) {
	g := m.forward(b.Gradient)
	var along [3]float64 // the gradient along the eigenvectors
	for i := range 3 {
		along[i] = m.vector[i][0]*g[0] + m.vector[i][1]*g[1] + m.vector[i][2]*g[2]
	}
	stiff := math.Max(math.Max(math.Abs(m.value[0]), m.value[2]), 1e-3/m.length)
	if m.value[0] > 1e-13*stiff {
		move = m.step(along, 0)
		if m.size(move) <= radius {
			return move, true
		}
	}
	shift := 0.0
	if math.Abs(m.value[0]) < 1e-6*stiff {
		shift = 1e-6 * stiff
	}
	for range 60 {
		move = m.step(along, shift)
		if m.size(move) <= radius {
			break
		}
		shift = math.Max(2*shift, 1e-6*stiff)
	}
	if m.value[0] < 0 && m.size(move) < 1e-6 {
		return m.leave(b, radius/4), false
	}
	return move, false
}

// step is −(|H| + shift·M)⁻¹ g in the coordinates of the balance: where the energy falls away to both sides the step is as
// long as Newton's, but down. It does no more than double a distance from the ridge, so that rounding decides nothing.
func (m *metric) step(along [3]float64, shift float64) [3]float64 {
	var y [3]float64
	for i := range 3 {
		c := -along[i] / (math.Abs(m.value[i]) + shift)
		for k := range 3 {
			y[k] += c * m.vector[i][k]
		}
	}
	return m.backward(y)
}

// leave is a step off an unstable rest, along the softest way, to starboard; where that does not heel, by the head.
func (m *metric) leave(b *Balance, size float64) [3]float64 {
	move := m.backward(m.vector[0])
	scale := size / math.Max(math.Hypot(move[0], move[1]), 1e-300)
	to := r3.Add(r3.Scale(move[0], b.Pitch), r3.Scale(move[1], b.Roll))
	if to.Y < -1e-9*r3.Norm(to) || math.Abs(to.Y) <= 1e-9*r3.Norm(to) && to.X > 0 {
		scale = -scale
	}
	for i := range 3 {
		move[i] *= scale
	}
	return move
}

// size is how far a move turns the body, rad, or lifts its centre, as a share of its length. A small section may lie far from the origin,
// which a turn takes many times its own length up or down.
func (m *metric) size(move [3]float64) float64 {
	lift := move[2] - m.arm[0]*move[0] - m.arm[1]*move[1]
	return math.Max(math.Hypot(move[0], move[1]), math.Abs(lift)/m.length)
}

// forward solves L y = x.
func (m *metric) forward(x [3]float64) [3]float64 {
	x[0] /= m.chol[0][0]
	x[1] = (x[1] - m.chol[1][0]*x[0]) / m.chol[1][1]
	x[2] = (x[2] - m.chol[2][0]*x[0] - m.chol[2][1]*x[1]) / m.chol[2][2]
	return x
}

// backward solves Lᵀ x = y.
func (m *metric) backward(y [3]float64) [3]float64 {
	y[2] /= m.chol[2][2]
	y[1] = (y[1] - m.chol[2][1]*y[2]) / m.chol[1][1]
	y[0] = (y[0] - m.chol[1][0]*y[1] - m.chol[2][0]*y[2]) / m.chol[0][0]
	return y
}

// cholesky3 is the lower factor of a positive definite matrix.
func cholesky3(a [3][3]float64) (l [3][3]float64) {
	for i := range 3 {
		for k := range i + 1 {
			sum := a[i][k]
			for n := range k {
				sum -= l[i][n] * l[k][n]
			}
			if i == k {
				l[i][i] = math.Sqrt(sum)
			} else {
				l[i][k] = sum / l[k][k]
			}
		}
	}
	return l
}

// Stiffness is the least eigenvalue of the energy's second derivative at a balance in the metric of mass and gyradii,
// × Length: positive at a stable rest.
func (f *Floater) Stiffness(b *Balance) float64 {
	m := newMetric(f, b)
	return m.value[0] * f.length
}
