package compartment

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Figures of a plate are added, cut and narrowed on a lattice of whole steps, where it is decided exactly which side of a
// line a point lies on: at 20 m, the format's limit, twice a coordinate is 4e8 steps, and a cross product of such
// differences under 2e18, which 64 bits hold.
const latticeStep = 1e-7 // m

// spot is a place in a plate's plane, in steps.
type spot struct{ u, v int64 }

func spotOf(p r2.Vec) spot {
	return spot{int64(math.Round(p.X / latticeStep)), int64(math.Round(p.Y / latticeStep))}
}

func (s spot) vec() r2.Vec {
	return r2.Vec{X: float64(s.u) * latticeStep, Y: float64(s.v) * latticeStep}
}

// turn is twice the area of the triangle a, b, c: positive where c lies to the left of the way from a to b.
func turn(a, b, c spot) int64 { return (b.u-a.u)*(c.v-a.v) - (b.v-a.v)*(c.u-a.u) }

// edge is a piece of a loop, run from one end to the other.
type edge struct{ from, to spot }

// region is the figure that loops wind around at least so many times, as loops that do not cross: outer ones run
// counterclockwise, holes clockwise. Where two parts touch in a point, they are loops of their own.
//
// Edges are split where they meet until no two cross, as on any lattice (each crossing is rounded to a spot, which may make new
// ones); edges that lie on one another are added up; of what is left the windings to both sides decide.
func region(loops [][]spot, least int) ([][]spot, error) {
	edges := edgesOf(loops)
	for round := 0; ; round++ {
		split, changed := splitAtMeetings(edges)
		if edges = split; !changed {
			break
		}
		if round == 50 {
			return nil, errors.New("the outline is too tangled to be drawn")
		}
	}
	return chainEdges(bounding(edges, least)), nil
}

func edgesOf(loops [][]spot) (edges []edge) {
	for _, loop := range loops {
		for i, a := range loop {
			if b := loop[(i+1)%len(loop)]; a != b {
				edges = append(edges, edge{a, b})
			}
		}
	}
	return edges
}

// splitAtMeetings cuts every edge where another crosses it, or ends as good as on it.
func splitAtMeetings(edges []edge) (out []edge, changed bool) {
	slices.SortStableFunc(edges, func(a, b edge) int { return cmp.Compare(min(a.from.u, a.to.u), min(b.from.u, b.to.u)) })
	cuts := make([][]spot, len(edges))
	for i, a := range edges {
		right := max(a.from.u, a.to.u)
		low, high := min(a.from.v, a.to.v), max(a.from.v, a.to.v)
		for j := i + 1; j < len(edges) && min(edges[j].from.u, edges[j].to.u) <= right+1; j++ {
			if b := edges[j]; max(b.from.v, b.to.v) >= low-1 && min(b.from.v, b.to.v) <= high+1 {
				cuts[i], cuts[j] = meet(a, b, cuts[i], cuts[j])
			}
		}
	}
	for i, e := range edges {
		along := func(s spot) int64 { return (s.u-e.from.u)*(e.to.u-e.from.u) + (s.v-e.from.v)*(e.to.v-e.from.v) }
		slices.SortFunc(cuts[i], func(a, b spot) int { return cmp.Compare(along(a), along(b)) })
		last := e.from
		for _, c := range append(cuts[i], e.to) {
			if c != last {
				out = append(out, edge{last, c})
				last = c
			}
		}
		changed = changed || len(cuts[i]) > 0
	}
	return out, changed
}

// meet adds to the cuts of two edges where they meet: at the end of one, or else where they cross. Led through an end they may no
// longer cross; if they do, the next round finds it.
func meet(a, b edge, cutA, cutB []spot) ([]spot, []spot) {
	fromB, toB := turn(a.from, a.to, b.from), turn(a.from, a.to, b.to)
	fromA, toA := turn(b.from, b.to, a.from), turn(b.from, b.to, a.to)
	before := len(cutA) + len(cutB)
	cutA = endOn(a, b.from, fromB, cutA)
	cutA = endOn(a, b.to, toB, cutA)
	cutB = endOn(b, a.from, fromA, cutB)
	cutB = endOn(b, a.to, toA, cutB)
	if len(cutA)+len(cutB) == before && opposite(fromA, toA) && opposite(fromB, toB) {
		t := float64(fromA) / (float64(fromA) - float64(toA))
		c := spot{
			a.from.u + int64(math.Round(t*float64(a.to.u-a.from.u))),
			a.from.v + int64(math.Round(t*float64(a.to.v-a.from.v))),
		}
		if c != a.from && c != a.to {
			cutA = append(cutA, c)
		}
		if c != b.from && c != b.to {
			cutB = append(cutB, c)
		}
	}
	return cutA, cutB
}

func opposite(a, b int64) bool { return a < 0 && b > 0 || a > 0 && b < 0 }

// endOn adds a spot to an edge's cuts where the edge passes it, between its ends, by less than near: led through it, the edge
// cannot cross another that ends there a step further on, and so on from step to step along two that are nearly parallel.
func endOn(e edge, s spot, turned int64, cuts []spot) []spot {
	const near = 0.6 // steps; under √½, so that a diagonal is not led through a corner beside it
	du, dv := float64(e.to.u-e.from.u), float64(e.to.v-e.from.v)
	along := float64(s.u-e.from.u)*du + float64(s.v-e.from.v)*dv
	if square := du*du + dv*dv; along <= 0 || along >= square || float64(turned)*float64(turned) > near*near*square {
		return cuts
	}
	return append(cuts, s)
}

