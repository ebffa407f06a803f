package solid

import "gonum.org/v1/gonum/spatial/r3"

// turnBodies finds the surfaces that hang together and turns those that are inside out. First the whole file, if its volume
// is negative; then every body of negative volume that does not lie inside one of positive volume.
func (m *mender) turnBodies() {
	bodies := m.bodies()
	m.mesh.Bodies = len(bodies)
	volumes := make([]float64, len(bodies))
	var total float64
	for i, b := range bodies {
		volumes[i] = m.volume(b)
		total += volumes[i]
	}
	turned := make([]bool, len(bodies))
	turn := func(i int) {
		for _, f := range bodies[i] {
			m.faces[f][1], m.faces[f][2] = m.faces[f][2], m.faces[f][1]
		}
		volumes[i], turned[i] = -volumes[i], !turned[i]
	}
	if total < 0 {
		for i := range bodies {
			turn(i)
		}
	}
	room := m.rooms(bodies, volumes)
	for i, b := range bodies {
		switch {
		case volumes[i] >= 0:
		case room.Inside(m.corners[m.faces[b[0]][0]]):
			m.mesh.Voids++
		default:
			turn(i)
		}
	}
	for i := range turned {
		if turned[i] {
			m.mesh.Turned++
		}
	}
}

// rooms is the sum of the bodies of positive volume.
func (m *mender) rooms(bodies [][]int32, volumes []float64) *Solid {
	var tris []Triangle
	for i, b := range bodies {
		if volumes[i] <= 0 {
			continue
		}
		for _, f := range b {
			tris = append(tris, m.triangle(f))
		}
	}
	return closed(tris)
}

func (m *mender) triangle(face int32) Triangle {
	f := m.faces[face]
	return Triangle{m.corners[f[0]], m.corners[f[1]], m.corners[f[2]]}
}

// bodies lists the faces of every surface that hangs together by its corners, in the order of their first faces.
func (m *mender) bodies() [][]int32 {
	parent := make([]int32, len(m.corners))
	for i := range parent {
		parent[i] = int32(i)
	}
	root := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, f := range m.faces {
		for _, c := range f[1:] {
			a, b := root(f[0]), root(c)
			parent[max(a, b)] = min(a, b)
		}
	}
	number := map[int32]int{}
	var out [][]int32
	for i, f := range m.faces {
		r := root(f[0])
		k, ok := number[r]
		if !ok {
			k = len(out)
			number[r] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], int32(i))
	}
	return out
}

// volume sums signed tetrahedra about the body's first corner.
func (m *mender) volume(body []int32) (v float64) {
	apex := m.triangle(body[0])[0]
	for _, f := range body {
		t := m.triangle(f)
		v += r3.Dot(r3.Sub(t[0], apex), r3.Cross(r3.Sub(t[1], apex), r3.Sub(t[2], apex))) / 6
	}
	return v
}
