package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pose is how a body lies: the water plane seen from the body. Yaw and drift do not matter, and there is no angle
// singularity: a section that stands on end is as ordinary as one on an even keel.
type Pose struct {
	Up  r3.Vec  // unit vector that points up, in body axes
	Sea float64 // the sea's surface is Up·x = Sea
}

// Upright is the pose on an even keel at a draft.
func Upright(draft float64) Pose { return Pose{Up: r3.Vec{Z: 1}, Sea: draft} }

// Height of a point of the body above the sea surface, m.
func (p Pose) Height(x r3.Vec) float64 { return r3.Dot(p.Up, x) - p.Sea }

// Trim is −asin u_x, positive by the head, rad in [−π/2, π/2].
func (p Pose) Trim() float64 { return -math.Asin(max(-1, min(1, p.Up.X))) }

// Heel is atan2(u_y, u_z), positive to starboard, rad in (−π, π]. While |trim| > 60° it says nothing.
func (p Pose) Heel() float64 {
	if p.Up.Z < 0 && math.Abs(p.Up.Y) < 1e-12 {
		return math.Pi // not −π, whichever way rounding leans
	}
	return math.Atan2(p.Up.Y, p.Up.Z)
}

// Steep tells whether |trim| > 60°, where heel says nothing.
func (p Pose) Steep() bool { return math.Abs(p.Up.X) > sin60 }

const sin60 = 0.86602540378443864676

// Inclined is the up direction at a heel and a trim.
func Inclined(heel, trim float64) r3.Vec {
	return r3.Vec{X: -math.Sin(trim), Y: math.Cos(trim) * math.Sin(heel), Z: math.Cos(trim) * math.Cos(heel)}
}

// Tangents are two unit vectors across up. The first lies in the plane of symmetry whenever up does, and the second is then
// exactly athwartships: a symmetric body in a symmetric pose has residuals of exactly zero in it.
func Tangents(up r3.Vec) (pitch, roll r3.Vec) {
	side := r3.Vec{Y: 1}
	if math.Abs(up.Y) > 0.9 {
		side = r3.Vec{X: 1}
	}
	pitch = r3.Unit(r3.Cross(side, up))
	return pitch, r3.Cross(up, pitch)
}

// Turned is the pose after a step along the great circle through Up: a radians along pitch, b along roll, and the sea higher
// by rise.
func (p Pose) Turned(pitch, roll r3.Vec, a, b, rise float64) Pose {
	angle := math.Hypot(a, b)
	if angle == 0 {
		return Pose{Up: p.Up, Sea: p.Sea + rise}
	}
	toward := r3.Scale(math.Sin(angle)/angle, r3.Add(r3.Scale(a, pitch), r3.Scale(b, roll)))
	up := r3.Add(r3.Scale(math.Cos(angle), p.Up), toward)
	return Pose{Up: r3.Unit(up), Sea: p.Sea + rise}
}
