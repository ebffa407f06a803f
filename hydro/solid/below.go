package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Below holds the integrals over the part of a solid below a plane, and over the cut that the plane makes. All moments are
// about the origin. Units: those of the corners to the power 3, 4, 2, 3, 4.
type Below struct {
	Volume     float64
	Moment     r3.Vec  // ∫ x dV
	Area       float64 // of the cut
	AreaMoment r3.Vec  // ∫ x dA over the cut
	AreaSecond Moments // ∫ x xᵀ dA over the cut
}

// Below integrates over the part of the solid below p. Corners that lie in the plane count as above it. It visits the
// plates near the cut only and allocates nothing. With a p that is not a number, so is the result.
func (s *Solid) Below(p Plane) Below {
	d := p.D - r3.Dot(p.N, s.centre)
	reach := math.Abs(p.N.X)*s.half.X + math.Abs(p.N.Y)*s.half.Y + math.Abs(p.N.Z)*s.half.Z
	margin := 1e-14 * s.size // the leaves' corners are rounded, the bounds' are not
	switch {
	case len(s.faces) == 0 || d < -reach-margin:
		return Below{}
	case d > reach+margin:
		return Below{Volume: s.volume, Moment: s.moment}
	case math.IsNaN(d):
		return notANumber()
	}
	var q query
	q.aim(p.N, d)
	s.tree.collect(&q)
	return q.result(s.centre)
}

func notANumber() Below {
	nan := math.NaN()
	v := r3.Vec{X: nan, Y: nan, Z: nan}
	return Below{nan, v, nan, v, Moments{nan, nan, nan, nan, nan, nan}}
}

// query is one plane's view of the tree, and what it has summed so far.
//
// It works in two of the three axes and the height h = n·x − d over the plane: the third axis, the one on which n is
// longest, is found from those. In the coordinates (x, y, h) the cut is the plane h = 0, its points need no projection, and
// the apex of every tetrahedron is the point of the plane on the third axis: the origin. A determinant in (x, y, h) is n_z
// times that in (x, y, z), so one division at the end serves all.
type query struct {
	n             [3]float64 // in body axes
	d             float64
	ix, iy, iz    int // which body axes are x, y, z: a cyclic change, so that orientation stays
	nx, ny, nz    float64
	far           [4]float64 // ΣV, ΣVs of the plates taken whole by their node, z_apex·ΣA_z and z_apex·ΣA_z s still apart
	farApex       [4]float64
	near          [4]float64 // Σ det, Σ det (x, y, h) of single plates and parts: 6 n_z and 24 n_z times volume and moment
	area          float64    // of the cut, 2 n_z-fold, as seen along z
	ax, ay        float64    // 6 n_z-fold
	axx, ayy, axy float64    // 12, 12 and 24 n_z-fold
	visited       int
	h             [64]float64
	whole, cut    [leafMax + 1]uint32
}

func (q *query) aim(n r3.Vec, d float64) {
	q.n, q.d = [3]float64{n.X, n.Y, n.Z}, d
	for k := range 3 {
		if math.Abs(q.n[k]) > math.Abs(q.n[q.iz]) {
			q.iz = k
		}
	}
	q.ix, q.iy = (q.iz+1)%3, (q.iz+2)%3
	q.nx, q.ny, q.nz = q.n[q.ix], q.n[q.iy], q.n[q.iz]
}

// collect walks the tree. The path is kept free of branches that depend on where the plane runs, which no processor can
// foresee: a child goes on all lists, and a list grows only where the child belongs on it.
func (t *tree) collect(q *query) {
	if len(t.pairs) == 0 {
		q.leaf(t, 0)
		return
	}
	var open [depthMax]int32
	var cut [2 * batch]int32
	var taken [2 * batch]int32
	n0, n1, n2, d := q.n[0], q.n[1], q.n[2], q.d
	m0, m1, m2 := math.Abs(n0), math.Abs(n1), math.Abs(n2)
	nOpen, nCut, nTaken := 1, 0, 0
	for nOpen > 0 {
		nOpen--
		at := open[nOpen&(depthMax-1)]
		p := &t.pairs[at]
		for k := range 2 {
			c, e := &p.middle[k], &p.half[k]
			mid := n0*float64(c[0]) + n1*float64(c[1]) + n2*float64(c[2]) - d
			reach := m0*float64(e[0]) + m1*float64(e[1]) + m2*float64(e[2])
			below := signBit(mid + reach)
			crossed := signBit(mid-reach) &^ below
			inner := 1 - int(uint32(p.child[k])>>31)
			open[nOpen&(depthMax-1)] = p.child[k]
			nOpen += crossed & inner
			cut[nCut&(2*batch-1)] = ^p.child[k]
			nCut += crossed &^ inner
			taken[nTaken&(2*batch-1)] = 2*at + int32(k)
			nTaken += below
		}
		if nCut >= batch {
			q.leavesOf(t, cut[:nCut])
			nCut = 0
		}
		if nTaken >= batch {
			q.take(t, taken[:nTaken])
			nTaken = 0
		}
	}
	q.leavesOf(t, cut[:nCut])
	q.take(t, taken[:nTaken])
}

