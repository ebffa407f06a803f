package sheet

import (
	"bytes"
	"fmt"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/gonum/spatial/r2"
)

// Paper is a size of paper, mm.
type Paper struct {
	Name          string
	Width, Height float64
}

// The papers. What is printed keeps to 190 × 255 mm in the middle, so that either takes the other's pages.
var (
	A4     = Paper{"a4", 210, 297}
	Letter = Paper{"letter", 215.9, 279.4}
)

// The frame on an upright page, and what of a frame the head takes, mm.
const (
	frameWidth  = 190.0
	frameHeight = 255.0
	headHeight  = 19.0
)

// correction is mm on a page of the document for a true one. A printer takes a lying page with its height across.
func (d *Document) correction(lying bool) r2.Vec {
	switch {
	case d.Bars == r2.Vec{}:
		return r2.Vec{X: 1, Y: 1}
	case lying:
		return r2.Vec{X: 100 / d.Bars.Y, Y: 100 / d.Bars.X}
	}
	return r2.Vec{X: 100 / d.Bars.X, Y: 100 / d.Bars.Y}
}

// frameOf is the frame's size on a page, upright or lying.
func frameOf(lying bool) r2.Vec {
	if lying {
		return r2.Vec{X: frameHeight, Y: frameWidth}
	}
	return r2.Vec{X: frameWidth, Y: frameHeight}
}

// mostTiles is how many tiles of one drawing are printed: more than a hundred sheets glued together are no template.
const mostTiles = 100

// Document is what all pages of a PDF have in common.
type Document struct {
	Paper  Paper
	Title  string
	Foot   string  // in small letters on each page
	Bars   r2.Vec  // mm that the 100 mm bars of an upright page came out as, across and up, on the printer that it is for; zero: taken as right
	Opened Opening // the first page
}

// Opening is the text of the first pages: lines in letters of one width.
type Opening struct {
	Title string
	Lines []string
}

// PDF writes the opening and the drawings, each on as many pages as it takes; skipped are the titles of those that would take
// too many. The same input gives the same bytes.
func (d *Document) PDF(drawings []Drawing) (data []byte, skipped []string, err error) {
	w := d.newWriter()
	for i := range drawings {
		t, lying := w.layOut(&drawings[i])
		if t.cols*t.rows > mostTiles {
			skipped = append(skipped, drawings[i].Title)
			continue
		}
		w.sheets = append(w.sheets, sheetsOf(&drawings[i], t, lying)...)
	}
	w.opening()
	for i := range w.sheets {
		w.sheet(&w.sheets[i])
	}
	var out bytes.Buffer
	if err := w.pdf.Output(&out); err != nil {
		return nil, nil, err
	}
	data, err = withoutScaling(out.Bytes())
	return data, skipped, err
}

// onePage is one tile of a drawing.
type onePage struct {
	drawing  *Drawing
	tiling   tiling
	lying    bool
	col, row int
}

// layOut tiles a drawing on upright pages, or on lying ones where that takes fewer.
func (w *writer) layOut(d *Drawing) (t tiling, lying bool) {
	upright, across := tile(d.Bounds(), w.room(false)), tile(d.Bounds(), w.room(true))
	if across.cols*across.rows < upright.cols*upright.rows {
		return across, true
	}
	return upright, false
}

func sheetsOf(d *Drawing, t tiling, lying bool) (pages []onePage) {
	for row := range t.rows {
		for col := range t.cols {
			if t.shows(d, col, row) {
				pages = append(pages, onePage{d, t, lying, col, row})
			}
		}
	}
	return pages
}

// writer puts mm from the lower left corner of the frame on pages, corrected for the printer.
type writer struct {
	*Document
	pdf      *fpdf.Fpdf
	ansi     func(string) string
	frame    r2.Vec // its size on this page
	corner   r2.Vec // its lower left one on the paper, from the paper's upper left
	correct  r2.Vec // paper mm in the document for a true mm
	sheets   []onePage
	page     int
	lastPage int
}

