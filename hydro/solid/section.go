package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Outline is a figure in a plane: closed loops without the first corner repeated. Seen against the plane's normal outer
// loops run counterclockwise and holes the other way.
type Outline [][]r3.Vec

// Section is the outline of the cut that p makes. Corners that lie in the plane count as above it, so that a plate in the
// plane belongs to a cut where the solid lies below it. Loops of less area than 1e-12 of the solid's size squared are left out.
func (s *Solid) Section(p Plane) Outline {
	if low, high := s.Reach(p.N); !(low < p.D && p.D <= high) {
		return nil
	}
	c := newCutter(s, p)
	var edge []segment
	for _, f := range s.faces {
		if _, seg, cut := c.part(f, nil); cut && seg.from != seg.to {
			edge = append(edge, seg)
		}
	}
	var out Outline
	for _, l := range chain(edge) {
		if len(l) > 2 && r3.Norm(loopArea(l)) > 1e-12*s.size*s.size {
			out = append(out, l)
		}
	}
	return out
}

// loopArea is the area vector of a closed loop.
func loopArea(l []r3.Vec) (a r3.Vec) {
	for i := 2; i < len(l); i++ {
		a = r3.Add(a, r3.Cross(r3.Sub(l[i-1], l[0]), r3.Sub(l[i], l[0])))
	}
	return r3.Scale(0.5, a)
}

// normal is the unit normal of the plane that the outline lies in, by its loops' net area; 0 where that is 0.
func (o Outline) normal() r3.Vec {
	var a r3.Vec
	for _, l := range o {
		a = r3.Add(a, loopArea(l))
	}
	if l := r3.Norm(a); l > 0 {
		return r3.Scale(1/l, a)
	}
	return r3.Vec{}
}

// Area is that of the figure, holes taken off.
func (o Outline) Area() float64 {
	n := o.normal()
	var sum float64
	for _, l := range o {
		sum += r3.Dot(n, loopArea(l))
	}
	return sum
}

// AreaMoment is ∫ x dA over the figure, holes taken off.
func (o Outline) AreaMoment() (m r3.Vec) {
	n := o.normal()
	for _, l := range o {
		for i := 2; i < len(l); i++ {
			w := r3.Dot(n, r3.Cross(r3.Sub(l[i-1], l[0]), r3.Sub(l[i], l[0]))) / 6
			m = r3.Add(m, r3.Scale(w, r3.Add(l[0], r3.Add(l[i-1], l[i]))))
		}
	}
	return m
}

// Bounds are the least and greatest coordinates of all corners; both 0 for no outline.
func (o Outline) Bounds() (lo, hi r3.Vec) {
	inf := math.Inf(1)
	lo, hi = r3.Vec{X: inf, Y: inf, Z: inf}, r3.Vec{X: -inf, Y: -inf, Z: -inf}
	for _, l := range o {
		for _, v := range l {
			lo, hi = least(lo, v), greatest(hi, v)
		}
	}
	if lo.X > hi.X {
		return r3.Vec{}, r3.Vec{}
	}
	return lo, hi
}
