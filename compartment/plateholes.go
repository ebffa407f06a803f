package compartment

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// roundCorners is the number of corners of a round hole: its area is within 0.02 % of the circle's, and at 40 mm no
// chord is 0.004 mm off.
const roundCorners = 180

// PlateHole is an opening in a plate.
type PlateHole struct {
	Spec    *OpeningSpec
	Centre  r2.Vec
	Loop    []r2.Vec // counterclockwise; nil for a pump, of which only the place is known
	Notched bool     // it reaches over the plate's edge
}

// cutOpenings gives every opening to the nearest plate that it is in, and cuts it out.
func (m *plateMaker) cutOpenings() error {
	for _, x := range m.v.Passages {
		if o := x.Listed; o != nil && (x.Joint >= 0 || x.From != Outside && x.To != Outside) {
			for _, p := range m.platesOf(o) {
				p.Holes = append(p.Holes, holeIn(p, o))
			}
		}
	}
	for _, p := range m.plates {
		if err := p.cut(); err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
	}
	return nil
}

// platesOf are the plates that an opening is in: the nearest of those that it meets, and its double in a joint.
func (m *plateMaker) platesOf(o *OpeningSpec) (found []*Plate) {
	nearest := math.Inf(1)
	for _, p := range m.plates {
		d := math.Abs(p.Axis.along(o.At) - p.At)
		switch {
		case d > o.reach()+joined || d > nearest || !p.meets(o):
		case d < nearest:
			nearest, found = d, []*Plate{p}
		default:
			found = append(found, p)
		}
	}
	return found
}

// meets tells whether some of an opening lies in a plate.
func (p *Plate) meets(o *OpeningSpec) bool {
	h := holeIn(p, o)
	loop := h.Loop
	if loop == nil {
		loop = circle(h.Centre, pumpMouth)
	}
	part, err := region(append(p.figure[:len(p.figure):len(p.figure)], spotsOf(loop)), 2)
	return err == nil && areaOfSpots(part) > 0
}

// holeIn is the figure of an opening on a plate.
func holeIn(p *Plate, o *OpeningSpec) PlateHole {
	h := PlateHole{Spec: o, Centre: p.Axis.Seen(o.At)}
	switch {
	case o.Slot != nil:
		h.Loop = slotSeen(p.Axis, o, h.Centre, o.Slot.Length, o.Slot.Width)
	case o.Door != nil:
		h.Loop = slotSeen(p.Axis, o, h.Centre, o.Door.Length, o.Door.Height)
	case o.Flow == nil:
		h.Loop = circle(h.Centre, o.span())
	}
	return h
}

func circle(centre r2.Vec, diameter float64) (loop []r2.Vec) {
	for k := range roundCorners {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / roundCorners)
		loop = append(loop, r2.Add(centre, r2.Scale(diameter/2, r2.Vec{X: cos, Y: sin})))
	}
	return loop
}

// slotSeen is a rectangle with its length along the direction that the opening has in the plate.
func slotSeen(a Axis, o *OpeningSpec, centre r2.Vec, length, width float64) []r2.Vec {
	along := a.Seen(lengthwise(a.normal()))
	if o.Along != nil {
		if d := a.Seen(*o.Along); r2.Norm(d) > 1e-9*r3.Norm(*o.Along) {
			along = d
		}
	}
	along = r2.Scale(length/2, r2.Unit(along))
	across := r2.Scale(width/length, r2.Vec{X: -along.Y, Y: along.X})
	corner := func(l, w float64) r2.Vec {
		return r2.Add(centre, r2.Add(r2.Scale(l, along), r2.Scale(w, across)))
	}
	return []r2.Vec{corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)}
}

func spotsOf(loop []r2.Vec) (spots []spot) {
	for _, p := range loop {
		spots = append(spots, spotOf(p))
	}
	return spots
}

// cut takes the openings out of the blank, and sees which reach over its edge.
func (p *Plate) cut() error {
	var holes [][]spot
	for i := range p.Holes {
		h := &p.Holes[i]
		p.Thickness = max(p.Thickness, h.Spec.Wall)
		if h.Loop == nil {
			continue
		}
		hole := spotsOf(h.Loop)
		holes = append(holes, hole)
		part, err := region(append(p.figure[:len(p.figure):len(p.figure)], hole), 2)
		if err != nil {
			return err
		}
		h.Notched = areaOfSpots(part) < (1-1e-4)*areaOfSpots([][]spot{hole})
	}
	p.Blank = vectors(p.figure)
	for _, loop := range p.Blank {
		p.Area += areaOfLoop(loop)
	}
	left, err := without(p.figure, holes)
	p.Cut = vectors(left)
	return err
}
