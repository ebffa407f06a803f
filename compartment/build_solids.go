package compartment

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// How far a solid's measures may give way, and by how much two solids may overlap: the mass, density and size that
// somebody measured never agree to the last digit, and end to end they may then share a sliver.
const (
	giveTold   = 0.02 // of the volume, before a note tells it
	giveMost   = 4.0  // times the least side
	shareMost  = 0.05 // of the lesser solid's volume
	leastSpace = 1e-6 // of a compartment's room, that solids and shell must leave
)

// solids are the weights that take room, where they stand, and what they leave of the rooms.
type solids struct {
	rooms   *rooms
	from    []block
	placed  []block        // as they stand: the least side may have grown
	rests   []*solid.Solid // of each room: less the solids
	outside *solid.Solid   // solids outside the hull, without those to come; nil: none
	later   *solid.Solid   // those to come
	notes   []Note
}

// block is a weight with density as a box about its centre.
type block struct {
	weight     int
	centre     r3.Vec
	sides      r3.Vec
	volume     float64
	later      bool
	mismatched float64 // volume by mass and density over that of the sides as given, where size was; else 1
}

func (k *block) lo() r3.Vec { return r3.Sub(k.centre, r3.Scale(0.5, k.sides)) }
func (k *block) hi() r3.Vec { return r3.Add(k.centre, r3.Scale(0.5, k.sides)) }

// stretched is the block with its least side s times as long: of what was measured, the thickness is known least well. Of
// sides that are equal but for rounding it is the height.
func (k block) stretched(s float64) block {
	least := min(k.sides.X, k.sides.Y, k.sides.Z) * (1 + 1e-9)
	switch {
	case k.sides.Z <= least:
		k.sides.Z *= s
	case k.sides.Y <= least:
		k.sides.Y *= s
	default:
		k.sides.X *= s
	}
	return k
}

// blockOf is a weight's solid before it meets the hull: its size with the least side fitted to mass over density; of a
// spread one that length and a square section; else a cube.
func blockOf(i int, w *WeightSpec) block {
	k := block{weight: i, centre: w.At, volume: w.Mass / *w.Density, later: w.Later, mismatched: 1}
	length := math.Cbrt(k.volume)
	if w.Over != nil {
		k.centre.X = (w.Over[0] + w.Over[1]) / 2
		length = w.Over[1] - w.Over[0]
	}
	if w.Size == nil {
		side := math.Sqrt(k.volume / length)
		k.sides = r3.Vec{X: length, Y: side, Z: side}
		return k
	}
	k.sides = r3.Vec{X: w.Size[0], Y: w.Size[1], Z: w.Size[2]}
	if w.Over != nil {
		k.sides.X = length
	}
	k.mismatched = k.volume / (k.sides.X * k.sides.Y * k.sides.Z)
	return k.stretched(k.mismatched)
}

// makeSolids stands the solids in the rooms.
func (b *builder) makeSolids() {
	rooms := b.made.rooms
	if rooms == nil {
		return
	}
	s := &solids{rooms: rooms}
	for i := range b.spec.Weights {
		if w := &b.spec.Weights[i]; w.Density != nil && !b.broken(b.paths.weights[i]) {
			s.from = append(s.from, blockOf(i, w))
		}
	}
	if old := b.old.solids; old != nil && old.rooms == rooms && slices.Equal(old.from, s.from) {
		b.made.solids = old
		b.notes = append(b.notes, old.notes...)
		return
	}
	before := len(b.notes)
	b.stand(s)
	s.notes = slices.Clone(b.notes[before:])
	b.made.solids = s
}

// stand places every block and takes it off the rooms.
func (b *builder) stand(s *solids) {
	within := make([][]block, len(s.rooms.bare))
	var now, later []*solid.Solid
	for _, k := range s.from {
		inside := s.rooms.hull.form.Inside(k.centre)
		fitted, ok := b.fit(k, s.rooms.hull.form, inside)
		if !ok || b.collides(fitted, s.placed) {
			continue
		}
		s.placed = append(s.placed, fitted)
		switch {
		case inside:
			for i, room := range s.rooms.bare {
				if room.ClipBox(fitted.lo(), fitted.hi()).Len() > 0 {
					within[i] = append(within[i], fitted)
				}
			}
		case k.later:
			later = append(later, appendage(fitted, s.rooms.hull.form))
		default:
			now = append(now, appendage(fitted, s.rooms.hull.form))
		}
	}
	s.rests = make([]*solid.Solid, len(within))
	for i, room := range s.rooms.bare {
		s.rests[i] = lessBlocks(room, within[i])
	}
	s.outside, s.later = sumOf(now), sumOf(later)
	b.overfull(s)
}

// mostCuts is how many blocks are cut out of one room plate by plate: each cuts the parts that the others left.
const mostCuts = 4

// lessBlocks is a room without the blocks that stand in it. Of many blocks only the integrals are taken out: the room's
// highest and lowest points may then lie in a block.
func lessBlocks(room *solid.Solid, blocks []block) *solid.Solid {
	if len(blocks) <= mostCuts {
		for i := range blocks {
			room = lessBox(room, blocks[i].lo(), blocks[i].hi())
		}
		return room
	}
	parts := []*solid.Solid{room}
	for i := range blocks {
		parts = append(parts, room.ClipBox(blocks[i].lo(), blocks[i].hi()).Reversed())
	}
	return solid.Sum(parts...)
}

