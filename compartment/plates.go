package compartment

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r2"
)

const (
	leastPart = 1e-6 // m², one mm²: a part of a plate or a hole of less is left out
	sameArea  = 1e-3 // share by which the outline's area may miss the section's of the solid
	tooNear   = 1e-4 // m, half a scribed line: a plate that comes so much nearer to the skin than the shell is thick is told
)

// Plate is a wall as it is cut from sheet, seen on the face that its axis shows (Axis.Seen). Lengths in m.
type Plate struct {
	Name    string // the bulkhead's; BULKHEAD.SECTION of a doubled one; COMPARTMENT.SIDE of a box's wall
	Section string // the piece between joints that keeps it, where a joint's plane is its own
	Axis    Axis
	At      float64       // its place on the axis
	Spec    *BulkheadSpec // nil: the wall of a boxed compartment
	Blank   [][]r2.Vec    // its outline: outer loops counterclockwise, holes in the hull's own section clockwise
	Cut     [][]r2.Vec    // the same less its openings
	Holes   []PlateHole

	HullArea    float64 // m², of the hull's section there, by the integral over the solid's plates
	SectionArea float64 // m², of that section's outline, which the plate is made from
	Area        float64 // m², of Blank
	Thickness   float64 // m, the greatest `wall` of the openings in it; 0: none says it
	Notes       []string

	figure [][]spot
}

// ShellThickness is the thickness of the hull's plates: as given, or the volume of their mass over the surface; 0 where neither
// is known.
func (v *Vessel) ShellThickness() float64 {
	form := v.Whole.Form
	return shellVolume(&v.Spec.Hull.Shell, form) / form.Surface()
}

// Plates are the bulkheads from the stern forward, each within the hull's section there less a shell of this thickness and up
// to its top, then those walls of boxed compartments that stand free in the hull. A bulkhead in a joint's plane is there for
// each piece that keeps it. What boxed compartments take of a bulkhead's plane is no part of it.
func (v *Vessel) Plates(shell float64) ([]*Plate, error) {
	m := plateMaker{v: v, form: v.Whole.Form, shell: shell, boxes: boxesOf(&v.Spec)}
	for i := range v.Spec.Bulkheads {
		if err := m.bulkhead(&v.Spec.Bulkheads[i]); err != nil {
			return nil, fmt.Errorf("bulkhead %s: %w", v.Spec.Bulkheads[i].Name, err)
		}
	}
	for i := range m.boxes {
		if !m.boxes[i].given {
			continue
		}
		if err := m.boxWalls(i); err != nil {
			return nil, fmt.Errorf("compartment %s: %w", v.Spec.Compartments[i].Name, err)
		}
	}
	if err := m.cutOpenings(); err != nil {
		return nil, err
	}
	for _, p := range m.plates {
		p.Notes = append(p.Notes, m.remarks(p)...)
	}
	return m.plates, nil
}

// plateMaker is Plates while it is at work.
type plateMaker struct {
	v      *Vessel
	form   *solid.Solid
	shell  float64
	boxes  []box
	plates []*Plate
}

// inner is a plate of the whole hull inside at a place, without openings.
func (m *plateMaker) inner(a Axis, at float64) (*Plate, error) {
	section, err := sectionSeen(m.form, a, at)
	if err != nil {
		return nil, err
	}
	p := &Plate{Axis: a, At: at, SectionArea: areaOfSpots(section)}
	p.HullArea = m.form.Below(solid.Plane{N: a.normal(), D: at}).Area
	p.figure, err = inset(m.form, a, at, section, m.shell)
	return p, err
}

// bulkhead makes the plates of one bulkhead.
func (m *plateMaker) bulkhead(s *BulkheadSpec) error {
	p, err := m.inner(AcrossX, s.At)
	if err != nil {
		return err
	}
	p.Name, p.Spec = s.Name, s
	if s.Top != nil {
		lo, hi := m.form.Bounds()
		if p.figure, err = within(p.figure, r2.Vec{X: -hi.Y, Y: lo.Z}, r2.Vec{X: -lo.Y, Y: *s.Top}); err != nil {
			return err
		}
	}
	var taken [][]spot
	for _, c := range m.boxes {
		if c.given && c.lo.X < s.At-joined && c.hi.X > s.At+joined {
			taken = append(taken, spotRectangle(r2.Vec{X: -c.hi.Y, Y: c.lo.Z}, r2.Vec{X: -c.lo.Y, Y: c.hi.Z}))
		}
	}
	if len(taken) > 0 {
		if p.figure, err = without(p.figure, taken); err != nil {
			return err
		}
	}
	for _, name := range m.keepers(s.At) {
		one := *p
		one.Section = name
		m.plates = append(m.plates, &one)
	}
	if n := len(m.plates); len(m.keepers(s.At)) == 2 {
		m.plates[n-2].Name += "." + m.plates[n-2].Section
		m.plates[n-1].Name += "." + m.plates[n-1].Section
	}
	return nil
}

// keepers are the pieces that keep a bulkhead in a joint's plane, from aft; "" stands for all of a hull that does not part there.
func (m *plateMaker) keepers(at float64) []string {
	for i := range m.v.Spec.Joints {
		j := &m.v.Spec.Joints[i]
		switch {
		case math.Abs(j.At-at) > joined:
		case j.Keeps == KeepAfter:
			return j.Sections[:1]
		case j.Keeps == KeepForward:
			return j.Sections[1:]
		default:
			return j.Sections[:]
		}
	}
	return []string{""}
}

// remarks finishes a plate, and gives what its maker has to know.
func (m *plateMaker) remarks(p *Plate) (notes []string) {
	off := math.Abs(p.SectionArea - p.HullArea)
	if off > sameArea*p.HullArea {
		notes = append(notes, fmt.Sprintf("the outline of the hull's section is %.2f %% off its area: parts of the hull lie in one another; check it by hand",
			100*off/p.HullArea))
	}
	outer := 0
	for _, loop := range p.Cut {
		if areaOfLoop(loop) > 0 {
			outer++
		}
	}
	switch {
	case outer == 0:
		return append(notes, "nothing of it is left within the shell")
	case outer > 1:
		notes = append(notes, fmt.Sprintf("it is in %d parts", outer))
	}
	if within := m.shell - m.clearance(p); within > tooNear && off <= sameArea*p.HullArea { // else skin lies within the hull
		notes = append(notes, fmt.Sprintf("the shell of a part of the hull that does not cross its plane comes up to %.1f mm into it: fit it by hand", 1000*within))
	}
	return notes
}

// clearance is the least distance from the corners of a plate to the hull's skin.
func (m *plateMaker) clearance(p *Plate) float64 {
	least := math.Inf(1)
	for _, loop := range p.Blank {
		for _, q := range loop {
			_, _, d := m.form.Nearest(p.Axis.Body(q, p.At))
			least = min(least, d)
		}
	}
	return least
}

// vectors are the loops of a figure in m, without those that are too small to cut.
func vectors(figure [][]spot) (out [][]r2.Vec) {
	for _, loop := range figure {
		if math.Abs(areaOfSpots([][]spot{loop})) < leastPart {
			continue
		}
		var v []r2.Vec
		for _, s := range loop {
			v = append(v, s.vec())
		}
		out = append(out, v)
	}
	return out
}

// areaOfLoop is positive for one that runs counterclockwise.
func areaOfLoop(loop []r2.Vec) (area float64) {
	for i, a := range loop {
		area += r2.Cross(r2.Sub(a, loop[0]), r2.Sub(loop[(i+1)%len(loop)], loop[0])) / 2
	}
	return area
}
