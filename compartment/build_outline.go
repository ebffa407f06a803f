package compartment

import (
	"cmp"
	"slices"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// crossing is a place where a loop passes the line that clips it.
type crossing struct {
	at     r3.Vec
	along  float64 // its place on the line
	enters bool    // the loop comes from above there
	chain  int     // the chain below that ends there, or starts
}

// clipOutline is the part of an outline below a plane that stands across its own. Loops are cut into chains, and the
// chains joined along the line: crossings in order along it bound what is inside by turns.
func clipOutline(o solid.Outline, p solid.Plane) solid.Outline {
	var kept solid.Outline
	var chains [][]r3.Vec
	var crossings []crossing
	for _, loop := range o {
		first := slices.IndexFunc(loop, func(x r3.Vec) bool { return !below(x, p) })
		switch {
		case first < 0:
			kept = append(kept, loop)
		default:
			chains, crossings = chainsBelow(loop, first, p, chains, crossings)
		}
	}
	joined, ok := joinChains(chains, crossings)
	if !ok {
		return clipEach(o, p)
	}
	return append(kept, joined...)
}

func below(x r3.Vec, p solid.Plane) bool { return r3.Dot(p.N, x) < p.D }

// chainsBelow cuts a loop, starting at a corner that is not below.
func chainsBelow(loop []r3.Vec, first int, p solid.Plane, chains [][]r3.Vec, crossings []crossing) ([][]r3.Vec, []crossing) {
	for k := range loop {
		a, b := loop[(first+k)%len(loop)], loop[(first+k+1)%len(loop)]
		switch {
		case !below(a, p) && below(b, p):
			c := cross(a, b, p)
			crossings = append(crossings, crossing{at: c, enters: true, chain: len(chains)})
			chains = append(chains, []r3.Vec{c, b})
		case below(a, p) && !below(b, p):
			c := cross(a, b, p)
			last := len(chains) - 1
			crossings = append(crossings, crossing{at: c, chain: last})
			chains[last] = append(chains[last], c)
		case below(a, p):
			last := len(chains) - 1
			chains[last] = append(chains[last], b)
		}
	}
	return chains, crossings
}

func cross(a, b r3.Vec, p solid.Plane) r3.Vec {
	da, db := r3.Dot(p.N, a)-p.D, r3.Dot(p.N, b)-p.D
	return r3.Add(a, r3.Scale(da/(da-db), r3.Sub(b, a)))
}

// joinChains closes chains into loops. It fails where two neighbours on the line both enter or both leave, which only
// crossings at one and the same place can make.
func joinChains(chains [][]r3.Vec, crossings []crossing) (solid.Outline, bool) {
	if len(crossings) == 0 {
		return nil, true
	}
	line := lineOf(crossings)
	for i := range crossings {
		crossings[i].along = r3.Dot(line, crossings[i].at)
	}
	slices.SortStableFunc(crossings, func(a, b crossing) int { return cmp.Compare(a.along, b.along) })
	next := make([]int, len(chains)) // the chain that goes on where one ends
	for i := 0; i+1 < len(crossings); i += 2 {
		leave, enter := crossings[i], crossings[i+1]
		if leave.enters {
			leave, enter = enter, leave
		}
		if leave.enters || !enter.enters {
			return nil, false
		}
		next[leave.chain] = enter.chain
	}
	var out solid.Outline
	done := make([]bool, len(chains))
	for i := range chains {
		var loop []r3.Vec
		for k := i; !done[k]; k = next[k] {
			loop = append(loop, chains[k]...)
			done[k] = true
		}
		if len(loop) > 2 {
			out = append(out, loop)
		}
	}
	return out, true
}

// lineOf is the direction from the first crossing to the farthest from it.
func lineOf(crossings []crossing) r3.Vec {
	var line r3.Vec
	for i := range crossings {
		if d := r3.Sub(crossings[i].at, crossings[0].at); r3.Norm2(d) > r3.Norm2(line) {
			line = d
		}
	}
	return line
}

// clipEach clips loop by loop: right in every integral, with edges that run back over themselves along the line.
func clipEach(o solid.Outline, p solid.Plane) solid.Outline {
	var out solid.Outline
	for _, loop := range o {
		var kept []r3.Vec
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if below(a, p) {
				kept = append(kept, a)
			}
			if below(a, p) != below(b, p) {
				kept = append(kept, cross(a, b, p))
			}
		}
		if len(kept) > 2 {
			out = append(out, kept)
		}
	}
	return out
}

// lessRectangle is an outline without what lies in a rectangle of its plane: below, above, and to both sides of it.
func lessRectangle(o solid.Outline, y, z [2]float64) solid.Outline {
	low, high := solid.Plane{N: r3.Vec{Z: 1}, D: z[0]}, solid.Plane{N: r3.Vec{Z: -1}, D: -z[1]}
	right, left := solid.Plane{N: r3.Vec{Y: 1}, D: y[0]}, solid.Plane{N: r3.Vec{Y: -1}, D: -y[1]}
	out := clipOutline(o, right)
	out = append(out, clipOutline(o, left)...)
	between := clipOutline(clipOutline(o, reversed(right)), reversed(left))
	out = append(out, clipOutline(between, low)...)
	return append(out, clipOutline(between, high)...)
}

func reversed(p solid.Plane) solid.Plane { return solid.Plane{N: r3.Scale(-1, p.N), D: -p.D} }

// areaOf is the area of an outline in a plane of constant x, always positive for outer loops whichever way they run.
func areaOf(o solid.Outline) float64 {
	sum := 0.0
	for _, loop := range o {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			sum += a.Y*b.Z - b.Y*a.Z
		}
	}
	return max(sum, -sum) / 2
}

// holds tells whether a point of an outline's plane lies in it, by counting the edges above it.
func holds(o solid.Outline, y, z float64) bool {
	inside := false
	for _, loop := range o {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if (a.Y > y) != (b.Y > y) && z < a.Z+(b.Z-a.Z)*(y-a.Y)/(b.Y-a.Y) {
				inside = !inside
			}
		}
	}
	return inside
}
