package flood

import "github.com/byhead/byhead/compartment"

// Sample is the state at one instant, as a row of the trace. Angles in rad.
type Sample struct {
	Time     float64
	Event    bool // made because of an event at this time
	Bodies   []BodySample
	Spaces   []SpaceSample // and the parts, by where the water lies, of those that a joint's plane divides and that are whole yet
	Joints   []JointSample
	Passages []PassageSample
}

// BodySample is how a body lies. Present is false before it exists and afterwards.
type BodySample struct {
	Name                string
	Present             bool
	Sinkage, Trim, Heel float64
	DraftFore, DraftAft float64
	Displaced           float64 // m³
	Pose                compartment.Pose
	GM                  float64 // m, transverse, at this attitude; NaN while |trim| > 60°, and of what displaces nothing, as it leaps out of the water
	Freeboard           float64 // m, least height of the deck edge over the sea
}

// SpaceSample is the water and air in a space. Air is the gauge pressure at the top, Pa.
type SpaceSample struct {
	Name              string
	Water, Depth, Air float64
	Level             float64 // height of the surface along the body's Pose.Up, m above the origin; its lowest point where it is dry
	Full              bool
}

// JointSample is the load at a joint; Present is false after the parting. Loads are NaN while its body stands on the pool's floor: how that
// bears it is not known.
type JointSample struct {
	Name                                      string
	Present                                   bool
	Bending, Shear, Torsion, Axial, EndMoment float64
}

// PassageSample is what flows through an opening, m³/s.
type PassageSample struct {
	Name       string
	Water, Air float64
}
