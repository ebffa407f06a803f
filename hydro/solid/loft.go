package solid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// loft is a table of stations made ready for plates.
type loft struct {
	curves  []curve
	mirror  bool
	patches int
	twist   float64 // Σ |det| over all patches, to be held against the hull's volume
	volume  float64
}

// curve is one station as a polyline. A point's parameter is its index; between points it runs evenly.
type curve struct {
	points []r3.Vec
	girth  []float64 // fraction of girth at each point
	extra  []float64 // parameters of the points that neighbours need besides, ascending
}

func newLoft(st []Station, mirror bool) *loft {
	l := &loft{mirror: mirror}
	for _, s := range st {
		l.curves = append(l.curves, newCurve(s, mirror))
	}
	for i := 0; i+1 < len(l.curves); i++ {
		a, b := &l.curves[i], &l.curves[i+1]
		for _, k := range knots(a, b) {
			a.need(k[0])
			b.need(k[1])
			l.patches++
		}
	}
	for i := range l.curves {
		c := &l.curves[i]
		slices.Sort(c.extra)
		c.extra = slices.Compact(c.extra)
	}
	l.measureTwist()
	return l
}

func newCurve(s Station, mirror bool) curve {
	var c curve
	for _, p := range s.Points {
		c.points = append(c.points, r3.Vec{X: s.X, Y: p.Y, Z: p.Z})
	}
	if !mirror && len(c.points) > 1 {
		c.points = append(c.points, c.points[0])
	}
	c.girth = make([]float64, len(c.points))
	for i := 1; i < len(c.points); i++ {
		c.girth[i] = c.girth[i-1] + r3.Norm(r3.Sub(c.points[i], c.points[i-1]))
	}
	if total := c.girth[len(c.girth)-1]; total > 0 {
		for i := range c.girth {
			c.girth[i] /= total
		}
		c.girth[len(c.girth)-1] = 1
	}
	return c
}

// at is the point of a parameter.
func (c *curve) at(u float64) r3.Vec {
	i := min(int(u), len(c.points)-1)
	t := u - float64(i)
	if t == 0 {
		return c.points[i]
	}
	return r3.Add(c.points[i], r3.Scale(t, r3.Sub(c.points[i+1], c.points[i])))
}

// parameter is where a fraction of the girth is reached; fractions within rounding of a point are that point's.
func (c *curve) parameter(fraction float64) float64 {
	last := len(c.points) - 1
	i, _ := slices.BinarySearch(c.girth, fraction)
	switch {
	case last == 0 || i == 0:
		return 0
	case i > last:
		return float64(last)
	}
	t := (fraction - c.girth[i-1]) / (c.girth[i] - c.girth[i-1])
	switch {
	case t < 1e-9:
		return float64(i - 1)
	case t > 1-1e-9:
		return float64(i)
	}
	return float64(i-1) + t
}

// need notes a parameter that is not one of the curve's own points.
func (c *curve) need(u float64) {
	if u != math.Trunc(u) {
		c.extra = append(c.extra, u)
	}
}

// knots pairs the parameters of two neighbouring curves at which the surface between them may have a crease: point for
// point where their numbers are equal, else at the fractions of girth of both. A curve of one point has one parameter.
func knots(a, b *curve) [][2]float64 {
	var out [][2]float64
	na, nb := len(a.points), len(b.points)
	if na == nb || na == 1 || nb == 1 {
		for i := range max(na, nb) {
			out = append(out, [2]float64{float64(min(i, na-1)), float64(min(i, nb-1))})
		}
		return out
	}
	fractions := append(slices.Clone(a.girth), b.girth...)
	slices.Sort(fractions)
	for _, f := range fractions {
		k := [2]float64{a.parameter(f), b.parameter(f)}
		if n := len(out); n > 0 && out[n-1] == k {
			continue
		}
		out = append(out, k)
	}
	return out
}

// measureTwist sums the patches' twist and, roughly, the hull's volume (both sides, trapezium rule over the stations).
func (l *loft) measureTwist() {
	for i := 0; i+1 < len(l.curves); i++ {
		a, b := &l.curves[i], &l.curves[i+1]
		k := knots(a, b)
		for j := 0; j+1 < len(k); j++ {
			l.twist += math.Abs(twist(a.at(k[j][0]), a.at(k[j+1][0]), b.at(k[j][1]), b.at(k[j+1][1])))
		}
		l.volume += (b.points[0].X - a.points[0].X) * (math.Abs(a.area(l.mirror)) + math.Abs(b.area(l.mirror))) / 2
	}
}

