package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// bellSpec is an airtight box with a hole in its bottom, to be held under water of a given density.
func bellSpec(length, breadth, depth, hole, density float64) compartment.Spec {
	return compartment.Spec{
		Water:        compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 291.15, Density: ptr(density)},
		Hull:         compartment.HullSpec{Box: &compartment.BoxSpec{Length: length, Breadth: breadth, Depth: depth}},
		Compartments: []compartment.CompartmentSpec{{Name: "bell", Airtight: true}},
		Openings:     []compartment.OpeningSpec{bored("mouth", "outside", "bell", r3.Vec{X: length / 2}, r3.Vec{Z: -1}, hole)},
	}
}

// held is a run with the keel line at a depth under the sea, to its end.
func heldUnder(t *testing.T, spec compartment.Spec, depth, until, tolerance float64) (*flood.Result, map[string]flood.SpaceSample) {
	t.Helper()
	last := map[string]flood.SpaceSample{}
	run := mustStart(t, mustBuild(t, spec), flood.Settings{Motion: flood.Held, Keel: ptr(-depth), Until: until, Tolerance: tolerance,
		Samples: func(s *flood.Sample) {
			for _, c := range s.Spaces {
				last[c.Name] = c
			}
		}})
	r, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return r, last
}

// A diving bell by Boyle's law, in closed form: (atm + ρg(D − x))(H − x) = atm·H, a quadratic for the level x over the mouth at
// depth D. The first row is of a model's size; the others are worked in textbooks: H 3 m, mouth at 10 m (air 1.634288 m, gauge
// 84 673.4 Pa); and the scale effect of trapped air, H 0.1 m at 0.1 m (0.95 % of the height) against H 10 m at 10 m (37.64 %).
func TestDivingBell(t *testing.T) {
	const g, atm = 9.80665, 101325.0
	for _, c := range []struct{ height, depth float64 }{{0.15, 0.6}, {3, 10}, {0.1, 0.1}, {10, 10}} {
		spec := bellSpec(c.height, c.height/2, c.height, c.height/20, 1000)
		r, last := heldUnder(t, spec, c.depth, 3000, 1e-8)
		k := atm/(1000*g) + c.depth + c.height
		x := (k - math.Sqrt(k*k-4*c.height*c.depth)) / 2
		p := 1000 * g * (c.depth - x)
		b := last["bell"]
		t.Logf("%v m at %v m: level %.9f (%.9f), pressure %.4f (%.4f), %d steps, %s %.1f s", c.height, c.depth, b.Depth, x, b.Air, p, r.Stats.Steps, r.Ended, r.Duration)
		if math.Abs(b.Depth-x) > 1e-6*x || math.Abs(b.Air-p) > 1e-6*p {
			t.Errorf("%v m at %v m: level %.9f, Boyle %.9f; pressure %.4f, %.4f", c.height, c.depth, b.Depth, x, b.Air, p)
		}
		if math.Abs(r.AirBalance) > 1e-12*atm/287.05/291.15*c.height {
			t.Errorf("air balance %g kg", r.AirBalance)
		}
	}
}
