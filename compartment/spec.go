package compartment

import "gonum.org/v1/gonum/spatial/r3"

// Spec is a vessel as somebody describes it: plain values in SI units and body axes (x forward from the after end, y to
// port, z up from the keel line), nothing computed yet. Build turns it into a Vessel. Pointers are optional values; nil
// means "not given", for which each field's comment names the default.
type Spec struct {
	Water        WaterSpec
	Hull         HullSpec
	Bulkheads    []BulkheadSpec    // from the stern forward
	Compartments []CompartmentSpec // without bulkheads and compartments: one space named "hold"
	Weights      []WeightSpec
	Openings     []OpeningSpec
	Joints       []JointSpec // from the stern forward
	Marks        []MarkSpec
}

// WaterSpec is the water that the vessel floats in and that floods it.
type WaterSpec struct {
	Kind           WaterKind
	Temperature    float64  // K
	Depth          *float64 // of the pool, m; nil: bottomless
	Density        *float64 // kg/m³, replaces the formula's
	SurfaceTension *float64 // N/m, replaces the formula's; 0 switches menisci off
}

// WaterKind tells fresh water from sea water of 35 g/kg.
type WaterKind string

// The kinds of water.
const (
	Fresh WaterKind = "fresh"
	Sea   WaterKind = "sea"
)

// HullSpec is the outer form, exactly one of Offsets, Mesh, Box and Wigley, and what its plates are.
type HullSpec struct {
	Offsets      *OffsetsSpec
	Mesh         *MeshSpec
	Box          *BoxSpec
	Wigley       *WigleySpec
	Shell        ShellSpec
	ContactAngle *float64 // rad, of water on the plates; nil: the documented default
}

// OffsetsSpec is a hull given by stations. Mirror: the table gives one side only.
type OffsetsSpec struct {
	Stations []Station
	Mirror   bool
}

// Station is one transverse section: points (z, y) in order, from the keel up to the deck edge.
type Station struct {
	X      float64
	Points []StationPoint
}

// StationPoint is a height above the keel line and the half-breadth there, in m.
type StationPoint struct{ Z, Y float64 }

// MeshSpec is a hull given by triangles, in m, as read; Name is for messages.
type MeshSpec struct {
	Name      string
	Triangles [][3]r3.Vec
}

// BoxSpec spans 0 ≤ x ≤ Length, |y| ≤ Breadth/2, 0 ≤ z ≤ Depth.
type BoxSpec struct{ Length, Breadth, Depth float64 }

// WigleySpec is y = (B/2)(1 − ξ²)(1 − ζ²) below the draft, ξ = 2x/L − 1, ζ = 1 − z/T, and wall-sided above it.
type WigleySpec struct{ Length, Breadth, Draft, Depth float64 }

// ShellSpec is the mass of the bare hull: either Mass with At (and Over, Density), or Thickness with Density, or nothing.
type ShellSpec struct {
	Mass      *float64
	At        *r3.Vec
	Over      *[2]float64 // least and greatest x; nil: the hull's length
	Density   *float64
	Thickness *float64
}

// BulkheadSpec is a transverse wall. Top is the height of its upper edge above the keel line; nil: up to the deck.
type BulkheadSpec struct {
	Name string
	At   float64
	Top  *float64
	Cd   *float64 // fixes the coefficient of its edge
}

// CompartmentSpec is a space between bulkheads, or where X, Y and Z are given (all three) a box cut from the hull.
type CompartmentSpec struct {
	Name         string
	Airtight     bool
	Permeability *float64 // share, nil: 1
	Starts       *StartSpec
	X, Y, Z      *[2]float64
}

// StartSpec is the water aboard at the start: exactly one of the three.
type StartSpec struct{ Volume, Depth, Share *float64 }

// WeightSpec is a mass, point-like unless Over (along x) or Size (about At) spreads it. With Density it is a solid that takes room.
type WeightSpec struct {
	Name    string
	Mass    float64
	At      r3.Vec
	Over    *[2]float64
	Size    *[3]float64
	Density *float64
	Later   bool
}

// OpeningSpec is anything that water or air passes: breach, door, hatch, vent, pump. Exactly one of Hole, Slot, Door, Area and Flow.
type OpeningSpec struct {
	Name         string
	Between      [2]string // names of compartments, or "outside"
	At           r3.Vec
	Hole         *float64    // diameter
	Slot         *SlotSpec   // a rectangle
	Door         *DoorSpec   // a rectangle
	Area         *float64    // of a circle
	Flow         *float64    // a pump, m³/s from the first to the second space
	Along        *r3.Vec     // direction of a length; nil: x, or y on a plate whose normal is x
	Faces        *r3.Vec     // outward normal; nil: that of the nearest plate
	Wall         float64     // thickness of the plate
	Rises        float64     // the mouth stands that far off the plate
	Edge         EdgeKind    // "" is sharp
	Cd           *float64    // fixes the discharge coefficient alone
	ContactAngle *float64    // rad; nil: the hull's
	Opens        []Condition // nil: open from the start; any one of several
	Shuts        []Condition // nil: never
}

// SlotSpec is a slit: its length lies along, its width across.
type SlotSpec struct{ Length, Width float64 }

// DoorSpec is a doorway: its length lies along, its height across.
type DoorSpec struct{ Length, Height float64 }

// EdgeKind is how the rim of an opening is made.
type EdgeKind string

// The kinds of edge.
const (
	Sharp   EdgeKind = "sharp"
	Rounded EdgeKind = "rounded"
	Tube    EdgeKind = "tube"
)

// Condition makes an opening open or shut, or releases a joint: exactly one of its members is given.
type Condition struct {
	Time  *float64 // s since the start
	Joint *string  // when that joint has parted
	Trim  *float64 // rad; positive: reached from below, negative: from above
	Wet   *float64 // s under the sea surface in one go
}

// JointSpec is a plane across the hull at which it can come apart.
type JointSpec struct {
	Name     string
	At       float64
	Sections [2]string // the piece abaft it and the piece before it
	Keeps    KeepKind  // "" is both
	Holds    HoldSpec
	Release  []Condition
	Hinge    *float64 // height above the keel line; given: the limits also count the sea's end pressure about it
}

// KeelPoint is the joint's keel-line point (y = z = 0 in its plane), body axes: where its releases by wetting look.
func (j *JointSpec) KeelPoint() r3.Vec { return r3.Vec{X: j.At} }

// KeepKind is which piece keeps a bulkhead that stands in the joint's plane.
type KeepKind string

// Who keeps the bulkhead.
const (
	KeepAfter   KeepKind = "after"
	KeepForward KeepKind = "forward"
	KeepBoth    KeepKind = "both"
)

// HoldSpec is what a joint bears, as magnitudes, N·m and N; nil: never by that load.
type HoldSpec struct{ Hogging, Sagging, Shear *float64 }

// MarkSpec is a point on the hull whose depth below the sea is read off.
type MarkSpec struct {
	Name string
	At   r3.Vec
}
