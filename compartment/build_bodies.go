package compartment

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// sections are the pieces between joints, from the stern: their outer forms, and what of the hull's surface lies in each.
type sections struct {
	hull  *hullForm
	at    []float64
	forms []*solid.Solid
	skins []lump // by area, in place of mass
}

// makeSections cuts the hull's outer form and its surface at the joints.
func (b *builder) makeSections() {
	hull := b.made.hull
	if hull == nil || b.broken("joints") {
		return
	}
	s := &sections{hull: hull}
	for i := range b.spec.Joints {
		at := b.spec.Joints[i].At
		if !(at > hull.lo.X+joined && at < hull.hi.X-joined) {
			b.fault(b.paths.joints[i]+".at", fmt.Sprintf("it stands at %s, outside the hull", metres(at)),
				fmt.Sprintf("between %s and %s", metres(hull.lo.X), metres(hull.hi.X)))
		}
		s.at = append(s.at, at)
	}
	if b.broken("joints") {
		return
	}
	if old := b.old.sections; old != nil && old.hull == hull && slices.Equal(old.at, s.at) {
		b.made.sections = old
		return
	}
	for k := range len(s.at) + 1 {
		s.forms = append(s.forms, s.between(hull.form, k, k))
	}
	s.skins = skinsBetween(hull.form, s.at)
	b.made.sections = s
}

// bounds are the planes of piece k, infinite at the ends.
func (s *sections) bounds(k int) (from, to float64) {
	from, to = math.Inf(-1), math.Inf(1)
	if k > 0 {
		from = s.at[k-1]
	}
	if k < len(s.at) {
		to = s.at[k]
	}
	return from, to
}

// between is the part of a solid that lies in the pieces first to last.
func (s *sections) between(x *solid.Solid, first, last int) *solid.Solid {
	if last < len(s.at) {
		x = x.Clip(solid.Plane{N: r3.Vec{X: 1}, D: s.at[last]})
	}
	if first > 0 {
		x = x.Clip(solid.Plane{N: r3.Vec{X: -1}, D: -s.at[first-1]})
	}
	return x
}

// reach is the first and the last piece that a room lies in. A wall within half a millimetre of a plane stands in it, so
// that the hair of room beyond is no part of the piece there.
func (s *sections) reach(room *solid.Solid) (first, last int) {
	lo, hi := room.Bounds()
	for k, at := range s.at {
		switch {
		case hi.X <= at+joined:
			return first, k
		case lo.X >= at-joined:
			first = k + 1
		}
	}
	return first, len(s.at)
}

// bodies are what floats in one piece.
type bodies struct {
	whole  *Body
	pieces []*Body
}

// makeBodies makes the whole, and each piece alone. The whole's mass is the sum of its pieces', so that a parting changes
// neither mass nor centre nor inertia.
func (b *builder) makeBodies() (out bodies) {
	b.checkShellCentre()
	s, spaces := b.made.sections, b.made.spaces
	if s == nil || spaces == nil || b.broken("weights", "hull.shell") {
		return out
	}
	now, later := b.pieceLumps()
	last := len(s.forms) - 1
	out.whole = newBody(whole, s.hull.form, s.hull.edge)
	out.whole.Last = last
	out.whole.Appendages, out.whole.LaterAppendages = b.made.solids.outside, b.made.solids.later
	out.whole.Spaces = spaces
	var sum, sumLater lump
	for k := range now {
		sum, sumLater = sum.plus(now[k]), sumLater.plus(later[k])
	}
	out.whole.load(sum, sumLater)
	if !(sum.mass > 0) { // a tank to be clamped over a sink needs none
		b.note("hull", "neither the hull nor anything aboard from the start has a mass: it lies on the water without a draft")
	}
	if last == 0 {
		out.pieces = []*Body{out.whole}
		return out
	}
	for k := range s.forms {
		if !(now[k].mass > 0) {
			b.fault(b.paths.joints[max(k-1, 0)]+".at", fmt.Sprintf("piece %s has no mass", b.pieceName(k)), "weights in every piece")
		}
		out.pieces = append(out.pieces, b.piece(k, now[k], later[k]))
	}
	return out
}

func (b *builder) pieceName(k int) string { return b.spec.Joints[max(k-1, 0)].Sections[min(k, 1)] }

func newBody(name string, form *solid.Solid, edge []r3.Vec) *Body {
	lo, hi := form.Bounds()
	return &Body{
		Name: name, Form: form, DeckEdge: edge, feet: &feet{},
		KeelAft: r3.Vec{X: lo.X}, KeelFore: r3.Vec{X: hi.X}, KeelMiddle: r3.Vec{X: (lo.X + hi.X) / 2},
	}
}

// piece is what lies between two joints, as a body of its own.
func (b *builder) piece(k int, now, later lump) *Body {
	s, name := b.made.sections, b.pieceName(k)
	from, to := s.bounds(k)
	body := newBody(name, s.forms[k], s.hull.pieceEdge(s.forms[k], from, to))
	body.First, body.Last = k, k
	body.Appendages, body.LaterAppendages = s.outside(b.made.solids.outside, k, k), s.outside(b.made.solids.later, k, k)
	for _, space := range b.made.spaces {
		if part := s.part(space, k, k, name); part != nil {
			body.Spaces = append(body.Spaces, part)
		}
	}
	body.load(now, later)
	return body
}

// outside is the part of the appendages that lies in the pieces first to last; nil: none.
func (s *sections) outside(x *solid.Solid, first, last int) *solid.Solid {
	if x == nil {
		return nil
	}
	if part := s.between(x, first, last); part.Len() > 0 {
		return part
	}
	return nil
}

// part is a space, or its part, in the pieces first to last, by whose name it goes; nil: none. It is cut only where a plane
// divides it. The water at the start of a part is what stands in it with the hull upright and the whole space's water at its
// level.
func (s *sections) part(space *Space, first, last int, pieces string) *Space {
	from, to := s.reach(space.Room)
	switch {
	case last < from || first > to:
		return nil
	case first <= from && last >= to:
		return space
	}
	if first <= from {
		first = 0
	}
	if last >= to {
		last = len(s.at)
	}
	room := s.between(space.Room, first, last)
	if !(room.Volume() > leastRoom*s.hull.form.Volume()) {
		return nil
	}
	part := *space
	part.Name, part.Room, part.Piece = space.Name+"."+pieces, room, -1
	if from, to = max(from, first), min(to, last); from == to {
		part.Piece = from
	}
	if start := space.StartVolume(); start > 0 {
		up := r3.Vec{Z: 1}
		_, level := space.Room.Reach(up)
		if start < space.Capacity() {
			level, _, _ = space.Room.Offset(up, start/space.Fraction, math.NaN())
		}
		water := min(part.Fraction*room.Below(planeAt(up, level)).Volume, part.Capacity())
		part.Start = StartSpec{Volume: &water}
	}
	return &part
}
