package compartment

import (
	"fmt"
	"slices"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// makeSpaces puts together what each space holds: the room less solids, the share that is water, the water at the start.
func (b *builder) makeSpaces() {
	solids, skins := b.made.solids, b.made.skins
	if solids == nil || skins == nil {
		return
	}
	spaces := make([]*Space, len(solids.rests))
	for i, room := range solids.rests {
		s := &Space{Name: skins.rooms.names[i], Index: i, Room: room, Fraction: 1}
		var path string
		if len(b.spec.Compartments) > 0 {
			c := &b.spec.Compartments[i]
			path, s.Airtight = b.paths.compartments[i], c.Airtight
			if c.Permeability != nil {
				s.Fraction = *c.Permeability
			}
			if c.Starts != nil {
				s.Start = *c.Starts
			}
		}
		if taken := skins.taken[i]; taken > 0 {
			s.Fraction *= 1 - taken/room.Volume()
			if !(taken < (1-leastSpace)*room.Volume()) && !b.broken("weights") {
				b.fault("hull.shell", fmt.Sprintf("the shell takes up the whole room of %s", s.Name), "a thinner or lighter shell")
			}
		}
		s.Piece = b.pieceOf(room)
		spaces[i] = s
		if !b.broken(path) {
			b.startFits(path, s)
		}
	}
	b.made.spaces = b.kept(spaces)
}

// kept is the old list where nothing in it has changed.
func (b *builder) kept(spaces []*Space) []*Space {
	same := func(x, y *Space) bool { return *x == *y }
	if slices.EqualFunc(spaces, b.old.spaces, same) {
		return b.old.spaces
	}
	return spaces
}

// startFits refuses more water than fits.
func (b *builder) startFits(path string, s *Space) {
	low, high := s.Room.Reach(r3.Vec{Z: 1})
	switch {
	case s.Start.Volume != nil && *s.Start.Volume > s.Capacity()*(1+1e-12):
		b.fault(path+".starts", fmt.Sprintf("%s of water do not fit", litres(*s.Start.Volume)), "at most "+litres(s.Capacity()))
	case s.Start.Depth != nil && *s.Start.Depth > high-low:
		b.fault(path+".starts", fmt.Sprintf("it is not %s deep", metres(*s.Start.Depth)), "at most "+metres(high-low))
	}
}

// pieceOf is the piece between joints that a room lies in, −1 where a joint's plane divides it.
func (b *builder) pieceOf(room *solid.Solid) int {
	between := sections{at: make([]float64, len(b.spec.Joints))}
	for k := range between.at {
		between.at[k] = b.spec.Joints[k].At
	}
	if first, last := between.reach(room); first == last {
		return first
	}
	return -1
}
