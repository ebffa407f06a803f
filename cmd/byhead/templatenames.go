package main

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/cmd/byhead/sheet"
	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r2"
)

// faceWords is what is written on the face that a drawing shows.
func faceWords(a compartment.Axis) string {
	switch a.Face() {
	case compartment.AftFace:
		return "this side aft"
	case compartment.StarboardFace:
		return "this side to starboard"
	}
	return "this side up"
}

// name writes what a plate is on the plate itself, as large as there is room, else below it.
func (p *drafting) name(t *templateSet) {
	w := t.Words()
	lines := []string{p.part.Name, faceWords(p.part.Axis), "station " + w.Length(p.part.At)}
	if p.part.Axis != compartment.AcrossX {
		lines[2] = map[compartment.Axis]string{compartment.AcrossY: "y ", compartment.AcrossZ: "z "}[p.part.Axis] + w.Length(p.part.At)
	}
	if p.part.thickness > 0 {
		lines = append(lines, "plate "+w.Length(p.part.thickness))
	}
	for size := 6.0; size >= 1.8; size *= 0.85 {
		if middle, ok := p.room(block(lines, size)); ok {
			p.write(lines, size, middle)
			return
		}
	}
	const size = 2.4
	b := block(lines, size)
	p.write(lines, size, r2.Vec{X: (p.lo.X + p.hi.X) / 2, Y: p.below - 7 - b.Y/2})
}

// lineSize is the height of the capitals of a line of a block: the first is the name, the others are smaller.
func lineSize(i int, size float64) float64 {
	if i == 0 {
		return size
	}
	return 0.6 * size
}

// lineStep is how much of its capitals' height a line takes.
const lineStep = 1.8

// block is the size of lines of writing.
func block(lines []string, size float64) (b r2.Vec) {
	for i, line := range lines {
		text := sheet.Text{Text: line, Size: lineSize(i, size)}
		b.X = max(b.X, text.Width())
		b.Y += lineStep * text.Size
	}
	return b
}

// write writes lines about a middle, and keeps what follows clear of them.
func (p *drafting) write(lines []string, size float64, middle r2.Vec) {
	b := block(lines, size)
	y := middle.Y + b.Y/2
	for i, line := range lines {
		s := lineSize(i, size)
		p.Texts = append(p.Texts, sheet.Text{Text: line, Size: s, Middle: r2.Vec{X: middle.X, Y: y - lineStep*s/2}})
		y -= lineStep * s
	}
	p.keepClear(middle, b)
}

func (p *drafting) keepClear(middle, size r2.Vec) {
	c := corners(middle, size)
	for i := range c {
		p.busy = append(p.busy, [2]r2.Vec{c[i], c[(i+1)%4]})
	}
}

func corners(middle, size r2.Vec) [4]r2.Vec {
	x, y := size.X/2, size.Y/2
	return [4]r2.Vec{{X: middle.X - x, Y: middle.Y - y}, {X: middle.X + x, Y: middle.Y - y}, {X: middle.X + x, Y: middle.Y + y}, {X: middle.X - x, Y: middle.Y + y}}
}

// room is the place on the plate nearest to its middle where writing of a size is clear of edges, openings and marks.
func (p *drafting) room(size r2.Vec) (best r2.Vec, found bool) {
	const places = 24
	middle := r2.Scale(0.5, r2.Add(p.lo, p.hi))
	nearest := math.Inf(1)
	for i := range places + 1 {
		for k := range places + 1 {
			q := r2.Vec{
				X: p.lo.X + (p.hi.X-p.lo.X)*float64(i)/places,
				Y: p.lo.Y + (p.hi.Y-p.lo.Y)*float64(k)/places,
			}
			if d := r2.Norm(r2.Sub(q, middle)); d < nearest && p.clear(q, size) {
				best, nearest, found = q, d, true
			}
		}
	}
	return best, found
}

// clear tells whether a rectangle, with a mm about it, lies on the plate and on no line.
func (p *drafting) clear(middle, size r2.Vec) bool {
	size = r2.Add(size, r2.Vec{X: 2, Y: 2})
	lo, hi := corners(middle, size)[0], corners(middle, size)[2]
	for _, l := range p.busy {
		if sheet.CrossesBox(l[0], l[1], lo, hi) {
			return false
		}
	}
	for _, piece := range p.inside(middle, r2.Vec{X: 1}) {
		if piece[0] < 0 && piece[1] > 0 {
			return true
		}
	}
	return false
}

// openingNames writes beside every opening what it is, where there is room.
func (p *drafting) openingNames(t *templateSet) {
	for i := range p.part.Holes {
		h := &p.part.Holes[i]
		centre := r2.Scale(1000, h.Centre)
		reach := r2.Vec{X: 1.5, Y: 1.5}
		for _, q := range h.Loop {
			d := r2.Sub(r2.Scale(1000, q), centre)
			reach = r2.Vec{X: max(reach.X, math.Abs(d.X)), Y: max(reach.Y, math.Abs(d.Y))}
		}
		p.openingName(centre, reach, []string{h.Spec.Name + ", " + holeWords(t.Words().Length, h), h.Spec.Name})
	}
}

// openingName writes the first of some texts for which there is room about an opening, in letters as large as can be.
func (p *drafting) openingName(centre, reach r2.Vec, texts []string) {
	for _, line := range texts {
		for _, size := range [3]float64{2.2, 1.8, 1.4} {
			text := sheet.Text{Text: line, Size: size}
			b := r2.Vec{X: text.Width(), Y: 1.6 * size}
			away := r2.Add(reach, r2.Add(r2.Scale(0.5, b), r2.Vec{X: 1.6, Y: 1.6}))
			for _, d := range [4]r2.Vec{{X: away.X}, {X: -away.X}, {Y: away.Y}, {Y: -away.Y}} {
				text.Side = -sign(d.X)
				if text.Middle = r2.Add(centre, d); p.clear(text.Middle, b) {
					p.Texts = append(p.Texts, text)
					p.keepClear(text.Middle, b)
					return
				}
			}
		}
	}
}

// sign is −1, 0 or 1.
func sign(x float64) float64 {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}

// holeWords is the shape of an opening.
func holeWords(length func(float64) string, h *compartment.PlateHole) string {
	o := h.Spec
	switch {
	case o.Slot != nil:
		return fmt.Sprintf("slot %s x %s", length(o.Slot.Length), length(o.Slot.Width))
	case o.Door != nil:
		return fmt.Sprintf("door %s x %s", length(o.Door.Length), length(o.Door.Height))
	case o.Hole != nil:
		return "hole " + length(*o.Hole)
	case o.Area != nil:
		return "hole " + length(math.Sqrt(4**o.Area/math.Pi))
	}
	return "pump, no hole"
}

// footed adds below a drawing what stands on every page of the PDF: whose it is, and of which input.
func (t *templateSet) footed(d *sheet.Drawing) {
	box := d.Bounds()
	title := []rune(t.title())
	if most := 60; len(title) > most {
		title = append(title[:most-4], []rune(" ...")...)
	}
	for i, line := range []string{d.Title, string(title), "digest " + t.Digest[:16]} {
		d.Texts = append(d.Texts, sheet.Text{Text: line, Size: smallText, Middle: r2.Vec{X: (box.Min.X + box.Max.X) / 2, Y: box.Min.Y - 3*float64(i+1)}})
	}
}
