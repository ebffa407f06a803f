package compartment

import (
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Face is the side of a plate that a drawing of it shows.
type Face string

// The faces that are shown, by the direction that the plate's normal lies in.
const (
	AftFace       Face = "aft"       // of a plate across x: seen looking forward, port to the left
	StarboardFace Face = "starboard" // of a plate along y: seen looking to port, forward to the right
	UpperFace     Face = "up"        // of a plate across z: seen from above, forward to the right
)

// Axis is the direction of body axes that a plate stands across.
type Axis int

// The three axes.
const (
	AcrossX Axis = iota
	AcrossY
	AcrossZ
)

// Face is the side that drawings of plates across an axis show.
func (a Axis) Face() Face { return [3]Face{AftFace, StarboardFace, UpperFace}[a] }

func (a Axis) normal() r3.Vec { return [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[a] }

// along is the coordinate of a point on the axis.
func (a Axis) along(p r3.Vec) float64 { return r3.Dot(a.normal(), p) }

// Seen is where a point of body axes is seen on a plate: X to the right and Y up, looking at the face that is shown.
func (a Axis) Seen(p r3.Vec) r2.Vec {
	switch a {
	case AcrossX:
		return r2.Vec{X: -p.Y, Y: p.Z}
	case AcrossY:
		return r2.Vec{X: p.X, Y: p.Z}
	}
	return r2.Vec{X: p.X, Y: p.Y}
}

// Body is the point of body axes that is seen at a place of the plate that stands at at.
func (a Axis) Body(q r2.Vec, at float64) r3.Vec {
	switch a {
	case AcrossX:
		return r3.Vec{X: at, Y: -q.X, Z: q.Y}
	case AcrossY:
		return r3.Vec{X: q.X, Y: at, Z: q.Y}
	}
	return r3.Vec{X: q.X, Y: q.Y, Z: at}
}

// sectionSeen is the section of a form at a plane across an axis, as spots of the plate: outer loops counterclockwise.
// Parts that lie in one another, as of a mesh of several bodies, are one.
func sectionSeen(form *solid.Solid, a Axis, at float64) ([][]spot, error) {
	var loops [][]spot
	for _, loop := range form.Section(solid.Plane{N: a.normal(), D: at}) {
		var seen []spot
		for _, p := range loop {
			if s := spotOf(a.Seen(p)); len(seen) == 0 || s != seen[len(seen)-1] {
				seen = append(seen, s)
			}
		}
		loops = append(loops, seen)
	}
	if areaOfSpots(loops) < 0 {
		turnRound(loops)
	}
	return region(loops, 1)
}

// turnRound makes loops run the other way.
func turnRound(loops [][]spot) {
	for _, loop := range loops {
		for i, j := 0, len(loop)-1; i < j; i, j = i+1, j-1 {
			loop[i], loop[j] = loop[j], loop[i]
		}
	}
}

// areaOfSpots is the area of a figure, m².
func areaOfSpots(loops [][]spot) (area float64) {
	for _, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			area += float64(a.u-loop[0].u)*float64(b.v-loop[0].v) - float64(a.v-loop[0].v)*float64(b.u-loop[0].u)
		}
	}
	return area / 2 * latticeStep * latticeStep
}

// spotRectangle is a rectangle of spots, counterclockwise.
func spotRectangle(lo, hi r2.Vec) []spot {
	a, b := spotOf(lo), spotOf(hi)
	return []spot{a, {b.u, a.v}, b, {a.u, b.v}}
}

// without is a figure less others, each given counterclockwise.
func without(figure, others [][]spot) ([][]spot, error) {
	loops := figure
	for _, o := range others {
		back := append([]spot(nil), o...)
		turnRound([][]spot{back})
		loops = append(loops[:len(loops):len(loops)], back)
	}
	return region(loops, 1)
}

// within is the part of a figure that lies in a rectangle.
func within(figure [][]spot, lo, hi r2.Vec) ([][]spot, error) {
	return region(append(figure[:len(figure):len(figure)], spotRectangle(lo, hi)), 2)
}