func (d *Document) newWriter() *writer {
	w := &writer{Document: d}
	w.pdf = fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: d.Paper.Width, Ht: d.Paper.Height}})
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // the same input, the same bytes
	w.pdf.SetCreationDate(fixed)
	w.pdf.SetModificationDate(fixed)
	w.pdf.SetCatalogSort(true)
	w.pdf.SetAutoPageBreak(false, 0)
	w.pdf.SetTitle(d.Title, true)
	w.pdf.SetLang("en")
	w.pdf.SetLineCapStyle("butt")
	w.ansi = w.pdf.UnicodeTranslatorFromDescriptor("")
	return w
}

// room is what one page shows of a drawing, true mm.
func (w *writer) room(lying bool) r2.Vec {
	frame, c := frameOf(lying), w.correction(lying)
	return r2.Vec{X: frame.X/c.X - barRoom - 1, Y: (frame.Y-headHeight)/c.Y - barRoom - 1}
}

// at is where a place in true mm from the frame's lower left corner is on the paper.
func (w *writer) at(p r2.Vec) (x, y float64) {
	return w.corner.X + p.X*w.correct.X, w.corner.Y - p.Y*w.correct.Y
}

// sheet prints one tile of a drawing.
func (w *writer) sheet(s *onePage) {
	w.begin(s.drawing.Title, s.lying)
	lo, size := s.tiling.corner(s.col, s.row), s.tiling.size
	origin := r2.Sub(r2.Vec{X: barRoom + 1, Y: barRoom + 1}, lo) // the drawing's own on the frame
	x, y := w.at(r2.Vec{X: barRoom + 1, Y: barRoom + 1 + size.Y})
	w.pdf.ClipRect(x, y, size.X*w.correct.X, size.Y*w.correct.Y, false)
	lines, crosses := s.tiling.seams()
	w.pdf.SetDashPattern([]float64{1, 2}, 0)
	w.paths(lines, origin, 0.1)
	w.pdf.SetDashPattern(nil, 0)
	w.paths(crosses, origin, 0.15)
	w.paths(s.drawing.Paths, origin, 0.25)
	for i := range s.drawing.Texts {
		w.text(&s.drawing.Texts[i], origin)
	}
	w.pdf.ClipEnd()
	if s.tiling.cols*s.tiling.rows > 1 {
		w.key(s)
	}
}

// paths draws paths, those to cut as thick as said, others in half of that.
func (w *writer) paths(paths []Path, origin r2.Vec, thick float64) {
	for i := range paths {
		p := &paths[i]
		w.pdf.SetLineWidth(thick)
		if p.Pen != Cut {
			w.pdf.SetLineWidth(max(0.1, thick/2))
		}
		for k, q := range p.Points {
			x, y := w.at(r2.Add(origin, q))
			if k == 0 {
				w.pdf.MoveTo(x, y)
			} else {
				w.pdf.LineTo(x, y)
			}
		}
		if p.Closed {
			w.pdf.ClosePath()
		}
		w.pdf.DrawPath("D")
	}
}

// capital is the height of a capital of the fonts used, as a share of their size (Helvetica: 718 of 1000).
const capital = 0.718

func (w *writer) text(t *Text, origin r2.Vec) {
	w.font("", t.Size/capital)
	text := w.letters(t.Text)
	x, y := w.at(r2.Add(origin, t.Middle))
	width := w.pdf.GetStringWidth(text)
	x += t.Side * (t.Width()*w.correct.X - width) / 2
	w.pdf.Text(x-width/2, y+t.Size/2, text)
}

// font sets Helvetica ("B": bold) of a size in mm.
func (w *writer) font(style string, size float64) {
	w.pdf.SetFont("Helvetica", style, 10)
	w.pdf.SetFontUnitSize(size)
}

// letters is a text in the letters that the fonts have; others become question marks.
func (w *writer) letters(text string) string {
	var out []rune
	for _, r := range text {
		if r < ' ' {
			r = ' '
		}
		if r > 0xff && w.ansi(string(r)) == "." { // what the translator gives for a letter that it does not know
			r = '?'
		}
		out = append(out, r)
	}
	return w.ansi(string(out))
}

