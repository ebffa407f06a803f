package compartment

import (
	"fmt"
	"slices"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// walls are the bulkheads' outlines.
type walls struct {
	hull   *hullForm
	from   []wallInput
	boxes  []box
	plates []solid.Outline
	gaps   []solid.Outline
	closed []bool // where the top stands over the deck, or boxes fill all that is above it
	notes  []Note
}

// wallInput is what a bulkhead's outline is made from.
type wallInput struct {
	at, top float64
	topped  bool
}

// box is the room of a boxed compartment before the hull cuts it; given is false for a transverse one.
type box struct {
	lo, hi r3.Vec
	given  bool
}

func wallInputs(s *Spec) []wallInput {
	in := make([]wallInput, len(s.Bulkheads))
	for i := range s.Bulkheads {
		in[i].at = s.Bulkheads[i].At
		if s.Bulkheads[i].Top != nil {
			in[i].top, in[i].topped = *s.Bulkheads[i].Top, true
		}
	}
	return in
}

func boxesOf(s *Spec) []box {
	out := make([]box, len(s.Compartments))
	for i := range s.Compartments {
		if c := &s.Compartments[i]; boxed(c) {
			out[i] = box{
				lo:    r3.Vec{X: c.X[0], Y: c.Y[0], Z: c.Z[0]},
				hi:    r3.Vec{X: c.X[1], Y: c.Y[1], Z: c.Z[1]},
				given: true,
			}
		}
	}
	return out
}

// makeWalls cuts the hull at every bulkhead. A boxed compartment is closed all round, so where it takes part of the section
// above a top, that part is no gap.
func (b *builder) makeWalls() {
	hull := b.made.hull
	if hull == nil || b.wallsBroken() || b.boxesBroken() {
		return
	}
	w := &walls{hull: hull, from: wallInputs(b.spec), boxes: boxesOf(b.spec)}
	if old := b.old.walls; old != nil && old.hull == hull && slices.Equal(old.from, w.from) && slices.Equal(old.boxes, w.boxes) {
		b.made.walls = old
		b.notes = append(b.notes, old.notes...)
		return
	}
	before := len(b.notes)
	for i := range w.from {
		b.wall(w, i)
	}
	if b.wallsBroken() {
		return
	}
	w.notes = slices.Clone(b.notes[before:])
	b.made.walls = w
}

// wallsBroken tells whether some bulkhead has no place or no height; a fault in its name or its coefficient does not matter here.
func (b *builder) wallsBroken() bool {
	for _, p := range b.paths.bulkheads {
		if b.broken(p+".at", p+".top") {
			return true
		}
	}
	return false
}

func (b *builder) boxesBroken() bool {
	for _, p := range b.paths.compartments {
		if b.broken(p+".x", p+".y", p+".z") {
			return true
		}
	}
	return false
}

func (b *builder) wall(w *walls, i int) {
	in, path := w.from[i], b.paths.bulkheads[i]
	if !(in.at > w.hull.lo.X && in.at < w.hull.hi.X) {
		b.fault(path+".at", fmt.Sprintf("it stands at %s, outside the hull", metres(in.at)),
			fmt.Sprintf("between %s and %s", metres(w.hull.lo.X), metres(w.hull.hi.X)))
		return
	}
	section := w.hull.form.Section(solid.Plane{N: r3.Vec{X: 1}, D: in.at})
	plate, gap := section, solid.Outline(nil)
	if in.topped {
		top := solid.Plane{N: r3.Vec{Z: 1}, D: in.top}
		plate, gap = clipOutline(section, top), clipOutline(section, reversed(top))
	}
	if !(areaOf(plate) > 0) {
		b.fault(path+".top", fmt.Sprintf("its top at %s is not above the hull's bottom there", metres(in.top)),
			"the height of its upper edge above the keel line, or no bulkhead")
		return
	}
	open := b.lessBoxes(w, in.at, gap)
	closed := areaOf(open) <= 1e-9*areaOf(section)
	switch {
	case in.topped && areaOf(gap) <= 1e-9*areaOf(section):
		b.note(path+".top", "its top at %s stands over the deck there: it is closed", metres(in.top))
	case in.topped && closed:
		b.note(path+".top", "boxed compartments fill the section above its top: nothing passes over it")
	}
	if closed {
		open = nil
	}
	w.plates, w.gaps, w.closed = append(w.plates, plate), append(w.gaps, open), append(w.closed, closed)
}

// lessBoxes takes the boxed compartments that reach a bulkhead's plane out of the gap over it.
func (b *builder) lessBoxes(w *walls, at float64, gap solid.Outline) solid.Outline {
	for _, c := range w.boxes {
		if c.given && c.lo.X < at+joined && c.hi.X > at-joined {
			gap = lessRectangle(gap, [2]float64{c.lo.Y, c.hi.Y}, [2]float64{c.lo.Z, c.hi.Z})
		}
	}
	return gap
}

// bulkheads are the walls as the vessel shows them, each with its gap's passage.
func (w *walls) bulkheads(s *Spec, passages []*Passage) []*Bulkhead {
	out := make([]*Bulkhead, len(s.Bulkheads))
	for i := range out {
		out[i] = &Bulkhead{Spec: s.Bulkheads[i], Plate: w.plates[i], Gap: w.gaps[i], Passage: -1}
	}
	for k, p := range passages {
		if p.Bulkhead >= 0 {
			out[p.Bulkhead].Passage = k
		}
	}
	return out
}