const batch = 32

// signBit is 1 for a negative number, else 0.
func signBit(x float64) int { return int(math.Float64bits(x) >> 63) }

func (q *query) leavesOf(t *tree, list []int32) {
	for _, l := range list {
		q.leaf(t, l)
	}
}

// take adds whole subtrees from their sums.
func (q *query) take(t *tree, list []int32) {
	v, vx, vy, vz := q.far[0], q.far[1], q.far[2], q.far[3]
	a, ax, ay, az := q.farApex[0], q.farApex[1], q.farApex[2], q.farApex[3]
	for _, i := range list {
		e := &t.sums[i][q.iz]
		v += e[0]
		vx += e[1]
		vy += e[2]
		vz += e[3]
		a += e[4]
		ax += e[5]
		ay += e[6]
		az += e[7]
	}
	q.far = [4]float64{v, vx, vy, vz}
	q.farApex = [4]float64{a, ax, ay, az}
}

// lone gives for each pattern of corners below (bit k: corner k) the one that is alone on its side.
var lone = [8]uint8{0, 0, 1, 2, 2, 1, 0, 0}

// hasCut and hasBelow tell whether the pattern is crossed by the plane, and whether at least two corners lie below: then
// the whole plate is summed, and of a crossed one the part above is taken away again.
var (
	hasCut   = [8]int{0, 1, 1, 1, 1, 1, 1, 0}
	hasBelow = [8]int{0, 0, 0, 1, 0, 1, 1, 1}
)

// leaf adds a leaf's plates that lie below, and the parts of those that are cut.
func (q *query) leaf(t *tree, at int32) {
	l := &t.leaves[at]
	n := int(l.corners)
	block := t.coords[l.coord:][:3*n]
	x, y, z := block[q.ix*n:][:n], block[q.iy*n:][:n], block[q.iz*n:][:n]
	var mask uint64
	for j := range x {
		// The conversions forbid a fused product, and the sum turns −0 into 0: a corner has the same height in every leaf.
		h := float64(q.nx*x[j]) + float64(q.ny*y[j]) + float64(q.nz*z[j]) - q.d + 0
		q.h[j&63] = h
		mask |= math.Float64bits(h) >> 63 << (j & 63)
	}
	nWhole, nCut := 0, 0
	for _, plate := range t.plates[l.plate:][:l.nPlates] {
		m := mask>>(plate&63)&1 | mask>>(plate>>8&63)&1<<1 | mask>>(plate>>16&63)&1<<2
		q.whole[nWhole] = plate
		nWhole += hasBelow[m&7]
		q.cut[nCut] = plate | uint32(m)<<24
		nCut += hasCut[m&7]
	}
	q.visited += int(l.nPlates)
	q.addWhole(q.whole[:nWhole], x, y)
	q.addCut(q.cut[:nCut], x, y)
}

// addWhole sums the tetrahedra of plates with the apex in the origin of (x, y, h).
func (q *query) addWhole(list []uint32, x, y []float64) {
	v, vx, vy, vh := q.near[0], q.near[1], q.near[2], q.near[3]
	for _, plate := range list {
		i, j, k := plate&63, plate>>8&63, plate>>16&63
		x0, y0, h0 := x[i], y[i], q.h[i]
		x1, y1, h1 := x[j], y[j], q.h[j]
		x2, y2, h2 := x[k], y[k], q.h[k]
		det := h0*(x1*y2-x2*y1) + h1*(x2*y0-x0*y2) + h2*(x0*y1-x1*y0)
		v += det
		vx += det * (x0 + x1 + x2)
		vy += det * (y0 + y1 + y2)
		vh += det * (h0 + h1 + h2)
	}
	q.near = [4]float64{v, vx, vy, vh}
}