// twist is the determinant of a patch's two sides and its departure from a parallelogram: 0 for a plane one.
func twist(p00, p01, p10, p11 r3.Vec) float64 {
	e := r3.Sub(r3.Sub(p11, p10), r3.Sub(p01, p00))
	return r3.Dot(e, r3.Cross(r3.Sub(p10, p00), r3.Sub(p01, p00)))
}

// area is that enclosed by a curve, of one side where it is mirrored.
func (c *curve) area(mirror bool) float64 {
	var sum float64
	for i := 1; i < len(c.points); i++ {
		p, q := c.points[i-1], c.points[i]
		if mirror {
			sum += (p.Y + q.Y) * (q.Z - p.Z) / 2
		} else {
			sum += (p.Y*q.Z - q.Y*p.Z) / 2
		}
	}
	return sum
}

// columns is the number of lengths into which every patch is divided. Four triangles about the middle of z = uv on the
// unit square leave ∫∫|z − z_triangles| = 1/48; m lengths leave the m-th part of that.
func (l *loft) columns() int {
	if !(l.volume > 0) {
		return 1
	}
	m := math.Ceil(l.twist / 48 / (1e-4 * l.volume))
	return int(min(max(m, 1), 64, math.Max(1, float64(triangleMax/l.plates()))))
}

// plates bounds the number of triangles where every patch is one length: a fan of four corners and one extra point for
// each patch beside it, on both sides, the decks and the ends.
func (l *loft) plates() int { return 12*l.patches + 8 }

// strip lays the plates between station i and the next.
func (l *loft) strip(tris []Triangle, i int) []Triangle {
	a, b := &l.curves[i], &l.curves[i+1]
	k := knots(a, b)
	m := l.columns()
	for j := 0; j+1 < len(k); j++ {
		p00, p01, p10, p11 := a.at(k[j][0]), a.at(k[j+1][0]), b.at(k[j][1]), b.at(k[j+1][1])
		for c := range m {
			t0, t1 := float64(c)/float64(m), float64(c+1)/float64(m)
			rim := []r3.Vec{between(p00, p10, t0)}
			if c == 0 {
				rim = append(rim, a.inner(k[j][0], k[j+1][0])...)
			}
			rim = append(rim, between(p01, p11, t0), between(p01, p11, t1))
			if c == m-1 {
				inner := b.inner(k[j][1], k[j+1][1])
				slices.Reverse(inner)
				rim = append(rim, inner...)
			}
			rim = append(rim, between(p00, p10, t1))
			tris = patch(tris, rim, [4]r3.Vec{between(p00, p10, t0), between(p01, p11, t0), between(p00, p10, t1), between(p01, p11, t1)})
		}
	}
	return tris
}

// inner gives the extra points strictly between two parameters.
func (c *curve) inner(from, to float64) []r3.Vec {
	var out []r3.Vec
	for _, u := range c.extra {
		if u > from && u < to {
			out = append(out, c.at(u))
		}
	}
	return out
}

// between is exact at both ends, so that neighbours meet.
func between(a, b r3.Vec, t float64) r3.Vec {
	switch t {
	case 0:
		return a
	case 1:
		return b
	}
	return r3.Add(a, r3.Scale(t, r3.Sub(b, a)))
}

// patch lays a fan about the middle of a four-cornered patch, whose rim may carry more points on its straight sides. A
// plane one with four corners needs two triangles only.
func patch(tris []Triangle, rim []r3.Vec, corner [4]r3.Vec) []Triangle {
	span := r3.Norm(r3.Sub(corner[1], corner[2])) + r3.Norm(r3.Sub(corner[0], corner[3]))
	flat := math.Abs(twist(corner[0], corner[1], corner[2], corner[3])) <= 1e-14*span*span*span
	if len(rim) == 4 && (flat || corner[0] == corner[1] || corner[2] == corner[3]) {
		return quad(tris, rim[0], rim[1], rim[2], rim[3])
	}
	middle := r3.Scale(0.25, r3.Add(r3.Add(corner[0], corner[1]), r3.Add(corner[2], corner[3])))
	for i := range rim {
		tris = append(tris, Triangle{middle, rim[i], rim[(i+1)%len(rim)]})
	}
	return tris
}
