package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// boxSide is one wall of a box: its name, where it stands, and its extent in body axes.
type boxSide struct {
	name string
	axis Axis
	at   float64
}

func (c *box) sides() [6]boxSide {
	return [6]boxSide{
		{"after", AcrossX, c.lo.X}, {"forward", AcrossX, c.hi.X},
		{"starboard", AcrossY, c.lo.Y}, {"port", AcrossY, c.hi.Y},
		{"floor", AcrossZ, c.lo.Z}, {"top", AcrossZ, c.hi.Z},
	}
}

// boxWalls makes the plates of a boxed compartment's walls: what of them lies in the hull, less what is a wall already.
func (m *plateMaker) boxWalls(i int) error {
	c, name := &m.boxes[i], m.v.Spec.Compartments[i].Name
	for _, s := range c.sides() {
		lo, hi := m.form.Bounds()
		if at := s.at; !(at > s.axis.along(lo)+joined && at < s.axis.along(hi)-joined) {
			continue
		}
		p, err := m.inner(s.axis, s.at)
		if err != nil {
			return err
		}
		from, to := seenBox(s.axis, c)
		if p.figure, err = within(p.figure, from, to); err != nil {
			return err
		}
		if p.figure, err = m.lessStanding(p); err != nil {
			return err
		}
		if len(vectors(p.figure)) == 0 {
			continue
		}
		p.Name = name + "." + s.name
		if m.inShell(p) {
			continue
		}
		m.plates = append(m.plates, p)
	}
	return nil
}

// seenBox is the rectangle that a box is seen as.
func seenBox(a Axis, c *box) (lo, hi r2.Vec) {
	p, q := a.Seen(c.lo), a.Seen(c.hi)
	return r2.Vec{X: min(p.X, q.X), Y: min(p.Y, q.Y)}, r2.Vec{X: max(p.X, q.X), Y: max(p.Y, q.Y)}
}

// lessStanding is a plate's figure less the plates that stand in its plane already.
func (m *plateMaker) lessStanding(p *Plate) ([][]spot, error) {
	figure := p.figure
	for _, q := range m.plates {
		if q.Axis != p.Axis || math.Abs(q.At-p.At) > joined {
			continue
		}
		// What is left beside a neighbour by rounding of its place is under a step wide and goes with the small parts.
		var err error
		if figure, err = region(append(figure[:len(figure):len(figure)], reversedSpots(q.figure)...), 1); err != nil {
			return nil, err
		}
	}
	return figure, nil
}

func reversedSpots(loops [][]spot) [][]spot {
	var out [][]spot
	for _, loop := range loops {
		out = append(out, append([]spot(nil), loop...))
	}
	turnRound(out)
	return out
}

// inShell tells whether all of a plate lies in the thickness of the shell, as that of a box drawn to the hull's bottom does.
func (m *plateMaker) inShell(p *Plate) bool {
	var sum r3.Vec
	n := 0.0
	for _, loop := range vectors(p.figure) {
		for _, q := range loop {
			sum, n = r3.Add(sum, p.Axis.Body(q, p.At)), n+1
		}
	}
	_, _, d := m.form.Nearest(r3.Scale(1/n, sum))
	return d < m.shell
}
