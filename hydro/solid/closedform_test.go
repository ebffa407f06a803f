package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// near reports a value that is off by more than tol of scale.
func near(t *testing.T, what string, got, want, tol, scale float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*scale) {
		t.Errorf("%s: %.15g, want %.15g (off by %.2g of %.3g, allowed %.0e)", what, got, want, math.Abs(got-want)/scale, scale, tol)
	}
}

func nearVec(t *testing.T, what string, got, want r3.Vec, tol, scale float64) {
	t.Helper()
	near(t, what+" x", got.X, want.X, tol, scale)
	near(t, what+" y", got.Y, want.Y, tol, scale)
	near(t, what+" z", got.Z, want.Z, tol, scale)
}

func nearMoments(t *testing.T, what string, got, want Moments, tol, scale float64) {
	t.Helper()
	for i, x := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		nearVec(t, what+" row "+"xyz"[i:i+1], got.Apply(x), want.Apply(x), tol, scale)
	}
}

// boxBelow is the closed form for the box from 0 to size cut by any plane with no component of n zero. U = ∫(d − n·x) dV
// below the plane is Σ ± (d − n·v)⁴₊ / (24 n_x n_y n_z) over the corners v (inclusion and exclusion of octants); its
// derivatives by d and n are all integrals: V = U_d, ∫x dV = −U_n, A = U_dd, ∫x dA = −U_nd, ∫x xᵀ dA = U_nn.
func boxBelow(size r3.Vec, p Plane) Below {
	n := [3]float64{p.N.X, p.N.Y, p.N.Z}
	l := [3]float64{size.X, size.Y, size.Z}
	var b Below
	var first, cut [3]float64
	var second [3][3]float64
	for corner := range 8 {
		var v [3]float64
		h, sign := p.D, 1.0
		for k := range 3 {
			if corner>>k&1 != 0 {
				v[k], sign = l[k], -sign
			}
			h -= n[k] * v[k]
		}
		if h <= 0 {
			continue
		}
		w := sign / (24 * n[0] * n[1] * n[2])
		b.Volume += 4 * w * h * h * h
		b.Area += 12 * w * h * h
		for i := range 3 { // −∂/∂n_i of w h⁴ is w (4 v_i h³ + h⁴/n_i)
			first[i] += w * (4*v[i]*h*h*h + h*h*h*h/n[i])
			cut[i] += w * (12*v[i]*h*h + 4*h*h*h/n[i])
			for j := range 3 {
				same := 1.0
				if i == j {
					same = 2
				}
				second[i][j] += w * (12*v[i]*v[j]*h*h + 4*h*h*h*(v[i]/n[j]+v[j]/n[i]) + same*h*h*h*h/(n[i]*n[j]))
			}
		}
	}
	b.Moment = r3.Vec{X: first[0], Y: first[1], Z: first[2]}
	b.AreaMoment = r3.Vec{X: cut[0], Y: cut[1], Z: cut[2]}
	b.AreaSecond = Moments{second[0][0], second[1][1], second[2][2], second[0][1], second[0][2], second[1][2]}
	return b
}

// TestBoxAtRandomPlanes: every integral to 1e-9. Planes nearly along an axis are left to TestBoxOnItsFaces: there the
// closed form, not the code, loses its digits.
func TestBoxAtRandomPlanes(t *testing.T) {
	size := r3.Vec{X: 1.3, Y: 0.7, Z: 0.4}
	s := Box(r3.Vec{}, size)
	rnd := rand.New(rand.NewPCG(1, 1))
	for done := 0; done < 200; {
		n := randomUnit(rnd)
		if min(math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)) < 0.1 {
			continue
		}
		done++
		low, high := s.Reach(n)
		p := Plane{n, low + rnd.Float64()*(high-low)}
		got, want := s.Below(p), boxBelow(size, p)
		near(t, "volume", got.Volume, want.Volume, 1e-9, s.Volume())
		nearVec(t, "moment", got.Moment, want.Moment, 1e-9, s.Volume())
		near(t, "area", got.Area, want.Area, 1e-9, 1)
		nearVec(t, "moment of the cut", got.AreaMoment, want.AreaMoment, 1e-9, 1)
		nearMoments(t, "second moment of the cut", got.AreaSecond, want.AreaSecond, 1e-9, 1)
	}
}

// TestBoxOnItsFaces: planes along the axes, through corners, in the faces, from where a corner in the plane counts as above.
func TestBoxOnItsFaces(t *testing.T) {
	lo, hi := r3.Vec{X: 1, Y: 2, Z: 3}, r3.Vec{X: 2, Y: 4, Z: 6}
	s := Box(lo, hi)
	for _, c := range []struct {
		z, volume, area float64
		reason          string
	}{
		{3, 0, 0, "the floor lies in the plane"},
		{3 + 1e-9, 2e-9, 2, "a film"},
		{4.5, 3, 2, "half"},
		{6, 6, 2, "the lid lies in the plane and counts as above it"},
		{6.1, 6, 0, "all"},
		{-9, 0, 0, "nothing"},
	} {
		b := s.Below(Plane{r3.Vec{Z: 1}, c.z})
		near(t, c.reason+": volume", b.Volume, c.volume, 1e-14, 6)
		near(t, c.reason+": area", b.Area, c.area, 1e-14, 6)
		near(t, c.reason+": moment", b.Moment.Z, c.volume*(3+min(c.z, 6))/2, 1e-14, 27)
	}
	if b := s.Below(Plane{r3.Vec{Z: 1}, math.NaN()}); !math.IsNaN(b.Volume) || !math.IsNaN(b.AreaSecond.XY) {
		t.Errorf("a plane that is not a number gives %v", b)
	}
}

