package hydro

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// View is a figure as it stands for a given up direction. Heights are up·x, in metres. The zero View is ready to be
// filled by Figure.View; it must not be copied while in use, and belongs to one goroutine.
type View struct {
	Low, High float64 // the figure's least and greatest height

	area  float64
	mid   float64 // height of the centre; the fields below measure from it
	half  float64 // of a circle: half its extent in height
	low   float64 // the figure's least height
	high  float64 // and its greatest
	level float64 // cos² of the angle between the figure's plane and the horizontal
	plate float64 // height of the lowest point of the plate below an edge; NaN without one
	shape shape

	strips  []strip
	points  []point // of a polygon, scratch
	order   []int32 // of the points by height, scratch
	crossed []int32 // edges that cross the present strip, by their first corner, scratch
}

// shape says which of a view's fields hold the figure.
type shape uint8

const (
	flat    shape = iota // all at the height mid
	round                // a circle seen as an ellipse
	striped              // strips between the heights of corners
)

// point is a corner by its height over the centre and its place across, the latter divided by the slope of the plane, so
// that across × height is area.
type point struct{ height, across float64 }

// strip is a part of a polygon between two heights over the centre, across which the width runs straight. Widths are area
// per height; below is the area of all strips under this one.
type strip struct {
	low, high           float64
	lowWidth, highWidth float64
	below               float64
}

// flatTilt is the sine of the slope below which a figure is taken to lie flat at the height of its centre: the pressure
// over its extent is then under 1e-5 Pa for a metre of it, and the widths would lose their digits.
const flatTilt = 1e-9

// View fills v with the figure as it stands where up, a unit vector in body axes, points up. It reuses the memory of v
// and allocates nothing once v has held a figure with as many corners. What v held before has no influence.
func (f *Figure) View(up r3.Vec, v *View) {
	p, q := r3.Dot(up, f.one), r3.Dot(up, f.two)
	tilt := math.Hypot(p, q)
	v.area, v.mid, v.half = f.area, r3.Dot(up, f.centre), 0
	v.plate = lowest(f.plate, up)
	v.level = max(0, 1-tilt*tilt)
	switch {
	case tilt < flatTilt || f.area == 0:
		v.shape, v.low, v.high = flat, 0, 0
	case f.radius > 0:
		v.shape, v.half = round, f.radius*tilt
		v.low, v.high = -v.half, v.half
	default:
		v.shape = striped
		v.place(f.corners, p, q)
		v.sort()
		v.slice(f.corners)
		v.low, v.high = v.points[v.order[0]].height, v.points[v.order[len(v.order)-1]].height
	}
	v.Low, v.High = v.mid+v.low, v.mid+v.high
	if !(v.low < v.high) {
		v.shape = flat
	}
}

// lowest is the least height of the points, NaN if there are none.
func lowest(points []r3.Vec, up r3.Vec) float64 {
	if len(points) == 0 {
		return math.NaN()
	}
	low := math.Inf(1)
	for _, p := range points {
		low = math.Min(low, r3.Dot(up, p))
	}
	return low
}

// place finds the height and the place across of each corner, for the slopes p and q along the figure's two unit vectors.
func (v *View) place(corners []corner, p, q float64) {
	v.points = v.points[:0]
	slope := p*p + q*q
	for _, c := range corners {
		v.points = append(v.points, point{c.one*p + c.two*q, (c.one*q - c.two*p) / slope})
	}
}

// sort orders the points by height, equal ones by number, so that the order does not depend on where it starts from: it
// starts from that of the last view, which is nearly right from one time step to the next.
func (v *View) sort() {
	if len(v.order) != len(v.points) {
		v.order = v.order[:0]
		for i := range v.points {
			v.order = append(v.order, int32(i))
		}
	}
	moves, order := 8*len(v.order), v.order
	for i := 1; i < len(order); i++ {
		for j := i; j > 0 && v.compare(order[j], order[j-1]) < 0; j-- {
			order[j], order[j-1] = order[j-1], order[j]
			moves--
		}
		if moves < 0 {
			slices.SortFunc(order, v.compare)
			return
		}
	}
}

