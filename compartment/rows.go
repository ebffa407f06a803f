package compartment

import (
	"strings"
	"sync"

	"github.com/byhead/byhead/hydro/solid"
)

// rows holds what has been asked for of the vessel come apart: bodies of several pieces in a row, and descriptions by where
// their bodies end.
type rows struct {
	sync.Mutex
	bodies map[[2]int]*Body
	parted map[string]*Parted
	grids  map[*Body]*surroundGrid
}

func newRows() *rows {
	return &rows{bodies: map[[2]int]*Body{}, parted: map[string]*Parted{}, grids: map[*Body]*surroundGrid{}}
}

// BodyOf is the body that the pieces first to last are together, 0 ≤ first ≤ last < len(v.Pieces): what hangs together
// once the joints at its ends have parted and those between hold. The whole and the single pieces are v.Whole and
// v.Pieces; others are made when first asked for and are the same ever after, for all who share the vessel.
//
// Its mass is the sum of its pieces', so that a parting changes neither mass nor centre nor inertia. Its spaces are in the
// vessel's order: a space that lies in it whole is the vessel's own, a part that lies in one piece that piece's own, and a
// part over several pieces one space, COMPARTMENT.PIECE+PIECE by the pieces that the part lies in, since a joint that holds
// divides nothing.
func (v *Vessel) BodyOf(first, last int) *Body {
	switch {
	case first == 0 && last == len(v.Pieces)-1:
		return v.Whole
	case first == last:
		return v.Pieces[first]
	}
	v.rows.Lock()
	defer v.rows.Unlock()
	body := v.rows.bodies[[2]int{first, last}]
	if body == nil {
		body = v.row(first, last)
		v.rows.bodies[[2]int{first, last}] = body
	}
	return body
}

// row makes the body of some pieces in a row.
func (v *Vessel) row(first, last int) *Body {
	s := v.made.sections
	form := s.between(s.hull.form, first, last)
	from, _ := s.bounds(first)
	_, to := s.bounds(last)
	body := newBody(v.rowName(first, last), form, s.hull.pieceEdge(form, from, to))
	body.First, body.Last = first, last
	body.Appendages = s.outside(v.Whole.Appendages, first, last)
	body.LaterAppendages = s.outside(v.Whole.LaterAppendages, first, last)
	for _, space := range v.Spaces {
		if part := v.partIn(space, first, last); part != nil {
			body.Spaces = append(body.Spaces, part)
		}
	}
	var now, later lump
	for _, p := range v.Pieces[first : last+1] {
		now, later = now.plus(p.lump(false)), later.plus(p.laterLump())
	}
	body.load(now, later)
	return body
}

// rowName is the pieces' names from the stern.
func (v *Vessel) rowName(first, last int) string {
	names := make([]string, 0, last-first+1)
	for _, p := range v.Pieces[first : last+1] {
		names = append(names, p.Name)
	}
	return strings.Join(names, "+")
}

// partIn is what of a space lies in the pieces first to last; nil: nothing.
func (v *Vessel) partIn(space *Space, first, last int) *Space {
	from, to, all := -1, -1, true
	for k, p := range v.Pieces {
		switch {
		case p.spaceOf(space.Index) == nil:
		case k < first || k > last:
			all = false
		case from < 0:
			from, to = k, k
		default:
			to = k
		}
	}
	switch {
	case from < 0:
		return nil
	case all:
		return space
	case from == to:
		return v.Pieces[from].spaceOf(space.Index)
	}
	return v.made.sections.part(space, from, to, v.rowName(from, to))
}

// spaceOf is what of a space of the vessel lies in the body; nil: nothing.
func (body *Body) spaceOf(index int) *Space {
	if i := body.localOf(index); i >= 0 {
		return body.Spaces[i]
	}
	return nil
}

// Holds tells whether the space that has an index in the vessel's list, or a part of it, lies in the body.
func (body *Body) Holds(index int) bool { return body.localOf(index) >= 0 }

// localOf is the place in the body's list of the space, or the part of it, that has an index in the vessel's; −1: none.
func (body *Body) localOf(index int) int {
	for i, s := range body.Spaces {
		if s.Index == index {
			return i
		}
	}
	return -1
}

// astride tells whether a solid's bounds reach over a plane across x by more than a hair, to both sides.
func astride(x *solid.Solid, at float64) bool {
	lo, hi := x.Bounds()
	return lo.X < at-joined && hi.X > at+joined
}
