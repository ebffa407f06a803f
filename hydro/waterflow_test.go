package hydro

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// still is water of round numbers for tests of geometry.
var still = Water{Density: 1000, Viscosity: 1e-3, SurfaceTension: 0.0728}

// randomUnit is a random direction.
func randomUnit(r *rand.Rand) r3.Vec {
	return r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
}

// star is a random loop of n corners about a centre, not convex, in the plane of two directions.
func star(r *rand.Rand, n int, centre, one, two r3.Vec, size float64) []r3.Vec {
	loop := make([]r3.Vec, n)
	for i := range loop {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n))
		reach := size * (0.3 + 0.7*r.Float64())
		loop[i] = r3.Add(centre, r3.Add(r3.Scale(reach*c, one), r3.Scale(reach*s, two)))
	}
	return loop
}

// randomFigure is a circle, a rectangle, or a many-cornered face with a hole in it.
func randomFigure(r *rand.Rand) (*Figure, Orifice) {
	centre := r3.Vec{X: r.Float64(), Y: 0.2 * r.NormFloat64(), Z: 0.2 * r.Float64()}
	normal := randomUnit(r)
	air := NewAir(291.15)
	switch r.IntN(3) {
	case 0:
		d := 0.0005 * math.Pow(200, r.Float64())
		return Circle(centre, normal, d), HoleLaw(d, 0.0015, Sharp, math.NaN(), still, air)
	case 1:
		l, w := 0.001*math.Pow(100, r.Float64()), 0.0005*math.Pow(50, r.Float64())
		return Rectangle(centre, normal, randomUnit(r), l, w), SlotLaw(l, w, 0.0015, Sharp, math.NaN(), still, air)
	}
	f := Circle(centre, normal, 1)
	outer := star(r, 8+r.IntN(20), centre, f.one, f.two, 0.1) // passes the centre no nearer than 20 mm
	inner := star(r, 3+r.IntN(5), centre, f.two, f.one, 0.015)
	face := Face([][]r3.Vec{outer, inner}, normal)
	return face, FaceLaw(face.Area(), still, air)
}

// randomSides are two sides whose levels lie about the view, with surfaces, full or dry.
func randomSides(r *rand.Rand, v *View, w *Water) (a, b Side) {
	extent := math.Max(v.High-v.Low, 1e-3)
	side := func() Side {
		s := Side{Air: 300 * r.NormFloat64() * float64(r.IntN(2))}
		s.Surface = v.Low + extent*(2*r.Float64()-0.5)
		s.Head = s.Surface + s.Air/(w.Density*Gravity)
		switch r.IntN(6) {
		case 0:
			s.Surface = math.Inf(1)
		case 1:
			s.Surface = math.Inf(-1)
		}
		return s
	}
	return side(), side()
}

// bruteForce is the flow by adaptive quadrature of the contract's law, height by height, from the corners or the radius
// of the figure and the two sides alone.
func bruteForce(o *Orifice, f *Figure, up r3.Vec, w *Water, a, b Side) float64 {
	rg := w.Density * Gravity
	pressure := func(s Side, z float64) float64 {
		if z < s.Surface {
			return rg * (s.Head - z)
		}
		return s.Air
	}
	local := func(z float64) float64 {
		dp := pressure(a, z) - pressure(b, z)
		from, to := a, b
		if dp < 0 {
			from, to = b, a
		}
		if z >= from.Surface {
			return 0
		}
		push := math.Abs(dp)
		if z >= to.Surface {
			push = math.Max(0, push-o.JetTension)
		}
		v := (math.Sqrt(o.Creep*o.Creep+4*o.Jet*push) - o.Creep) / (2 * o.Jet)
		return math.Copysign(v, dp)
	}
	chord, breaks := chords(f, up)
	for _, s := range []Side{a, b} {
		other := a
		if s == a {
			other = b
		}
		breaks = append(breaks, s.Surface, s.Head-(other.Air)/rg, s.Head-(other.Air+o.JetTension)/rg)
	}
	return piecewise(func(z float64) float64 { return chord(z) * local(z) }, breaks)
}

func TestWaterAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	worst := 0.0
	for range 1500 {
		f, o := randomFigure(r)
		up := randomUnit(r)
		var v View
		f.View(up, &v)
		a, b := randomSides(r, &v, &still)
		got := o.Water(&v, &still, a, b).Rate
		want := bruteForce(&o, f, up, &still, a, b)
		full := fullFlow(&o, f, &v, a, b)
		if e := math.Abs(got-want) / full; e > worst {
			worst = e
			if e > 1e-6 {
				t.Errorf("%+v %+v %+v radius %g: %g, brute force %g, off by %g of the full flow", v.Low, a, b, f.radius, got, want, e)
			}
		}
	}
	t.Logf("worst deviation: %.2g of the full flow", worst)
}

// fullFlow is the flow of the whole figure at the greatest pressure difference over it.
func fullFlow(o *Orifice, f *Figure, v *View, a, b Side) float64 {
	most := math.Abs(a.Air - b.Air)
	for _, z := range []float64{v.Low, v.High} {
		pa, pb := a.Air, b.Air
		if z < a.Surface {
			pa = still.Density * Gravity * (a.Head - z)
		}
		if z < b.Surface {
			pb = still.Density * Gravity * (b.Head - z)
		}
		most = math.Max(most, math.Abs(pa-pb))
	}
	return f.Area() * law{o.Creep, o.Jet}.speed(math.Max(most, 1e-3))
}

// Every level, and the finest at the ends: 1e-5 of the full flow is asked for; polygons are exact and circles near it.
func TestWaterAtEveryLevel(t *testing.T) {
	triangle := Face([][]r3.Vec{{{Y: -0.01}, {Y: 0.01}, {Z: 0.03}}}, r3.Vec{X: 1})
	for _, c := range []struct {
		name string
		f    *Figure
		o    Orifice
		tol  float64
	}{
		{"hole", Circle(r3.Vec{}, r3.Vec{X: 1}, 0.02), HoleLaw(0.02, 1e-3, Sharp, math.NaN(), still, NewAir(291)), 2e-7},
		{"ideal hole", Circle(r3.Vec{}, r3.Vec{X: 1}, 0.02), ideal(0.61), 2e-7},
		{"slot", Rectangle(r3.Vec{}, r3.Vec{X: 1}, r3.Vec{Y: 1}, 0.02, 0.03), ideal(0.61), 1e-9},
		{"triangle", triangle, FaceLaw(triangle.Area(), still, Air{}), 1e-9},
	} {
		worst, up := 0.0, r3.Unit(r3.Vec{X: 0.2, Y: 0.3, Z: 1})
		var v View
		c.f.View(up, &v)
		extent := v.High - v.Low
		shares := []float64{0.5, 1, 1.5, 3, 30}
		for x := 1e-7; x < 0.5; x *= 1.3 {
			shares = append(shares, x, 1-x, 1+x)
		}
		for _, high := range shares {
			for _, low := range []float64{-1, high * 0.02, high * 0.3, high * 0.9, high * 0.999} {
				a, b := level(v.Low+extent*high), level(v.Low+extent*low)
				full := c.f.Area() * law{c.o.Creep, c.o.Jet}.speed(still.Density*Gravity*(high-math.Max(low, 0))*extent)
				e := math.Abs(c.o.Water(&v, &still, a, b).Rate-bruteForce(&c.o, c.f, up, &still, a, b)) / full
				worst = math.Max(worst, e)
			}
		}
		t.Logf("%s: worst deviation %.2g of the full flow", c.name, worst)
		if !(worst < c.tol) {
			t.Errorf("%s: off by %.3g of the full flow", c.name, worst)
		}
	}
}
