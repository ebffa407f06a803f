package compartment

import (
	"slices"

	"github.com/byhead/byhead/hydro"
)

// Parted is the vessel as some of its joints have left it: the bodies, the spaces in them, and the ways for water and air
// between these and the outside. All is in body axes and SI units, which a parting does not change. It never changes and may
// be shared by goroutines; what a parting leaves alone is shared with the vessel.
type Parted struct {
	Bodies   []*Body         // from the stern
	Spaces   []PartedSpace   // by the vessel's spaces, then from the stern
	Passages []PartedPassage // by the vessel's passages, then from the stern
}

// PartedSpace is a space, or a part of a divided one. Its Index is that in the vessel's list.
type PartedSpace struct {
	*Space
	Body  int       // in Parted.Bodies
	Local int       // in the body's Spaces
	Faces []CutFace // through which it is open to the sea, from the stern; nil: none
}

// CutFace is the open face that a parting leaves of a space in the plane of a joint.
type CutFace struct {
	Joint  int           // in the vessel's list
	Figure *hydro.Figure // the section of the room there; its normal points out of the body
	Law    hydro.Orifice
}

// PartedPassage is a passage, or what a parting made of one. From and To count in Parted.Spaces and keep their sides, so that
// a flow keeps its sign.
type PartedPassage struct {
	*Passage
	Index int // of the vessel's passage that it was
	Body  int // in Parted.Bodies
}

// Parted describes the vessel once the joints have parted for which parted is true; those beyond its length hold. With none
// parted it is the vessel as it is.
//
// A space that a parted plane divides is two, COMPARTMENT.PIECE, each open to the sea over its face. A bulkhead in the plane
// goes where the joint's Keeps says: a compartment on the side that keeps none is open over its whole face; a boxed
// compartment that ends in the plane keeps its own wall. Of an opening through such a wall, and of the gap over it, each
// side that keeps a plate has one to the outside, OPENING.PIECE where both do; between the outside and a space, in the
// plane, it is open from now on (Joint is −1).
//
// It is made when first asked for and is the same ever after, for all who share the vessel.
func (v *Vessel) Parted(parted []bool) *Parted {
	key := make([]byte, len(v.Spec.Joints))
	for k := range key {
		if k < len(parted) && parted[k] {
			key[k] = 1
		}
	}
	v.rows.Lock()
	q := v.rows.parted[string(key)]
	v.rows.Unlock()
	if q != nil {
		return q
	}
	made := v.part(key)
	v.rows.Lock()
	defer v.rows.Unlock()
	if q = v.rows.parted[string(key)]; q == nil { // else another has been as quick
		q = made
		v.rows.parted[string(key)] = q
	}
	return q
}

// part makes the description; parted is 1 for every joint that has parted.
func (v *Vessel) part(parted []byte) *Parted {
	q, first := &Parted{}, 0
	for k := range v.Pieces {
		if k == len(v.Pieces)-1 || parted[k] == 1 {
			q.Bodies = append(q.Bodies, v.BodyOf(first, k))
			first = k + 1
		}
	}
	for i := range v.Spaces {
		for b, body := range q.Bodies {
			if local := body.localOf(i); local >= 0 {
				q.Spaces = append(q.Spaces, PartedSpace{body.Spaces[local], b, local, v.cutFaces(i, body)})
			}
		}
	}
	for i, p := range v.Passages {
		q.add(v, i, p)
	}
	return q
}

// Heirs are the indices in q.Spaces of what has become of the space, or the part of it, that has an index in the vessel's
// list and lay in a body, one of those before the joints parted; from the stern.
func (q *Parted) Heirs(index int, body *Body) (heirs []int) {
	for i := range q.Spaces {
		b := q.Bodies[q.Spaces[i].Body]
		if q.Spaces[i].Index == index && b.First >= body.First && b.Last <= body.Last {
			heirs = append(heirs, i)
		}
	}
	return heirs
}

// bodyOf is the body that a piece is in.
func (q *Parted) bodyOf(piece int) int {
	return slices.IndexFunc(q.Bodies, func(b *Body) bool { return piece <= b.Last })
}

// spaceIn is the place in q.Spaces of what of a space lies in a body.
func (q *Parted) spaceIn(index, body int) int {
	if index == Outside {
		return Outside
	}
	return slices.IndexFunc(q.Spaces, func(s PartedSpace) bool { return s.Index == index && s.Body == body })
}