// sumOf is all parts as one; nil where there are none.
func sumOf(parts []*solid.Solid) *solid.Solid {
	if len(parts) == 0 {
		return nil
	}
	return solid.Sum(parts...)
}

// appendage is the part of a block outside the hull.
func appendage(k block, hull *solid.Solid) *solid.Solid {
	body := solid.Box(k.lo(), k.hi())
	if within := hull.ClipBox(k.lo(), k.hi()); within.Len() > 0 { // only its displacement is asked for, no corner of it
		return solid.Sum(body, within.Reversed())
	}
	return body
}

// fit lets the least side of a block grow until as much of it as mass over density lies on its centre's side of the hull:
// a flat block on a rounded floor would stick through it, where in the workshop it sits a little higher.
func (b *builder) fit(k block, hull *solid.Solid, inside bool) (block, bool) {
	path := b.paths.weights[k.weight]
	if k.mismatched > 1+giveTold || k.mismatched < 1-giveTold {
		b.note(path+".size", "mass over density is %.3g times the volume of its size: its least side was taken %.3g times as long",
			k.mismatched, k.mismatched)
	}
	most := k.stretched(giveMost)
	near := hull.ClipBox(most.lo(), most.hi()) // all that a block can meet: small, so that it may be cut again and again
	lacking := func(s float64) float64 {
		box := k.stretched(s)
		v := near.ClipBox(box.lo(), box.hi()).Volume()
		if !inside {
			v = box.sides.X*box.sides.Y*box.sides.Z - v
		}
		return 1 - v/k.volume
	}
	if lacking(1) <= 1e-9 {
		return k, true
	}
	if lacking(giveMost) > 0 {
		b.fault(path+".at", "its solid does not fit on that side of the hull's plates", "a place where it does, or its size")
		return k, false
	}
	s := falling(lacking, 1, giveMost)
	if told := lacking(1); told > giveTold {
		b.note(path, "%.2g %% of its solid would stick through the hull: its least side was taken %.3g times as long", 100*told, s)
	}
	return k.stretched(s), true
}

// falling is the root of a falling function between two places of different sign, by the Illinois rule (a bracket whose
// end stays put twice has its value halved): fewer than a dozen calls for what is nearly linear.
func falling(f func(float64) float64, lo, hi float64) float64 {
	flo, fhi, moved := f(lo), f(hi), 0
	for range 60 {
		mid := (lo*fhi - hi*flo) / (fhi - flo)
		fmid := f(mid)
		switch {
		case math.Abs(fmid) < 1e-12 || hi-lo < 1e-12:
			return mid
		case fmid > 0:
			lo, flo = mid, fmid
			if moved > 0 {
				fhi /= 2
			}
			moved = 1
		default:
			hi, fhi = mid, fmid
			if moved < 0 {
				flo /= 2
			}
			moved = -1
		}
	}
	return (lo + hi) / 2
}

// collides refuses a block that shares more than a sliver with one before it.
func (b *builder) collides(k block, placed []block) bool {
	for _, o := range placed {
		lo, hi := k.lo(), k.hi()
		olo, ohi := o.lo(), o.hi()
		shared := max(0, min(hi.X, ohi.X)-max(lo.X, olo.X)) * max(0, min(hi.Y, ohi.Y)-max(lo.Y, olo.Y)) *
			max(0, min(hi.Z, ohi.Z)-max(lo.Z, olo.Z))
		if shared > shareMost*min(k.volume, o.volume) {
			b.fault(b.paths.weights[k.weight]+".at", fmt.Sprintf("its solid stands in that of %s", b.spec.Weights[o.weight].Name),
				"places that do not overlap")
			return true
		}
	}
	return false
}

// overfull reports rooms that the solids fill.
func (b *builder) overfull(s *solids) {
	for i, rest := range s.rests {
		if rest == s.rooms.bare[i] || rest.Volume() > leastSpace*s.rooms.bare[i].Volume() {
			continue
		}
		last := s.from[len(s.from)-1].weight
		for _, k := range s.from {
			if s.rooms.bare[i].ClipBox(k.lo(), k.hi()).Volume() > 0 {
				last = k.weight
			}
		}
		b.fault(b.paths.weights[last], fmt.Sprintf("with it, solids fill compartment %s", s.rooms.names[i]),
			fmt.Sprintf("less than its %s", litres(s.rooms.bare[i].Volume())))
	}
}

// Standing is the box that the listed weight with this index takes up: as built, where its least side may have grown so that it lies
// on its side of the hull's plates. ok is false for a weight without a volume.
func (v *Vessel) Standing(weight int) (lo, hi r3.Vec, ok bool) {
	for i := range v.made.solids.placed {
		if k := &v.made.solids.placed[i]; k.weight == weight {
			return k.lo(), k.hi(), true
		}
	}
	return r3.Vec{}, r3.Vec{}, false
}
