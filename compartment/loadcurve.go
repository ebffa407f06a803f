package compartment

import (
	"math"
	"slices"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// LoadCurve is the bending and the shear along a body, as a hull of even strength would bear them. Where a mass stands in a
// point along x the shear jumps: the place is there twice: with the mass on the side before it, and a hair further on, without.
type LoadCurve struct {
	X       []float64 // m, ascending
	Bending []float64 // N·m, hogging positive
	Shear   []float64 // N

	Peak      LoadPeak // the bending of the greatest magnitude: a hull of even strength would part here
	PeakShear LoadPeak // the shear of the greatest magnitude
}

// LoadPeak is the greatest magnitude along a curve, with its sign, and where it is.
type LoadPeak struct{ X, Value float64 }

// curveParts is the number of equal lengths of a curve; ends of masses and of spaces are places on it besides.
const curveParts = 200

// peakWidth is how near the place of a peak within a length is searched for, as a share of the whole: where a curve is smooth
// at its peak the value is then right to the square of that. Peaks at the ends of lengths (kinks, jumps) are exact.
const peakWidth = 1e-7

// Curve draws the bending and the shear along the body: exact at every place, however few there are. It cuts the body at its
// water planes once: some milliseconds, for one moment of a run and not for every step.
func (l *Loads) Curve(c *LoadCase) *LoadCurve {
	cut := l.cut(c)
	curve := &LoadCurve{X: l.places()}
	for _, x := range curve.X {
		load := cut.ahead(x).load(c.Pose.Up, x)
		curve.Bending, curve.Shear = append(curve.Bending, load.Bending), append(curve.Shear, load.Shear)
	}
	curve.Peak = peak(curve.X, curve.Bending, func(x float64) float64 { return cut.ahead(x).load(c.Pose.Up, x).Bending })
	curve.PeakShear = peak(curve.X, curve.Shear, func(x float64) float64 { return cut.ahead(x).load(c.Pose.Up, x).Shear })
	return curve
}

// Greatest is the greatest magnitude of bending among some even places along the body, and its sign: good for choosing between moments,
// at a tenth of what Curve costs.
func (l *Loads) Greatest(c *LoadCase) LoadPeak {
	lo, hi := l.Body.Form.Bounds()
	cut, most := l.cut(c), LoadPeak{X: lo.X}
	for i := 1; i < roughParts; i++ {
		x := lo.X + (hi.X-lo.X)*float64(i)/roughParts
		if b := cut.ahead(x).load(c.Pose.Up, x).Bending; math.Abs(b) > math.Abs(most.Value) {
			most = LoadPeak{x, b}
		}
	}
	return most
}

// roughParts is the number of lengths that Greatest looks between.
const roughParts = 24

// leastPast is how far past a place where the shear jumps the curve goes on at least, as a share of its length.
const leastPast = 1e-16

// places are where a curve is drawn: from the after end of all that has weight or buoyancy to its fore end.
func (l *Loads) places() []float64 {
	from, _ := l.masses.sections.bounds(l.Body.First)
	_, to := l.masses.sections.bounds(l.Body.Last)
	l.masses.prepare()
	var knots []float64
	knot := func(x float64) { knots = append(knots, min(max(x, from), to)) }
	for _, x := range l.masses.knots() {
		knot(x)
	}
	for _, x := range append([]*solid.Solid{l.Body.Form}, l.outside()...) {
		lo, hi := x.Bounds()
		knot(lo.X)
		knot(hi.X)
	}
	for _, s := range l.Body.Spaces {
		lo, hi := s.Room.Bounds()
		knot(lo.X)
		knot(hi.X)
	}
	for i := range l.planes {
		knot(l.planes[i].at)
	}
	low, high := slices.Min(knots), slices.Max(knots)
	all := make([]float64, 0, 2*len(knots)+curveParts+1)
	for i := range curveParts + 1 {
		all = append(all, low+(high-low)*float64(i)/curveParts)
	}
	for _, x := range knots {
		all = append(all, x)
		if l.masses.jumps(x) { // at 0 the next number is so small that many a program cannot read it
			all = append(all, math.Max(math.Nextafter(x, math.Inf(1)), x+leastPast*(high-low)))
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// jumps tells whether some mass stands in a point at x.
func (m *massLine) jumps(x float64) bool {
	for i := range m.weights {
		if w := &m.weights[i]; w.lo == x && w.hi <= w.lo {
			return true
		}
	}
	return slices.Contains(m.plates, x)
}

// loadCut is a body cut at its water planes.
type loadCut struct {
	c      *LoadCase
	masses *massLine
	weight float64
	wet    []*solid.Solid // of the form and the appendages, below the sea
	water  []spaceWater
}

// spaceWater is the room that the water of a space fills.
type spaceWater struct {
	room     *solid.Solid
	fraction float64
}

// cut cuts the body at its water planes.
func (l *Loads) cut(c *LoadCase) *loadCut {
	cut := &loadCut{c: c, masses: l.masses, weight: l.weight}
	c.settle(l.centre(c))
	sea := planeAt(c.Pose.Up, c.Pose.Sea)
	for _, x := range append([]*solid.Solid{l.Body.Form}, l.outside()...) {
		cut.wet = append(cut.wet, x.Clip(sea))
	}
	for i, s := range l.Body.Spaces {
		w := &c.Surfaces[i]
		switch {
		case !(w.Volume > 0):
		case w.Volume >= s.Capacity():
			cut.water = append(cut.water, spaceWater{s.Room, s.Fraction})
		default:
			cut.water = append(cut.water, spaceWater{s.Room.Clip(planeAt(c.Pose.Up, w.Level)), s.Fraction})
		}
	}
	return cut
}

// ahead sums the forces before a plane across x.
func (k *loadCut) ahead(x float64) upward {
	before := solid.Plane{N: r3.Vec{X: -1}, D: -x}
	sum := k.c.weightOf(k.masses.ahead(x, k.c.Motion != nil))
	for _, s := range k.wet {
		below := s.Below(before)
		sum = sum.plus(upward{force: below.Volume, first: below.Moment}.times(k.weight))
	}
	for _, w := range k.water {
		below := w.room.Below(before)
		sum = sum.plus(k.c.waterOf(w.fraction*below.Volume, r3.Scale(w.fraction, below.Moment), k.weight))
	}
	return sum
}

// peak finds the greatest magnitude of a curve: at the best of its places, or within the two lengths beside it by the golden
// section (between knots the curve is smooth, and one length holds one peak).
func peak(xs, values []float64, at func(float64) float64) LoadPeak {
	best := 0
	for i := range values {
		if math.Abs(values[i]) > math.Abs(values[best]) {
			best = i
		}
	}
	top := LoadPeak{xs[best], values[best]}
	sign := math.Copysign(1, top.Value)
	width := peakWidth * (xs[len(xs)-1] - xs[0])
	for _, side := range [2]int{best - 1, best} {
		if side < 0 || side+1 >= len(xs) {
			continue
		}
		p := golden(xs[side], xs[side+1], width, func(x float64) float64 { return sign * at(x) })
		if p.Value > sign*top.Value {
			top = LoadPeak{p.X, sign * p.Value}
		}
	}
	return top
}

// golden searches the greatest value of a function that has one peak between a and b, until the place is known to a width.
func golden(a, b, width float64, f func(float64) float64) LoadPeak {
	const share = 0.61803398874989484820 // (√5 − 1)/2
	x, y := b-share*(b-a), a+share*(b-a)
	fx, fy := f(x), f(y)
	for b-a > width {
		if fx >= fy {
			b, y, fy = y, x, fx
			x = b - share*(b-a)
			fx = f(x)
		} else {
			a, x, fx = x, y, fy
			y = a + share*(b-a)
			fy = f(y)
		}
	}
	if fx >= fy {
		return LoadPeak{x, fx}
	}
	return LoadPeak{y, fy}
}
