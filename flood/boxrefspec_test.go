package flood_test

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// refFrom reads a Spec of a box hull the way the contract (scenario.md §2 and §3) has it: with weights without volume,
// openings of a fixed C_d, and bulkheads that nothing stands at. The viscosity is the water's by the formula.
func refFrom(spec compartment.Spec) *refShip {
	b := spec.Hull.Box
	s := &refShip{hull: refRoom{[]refBox{{refVec{0, -b.Breadth / 2, 0}, refVec{b.Length, b.Breadth / 2, b.Depth}, 1}}, 1}}
	s.density = *spec.Water.Density
	for _, w := range spec.Weights {
		s.mass += w.Mass
		s.centre = s.centre.plus(w.Mass, refFromVec(w.At))
	}
	s.centre = refVec{}.plus(1/s.mass, s.centre)
	s.rooms = refRooms(spec, s.hull.boxes[0])
	fresh, _ := hydro.FreshWater(spec.Water.Temperature)
	for _, o := range spec.Openings {
		p := refPort{from: refIndex(spec, o.Between[0]), to: refIndex(spec, o.Between[1]), centre: refFromVec(o.At),
			faces: refFromVec(*o.Faces), cd: *o.Cd, wall: o.Wall, viscosity: fresh.Viscosity, tension: *spec.Water.SurfaceTension}
		switch {
		case o.Hole != nil:
			p.length = *o.Hole
		case o.Slot != nil:
			p.length, p.width, p.along = o.Slot.Length, o.Slot.Width, refFromVec(*o.Along)
		case o.Door != nil:
			p.length, p.width, p.along = o.Door.Length, o.Door.Height, refFromVec(*o.Along)
		}
		s.ports = append(s.ports, p)
	}
	s.ports = append(s.ports, refGaps(spec)...)
	return s
}

func refFromVec(v r3.Vec) refVec { return refVec{v.X, v.Y, v.Z} }

// refRooms are the spaces in the order listed: boxes as given, the others between the bulkheads, less the boxes in them.
func refRooms(spec compartment.Spec, hull refBox) (rooms []refRoom) {
	walls := []float64{hull.lo[0]}
	for _, b := range spec.Bulkheads {
		walls = append(walls, b.At)
	}
	walls = append(walls, hull.hi[0])
	next := 0
	for _, c := range spec.Compartments {
		r := refRoom{share: 1}
		if c.Permeability != nil {
			r.share = *c.Permeability
		}
		if c.X != nil {
			r.boxes = []refBox{{refVec{c.X[0], c.Y[0], c.Z[0]}, refVec{c.X[1], c.Y[1], c.Z[1]}, 1}}
			rooms = append(rooms, r)
			continue
		}
		own := refBox{refVec{walls[next], hull.lo[1], hull.lo[2]}, refVec{walls[next+1], hull.hi[1], hull.hi[2]}, 1}
		next++
		r.boxes = []refBox{own}
		for _, w := range spec.Compartments {
			if w.X == nil {
				continue
			}
			if lo, hi := max(w.X[0], own.lo[0]), min(w.X[1], own.hi[0]); hi > lo {
				r.boxes = append(r.boxes, refBox{refVec{lo, w.Y[0], w.Z[0]}, refVec{hi, w.Y[1], w.Z[1]}, -1})
			}
		}
		rooms = append(rooms, r)
	}
	return rooms
}

func refIndex(spec compartment.Spec, name string) int {
	for i, c := range spec.Compartments {
		if c.Name == name {
			return i
		}
	}
	return -1 // outside
}

// refGaps are the open sections over low bulkheads, between the transverse spaces on either side.
func refGaps(spec compartment.Spec) (gaps []refPort) {
	var across []int
	for i, c := range spec.Compartments {
		if c.X == nil {
			across = append(across, i)
		}
	}
	box := spec.Hull.Box
	for i, b := range spec.Bulkheads {
		if b.Top == nil {
			continue
		}
		gaps = append(gaps, refPort{from: across[i], to: across[i+1], centre: refVec{b.At, 0, 0.5 * (*b.Top + box.Depth)},
			faces: refVec{1, 0, 0}, along: refVec{0, 1, 0}, length: box.Breadth, width: box.Depth - *b.Top, edge: true})
	}
	return gaps
}

// refStart is the water aboard at the start for depths given along z and for shares.
func refStart(spec compartment.Spec, s *refShip) (water []float64) {
	for i, c := range spec.Compartments {
		v := 0.0
		switch {
		case c.Starts == nil:
		case c.Starts.Volume != nil:
			v = *c.Starts.Volume
		case c.Starts.Share != nil:
			v = *c.Starts.Share * s.rooms[i].capacity()
		case c.Starts.Depth != nil:
			lo, _ := s.rooms[i].reach(refVec{0, 0, 1})
			v = s.rooms[i].below(refVec{0, 0, 1}, lo+*c.Starts.Depth).volume
		}
		water = append(water, math.Max(0, v))
	}
	return water
}
