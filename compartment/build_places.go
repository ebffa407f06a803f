package compartment

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// onPlate is how far from the plate the centre of an opening may be given, m; or half its own height.
const onPlate = 5e-3

// depths are how far, in m, behind a plate its space is looked for: close to it, and past a hair of room between two walls
// that were meant to be one.
func depths() [2]float64 { return [2]float64{1e-6, 2 * joined} }

// place finds the plate that an opening is in, and whether its two spaces lie on the two sides of it there.
func (b *builder) place(path string, o *OpeningSpec, p *Passage) (normal r3.Vec, ok bool) {
	if p.From == Outside || p.To == Outside {
		return b.placeInHull(path, o, p)
	}
	return b.placeInWall(path, o, p)
}

// reach is how far from its plate an opening may be given.
func (o *OpeningSpec) reach() float64 { return max(onPlate, o.height()/2) }

// height is an opening's measure upwards: the length where that is said to stand upright, else what lies across it.
func (o *OpeningSpec) height() float64 {
	upright := o.Along != nil && math.Abs(r3.Unit(*o.Along).Z) > math.Sqrt2/2
	switch {
	case o.Slot != nil && upright:
		return o.Slot.Length
	case o.Slot != nil:
		return o.Slot.Width
	case o.Door != nil && upright:
		return o.Door.Length
	case o.Door != nil:
		return o.Door.Height
	}
	return o.span()
}

// span is the greatest measure of an opening, m.
func (o *OpeningSpec) span() float64 {
	switch {
	case o.Hole != nil:
		return *o.Hole
	case o.Slot != nil:
		return max(o.Slot.Length, o.Slot.Width)
	case o.Door != nil:
		return max(o.Door.Length, o.Door.Height)
	case o.Area != nil:
		return math.Sqrt(4 * *o.Area / math.Pi)
	}
	return pumpMouth
}

// extent are points of an opening in a plate: its middle, and those half its greatest measure away. An opening that lies
// partly before a space is within that space's reach.
func (o *OpeningSpec) extent(middle, normal r3.Vec) [7]r3.Vec {
	half := o.span() / 2
	out := [7]r3.Vec{{}, {X: half}, {X: -half}, {Y: half}, {Y: -half}, {Z: half}, {Z: -half}}
	for i, d := range out {
		out[i] = r3.Add(middle, r3.Sub(d, r3.Scale(r3.Dot(d, normal), normal)))
	}
	return out
}

// placeInHull places an opening between a space and the outside: on the hull, or in a wall in a joint's plane.
func (b *builder) placeInHull(path string, o *OpeningSpec, p *Passage) (normal r3.Vec, ok bool) {
	inner := max(p.From, p.To)
	hull, rooms := b.made.hull.form, b.made.rooms
	point, normal, distance := hull.Nearest(o.At)
	p.plate = point
	if k := b.jointAt(o.At.X); k >= 0 && distance > joined && hull.Inside(o.At) && (distance > o.reach() || b.meansWall(o)) {
		normal, ok = b.placeInJoint(path, o, k, inner)
		p.Joint, p.plate, p.across = k, o.At, normal.X
		return normal, ok
	}
	if distance > o.reach() {
		b.fault(path+".at", fmt.Sprintf("it lies %s from the nearest plate of the hull", metres(distance)),
			"a place on the hull, such as ["+coordinates(point)+"]")
		return normal, false
	}
	for _, x := range o.extent(point, normal) {
		for _, depth := range depths() {
			if rooms.spaceAt(r3.Add(x, r3.Scale(-depth, normal))) == inner {
				return normal, true
			}
		}
	}
	there := rooms.spaceAt(r3.Add(point, r3.Scale(-depths()[0], normal)))
	b.fault(path+".at", fmt.Sprintf("the hull there belongs to %s, not to %s", rooms.names[there], rooms.names[inner]),
		"a place on that compartment's part of the hull")
	return normal, false
}

// jointAt is the joint in whose plane x lies, −1: none.
func (b *builder) jointAt(x float64) int {
	for k := range b.spec.Joints {
		if math.Abs(b.spec.Joints[k].At-x) <= joined {
			return k
		}
	}
	return -1
}

// meansWall tells whether an opening in a joint's plane that is near the hull's skin too is one in the wall that stands
// there: it is, unless it is said to face another way.
func (b *builder) meansWall(o *OpeningSpec) bool {
	abaft, before := b.sidesAt(o.At)
	return abaft != before && (o.Faces == nil || math.Abs(r3.Unit(*o.Faces).X) > 0.9)
}

// sidesAt are the spaces abaft and before a place in a joint's plane.
func (b *builder) sidesAt(x r3.Vec) (abaft, before int) {
	step := r3.Vec{X: 2 * joined}
	return b.made.rooms.spaceAt(r3.Sub(x, step)), b.made.rooms.spaceAt(r3.Add(x, step))
}