// compare orders two points by height, then by number.
func (v *View) compare(i, j int32) int {
	switch a, b := v.points[i].height, v.points[j].height; {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return int(i - j)
}

// slice sweeps the polygon from its lowest corner up and cuts it into strips.
func (v *View) slice(corners []corner) {
	v.strips, v.crossed = v.strips[:0], v.crossed[:0]
	below := 0.0
	for k, i := range v.order[:len(v.order)-1] {
		v.pass(i, corners[i].next, i)
		v.pass(i, corners[i].prev, corners[i].prev)
		low, high := v.points[i].height, v.points[v.order[k+1]].height
		if !(low < high) {
			continue
		}
		s := strip{low: low, high: high, below: below}
		for _, e := range v.crossed {
			a, b := v.points[e], v.points[corners[e].next]
			s.lowWidth += across(a, b, low)
			s.highWidth += across(a, b, high)
		}
		// A width is not negative; rounding can make it so where loops touch.
		s.lowWidth, s.highWidth = math.Max(s.lowWidth, 0), math.Max(s.highWidth, 0)
		below += s.area(high)
		v.strips = append(v.strips, s)
	}
}

// pass enters the edge between the corner i and its neighbour into those that are crossed where the neighbour is above,
// and takes it out where it is below. Edges go by their first corner.
func (v *View) pass(i, neighbour, edge int32) {
	if v.compare(neighbour, i) > 0 {
		v.crossed = append(v.crossed, edge)
		return
	}
	for k, e := range v.crossed {
		if e == edge {
			v.crossed = slices.Delete(v.crossed, k, k+1)
			return
		}
	}
}

// across is what the edge from a to b adds to the width at a height between them: its place across, counted positive on
// the side where the figure ends.
func across(a, b point, height float64) float64 {
	at := a.across + (b.across-a.across)*(height-a.height)/(b.height-a.height)
	if b.height > a.height {
		return at
	}
	return -at
}

// width is the strip's width at a height within it.
func (s *strip) width(y float64) float64 {
	return s.lowWidth + (s.highWidth-s.lowWidth)*(y-s.low)/(s.high-s.low)
}

// area is the strip's area below a height within it.
func (s *strip) area(y float64) float64 { return (s.lowWidth + s.width(y)) / 2 * (y - s.low) }

// AreaBelow is the part of the figure's area below a height, m², exact. A flat figure is below every height over its own.
func (v *View) AreaBelow(height float64) float64 { return v.below(height - v.mid) }

// below is AreaBelow for a height over the centre.
func (v *View) below(y float64) float64 {
	if y <= v.low {
		return 0
	}
	if y >= v.high {
		return v.area
	}
	if v.shape == round {
		u := math.Max(-1, math.Min(1, y/v.half))
		return v.area * (0.5 + (math.Asin(u)+u*math.Sqrt(1-u*u))/math.Pi)
	}
	s := &v.strips[v.indexAt(y)]
	return s.below + s.area(math.Max(s.low, math.Min(y, s.high)))
}

// width is the area per height at a height over the centre; 0 outside the figure.
func (v *View) width(y float64) float64 {
	switch {
	case !(y > v.low && y < v.high):
		return 0
	case v.shape == round:
		u := y / v.half
		return 2 * v.area / (math.Pi * v.half) * math.Sqrt((1-u)*(1+u))
	}
	return v.strips[v.indexAt(y)].width(y)
}

// indexAt is the number of the strip that holds a height over the centre, or of the nearest one.
func (v *View) indexAt(y float64) int {
	low, high := 0, len(v.strips)-1
	for low < high {
		if m := (low + high) / 2; v.strips[m].high < y {
			low = m + 1
		} else {
			high = m
		}
	}
	return low
}
