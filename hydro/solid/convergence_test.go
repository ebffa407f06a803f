package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// cylinder about the z axis from −half to half, as a prism of n sides inscribed in it.
func cylinder(radius, half float64, n int) *Solid {
	var tris []Triangle
	lid, floor := r3.Vec{Z: half}, r3.Vec{Z: -half}
	at := func(i int, z float64) r3.Vec {
		a := 2 * math.Pi * float64(i%n) / float64(n)
		return r3.Vec{X: radius * math.Cos(a), Y: radius * math.Sin(a), Z: z}
	}
	for i := range n {
		tris = quad(tris, at(i, -half), at(i+1, -half), at(i+1, half), at(i, half))
		tris = append(tris, Triangle{lid, at(i, half), at(i+1, half)}, Triangle{floor, at(i+1, -half), at(i, -half)})
	}
	return closed(tris)
}

// secondOrder takes the mean errors on three meshes, every one twice as fine as the one before, and asks that they be quartered
// each time, within what single planes scatter about it. Errors of rounding pass.
func secondOrder(t *testing.T, what string, scale float64, errs [3]float64) {
	t.Helper()
	t.Logf("%s: mean errors %.3g, %.3g, %.3g of %.3g", what, errs[0]/scale, errs[1]/scale, errs[2]/scale, scale)
	for i := range 2 {
		if errs[i+1] < 1e-12*scale {
			continue
		}
		if order := math.Log2(errs[i] / errs[i+1]); order < 1.85 || order > 2.3 {
			t.Errorf("%s: order of convergence %.2f", what, order)
		}
	}
}

// TestCylinderAtRandomPlanes: planes that meet the side only. Of the true cylinder V = πR²(half + z₀) with z₀ the plane's
// height on the axis, A = πR²/n_z, ∫x dV = −(n_x/n_z) πR⁴/4 (closed forms); the prism itself has its polygon's area and
// second moment in their place, and must meet those to 1e-9.
func TestCylinderAtRandomPlanes(t *testing.T) {
	const radius, half = 0.4, 1.5
	var volume, area, moment [3]float64
	for k, n := range []int{24, 48, 96} {
		s := cylinder(radius, half, n)
		a := 2 * math.Pi / float64(n)
		polygon := float64(n) / 2 * radius * radius * math.Sin(a)
		inertia := float64(n) / 24 * math.Pow(radius, 4) * math.Sin(a) * (2 + math.Cos(a)) // of a regular polygon
		rnd := rand.New(rand.NewPCG(3, 1))
		for done := 0; done < 120; {
			n := randomUnit(rnd)
			if n.Z < 0.35 {
				continue
			}
			done++
			z0 := 0.3 * (2*rnd.Float64() - 1)
			got := s.Below(Plane{n, n.Z * z0})
			near(t, "prism's volume", got.Volume, polygon*(half+z0), 1e-9, polygon)
			near(t, "prism's area", got.Area, polygon/n.Z, 1e-9, polygon)
			near(t, "prism's moment", got.Moment.X, -n.X/n.Z*inertia, 1e-9, polygon)
			disc := math.Pi * radius * radius
			volume[k] += math.Abs(got.Volume-disc*(half+z0)) / 120
			area[k] += math.Abs(got.Area-disc/n.Z) / 120
			moment[k] += math.Abs(got.Moment.X+n.X/n.Z*disc*radius*radius/4) / 120
		}
	}
	secondOrder(t, "volume", 1, volume)
	secondOrder(t, "area", 1, area)
	secondOrder(t, "moment", 1, moment)
}

// TestCylindersHoof: the plane through a diameter of the floor cuts off 2/3 R² h (Archimedes), h its height at the side.
func TestCylindersHoof(t *testing.T) {
	const radius, half, h = 1.0, 2.0, 1.5
	var errs [3]float64
	for k, n := range []int{32, 64, 128} {
		s := cylinder(radius, half, n)
		l := math.Hypot(1, h/radius)
		n := r3.Vec{X: -h / radius / l, Z: 1 / l} // z + half < h x / R
		errs[k] = math.Abs(s.Below(Plane{n, -half / l}).Volume - 2./3*radius*radius*h)
	}
	secondOrder(t, "hoof", 1, errs)
}

