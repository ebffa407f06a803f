package compartment

import "gonum.org/v1/gonum/spatial/r3"

// Floating is a float test: how a body lies at rest and how firmly. Lengths in m, angles in rad; NaN where a number does
// not apply (all of the attitude where Floats is false).
type Floating struct {
	Name                string // "hull", "hull+later", or a piece's name
	Floats              bool   // false: it is heavier than the water it can displace
	Mass                float64
	Centre              r3.Vec // of Mass with the floodwater, in body axes
	Pose                Pose
	Trim, Heel          float64 // positive by the head, positive to starboard
	DraftFore, DraftAft float64 // at the ends of the keel line
	Freeboard           float64 // least vertical height of the deck edge over the sea
	GMTransverse        float64 // at rest, with the floodwater's free surfaces; NaN while |trim| > 60°
	GMLongitudinal      float64
	GMUpright           float64   // at zero heel and the trim at rest there
	RangeOfStability    float64   // rad: heel at which the righting arm first vanishes, less the heel at rest
	Marks               []float64 // depth of each of Vessel.Marks below the sea
}
