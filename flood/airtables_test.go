package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bells of textbooks, held under water. Where the air cools on its way down it is as much less from the start, T₂/T₁ of it: the rest
// of the bell begins with water. (references.md AI-06 and AI-08 are in TestDivingBell, AI-11 and AI-13 to AI-18 in hydro; AI-02 is
// about vapour, which the scenario format leaves out of its dry air.)
func TestTextbookBells(t *testing.T) {
	const g, atm = 9.80665, 101325.0
	for _, c := range []struct {
		row                    string
		height, depth, density float64
		hot, cold              float64 // °C
		rise, near             float64 // as printed, and half a last digit
	}{
		// AI-01, Boyle: 0.52 m³ from 2.3 to 6.7 bar becomes 0.179 m³. Here from one atmosphere to as many times that, in
		// a bell of 1 m² whose level rises until 0.179 m³ are left.
		{"AI-01", 0.52, atm*(6.7/2.3-1)/(1000*g) + 0.52*(1-2.3/6.7), 1000, 15, 15, 0.52 - 0.179, 0.0005},
		{"AI-03", 2.5, 82.3, 1025, 20, 4, 2.236, 0.0005},
		{"AI-05", 4, 220, 1025, 25, 5, 3.83, 0.005},
	} {
		s := bellSpec(1, 1, c.height, 0.1, c.density)
		s.Water.Temperature = 273.15 + c.cold
		if share := 1 - (273.15+c.cold)/(273.15+c.hot); share > 0 {
			s.Compartments[0].Starts = &compartment.StartSpec{Share: &share}
		}
		_, last := heldUnder(t, s, c.depth, 1000, 1e-7)
		t.Logf("%s: rise %.5f m, the source has %g", c.row, last["bell"].Depth, c.rise)
		if math.Abs(last["bell"].Depth-c.rise) > c.near {
			t.Errorf("%s: rise %g m, the source has %g", c.row, last["bell"].Depth, c.rise)
		}
	}
}

// references.md AI-09: a box of 0.5 kg and 0.01 m², open below and 150 mm high, floats on its trapped air: mg/A = 490.33 Pa, air of
// 0.149278 m (Boyle), a freeboard of 0.099278 m.
func TestAfloatOnTrappedAir(t *testing.T) {
	s := bellSpec(0.1, 0.1, 0.15, 0.08, 1000)
	s.Water.SurfaceTension = ptr(0.0)
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: 0.5, At: r3.Vec{X: 0.05, Z: 0.01}}}
	var last flood.SpaceSample
	var body flood.BodySample
	r, err := mustStart(t, mustBuild(t, s), flood.Settings{Until: 100, Tolerance: 1e-9, Samples: func(s *flood.Sample) {
		last, body = s.Spaces[0], s.Bodies[0]
	}}).Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	t.Logf("gauge %.4f Pa, air %.7f m, freeboard %.7f m; %s, %s", last.Air, 0.15-last.Depth, body.Freeboard, r.Ended, r.Fate)
	if math.Abs(last.Air-490.3325) > 1e-3 || math.Abs(0.15-last.Depth-0.149278) > 5e-7 || math.Abs(body.Freeboard-0.099278) > 5e-7 || r.Fate != flood.Floats {
		t.Errorf("AI-09: %+v, freeboard %g, %s", last, body.Freeboard, r.Fate)
	}
}
