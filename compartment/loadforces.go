package compartment

import (
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// upward is a sum of vertical forces, N, with their first moment about the origin, Σ F x, N·m.
type upward struct {
	force float64
	first r3.Vec
}

func (u upward) plus(o upward) upward { return upward{u.force + o.force, r3.Add(u.first, o.first)} }

func (u upward) times(f float64) upward { return upward{f * u.force, r3.Scale(f, u.first)} }

// load is what the forces before a plane across x make there: see Load.
func (u upward) load(up r3.Vec, x float64) Load {
	arm := u.first
	arm.X -= x * u.force
	moment := r3.Cross(arm, up)
	return Load{Bending: moment.Y, Shear: -u.force, Torsion: -moment.X}
}

// Motion is how a body moves, in body axes. With it the loads count the inertia of its masses and its floodwater (which goes
// with the body, each space's as a point at its centroid), not that of the water around it.
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

// weightOf is the weight of a mass, with its inertia where the body moves: −∫ (g + a) dm, and −∫ x (g + a) dm for the moment.
func (c *LoadCase) weightOf(m lump) upward {
	g, along := hydro.Gravity, r3.Vec{}
	if c.Motion != nil {
		at, slope := c.Motion.vertical(c.Pose.Up)
		g, along = g+at, slope
	}
	return upward{
		force: -(g*m.mass + r3.Dot(along, m.first)),
		first: r3.Scale(-1, r3.Add(r3.Scale(g, m.first), m.second.Apply(along))),
	}
}

// lastDrop, m³, is less than a load feels the inertia of; of so little the moment over the volume is no place, or no number.
const lastDrop = 1e-15

// waterOf is the same for m³ of floodwater with their first moment; weight: of a cubic metre, N/m³.
func (c *LoadCase) waterOf(volume float64, moment r3.Vec, weight float64) upward {
	if c.Motion == nil || !(volume > lastDrop) {
		return upward{volume, moment}.times(-weight)
	}
	return c.weightOf(lumpAt(weight/hydro.Gravity*volume, r3.Scale(1/volume, moment), outer(r3.Vec{})))
}
