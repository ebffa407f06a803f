package compartment

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// A second way to the wave damping of a floating body in deep water: panels on
// the wetted surface and the Green function of the free surface. Linear theory,
// potentials Re(phi e^{-i omega t}), z up, the sea plane at z = 0, normals out
// of the body into the water.
//
// G = 1/r + 1/r1 + 2k PV int_0^inf e^{uZ} J0(uR)/(u-k) du + 2 pi i k e^{kZ} J0(kR)
// (Wehausen & Laitone, Surface Waves, 1960, section 13, from memory), with R
// the level distance, Z = z + zeta, r1 the distance to the image above the sea.

const (
	bemGravity = 9.80665 // m/s2
	bemDensity = 1000.0  // kg/m3
)

type bemVec [3]float64

// bemPanel is one flat panel, counter-clockwise when seen from the water.
// A triangle repeats its last corner.
type bemPanel struct {
	v    [4]bemVec
	c, n bemVec // centroid and unit normal
	area float64
}

func (a bemVec) sub(b bemVec) bemVec { return bemVec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a bemVec) dot(b bemVec) float64 {
	return a[0]*b[0] + a[1]*b[1] + a[2]*b[2]
}
func (a bemVec) length() float64 { return math.Sqrt(a.dot(a)) }
func (a bemVec) cross(b bemVec) bemVec {
	return bemVec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// mirror turns z about.
func (a bemVec) mirror() bemVec { return bemVec{a[0], a[1], -a[2]} }

// bemNewPanel works out centroid, normal and area from two triangles.
func bemNewPanel(a, b, c, d bemVec) bemPanel {
	p := bemPanel{v: [4]bemVec{a, b, c, d}}
	n := c.sub(a).cross(d.sub(b))
	for i := range n {
		p.n[i] = n[i] / n.length()
	}
	for _, t := range [2][3]bemVec{{a, b, c}, {a, c, d}} {
		s := t[1].sub(t[0]).cross(t[2].sub(t[0])).length() / 2
		p.area += s
		for i := range p.c {
			p.c[i] += s * (t[0][i] + t[1][i] + t[2][i]) / 3
		}
	}
	for i := range p.c {
		p.c[i] /= p.area
	}
	return p
}

// mode is the speed of the body's surface along the normal, for a unit velocity
// along x, y, z (0..2) or a unit rate of turn about them through the origin.
func (p *bemPanel) mode(i int) float64 {
	if i < 3 {
		return p.n[i]
	}
	return p.c.cross(p.n)[i-3]
}

// bemGauss gives 2 or 4 Gauss-Legendre points on -1..1 with weights.
func bemGauss(n int) (x, w []float64) {
	if n == 2 {
		g := 1 / math.Sqrt(3)
		return []float64{-g, g}, []float64{1, 1}
	}
	const a, b, wa, wb = 0.339981043584856, 0.861136311594053, 0.652145154862546, 0.347854845137454
	return []float64{-b, -a, a, b}, []float64{wb, wa, wa, wb}
}

// points gives n x n Gauss points on the panel, with weights that sum to its area.
func (p *bemPanel) points(n int) (q []bemVec, w []float64) {
	x, h := bemGauss(n)
	for i, s := range x {
		for j, t := range x {
			f := [4]float64{(1 - s) * (1 - t) / 4, (1 + s) * (1 - t) / 4, (1 + s) * (1 + t) / 4, (1 - s) * (1 + t) / 4}
			fs := [4]float64{-(1 - t) / 4, (1 - t) / 4, (1 + t) / 4, -(1 + t) / 4}
			ft := [4]float64{-(1 - s) / 4, -(1 + s) / 4, (1 + s) / 4, (1 - s) / 4}
			var c, ds, dt bemVec
			for l, v := range p.v {
				for m := range c {
					c[m] += f[l] * v[m]
					ds[m] += fs[l] * v[m]
					dt[m] += ft[l] * v[m]
				}
			}
			q = append(q, c)
			w = append(w, h[i]*h[j]*ds.cross(dt).length())
		}
	}
	return q, w
}

// rankine is the integral of 1/r over the panel and its gradient at the point
// a: a logarithm for each edge and the solid angle (Hess & Smith 1964; the
// solid angle by Van Oosterom & Strackee 1983; both from memory).
func (p *bemPanel) rankine(a bemVec) (pot float64, grad bemVec) {
	var d [4]bemVec
	var r [4]float64
	for i, v := range p.v {
		d[i] = v.sub(a)
		r[i] = d[i].length()
	}
	for i := range d {
		j := (i + 1) % 4
		e := p.v[j].sub(p.v[i])
		l := e.length()
		if l == 0 {
			continue
		}
		m := e.cross(p.n) // points out of the panel, in its plane; length l
		q := math.Log((r[i]+r[j]+l)/(r[i]+r[j]-l)) / l
		pot += m.dot(d[i]) * q
		for c := range grad {
			grad[c] -= m[c] * q
		}
	}
	solid := 0.0
	for _, t := range [2][3]int{{0, 1, 2}, {0, 2, 3}} {
		x, y, z := t[0], t[1], t[2]
		up := d[x].dot(d[y].cross(d[z]))
		low := r[x]*r[y]*r[z] + d[x].dot(d[y])*r[z] + d[x].dot(d[z])*r[y] + d[y].dot(d[z])*r[x]
		solid += 2 * math.Atan2(up, low)
	}
	h := d[0].dot(p.n)
	if math.Abs(h) < 1e-9*r[0] {
		solid, h = 0, 0 // in the plane of the panel
	}
	for c := range grad {
		grad[c] += p.n[c] * solid
	}
	return pot - h*solid, grad
}

// bemStruve is H0(x) + Y0(x), H0 the Struve function, and its derivative: the
// power series, or for large x the series of H0 - Y0 (Abramowitz & Stegun
// 12.1.4 and 12.1.30, from memory).
func bemStruve(x float64) (f, df float64) {
	if x < 15 {
		t := 2 / math.Pi * x
		for m := 1.0; math.Abs(t) > 1e-17; m += 2 {
			f += t
			df += m * t / x
			t *= -x * x / ((m + 2) * (m + 2))
		}
		return f + math.Y0(x), df - math.Y1(x)
	}
	t := 2 / math.Pi / x
	for m := 1.0; m < 16; m += 2 {
		f += t
		df -= m * t / x
		t *= -m * m / (x * x)
	}
	return f + 2*math.Y0(x), df - 2*math.Y1(x)
}

var (
	bemNode   = [4]float64{0.183434642495650, 0.525532409916329, 0.796666477413627, 0.960289856497536}
	bemWeight = [4]float64{0.362683783378362, 0.313706645877887, 0.222381034453374, 0.101228536290376}
)

// bemLocal gives int_0^Y e^{t-Y}/sqrt(X2+t2) dt and the same with t more in the
// numerator, by t = X sinh s and 8 Gauss points on pieces of s.
func bemLocal(x, y float64) (a, b float64) {
	top := math.Asinh(y / x)
	n := int(math.Ceil(top / 1.5))
	h := top / float64(2*n)
	for i := range n {
		mid := float64(2*i+1) * h
		for j, g := range bemNode {
			for _, s := range [2]float64{mid - g*h, mid + g*h} {
				e := math.Exp(s)
				t := x * (e - 1/e) / 2
				f := bemWeight[j] * h * math.Exp(t-y)
				a += f
				b += f * t
			}
		}
	}
	return a, b
}

// bemWaveIntegral is F = PV int_0^inf e^{-uY} J0(uX)/(u-1) du with dF/dX, dF/dY:
// F = -pi/2 e^{-Y} (H0(X) + Y0(X)) - int_0^Y e^{t-Y}/sqrt(X2+t2) dt
// (in Wehausen & Laitone's list and later papers; from memory, checked by numbers).
func bemWaveIntegral(x, y float64) (f, fx, fy float64) {
	x = math.Max(x, 1e-6)
	e := math.Exp(-y)
	s, ds := bemStruve(x)
	a, b := bemLocal(x, y)
	r := math.Hypot(x, y)
	f = -math.Pi/2*e*s - a
	fx = -math.Pi/2*e*ds + (y/r-b)/x
	return f, fx, -1/r - f
}

// bemWave is the wave part of G at the field point a for a source at q, and its
// gradient at the source point.
func bemWave(a, q bemVec, k float64) (g complex128, grad [3]complex128) {
	dx, dy := q[0]-a[0], q[1]-a[1]
	r := math.Hypot(dx, dy)
	x, y := k*r, -k*(a[2]+q[2])
	f, fx, fy := bemWaveIntegral(x, y)
	e := 2 * math.Pi * k * math.Exp(-y)
	j0, j1 := e*math.J0(x), e*math.J1(x)
	g = complex(2*k*f, j0)
	grad[2] = complex(-2*k*k*fy, k*j0)
	if r > 0 {
		dr := complex(2*k*k*fx, -k*j1)
		grad[0], grad[1] = dr*complex(dx/r, 0), dr*complex(dy/r, 0)
	}
	return g, grad
}

// bemSystem holds the integrals of G (pot) and of its normal derivative at the
// source (double) over panel j for the middle of panel i. A body with two planes
// of symmetry keeps a quarter of its panels: the integral over a panel's mirror
// image is that over the panel for the mirrored field point.
type bemSystem struct {
	panels      []bemPanel
	k           float64
	mirrors     []bemVec         // signs of x and y
	pot, double [][][]complex128 // by mirror, i and j
}

// bemQuarter gives the panels at x, y > 0 and the mirrors that make the whole
// body of them, or, without the symmetry, all panels.
func bemQuarter(panels []bemPanel) (some []bemPanel, mirrors []bemVec) {
	mirrors = []bemVec{{1, 1, 1}, {-1, 1, 1}, {1, -1, 1}, {-1, -1, 1}}
	key := func(p bemPanel, m bemVec) (c [4]int64) {
		for i := range m {
			c[i] = int64(math.Round(p.c[i] * m[i] * 1e7))
		}
		c[3] = int64(math.Round(p.area * 1e7))
		return c
	}
	has := map[[4]int64]bool{}
	for _, p := range panels {
		has[key(p, mirrors[0])] = true
	}
	for _, p := range panels {
		for _, m := range mirrors {
			if !has[key(p, m)] {
				return panels, mirrors[:1]
			}
		}
		if p.c[0] > 0 && p.c[1] > 0 {
			some = append(some, p)
		}
	}
	if 4*len(some) != len(panels) {
		return panels, mirrors[:1]
	}
	return some, mirrors
}

// bemSign is the sign of a mode's potential in a mirror.
func bemSign(mode int, mirror bemVec) float64 {
	s := 1.0
	if mode == 0 || mode == 4 || mode == 5 {
		s *= mirror[0]
	}
	if mode == 1 || mode == 3 || mode == 5 {
		s *= mirror[1]
	}
	return s
}

// bemPair is one element of pot and double: the field point a, the panel q.
func bemPair(a bemVec, q *bemPanel, k float64, pts []bemVec, w []float64) (pot, double complex128) {
	s, g := q.rankine(a)
	s1, g1 := q.rankine(a.mirror())
	pot, double = complex(s+s1, 0), complex(-g.dot(q.n)-g1.dot(q.n), 0)
	for m, p := range pts {
		v, h := bemWave(a, p, k)
		c := complex(w[m], 0)
		pot += c * v
		for x := range h {
			double += c * h[x] * complex(q.n[x], 0)
		}
	}
	return pot, double
}

func bemAssemble(panels []bemPanel, k float64) *bemSystem {
	s := &bemSystem{k: k}
	s.panels, s.mirrors = bemQuarter(panels)
	n := len(s.panels)
	for range s.mirrors {
		s.pot = append(s.pot, make([][]complex128, n))
		s.double = append(s.double, make([][]complex128, n))
	}
	for m := range s.mirrors {
		for i := range n {
			s.pot[m][i], s.double[m][i] = make([]complex128, n), make([]complex128, n)
		}
	}
	for j := range s.panels {
		q := &s.panels[j]
		near, wn := q.points(4)
		far, wf := q.points(2)
		size := q.v[0].sub(q.c).length()
		for i := range s.panels {
			for m, sign := range s.mirrors {
				a := s.panels[i].c
				a[0], a[1] = a[0]*sign[0], a[1]*sign[1]
				p, w := far, wf
				if a.mirror().sub(q.c).length() < 3*size {
					p, w = near, wn
				}
				s.pot[m][i][j], s.double[m][i][j] = bemPair(a, q, k, p, w)
			}
		}
	}
	return s
}

// bemSolve solves the complex system a x = b as a real one of twice the size.
func bemSolve(a [][]complex128, b [][6]complex128) [][6]complex128 {
	n := len(a)
	m, rhs := mat.NewDense(2*n, 2*n, nil), mat.NewDense(2*n, 6, nil)
	for i := range n {
		for j, v := range a[i] {
			m.Set(i, j, real(v))
			m.Set(n+i, n+j, real(v))
			m.Set(n+i, j, imag(v))
			m.Set(i, n+j, -imag(v))
		}
		for j, v := range b[i] {
			rhs.Set(i, j, real(v))
			rhs.Set(n+i, j, imag(v))
		}
	}
	var lu mat.LU
	var x mat.Dense
	lu.Factorize(m)
	if err := lu.SolveTo(&x, false, rhs); err != nil {
		panic(err)
	}
	out := make([][6]complex128, n)
	for i := range out {
		for j := range 6 {
			out[i][j] = complex(x.At(i, j), x.At(n+i, j))
		}
	}
	return out
}

// potentials solves Green's identity on the body (Wehausen & Laitone 1960, from
// memory) for unit velocities: 2 pi phi - int phi dG/dn dS = -int G V dS.
func (s *bemSystem) potentials() [][6]complex128 {
	phi := make([][6]complex128, len(s.panels))
	groups := [][]int{{0, 4}, {1, 3}, {2}, {5}} // of one symmetry
	if len(s.mirrors) == 1 {
		groups = [][]int{{0, 1, 2, 3, 4, 5}}
	}
	for _, modes := range groups {
		x := s.solveModes(modes)
		for i := range phi {
			for _, m := range modes {
				phi[i][m] = x[i][m]
			}
		}
	}
	return phi
}

// solveModes solves for modes that have the same symmetry.
func (s *bemSystem) solveModes(modes []int) [][6]complex128 {
	n := len(s.panels)
	a, b := make([][]complex128, n), make([][6]complex128, n)
	for i := range n {
		a[i] = make([]complex128, n)
		a[i][i] = 2 * math.Pi
		for l, mirror := range s.mirrors {
			sign := complex(bemSign(modes[0], mirror), 0)
			for j := range n {
				a[i][j] -= sign * s.double[l][i][j]
				for _, m := range modes {
					b[i][m] -= sign * s.pot[l][i][j] * complex(s.panels[j].mode(m), 0)
				}
			}
		}
	}
	return bemSolve(a, b)
}

// pressures is int phi_j n_i dS over the whole body.
func (s *bemSystem) pressures(phi [][6]complex128) (f [6][6]complex128) {
	for l := range s.panels {
		p := &s.panels[l]
		for _, mirror := range s.mirrors {
			for i := range 6 {
				for j := range 6 {
					sign := bemSign(i, mirror) * bemSign(j, mirror)
					f[i][j] += complex(p.area*p.mode(i)*sign, 0) * phi[l][j]
				}
			}
		}
	}
	return f
}

// pressureDamping is the part of the force in phase with the velocity:
// p = i omega rho phi, so B_ij = -omega rho Im int phi_j n_i dS.
func (s *bemSystem) pressureDamping(phi [][6]complex128) (b [6][6]float64) {
	w := bemDensity * math.Sqrt(bemGravity*s.k)
	for i, row := range s.pressures(phi) {
		for j, f := range row {
			b[i][j] = -w * imag(f)
		}
	}
	return b
}

// pressureAdded is that in phase with the acceleration, A_ij = -rho Re int phi_j n_i dS.
func (s *bemSystem) pressureAdded(phi [][6]complex128) (a [6][6]float64) {
	for i, row := range s.pressures(phi) {
		for j, f := range row {
			a[i][j] = -bemDensity * real(f)
		}
	}
	return a
}

// kochin is H = 1/4pi int (phi d/dn - V) e^{k zeta - ik(xi cos + eta sin)} dS.
func (s *bemSystem) kochin(phi [][6]complex128, cos, sin float64) (h [6]complex128) {
	for l := range s.panels {
		p := &s.panels[l]
		q, w := p.points(2)
		for _, mirror := range s.mirrors {
			c, sn := cos*mirror[0], sin*mirror[1]
			e := complex(0, 0)
			for m, a := range q {
				es, ec := math.Sincos(-s.k * (a[0]*c + a[1]*sn))
				e += complex(w[m]*math.Exp(s.k*a[2])/(4*math.Pi), 0) * complex(ec, es)
			}
			de := complex(s.k*p.n[2], -s.k*(p.n[0]*c+p.n[1]*sn))
			for j := range h {
				sign := complex(bemSign(j, mirror), 0)
				h[j] += sign * e * (phi[l][j]*de - complex(p.mode(j), 0))
			}
		}
	}
	return h
}

// farDamping is the damping from the energy of the far waves. For G -> 2 pi i k
// e^{k(z+zeta)} H0(1)(kR), H the Kochin function (own working):
// B_ij = 4 pi rho omega k int_0^2pi Re(H_i conj H_j) dtheta.
func (s *bemSystem) farDamping(phi [][6]complex128) (b [6][6]float64) {
	const directions = 72
	f := 4 * math.Pi * bemDensity * math.Sqrt(bemGravity*s.k) * s.k * 2 * math.Pi / directions
	for d := range directions {
		sin, cos := math.Sincos(2 * math.Pi * float64(d) / directions)
		h := s.kochin(phi, cos, sin)
		for i := range 6 {
			for j := range 6 {
				b[i][j] += f * (real(h[i])*real(h[j]) + imag(h[i])*imag(h[j]))
			}
		}
	}
	return b
}

// bemDamping is the wave damping in deep water, kg/s, kg m/s and kg m2/s, for
// velocities along x, y, z and rates of turn about them through the origin, at
// the wave number k (omega2 = g k); from the pressures, by Green's identity.
func bemDamping(panels []bemPanel, k float64) [6][6]float64 {
	s := bemAssemble(panels, k)
	return s.pressureDamping(s.potentials())
}

// bemSpacing gives n+1 points from a to b, closer at both ends, or (half) only
// at b.
func bemSpacing(a, b float64, n int, half bool) []float64 {
	x := make([]float64, n+1)
	for i := range x {
		t := float64(i) / float64(n)
		f := (1 - math.Cos(math.Pi*t)) / 2
		if half {
			f = math.Sin(math.Pi / 2 * t)
		}
		x[i] = a + (b-a)*f
	}
	return x
}

// bemBox is the wetted surface of a box, its waterplane's middle at the origin.
func bemBox(length, breadth, draft float64, nx, ny, nz int) (p []bemPanel) {
	xs := bemSpacing(-length/2, length/2, nx, false)
	ys := bemSpacing(-breadth/2, breadth/2, ny, false)
	zs := bemSpacing(0, -draft, nz, true)
	add := func(out bemVec, a, b, c, d bemVec) {
		q := bemNewPanel(a, b, c, d)
		if q.n.dot(out) < 0 {
			q = bemNewPanel(d, c, b, a)
		}
		p = append(p, q)
	}
	for i := range nx {
		x, x1 := xs[i], xs[i+1]
		for j := range ny {
			y, y1 := ys[j], ys[j+1]
			add(bemVec{0, 0, -1}, bemVec{x, y, -draft}, bemVec{x1, y, -draft}, bemVec{x1, y1, -draft}, bemVec{x, y1, -draft})
		}
		for j := range nz {
			z, z1 := zs[j], zs[j+1]
			for _, y := range [2]float64{-breadth / 2, breadth / 2} {
				add(bemVec{0, y, 0}, bemVec{x, y, z}, bemVec{x1, y, z}, bemVec{x1, y, z1}, bemVec{x, y, z1})
			}
		}
	}
	for i := range ny {
		y, y1 := ys[i], ys[i+1]
		for j := range nz {
			z, z1 := zs[j], zs[j+1]
			for _, x := range [2]float64{-length / 2, length / 2} {
				add(bemVec{x, 0, 0}, bemVec{x, y, z}, bemVec{x, y1, z}, bemVec{x, y1, z1}, bemVec{x, y, z1})
			}
		}
	}
	return p
}

// bemHemisphere is a half sphere under water, n panels from the waterline to the
// lowest point and m around. The corners lie on the sphere.
func bemHemisphere(radius float64, n, m int) (p []bemPanel) {
	at := func(i, j int) bemVec {
		if i == n {
			return bemVec{0, 0, -radius}
		}
		s, c := math.Sincos(math.Pi / 2 * float64(i) / float64(n))
		sa, ca := math.Sincos(2 * math.Pi * float64(j%m) / float64(m))
		return bemVec{radius * c * ca, radius * c * sa, -radius * s}
	}
	for i := range n {
		for j := range m {
			q := bemNewPanel(at(i, j+1), at(i, j), at(i+1, j), at(i+1, j+1))
			p = append(p, q)
		}
	}
	return p
}

// bemBoxMesh is the box with panels as fine as m: 4m across, 2m down.
func bemBoxMesh(length, breadth, draft float64, m int) []bemPanel {
	nx := 2 * m * max(1, int(math.Round(2*math.Sqrt(length/breadth))))
	return bemBox(length, breadth, draft, nx, 4*m, 2*m)
}

// bemLimit carries damping on two meshes, the second finer by ratio, to panels
// of no size. The order 1.8 is what boxes show by numbers (sharp edges).
func bemLimit(coarse, fine [6][6]float64, ratio float64) [6][6]float64 {
	f := 1 / (math.Pow(ratio, 1.8) - 1)
	for i := range fine {
		for j := range fine[i] {
			fine[i][j] += f * (fine[i][j] - coarse[i][j])
		}
	}
	return fine
}

// bemBoxDamping is bemDamping of a box from meshes 2 and 3 and their limit.
func bemBoxDamping(length, breadth, draft, k float64) [6][6]float64 {
	coarse := bemDamping(bemBoxMesh(length, breadth, draft, 2), k)
	return bemLimit(coarse, bemDamping(bemBoxMesh(length, breadth, draft, 3), k), 1.5)
}

// The method against a half sphere afloat (A. Hulme, J. Fluid Mech. 121, 1982,
// 443) and against the energy of its own far waves.
func TestBemHemisphere(t *testing.T) {
	panels := bemHemisphere(1, 9, 36)
	for _, c := range []struct {
		mode     int
		ka, want float64
	}{{2, 1, 0.2484}, {1, 0.2, 0.0082}, {1, 0.3, 0.0255}} {
		s := bemAssemble(panels, c.ka)
		phi := s.potentials()
		unit := 2.0 / 3 * math.Pi * bemDensity * math.Sqrt(bemGravity*c.ka)
		got := s.pressureDamping(phi)[c.mode][c.mode] / unit
		far := s.farDamping(phi)[c.mode][c.mode] / unit
		if math.Abs(got/c.want-1) > 0.03 || math.Abs(far/got-1) > 0.005 {
			t.Errorf("mode %d at ka %v: %.5f from pressures, %.5f from far waves, want %.4f", c.mode, c.ka, got, far, c.want)
		}
	}
}
