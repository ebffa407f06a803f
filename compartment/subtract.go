package compartment

import (
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// lessBox is a solid without what lies in a box, as the sum of the parts beside the box: first all that lies abaft it and
// before it, then of the rest what lies to either side, then below and above. The box's part turned inside out and added
// would have the same integrals, but corners where no room is: the highest point of a compartment that a box takes the top
// of would then lie in the box, and the compartment would be full before its water came there.
func lessBox(x *solid.Solid, lo, hi r3.Vec) *solid.Solid {
	taken := x.ClipBox(lo, hi)
	if taken.Len() == 0 || !(taken.Volume() > 0) {
		return x
	}
	var parts []*solid.Solid
	rest := x
	for _, side := range [6]solid.Plane{
		{N: r3.Vec{X: 1}, D: lo.X}, {N: r3.Vec{X: -1}, D: -hi.X},
		{N: r3.Vec{Y: 1}, D: lo.Y}, {N: r3.Vec{Y: -1}, D: -hi.Y},
		{N: r3.Vec{Z: 1}, D: lo.Z}, {N: r3.Vec{Z: -1}, D: -hi.Z},
	} {
		if part := rest.Clip(side); part.Len() > 0 && part.Volume() > 1e-15*x.Volume() {
			parts = append(parts, part)
		}
		rest = rest.Clip(reversed(side))
	}
	return solid.Sum(parts...)
}
