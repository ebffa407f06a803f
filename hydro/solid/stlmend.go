package solid

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// flatness is how far from one plane the corners of an open loop may lie for it to be closed, in m (the contract's).
const flatness = 1e-4

// mend makes a closed surface of the triangles: weld, close flat loops, turn bodies.
func (s *soup) mend() (*Mesh, error) {
	m := mender{soup: s}
	m.weld()
	if len(m.faces) == 0 {
		return nil, Faults{{1, 1, "no triangle has an area", "give a closed surface"}}
	}
	m.closeLoops()
	if len(m.faults) > 0 {
		return nil, m.faults
	}
	m.turnBodies()
	for _, f := range m.faces {
		m.mesh.Triangles = append(m.mesh.Triangles, Triangle{m.corners[f[0]], m.corners[f[1]], m.corners[f[2]]})
	}
	if len(m.mesh.Triangles) > triangleMax {
		return nil, Faults{{1, 1, "more than 2 million triangles with the caps", "up to 2 million are taken"}}
	}
	return &m.mesh, nil
}

type mender struct {
	*soup
	corners []r3.Vec
	line    []int32 // where each corner first stands
	faces   [][3]int32
	mesh    Mesh
	faults  Faults
}

// weld numbers the corners; nearby ones alike. Writers that compute a corner once per triangle, or print it in other
// digits, differ by a rounding or two of single precision.
func (m *mender) weld() {
	var reach float64
	for _, t := range m.tris {
		for _, c := range t {
			reach = max(reach, math.Abs(c.X), math.Abs(c.Y), math.Abs(c.Z))
		}
	}
	g := grid{tolerance: 4 * reach / (1 << 24), exact: map[r3.Vec]int32{}, cell: map[[3]int64][]int32{}}
	for i, t := range m.tris {
		var f [3]int32
		for j, c := range t {
			f[j] = g.number(c)
			if int(f[j]) == len(m.line) {
				m.line = append(m.line, m.lineOf(i, j))
			}
		}
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			m.faces = append(m.faces, f)
		}
	}
	m.corners = g.corners
}

func (s *soup) lineOf(i, j int) int32 {
	if len(s.lines) == 0 {
		return 0
	}
	return s.lines[i][j]
}

// grid finds corners near to a given one.
type grid struct {
	tolerance float64
	corners   []r3.Vec
	exact     map[r3.Vec]int32
	cell      map[[3]int64][]int32
}

func (g *grid) number(v r3.Vec) int32 {
	v = r3.Vec{X: v.X + 0, Y: v.Y + 0, Z: v.Z + 0} // −0 becomes 0
	if i, ok := g.exact[v]; ok {
		return i
	}
	i, found := g.near(v)
	if !found {
		i = int32(len(g.corners))
		g.corners = append(g.corners, v)
		if g.tolerance > 0 {
			c := g.cellOf(v)
			g.cell[c] = append(g.cell[c], i)
		}
	}
	g.exact[v] = i
	return i
}

// near looks through the cells, four tolerances wide, that the neighbourhood of v touches: one as a rule, at most eight.
func (g *grid) near(v r3.Vec) (int32, bool) {
	if g.tolerance == 0 {
		return 0, false
	}
	t := r3.Vec{X: g.tolerance, Y: g.tolerance, Z: g.tolerance}
	lo, hi := g.cellOf(r3.Sub(v, t)), g.cellOf(r3.Add(v, t))
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				for _, i := range g.cell[[3]int64{x, y, z}] {
					if r3.Norm(r3.Sub(g.corners[i], v)) <= g.tolerance {
						return i, true
					}
				}
			}
		}
	}
	return 0, false
}

func (g *grid) cellOf(v r3.Vec) [3]int64 {
	w := 4 * g.tolerance
	return [3]int64{int64(math.Floor(v.X / w)), int64(math.Floor(v.Y / w)), int64(math.Floor(v.Z / w))}
}

// closeLoops caps the flat open loops and tells the others as faults.
func (m *mender) closeLoops() {
	open := openEdges(m.faces)
	for i, e := range open {
		open[i] = [2]int32{e[1], e[0]} // the edge that a cap has to run through
	}
	for _, loop := range simpleLoops(open) {
		points := make([]r3.Vec, len(loop))
		first := loop[0]
		for i, c := range loop {
			points[i] = m.corners[c]
			if m.line[c] < m.line[first] {
				first = c
			}
		}
		normal := loopNormal(points)
		if off := departure(points, normal); off > flatness {
			v := m.corners[first]
			m.faults.add(int(m.line[first]), min(1, int(m.line[first])),
				fmt.Sprintf("a hole of %d edges in the surface at (%.6g, %.6g, %.6g) m, %.3g mm off a plane", len(loop), v.X, v.Y, v.Z, off*1e3),
				"close the surface; flat holes, within 0.1 mm, are closed by themselves")
			continue
		}
		m.cap(loop, points, normal, int(m.line[first]))
	}
}

func (m *mender) cap(loop []int32, points []r3.Vec, normal r3.Vec, line int) {
	c := Cap{Normal: normal, Area: r3.Norm(loopArea(points)), Corners: len(loop), Line: line}
	for _, p := range points {
		c.Centre = r3.Add(c.Centre, r3.Scale(1/float64(len(points)), p))
	}
	m.mesh.Caps = append(m.mesh.Caps, c)
	for _, t := range triangulate(points, normal) {
		m.faces = append(m.faces, [3]int32{loop[t[0]], loop[t[1]], loop[t[2]]})
	}
}

// loopNormal is the unit normal of a loop by its area; for one that encloses none, that of its widest corner, else 0.
func loopNormal(points []r3.Vec) r3.Vec {
	a := loopArea(points)
	var span float64
	for i, p := range points {
		span = max(span, r3.Norm(r3.Sub(p, points[0])))
		if i > 0 && r3.Norm(a) <= 1e-12*span*span {
			if w := r3.Cross(r3.Sub(points[i-1], points[0]), r3.Sub(p, points[0])); r3.Norm(w) > r3.Norm(a) {
				a = w
			}
		}
	}
	if l := r3.Norm(a); l > 0 {
		return r3.Scale(1/l, a)
	}
	return r3.Vec{}
}

// departure is the greatest distance of a corner from the plane through the corners' mean.
func departure(points []r3.Vec, normal r3.Vec) float64 {
	var mean, worst float64
	for _, p := range points {
		mean += r3.Dot(normal, p) / float64(len(points))
	}
	for _, p := range points {
		worst = max(worst, math.Abs(r3.Dot(normal, p)-mean))
	}
	return worst
}