// TestTetrahedronAtRandomPlanes: the share of a tetrahedron below a plane is a B-spline of its corners' heights h
// (H. B. Curry and I. J. Schoenberg 1966): Σ (d − h_i)³₊ / Π_{j≠i} (h_j − h_i); the area is its derivative, and the moment
// along n is d V − ∫V dd.
func TestTetrahedronAtRandomPlanes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 1))
	for done := 0; done < 200; {
		var c [4]r3.Vec
		for i := range c {
			c[i] = randomUnit(rnd)
		}
		whole := r3.Dot(r3.Sub(c[1], c[0]), r3.Cross(r3.Sub(c[2], c[0]), r3.Sub(c[3], c[0]))) / 6
		if whole < 0 {
			c[0], c[1], whole = c[1], c[0], -whole
		}
		n := randomUnit(rnd)
		volume, area, moment, at, ok := tetrahedronBelow(c, n, whole, rnd.Float64())
		if whole < 0.05 || !ok {
			continue
		}
		done++
		s, err := New([]Triangle{{c[0], c[2], c[1]}, {c[0], c[1], c[3]}, {c[1], c[2], c[3]}, {c[2], c[0], c[3]}})
		if err != nil {
			t.Fatal(err)
		}
		got := s.Below(Plane{n, at})
		near(t, "whole", s.Volume(), whole, 1e-14, 1)
		near(t, "volume", got.Volume, volume, 1e-9, whole)
		near(t, "area", got.Area, area, 1e-9, 1)
		near(t, "moment", r3.Dot(n, got.Moment), moment, 1e-9, whole)
	}
}

// tetrahedronBelow: ok is false where heights lie so close that the closed form loses its digits.
func tetrahedronBelow(c [4]r3.Vec, n r3.Vec, whole, share float64) (volume, area, moment, d float64, ok bool) {
	var h [4]float64
	low, high := math.Inf(1), math.Inf(-1)
	for i := range c {
		h[i] = r3.Dot(n, c[i])
		low, high = min(low, h[i]), max(high, h[i])
	}
	d = low + share*(high-low)
	var below float64 // ∫V dd
	for i := range h {
		w := whole
		for j := range h {
			if j != i {
				if math.Abs(h[j]-h[i]) < 0.1 {
					return
				}
				w /= h[j] - h[i]
			}
		}
		if x := d - h[i]; x > 0 {
			volume += w * x * x * x
			area += 3 * w * x * x
			below += w * x * x * x * x / 4
		}
	}
	return volume, area, d*volume - below, d, true
}

// TestWholeSolid: the integrals that a solid keeps of itself, for a box in closed form.
func TestWholeSolid(t *testing.T) {
	s := Box(r3.Vec{X: 1, Y: -2, Z: 3}, r3.Vec{X: 2, Y: 2, Z: 6})
	near(t, "volume", s.Volume(), 12, 1e-14, 12)
	near(t, "surface", s.Surface(), 2*(4+3+12), 1e-14, 38)
	nearVec(t, "centroid", s.Centroid(), r3.Vec{X: 1.5, Z: 4.5}, 1e-14, 5)
	nearVec(t, "centroid of the skin", s.SurfaceCentroid(), r3.Vec{X: 1.5, Z: 4.5}, 1e-14, 5)
	// ∫x² = L B H (L²/12 + c²), products c_x c_y by symmetry.
	nearMoments(t, "second", s.Second(), Moments{
		XX: 12 * (1./12 + 1.5*1.5), YY: 12 * 16. / 12, ZZ: 12 * (9./12 + 4.5*4.5), XZ: 12 * 1.5 * 4.5}, 1e-14, 300)
	// The skin's ∫z²: lid and floor 4 (36 + 9), walls: perimeter 10 by ∫₃⁶ z² dz = 63.
	near(t, "skin's ∫z²", s.SurfaceSecond().ZZ, 4*45+10*63, 1e-14, 810)
	// ∫xz over the skin: by symmetry about the middle the area times c_x c_z.
	near(t, "skin's ∫xz", s.SurfaceSecond().XZ, 38*1.5*4.5, 1e-14, 256)
}

// TestVoid: a reversed part takes room away.
func TestVoid(t *testing.T) {
	room, block := Box(r3.Vec{}, r3.Vec{X: 4, Y: 3, Z: 2}), Box(r3.Vec{X: 1, Y: 1, Z: 0}, r3.Vec{X: 2, Y: 2, Z: 1})
	s := Sum(room, block.Reversed())
	for _, c := range []struct{ z, volume, area float64 }{{0.5, 5.5, 11}, {1.5, 17, 12}, {2.5, 23, 0}} {
		b := s.Below(Plane{r3.Vec{Z: 1}, c.z})
		near(t, "volume", b.Volume, c.volume, 1e-14, 24)
		near(t, "area", b.Area, c.area, 1e-14, 12)
	}
	near(t, "reversed", block.Reversed().Volume(), -1, 1e-14, 1)
}