// bounding gives those of the edges that have the figure on one side only, run so that it lies to their left.
func bounding(edges []edge, least int) (out []edge) {
	edges, times := addedUp(edges)
	rows := newBands(edges, func(s spot) int64 { return s.v })
	columns := newBands(edges, func(s spot) int64 { return s.u })
	for i, e := range edges {
		right := windingRight(edges, times, i, &rows, &columns)
		switch left := right + times[i]; {
		case left >= least && right < least:
			out = append(out, e)
		case left < least && right >= least:
			out = append(out, edge{e.to, e.from})
		}
	}
	return out
}

// bands lists the edges that have a part in each of some bands of equal width, so that a ray need not look at all of them.
type bands struct {
	of    func(spot) int64
	low   int64
	width int64
	lists [][]int32
}

// mostBands bounds what edges as long as the whole take.
const mostBands = 256

func newBands(edges []edge, of func(spot) int64) bands {
	s := bands{of: of, width: 1}
	if len(edges) == 0 {
		return s
	}
	low, high := int64(math.MaxInt64), int64(math.MinInt64)
	for _, e := range edges {
		low, high = min(low, of(e.from), of(e.to)), max(high, of(e.from), of(e.to))
	}
	count := int64(min(mostBands, 1+len(edges)/4))
	s.low, s.width = low, (high-low)/count+1
	s.lists = make([][]int32, count)
	for i, e := range edges {
		from, to := s.at(min(of(e.from), of(e.to))), s.at(max(of(e.from), of(e.to)))
		for k := from; k <= to; k++ {
			s.lists[k] = append(s.lists[k], int32(i))
		}
	}
	return s
}

func (s *bands) at(x int64) int64 { return (x - s.low) / s.width }

// addedUp gives each edge once, run upwards (to the right if level), with the times that it is run so, less those that it
// is run the other way.
func addedUp(edges []edge) (once []edge, times []int) {
	index := map[edge]int{}
	for _, e := range edges {
		way := 1
		if e.to.v < e.from.v || e.to.v == e.from.v && e.to.u < e.from.u {
			e, way = edge{e.to, e.from}, -1
		}
		k, ok := index[e]
		if !ok {
			k = len(once)
			index[e], once, times = k, append(once, e), append(times, 0)
		}
		times[k] += way
	}
	return once, times
}

// windingRight is how often the loops wind around a point just right of an edge's middle (below it, where it is level): the
// sum over all edges that a ray from there meets, to the right (downwards). Such an edge reaches over the middle's height, and over
// that rounded down to a whole step, so that it is in that one's band.
func windingRight(edges []edge, times []int, of int, rows, columns *bands) (winding int) {
	e := edges[of]
	middle := spot{e.from.u + e.to.u, e.from.v + e.to.v} // in half steps
	list, level := rows, e.from.v == e.to.v
	if level {
		list = columns
	}
	for _, k := range list.lists[list.at((list.of(e.from)+list.of(e.to))>>1)] {
		if int(k) == of {
			continue
		}
		x := &edges[k]
		a, b := spot{2 * x.from.u, 2 * x.from.v}, spot{2 * x.to.u, 2 * x.to.v}
		if level { // a quarter turn makes downwards rightwards
			m := spot{-middle.v, middle.u}
			winding += times[k] * passes(m, spot{-a.v, a.u}, spot{-b.v, b.u})
			continue
		}
		winding += times[k] * passes(middle, a, b)
	}
	return winding
}

// passes is 1 where the way from a to b passes to the right of m going up, −1 going down, 0 where it does not.
func passes(m, a, b spot) int {
	switch {
	case max(a.u, b.u) <= m.u:
		return 0
	case a.v <= m.v && b.v > m.v && turn(a, b, m) > 0:
		return 1
	case b.v <= m.v && a.v > m.v && turn(b, a, m) > 0:
		return -1
	}
	return 0
}

// chainEdges joins edges that have the figure to their left into loops. Where several go on from a spot, the one furthest
// to the left does.
func chainEdges(edges []edge) (loops [][]spot) {
	next := map[spot][]int{}
	for i, e := range edges {
		next[e.from] = append(next[e.from], i)
	}
	done := make([]bool, len(edges))
	for i := range edges {
		var loop []spot
		for k := i; k >= 0 && !done[k]; k = leftmost(edges, edges[k], next[edges[k].to], done) {
			done[k] = true
			loop = append(loop, edges[k].from)
		}
		if loop = withoutStraight(loop); len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// leftmost is the edge among some that turns furthest to the left after another; −1: none is left.
func leftmost(edges []edge, after edge, among []int, done []bool) int {
	best, most := -1, math.Inf(-1)
	du, dv := float64(after.to.u-after.from.u), float64(after.to.v-after.from.v)
	for _, k := range among {
		if done[k] {
			continue
		}
		eu, ev := float64(edges[k].to.u-edges[k].from.u), float64(edges[k].to.v-edges[k].from.v)
		if angle := math.Atan2(du*ev-dv*eu, du*eu+dv*ev); angle > most {
			best, most = k, angle
		}
	}
	return best
}

// withoutStraight drops the corners of a loop at which it goes straight on.
func withoutStraight(loop []spot) (out []spot) {
	n := len(loop)
	for i, s := range loop {
		if n > 2 && turn(loop[(i+n-1)%n], s, loop[(i+1)%n]) == 0 {
			continue
		}
		out = append(out, s)
	}
	return out
}
