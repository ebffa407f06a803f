package plan

import (
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// cell is a part of a place that fills from its floor up.
type cell struct {
	place    *Place
	lo, hi   r3.Vec  // lies wholly inside the hull, and nothing stands in it
	full     float64 // kg that fill it
	perLayer int     // pieces in one layer; 0: bulk
	layers   int
	unit     float64 // kg of one piece; 0: bulk
}

// footprint is what a layer covers, m².
func (c *cell) footprint() float64 { return (c.hi.X - c.lo.X) * (c.hi.Y - c.lo.Y) }

// perHeight is the mass of one metre of height.
func (c *cell) perHeight() float64 {
	if c.perLayer > 0 {
		return float64(c.perLayer) * c.unit / c.place.Piece.Height
	}
	return c.place.Density * c.footprint()
}

// centre is that of a mass laid into the cell. Pieces fill layer after layer.
func (c *cell) centre(mass float64) r3.Vec {
	at := r3.Scale(0.5, r3.Add(c.lo, c.hi))
	at.Z = c.lo.Z + mass/c.perHeight()/2
	if c.perLayer > 0 && mass > 0 {
		n, per, t := mass/c.unit, float64(c.perLayer), c.place.Piece.Height
		whole := math.Floor(n/per + 1e-9)
		rest := max(0, n-whole*per)
		at.Z = c.lo.Z + (whole*per*whole/2+rest*(whole+0.5))*t/n
	}
	return at
}

// next is where the next little mass would lie: the derivative of mass × centre.
func (c *cell) next(mass float64) r3.Vec {
	at := r3.Scale(0.5, r3.Add(c.lo, c.hi))
	at.Z = c.lo.Z + mass/c.perHeight()
	return at
}

// cellsAlong is how many cells the longest free run of a place is cut into, at most.
const cellsAlong = 8

// sliver is the share of the hull's length below which what is left of a place beside what stands there is not worth filling.
const sliver = 0.01

// makeCells cuts the places into cells. Halves: each across y into two, so that a list can be taken out.
func makeCells(v *compartment.Vessel, places []Place, halves bool) []cell {
	var all []cell
	lo, hi := v.Whole.Form.Bounds()
	standing := blocksOf(v)
	for i := range places {
		p := &places[i]
		ys := p.lanes(halves)
		xs := linesAlong(v, p, standing)
		near := v.Whole.Form.ClipBox(r3.Vec{X: p.X[0], Y: p.Y[0], Z: p.Z[0]}, r3.Vec{X: p.X[1], Y: p.Y[1], Z: p.Z[1]})
		for k := 1; k < len(xs); k++ {
			if len(xs) > 2 && xs[k]-xs[k-1] < sliver*(hi.X-lo.X) {
				continue
			}
			for _, x := range p.slices(xs[k-1], xs[k], (hi.X-lo.X)*0.05) {
				slab := near.ClipBox(r3.Vec{X: x[0], Y: p.Y[0], Z: p.Z[0]}, r3.Vec{X: x[1], Y: p.Y[1], Z: p.Z[1]})
				for _, y := range ys {
					all = append(all, p.cellsAt(slab, standing, x, y, leastStep*(hi.X-lo.X))...)
				}
			}
		}
	}
	return all
}

// lanes are the spans across y: one, or two that meet at the keel line where that lies within, else in the middle.
func (p *Place) lanes(halves bool) [][2]float64 {
	if !halves {
		return [][2]float64{p.Y}
	}
	middle := 0.0
	if p.Y[0] >= 0 || p.Y[1] <= 0 {
		middle = (p.Y[0] + p.Y[1]) / 2
	}
	return [][2]float64{{p.Y[0], middle}, {middle, p.Y[1]}}
}

// linesAlong are the x at which a place has to be cut: bulkheads, joints, sides of boxed compartments and of what stands in it.
func linesAlong(v *compartment.Vessel, p *Place, standing []block) []float64 {
	xs := []float64{p.X[0], p.X[1]}
	add := func(x float64) {
		if x > p.X[0]+1e-4 && x < p.X[1]-1e-4 {
			xs = append(xs, x)
		}
	}
	for i := range v.Spec.Bulkheads {
		add(v.Spec.Bulkheads[i].At)
	}
	for i := range v.Spec.Joints {
		add(v.Spec.Joints[i].At)
	}
	for i := range v.Spec.Compartments {
		if x := v.Spec.Compartments[i].X; x != nil {
			add(x[0])
			add(x[1])
		}
	}
	for i := range standing {
		add(standing[i].lo.X)
		add(standing[i].hi.X)
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// slices cuts a run along x into even cells about so long as wished; for pieces, of whole rows of them.
func (p *Place) slices(from, to, about float64) (all [][2]float64) {
	n := int(min(cellsAlong, max(1, math.Round((to-from)/about))))
	step := (to - from) / float64(n)
	if p.Piece != nil {
		rows := int((to - from + 1e-9) / p.Piece.Length)
		each := max(1, int(math.Ceil(float64(rows)/float64(n))))
		step = p.Piece.Length * float64(each)
		n = rows / each
		from += ((to - from) - float64(n)*step) / 2
	}
	for k := range n {
		all = append(all, [2]float64{from + float64(k)*step, from + float64(k+1)*step})
	}
	return all
}

// shares are the widths, of the lane's, of the steps that fill a bilge; leastStep is their least height, of the hull's length.
var shares = [...]float64{0.2, 0.4, 0.7, 1}

const leastStep = 0.003

// cellsAt are the cells over a patch of the place's floor, inside the hull: where the floor is not flat, one over another like
// steps, each from where it fits up to where the next wider one does.
func (p *Place) cellsAt(hull *solid.Solid, standing []block, x, y [2]float64, least float64) (all []cell) {
	top := math.Inf(1) // the floor of the wider step over it
	for i := len(shares) - 1; i >= 0; i-- {
		lane := narrowed(y, shares[i])
		lo, hi := r3.Vec{X: x[0], Y: lane[0], Z: p.Z[0]}, r3.Vec{X: x[1], Y: lane[1], Z: p.Z[1]}
		lo.Z, hi.Z = clearOf(standing, lo, hi)
		lo.Z, hi.Z = within(hull, lo, hi)
		if lo.Z > top-least { // hardly lower than the wider one: a narrower one may still be
			continue
		}
		c := cell{place: p, lo: lo, hi: hi}
		c.hi.Z = min(hi.Z, top)
		if !c.load() {
			continue
		}
		all, top = append(all, c), lo.Z
		if lo.Z == p.Z[0] {
			break
		}
	}
	slices.Reverse(all)
	return all
}

// narrowed is a span drawn in towards the keel line: about it where it lies within, else about the nearer side.
func narrowed(y [2]float64, share float64) [2]float64 {
	switch {
	case y[0] >= 0:
		return [2]float64{y[0], y[0] + share*(y[1]-y[0])}
	case y[1] <= 0:
		return [2]float64{y[1] - share*(y[1]-y[0]), y[1]}
	}
	return [2]float64{share * y[0], share * y[1]}
}

// load finds what the cell takes; false: nothing.
func (c *cell) load() bool {
	height := c.hi.Z - c.lo.Z
	if !(height > 1e-4) || !(c.footprint() > 1e-8) {
		return false
	}
	if q := c.place.Piece; q != nil {
		c.perLayer = int((c.hi.X-c.lo.X+1e-9)/q.Length) * int((c.hi.Y-c.lo.Y+1e-9)/q.Breadth)
		c.layers = int((height + 1e-9) / q.Height)
		c.unit = q.Mass
		c.full = float64(c.perLayer*c.layers) * q.Mass
		return c.full > 0
	}
	c.full = c.place.Density * c.footprint() * height
	return true
}

// block is a box that stands in the hull already.
type block struct{ lo, hi r3.Vec }

// blocksOf are the listed weights that take room, as the builder stands them.
func blocksOf(v *compartment.Vessel) (all []block) {
	for i := range v.Spec.Weights {
		if lo, hi, ok := v.Standing(i); ok {
			all = append(all, block{lo, hi})
		}
	}
	return all
}

// clearOf is the widest gap in height that no block reaches into, the lowest of equals.
func clearOf(standing []block, lo, hi r3.Vec) (low, high float64) {
	tops := []float64{lo.Z}
	for i := range standing {
		if standing[i].over(lo, hi) {
			tops = append(tops, standing[i].hi.Z)
		}
	}
	slices.Sort(tops)
	for _, from := range tops {
		from, to := max(from, lo.Z), hi.Z
		for i := range standing {
			if standing[i].over(lo, hi) && standing[i].hi.Z > from+1e-9 {
				to = min(to, standing[i].lo.Z)
			}
		}
		if to-from > high-low+1e-9 {
			low, high = from, to
		}
	}
	return low, high
}

// over tells whether a block stands over or in the patch of a box.
func (b *block) over(lo, hi r3.Vec) bool {
	const touch = 1e-6
	return b.lo.X < hi.X-touch && b.hi.X > lo.X+touch && b.lo.Y < hi.Y-touch && b.hi.Y > lo.Y+touch &&
		b.lo.Z < hi.Z-touch && b.hi.Z > lo.Z+touch
}

// levels is how many slices of height are looked at for what of a box lies inside the hull.
const levels = 12

// within is the longest span of height over which a box lies wholly inside the hull.
func within(hull *solid.Solid, lo, hi r3.Vec) (low, high float64) {
	if !(hi.Z > lo.Z) {
		return 0, 0
	}
	near := hull.ClipBox(lo, hi)
	if near.Volume() == 0 {
		return 0, 0
	}
	up := func(z float64) float64 { return near.Below(solid.Plane{N: r3.Vec{Z: 1}, D: z}).Volume }
	inside := func(from, to float64) bool {
		return up(to)-up(from) >= (hi.X-lo.X)*(hi.Y-lo.Y)*(to-from)*(1-1e-6)
	}
	if inside(lo.Z, hi.Z) {
		return lo.Z, hi.Z
	}
	step := (hi.Z - lo.Z) / levels
	for k := 0; k < levels; k++ {
		n := 0
		for k+n < levels && inside(lo.Z+float64(k+n)*step, lo.Z+float64(k+n+1)*step) {
			n++
		}
		if float64(n)*step > high-low {
			low, high = lo.Z+float64(k)*step, lo.Z+float64(k+n)*step
		}
		k += n
	}
	if high > low && low > lo.Z { // the hull's floor lies somewhere in the slice below
		out, in := low-step, low
		for range 12 {
			if mid := (out + in) / 2; inside(mid, high) {
				in = mid
			} else {
				out = mid
			}
		}
		low = in
	}
	return low, high
}
