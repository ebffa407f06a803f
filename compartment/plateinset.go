package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r2"
)

const (
	smoothTurn = math.Pi / 6 // between sides of a section that turn less, the inset runs smoothly from one to the other
	arcSagitta = 1e-6        // m: what the chords of a round corner leave out
	steepest   = 4           // times the thickness: the greatest inset, where the skin lies within 15° of the plate's plane
	insetMost  = 0.5         // m: no shell is thicker
)

// inset is the section of a hull less its shell of some thickness.
//
// The shell's inner face lies at the thickness from the outer one, square to it; where the skin leans by an angle against
// the normal of the plate's edge, the inset in the plate's plane is the thickness over the sine of the angle between skin
// and plate. From the section are taken, for every side, the strip beside it of that width, and round every corner that points
// inward a sector: what is left is the section less the shell for any outline, convex or not, and no loop of it crosses
// another. As loops it is the section with each side moved in, the ends joined through the corner where that points outward
// and by an arc where it points inward; they wind around a point once if no strip covers it.
func inset(form *solid.Solid, a Axis, at float64, section [][]spot, thickness float64) ([][]spot, error) {
	thickness = min(thickness, insetMost)
	if !(thickness > 0) {
		return section, nil
	}
	var moved [][]spot
	for _, loop := range section {
		moved = append(moved, movedIn(sidesOf(form, a, at, loop, thickness)))
	}
	return region(moved, 1)
}

// side is a side of a section with the inset at its two ends.
type side struct {
	from, to r2.Vec
	inward   r2.Vec // unit normal
	depth    [2]float64
}

// sidesOf gives the sides of a loop, with the inset by the lean of the skin there.
func sidesOf(form *solid.Solid, a Axis, at float64, loop []spot, thickness float64) []side {
	sides := make([]side, len(loop))
	own := make([]float64, len(loop))
	for i, s := range loop {
		p, q := s.vec(), loop[(i+1)%len(loop)].vec()
		d := r2.Unit(r2.Sub(q, p))
		sides[i] = side{from: p, to: q, inward: r2.Vec{X: -d.Y, Y: d.X}}
		_, n, _ := form.Nearest(a.Body(r2.Scale(0.5, r2.Add(p, q)), at))
		own[i] = thickness * min(steepest, 1/math.Sqrt(max(0, 1-a.along(n)*a.along(n))))
	}
	for i := range sides {
		j := (i + 1) % len(sides)
		sides[i].depth[1], sides[j].depth[0] = own[i], own[j]
		if math.Abs(turned(&sides[i], &sides[j])) < smoothTurn {
			mean := (own[i] + own[j]) / 2
			sides[i].depth[1], sides[j].depth[0] = mean, mean
		}
	}
	return sides
}

// turned is the angle by which the loop turns from one side to the next, positive to the left: a corner that points outward.
func turned(a, b *side) float64 {
	return math.Atan2(r2.Cross(a.inward, b.inward), r2.Dot(a.inward, b.inward))
}

// movedIn is the loop of the sides moved in.
func movedIn(sides []side) (loop []spot) {
	add := func(p r2.Vec) {
		if s := spotOf(p); len(loop) == 0 || s != loop[len(loop)-1] {
			loop = append(loop, s)
		}
	}
	for i := range sides {
		s, next := &sides[i], &sides[(i+1)%len(sides)]
		add(r2.Add(s.from, r2.Scale(s.depth[0], s.inward)))
		add(r2.Add(s.to, r2.Scale(s.depth[1], s.inward)))
		if angle := turned(s, next); angle >= 0 {
			add(s.to)
		} else {
			arc(add, s, next, angle)
		}
	}
	return loop
}

// arc goes round a corner that points inward, from the end of one side to the beginning of the next.
func arc(add func(r2.Vec), s, next *side, angle float64) {
	radius := max(s.depth[1], next.depth[0])
	steps := math.Ceil(math.Abs(angle) / math.Sqrt(8*arcSagitta/radius)) // a chord over φ leaves out r φ²/8
	for k := 1.0; k < steps; k++ {
		depth := s.depth[1] + (next.depth[0]-s.depth[1])*k/steps
		add(r2.Add(s.to, r2.Scale(depth, r2.Rotate(s.inward, angle*k/steps, r2.Vec{}))))
	}
}
