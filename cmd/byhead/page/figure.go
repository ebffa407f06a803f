package page

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// figure is a chart: lines over time (or along the hull) on one axis, or a strip of rows.
type figure struct {
	name, title, note string
	of                string // what it is a figure of, where it stands alone
	unit              string // of the upright axis
	along             string // unit of the level axis where it is not time
	from, to          float64
	lo, hi            float64
	lines             []line
	limits            []limit
	rows              []row
	marks             []mark
}

// line is one curve. NaN is a gap.
type line struct {
	label, key, kind string // key: the column that its live value is read from; kind: how that is written
	x, y             []float64
	colour, dash     int
}

// limit is a level that a curve must not pass.
type limit struct {
	label string
	at    float64
}

// row is the share of a space that is full.
type row struct {
	label, key string
	holds      float64 // m³
	x, share   []float64
}

// mark is an event on the level axis.
type mark struct {
	at     float64
	number int
	text   string
}

// spanLines sets the upright axis to hold every line and limit, with something to spare, and zero.
func (f *figure) spanLines() {
	f.lo, f.hi = 0, 0
	take := func(y float64) {
		if !math.IsNaN(y) && !math.IsInf(y, 0) {
			f.lo, f.hi = math.Min(f.lo, y), math.Max(f.hi, y)
		}
	}
	for i := range f.lines {
		for _, y := range f.lines[i].y {
			take(y)
		}
	}
	for _, l := range f.limits {
		take(l.at)
	}
	f.settleSpan()
}

// settleSpan gives the upright axis something to spare.
func (f *figure) settleSpan() {
	if f.hi-f.lo < 1e-9 {
		f.hi = f.lo + 1
	}
	spare := 0.05 * (f.hi - f.lo)
	if f.lo < 0 {
		f.lo -= spare
	}
	if f.hi > 0 {
		f.hi += spare
	}
}

// sameSpan gives two figures of one name the same axes, so that they can be compared by eye.
func sameSpan(a, b *figure) {
	lo, hi, to := math.Min(a.lo, b.lo), math.Max(a.hi, b.hi), math.Max(a.to, b.to)
	for _, f := range []*figure{a, b} {
		f.lo, f.hi, f.to = lo, hi, to
	}
}

// niceStep is 1, 2 or 5 times a power of ten, so that some such number of them make the span.
func niceStep(span float64, number int) float64 {
	raw := span / float64(number)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= raw*0.999 {
			return m * power
		}
	}
	return 10 * power
}

// timeStepOf is a number of seconds that clocks like.
func timeStepOf(span float64, number int) float64 {
	for _, s := range []float64{1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 43200} {
		if span/s <= float64(number) && span >= 3 {
			return s
		}
	}
	return niceStep(span, number)
}

// runs are the stretches of a curve without gaps, on paper: scaled, and without points that nobody would miss.
func runs(x, y []float64, place func(x, y float64) r3.Vec) (out [][]r3.Vec) {
	var now []r3.Vec
	end := func() {
		if len(now) > 1 {
			now = thinnedLine(now, 0.15)
		}
		if len(now) > 0 {
			out = append(out, now)
		}
		now = nil
	}
	for i := range x {
		if math.IsNaN(y[i]) {
			end()
			continue
		}
		now = append(now, place(x[i], y[i]))
	}
	end()
	return out
}
