package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// pierced is a bell 600 mm under with a hole of a diameter in its side, whose upper edge is a height over the mouth.
func pierced(d, edge, celsius, depth float64) compartment.Spec {
	s := bellSpec(0.2, 0.15, depth, 0.03, 1000)
	s.Water.Temperature = 273.15 + celsius
	hole := bored("pinhole", "bell", "outside", r3.Vec{X: 0.1, Y: 0.075, Z: edge - d/2}, r3.Vec{Y: 1}, d)
	hole.Wall = 2e-3
	later := bored("later", "bell", "outside", r3.Vec{X: 0.1, Y: -0.075, Z: 0.01}, r3.Vec{Y: -1}, d)
	later.Opens = []compartment.Condition{{Time: ptr(9e6)}} // so that the run goes on while next to nothing flows
	s.Openings = append(s.Openings, hole, later)
	return s
}

// A wet hole under water holds the air of a bell up to 4σ/d (Young and Laplace), with the surface tension of IAPWS R1-76(2014):
// 235.8 mN/m·τ^1.256·(1 − 0.625τ), τ = 1 − T/647.096 K. The air's level stands below the hole's upper edge by what the pressure
// difference is; 1e-4 under the limit nothing passes, 1e-4 over it bubbles do, and a bell with more air ends at the limit.
func TestBubblePoint(t *testing.T) {
	const depth, height, weight = 0.6, 0.15, 1000 * 9.80665
	k := 101325/weight + depth + height
	level := (k - math.Sqrt(k*k-4*height*depth)) / 2 // by Boyle's law, as TestDivingBell
	for _, c := range []struct{ d, celsius, tabulated float64 }{{0.5e-3, 20, 72.74}, {1e-3, 10, 74.22}, {2e-3, 30, 71.19}} {
		tau := 1 - (273.15+c.celsius)/647.096
		sigma := 0.2358 * math.Pow(tau, 1.256) * (1 - 0.625*tau)
		if math.Abs(1e3*sigma-c.tabulated) > 0.01 { // the release's own table, from memory
			t.Errorf("%g °C: %.3f mN/m, the release's table has %.2f", c.celsius, 1e3*sigma, c.tabulated)
		}
		limit := 4 * sigma / c.d / weight // as a head, m
		for _, share := range []float64{1 - 1e-4, 1 + 1e-4} {
			r, last := heldLong(t, pierced(c.d, level+share*limit, c.celsius, height), depth, 600, 1e-9)
			left := air(0.2*0.15*height, 273.15+c.celsius) - air((0.2*0.15*height-last["bell"].Water)*(1+last["bell"].Air/101325), 273.15+c.celsius)
			kept := math.Abs(left) < 1e-9*air(0.2*0.15*height, 273.15+c.celsius)
			t.Logf("%g mm, %g °C, %.4f of 4σ/d: level %.9f (%.9f), air lost %.2g kg, %s", 1e3*c.d, c.celsius, share, last["bell"].Depth, level, left, r.Ended)
			if kept != (share < 1) || left < -1e-12 {
				t.Errorf("%g mm at %g °C, %.4f of 4σ/d: %g kg of air are gone", 1e3*c.d, c.celsius, share, left)
			}
		}
		if level+2*limit > height {
			continue
		}
		edge := level + 2*limit // what is left over the limit falls as t^(−2/3): as it shrinks, so does the part of the hole that bubbles
		_, last := heldLong(t, pierced(c.d, edge, c.celsius, height), depth, 1e6, 1e-9)
		if end := last["bell"].Depth; !(math.Abs(edge-end-limit) < 1e-4*limit) {
			t.Errorf("%g mm at %g °C: bubbling ends %.7f m under the upper edge, 4σ/d is %.7f", 1e3*c.d, c.celsius, edge-end, limit)
		}
	}
}

// air is the mass of a volume of air at one atmosphere, kg: the ideal gas law.
func air(volume, temperature float64) float64 { return 101325 * volume / (287.05 * temperature) }

// heldLong is heldUnder with two samples.
func heldLong(t *testing.T, spec compartment.Spec, depth, until, tolerance float64) (r *flood.Result, last map[string]flood.SpaceSample) {
	t.Helper()
	last = map[string]flood.SpaceSample{}
	r, err := mustStart(t, mustBuild(t, spec), flood.Settings{Motion: flood.Held, Keel: ptr(-depth), Until: until, Every: until, Tolerance: tolerance,
		Samples: func(s *flood.Sample) {
			for _, c := range s.Spaces {
				last[c.Name] = c
			}
		}}).Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	return r, last
}
