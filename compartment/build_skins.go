package compartment

import (
	"fmt"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// skins is how much of the hull's surface each space has, and what room the shell takes off it.
type skins struct {
	rooms *rooms
	area  []float64 // m², by space
	sum   float64
	taken []float64 // m³, by space
}

// makeSkins measures the hull's surface in every space, and parts the shell's volume in proportion.
func (b *builder) makeSkins() {
	rooms := b.made.rooms
	if rooms == nil || b.broken("hull.shell") {
		return
	}
	s := &skins{rooms: rooms, taken: make([]float64, len(rooms.bare))}
	if old := b.old.skins; old != nil && old.rooms == rooms {
		s.area, s.sum = old.area, old.sum
	} else {
		s.measure()
	}
	volume := shellVolume(&b.spec.Hull.Shell, rooms.hull.form)
	for i := range s.taken {
		if s.sum > 0 {
			s.taken[i] = volume * s.area[i] / s.sum
		}
	}
	b.made.skins = s
}

// shellVolume is the volume of the shell's material, 0 where its density is not known.
func shellVolume(s *ShellSpec, form *solid.Solid) float64 {
	switch {
	case s.Thickness != nil:
		return *s.Thickness * form.Surface()
	case s.Mass != nil && s.Density != nil:
		return *s.Mass / *s.Density
	}
	return 0
}

// measure cuts every plate of the hull by the walls and the boxes and sums the pieces' areas.
func (s *skins) measure() {
	r := s.rooms
	s.area = make([]float64, len(r.bare))
	var a, c []r3.Vec
	for t := range r.hull.form.Triangles() {
		for k, i := range r.transverse {
			piece := append(a[:0], t[:]...)
			a = piece
			if k < len(r.at) {
				c = clipPlate(c[:0], piece, solid.Plane{N: r3.Vec{X: 1}, D: r.at[k]})
				piece, a, c = c, c, a
			}
			if k > 0 {
				c = clipPlate(c[:0], piece, solid.Plane{N: r3.Vec{X: -1}, D: -r.at[k-1]})
				piece, a, c = c, c, a
			}
			s.area[i] += plateArea(piece)
			for j := range r.boxes {
				if box := &r.boxes[j]; box.given {
					part := plateArea(clipPlateToBox(piece, box))
					s.area[j] += part
					s.area[i] -= part
				}
			}
		}
	}
	for i := range s.area {
		s.area[i] = max(0, s.area[i])
		s.sum += s.area[i]
	}
}

// clipPlate appends the part of a convex polygon below a plane.
func clipPlate(out, polygon []r3.Vec, p solid.Plane) []r3.Vec {
	for i, x := range polygon {
		y := polygon[(i+1)%len(polygon)]
		hx, hy := r3.Dot(p.N, x)-p.D, r3.Dot(p.N, y)-p.D
		if hx <= 0 {
			out = append(out, x)
		}
		if hx < 0 && hy > 0 || hx > 0 && hy < 0 {
			out = append(out, r3.Add(x, r3.Scale(hx/(hx-hy), r3.Sub(y, x))))
		}
	}
	return out
}

func clipPlateToBox(polygon []r3.Vec, c *box) []r3.Vec {
	for _, p := range [6]solid.Plane{
		{N: r3.Vec{X: 1}, D: c.hi.X}, {N: r3.Vec{X: -1}, D: -c.lo.X},
		{N: r3.Vec{Y: 1}, D: c.hi.Y}, {N: r3.Vec{Y: -1}, D: -c.lo.Y},
		{N: r3.Vec{Z: 1}, D: c.hi.Z}, {N: r3.Vec{Z: -1}, D: -c.lo.Z},
	} {
		if len(polygon) < 3 {
			return nil
		}
		polygon = clipPlate(nil, polygon, p)
	}
	return polygon
}

// plateArea is the area of a flat polygon.
func plateArea(polygon []r3.Vec) float64 {
	if len(polygon) < 3 {
		return 0
	}
	var sum r3.Vec
	for i := 2; i < len(polygon); i++ {
		sum = r3.Add(sum, r3.Cross(r3.Sub(polygon[i-1], polygon[0]), r3.Sub(polygon[i], polygon[0])))
	}
	return r3.Norm(sum) / 2
}

// makeSpaces puts together what each space holds: the room less solids, the share that is water, the water at the start.
func (b *builder) makeSpaces() {
	solids, skins := b.made.solids, b.made.skins
	if solids == nil || skins == nil || b.broken("compartments") {
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
		if left := 1 - skins.taken[i]/room.Volume(); left > leastSpace {
			s.Fraction *= left
		} else {
			b.fault("hull.shell", fmt.Sprintf("the shell takes up the whole room of %s", s.Name), "a thinner or lighter shell")
			return
		}
		s.Piece = b.pieceOf(room)
		spaces[i] = s
		b.startFits(path, s)
	}
	b.made.spaces = spaces
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

// pieceOf is the piece between joints that a room lies in, −1 where a joint's plane divides it. A wall that stands within
// half a millimetre of the plane bounds it.
func (b *builder) pieceOf(room *solid.Solid) int {
	lo, hi := room.Bounds()
	for k := range b.spec.Joints {
		switch at := b.spec.Joints[k].At; {
		case hi.X <= at+joined:
			return k
		case lo.X < at-joined:
			return -1
		}
	}
	return len(b.spec.Joints)
}
