package sheet

import (
	"bytes"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// Form is a sheet of writing: tables and lines, some with boxes to tick and room to write on. It goes on one page, in letters as
// large as there is room for, else on as many as it takes in letters that can still be read with wet hands.
type Form struct {
	Paper Paper
	Title string
	Lines []string // under the title
	Parts []FormPart
	Foot  string
}

// FormPart is a table, lines, or both, under a heading.
type FormPart struct {
	Title  string
	Head   []string
	Rows   [][]string
	Shares []float64 // of the breadth, by column
	Box    int       // the column that is a box to tick, −1: none
	Blank  int       // the column that is a line to write on, −1: none
	Lines  []string
	Ticked bool // a box before every line
	Framed bool // a thick line along its side
	Large  bool // its table is in larger letters
	Beside bool // stands to the right of the part before it, each in half of the breadth
}

// The letters of a form, mm of the font's size (a point is 0.353 mm).
const (
	largestLetters  = 4.6 // 13 points
	smallestLetters = 3.2 // 9 points: what fits on one page in these or larger ones goes there
	turnedLetters   = 3.9 // 11 points, where it takes several pages
	footRoom        = 4.0
	formMargin      = 10.0 // mm on each side: what printers leave white, and a little
)

// strip is a piece of a form that is not parted over pages: its height, and how to draw it from a height down.
type strip struct {
	height float64
	keep   bool // the next one belongs to it
	draw   func(y float64)
}

// formWriter lays a form out in letters of one size.
type formWriter struct {
	*writer
	size    float64
	strips  []strip
	left    float64 // of the column that is laid out, on the paper
	breadth float64
}

// PDF writes the form, and tells how many pages it takes in letters of which size, mm. The same input gives the same bytes.
func (f *Form) PDF() (data []byte, pages int, letters float64, err error) {
	d := Document{Paper: f.Paper, Title: f.Title}
	w := &formWriter{writer: d.newWriter()}
	w.frame = r2.Vec{X: f.Paper.Width - 2*formMargin, Y: f.Paper.Height - 2*formMargin}
	w.corner.X, w.corner.Y = (f.Paper.Width-w.frame.X)/2, (f.Paper.Height+w.frame.Y)/2
	room := w.frame.Y - footRoom
	fits := false
	for letters = largestLetters; letters >= smallestLetters && !fits; letters -= 0.1 {
		w.size = letters
		w.layOut(f)
		fits = w.height() <= room
	}
	if !fits {
		w.size = turnedLetters
		w.layOut(f)
	}
	pages = w.print(f, room)
	var out bytes.Buffer
	err = w.pdf.Output(&out)
	return out.Bytes(), pages, w.size, err
}

func (w *formWriter) height() (sum float64) {
	for i := range w.strips {
		sum += w.strips[i].height
	}
	return sum
}

// print puts the strips on pages, those that belong together on one, if a page holds them.
func (w *formWriter) print(f *Form, room float64) (pages int) {
	top := w.corner.Y - w.frame.Y
	used := room + 1
	for i := range w.strips {
		group := 0.0
		for k := i; k < len(w.strips); k++ {
			group += w.strips[k].height
			if !w.strips[k].keep {
				break
			}
		}
		if used+w.strips[i].height > room || used+group > room && group <= room {
			w.pdf.AddPage()
			w.pdf.SetDrawColor(0, 0, 0)
			pages++
			used = 0
			w.font("", 2.5)
			w.pdf.Text(w.corner.X, w.corner.Y, w.letters(f.Foot))
		}
		w.strips[i].draw(top + used)
		used += w.strips[i].height
	}
	return pages
}

// layOut makes the strips of a form in letters of the writer's size.
func (w *formWriter) layOut(f *Form) {
	w.strips = w.strips[:0]
	w.left, w.breadth = w.corner.X, w.frame.X
	w.text(f.Title, "B", 1.35*w.size, 0, false)
	for _, line := range f.Lines {
		w.text(line, "", w.size, 0, false)
	}
	for i := range f.Parts {
		if i+1 < len(f.Parts) && f.Parts[i+1].Beside && !f.Parts[i].Beside {
			w.pair(&f.Parts[i], &f.Parts[i+1])
		} else if i == 0 || !f.Parts[i].Beside {
			w.part(&f.Parts[i])
		}
	}
}

// pair lays out two parts side by side, as one strip.
func (w *formWriter) pair(a, b *FormPart) {
	const between = 5.0 // mm
	before := w.strips
	left, breadth := w.left, w.breadth
	w.breadth = (breadth - between) / 2
	var columns [2][]strip
	height := 0.0
	for i, p := range [2]*FormPart{a, b} {
		w.strips, w.left = nil, left+float64(i)*(w.breadth+between)
		w.part(p)
		columns[i] = w.strips
		height = max(height, w.height())
	}
	w.left, w.breadth = left, breadth
	w.strips = append(before, strip{height: height, draw: func(y float64) {
		for _, column := range columns {
			down := y
			for i := range column {
				column[i].draw(down)
				down += column[i].height
			}
		}
	}})
}

func (w *formWriter) part(p *FormPart) {
	w.gap(0.5 * w.size)
	first := len(w.strips)
	w.text(p.Title, "B", 1.12*w.size, 0, true)
	w.table(p)
	indent := 0.0
	if p.Ticked {
		indent = 1.6 * w.size
	}
	if p.Framed {
		indent = w.size
	}
	for _, line := range p.Lines {
		at := len(w.strips)
		w.text(line, "", w.size, indent, false)
		if p.Ticked && len(w.strips) > at {
			w.tick(at)
		}
	}
	if p.Framed {
		for i := first; i < len(w.strips); i++ {
			w.bar(i)
			w.strips[i].keep = i+1 < len(w.strips)
		}
	}
}

func (w *formWriter) gap(height float64) {
	w.strips = append(w.strips, strip{height: height, keep: true, draw: func(float64) {}})
}

// formStep is how far lines of letters of one size stand apart, of that size.
const formStep = 1.22

// text adds a text in as many lines as it takes.
func (w *formWriter) text(text, style string, size, indent float64, keep bool) {
	left, lines := w.left+indent, w.wrap(text, style, size, w.breadth-indent)
	for i, line := range lines {
		w.strips = append(w.strips, strip{height: formStep * size, keep: keep || i+1 < len(lines), draw: func(y float64) {
			w.font(style, size)
			w.pdf.Text(left, y+0.92*size, w.letters(line))
		}})
	}
}

// tick puts a box to tick before a strip.
func (w *formWriter) tick(at int) {
	left, draw := w.left, w.strips[at].draw
	w.strips[at].draw = func(y float64) {
		draw(y)
		w.pdf.SetLineWidth(0.3)
		w.pdf.Rect(left, y+0.2*w.size, 0.85*w.size, 0.85*w.size, "D")
	}
}

// bar puts a thick line beside a strip.
func (w *formWriter) bar(at int) {
	left, s := w.left-2.5, w.strips[at]
	w.strips[at].draw = func(y float64) {
		s.draw(y)
		w.pdf.SetLineWidth(0.9)
		w.pdf.Line(left, y, left, y+s.height)
	}
}

// table adds the rows of a part, each as high as its highest cell.
func (w *formWriter) table(p *FormPart) {
	if len(p.Rows) == 0 {
		return
	}
	total := 0.0
	for _, share := range p.Shares {
		total += share
	}
	left := make([]float64, len(p.Shares)+1) // on the paper
	left[0] = w.left
	for i, share := range p.Shares {
		left[i+1] = left[i] + w.breadth*share/total
	}
	w.row(p, p.Head, left, true)
	for _, row := range p.Rows {
		w.row(p, row, left, false)
	}
}

// row adds one row: its cells, a line under it, and where they belong the box and the line to write on.
func (w *formWriter) row(p *FormPart, cells []string, left []float64, head bool) {
	size := w.size
	if p.Large {
		size *= 1.12
	}
	if head {
		size *= 0.82
	}
	const aside = 1.0 // mm between a cell's text and the next cell
	wrapped := make([][]string, len(cells))
	most := 1
	for i, cell := range cells {
		wrapped[i] = w.wrap(cell, "", size, left[i+1]-left[i]-aside)
		most = max(most, len(wrapped[i]))
	}
	height := float64(most)*formStep*size + 0.28*w.size
	if !head && p.Blank >= 0 {
		height += 0.25 * w.size // room for a hand
	}
	w.strips = append(w.strips, strip{height: height, keep: head, draw: func(y float64) {
		for i, lines := range wrapped {
			lead := (height - float64(len(lines))*formStep*size) / 2
			w.font("", size)
			for k, line := range lines {
				w.pdf.Text(left[i], y+lead+formStep*size*float64(k)+0.92*size, w.letters(line))
			}
		}
		w.pdf.SetLineWidth(0.12)
		w.pdf.Line(left[0], y+height, left[len(left)-1], y+height)
		if head {
			return
		}
		if p.Box >= 0 {
			w.pdf.SetLineWidth(0.3)
			w.pdf.Rect(left[p.Box], y+(height-0.95*w.size)/2, 0.95*w.size, 0.95*w.size, "D")
		}
		if p.Blank >= 0 {
			w.pdf.SetLineWidth(0.3)
			w.pdf.Rect(left[p.Blank], y+0.1*w.size, left[p.Blank+1]-left[p.Blank], height-0.2*w.size, "D")
		}
	}})
}

// wrap is a text in lines that are no wider than there is room; a word that is alone too wide is cut.
func (w *formWriter) wrap(text, style string, size, width float64) (lines []string) {
	w.font(style, size)
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimPrefix(line+" "+word, " ")
		if w.pdf.GetStringWidth(w.letters(longer)) <= width {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = w.fit(word, width)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
