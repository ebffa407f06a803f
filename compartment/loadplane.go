package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// loadPlane is a plane across x with the sections that pressures act on.
type loadPlane struct {
	at, hinge float64
	sea       []section // of the outer form and the appendages
	inside    []openFace
}

// openFace is where the water and the air of a space reach across the plane.
type openFace struct {
	space   int // in the body's list
	section section
	share   float64 // of its pressure that counts
}

// newLoadPlane cuts the sections at a plane. Keeps says who keeps a bulkhead that stands in it: the forces are those on
// what lies before the plane, so the water of the side that does not keep it counts, over its whole open face; of a doubled
// bulkhead neither side's, since it is dry between the plates, and in the gap over its top the mean of the two.
func (v *Vessel) newLoadPlane(b *Body, outside []*solid.Solid, at float64, keeps KeepKind) loadPlane {
	p := loadPlane{at: at}
	for _, x := range append([]*solid.Solid{b.Form}, outside...) {
		if s := newSection(x.Section(solid.Plane{N: r3.Vec{X: 1}, D: at})); s.area > 0 {
			p.sea = append(p.sea, s)
		}
	}
	wall := v.wallIn(at)
	for i, s := range b.Spaces {
		lo, hi := s.Room.Bounds()
		abaft, before := hi.X <= at+joined, lo.X >= at-joined
		switch {
		case !abaft && !before:
			p.open(i, divided(s.Room, at), 1)
		case wall == nil || v.isBoxed(s): // it ends there, or elsewhere, in walls of its own
		case abaft && hi.X >= at-joined:
			face := s.Room.Section(solid.Plane{N: r3.Vec{X: 1}, D: hi.X})
			p.openAtWall(i, face, wall, keeps, KeepForward)
		case before && lo.X <= at+joined:
			face := s.Room.Section(solid.Plane{N: r3.Vec{X: -1}, D: -lo.X})
			p.openAtWall(i, face, wall, keeps, KeepAfter)
		}
	}
	return p
}

// openAtWall adds the face of a space that ends at a bulkhead in the plane; it is all open where open keeps the bulkhead.
func (p *loadPlane) openAtWall(space int, face solid.Outline, wall *Bulkhead, keeps, open KeepKind) {
	switch keeps {
	case open:
		p.open(space, face, 1)
	case KeepBoth, "":
		if wall.Spec.Top != nil {
			p.open(space, clipOutline(face, solid.Plane{N: r3.Vec{Z: -1}, D: -*wall.Spec.Top}), 0.5)
		}
	}
}

func (p *loadPlane) open(space int, face solid.Outline, share float64) {
	if s := newSection(face); s.area > 0 {
		p.inside = append(p.inside, openFace{space, s, share})
	}
}

// divided is the section of a room that a plane divides. Where a boxed compartment ends in the plane the two sides differ:
// the box keeps its wall, and the water of the other side stands over it.
func divided(room *solid.Solid, at float64) solid.Outline {
	abaft := room.Section(solid.Plane{N: r3.Vec{X: 1}, D: at})
	before := room.Section(solid.Plane{N: r3.Vec{X: -1}, D: -at})
	if areaOf(before) > areaOf(abaft) {
		return before
	}
	return abaft
}

// wallIn is the bulkhead that stands in a plane; nil: none.
func (v *Vessel) wallIn(at float64) *Bulkhead {
	for _, w := range v.Bulkheads {
		if math.Abs(w.Spec.At-at) <= joined {
			return w
		}
	}
	return nil
}

func (v *Vessel) isBoxed(s *Space) bool {
	return len(v.Spec.Compartments) > 0 && boxed(&v.Spec.Compartments[s.Index])
}

// press is the force of the pressures on the plane and its moment about the hinge: see Load. weight: of a cubic metre of
// water, N/m³.
func (p *loadPlane) press(c *LoadCase, weight float64) (axial, moment float64) {
	var force, first float64 // ∫ p dA and ∫ p z dA
	for i := range p.sea {
		sum, high := p.sea[i].head(c.Pose.Up, p.at, c.Pose.Sea)
		force += weight * sum
		first += weight * high
	}
	for i := range p.inside {
		f := &p.inside[i]
		if s := &c.Surfaces[f.space]; s.Volume > 0 {
			sum, high := f.section.head(c.Pose.Up, p.at, s.Level)
			force -= f.share * weight * sum
			first -= f.share * weight * high
		}
		if c.Air != nil {
			air := f.share * c.Air[f.space]
			force -= air * f.section.area
			first -= air * f.section.first.Z
		}
	}
	return force, p.hinge*force - first
}

