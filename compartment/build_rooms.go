package compartment

import (
	"fmt"
	"slices"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// leastRoom is the share of the hull's volume below which a compartment is no room: the rounding of the clips is far less.
const leastRoom = 1e-9

// rooms are the compartments in list order, before solids stand in them.
type rooms struct {
	hull       *hullForm
	at         []float64 // bulkheads
	boxes      []box
	bare       []*solid.Solid
	names      []string
	transverse []int // index of each transverse compartment, from the stern
}

// makeRooms parts the hull between bulkheads, and takes the boxed compartments out of the transverse ones.
func (b *builder) makeRooms() {
	hull := b.made.hull
	r := &rooms{hull: hull, boxes: boxesOf(b.spec), names: spaceNames(b.spec)}
	for i := range b.spec.Bulkheads {
		r.at = append(r.at, b.spec.Bulkheads[i].At)
	}
	if len(b.spec.Compartments) == 0 && len(r.names) == 1 {
		r.boxes = []box{{}}
	}
	for i := range r.boxes {
		if !r.boxes[i].given {
			r.transverse = append(r.transverse, i)
		}
	}
	if b.halfBoxed() {
		return
	}
	if len(r.transverse) != len(r.at)+1 {
		b.fault("compartments", fmt.Sprintf("%d compartments without a box for %d bulkheads", len(r.transverse), len(r.at)),
			fmt.Sprintf("one more than the bulkheads: %d", len(r.at)+1))
		return
	}
	if hull == nil || b.made.walls == nil {
		return
	}
	if old := b.old.rooms; old != nil && old.hull == hull && slices.Equal(old.at, r.at) && slices.Equal(old.boxes, r.boxes) &&
		slices.Equal(old.names, r.names) {
		b.made.rooms = old
		return
	}
	r.part()
	if b.roomless(r) {
		return
	}
	b.made.rooms = r
}

// halfBoxed tells whether some compartment has one or two of a box's three ranges, so that nobody knows what it is.
func (b *builder) halfBoxed() bool {
	return slices.ContainsFunc(b.spec.Compartments, func(c CompartmentSpec) bool {
		return !boxed(&c) && (c.X != nil || c.Y != nil || c.Z != nil)
	})
}

// part makes the solids.
func (r *rooms) part() {
	r.bare = make([]*solid.Solid, len(r.boxes))
	for k, i := range r.transverse {
		room := r.hull.form
		if k < len(r.at) {
			room = room.Clip(solid.Plane{N: r3.Vec{X: 1}, D: r.at[k]})
		}
		if k > 0 {
			room = room.Clip(solid.Plane{N: r3.Vec{X: -1}, D: -r.at[k-1]})
		}
		r.bare[i] = r.lessBoxes(room)
	}
	for i, c := range r.boxes {
		if c.given {
			r.bare[i] = r.hull.form.ClipBox(c.lo, c.hi)
		}
	}
}

func (r *rooms) lessBoxes(room *solid.Solid) *solid.Solid {
	for _, c := range r.boxes {
		if c.given {
			room = lessBox(room, c.lo, c.hi)
		}
	}
	return room
}

// roomless reports the compartments that have no room.
func (b *builder) roomless(r *rooms) bool {
	least, found := leastRoom*r.hull.form.Volume(), false
	for i, room := range r.bare {
		if room.Volume() > least {
			continue
		}
		found = true
		what, want := "boxed compartments leave it no room", "smaller boxes"
		if r.boxes[i].given {
			what, want = "its box lies outside the hull", "a box that the hull holds a part of"
		}
		b.fault(b.paths.compartments[i], what, want)
	}
	return found
}

// spaceAt is the space that a point of the hull's inside belongs to: the box that it lies in, else the transverse one. On
// a bulkhead it is the one before it.
func (r *rooms) spaceAt(x r3.Vec) int {
	for i := range r.boxes {
		if r.boxes[i].given && r.boxes[i].contains(x) {
			return i
		}
	}
	k, found := slices.BinarySearch(r.at, x.X)
	if found {
		k++
	}
	return r.transverse[k]
}

func (c *box) contains(x r3.Vec) bool {
	return x.X >= c.lo.X && x.X <= c.hi.X && x.Y >= c.lo.Y && x.Y <= c.hi.Y && x.Z >= c.lo.Z && x.Z <= c.hi.Z
}
