package hydro

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Figure is the open area of an opening: a plane figure that stands in body axes. It does not change once built and may
// be shared.
type Figure struct {
	centre, normal r3.Vec
	one, two       r3.Vec // unit vectors in the plane; one, two, normal are right-handed
	area           float64
	radius         float64  // of a circle, else 0
	corners        []corner // of a polygon, loop after loop
	plate          []r3.Vec // corners of the wall below an edge
}

// corner is a corner of a polygon in the figure's own plane, measured from its centre, and its neighbours along the loop.
type corner struct {
	one, two   float64
	prev, next int32
}

// Circle is a round hole about centre, in the plane square to normal, of a diameter in metres. The normal may have any
// length but zero.
func Circle(centre, normal r3.Vec, diameter float64) *Figure {
	f := &Figure{centre: centre, radius: diameter / 2, area: math.Pi / 4 * diameter * diameter}
	f.setPlane(normal, r3.Vec{})
	return f
}

// Rectangle is a slot or a door about centre, in the plane square to normal. Its length, in metres, lies along the
// projection of along into that plane, its width across. Where along is parallel to the normal, a direction is chosen.
func Rectangle(centre, normal, along r3.Vec, length, width float64) *Figure {
	f := &Figure{centre: centre, area: length * width}
	f.setPlane(normal, along)
	l, w := length/2, width/2
	f.corners = []corner{{-l, -w, 3, 1}, {l, -w, 0, 2}, {l, w, 1, 3}, {-l, w, 2, 0}}
	return f
}

// Edge is the open outline above a bulkhead's top, within the section of the hull there. The gap and the plate are closed
// loops of corners; a loop's last corner is joined to its first. Loops may be any number and not convex; a hole runs the
// other way round than the loop about it. Of the plate, the wall that stands below, only the lowest height counts.
func Edge(gap, plate [][]r3.Vec, normal r3.Vec) *Figure {
	f := Face(gap, normal)
	for _, loop := range plate {
		f.plate = append(f.plate, loop...)
	}
	return f
}

// Face is an open face left by a cut: closed loops of corners as for Edge.
func Face(loops [][]r3.Vec, normal r3.Vec) *Figure {
	f := &Figure{}
	f.setPlane(normal, r3.Vec{})
	origin, area := f.measure(loops)
	f.centre = origin
	turn := 1.0
	if area < 0 {
		turn = -1
	}
	f.area = turn * area
	for _, loop := range loops {
		f.addLoop(loop, turn)
	}
	return f
}

// setPlane sets the normal and two unit vectors square to it, the first along the projection of along if that has one.
func (f *Figure) setPlane(normal, along r3.Vec) {
	f.normal = r3.Unit(normal)
	along = r3.Sub(along, r3.Scale(r3.Dot(along, f.normal), f.normal))
	// A direction under a thousand-millionth of its length from the normal is rounding, not a direction.
	if !(r3.Norm(along) > 1e-9) {
		along = leastAxis(f.normal)
		along = r3.Sub(along, r3.Scale(r3.Dot(along, f.normal), f.normal))
	}
	f.one = r3.Unit(along)
	f.two = r3.Cross(f.normal, f.one)
}

// leastAxis is the coordinate axis that is furthest from n.
func leastAxis(n r3.Vec) r3.Vec {
	x, y, z := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)
	switch {
	case x <= y && x <= z:
		return r3.Vec{X: 1}
	case y <= z:
		return r3.Vec{Y: 1}
	}
	return r3.Vec{Z: 1}
}

// measure returns the centroid of the loops and their area, with the sign of their turn about the normal. Loops without
// area have their mean corner as centroid.
func (f *Figure) measure(loops [][]r3.Vec) (centroid r3.Vec, area float64) {
	mean, count := r3.Vec{}, 0
	for _, loop := range loops {
		for _, c := range loop {
			mean, count = r3.Add(mean, c), count+1
		}
	}
	if count == 0 {
		return r3.Vec{}, 0
	}
	mean = r3.Scale(1/float64(count), mean)
	moment := r3.Vec{}
	for _, loop := range loops {
		for i, c := range loop {
			p, q := r3.Sub(c, mean), r3.Sub(loop[(i+1)%len(loop)], mean)
			wedge := r3.Dot(r3.Cross(p, q), f.normal) / 2
			area += wedge
			moment = r3.Add(moment, r3.Scale(wedge/3, r3.Add(p, q)))
		}
	}
	if area == 0 {
		return mean, 0
	}
	return r3.Add(mean, r3.Scale(1/area, moment)), area
}

// addLoop appends the corners of a loop; turn −1 runs it backwards, so that the whole turns about the normal.
func (f *Figure) addLoop(loop []r3.Vec, turn float64) {
	first, n := int32(len(f.corners)), int32(len(loop))
	for i := range n {
		d := r3.Sub(loop[i], f.centre)
		c := corner{r3.Dot(d, f.one), r3.Dot(d, f.two), first + (i+n-1)%n, first + (i+1)%n}
		if turn < 0 {
			c.prev, c.next = c.next, c.prev
		}
		f.corners = append(f.corners, c)
	}
}

// Area is the figure's area, m².
func (f *Figure) Area() float64 { return f.area }

// Centre is the centroid of the figure's area, in body axes.
func (f *Figure) Centre() r3.Vec { return f.centre }

// Highest is the point of the figure, in body axes, that lies highest along the unit vector up; of one that lies level its centre.
func (f *Figure) Highest(up r3.Vec) r3.Vec {
	p, q := r3.Dot(up, f.one), r3.Dot(up, f.two)
	tilt := math.Hypot(p, q)
	one, two := 0.0, 0.0
	switch {
	case tilt < flatTilt || f.area == 0:
	case f.radius > 0:
		one, two = f.radius*p/tilt, f.radius*q/tilt
	default:
		best := math.Inf(-1)
		for _, c := range f.corners {
			if h := c.one*p + c.two*q; h > best {
				best, one, two = h, c.one, c.two
			}
		}
	}
	return r3.Add(f.centre, r3.Add(r3.Scale(one, f.one), r3.Scale(two, f.two)))
}

// Normal is the unit vector square to the figure, as it was given.
func (f *Figure) Normal() r3.Vec { return f.normal }
