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

// appendCap closes a cut by fans, each with its apex in the first corner of its loop. Where a fan runs over the edge of the
// cut or a hole in it, it does so twice in opposite sense, and every integral stays right.
func appendCap(tris []Triangle, loops [][]r3.Vec, _ r3.Vec) []Triangle {
	for _, l := range loops {
		for i := 2; i < len(l); i++ {
			tris = append(tris, Triangle{l[0], l[i-1], l[i]})
		}
	}
	return tris
}

// chain joins segments end to end into closed loops. The segments are the boundary of a cut through a cycle, so that at
// every point as many arrive as leave.
func chain(edge []segment) [][]r3.Vec {
	leaving := make(map[r3.Vec][]int, len(edge))
	for i, e := range edge {
		leaving[e.from] = append(leaving[e.from], i)
	}
	used := make([]bool, len(edge))
	var loops [][]r3.Vec
	for i := range edge {
		if used[i] {
			continue
		}
		var loop []r3.Vec
		for at := edge[i].from; ; {
			next := leaving[at]
			if len(next) == 0 {
				break
			}
			k := next[0]
			leaving[at] = next[1:]
			used[k] = true
			loop = append(loop, at)
			at = edge[k].to
		}
		loops = append(loops, loop)
	}
	return loops
}
