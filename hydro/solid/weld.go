package solid

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// welder numbers corners, equal ones alike.
type welder struct {
	index   map[r3.Vec]int32
	corners []r3.Vec
}

func newWelder(n int) *welder {
	return &welder{index: make(map[r3.Vec]int32, n), corners: make([]r3.Vec, 0, n)}
}

func (w *welder) number(v r3.Vec) int32 {
	v = r3.Vec{X: v.X + 0, Y: v.Y + 0, Z: v.Z + 0} // −0 becomes 0, or a mirrored keel would not meet itself bit by bit
	if i, ok := w.index[v]; ok {
		return i
	}
	i := int32(len(w.corners))
	w.index[v] = i
	w.corners = append(w.corners, v)
	return i
}

// face numbers a triangle; ok is false where two corners fall together. Leaving such a one out opens nothing: its three
// edges cancel among themselves.
func (w *welder) face(t Triangle) (f [3]int32, ok bool) {
	f = [3]int32{w.number(t[0]), w.number(t[1]), w.number(t[2])}
	return f, f[0] != f[1] && f[1] != f[2] && f[2] != f[0]
}

func weld(tris []Triangle) ([]r3.Vec, [][3]int32, error) {
	w := newWelder(len(tris)/2 + 2)
	faces := make([][3]int32, 0, len(tris))
	for i, t := range tris {
		for j, c := range t {
			if !finite(c) {
				return nil, nil, &CornerError{Triangle: i, Corner: j}
			}
		}
		if f, ok := w.face(t); ok {
			faces = append(faces, f)
		}
	}
	return w.corners, faces, nil
}

// openEdges lists the directed edges that nothing runs against, each as often as it is open, in ascending order of its
// corners.
func openEdges(faces [][3]int32) [][2]int32 {
	// An edge is packed as lower corner, higher corner, direction, so that sorting brings both ways side by side.
	keys := make([]uint64, 0, 3*len(faces))
	for _, f := range faces {
		for k := range f {
			a, b := uint64(f[k]), uint64(f[(k+1)%3])
			if a < b {
				keys = append(keys, a<<32|b<<1)
			} else {
				keys = append(keys, b<<32|a<<1|1)
			}
		}
	}
	slices.Sort(keys)
	var open [][2]int32
	for i := 0; i < len(keys); {
		edge, net := keys[i]>>1, 0
		for ; i < len(keys) && keys[i]>>1 == edge; i++ {
			net += 1 - 2*int(keys[i]&1)
		}
		lo, hi := int32(edge>>31), int32(edge&(1<<31-1))
		for ; net > 0; net-- {
			open = append(open, [2]int32{lo, hi})
		}
		for ; net < 0; net++ {
			open = append(open, [2]int32{hi, lo})
		}
	}
	return open
}

func checkClosed(corners []r3.Vec, faces [][3]int32) error {
	open := openEdges(faces)
	if len(open) == 0 {
		return nil
	}
	return &OpenError{From: corners[open[0][0]], To: corners[open[0][1]], Edges: len(open)}
}

// simpleLoops joins directed edges into closed loops that pass no corner twice.
func simpleLoops(edges [][2]int32) (loops [][]int32) {
	leaving := make(map[int32][]int32, len(edges))
	for _, e := range edges {
		leaving[e[0]] = append(leaving[e[0]], e[1])
	}
	for _, e := range edges {
		var path []int32
		place := map[int32]int{} // of each corner in the path
		for at := e[0]; ; {
			if from, ok := place[at]; ok {
				loops = append(loops, append([]int32(nil), path[from:]...))
				for _, c := range path[from:] {
					delete(place, c)
				}
				path = path[:from]
			}
			next := leaving[at]
			if len(next) == 0 {
				break
			}
			place[at] = len(path)
			path = append(path, at)
			leaving[at], at = next[1:], next[0]
		}
	}
	return loops
}
