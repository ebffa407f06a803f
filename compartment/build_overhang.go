package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// overhangTold is the share of an opening beyond its wall from which a note tells it.
const overhangTold = 0.05

// overhangLines is how many lines of points are laid over an opening each way.
const overhangLines = 16

// overhang is the share of an opening's figure beyond the wall that it is in: over the hull's edge, over a bulkhead's top, or where
// another space lies behind the plate. Its area counts in full all the same. The figure is laid into the plate, whatever way it is said
// to face, and a point of it is on the wall if the right spaces lie on the two sides of it there; a rounded plate falls away from it.
// Of an area without a shape, and of a pump, there is nothing to tell.
func (b *builder) overhang(o *OpeningSpec, p *Passage, normal r3.Vec) float64 {
	length, width, round := o.span(), o.span(), o.Hole != nil
	switch {
	case o.Slot != nil:
		length, width = o.Slot.Length, o.Slot.Width
	case o.Door != nil:
		length, width = o.Door.Length, o.Door.Height
	case !round:
		return 0
	}
	along := lengthwise(normal)
	if o.Along != nil {
		if flat := r3.Sub(*o.Along, r3.Scale(r3.Dot(*o.Along, normal), normal)); r3.Norm(flat) > 1e-3*r3.Norm(*o.Along) {
			along = flat
		}
	}
	along = r3.Unit(r3.Sub(along, r3.Scale(r3.Dot(along, normal), normal)))
	across := r3.Cross(normal, along)
	all, beyond := 0, 0
	for i := range overhangLines {
		for j := range overhangLines {
			u, v := (float64(i)+0.5)/overhangLines-0.5, (float64(j)+0.5)/overhangLines-0.5
			if round && math.Hypot(u, v) > 0.5 {
				continue
			}
			all++
			if !b.onWall(o, p, normal, r3.Add(p.plate, r3.Add(r3.Scale(u*length, along), r3.Scale(v*width, across)))) {
				beyond++
			}
		}
	}
	return float64(beyond) / float64(all)
}

// onWall tells whether a point of an opening's figure is on its wall.
func (b *builder) onWall(o *OpeningSpec, p *Passage, normal, x r3.Vec) bool {
	rooms, hull := b.made.rooms, b.made.hull.form
	if p.From != Outside && p.To != Outside {
		if w := b.lowBulkheadAt(x.X); math.Abs(normal.X) > 0.9 && w >= 0 && x.Z > b.made.walls.from[w].top {
			return false
		}
		for _, depth := range depths() {
			front, back := r3.Add(x, r3.Scale(depth, normal)), r3.Sub(x, r3.Scale(depth, normal))
			if rooms.spaceAt(front) == p.To && rooms.spaceAt(back) == p.From && hull.Inside(x) {
				return true
			}
		}
		return false
	}
	inner := max(p.From, p.To)
	sag := o.span() / 2 // no plate that bends outward falls away by more
	for _, depth := range [5]float64{depths()[0], depths()[1], sag / 8, sag / 2, sag} {
		if at := r3.Sub(x, r3.Scale(depth, normal)); rooms.spaceAt(at) == inner && hull.Inside(at) {
			return true
		}
	}
	return false
}

// lowBulkheadAt is the bulkhead with a top of its own in whose plane x lies, −1: none.
func (b *builder) lowBulkheadAt(x float64) int {
	for i := range b.made.walls.from {
		if w := &b.made.walls.from[i]; w.topped && math.Abs(w.at-x) <= joined {
			return i
		}
	}
	return -1
}

// tellOverhangs tells the openings that stick out of their walls.
func (b *builder) tellOverhangs() {
	for i, p := range b.made.passages {
		if p.Listed == nil || p.overhang < overhangTold {
			continue
		}
		where := "the wall that parts the two spaces"
		if p.From == Outside || p.To == Outside {
			where = b.made.rooms.names[max(p.From, p.To)] + "'s part of the hull"
		}
		b.note(b.paths.openings[i], "%.0f %% of it lies beyond %s, and all of it counts as open: move it, or make it smaller",
			100*p.overhang, where)
	}
}
