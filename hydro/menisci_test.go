package hydro

import (
	"math"
	"testing"
)

// The law of Young and Laplace behind bubbling, in textbooks' other uses of it. 4σ/d over a weight is the rise of a wetting liquid in
// a bore of d, and the pressure in a bubble of that diameter. (AI-12 is a maker's empirical
// 0.715 of it for filters; AI-15, mercury, needs cos θ where the scenario format has sin θ.)
func TestLaplaceInTextbooks(t *testing.T) {
	rise := func(d, sigma, weight float64) float64 {
		w := Water{Density: weight / Gravity, SurfaceTension: sigma}
		return HoleLaw(d, 0, Sharp, 0.6, w, Air{}).Bubbling / weight
	}
	near(t, "AI-14", rise(2e-3, 0.073, 9810), 14.88e-3, 0.005e-3)
	near(t, "AI-16", rise(0.3e-3, 0.0735, 9810), 99.898e-3, 0.04e-3) // printed with a weight of 9.81 kN/m³, to 4e-4
	near(t, "AI-17", HoleLaw(2e-3, 0, Sharp, 0.6, Water{Density: 1000, SurfaceTension: 72.7e-3}, Air{}).Bubbling, 145.4, 0.05)
	w, err := FreshWater(293.15)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "AI-18", capillaryLength(w), 2.726e-3, 0.0005e-3)
	// The widest hole that holds: twice the first zero of J₁ by the capillary length (3.8317, any table).
	near(t, "held", HeldWidth(w)/capillaryLength(w), 2*3.8317, 0.005)
	near(t, "the zero", math.J1(3.8317), 0, 1e-5)
}

// A hole at the critical pressure ratio of air, 0.528282 (DI-49, ISO 9300, ideal gas), passes C* = 0.684731 through a nozzle: with ε of ISO 5167-2 and
// C_d 0.61 that is a coefficient of 0.75 on the choked nozzle, the 0.75 that Perry measured for sharp edges (Trans. ASME 71 (1949)
// 757, from memory). Beyond it ours goes on rising, as his did.
func TestAtCriticalRatio(t *testing.T) {
	const ratio, critical = 0.528282, 0.684731
	near(t, "DI-49", math.Pow(2/2.4, 1.4/0.4), ratio, 5e-7)
	near(t, "DI-49", math.Sqrt(1.4)*math.Pow(2/2.4, 2.4/0.8), critical, 5e-7)
	p1 := Atmosphere / ratio
	epsilon := expansionOf(p1, Atmosphere)
	near(t, "sharp edge", 0.61*epsilon*math.Sqrt(2*(1-ratio))/critical, 0.75, 0.01)
}