// fit is a text cut to a width.
func (w *writer) fit(text string, width float64) string {
	if w.pdf.GetStringWidth(w.letters(text)) <= width {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && w.pdf.GetStringWidth(w.letters(string(runes)+" ...")) > width {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + " ..."
}

// begin begins a page: head, foot and bars.
func (w *writer) begin(title string, lying bool) {
	w.page++
	paper := r2.Vec{X: w.Paper.Width, Y: w.Paper.Height}
	if lying {
		paper = r2.Vec{X: paper.Y, Y: paper.X}
	}
	w.frame, w.correct = frameOf(lying), w.correction(lying)
	w.corner = r2.Vec{X: (paper.X - w.frame.X) / 2, Y: (paper.Y + w.frame.Y) / 2}
	w.pdf.AddPageFormat("P", fpdf.SizeType{Wd: paper.X, Ht: paper.Y})
	w.pdf.SetDrawColor(0, 0, 0)
	top := w.corner.Y - w.frame.Y
	row := func(style string, size, down float64, text string) {
		w.font(style, size)
		w.pdf.Text(w.corner.X, top+down, w.letters(w.fit(text, 150)))
	}
	row("B", 4.6, 4, title)
	row("", 3.6, 9, w.Title)
	row("", 2.5, 12.6, w.Foot)
	hint := "True size: print at 100 %, no fitting to the page; then measure the bars."
	if w.Bars != (r2.Vec{}) {
		hint = fmt.Sprintf("True size on a printer that makes %g mm across and %g mm up of 100 on an upright page: print at 100 %%.", w.Bars.X, w.Bars.Y)
	}
	row("", 2.5, 16, hint)
	paths, texts := bars(r2.Vec{X: barRoom, Y: barRoom})
	w.paths(paths, r2.Vec{}, 0.2)
	for i := range texts {
		w.text(&texts[i], r2.Vec{})
	}
	w.font("", 2.5)
	count := w.letters(fmt.Sprintf("page %d of %d", w.page, w.lastPage))
	w.pdf.Text(w.corner.X+w.frame.X-w.pdf.GetStringWidth(count), w.corner.Y-1, count)
}

// key shows where on the whole this tile lies, in the head's right corner. Tiles with nothing on them are not printed, and
// have no name in it.
func (w *writer) key(s *onePage) {
	t := &s.tiling
	cell := min(6, 34/float64(t.cols), 15/float64(t.rows))
	left, top := w.corner.X+w.frame.X-cell*float64(t.cols), w.corner.Y-w.frame.Y
	w.pdf.SetLineWidth(0.15)
	for row := range t.rows {
		for col := range t.cols {
			x, y := left+cell*float64(col), top+cell*float64(row)
			if col == s.col && row == s.row {
				w.pdf.SetFillColor(190, 190, 190)
				w.pdf.Rect(x, y, cell, cell, "F")
			}
			w.pdf.Rect(x, y, cell, cell, "D")
			if t.shows(s.drawing, col, row) {
				w.font("", cell*0.45)
				name := t.name(col, row)
				w.pdf.Text(x+(cell-w.pdf.GetStringWidth(name))/2, y+cell*0.66, name)
			}
		}
	}
	w.font("B", 4.6)
	name := t.name(s.col, s.row)
	w.pdf.Text(left-w.pdf.GetStringWidth(name)-3, top+4, name)
}

// opening prints the first pages.
func (w *writer) opening() {
	const size, step = 2.9, 4.2
	bars := r2.Scale(barRoom+3, w.correction(false)) // what the bars take of the page
	perPage := int((frameHeight - headHeight - bars.Y) / step)
	pages := (len(w.Opened.Lines) + perPage - 1) / perPage
	w.lastPage = pages + len(w.sheets)
	for p := range pages {
		w.begin(w.Opened.Title, false)
		w.pdf.SetFont("Courier", "", 10)
		w.pdf.SetFontUnitSize(size)
		for i, line := range w.Opened.Lines[p*perPage : min((p+1)*perPage, len(w.Opened.Lines))] {
			w.pdf.Text(w.corner.X+bars.X, w.corner.Y-w.frame.Y+headHeight+step*float64(i+1), w.letters(line))
		}
	}
}

// OpeningColumns is how many letters a line of the opening holds: Courier's are 0.6 of their size wide.
const OpeningColumns = 98
