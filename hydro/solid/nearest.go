package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Nearest gives the point of the skin that is nearest to x, the outward normal of its plate and the distance. Of plates
// equally near (x on an edge, or nearest to one) it is one whose own plane x is farthest off, so that the normal is that of
// a plate which x faces. For an empty solid the distance is +Inf.
func (s *Solid) Nearest(x r3.Vec) (point, normal r3.Vec, distance float64) {
	best := nearest{distance: math.Inf(1)}
	if len(s.faces) == 0 || !finite(x) {
		return r3.Vec{}, r3.Vec{}, best.distance
	}
	local := r3.Sub(x, s.centre)
	if len(s.tree.pairs) == 0 {
		s.nearestInLeaf(0, x, &best)
		return best.point, best.normal, best.distance
	}
	var open [depthMax]int32
	var bound [depthMax]float64
	for size := 1; size > 0; {
		size--
		ref := open[size]
		if bound[size] > best.distance*(1+nearTie) {
			continue
		}
		if ref < 0 {
			s.nearestInLeaf(^ref, x, &best)
			continue
		}
		p := &s.tree.pairs[ref]
		far, near := 0, 1
		farBound, nearBound := p.distance(0, local), p.distance(1, local)
		if farBound < nearBound {
			far, near, farBound, nearBound = 1, 0, nearBound, farBound
		}
		open[size], bound[size] = p.child[far], farBound
		open[size+1], bound[size+1] = p.child[near], nearBound // looked at first
		size += 2
	}
	return best.point, best.normal, best.distance
}

// nearTie is how close, relatively, two distances count as equal.
const nearTie = 1e-9

type nearest struct {
	point, normal r3.Vec
	distance      float64
	off           float64 // distance from the plate's plane
}

// distance is a lower bound of that from x to anything in a child's box.
func (p *pair) distance(k int, x r3.Vec) float64 {
	c, e := &p.middle[k], &p.half[k]
	dx := max(0, math.Abs(x.X-float64(c[0]))-float64(e[0]))
	dy := max(0, math.Abs(x.Y-float64(c[1]))-float64(e[1]))
	dz := max(0, math.Abs(x.Z-float64(c[2]))-float64(e[2]))
	return math.Sqrt(dx*dx + dy*dy + dz*dz)
}

func (s *Solid) nearestInLeaf(at int32, x r3.Vec, best *nearest) {
	l := &s.tree.leaves[at]
	for _, f := range s.faces[l.plate:][:l.nPlates] {
		t := s.triangle(f)
		area := r3.Cross(r3.Sub(t[1], t[0]), r3.Sub(t[2], t[0]))
		size := r3.Norm(area)
		if size == 0 {
			continue
		}
		n := r3.Scale(1/size, area)
		p := t.closest(x)
		d := r3.Norm(r3.Sub(x, p))
		off := math.Abs(r3.Dot(n, r3.Sub(x, t[0])))
		tie := d*nearTie + 1e-12*s.size // by d, for the best so far may be +Inf
		if d < best.distance-tie || d <= best.distance+tie && off > best.off+tie {
			*best = nearest{point: p, normal: n, distance: min(d, best.distance), off: off}
		}
	}
}

// closest is the point of the triangle nearest to x: that of its plane where it falls inside, else the nearest of its
// edges' nearest points.
func (t *Triangle) closest(x r3.Vec) r3.Vec {
	n := r3.Cross(r3.Sub(t[1], t[0]), r3.Sub(t[2], t[0]))
	inside := true
	for k := range t {
		a, b := t[k], t[(k+1)%3]
		inside = inside && r3.Dot(n, r3.Cross(r3.Sub(b, a), r3.Sub(x, a))) >= 0
	}
	if inside {
		return r3.Sub(x, r3.Scale(r3.Dot(n, r3.Sub(x, t[0]))/r3.Dot(n, n), n))
	}
	best, at := math.Inf(1), t[0]
	for k := range t {
		a, e := t[k], r3.Sub(t[(k+1)%3], t[k])
		var u float64
		if l := r3.Dot(e, e); l > 0 {
			u = min(max(r3.Dot(e, r3.Sub(x, a))/l, 0), 1)
		}
		p := r3.Add(a, r3.Scale(u, e))
		if d := r3.Norm(r3.Sub(x, p)); d < best {
			best, at = d, p
		}
	}
	return at
}

// Inside tells whether the solid winds around x, by the solid angle of every plate as seen from there (A. van Oosterom and
// J. Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125, formula from memory). It visits every plate. On the skin itself the
// answer may be either.
func (s *Solid) Inside(x r3.Vec) bool {
	var angle float64
	for _, f := range s.faces {
		a, b, c := r3.Sub(s.corners[f[0]], x), r3.Sub(s.corners[f[1]], x), r3.Sub(s.corners[f[2]], x)
		la, lb, lc := math.Sqrt(r3.Norm2(a)), math.Sqrt(r3.Norm2(b)), math.Sqrt(r3.Norm2(c)) // Norm's care for overflow takes most of the time
		det := r3.Dot(a, r3.Cross(b, c))
		den := la*lb*lc + r3.Dot(a, b)*lc + r3.Dot(b, c)*la + r3.Dot(c, a)*lb
		angle += 2 * math.Atan2(det, den)
	}
	return angle > 2*math.Pi
}
