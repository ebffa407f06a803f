package compartment

import (
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// Outside is the index that stands for the sea and the open air where a space is meant.
const Outside = -1

// Vessel is a built ship: everything that a Spec describes, with its geometry computed. It never changes, and may be
// shared by any number of goroutines.
type Vessel struct {
	Spec  Spec // as given to Build; do not change what its pointers lead to
	Water hydro.Water
	Air   hydro.Air // trapped air at one atmosphere
	Depth float64   // of the pool, m; +Inf if not given

	Whole     *Body   // all of it
	Pieces    []*Body // between the joints, from the stern; one piece, the whole, where there is no joint
	Spaces    []*Space
	Passages  []*Passage // the listed openings in file order, then the gaps over low bulkheads from the stern
	Bulkheads []*Bulkhead
	Marks     []MarkSpec
	Notes     []Note // what Build did on its own and what it left out, for the user to know

	made *made // the products of Build's stages, for With to take over
	rows *rows // what BodyOf and Parted have made
}

// Body is what floats in one piece: the whole vessel, or a section that has come free.
type Body struct {
	Name            string
	First, Last     int           // the pieces it is made of
	Form            *solid.Solid  // outer form, cut faces closed
	Appendages      *solid.Solid  // solids outside the form (with density), buoyed where they are under water; nil: none
	LaterAppendages *solid.Solid  // those of the weights still to come; nil: none
	Mass            float64       // kg, without floodwater and without weights that come later
	Centre          r3.Vec        // of Mass
	Inertia         solid.Moments // second moments of Mass about the origin, ∫ x xᵀ dm, kg·m²
	LaterMass       float64       // kg, of the weights still to come
	LaterCentre     r3.Vec
	LaterInertia    solid.Moments
	Spaces          []*Space // the spaces, or the parts of spaces, that lie in it
	DeckEdge        []r3.Vec // highest points of the section curve, both sides, at the stations
	KeelAft         r3.Vec   // keel-line point (y = z = 0) at the after end
	KeelFore        r3.Vec   // and at the forward end
	KeelMiddle      r3.Vec   // and halfway between

	feet *feet
}

// Space is room for water: a compartment, or its part in one piece.
type Space struct {
	Name     string
	Index    int          // in Vessel.Spaces; a part has the index of the space it is a part of
	Room     *solid.Solid // the room less the solids that stand in it
	Fraction float64      // m³ of water per m³ of Room: permeability, less the shell's share
	Airtight bool
	Start    StartSpec // the water at the start, as given (zero: dry)
	Piece    int       // the piece it lies in; −1 where a joint's plane divides it
}

// Capacity is the water that fills the space, m³.
func (s *Space) Capacity() float64 { return s.Fraction * s.Room.Volume() }

// Passage is a way for water and air between two spaces, or a space and the outside.
type Passage struct {
	Name     string
	From, To int // indices into Vessel.Spaces, or Outside; flow is positive from From to To
	Figure   *hydro.Figure
	Law      hydro.Orifice
	Pump     float64      // m³/s; not 0: a pump, and Figure and Law say nothing but where it is
	Listed   *OpeningSpec // nil for the gap over a bulkhead
	Bulkhead int          // index of the bulkhead whose gap this is, −1 for a listed opening
	Joint    int          // index of the joint in whose plane it stays shut until the parting, −1: none
	Angle    float64      // contact angle of water, rad

	plate    r3.Vec  // the place in its plate, which At may miss by some millimetres; of a gap only X
	overhang float64 // share of the figure beyond its wall
	across   float64 // of a plate across x that parts two spaces, or a space from the sea in a joint's plane: 1 where From (or the one space) lies abaft it, −1 before it; else 0
}

// Bulkhead is a transverse wall as built.
type Bulkhead struct {
	Spec    BulkheadSpec
	Plate   solid.Outline // the wall's own outline, up to its top
	Gap     solid.Outline // the open section above its top; empty: it reaches the deck
	Passage int           // index of the gap's passage, −1: none
}

// Note is something that Build has to tell: a default it chose, a thing it does not count.
type Note struct {
	Path string // the value it is about, such as "openings.cut-1"
	Text string
}