// section is a figure in a plane across x, for integrals of the head of water over it.
type section struct {
	edges       [][2]r3.Vec // outer loops counterclockwise seen from ahead, x not used
	middle      r3.Vec      // of its bounds
	half        r3.Vec
	area        float64
	first       r3.Vec  // ∫ x dA
	momYZ, mom2 float64 // ∫ yz dA and ∫ z² dA
}

func newSection(o solid.Outline) section {
	var s section
	lo, hi := o.Bounds()
	s.middle, s.half = r3.Scale(0.5, r3.Add(lo, hi)), r3.Scale(0.5, r3.Sub(hi, lo))
	for _, loop := range o {
		for i, a := range loop {
			s.edges = append(s.edges, [2]r3.Vec{a, loop[(i+1)%len(loop)]})
		}
	}
	if s.measure(); s.area < 0 { // an outline seen from abaft
		for i, e := range s.edges {
			s.edges[i] = [2]r3.Vec{e[1], e[0]}
		}
		s.measure()
	}
	return s
}

// measure sums the triangles of the edges with the middle. Over a triangle of area A with corner values u_i and v_i of two
// linear functions ∫ u v dA = A/12·(Σ u_i v_i + Σu_i Σv_i).
func (s *section) measure() {
	s.area, s.first, s.momYZ, s.mom2 = 0, r3.Vec{}, 0, 0
	o := s.middle
	for _, e := range s.edges {
		area := cornerArea(o, e[0], e[1])
		y, z := o.Y+e[0].Y+e[1].Y, o.Z+e[0].Z+e[1].Z
		s.area += area
		s.first = r3.Add(s.first, r3.Vec{Y: area * y / 3, Z: area * z / 3})
		s.momYZ += area / 12 * (o.Y*o.Z + e[0].Y*e[0].Z + e[1].Y*e[1].Z + y*z)
		s.mom2 += area / 12 * (o.Z*o.Z + e[0].Z*e[0].Z + e[1].Z*e[1].Z + z*z)
	}
}

// cornerArea is the area of a triangle in a plane across x, counterclockwise positive seen from ahead.
func cornerArea(o, a, b r3.Vec) float64 {
	return ((a.Y-o.Y)*(b.Z-o.Z) - (b.Y-o.Y)*(a.Z-o.Z)) / 2
}

// head integrates the head of water that stands to a level along up over the section in the plane x: ∫ h dA and ∫ h z dA
// with h = max(0, level − up·x). Exact: h is linear over the part under water.
func (s *section) head(up r3.Vec, x, level float64) (sum, high float64) {
	top := level - up.X*x // h = top − u_y y − u_z z
	middle := top - up.Y*s.middle.Y - up.Z*s.middle.Z
	reach := math.Abs(up.Y)*s.half.Y + math.Abs(up.Z)*s.half.Z
	switch {
	case middle <= -reach:
		return 0, 0
	case middle >= reach:
		sum = top*s.area - up.Y*s.first.Y - up.Z*s.first.Z
		return sum, top*s.first.Z - up.Y*s.momYZ - up.Z*s.mom2
	}
	// Every edge makes a triangle with a point of the water line. Cut there, its part under water is a triangle with that
	// point again, and the lengths along the water line that close the figure make none.
	slope := up.Y*up.Y + up.Z*up.Z
	o := r3.Vec{Y: s.middle.Y + middle*up.Y/slope, Z: s.middle.Z + middle*up.Z/slope}
	for _, e := range s.edges {
		a, b := e[0], e[1]
		ha, hb := top-up.Y*a.Y-up.Z*a.Z, top-up.Y*b.Y-up.Z*b.Z
		switch {
		case ha <= 0 && hb <= 0:
			continue
		case ha < 0:
			a, ha = r3.Add(a, r3.Scale(ha/(ha-hb), r3.Sub(b, a))), 0
		case hb < 0:
			b, hb = r3.Add(b, r3.Scale(hb/(hb-ha), r3.Sub(a, b))), 0
		}
		area := cornerArea(o, a, b)
		sum += area / 3 * (ha + hb)
		high += area / 12 * (ha*a.Z + hb*b.Z + (ha+hb)*(o.Z+a.Z+b.Z))
	}
	return sum, high
}
