package solid

import "gonum.org/v1/gonum/spatial/r3"

// Box is the room between two corners, lo ≤ hi in every axis; where it has no room the result is empty.
func Box(lo, hi r3.Vec) *Solid {
	if !(lo.X < hi.X && lo.Y < hi.Y && lo.Z < hi.Z) || !finite(lo) || !finite(hi) {
		return &Solid{}
	}
	var at [8]r3.Vec // bit 0: x, bit 1: y, bit 2: z at hi
	for i := range at {
		at[i] = lo
		if i&1 != 0 {
			at[i].X = hi.X
		}
		if i&2 != 0 {
			at[i].Y = hi.Y
		}
		if i&4 != 0 {
			at[i].Z = hi.Z
		}
	}
	var tris []Triangle
	for _, q := range [6][4]int{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}} {
		tris = quad(tris, at[q[0]], at[q[1]], at[q[2]], at[q[3]])
	}
	return closed(tris)
}

// quad appends the two triangles of a four-cornered plate.
func quad(tris []Triangle, a, b, c, d r3.Vec) []Triangle {
	return append(tris, Triangle{a, b, c}, Triangle{a, c, d})
}

// closed makes the solid of triangles that are finite and close by their construction.
func closed(tris []Triangle) *Solid {
	w := newWelder(len(tris)/2 + 2)
	faces := make([][3]int32, 0, len(tris))
	for _, t := range tris {
		if f, ok := w.face(t); ok {
			faces = append(faces, f)
		}
	}
	return assemble(w.corners, faces)
}

// Wigley is the hull of Wigley's parabolas with a flat deck: y = (B/2)(1 − ξ²)(1 − ζ²) below the draft T, with ξ = 2x/L − 1
// and ζ = 1 − z/T, and wall-sided from there up to the depth (W. C. S. Wigley 1942). It spans 0 ≤ x ≤ length and
// 0 ≤ z ≤ depth. Each side has nx lengths of plates, and nz heights of them below the draft. A size or count that is not
// positive, or a depth below the draft, gives an empty solid.
func Wigley(length, breadth, draft, depth float64, nx, nz int) *Solid {
	ok := length > 0 && breadth > 0 && draft > 0 && depth >= draft && nx > 0 && nz > 0
	if !ok || !finite(r3.Vec{X: length, Y: breadth, Z: depth}) {
		return &Solid{}
	}
	var heights []float64
	for j := range nz + 1 {
		heights = append(heights, draft*float64(j)/float64(nz))
	}
	for j := 1; depth > draft && j <= nz; j++ { // above the draft, plates of about the same height
		if top := draft + draft*float64(j)/float64(nz); top < depth*(1-1e-9) {
			heights = append(heights, top)
			continue
		}
		heights = append(heights, depth)
		break
	}
	if heights[len(heights)-1] < depth {
		heights = append(heights, depth)
	}
	at := func(i, j int, side float64) r3.Vec {
		xi, zeta := 2*float64(i)/float64(nx)-1, 1-min(heights[j], draft)/draft
		return r3.Vec{X: length * float64(i) / float64(nx), Y: side * breadth / 2 * (1 - xi*xi) * (1 - zeta*zeta), Z: heights[j]}
	}
	return closed(wigleyPlates(nx, len(heights)-1, at))
}

// wigleyPlates lays both sides, symmetrically, and the deck.
func wigleyPlates(nx, top int, at func(i, j int, side float64) r3.Vec) []Triangle {
	var tris []Triangle
	for i := range nx {
		for j := range top {
			tris = quad(tris, at(i, j, 1), at(i, j+1, 1), at(i+1, j+1, 1), at(i+1, j, 1))
			tris = quad(tris, at(i+1, j, -1), at(i+1, j+1, -1), at(i, j+1, -1), at(i, j, -1))
		}
		tris = quad(tris, at(i, top, 1), at(i, top, -1), at(i+1, top, -1), at(i+1, top, 1))
	}
	return tris
}