// TestTorusAtRandomPlanes: the ring is not convex, and planes along its axis cut it in two pieces. Against the reference of
// torusBelow, whose own error is under 1e-8 here.
func TestTorusAtRandomPlanes(t *testing.T) {
	const ring, tube, planes = 1.0, 0.35, 120
	whole := 2 * math.Pi * math.Pi * ring * tube * tube // Pappus
	near(t, "reference", torusBelow(ring, tube, Plane{r3.Vec{X: 0.6, Z: 0.8}, 9}, 100), whole, 1e-12, whole)
	want := make([]float64, planes)
	var volume, area [3]float64
	two := 0
	for k, n := range []int{16, 32, 64} {
		s := torus(ring, tube, 2*n, n)
		rnd := rand.New(rand.NewPCG(4, 1))
		for i := range planes {
			n := randomUnit(rnd)
			if i%3 == 0 { // along the axis
				n = r3.Unit(r3.Vec{X: n.X, Y: n.Y})
			}
			p := Plane{n, (2*rnd.Float64() - 1) * 0.9 * ring}
			if k == 0 {
				want[i] = torusBelow(ring, tube, p, 4000)
			}
			got := s.Below(p)
			volume[k] += math.Abs(got.Volume-want[i]) / planes
			if n.Z == 0 && math.Abs(p.D) < 0.6*(ring-tube) { // a disc on each side
				two += len(s.Section(p))
			}
			slope := (torusBelow(ring, tube, Plane{n, p.D + 1e-4}, 4000) - torusBelow(ring, tube, Plane{n, p.D - 1e-4}, 4000)) / 2e-4
			area[k] += math.Abs(got.Area-slope) / planes
		}
	}
	if two < 40 {
		t.Errorf("%d loops in the cuts along the axis: the test has lost its point", two)
	}
	secondOrder(t, "volume", whole, volume)
	secondOrder(t, "area", 1, area)
}

// wigleyTrimmed is the volume of Wigley's hull below n·x = D with n_y = 0, by Gauss's rule over x between the points where the
// plane meets the keel, the draft and the deck: exact, for the section's area up to a height is a cubic of it.
func wigleyTrimmed(length, breadth, draft, depth float64, p Plane) (v float64) {
	level := func(x float64) float64 { return (p.D - p.N.X*x) / p.N.Z }
	section := func(x float64) float64 {
		z := min(max(level(x), 0), depth)
		xi, u := 2*x/length-1, min(z, draft)/draft // ∫₀ᶻ (1 − ζ²) dz with ζ = 1 − z/T is T(u² − u³/3)
		return breadth * (1 - xi*xi) * (draft*(u*u-u*u*u/3) + max(z-draft, 0))
	}
	cuts := []float64{0, length}
	for _, z := range []float64{0, draft, depth} {
		if x := (p.D - p.N.Z*z) / p.N.X; x > 0 && x < length {
			cuts = append(cuts, x)
		}
	}
	for i := range cuts {
		for j := i + 1; j < len(cuts); j++ {
			if cuts[j] < cuts[i] {
				cuts[i], cuts[j] = cuts[j], cuts[i]
			}
		}
	}
	// Gauss–Legendre, five points: exact to degree 9; the integrand has 5.
	node := [5]float64{-0.906179845938664, -0.5384693101056831, 0, 0.5384693101056831, 0.906179845938664}
	weight := [5]float64{0.23692688505618908, 0.47862867049936647, 0.5688888888888889, 0.47862867049936647, 0.23692688505618908}
	for i := 0; i+1 < len(cuts); i++ {
		m, h := (cuts[i]+cuts[i+1])/2, (cuts[i+1]-cuts[i])/2
		for k := range node {
			v += h * weight[k] * section(m+h*node[k])
		}
	}
	return v
}

// TestWigleyTrimmed: random trims and drafts, with deck and bottom in and out of the water.
func TestWigleyTrimmed(t *testing.T) {
	const length, breadth, draft, depth, planes = 1.2, 0.18, 0.075, 0.11, 120
	var errs [3]float64
	for k, n := range []int{16, 32, 64} {
		s := Wigley(length, breadth, draft, depth, 2*n, n)
		rnd := rand.New(rand.NewPCG(5, 1))
		for range planes {
			a := 0.3 * rnd.NormFloat64()
			n := r3.Vec{X: math.Sin(a), Z: math.Cos(a)}
			low, high := s.Reach(n)
			p := Plane{n, low + (0.05+0.9*rnd.Float64())*(high-low)}
			errs[k] += math.Abs(s.Below(p).Volume-wigleyTrimmed(length, breadth, draft, depth, p)) / planes
		}
	}
	secondOrder(t, "volume", length*breadth*depth, errs)
}

// TestWigleyUpright: Cb 4/9, Cwp 2/3, KB 5T/8, BM 3B²/(35T), BM_L 3L²/(40T) at its draft (ST-48 of the references: W. C. S.
// Wigley 1942, J. M. J. Journée 1992), and the flat-decked topsides above.
func TestWigleyUpright(t *testing.T) {
	const l, b, d, depth = 1.2, 0.18, 0.075, 0.11
	var errs [6][3]float64
	for k, n := range []int{16, 32, 64} {
		s := Wigley(l, b, d, depth, n, n)
		w := s.Below(Plane{r3.Vec{Z: 1}, d})
		mid := l / 2
		for i, x := range [6]float64{
			w.Volume/(l*b*d) - 4./9,
			w.Area/(l*b) - 2./3,
			w.Moment.Z/w.Volume/d - 5./8,
			w.AreaSecond.YY/w.Volume*d/(b*b) - 3./35,
			(w.AreaSecond.XX-w.Area*mid*mid)/w.Volume*d/(l*l) - 3./40,
			(s.Volume()-w.Volume)/(l*b*(depth-d)) - 2./3,
		} {
			errs[i][k] = math.Abs(x)
		}
	}
	for i, name := range []string{"Cb", "Cwp", "KB/T", "BM T/B²", "BM_L T/L²", "topsides"} {
		secondOrder(t, name, 1, errs[i])
	}
}
