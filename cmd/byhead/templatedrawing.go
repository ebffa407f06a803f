package main

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/cmd/byhead/sheet"
	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Sizes on a template, mm.
const (
	smallText = 1.8 // height of a capital
	tick      = 6.0 // length of a mark at an edge
	keelNear  = 15  // a keel line further below a plate is not drawn
)

// waterline is the sea's surface with the hull at rest, by name.
type waterline struct {
	name string
	pose compartment.Pose
}

// waterlines are those of the hull as at the start, and with the weights that come later; none where it does not float.
func (t *templateSet) waterlines() (lines []waterline) {
	body := t.vessel.Whole
	add := func(name string, later bool) {
		if rest, _ := compartment.NewFloater(body, t.vessel.Water.Density, later).Start(); rest.Stable {
			lines = append(lines, waterline{name, rest.Pose})
		}
	}
	if body.Mass > 0 {
		add("waterline", false)
	}
	if body.LaterMass > 0 {
		add("waterline, all aboard", true)
	}
	return lines
}

// drafting is a drawing of a part on the way, in mm.
type drafting struct {
	sheet.Drawing
	part  *templatePart
	loops [][]r2.Vec // of what is cut
	lo    r2.Vec     // bounds of it
	hi    r2.Vec
	busy  [][2]r2.Vec // lines that writing keeps clear of
	below float64     // nothing is drawn below this height
}

// drawing draws a part with its marks and its name.
func (t *templateSet) drawing(part *templatePart, lines []waterline) sheet.Drawing {
	p := &drafting{part: part}
	p.Title = t.partTitle(part) + ", " + faceWords(part.Axis)
	p.lo, p.hi = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, loop := range part.Cut {
		points := make([]r2.Vec, len(loop))
		for i, q := range loop {
			points[i] = r2.Scale(1000, q)
			p.lo = r2.Vec{X: min(p.lo.X, points[i].X), Y: min(p.lo.Y, points[i].Y)}
			p.hi = r2.Vec{X: max(p.hi.X, points[i].X), Y: max(p.hi.Y, points[i].Y)}
		}
		p.loops = append(p.loops, points)
		p.Loop(sheet.Cut, points)
		for i, a := range points {
			p.busy = append(p.busy, [2]r2.Vec{a, points[(i+1)%len(points)]})
		}
	}
	p.below = p.lo.Y
	p.openingMarks()
	if part.Axis != compartment.AcrossY {
		p.centreMarks()
	}
	p.keelMark()
	for i := range lines {
		p.waterlineMarks(i, &lines[i])
	}
	p.sideNames()
	p.edgeNote(t)
	p.name(t)
	p.openingNames(t)
	return p.Drawing
}

// partTitle says in one line what a part is.
func (t *templateSet) partTitle(p *templatePart) string {
	place := t.Words().Length(p.At)
	switch {
	case p.Spec == nil && p.Axis == compartment.AcrossX:
		return fmt.Sprintf("%s, wall at %s", p.Name, place)
	case p.Axis == compartment.AcrossY:
		side := "port"
		if p.At < 0 {
			side, place = "starboard", t.Words().Length(-p.At)
		}
		return fmt.Sprintf("%s, wall %s to %s", p.Name, place, side)
	case p.Axis == compartment.AcrossZ:
		return fmt.Sprintf("%s, flat %s above the keel line", p.Name, place)
	case p.Section != "":
		return fmt.Sprintf("%s, bulkhead at %s, stays with section %s", p.Name, place, p.Section)
	}
	return fmt.Sprintf("%s, bulkhead at %s", p.Name, place)
}

// mark draws a line that writing keeps clear of.
func (p *drafting) mark(a, b r2.Vec) {
	p.Line(sheet.Mark, a, b)
	p.busy = append(p.busy, [2]r2.Vec{a, b})
}

// inside are the pieces of a straight line, by the distance from a point of it along a unit vector, that lie in what is cut.
func (p *drafting) inside(from, along r2.Vec) (pieces [][2]float64) {
	across := r2.Vec{X: -along.Y, Y: along.X}
	var at []float64
	for _, loop := range p.loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			da, db := r2.Dot(across, r2.Sub(a, from)), r2.Dot(across, r2.Sub(b, from))
			if (da < 0) != (db < 0) {
				q := r2.Add(a, r2.Scale(da/(da-db), r2.Sub(b, a)))
				at = append(at, r2.Dot(along, r2.Sub(q, from)))
			}
		}
	}
	slices.Sort(at)
	for i := 0; i+1 < len(at); i += 2 {
		pieces = append(pieces, [2]float64{at[i], at[i+1]})
	}
	return pieces
}

// ticks marks a line at the outermost edges of what is cut; all along where that is short.
func (p *drafting) ticks(from, along r2.Vec) (pieces [][2]float64) {
	at := func(t float64) r2.Vec { return r2.Add(from, r2.Scale(t, along)) }
	pieces = p.inside(from, along)
	if len(pieces) == 0 {
		return nil
	}
	first, last := pieces[0], pieces[len(pieces)-1]
	p.mark(at(first[0]), at(min(first[0]+tick, first[1])))
	p.mark(at(max(last[1]-tick, last[0])), at(last[1]))
	return pieces
}

