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

	Verdict           Verdict
	Arms              *Arms         // nil where it does not float, or weighs nothing
	Loll              float64       // the heel at rest where GMUpright < 0 and it still lies on its keel's side; NaN elsewhere
	Lowest, LowestDry OpeningHeight // the lowest of the listed openings to the outside, and the lowest that is over the sea
	Holds             float64       // m³ of the outer form below the sea's plane
	SpacesHold        []SpaceHold   // m³ of water that each space takes up to that plane
	Waters            []InWater     // how it floats in fresh water and in sea water
	Still             *StillWater   // bending and shear of the whole; nil where it does not float, and of a section alone
}
