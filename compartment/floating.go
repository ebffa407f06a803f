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
	Still             *StillWater   // bending and shear of a body of several pieces, and of the whole; nil where it does not float, and of a piece alone
	Aboard            []SpaceWater  // the waters that it was floated with at a stage of a run; nil: as at the start
}

// SpaceWater is the water in a space, m³. Open: the space is open to the sea, which the water belongs to.
type SpaceWater struct {
	Name   string
	Volume float64
	Open   bool
}

// FloatFrom is the float test of a body that a Floater holds, with m³ of water in each of its spaces and what is open to the sea as the
// Floater has it: the rest is that which it goes to from a pose. air: gauge pressures in the spaces, Pa, for the loads at its joints; nil: 0.
// Marks count where they lie on the body, else they are NaN.
func (v *Vessel) FloatFrom(f *Floater, name string, from Pose, water, air []float64) Floating {
	seek := func(g *Floater) Rest { return g.Settle(from, water, FallStride, nil) }
	body := f.Body
	t := v.floating(f, name, seek(f), water, floatWays{seek: seek, later: true, loads: body == v.Whole || body.Last > body.First, air: air})
	if t.Pose.Steep() { // heel says nothing there, nor does a curve over it
		t.Arms, t.RangeOfStability = nil, nan
	}
	lo, hi := body.Form.Bounds()
	for i, m := range v.Marks {
		if m.At.X < lo.X-plateReach || m.At.X > hi.X+plateReach {
			t.Marks[i] = nan
		}
	}
	if t.Floats {
		var b Balance
		f.Balance(t.Pose, water, &b)
	}
	t.takeAboard(f)
	return t
}

// takeAboard puts the waters down as the last Balance left them; open to the sea in a body without a rest, a space is full.
func (t *Floating) takeAboard(f *Floater) {
	t.Aboard = []SpaceWater{}
	for i, s := range f.Body.Spaces {
		volume := f.surfaces[i].Volume
		if f.isOpen(i) && !t.Floats {
			volume = s.Capacity()
		}
		t.Aboard = append(t.Aboard, SpaceWater{s.Name, volume, f.isOpen(i)})
	}
}

// FloatSunk is that of a body that has foundered: mass and centre with the water in it, and no rest.
func (v *Vessel) FloatSunk(f *Floater, name string, water []float64) Floating {
	none := func(*Floater) Rest { return Rest{} }
	t := v.floating(f, name, Rest{}, water, floatWays{seek: none, later: true})
	t.takeAboard(f)
	return t
}
