package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// cutFaces are the open faces of a space at the ends of a body.
func (v *Vessel) cutFaces(index int, body *Body) (faces []CutFace) {
	if body.First > 0 {
		faces = v.addFace(faces, v.Spaces[index], body.First-1, false)
	}
	if body.Last < len(v.Spec.Joints) {
		faces = v.addFace(faces, v.Spaces[index], body.Last, true)
	}
	return faces
}

// addFace appends the open face that a space has in a joint's plane, if it has one: on its part abaft the plane (ahead: the
// face looks forward) or on that before it.
func (v *Vessel) addFace(faces []CutFace, space *Space, joint int, ahead bool) []CutFace {
	first, last := v.made.sections.reach(space.Room)
	if piece := beside(joint, ahead); piece < first || piece > last {
		return faces
	}
	at := v.Spec.Joints[joint].At
	lo, hi := space.Room.Bounds()
	n, end := r3.Vec{X: 1}, hi.X
	if !ahead {
		n, end = r3.Vec{X: -1}, lo.X
	}
	wall := v.wallIn(at)
	if astride(space.Room, at) {
		end, wall = at, nil
	} else if math.Abs(end-at) > joined || v.isBoxed(space) {
		return faces
	}
	if wall != nil && v.keepsWall(joint, ahead) {
		return v.addUncovered(faces, joint, wall, n)
	}
	face := space.Room.Section(solid.Plane{N: n, D: n.X * end})
	if !(areaOf(face) > 0) {
		return faces
	}
	figure := hydro.Face(face, n)
	return append(faces, CutFace{joint, figure, hydro.FaceLaw(figure.Area(), v.Water, v.Air).WithContactAngle(v.made.ground.angle)})
}

// addUncovered appends the gap over a low bulkhead that boxed compartments of the other side had closed; a gap that was open
// before is a passage (see Parted.split).
func (v *Vessel) addUncovered(faces []CutFace, joint int, wall *Bulkhead, n r3.Vec) []CutFace {
	if wall.Spec.Top == nil || wall.Passage >= 0 {
		return faces
	}
	i := v.bulkheadIndex(wall)
	gap := v.made.walls.gapBeside(i, n.X > 0)
	if !(areaOf(gap) > 1e-9*(areaOf(wall.Plate)+areaOf(gap))) {
		return faces
	}
	figure, law := v.gapLaw(i, gap, n)
	return append(faces, CutFace{joint, figure, law.WithContactAngle(v.made.ground.angle)})
}

func (v *Vessel) bulkheadIndex(wall *Bulkhead) int {
	for i, w := range v.Bulkheads {
		if w == wall {
			return i
		}
	}
	return -1
}

// gapLaw is the figure and the law of an open section over bulkhead i.
func (v *Vessel) gapLaw(i int, gap solid.Outline, n r3.Vec) (*hydro.Figure, hydro.Orifice) {
	cd := math.NaN()
	if given := v.Bulkheads[i].Spec.Cd; given != nil {
		cd = *given
	}
	return hydro.Edge(gap, v.Bulkheads[i].Plate, n), hydro.EdgeLaw(areaOf(gap), cd, v.Water, v.Air)
}

// gapBeside is what is open over a low bulkhead once what stood on its other side has gone: boxed compartments take off
// what they fill on this side only. ahead: this side is the one abaft it, which looks forward.
func (w *walls) gapBeside(i int, ahead bool) solid.Outline {
	in := w.from[i]
	section := w.hull.form.Section(solid.Plane{N: r3.Vec{X: 1}, D: in.at})
	gap := clipOutline(section, reversed(solid.Plane{N: r3.Vec{Z: 1}, D: in.top}))
	for _, c := range w.boxes {
		if w.meets(i, &c) && c.isBeside(in.at, ahead) {
			gap = lessRectangle(gap, [2]float64{c.lo.Y, c.hi.Y}, [2]float64{c.lo.Z, c.hi.Z})
		}
	}
	return gap
}

// covered tells whether boxed compartments of the other side alone take something off the gap over a bulkhead.
func (w *walls) covered(i int, ahead bool) bool {
	for _, c := range w.boxes {
		if w.meets(i, &c) && !c.isBeside(w.from[i].at, ahead) {
			return true
		}
	}
	return false
}

// meets tells whether a boxed compartment reaches a bulkhead's plane.
func (w *walls) meets(i int, c *box) bool {
	return c.given && c.lo.X < w.from[i].at+joined && c.hi.X > w.from[i].at-joined
}

// isBeside tells whether a box has room on a side of a plane: abaft it where ahead.
func (c *box) isBeside(at float64, ahead bool) bool {
	if ahead {
		return c.lo.X < at-joined
	}
	return c.hi.X > at+joined
}

// beside is the piece on a side of a joint: abaft it where ahead.
func beside(joint int, ahead bool) int {
	if ahead {
		return joint
	}
	return joint + 1
}

// keepsWall tells whether a side of a joint keeps a bulkhead in its plane.
func (v *Vessel) keepsWall(joint int, ahead bool) bool {
	switch v.Spec.Joints[joint].Keeps {
	case KeepAfter:
		return ahead
	case KeepForward:
		return !ahead
	}
	return true
}

// keepsPlate tells whether a space keeps a plate in a joint's plane where it ends there: a boxed one its own wall, another
// the bulkhead that its side keeps.
func (v *Vessel) keepsPlate(space *Space, joint int, ahead bool) bool {
	at := v.Spec.Joints[joint].At
	switch {
	case astride(space.Room, at):
		return false
	case v.isBoxed(space):
		return true
	}
	return v.wallIn(at) != nil && v.keepsWall(joint, ahead)
}
