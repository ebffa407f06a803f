package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// wavesTake is what waves take from a small velocity, over it: in water without viscosity, at speeds at which there is no drag.
func wavesTake(s *Surround, axis int) float64 { return resistance(s, axis, 1e-9) / 1e-9 }

// TestWavesOfHemisphere: half under water, its damping over (2/3)πρa³ω by the tables of A. Hulme, Journal of Fluid Mechanics 121 (1982) 443,
// read in test data of public code: in heave 0.2484 at Ka = 1, in sway 0.0082 at 0.2 and 0.0255 at 0.3, by a power between them. On end,
// where the strips lie in the surface, and across them: as far off as docs/motion.md says.
func TestWavesOfHemisphere(t *testing.T) {
	const a = 0.5
	form := spheroidForm(t, 2*a)
	unit := 2.0 / 3 * math.Pi * 1000 * a * a * a
	middle := r3.Vec{X: a}
	sway := func(ka float64) float64 { return 0.0082 * math.Pow(ka/0.2, math.Log(0.0255/0.0082)/math.Log(0.3/0.2)) }
	for name, c := range map[string]struct {
		up            r3.Vec
		along, across int
		heave, sway   [2]float64
	}{
		"on end":       {r3.Vec{X: 1}, 0, 2, [2]float64{-0.02, 0.01}, [2]float64{-0.03, 0.01}},
		"on its other": {r3.Vec{X: -1}, 0, 1, [2]float64{-0.02, 0.01}, [2]float64{-0.03, 0.01}},
		"across":       {r3.Vec{Z: 1}, 2, 1, [2]float64{-0.30, -0.22}, [2]float64{-0.07, 0}},
	} {
		s := inWater(form, 0)
		s.Immerse(Pose{Up: c.up, Sea: r3.Dot(c.up, middle)})
		k := math.Pi * a * a / ((unit + s.Added()[c.along][c.along]) / 1000)
		if math.Abs(k*a-1) > 0.01 {
			t.Errorf("%s: it heaves at Ka = %g, and the table is read at 1", name, k*a)
		}
		between(t, name+", heave", wavesTake(s, c.along)/(unit*math.Sqrt(hydro.Gravity*k))/0.2484-1, c.heave)
		between(t, name+", sway", wavesTake(s, c.across)/(unit*math.Sqrt(hydro.Gravity*k/4))/sway(k*a/4)-1, c.sway)
	}
}

// TestEndWavesTakeEnergy: force by rate is what its derivative says, in every direction; none is driven; and where no water's plane cuts the
// body there are none.
func TestEndWavesTakeEnergy(t *testing.T) {
	s := inWater(mustBox(), 0)
	for _, up := range []r3.Vec{{X: 1}, r3.Unit(r3.Vec{X: -1, Y: 0.2, Z: 0.1}), r3.Unit(r3.Vec{X: 1, Y: 0.3, Z: 0.8})} {
		s.Immerse(Pose{Up: up, Sea: r3.Dot(up, r3.Vec{X: 0.5}) - 0.1})
		if s.endWaves.heave.skin <= 0 {
			t.Fatalf("no waves at %v", up)
		}
		for i := range 60 {
			var v, force [6]float64
			var slope [6][6]float64
			for c := range v {
				v[c] = math.Sin(float64(7*i + 3*c*c + i*c)) // any
			}
			var sums plainSums
			s.endWaves.damp(&v, &force, &sums, &slope)
			var rate [6][6]float64
			sums.lay(&rate)
			power, square := 0.0, 0.0
			for a := range v {
				power += force[a] * v[a]
				for b := range v {
					square += v[a] * (rate[a][b] + slope[a][b]) * v[b]
				}
			}
			if !(power < 0) || math.Abs(square/power-1) > 1e-12 {
				t.Errorf("at %v, velocity %v: power %g, by the derivative %g", up, v, power, square)
			}
		}
	}
	for _, sea := range []float64{-1, 3} {
		if s.Immerse(Pose{Up: r3.Vec{X: 1}, Sea: sea}); s.endWaves != (endWaves{}) {
			t.Errorf("waves with the sea at %g: %+v", sea, s.endWaves)
		}
	}
}
