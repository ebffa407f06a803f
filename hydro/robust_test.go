package hydro

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// wild draws a side anywhere that numbers reach, on a height or off it.
func wild(t *rapid.T, name string) Side {
	heights := rapid.OneOf(
		rapid.SampledFrom([]float64{math.Inf(-1), math.Inf(1), 0, -0.01, 0.01, 1e-17, -1e-300, 1e12}),
		rapid.Float64Range(-0.05, 0.05),
	)
	s := Side{Surface: heights.Draw(t, name+" surface"), Air: rapid.Float64Range(-5e4, 5e5).Draw(t, name+" air")}
	s.Head = s.Surface + s.Air/(still.Density*Gravity)
	if math.IsInf(s.Head, 0) {
		s.Head = rapid.Float64Range(-10, 10).Draw(t, name+" head")
	}
	return s
}

// Whatever the sides, the sizes and the attitude: no NaN, nothing infinite, water only from where water is, and the other
// way round the same with its sign turned.
func TestFlowsAreNumbers(t *testing.T) {
	air := NewAir(291.15)
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(-5, 1).Draw(t, "size"))
		share := rapid.Float64Range(1e-3, 1).Draw(t, "share")
		normal := r3.Unit(r3.Vec{X: rapid.Float64Range(-1, 1).Draw(t, "x"), Y: rapid.Float64Range(-1, 1).Draw(t, "y"), Z: 1})
		up := rapid.SampledFrom([]r3.Vec{skyward, upright, normal, r3.Unit(r3.Vec{X: 1e-9, Z: 1})}).Draw(t, "up")
		w := Water{Density: 1000, Viscosity: 1e-3 * float64(rapid.IntRange(0, 1).Draw(t, "viscous")), SurfaceTension: 0.07}
		f, o := Circle(r3.Vec{}, normal, size), HoleLaw(size, size*share, Sharp, math.NaN(), w, air)
		switch rapid.IntRange(0, 2).Draw(t, "shape") {
		case 1:
			f, o = Rectangle(r3.Vec{}, normal, r3.Vec{X: 1}, size, size*share), SlotLaw(size, size*share, 0, Tube, math.NaN(), w, air)
		case 2:
			f = Edge([][]r3.Vec{{{}, {X: size}, {X: size, Y: size * share}}}, nil, skyward)
			o = EdgeLaw(f.Area(), math.NaN(), w, air)
		}
		var v View
		f.View(up, &v)
		a, b := wild(t, "a"), wild(t, "b")
		there, back := o.Water(&v, &w, a, b), o.Water(&v, &w, b, a)
		gas := o.Air(&v, &w, &air, a, b)
		both := o.Exchange(&v, &w, &air, a, b)
		for _, x := range []float64{there.Rate, there.ByA, there.ByB, there.ByAir, gas.Rate, gas.ByA, gas.ByB, gas.ByAirA, gas.ByAirB, both.Water, both.Air} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("water %+v, air %+v, both %+v", there, gas, both)
			}
		}
		if there.Rate != -back.Rate || there.ByA != -back.ByB {
			t.Fatalf("there %+v, back %+v", there, back)
		}
		if there.Rate > 0 && a.Surface <= v.Low || there.Rate < 0 && b.Surface <= v.Low {
			t.Fatalf("%g m³/s comes from a dry side", there.Rate)
		}
	})
}
