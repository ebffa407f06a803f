package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// openEnds is an invented hull whose middle piece comes free at both ends: between two open ends, 0.1 m long each, one closed hold
// 0.2 m long and 0.3 m broad alone bears it, level by symmetry, while a pump fills a tank high over that.
func openEnds() compartment.Spec {
	release := []compartment.Condition{{Time: ptr(1.0)}}
	return compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:  compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1.2, Breadth: 0.3, Depth: 0.6}},
		Weights: []compartment.WeightSpec{
			{Name: "aft", Mass: 3, At: r3.Vec{X: 0.2, Z: 0.02}}, {Name: "mid", Mass: 3, At: r3.Vec{X: 0.6, Z: 0.02}},
			{Name: "fore", Mass: 3, At: r3.Vec{X: 1, Z: 0.02}},
		},
		Bulkheads: []compartment.BulkheadSpec{{Name: "B1", At: 0.5}, {Name: "B2", At: 0.7}},
		Compartments: []compartment.CompartmentSpec{{Name: "aft"}, {Name: "hold"}, {Name: "fore"},
			{Name: "tank", X: &[2]float64{0.56, 0.64}, Y: &[2]float64{-0.03, 0.03}, Z: &[2]float64{0.15, 0.6}}},
		Openings: []compartment.OpeningSpec{
			{Name: "fill", Between: [2]string{"outside", "tank"}, At: r3.Vec{X: 0.6, Z: 0.6}, Flow: ptr(1e-5),
				Opens: []compartment.Condition{{Time: ptr(2.0)}}},
			{Name: "tells", Between: [2]string{"outside", "hold"}, At: r3.Vec{X: 0.6, Y: 0.1, Z: 0.6}, Hole: ptr(0.001),
				Opens: []compartment.Condition{{Trim: ptr(10 * math.Pi / 180)}}},
		},
		Joints: []compartment.JointSpec{
			{Name: "J1", At: 0.4, Sections: [2]string{"aft", "mid"}, Release: release},
			{Name: "J2", At: 0.8, Sections: [2]string{"mid", "fore"}, Release: release},
		},
	}
}

// tipsAt is when the middle piece has tipped to an angle: closed form. Wall-sided, with the water in its open ends free to level and so
// without a part in it, its lever is sin φ (GM + ½ BM tan² φ), where BM = (I − i)/∇ counts the hold's waterplane less the tank's free
// surface, and GM the mass of the tank's water as it stood level; it stands where that vanishes.
func tipsAt(angle float64) float64 {
	const mass, length, breadth, tank, floor = 3e-3, 0.2, 0.3, 0.08 * 0.06, 0.15
	lo, hi := 0.0, 1.2e-3
	for range 100 {
		v := (lo + hi) / 2
		volume := mass + v
		bm := (breadth*length*length*length/12 - 0.06*0.08*0.08*0.08/12) / volume
		kg := (mass*0.02 + v*(floor+v/tank/2)) / volume
		gm := volume/(breadth*length)/2 + bm - kg
		if gm+bm*math.Pow(math.Tan(angle), 2)/2 > 0 {
			lo = v
		} else {
			hi = v
		}
	}
	return 2 + lo/1e-5
}

// An open-ended section on an exact rest leaves it when the stability of the exact solution, with the water in the open ends free, says
// so, at every tolerance at the same time: by then an integrator that damps what grows would still walk along it. It tips by the head,
// as a symmetric loss does, and ends steep.
func TestOpenEndsTipWhenTheyLoseTheirStability(t *testing.T) {
	v := mustBuild(t, openEnds())
	for _, tolerance := range []float64{1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8} {
		level := 0.0
		set := flood.Settings{Until: 250, Every: 0.25, Tolerance: tolerance, Samples: func(s *flood.Sample) {
			for i := range s.Bodies {
				if b := &s.Bodies[i]; b.Name == "mid" && math.Abs(b.Trim) < 1e-6 {
					level = s.Time
				}
			}
		}}
		r, err := mustStart(t, v, set).Finish(t.Context())
		if err != nil || r.GaveUp != nil || len(r.Separations) != 2 {
			t.Fatalf("%v, %+v", err, r)
		}
		told := math.NaN()
		for _, e := range r.Events {
			if e.Kind == flood.Opened && e.Name == "tells" {
				told = e.Time
			}
		}
		if want := tipsAt(10 * math.Pi / 180); !(math.Abs(told-want) < 1e-3*want) {
			t.Errorf("tolerance %g: 10° of trim at %.4f s, by the closed form %.4f", tolerance, told, want)
		}
		if want := tipsAt(0); !(math.Abs(level-want) < 0.3) {
			t.Errorf("tolerance %g: level until %.2f s, stable until %.4f", tolerance, level, want)
		}
		for _, s := range r.Sections {
			if s.Name == "mid" && !(s.Steepest > math.Pi/3) {
				t.Errorf("tolerance %g: steepest %g", tolerance, s.Steepest*180/math.Pi)
			}
		}
	}
}

// A parting leaves masses, waters and airs as they were: what was in the spaces is in them, but for what the sea takes through the
// faces that are cut open, which the books say.
func TestPartingKeepsMassWaterAndAir(t *testing.T) {
	for name, spec := range map[string]compartment.Spec{"on end": onEnd(), "well": well(), "divided": divided(), "open ends": openEnds()} {
		keepsAll(t, name, spec, flood.Settled)
		keepsAll(t, name, spec, flood.Free)
	}
}

func keepsAll(t *testing.T, name string, spec compartment.Spec, motion flood.Motion) {
	t.Helper()
	run := mustStart(t, mustBuild(t, spec), flood.Settings{Motion: motion})
	before := run.Account()
	parted := 0
	for range run.Steps(t.Context()) {
		now := run.Account()
		if n := len(run.Result().Separations); n > parted {
			parted = n
			if math.Abs(now.Mass-before.Mass) > 1e-14*before.Mass || r3.Norm(r3.Sub(now.Moment, before.Moment)) > 1e-14*before.Mass {
				t.Errorf("%s, %s: %v kg, %v before", name, motion, now, before)
			}
		}
		rounding := 1e-17
		if motion == flood.Free { // thousands of steps: some last places of what the sums over the spaces come to
			rounding += 1e-15 * before.Water
		}
		if math.Abs(now.Water-now.WaterIn-before.Water+before.WaterIn) > rounding || math.Abs(now.Air-now.AirIn-before.Air+before.AirIn) > 1e-16 {
			t.Fatalf("%s, %s: %+v after %+v", name, motion, now, before)
		}
		before = now
	}
	if parted != len(spec.Joints) {
		t.Errorf("%s, %s: %d partings", name, motion, parted)
	}
}