// addCut sums over plates that the plane crosses. Corner u is alone on its side; the plane meets the edges from it in a and
// b. The part at u is the triangle u, a, b, whose tetrahedron has the determinant h_u (a × b): added where u is below, taken
// from the whole plate, which addWhole has summed, where u is above. The edge of the cut runs from b to a where u is below,
// from a to b where it is above, and the cut is the sum of the triangles of those edges with the origin.
func (q *query) addCut(list []uint32, x, y []float64) {
	v, vx, vy, vh := q.near[0], q.near[1], q.near[2], q.near[3]
	area, ax, ay, axx, ayy, axy := q.area, q.ax, q.ay, q.axx, q.ayy, q.axy
	for _, plate := range list {
		corners := uint64(plate & 0xffffff)
		turned := (corners | corners<<24) >> (8 * lone[plate>>24&7])
		i, j, k := turned&63, turned>>8&63, turned>>16&63
		hu, xu, yu := q.h[i], x[i], y[i]
		ta, tb := hu/(hu-q.h[j]), hu/(hu-q.h[k])
		xa, ya := xu+ta*(x[j]-xu), yu+ta*(y[j]-yu)
		xb, yb := xu+tb*(x[k]-xu), yu+tb*(y[k]-yu)
		g := xa*yb - xb*ya
		g = math.Float64frombits(math.Float64bits(g) ^ math.Float64bits(hu)&signMask) // −g where u is below
		sx, sy := xa+xb, ya+yb
		area += g
		ax += g * sx
		ay += g * sy
		axx += g * (xa*xa + xb*sx)
		ayy += g * (ya*ya + yb*sy)
		axy += g * (xa*ya + xb*yb + sx*sy)
		det := -hu * g
		v += det
		vx += det * (xu + sx)
		vy += det * (yu + sy)
		vh += det * hu
	}
	q.near = [4]float64{v, vx, vy, vh}
	q.area, q.ax, q.ay, q.axx, q.ayy, q.axy = area, ax, ay, axx, ayy, axy
}

const signMask = 1 << 63

// result turns the sums into integrals in body axes about the origin, given where the centre lies.
func (q *query) result(centre r3.Vec) Below {
	var b Below
	vol, first := q.farVolume()
	near := q.near[0] / (6 * q.nz)
	mx, my, mh := q.near[1]/(24*q.nz), q.near[2]/(24*q.nz), q.near[3]/(24*q.nz)
	first[q.ix] += mx
	first[q.iy] += my
	first[q.iz] += (mh + q.d*near - q.nx*mx - q.ny*my) / q.nz
	b.Volume = vol + near
	b.Moment = shifted(first, centre, b.Volume)

	var area [3]float64
	b.Area = q.area / (2 * q.nz)
	area[q.ix], area[q.iy] = q.ax/(6*q.nz), q.ay/(6*q.nz)
	area[q.iz] = (q.d*b.Area - q.nx*area[q.ix] - q.ny*area[q.iy]) / q.nz
	b.AreaMoment = shifted(area, centre, b.Area)
	b.AreaSecond = q.areaSecond(area).moved(centre, b.Area, r3.Vec{X: area[0], Y: area[1], Z: area[2]})
	return b
}

// farVolume is the volume and first moment of what whole nodes gave: with the apex p = (0, 0, d/n_z) a plate adds
// V − p·A/3 to the volume and (V − p·A/3)(s + p)/4 to the moment.
func (q *query) farVolume() (vol float64, first [3]float64) {
	apex := q.d / q.nz
	vol = q.far[0] - apex*q.farApex[0]/3
	for i := range 3 {
		first[i] = (q.far[1+i] - apex*q.farApex[1+i]/3) / 4
	}
	first[q.iz] += vol * apex / 4
	return vol, first
}

// areaSecond gives ∫ x xᵀ dA about the centre. What involves z follows from n·x = d on the cut.
func (q *query) areaSecond(first [3]float64) Moments {
	var m [3][3]float64
	x, y, z := q.ix, q.iy, q.iz
	xx, yy, xy := q.axx/(12*q.nz), q.ayy/(12*q.nz), q.axy/(24*q.nz)
	m[x][x], m[y][y], m[x][y], m[y][x] = xx, yy, xy, xy
	xz := (q.d*first[x] - q.nx*xx - q.ny*xy) / q.nz
	yz := (q.d*first[y] - q.nx*xy - q.ny*yy) / q.nz
	m[x][z], m[z][x], m[y][z], m[z][y] = xz, xz, yz, yz
	m[z][z] = (q.d*first[z] - q.nx*xz - q.ny*yz) / q.nz
	return Moments{XX: m[0][0], YY: m[1][1], ZZ: m[2][2], XY: m[0][1], XZ: m[0][2], YZ: m[1][2]}
}

// shifted takes a first moment about the centre to the origin.
func shifted(first [3]float64, centre r3.Vec, measure float64) r3.Vec {
	return r3.Vec{
		X: first[0] + measure*centre.X,
		Y: first[1] + measure*centre.Y,
		Z: first[2] + measure*centre.Z,
	}
}