// placeInJoint places an opening that the parting will lay open: in the wall in the joint's plane, if the space's own piece
// keeps it; a boxed compartment keeps its own. Its normal is along x, away from the space.
func (b *builder) placeInJoint(path string, o *OpeningSpec, k, inner int) (normal r3.Vec, ok bool) {
	abaft, before := b.sidesAt(o.At)
	keeps, name, own := b.spec.Joints[k].Keeps, b.made.rooms.names[inner], b.made.rooms.boxes[inner].given
	const want = "a place in a wall in the joint's plane that the space's piece keeps"
	switch {
	case inner != abaft && inner != before:
		b.fault(path+".at", fmt.Sprintf("%s does not reach this place in the joint's plane", name), want)
	case abaft == before || !own && !b.bulkheadIn(b.spec.Joints[k].At):
		b.fault(path+".at", fmt.Sprintf("no wall bounds %s in the joint's plane: parted, it is open over its whole face", name), want)
	case !own && (inner == abaft && keeps == KeepForward || inner == before && keeps == KeepAfter):
		b.fault(path+".at", fmt.Sprintf("the piece of %s does not keep the bulkhead in the joint's plane", name), want)
	case inner == abaft:
		return r3.Vec{X: 1}, true
	default:
		return r3.Vec{X: -1}, true
	}
	return r3.Vec{}, false
}

// bulkheadIn tells whether a bulkhead stands in a plane.
func (b *builder) bulkheadIn(at float64) bool {
	for i := range b.spec.Bulkheads {
		if math.Abs(b.spec.Bulkheads[i].At-at) <= joined {
			return true
		}
	}
	return false
}

// wallPlane is a wall that may part two spaces: n·x = offset.
type wallPlane struct {
	n      r3.Vec
	offset float64
	top    float64 // +Inf but for a low bulkhead
}

// wallPlanes are the bulkheads and the sides of the two boxes, if the spaces are boxes.
func (b *builder) wallPlanes(from, to int) []wallPlane {
	var out []wallPlane
	inf := math.Inf(1)
	for _, in := range b.made.walls.from {
		top := inf
		if in.topped {
			top = in.top
		}
		out = append(out, wallPlane{r3.Vec{X: 1}, in.at, top})
	}
	for _, i := range [2]int{from, to} {
		c := &b.made.rooms.boxes[i]
		if !c.given {
			continue
		}
		out = append(out,
			wallPlane{r3.Vec{X: 1}, c.hi.X, inf}, wallPlane{r3.Vec{X: -1}, -c.lo.X, inf},
			wallPlane{r3.Vec{Y: 1}, c.hi.Y, inf}, wallPlane{r3.Vec{Y: -1}, -c.lo.Y, inf},
			wallPlane{r3.Vec{Z: 1}, c.hi.Z, inf}, wallPlane{r3.Vec{Z: -1}, -c.lo.Z, inf})
	}
	return out
}

// placeInWall places an opening between two spaces in the nearest wall that parts them there, its normal toward the second.
func (b *builder) placeInWall(path string, o *OpeningSpec, p *Passage) (normal r3.Vec, ok bool) {
	best, over := math.Inf(1), false
	for _, w := range b.wallPlanes(p.From, p.To) {
		off := w.offset - r3.Dot(w.n, o.At)
		distance := math.Abs(off)
		if distance >= best || distance > o.reach() {
			continue
		}
		on := r3.Add(o.At, r3.Scale(off, w.n))
		turn := b.parts(o, on, w.n, p)
		switch {
		case turn == 0:
		case o.At.Z > w.top:
			over = true
		default:
			best, normal, ok = distance, r3.Scale(turn, w.n), true
			p.plate, p.across = on, normal.X
		}
	}
	switch {
	case ok:
	case over:
		b.fault(path+".at", "it lies over the top of the bulkhead, where all is open", "a place below the top")
	default:
		b.fault(path+".at", fmt.Sprintf("no wall between %s and %s within %s of it", o.Between[0], o.Between[1], metres(o.reach())),
			"a place on the wall that parts the two")
	}
	return normal, ok
}

// parts tells whether a wall has the two spaces on its two sides somewhere in an opening's extent within the hull: 1 where
// its normal points to the second, −1 where to the first, 0 where it does not part them.
func (b *builder) parts(o *OpeningSpec, on, n r3.Vec, p *Passage) float64 {
	rooms := b.made.rooms
	for _, x := range o.extent(on, n) {
		for _, depth := range depths() {
			front, back := rooms.spaceAt(r3.Add(x, r3.Scale(depth, n))), rooms.spaceAt(r3.Sub(x, r3.Scale(depth, n)))
			switch {
			case front == p.To && back == p.From && b.made.hull.form.Inside(x):
				return 1
			case front == p.From && back == p.To && b.made.hull.form.Inside(x):
				return -1
			}
		}
	}
	return 0
}

// coordinates writes a point for people.
func coordinates(x r3.Vec) string {
	return fmt.Sprintf("%s, %s, %s", metres(x.X), metres(x.Y), metres(x.Z))
}
