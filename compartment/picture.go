package compartment

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"github.com/byhead/byhead/hydro/solid"
)

// Bare is the room of a space, or of a part of one, as its walls bound it: with the room that solids take in it.
func (v *Vessel) Bare(s *Space) *solid.Solid {
	bare := v.made.rooms.bare[s.Index]
	lo, hi := s.Room.Bounds()
	from, to := bare.Bounds()
	if hi.X < to.X-joined {
		bare = bare.Clip(solid.Plane{N: r3.Vec{X: 1}, D: hi.X})
	}
	if lo.X > from.X+joined {
		bare = bare.Clip(solid.Plane{N: r3.Vec{X: -1}, D: -lo.X})
	}
	return bare
}

// SectionSeen is the section of a form at a plane across an axis, as it is seen there (Axis.Seen), m: outer loops counterclockwise,
// holes clockwise. Parts that touch, or lie in one another, are one; loops of less than 1 mm² are left out. The error is that of
// an outline with more crossings than are reckoned with.
func SectionSeen(form *solid.Solid, a Axis, at float64) ([][]r2.Vec, error) {
	figure, err := sectionSeen(form, a, at)
	if err != nil {
		return nil, err
	}
	return vectors(figure), nil
}
