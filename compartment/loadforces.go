package compartment

import (
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// upward is a sum of vertical forces, N, with their first moment about the origin, Σ F x, N·m; and of a body in motion what its masses, going
// along the sea, add to that: a force across up, N, and its moment about the origin, N·m.
type upward struct {
	force        float64
	first        r3.Vec
	across, turn r3.Vec
}

func (u upward) plus(o upward) upward {
	return upward{u.force + o.force, r3.Add(u.first, o.first), r3.Add(u.across, o.across), r3.Add(u.turn, o.turn)}
}

func (u upward) times(f float64) upward {
	return upward{f * u.force, r3.Scale(f, u.first), r3.Scale(f, u.across), r3.Scale(f, u.turn)}
}

// load is what the forces before a plane across x make there: see Load. A moment about up is left out, which no vertical force makes: the
// motion has no turn about it either, so that it is nobody's.
func (u upward) load(up r3.Vec, x float64) Load {
	arm := u.first
	arm.X -= x * u.force
	moment := r3.Cross(arm, up)
	if u.across != (r3.Vec{}) || u.turn != (r3.Vec{}) {
		turn := r3.Sub(u.turn, r3.Cross(r3.Vec{X: x}, u.across))
		moment = r3.Add(moment, r3.Sub(turn, r3.Scale(r3.Dot(turn, up), up)))
	}
	return Load{Bending: moment.Y, Shear: -u.force, Torsion: -moment.X}
}

// Motion is how a body moves, in body axes. With it the loads count the inertia of its masses and its floodwater (which goes
// with the body, each space's as a point at its centroid), not that of the water around it. Along the sea the centre of all masses has no
// acceleration, whatever Linear has there.
type Motion struct {
	Linear  r3.Vec // acceleration of the body's origin, m/s²
	Angular r3.Vec // angular acceleration, rad/s²
	Spin    r3.Vec // angular velocity, rad/s
}

// vertical is the upward acceleration of the body's points, which goes linearly with the place: at + along·x. From
// a = a₀ + α × x + ω × (ω × x) of a rigid body.
func (m *Motion) vertical(up r3.Vec) (at float64, along r3.Vec) {
	w := m.Spin
	along = r3.Add(r3.Cross(up, m.Angular), r3.Sub(r3.Scale(r3.Dot(up, w), w), r3.Scale(r3.Dot(w, w), up)))
	return r3.Dot(up, m.Linear), along
}

// sideways is the acceleration of a point across up, but for that of the origin.
func (m *Motion) sideways(up, x r3.Vec) r3.Vec {
	a := r3.Add(r3.Cross(m.Angular, x), r3.Cross(m.Spin, r3.Cross(m.Spin, x)))
	return r3.Sub(a, r3.Scale(r3.Dot(a, up), up))
}

// settle finds how fast the origin's going along the sea changes, so that the centre of all masses goes on as it went.
func (c *LoadCase) settle(centre r3.Vec) {
	if c.Motion != nil {
		c.drift = r3.Scale(-1, c.Motion.sideways(c.Pose.Up, centre))
	}
}

// weightOf is the weight of a mass, with its inertia where the body moves: −∫ (g + a) dm, and −∫ x (g + a) dm for the moment; across up
// −∫ a dm and −∫ x × a dm.
func (c *LoadCase) weightOf(m lump) upward {
	if c.Motion == nil {
		return upward{force: -hydro.Gravity * m.mass, first: r3.Scale(-hydro.Gravity, m.first)}
	}
	up := c.Pose.Up
	at, along := c.Motion.vertical(up)
	at += hydro.Gravity
	return upward{
		force:  -(at*m.mass + r3.Dot(along, m.first)),
		first:  r3.Scale(-1, r3.Add(r3.Scale(at, m.first), m.second.Apply(along))),
		across: r3.Scale(-1, r3.Add(r3.Scale(m.mass, c.drift), c.Motion.sideways(up, m.first))),
		turn:   r3.Scale(-1, r3.Add(r3.Cross(m.first, c.drift), c.turnOf(&m))),
	}
}

// turnOf is ∫ x × a dm with a across up, but for the origin's: a is linear in the place, and x xᵀ is summed up in the second moments.
func (c *LoadCase) turnOf(m *lump) (sum r3.Vec) {
	for _, e := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		sum = r3.Add(sum, r3.Cross(m.second.Apply(e), c.Motion.sideways(c.Pose.Up, e)))
	}
	return sum
}

// lastDrop, m³, is less than a load feels the inertia of; of so little the moment over the volume is no place, or no number.
const lastDrop = 1e-15

// waterOf is the same for m³ of floodwater with their first moment; weight: of a cubic metre, N/m³.
func (c *LoadCase) waterOf(volume float64, moment r3.Vec, weight float64) upward {
	if c.Motion == nil || !(volume > lastDrop) {
		return upward{force: volume, first: moment}.times(-weight)
	}
	return c.weightOf(lumpAt(weight/hydro.Gravity*volume, r3.Scale(1/volume, moment), outer(r3.Vec{})))
}
