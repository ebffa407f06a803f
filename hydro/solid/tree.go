package solid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// The tree is binary. A pair holds the boxes of both children of a node, so that one line of memory decides on two; the
// sums over a child's triangles lie apart, for they are read only where a child lies wholly below the plane.
const (
	leafMax  = 12 // triangles in a leaf, at most
	depthMax = 64
	bins     = 16
)

type tree struct {
	pairs  []pair    // the root is pairs[0]; none where a single leaf holds everything
	sums   []sums    // of child k of pair i at 2i + k
	leaves []leaf    // in the order of the faces
	coords []float64 // corners of each leaf, from the centre: all x, then all y, then all z
	plates []uint32  // triangles of each leaf: three corners of the leaf, a byte each
}

// pair is 64 bytes. The boxes are in single precision, widened so that they hold what they should.
type pair struct {
	middle, half [2][3]float32
	child        [2]int32 // index of a pair, or ^index of a leaf
	_            [2]int32
}

// leaf points at its corners and plates; both counts are at most 3·leafMax.
type leaf struct {
	coord, plate     int32
	corners, nPlates int32
}

// sums over triangles with area vectors A, signed tetrahedra V about the centre, and sums of corners s. With the apex of
// all tetrahedra on axis k the moments below a plane need V, Vs, A_k and A_k s alone: entry k is (ΣV, ΣVs, ΣA_k, ΣA_k s). V
// stands in all three, so that a query reads one line of memory.
type sums [3][8]float64

// grower builds a tree, and puts the faces in its order.
type grower struct {
	tree
	corners []r3.Vec
	faces   [][3]int32 // in the order of the input
	order   []int32
	lo, hi  []r3.Vec // bounds of each face, from the centre
	centre  r3.Vec
	slack   float64 // by which boxes are widened beyond what rounding asks for
}

// grow builds the tree over faces, which are put in the order of its leaves. All coordinates are taken from centre.
func grow(corners []r3.Vec, faces [][3]int32, centre r3.Vec, size float64) tree {
	g := &grower{
		corners: corners, faces: faces, centre: centre, slack: 1e-14 * size,
		order: make([]int32, len(faces)), lo: make([]r3.Vec, len(faces)), hi: make([]r3.Vec, len(faces)),
	}
	for i, f := range faces {
		a, b, c := r3.Sub(corners[f[0]], centre), r3.Sub(corners[f[1]], centre), r3.Sub(corners[f[2]], centre)
		g.order[i] = int32(i)
		g.lo[i], g.hi[i] = least(a, least(b, c)), greatest(a, greatest(b, c))
	}
	g.plates = make([]uint32, 0, len(faces))
	g.node(0, len(faces), 0)
	sorted := make([][3]int32, len(faces))
	for i, k := range g.order {
		sorted[i] = faces[k]
	}
	copy(faces, sorted)
	return g.tree
}

// node builds the subtree of order[from:to] and gives its reference, its bounds and its sums.
func (g *grower) node(from, to, depth int) (ref int32, lo, hi r3.Vec, sum sums) {
	if to-from <= leafMax {
		return g.leafOf(from, to)
	}
	mid := g.split(from, to, depth)
	at := len(g.pairs)
	g.pairs = append(g.pairs, pair{})
	g.sums = append(g.sums, sums{}, sums{})
	for k, span := range [2][2]int{{from, mid}, {mid, to}} {
		child, clo, chi, csum := g.node(span[0], span[1], depth+1)
		g.pairs[at].child[k] = child
		g.pairs[at].setBox(k, clo, chi, g.slack)
		g.sums[2*at+k] = csum
		if k == 0 {
			lo, hi = clo, chi
		}
		lo, hi = least(lo, clo), greatest(hi, chi)
		sum.add(&csum)
	}
	return int32(at), lo, hi, sum
}

// setBox stores a box rounded outward. The slack keeps the test of a box and those of its corners in agreement: a box is
// taken whole only if every one of its corners, by their own rounding, is on that side too.
func (p *pair) setBox(k int, lo, hi r3.Vec, slack float64) {
	l, h := [3]float64{lo.X, lo.Y, lo.Z}, [3]float64{hi.X, hi.Y, hi.Z}
	for i := range l {
		m := float32((l[i] + h[i]) / 2)
		e := math.Max(h[i]-float64(m), float64(m)-l[i]) + slack
		p.middle[k][i] = m
		p.half[k][i] = math.Nextafter32(float32(e), math.MaxFloat32)
	}
}

func (s *sums) add(o *sums) {
	for i := range s {
		for j := range s[i] {
			s[i][j] += o[i][j]
		}
	}
}

func (g *grower) leafOf(from, to int) (ref int32, lo, hi r3.Vec, sum sums) {
	var numbers [3 * leafMax]int32
	var room [3 * leafMax]r3.Vec
	seen := room[:0]
	l := leaf{coord: int32(len(g.coords)), plate: int32(len(g.plates)), nPlates: int32(to - from)}
	lo, hi = g.lo[g.order[from]], g.hi[g.order[from]]
	for _, k := range g.order[from:to] {
		lo, hi = least(lo, g.lo[k]), greatest(hi, g.hi[k])
		var plate uint32
		for j, c := range g.faces[k] {
			n := slices.Index(numbers[:len(seen)], c)
			if n < 0 {
				n = len(seen)
				numbers[n] = c
				seen = append(seen, r3.Sub(g.corners[c], g.centre))
			}
			plate |= uint32(n) << (8 * j)
		}
		g.plates = append(g.plates, plate)
		sum.addPlate(seen[plate&255], seen[plate>>8&255], seen[plate>>16&255])
	}
	l.corners = int32(len(seen))
	g.layCoords(seen)
	g.leaves = append(g.leaves, l)
	return ^int32(len(g.leaves) - 1), lo, hi, sum
}

func (g *grower) layCoords(seen []r3.Vec) {
	for _, v := range seen {
		g.coords = append(g.coords, v.X)
	}
	for _, v := range seen {
		g.coords = append(g.coords, v.Y)
	}
	for _, v := range seen {
		g.coords = append(g.coords, v.Z)
	}
}

func (s *sums) addPlate(a, b, c r3.Vec) {
	area := r3.Scale(0.5, r3.Cross(r3.Sub(b, a), r3.Sub(c, a)))
	v := r3.Dot(a, area) / 3
	sum := r3.Add(a, r3.Add(b, c))
	for k, w := range [3]float64{area.X, area.Y, area.Z} {
		e := &s[k]
		e[0] += v
		e[1] += v * sum.X
		e[2] += v * sum.Y
		e[3] += v * sum.Z
		e[4] += w
		e[5] += w * sum.X
		e[6] += w * sum.Y
		e[7] += w * sum.Z
	}
}
