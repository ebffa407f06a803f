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
	for bound := within * within / 64; c.left > mostQueued && bound <= 4*within*within; bound *= 4 {
		c.sweep(bound)
	}
	c.enqueue()
	for len(c.queue) > 0 {
		m := c.queue.pop()
		if m.harm > within*within && c.left <= most {
			continue
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

// mostQueued is the number of plates up to which mergers are put in order: some 1 kB of memory and 30 µs a plate.
const mostQueued = 60000

// sweep merges every corner into its best neighbour where that does no more harm than bound, in no order of harm: cheap, for solids of
// very many plates.
func (c *coarsener) sweep(bound float64) {
	for k := range c.corners {
		from, best, to := int32(k), math.Inf(1), int32(-1)
		for _, i := range c.at[k] {
			if c.gone[i] {
				continue
			}
			for _, n := range c.faces[i] {
				if n == from {
					continue
				}
				if m := c.merger(from, n); m.harm <= bound && m.order < best && !c.turns(from, n) {
					best, to = m.order, n
				}
			}
		}
		if to >= 0 {
			c.merge(from, to)
		}
	}
}

// merger is a corner that may go to a neighbour's place. It is stale once either has changed.
type merger struct {
	order, harm        float64
	from, to           int32
	stampFrom, stampTo int32
}

// less orders mergers, the least harm first; of equal ones, as in a flat plate, the shorter, or one corner would come to have all
// others for neighbours; then by the corners' numbers, so that the result is always the same.
func (m *merger) less(o *merger) bool {
	switch {
	case m.order != o.order:
		return m.order < o.order
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
	ordered bool // the queue is kept
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
	return c
}

// enqueue puts all mergers in order: every edge is run through both ways, so that both ends of it are offered.
func (c *coarsener) enqueue() {
	c.ordered = true
	for i, f := range c.faces {
		if c.gone[i] {
			continue
		}
		for k := range f {
			c.queue.push(c.merger(f[k], f[(k+1)%3]))
		}
	}
}

// areaOf is twice the area vector of a face.
func (c *coarsener) areaOf(f [3]int32) r3.Vec {
	a := c.corners[f[0]]
	return r3.Cross(r3.Sub(c.corners[f[1]], a), r3.Sub(c.corners[f[2]], a))
}

func (c *coarsener) merger(from, to int32) merger {
	const tie = 1e-9 // m² of harm for a m² of edge: 30 µm for an edge of 1 m
	harm := c.planes[from].plus(c.planes[to]).at(c.corners[to])
	return merger{harm + tie*r3.Norm2(r3.Sub(c.corners[to], c.corners[from])), harm, from, to, c.stamp[from], c.stamp[to]}
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
	if !c.ordered {
		return
	}
	for _, i := range c.at[to] {
		for _, k := range c.faces[i] {
			if k != to {
				c.queue.push(c.merger(k, to))
				c.queue.push(c.merger(to, k))
			}
		}
	}
}
