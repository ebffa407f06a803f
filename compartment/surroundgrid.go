package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// A body's form is cut for Surround into strips across x, of equal length, and each strip into cells: boxes of one size,
// with the moments of what of the form lies in each. Sums over cells that are under water are the moments of the wet part of
// the strip, for any pose, and smooth in it.
const (
	surroundStrips = 16
	surroundCells  = 48 // of a strip, about
)

// surroundGrid never changes; runs share it.
type surroundGrid struct {
	length float64 // of a strip, m
	rate   float64 // rad/s, at which the body is taken to swing
	strips []surroundStrip
}

// surroundStrip is one strip's lattice. Its y and z count from a point in the middle of its box.
type surroundStrip struct {
	middle r3.Vec // of the strip's box, in body axes
	ny, nz int
	hy, hz float64    // size of a cell, m
	cells  []flatness // by y, then by z
	rows   []flatness // the sums over each row along y
	whole  flatness   // their sum
}

// flatness are the moments of a plane figure: its area, and the first and second moments about a point.
type flatness struct{ area, y, z, yy, yz, zz float64 }

func (m *flatness) add(o *flatness, f float64) {
	m.area += f * o.area
	m.y += f * o.y
	m.z += f * o.z
	m.yy += f * o.yy
	m.yz += f * o.yz
	m.zz += f * o.zz
}

// newSurroundGrid cuts a form. A strip's section is that in its middle.
func newSurroundGrid(form *solid.Solid) *surroundGrid {
	lo, hi := form.Bounds()
	g := &surroundGrid{length: (hi.X - lo.X) / surroundStrips, rate: swingRate(form.Volume())}
	least := 1e-9 * form.Volume() / (hi.X - lo.X)
	for i := range surroundStrips {
		x := lo.X + (float64(i)+0.5)*g.length
		if s := newSurroundStrip(x, form.Section(solid.Plane{N: r3.Vec{X: 1}, D: x})); s.whole.area > least {
			g.strips = append(g.strips, s)
		}
	}
	return g
}

func newSurroundStrip(x float64, cut solid.Outline) (s surroundStrip) {
	lo, hi := cut.Bounds()
	b, h := hi.Y-lo.Y, hi.Z-lo.Z
	if !(b > 0 && h > 0) {
		return s
	}
	s.middle = r3.Vec{X: x, Y: (lo.Y + hi.Y) / 2, Z: (lo.Z + hi.Z) / 2}
	s.ny = int(min(max(math.Round(math.Sqrt(surroundCells*b/h)), 4), surroundCells/4))
	s.nz = surroundCells / s.ny
	s.hy, s.hz = b/float64(s.ny), h/float64(s.nz)
	s.cells = make([]flatness, s.ny*s.nz)
	s.fill(cut)
	s.rows = make([]flatness, s.nz)
	for i := range s.cells {
		s.cells[i].mend()
		s.rows[i/s.ny].add(&s.cells[i], 1)
		s.whole.add(&s.cells[i], 1)
	}
	return s
}

// fill adds a section to the cells.
func (s *surroundStrip) fill(cut solid.Outline) {
	var loop, row, box [][2]float64
	for _, l := range cut {
		loop = loop[:0]
		for _, v := range l {
			loop = append(loop, [2]float64{v.Y - s.middle.Y, v.Z - s.middle.Z})
		}
		for k := range s.nz {
			low := (float64(k) - 0.5*float64(s.nz)) * s.hz
			row = clipLoop(row[:0], loop, 1, low, 1)
			row, box = clipLoop(box[:0], row, 1, low+s.hz, -1), row
			for j := range s.ny {
				left := (float64(j) - 0.5*float64(s.ny)) * s.hy
				box = clipLoop(box[:0], row, 0, left, 1)
				box = clipLoop(nil, box, 0, left+s.hy, -1)
				m := loopMoments(box)
				s.cells[j+k*s.ny].add(&m, 1)
			}
		}
	}
}

// clipLoop appends the part of a loop on one side of a line: where side × (coordinate − limit) ≥ 0. Parts that hang together
// along the line only stay one loop, whose integrals are right.
func clipLoop(part, loop [][2]float64, axis int, limit, side float64) [][2]float64 {
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		dp, dq := side*(p[axis]-limit), side*(q[axis]-limit)
		if dp >= 0 {
			part = append(part, p)
		}
		if (dp > 0 && dq < 0) || (dp < 0 && dq > 0) {
			t := dp / (dp - dq)
			c := [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])}
			c[axis] = limit
			part = append(part, c)
		}
	}
	return part
}

// loopMoments are the moments of the figure in a loop that runs from y to z (Green's theorem).
func loopMoments(loop [][2]float64) (m flatness) {
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		c := p[0]*q[1] - q[0]*p[1]
		m.area += c / 2
		m.y += c * (p[0] + q[0]) / 6
		m.z += c * (p[1] + q[1]) / 6
		m.yy += c * (p[0]*p[0] + p[0]*q[0] + q[0]*q[0]) / 12
		m.zz += c * (p[1]*p[1] + p[1]*q[1] + q[1]*q[1]) / 12
		m.yz += c * (p[0]*q[1] + 2*p[0]*p[1] + 2*q[0]*q[1] + q[0]*p[1]) / 24
	}
	return m
}

// mend makes of the moments of a mesh that winds the wrong way here and there those of some figure: none where the area is
// not positive, a point where the second moments are not.
func (m *flatness) mend() {
	if !(m.area > 0) {
		*m = flatness{}
		return
	}
	y, z := m.y/m.area, m.z/m.area
	yy, yz, zz := m.yy-m.area*y*y, m.yz-m.area*y*z, m.zz-m.area*z*z
	if !(yy > 0 && zz > 0 && yy*zz > yz*yz) {
		m.yy, m.yz, m.zz = m.area*(y*y+m.area/12), m.area*y*z, m.area*(z*z+m.area/12)
	}
}
