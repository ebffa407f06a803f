package page

import (
	_ "embed"
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

//go:embed figure.css
var figureStyle string

// frameSize is the size of a figure and where its plot stands in it, in CSS pixels.
type frameSize struct {
	wide                     float64
	left, right, top, bottom float64
	plotHigh, rowHigh        float64
	ticks                    int // on the level axis, at most
	letters                  int // of a row's name, at most
	class                    string
}

// The two sizes that a page holds, of which it shows one.
var (
	wideFrame   = frameSize{wide: 560, left: 58, right: 19, top: 20, bottom: 34, plotHigh: 190, rowHigh: 26, ticks: 7, letters: 18, class: "wide"}
	narrowFrame = frameSize{wide: 352, left: 50, right: 18, top: 20, bottom: 34, plotHigh: 160, rowHigh: 26, ticks: 5, letters: 12, class: "narrow"}
)

// drawing is a figure being written.
type drawing struct {
	*figure
	frameSize
	high float64
	out  strings.Builder
}

// svg is the figure as an element of a page; alone: as a file of its own, with its title, legend and colours.
func (f *figure) svg(size frameSize, alone bool) string {
	d := &drawing{figure: f, frameSize: size}
	head := 0.0
	if alone {
		head = 48 + 18*float64((len(f.lines)+2)/3)
	}
	if len(f.rows) > 0 {
		d.plotHigh = size.rowHigh * float64(len(f.rows))
		d.left = 14 + 7.2*float64(d.longestRow())
	}
	d.top += head
	d.high = d.top + d.plotHigh + d.bottom
	fmt.Fprintf(&d.out, `<svg xmlns="http://www.w3.org/2000/svg" class="fig %s" viewBox="0 0 %g %g" role="img" aria-label="%s" data-left="%g" data-right="%g" data-from="%g" data-to="%g"`,
		d.class, d.wide, d.high, html.EscapeString(f.title+". "+f.note), d.left, d.wide-d.right, f.from, f.to)
	if alone {
		fmt.Fprintf(&d.out, ` width="%g" height="%g"><style>%s</style><rect class="paper" width="100%%" height="100%%"/>`, d.wide, d.high, figureStyle)
		d.head()
	} else {
		d.out.WriteString(">")
	}
	d.axes()
	d.eventMarks()
	d.rowBands()
	d.limitLines()
	d.curves()
	fmt.Fprintf(&d.out, `<line class="cursor" x1="%s" x2="%s" y1="%s" y2="%s"/></svg>`, px(d.left), px(d.left), px(d.top), px(d.top+d.plotHigh))
	return d.out.String()
}

func (d *drawing) longestRow() (longest int) {
	for _, r := range d.rows {
		longest = max(longest, min(d.letters, len([]rune(r.label))))
	}
	return longest
}

// px is a coordinate to a tenth of a pixel.
func px(x float64) string { return strconv.FormatFloat(math.Round(10*x)/10, 'f', -1, 64) }

func (d *drawing) place(x, y float64) r3.Vec {
	return r3.Vec{
		X: d.left + (x-d.from)/(d.to-d.from)*(d.wide-d.left-d.right),
		Y: d.top + (d.hi-y)/(d.hi-d.lo)*d.plotHigh,
	}
}

func (d *drawing) text(class string, x, y float64, text string) {
	fmt.Fprintf(&d.out, `<text class="%s" x="%s" y="%s">%s</text>`, class, px(x), px(y), html.EscapeString(text))
}

func (d *drawing) stroke(class string, x1, y1, x2, y2 float64) {
	fmt.Fprintf(&d.out, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, class, px(x1), px(y1), px(x2), px(y2))
}

// head is the title and the legend of a figure that stands alone.
func (d *drawing) head() {
	d.text("title", 12, 22, d.title)
	of := []rune(d.of)
	if most := int(d.wide / 7.5); len(of) > most {
		of = append(of[:most-1], '…')
	}
	d.text("tick", 12, 40, string(of))
	for i := range d.lines {
		l := &d.lines[i]
		x, y := 14+float64(i%3)*(d.wide-20)/3, 60+18*float64(i/3)
		fmt.Fprintf(&d.out, `<line class="l%d d%d" x1="%s" x2="%s" y1="%s" y2="%s"/>`, l.colour, l.dash, px(x), px(x+28), px(y-4), px(y-4))
		d.text("tick", x+34, y, l.label)
	}
}

// axes draws the frame, the ticks and their numbers.
func (d *drawing) axes() {
	right, bottom := d.wide-d.right, d.top+d.plotHigh
	if len(d.rows) == 0 {
		step := niceStep(d.hi-d.lo, 5)
		for k := math.Ceil(d.lo/step - 1e-9); k*step <= d.hi+1e-9*step; k++ {
			y := d.place(d.from, k*step).Y
			class := "grid"
			if k == 0 {
				class = "zero"
			}
			d.stroke(class, d.left, y, right, y)
			d.text("tick end", d.left-6, y+4, tickText(k*step, step))
		}
		d.text("tick", 4, d.top-8, d.unit)
	}
	step := timeStepOf(d.to-d.from, d.ticks)
	if d.along != "" {
		step = niceStep(d.to-d.from, d.ticks)
	}
	for k := math.Ceil(d.from/step - 1e-9); k*step <= d.to+1e-9*step; k++ {
		x := d.place(k*step, 0).X
		d.stroke("grid", x, bottom, x, bottom+4)
		text := tickText(k*step, step)
		if d.along == "" && d.to > 150 {
			text = fmt.Sprintf("%d:%02d", int(k*step)/60, int(k*step)%60)
		}
		d.text("tick middle", x, bottom+16, text)
	}
	label := "time, s"
	switch {
	case d.along != "":
		label = "from the after end, " + d.along
	case d.to > 150:
		label = "time, min:s"
	}
	d.text("tick end", right, bottom+30, label)
	d.stroke("axis", d.left, bottom, right, bottom)
}

// tickText is a number with as many decimals as its step has.
func tickText(x, step float64) string {
	return strconv.FormatFloat(x+0, 'f', max(0, int(math.Ceil(-math.Log10(step)-1e-9))), 64)
}

// eventMarks draws the events, numbered as the story numbers them, where there is room for a number.
func (d *drawing) eventMarks() {
	last := math.Inf(-1)
	for _, m := range d.marks {
		if m.at < d.from || m.at > d.to {
			continue
		}
		x := d.place(m.at, 0).X
		fmt.Fprintf(&d.out, `<g><title>%s</title>`, html.EscapeString(fmt.Sprintf("%d: %s", m.number, m.text)))
		d.stroke("event", x, d.top, x, d.top+d.plotHigh)
		if x-last > 13 {
			d.text("number middle", x, d.top-6, strconv.Itoa(m.number))
			last = x
		}
		d.out.WriteString("</g>")
	}
}

func (d *drawing) limitLines() {
	for _, l := range d.limits {
		y := d.place(d.from, l.at).Y
		d.stroke("limit", d.left, y, d.wide-d.right, y)
		up := y - 4
		if up < d.top+10 {
			up = y + 13
		}
		d.text("limitname end", d.wide-d.right-2, up, l.label)
	}
}

func (d *drawing) curves() {
	for i := range d.lines {
		l := &d.lines[i]
		for _, run := range runs(l.x, l.y, d.place) {
			fmt.Fprintf(&d.out, `<path class="l%d d%d" d="%s"/>`, l.colour, l.dash, pathOf(run, false))
		}
	}
}

// pathOf is the line through points.
func pathOf(points []r3.Vec, closed bool) string {
	var b strings.Builder
	for i, p := range points {
		if i == 0 {
			b.WriteByte('M')
		} else {
			b.WriteByte('L')
		}
		b.WriteString(px(p.X))
		b.WriteByte(' ')
		b.WriteString(px(p.Y))
	}
	switch {
	case closed:
		b.WriteByte('Z')
	case len(points) == 1:
		b.WriteString("h0.1")
	}
	return b.String()
}

// rowBands draws the rows: how full each space is, from the row's foot to its top.
func (d *drawing) rowBands() {
	for i := range d.rows {
		r := &d.rows[i]
		foot := d.top + d.rowHigh*float64(i+1)
		high := d.rowHigh - 5
		right := d.wide - d.right
		fmt.Fprintf(&d.out, `<rect class="row" x="%s" y="%s" width="%s" height="%s"/>`, px(d.left), px(foot-high), px(right-d.left), px(high))
		place := func(x, share float64) r3.Vec {
			return r3.Vec{X: d.place(x, 0).X, Y: foot - high*math.Max(0, math.Min(1, share))}
		}
		for _, run := range runs(r.x, r.share, place) {
			first, last := run[0].X, run[len(run)-1].X
			area := append(append([]r3.Vec{{X: first, Y: foot}}, run...), r3.Vec{X: last, Y: foot})
			fmt.Fprintf(&d.out, `<path class="fill" d="%s"/><path class="surface" d="%s"/>`, pathOf(area, true), pathOf(run, false))
		}
		name := []rune(r.label)
		if len(name) > d.letters {
			name = append(name[:d.letters-1], '…')
		}
		d.text("tick end", d.left-6, foot-high/2+4, string(name))
	}
}
