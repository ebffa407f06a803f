package solid

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// bin gathers the faces whose middles fall in one slice of a node.
type bin struct {
	n      int
	lo, hi r3.Vec
}

func (b *bin) put(lo, hi r3.Vec, n int) {
	if n == 0 {
		return
	}
	if b.n == 0 {
		b.lo, b.hi = lo, hi
	}
	b.lo, b.hi = least(b.lo, lo), greatest(b.hi, hi)
	b.n += n
}

// cost is the number of faces times the sum of the box's extents. Planes of random direction and place meet a convex body
// in proportion to its mean width (Crofton), which for a box is half the sum of its extents.
func (b *bin) cost() float64 {
	e := r3.Sub(b.hi, b.lo)
	return float64(b.n) * (e.X + e.Y + e.Z)
}

// split parts order[from:to] in two where the sum of the costs of both is least, and gives the border. Deep down, or where
// nothing tells the faces apart, it halves them by number, which bounds the depth.
func (g *grower) split(from, to, depth int) int {
	lo, hi := g.middles(from, to)
	best, axis, at := math.Inf(1), -1, 0
	for a := range 3 {
		if width := along(hi, a) - along(lo, a); width > 0 && depth < depthMax/2 {
			if cost, cut := g.bestCut(from, to, a, along(lo, a), width); cost < best {
				best, axis, at = cost, a, cut
			}
		}
	}
	if axis < 0 {
		return g.halve(from, to, lo, hi)
	}
	low, width := along(lo, axis), along(hi, axis)-along(lo, axis)
	mid := from
	for i := from; i < to; i++ {
		if g.binOf(g.order[i], axis, low, width) < at {
			g.order[i], g.order[mid] = g.order[mid], g.order[i]
			mid++
		}
	}
	return mid
}

// middles gives the bounds of the faces' middles (twice over, as sums of both bounds).
func (g *grower) middles(from, to int) (lo, hi r3.Vec) {
	lo = r3.Add(g.lo[g.order[from]], g.hi[g.order[from]])
	hi = lo
	for _, k := range g.order[from:to] {
		m := r3.Add(g.lo[k], g.hi[k])
		lo, hi = least(lo, m), greatest(hi, m)
	}
	return lo, hi
}

func (g *grower) binOf(k int32, axis int, low, width float64) int {
	m := along(g.lo[k], axis) + along(g.hi[k], axis)
	return min(bins-1, int(bins*((m-low)/width)))
}

// bestCut tries every border between bins on one axis.
func (g *grower) bestCut(from, to, axis int, low, width float64) (cost float64, at int) {
	var slabs, left [bins]bin
	for _, k := range g.order[from:to] {
		slabs[g.binOf(k, axis, low, width)].put(g.lo[k], g.hi[k], 1)
	}
	var run bin
	for i := range slabs {
		run.put(slabs[i].lo, slabs[i].hi, slabs[i].n)
		left[i] = run
	}
	cost, run = math.Inf(1), bin{}
	for i := bins - 1; i > 0; i-- {
		run.put(slabs[i].lo, slabs[i].hi, slabs[i].n)
		if left[i-1].n == 0 || run.n == 0 {
			continue
		}
		if c := left[i-1].cost() + run.cost(); c < cost {
			cost, at = c, i
		}
	}
	return cost, at
}

// halve sorts by the middles along the longest axis and cuts in the middle of the list.
func (g *grower) halve(from, to int, lo, hi r3.Vec) int {
	axis := 0
	for a := range 3 {
		if along(hi, a)-along(lo, a) > along(hi, axis)-along(lo, axis) {
			axis = a
		}
	}
	slices.SortStableFunc(g.order[from:to], func(i, j int32) int {
		return cmp.Compare(along(g.lo[i], axis)+along(g.hi[i], axis), along(g.lo[j], axis)+along(g.hi[j], axis))
	})
	return (from + to) / 2
}

func along(v r3.Vec, axis int) float64 {
	switch axis {
	case 0:
		return v.X
	case 1:
		return v.Y
	}
	return v.Z
}
