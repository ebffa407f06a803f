package sheet

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Pen tells what a path is for.
type Pen int

// The pens.
const (
	Cut  Pen = iota // to cut along
	Mark            // to scribe or engrave, or to go by
	Bar             // to measure
)

// Path is a line of straight pieces, in mm, X to the right and Y up.
type Path struct {
	Pen    Pen
	Points []r2.Vec
	Closed bool
}

// Text is a line of writing in a room of its Width about a place. Size is the height of a capital, mm. Side is where in the room it
// stands if it is narrower: −1 to the left, 0 in the middle, 1 to the right.
type Text struct {
	Middle r2.Vec
	Size   float64
	Text   string
	Side   float64
}

// Width is how much room a text takes at most, in either way of drawing it.
func (t *Text) Width() float64 { return strokeWidth(t.Text, t.Size) }

// Drawing is what belongs on one sheet, at its true size. Title says in one line what it is.
type Drawing struct {
	Title string
	Paths []Path
	Texts []Text
}

// Line adds a path of one straight line.
func (d *Drawing) Line(pen Pen, a, b r2.Vec) {
	d.Paths = append(d.Paths, Path{Pen: pen, Points: []r2.Vec{a, b}})
}

// Loop adds a closed path.
func (d *Drawing) Loop(pen Pen, points []r2.Vec) {
	d.Paths = append(d.Paths, Path{Pen: pen, Points: points, Closed: true})
}

// Bounds are the least and greatest coordinates of all that is drawn and written.
func (d *Drawing) Bounds() (box r2.Box) {
	box = r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	add := func(p r2.Vec) {
		box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
	}
	for i := range d.Paths {
		for _, p := range d.Paths[i].Points {
			add(p)
		}
	}
	for i := range d.Texts {
		t := &d.Texts[i]
		half := r2.Vec{X: t.Width() / 2, Y: t.Size * 5 / 6} // a letter's tail goes a third of its height down
		add(r2.Sub(t.Middle, half))
		add(r2.Add(t.Middle, half))
	}
	return box
}

// millimetres of an inch, exactly.
const inch = 25.4

// barRoom is the room that bars take below and to the left, mm.
const barRoom = 9.0

// bar is a scale of so many divisions from a place along a direction, with a tick at each end of every one.
func bar(from, along r2.Vec, divisions int, division float64) (paths []Path) {
	across := r2.Vec{X: -along.Y, Y: along.X}
	line := func(a, b r2.Vec) { paths = append(paths, Path{Pen: Bar, Points: []r2.Vec{a, b}}) }
	line(from, r2.Add(from, r2.Scale(float64(divisions)*division, along)))
	for i := range divisions + 1 {
		half := 0.8
		if i == 0 || i == divisions {
			half = 1.6
		}
		at := r2.Add(from, r2.Scale(float64(i)*division, along))
		line(r2.Sub(at, r2.Scale(half, across)), r2.Add(at, r2.Scale(half, across)))
	}
	return paths
}

// bars are a 100 mm and a 4 in bar from a corner both to the right and up, each pair side by side, with their names beside
// them. They take barRoom below the corner and to the left of it.
func bars(corner r2.Vec) (paths []Path, texts []Text) {
	right, up := r2.Vec{X: 1}, r2.Vec{Y: 1}
	at := func(x, y float64) r2.Vec { return r2.Add(corner, r2.Vec{X: x, Y: y}) }
	paths = append(paths, bar(at(0, -1.6), right, 10, 10)...)
	paths = append(paths, bar(at(0, -5.4), right, 4, inch)...)
	paths = append(paths, bar(at(-1.6, 0), up, 10, 10)...)
	paths = append(paths, bar(at(-5.4, 0), up, 4, inch)...)
	name := func(x, y float64, text string) {
		texts = append(texts, Text{Middle: at(x, y), Size: 1.8, Text: text})
	}
	name(109.5, -1.6, "100 mm")
	name(109.5, -5.4, "4 in")
	name(-2.6, 107.2, "100")
	name(-2.6, 104.2, "mm")
	name(-5.4, 110.4, "4 in")
	return paths, texts
}
