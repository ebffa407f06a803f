package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Clip gives the part of the solid below p, closed where it was cut; it may be empty. Corners nearer to the plane than some
// 1e-13 of the solid's size and distance are taken to lie in it. A plane that is not a number leaves nothing.
func (s *Solid) Clip(p Plane) *Solid {
	switch low, high := s.Reach(p.N); {
	case high <= p.D:
		return s
	case !(low < p.D):
		return &Solid{}
	}
	c := newCutter(s, p)
	var tris []Triangle
	var edge []segment
	for _, f := range s.faces {
		var seg segment
		var cut bool
		if tris, seg, cut = c.part(f, tris); cut && seg.from != seg.to {
			edge = append(edge, seg)
		}
	}
	return closed(appendCap(tris, chain(edge), p.N))
}

// ClipBox gives the part of the solid in the axis-parallel box from lo to hi.
func (s *Solid) ClipBox(lo, hi r3.Vec) *Solid {
	for _, p := range [6]Plane{
		{r3.Vec{X: 1}, hi.X}, {r3.Vec{X: -1}, -lo.X},
		{r3.Vec{Y: 1}, hi.Y}, {r3.Vec{Y: -1}, -lo.Y},
		{r3.Vec{Z: 1}, hi.Z}, {r3.Vec{Z: -1}, -lo.Z},
	} {
		if !math.IsInf(p.D, 1) {
			s = s.Clip(p)
		}
	}
	return s
}

// appendCap closes a cut with plates over each of its loops. A hole's plates face the other way and lie over those of the
// loop around it: the integrals are right, though not the area of the skin.
func appendCap(tris []Triangle, loops [][]r3.Vec, normal r3.Vec) []Triangle {
	for _, l := range loops {
		for _, t := range triangulate(l, normal) {
			tris = append(tris, Triangle{l[t[0]], l[t[1]], l[t[2]]})
		}
	}
	return tris
}

// chain joins segments end to end into closed loops that pass no point twice. The segments are the boundary of a cut
// through a cycle, so that at every point as many arrive as leave.
func chain(edge []segment) [][]r3.Vec {
	w := newWelder(len(edge))
	numbered := make([][2]int32, len(edge))
	for i, e := range edge {
		numbered[i] = [2]int32{w.number(e.from), w.number(e.to)}
	}
	var loops [][]r3.Vec
	for _, l := range simpleLoops(numbered) {
		loop := make([]r3.Vec, len(l))
		for i, c := range l {
			loop[i] = w.corners[c]
		}
		loops = append(loops, loop)
	}
	return loops
}
