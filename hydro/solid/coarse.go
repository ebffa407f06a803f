package solid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Coarse is the solid with fewer triangles, for pictures: its corners are some of the solid's own. Corners are merged into
// neighbours, the least harm first, for as long as no merged corner leaves the planes of the plates that it stands for by more
// than within, and beyond that while there are more than most triangles. Merging corners turns a cycle into a cycle, so that the
// result is closed whatever the shape.
//
// The measure of harm is the sum of squared distances from those planes (M. Garland and P. Heckbert, SIGGRAPH 1997, 209),
// which is never less than the square of the largest.
func (s *Solid) Coarse(within float64, most int) *Solid {
	if len(s.faces) == 0 {
		return s
	}
	c := newCoarsener(s)
	for len(c.queue) > 0 {
		m := c.queue.pop()
		if m.harm > within*within && c.left <= most {
			break
		}
		if c.stamp[m.from] != m.stampFrom || c.stamp[m.to] != m.stampTo || c.turns(m.from, m.to) {
			continue
		}
		c.merge(m.from, m.to)
	}
	var faces [][3]int32
	for i, f := range c.faces {
		if !c.gone[i] {
			faces = append(faces, f)
		}
	}
	return assemble(s.corners, faces)
}

// merger is a corner that may go to a neighbour's place. It is stale once either has changed.
type merger struct {
	harm               float64
	from, to           int32
	stampFrom, stampTo int32
}

// less orders mergers, the least harm first; of equal ones by the corners' numbers, so that the result is always the same.
func (m *merger) less(o *merger) bool {
	switch {
	case m.harm != o.harm:
		return m.harm < o.harm
	case m.from != o.from:
		return m.from < o.from
	}
	return m.to < o.to
}

// mergers is a binary heap. (container/heap would put every merger into a box of its own.)
type mergers []merger

func (q *mergers) push(m merger) {
	*q = append(*q, m)
	h := *q
	for i := len(h) - 1; i > 0; {
		above := (i - 1) / 2
		if !h[i].less(&h[above]) {
			break
		}
		h[i], h[above] = h[above], h[i]
		i = above
	}
}

func (q *mergers) pop() merger {
	h := *q
	first, n := h[0], len(h)-1
	h[0] = h[n]
	h = h[:n]
	for i := 0; ; {
		least := i
		for _, k := range [2]int{2*i + 1, 2*i + 2} {
			if k < n && h[k].less(&h[least]) {
				least = k
			}
		}
		if least == i {
			break
		}
		h[i], h[least] = h[least], h[i]
		i = least
	}
	*q = h
	return first
}

// coarsener is Coarse at work.
type coarsener struct {
	corners []r3.Vec
	faces   [][3]int32
	gone    []bool
	left    int
	at      [][]int32 // the faces at each corner, some of them gone
	planes  []quadric
	stamp   []int32
	queue   mergers
}

// quadric is a sum of squared distances from planes: xᵀMx − 2 b·x + c.
type quadric struct {
	m Moments
	b r3.Vec
	c float64
}

func (q quadric) plus(o quadric) quadric {
	return quadric{q.m.Add(o.m), r3.Add(q.b, o.b), q.c + o.c}
}

func (q quadric) at(x r3.Vec) float64 {
	return math.Max(0, r3.Dot(x, q.m.Apply(x))-2*r3.Dot(q.b, x)+q.c)
}

func newCoarsener(s *Solid) *coarsener {
	n := len(s.corners)
	c := &coarsener{
		corners: make([]r3.Vec, n), faces: slices.Clone(s.faces), gone: make([]bool, len(s.faces)), left: len(s.faces),
		at: make([][]int32, n), planes: make([]quadric, n), stamp: make([]int32, n),
	}
	for i, x := range s.corners {
		c.corners[i] = r3.Sub(x, s.centre) // so that far from the origin no digits are lost
	}
	for i, f := range c.faces {
		a, u := c.corners[f[0]], c.areaOf(f)
		var q quadric
		if size := r3.Norm(u); size > 0 {
			u = r3.Scale(1/size, u)
			d := r3.Dot(u, a)
			q = quadric{outer(u), r3.Scale(d, u), d * d}
		}
		for _, k := range f {
			c.at[k] = append(c.at[k], int32(i))
			c.planes[k] = c.planes[k].plus(q)
		}
	}
	for k := range c.corners {
		c.offer(int32(k))
	}
	return c
}

// areaOf is twice the area vector of a face.
func (c *coarsener) areaOf(f [3]int32) r3.Vec {
	a := c.corners[f[0]]
	return r3.Cross(r3.Sub(c.corners[f[1]], a), r3.Sub(c.corners[f[2]], a))
}

// offer puts in the mergers of a corner into its neighbours.
func (c *coarsener) offer(k int32) {
	for _, i := range c.at[k] {
		if c.gone[i] {
			continue
		}
		for _, to := range c.faces[i] {
			if to != k {
				c.queue.push(c.merger(k, to))
			}
		}
	}
}

func (c *coarsener) merger(from, to int32) merger {
	return merger{c.planes[from].plus(c.planes[to]).at(c.corners[to]), from, to, c.stamp[from], c.stamp[to]}
}

// turns tells whether a merger would turn a plate over, or nearly on edge to what it was.
func (c *coarsener) turns(from, to int32) bool {
	const least = 0.2 // cosine
	for _, i := range c.at[from] {
		f := c.faces[i]
		if c.gone[i] || slices.Contains(f[:], to) {
			continue
		}
		before := c.areaOf(f)
		for k := range f {
			if f[k] == from {
				f[k] = to
			}
		}
		after := c.areaOf(f)
		if r3.Dot(before, after) < least*r3.Norm(before)*r3.Norm(after) {
			return true
		}
	}
	return false
}

// merge moves a corner to a neighbour's place. The faces between the two vanish.
func (c *coarsener) merge(from, to int32) {
	for _, i := range c.at[from] {
		if c.gone[i] {
			continue
		}
		if f := &c.faces[i]; slices.Contains(f[:], to) {
			c.gone[i] = true
			c.left--
		} else {
			f[slices.Index(f[:], from)] = to
			c.at[to] = append(c.at[to], i)
		}
	}
	c.at[from] = nil
	c.planes[to] = c.planes[to].plus(c.planes[from])
	c.stamp[from]++
	c.stamp[to]++
	c.at[to] = slices.DeleteFunc(c.at[to], func(i int32) bool { return c.gone[i] })
	for _, i := range c.at[to] {
		for _, k := range c.faces[i] {
			if k != to {
				c.queue.push(c.merger(k, to))
				c.queue.push(c.merger(to, k))
			}
		}
	}
}
