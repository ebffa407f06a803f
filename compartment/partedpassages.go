package compartment

import (
	"math"
	"slices"
)

// add appends what has become of passage i of the vessel.
func (q *Parted) add(v *Vessel, i int, p *Passage) {
	from, to := v.sidesOf(p)
	a, b := q.bodyOf(from), q.bodyOf(to)
	if a != b {
		q.split(v, i, p, min(from, to), from < to)
		return
	}
	now := *p
	now.From, now.To = q.spaceIn(p.From, a), q.spaceIn(p.To, a)
	if p.Joint >= 0 && q.bodyOf(p.Joint) != q.bodyOf(p.Joint+1) {
		now.Joint = -1
	}
	if now == *p {
		q.Passages = append(q.Passages, PartedPassage{p, i, a})
		return
	}
	q.Passages = append(q.Passages, PartedPassage{&now, i, a})
}

// split appends the passages that one through the plane of a parted joint leaves: one on each side that keeps a plate there,
// to the outside. fromAbaft: From lies abaft it.
func (q *Parted) split(v *Vessel, i int, p *Passage, joint int, fromAbaft bool) {
	abaft, before := p.From, p.To
	if !fromAbaft {
		abaft, before = p.To, p.From
	}
	keeps := [2]bool{v.keepsPlate(v.Spaces[abaft], joint, true), v.keepsPlate(v.Spaces[before], joint, false)}
	for side, space := range [2]int{abaft, before} {
		if !keeps[side] {
			continue
		}
		ahead := side == 0
		body := q.bodyOf(beside(joint, ahead))
		now := *p
		now.From, now.To = Outside, q.spaceIn(space, body)
		if space == p.From {
			now.From, now.To = now.To, Outside
		}
		if keeps[0] && keeps[1] {
			now.Name += "." + v.Pieces[beside(joint, ahead)].Name
		}
		if p.Bulkhead >= 0 && v.made.walls.covered(p.Bulkhead, ahead) {
			now.Figure, now.Law = v.gapLaw(p.Bulkhead, v.made.walls.gapBeside(p.Bulkhead, ahead), p.Figure.Normal())
		}
		q.Passages = append(q.Passages, PartedPassage{&now, i, body})
	}
}

// DoubledNames are the names of the two openings that a parting makes of passage i, OPENING.PIECE, from the stern; nil: of none.
func (v *Vessel) DoubledNames(i int) []string {
	p := v.Passages[i]
	from, to := v.sidesOf(p)
	if from == to {
		return nil
	}
	joint, abaft, before := min(from, to), p.From, p.To
	if from > to {
		abaft, before = before, abaft
	}
	if !v.keepsPlate(v.Spaces[abaft], joint, true) || !v.keepsPlate(v.Spaces[before], joint, false) {
		return nil
	}
	return []string{p.Name + "." + v.Pieces[joint].Name, p.Name + "." + v.Pieces[joint+1].Name}
}

// sidesOf are the pieces that the two sides of a passage lie in: one and the same, but for a passage through a wall in a
// joint's plane. A plate in a plane that is no such wall belongs to the forward side, as a point weight does.
func (v *Vessel) sidesOf(p *Passage) (from, to int) {
	j := v.jointNear(p.plate.X)
	switch {
	case j < 0 || p.across == 0:
		from = 0
		for from < len(v.Spec.Joints) && p.plate.X >= v.Spec.Joints[from].At {
			from++
		}
		to = from
	case p.across > 0:
		from, to = j, j+1
	default:
		from, to = j+1, j
	}
	switch {
	case p.From == Outside:
		to = v.pieceNear(to, p.To, p.To)
		return to, to
	case p.To == Outside:
		from = v.pieceNear(from, p.From, p.From)
		return from, from
	case from == to:
		if k := v.pieceNear(from, p.From, p.To); k >= 0 {
			return k, k
		}
	}
	return v.pieceNear(from, p.From, p.From), v.pieceNear(to, p.To, p.To)
}

// jointNear is the joint in whose plane x lies, −1: none.
func (v *Vessel) jointNear(x float64) int {
	return slices.IndexFunc(v.Spec.Joints, func(j JointSpec) bool { return math.Abs(j.At-x) <= joined })
}

// pieceNear is the piece nearest to one, itself first, then the one before it, in which both of two spaces have room; −1:
// none. A plate's place may be a hair beyond the space that it bounds.
func (v *Vessel) pieceNear(piece, a, b int) int {
	for off := range len(v.Pieces) {
		for _, k := range [2]int{piece + off, piece - off} {
			if k >= 0 && k < len(v.Pieces) && v.Pieces[k].spaceOf(a) != nil && v.Pieces[k].spaceOf(b) != nil {
				return k
			}
		}
	}
	return -1
}
