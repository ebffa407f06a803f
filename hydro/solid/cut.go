package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// cutter parts the faces of a solid at a plane. A point where an edge meets the plane is computed once, from the edge and
// not from the face, so that the faces on both sides of it go on sharing it and what was closed stays closed.
type cutter struct {
	plane   Plane
	corners []r3.Vec
	height  []float64 // of each corner over the plane, exactly 0 within rounding
	points  map[[2]int32]r3.Vec
}

// segment is the piece of the plane's cut that one face leaves, run through as the boundary of the cut seen from above.
type segment struct{ from, to r3.Vec }

func newCutter(s *Solid, p Plane) *cutter {
	c := &cutter{plane: p, corners: s.corners, height: make([]float64, len(s.corners)), points: map[[2]int32]r3.Vec{}}
	// Corners nearer than this are taken to lie in the plane and count as above it: it is some hundred times what rounding
	// does to a height, and saves slivers of that size where a solid is cut twice at one place.
	tol := 1e-14 * (s.size + r3.Norm(s.centre) + math.Abs(p.D)) * 10
	for i, v := range s.corners {
		if h := r3.Dot(p.N, v) - p.D; math.Abs(h) > tol {
			c.height[i] = h
		}
	}
	return c
}

// meet is the point where the edge from a corner below to one not below meets the plane.
func (c *cutter) meet(below, above int32) r3.Vec {
	if c.height[above] == 0 {
		return c.corners[above]
	}
	key := [2]int32{below, above}
	if v, ok := c.points[key]; ok {
		return v
	}
	a, b := c.corners[below], c.corners[above]
	v := r3.Add(a, r3.Scale(c.height[below]/(c.height[below]-c.height[above]), r3.Sub(b, a)))
	v = c.plane.settle(v)
	c.points[key] = v
	return v
}

// settle puts a point that lies in an axis-parallel plane exactly there.
func (p Plane) settle(v r3.Vec) r3.Vec {
	switch (r3.Vec{X: math.Abs(p.N.X), Y: math.Abs(p.N.Y), Z: math.Abs(p.N.Z)}) {
	case r3.Vec{X: 1}:
		v.X = p.N.X * p.D
	case r3.Vec{Y: 1}:
		v.Y = p.N.Y * p.D
	case r3.Vec{Z: 1}:
		v.Z = p.N.Z * p.D
	}
	return v
}

// part splits one face: below gets its part below the plane, and the second result is its piece of the cut, if any.
func (c *cutter) part(f [3]int32, below []Triangle) ([]Triangle, segment, bool) {
	n, pattern := 0, 0
	for k, i := range f {
		if c.height[i] < 0 {
			n++
			pattern |= 1 << k
		}
	}
	k := int(lone[pattern])
	u, v, w := f[k], f[(k+1)%3], f[(k+2)%3]
	at := func(i int32) r3.Vec { return c.corners[i] }
	switch n {
	case 0:
		return below, segment{}, false
	case 3:
		return append(below, Triangle{at(u), at(v), at(w)}), segment{}, false
	case 1:
		a, b := c.meet(u, v), c.meet(u, w)
		return append(below, Triangle{at(u), a, b}), segment{b, a}, true
	}
	a, b := c.meet(v, u), c.meet(w, u)
	return append(below, Triangle{a, at(v), at(w)}, Triangle{a, at(w), b}), segment{a, b}, true
}
