package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Reach gives the least and the greatest n·x over the solid; 0 and 0 for an empty one. It descends the tree towards both
// ends and allocates nothing.
func (s *Solid) Reach(n r3.Vec) (low, high float64) {
	if len(s.faces) == 0 {
		return 0, 0
	}
	base := r3.Dot(n, s.centre)
	return base - s.tree.support(r3.Scale(-1, n)), base + s.tree.support(n)
}

// support is the greatest n·x over the corners, seen from the centre.
func (t *tree) support(n r3.Vec) float64 {
	best := math.Inf(-1)
	if len(t.pairs) == 0 {
		return t.leafSupport(0, n, best)
	}
	var open [depthMax]int32
	var bound [depthMax]float64
	bound[0] = math.Inf(1)
	for size := 1; size > 0; {
		size--
		ref := open[size]
		if bound[size] <= best {
			continue
		}
		if ref < 0 {
			best = t.leafSupport(^ref, n, best)
			continue
		}
		p := &t.pairs[ref]
		lesser, better := 0, 1
		lowBound, highBound := p.support(0, n), p.support(1, n)
		if lowBound > highBound {
			lesser, better, lowBound, highBound = 1, 0, highBound, lowBound
		}
		open[size], bound[size] = p.child[lesser], lowBound
		open[size+1], bound[size+1] = p.child[better], highBound // looked at first
		size += 2
	}
	return best
}

// support bounds n·x over a child's box.
func (p *pair) support(k int, n r3.Vec) float64 {
	c, e := &p.middle[k], &p.half[k]
	return n.X*float64(c[0]) + n.Y*float64(c[1]) + n.Z*float64(c[2]) +
		math.Abs(n.X)*float64(e[0]) + math.Abs(n.Y)*float64(e[1]) + math.Abs(n.Z)*float64(e[2])
}

func (t *tree) leafSupport(at int32, n r3.Vec, best float64) float64 {
	l := &t.leaves[at]
	k := int(l.corners)
	block := t.coords[l.coord:][:3*k]
	x, y, z := block[:k], block[k:][:k], block[2*k:][:k]
	for j := range x {
		best = max(best, n.X*x[j]+n.Y*y[j]+n.Z*z[j])
	}
	return best
}
