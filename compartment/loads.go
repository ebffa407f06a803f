package compartment

import (
	"slices"

	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// Load is what a body bears at a plane across x: the sum of all that acts on the side before the plane. The signs are those
// of the scenario file's page: hogging (the deck in tension) positive, shear the force of the after side on the forward
// side, upward positive.
//
// With F the vertical forces on the forward side, up positive (weights, floodwater, buoyancy of the outer form closed by
// the plane, inertia), r their places seen from the keel-line point (y = z = 0) in the plane, and n the up direction in body
// axes, the moment of the forces is M = Σ F r × n, and
//
//	Shear = −ΣF,  Bending = M·e_y,  Torsion = −M·e_x
//
// so that on an even keel Bending = −ΣF x with x the distance forward of the plane. Statics of a free body; the same as the
// integrals of load and shear of ship beam theory where the hull lies level.
// In motion M also has, but for its part about n, −∫ r × a dm of the masses' acceleration along the sea; the shear stays that of the
// vertical forces.
type Load struct {
	Bending   float64 // N·m, hogging positive
	Shear     float64 // N
	Torsion   float64 // N·m, about the body's x axis through the keel-line point
	Axial     float64 // N, the sea's pressure on the plane less that of the water and the air inside; compression positive
	EndMoment float64 // N·m, of Axial about the height of the hinge; hogging positive, so that the sea's is negative
}

// LoadCase is how a body lies when its loads are asked for.
type LoadCase struct {
	Pose     Pose
	Surfaces []Surface // the waters in the body's spaces, at rest for Pose.Up: Floater.Surfaces after Levels, Level or Fill
	Air      []float64 // gauge pressure of the air in each of the body's spaces, or at the highest point of a full one, Pa; nil: 0
	Motion   *Motion   // nil: at rest

	drift r3.Vec // acceleration of the origin along the sea, in body axes: see settle
}

// Loads finds the loads of a body at its joints and at any other plane. It is a workspace: one goroutine's. What does not
// change with the pose (the parts of form, spaces and masses between the joints, the sections in their planes) is cut once.
type Loads struct {
	Body *Body

	vessel *Vessel
	weight float64 // of a cubic metre of water, N/m³
	pieces []loadPiece
	planes []loadPlane // in the planes of the body's joints
	sums   []upward    // of the pieces, in the last case
	masses *massLine
}

// loadPiece is what lies between two joints: its masses, what buoys it up, its shares of the spaces.
type loadPiece struct {
	mass  lump
	buoys []*solid.Solid // outer form and appendages
	parts []spacePart
}

// spacePart is what of a space of the body lies in a piece.
type spacePart struct {
	space    int          // in the body's list
	room     *solid.Solid // nil: the whole space lies in this piece
	fraction float64
}

// NewLoads makes a workspace for a body that is the whole of the vessel or some of its pieces in a row. later: weights that
// come later are aboard, as in NewFloater.
func (v *Vessel) NewLoads(b *Body, later bool) *Loads {
	l := &Loads{Body: b, vessel: v, weight: v.Water.Density * hydro.Gravity}
	for k := b.First; k <= b.Last; k++ {
		l.pieces = append(l.pieces, newLoadPiece(v.Pieces[k], b, k, later))
	}
	l.sums = make([]upward, len(l.pieces))
	for k := b.First; k < b.Last; k++ {
		j := &v.Spec.Joints[k]
		plane := v.newLoadPlane(b, l.outside(), j.At, j.Keeps)
		if j.Hinge != nil {
			plane.hinge = *j.Hinge
		}
		l.planes = append(l.planes, plane)
	}
	l.masses = v.newMassLine(b, later)
	return l
}

func newLoadPiece(piece, body *Body, k int, later bool) loadPiece {
	p := loadPiece{mass: piece.lump(later), buoys: []*solid.Solid{piece.Form}}
	if piece.Appendages != nil {
		p.buoys = append(p.buoys, piece.Appendages)
	}
	if later && piece.LaterAppendages != nil {
		p.buoys = append(p.buoys, piece.LaterAppendages)
	}
	for i, s := range body.Spaces {
		if s.Piece == k || piece == body {
			p.parts = append(p.parts, spacePart{space: i, fraction: s.Fraction})
			continue
		}
		at := slices.IndexFunc(piece.Spaces, func(x *Space) bool { return x.Index == s.Index })
		if s.Piece < 0 && at >= 0 {
			p.parts = append(p.parts, spacePart{i, piece.Spaces[at].Room, s.Fraction})
		}
	}
	return p
}

// lump is a body's mass without water. later: with the weights that come later.
func (body *Body) lump(later bool) lump {
	l := lump{body.Mass, r3.Scale(body.Mass, body.Centre), body.Inertia}
	if later {
		l = l.plus(body.laterLump())
	}
	return l
}

// laterLump is the mass that comes later.
func (body *Body) laterLump() lump {
	return lump{body.LaterMass, r3.Scale(body.LaterMass, body.LaterCentre), body.LaterInertia}
}

// outside are the appendages of all pieces.
func (l *Loads) outside() (all []*solid.Solid) {
	for i := range l.pieces {
		all = append(all, l.pieces[i].buoys[1:]...)
	}
	return all
}

// AtJoints finds the loads at the body's joints, from the stern: out[i] is that at joint Body.First + i of the vessel, and
// must have Body.Last − Body.First members. It costs one query of every piece and of every part of a divided space, and
// allocates nothing.
func (l *Loads) AtJoints(c *LoadCase, out []Load) {
	l.weigh(c)
	var ahead upward
	for i := len(l.planes) - 1; i >= 0; i-- {
		ahead = ahead.plus(l.sums[i+1])
		out[i] = ahead.load(c.Pose.Up, l.planes[i].at)
		out[i].Axial, out[i].EndMoment = l.planes[i].press(c, l.weight)
	}
}

// centre is that of all masses aboard, the waters among them.
func (l *Loads) centre(c *LoadCase) r3.Vec {
	var all lump
	for k := range l.pieces {
		m := &l.pieces[k].mass
		all.mass, all.first = all.mass+m.mass, r3.Add(all.first, m.first)
	}
	for i := range c.Surfaces {
		if w := &c.Surfaces[i]; w.Volume > lastDrop {
			all.mass += l.weight / hydro.Gravity * w.Volume
			all.first = r3.Add(all.first, r3.Scale(l.weight/hydro.Gravity, w.Moment))
		}
	}
	return all.centre()
}

// weigh sums the forces on every piece.
func (l *Loads) weigh(c *LoadCase) {
	c.settle(l.centre(c))
	sea := planeAt(c.Pose.Up, c.Pose.Sea)
	for k := range l.pieces {
		p := &l.pieces[k]
		sum := c.weightOf(p.mass)
		for _, x := range p.buoys {
			below := x.Below(sea)
			sum = sum.plus(upward{force: below.Volume, first: below.Moment}.times(l.weight))
		}
		for _, part := range p.parts {
			s := &c.Surfaces[part.space]
			switch {
			case !(s.Volume > 0):
			case part.room == nil:
				sum = sum.plus(c.waterOf(s.Volume, s.Moment, l.weight))
			default:
				below := part.room.Below(planeAt(c.Pose.Up, s.Level))
				sum = sum.plus(c.waterOf(part.fraction*below.Volume, r3.Scale(part.fraction, below.Moment), l.weight))
			}
		}
		l.sums[k] = sum
	}
}

// At finds the load at any plane across x. The moment of the end pressure is about the keel line. It cuts the body at its
// water planes and at x: for one place, not for every step of a run. Where a bulkhead stands within half a millimetre of a
// joint, AtJoints has the spaces on the sides that they go to; At cuts where it is told.
func (l *Loads) At(x float64, c *LoadCase) Load {
	load := l.cut(c).ahead(x).load(c.Pose.Up, x)
	plane := l.vessel.newLoadPlane(l.Body, l.outside(), x, KeepBoth)
	load.Axial, load.EndMoment = plane.press(c, l.weight)
	return load
}
