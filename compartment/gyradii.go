package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Gyradii are a body's radii of gyration about the axes through its centre of mass along x and along y, without water aboard:
// in metres, and over its breadth and its length (the extents of its outer form). NaN where it has no mass.
type Gyradii struct {
	Roll, Pitch           float64 // m
	RollShare, PitchShare float64 // roll over breadth, pitch over length
}

// LeastRollShare is the roll gyradius over breadth under which a model is stiffer in roll than ships are: rules for flooding
// model tests ask for 0.35 to 0.40, and for 0.20 to 0.25 of the length in pitch (MT-11: IMO, model test method for damaged
// ro-ro passenger ships). The mark itself is our choice.
const LeastRollShare = 0.25

// Gyradii of the body. later: with the weights still to come.
func (body *Body) Gyradii(later bool) (g Gyradii) {
	l := body.lump(later)
	if !(l.mass > 0) {
		return Gyradii{nan, nan, nan, nan}
	}
	centre := r3.Scale(1/l.mass, l.first)
	about := l.second.Scale(1 / l.mass).Add(outer(centre).Scale(-1))
	lo, hi := body.Form.Bounds()
	g.Roll = math.Sqrt(math.Max(about.YY+about.ZZ, 0))
	g.Pitch = math.Sqrt(math.Max(about.XX+about.ZZ, 0))
	g.RollShare, g.PitchShare = g.Roll/(hi.Y-lo.Y), g.Pitch/(hi.X-lo.X)
	return g
}