func (p *drafting) centreMarks() {
	if p.part.Axis == compartment.AcrossX {
		p.ticks(r2.Vec{}, r2.Vec{Y: 1})
		return
	}
	p.ticks(r2.Vec{}, r2.Vec{X: 1})
}

// keelMark is a cross where the keel line passes, with its name, if it is near; on the side of a box, the keel line's level.
func (p *drafting) keelMark() {
	if p.part.Axis == compartment.AcrossZ || p.lo.Y > keelNear || p.hi.Y < -keelNear {
		return
	}
	x := 0.0
	if p.part.Axis == compartment.AcrossY {
		x = p.lo.X + 20
	} else if p.lo.X > keelNear || p.hi.X < -keelNear {
		return
	}
	p.mark(r2.Vec{X: x - 4}, r2.Vec{X: x + 4})
	p.mark(r2.Vec{X: x, Y: -2}, r2.Vec{X: x, Y: 2})
	p.below = min(p.below, -2)
	p.Texts = append(p.Texts, sheet.Text{Middle: r2.Vec{X: x, Y: p.below - 3}, Size: smallText, Text: "keel line"})
}

// waterlineMarks marks where the water stands at rest; the first is named to the left, the second to the right.
func (p *drafting) waterlineMarks(i int, w *waterline) {
	if p.part.Axis == compartment.AcrossZ {
		return
	}
	unseen := p.part.Axis.Body(r2.Vec{}, p.part.At)
	right, up := p.part.Axis.Body(r2.Vec{X: 1}, 0), p.part.Axis.Body(r2.Vec{Y: 1}, 0)
	n := r2.Vec{X: r3.Dot(w.pose.Up, right), Y: r3.Dot(w.pose.Up, up)}
	if r2.Norm(n) < 1e-6 {
		return
	}
	from := r2.Scale(-1000*w.pose.Height(unseen)/r2.Norm2(n), n)
	along := r2.Unit(r2.Vec{X: n.Y, Y: -n.X})
	if along.X < 0 {
		along = r2.Scale(-1, along)
	}
	pieces := p.ticks(from, along)
	if len(pieces) == 0 {
		return
	}
	text := sheet.Text{Size: smallText, Text: w.name}
	end, inward := r2.Add(from, r2.Scale(pieces[0][0], along)), 1.0
	if i > 0 {
		end, inward = r2.Add(from, r2.Scale(pieces[len(pieces)-1][1], along)), -1
	}
	size := r2.Vec{X: text.Width(), Y: 1.6 * smallText}
	text.Side = -inward
	text.Middle = r2.Add(end, r2.Scale(inward*(tick+2+size.X/2), along))
	if !p.clear(text.Middle, size) { // then beside the plate
		text.Middle, text.Side = r2.Vec{X: end.X - inward*(2+size.X/2), Y: end.Y}, inward
	}
	p.Texts = append(p.Texts, text)
	p.keepClear(text.Middle, size)
}

// sideNames tells left from right below the plate, within its breadth where the keel line's name leaves room.
func (p *drafting) sideNames() {
	names := [2]string{"port", "starboard"}
	if p.part.Axis != compartment.AcrossX {
		names = [2]string{"aft", "forward"}
	}
	const enough = 55
	for i, name := range names {
		text := sheet.Text{Size: smallText, Text: name, Middle: r2.Vec{Y: p.lo.Y - 3}}
		out := 3 + text.Width()/2
		if p.hi.X-p.lo.X > enough {
			out = -text.Width() / 2
		}
		text.Middle.X, text.Side = p.lo.X-out, -1
		if i == 1 {
			text.Middle.X, text.Side = p.hi.X+out, 1
		}
		p.Texts = append(p.Texts, text)
	}
}

// edgeNote says above the plate how high its upper edge stands, and its lowest point.
func (p *drafting) edgeNote(t *templateSet) {
	if p.part.Axis == compartment.AcrossZ {
		return
	}
	w := t.Words()
	what := "top edge "
	if p.part.Spec != nil && p.part.Spec.Top == nil {
		what = "up to the deck, "
	}
	add := func(text string, up float64) {
		p.Texts = append(p.Texts, sheet.Text{Size: smallText, Text: text, Middle: r2.Vec{X: (p.lo.X + p.hi.X) / 2, Y: p.hi.Y + up}})
	}
	add(what+w.Length(p.hi.Y/1000)+" above the keel line", 6.5)
	add("lowest point "+w.Length(p.lo.Y/1000)+" above it", 3.2)
}

// openingMarks are crosses to drill by; of a pump, which has no figure, all that is drawn.
func (p *drafting) openingMarks() {
	for i := range p.part.Holes {
		c := r2.Scale(1000, p.part.Holes[i].Centre)
		p.mark(r2.Sub(c, r2.Vec{X: 1.5}), r2.Add(c, r2.Vec{X: 1.5}))
		p.mark(r2.Sub(c, r2.Vec{Y: 1.5}), r2.Add(c, r2.Vec{Y: 1.5}))
	}
}
