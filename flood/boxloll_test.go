package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// A box that water makes slowly top-heavy: a pump fills a trunk as long as the hull, 20 mm wide and from the bottom to the
// deck, so that the water's centre rises until GM is gone. Hull and trunk are wall-sided, so the loll is exact as long as
// deck, bilge, and the trunk's ends stay clear of the surfaces:
//
//	sinθ·(GM + ½ BM tan²θ) = 0, hence tan²θ = −2 GM/BM                         (references.md ST-15, ST-52)
//
// with the free surface of the trunk in both, BM = (I − i)/V and GM = KB + BM − KG.
type trunk struct {
	length, breadth, depth, width float64
	mass, kg, density             float64
}

var lollTrunk = trunk{length: 1, breadth: 0.2, depth: 0.3, width: 0.02, mass: 16, kg: 0.079, density: 1000}

func (k trunk) spec() compartment.Spec {
	s := bargeSpec()
	s.Hull.Box.Depth = k.depth
	s.Weights[0].At.Z = k.kg
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"},
		{Name: "trunk", X: &[2]float64{0, k.length}, Y: &[2]float64{-k.width / 2, k.width / 2}, Z: &[2]float64{0, k.depth}}}
	s.Openings = []compartment.OpeningSpec{{Name: "pump", Between: [2]string{"outside", "trunk"}, At: r3.Vec{X: 0.5},
		Faces: &r3.Vec{Z: -1}, Flow: ptr(5e-5)}}
	return s
}

// metacentre is GM and BM upright with some water in the trunk, m.
func (k trunk) metacentre(water float64) (gm, bm float64) {
	v := k.mass/k.density + water
	bm = k.length * (math.Pow(k.breadth, 3) - math.Pow(k.width, 3)) / 12 / v
	kb := 0.5 * v / (k.length * k.breadth)
	kg := (k.mass/k.density*k.kg + water*0.5*water/(k.length*k.width)) / v
	return kb + bm - kg, bm
}

// lollOff is tan²θ less what it should be with some water in the trunk; upright (0) where GM is positive.
func lollOff(water, heel float64) (off float64, lolls bool) {
	gm, bm := lollTrunk.metacentre(water)
	tan := math.Tan(heel)
	return tan*tan - max(0, -2*gm/bm), gm < 0
}

func TestLollFollowsWater(t *testing.T) {
	for _, rate := range []float64{5e-5, 1.1e-5, 2e-6} {
		spec := lollTrunk.spec()
		spec.Openings[0].Flow = &rate
		run := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 5e-3 / rate})
		upright, lolled := 0, 0
		for step, err := range run.Steps(t.Context()) {
			if err != nil {
				t.Fatal(err)
			}
			heel := run.Pose(0).Heel()
			off, lolls := lollOff(run.Water()[1], heel)
			if lolls {
				lolled++
			} else {
				upright++
			}
			if math.Abs(off) > 1e-6 || heel < -1e-6 || math.Abs(run.Pose(0).Trim()) > 1e-9 {
				t.Errorf("%g m³/s, %d steps after GM = 0, at %.4f s: tan²θ is off by %.3g, heel %g, trim %g",
					rate, lolled, step.Time, off, heel, run.Pose(0).Trim())
			}
		}
		t.Logf("%g m³/s: %d steps upright, %d of loll, to %.3f°", rate, upright, lolled, run.Pose(0).Heel()/degree)
		if upright < 3 || lolled < 3 || run.Pose(0).Heel() < 0.5 {
			t.Errorf("%g m³/s: the case shows too little", rate)
		}
	}
}

// Between the steps too: samples lie on the loll, to starboard (scenario.md §3 The start), whatever their spacing.
func TestLollSamples(t *testing.T) {
	for _, rate := range []float64{5e-5, 1.1e-5, 2e-6} {
		for _, count := range []float64{200, 333, 1000} {
			spec := lollTrunk.spec()
			spec.Openings[0].Flow = &rate
			lolled, bad := 0, 0
			set := flood.Settings{Until: 5e-3 / rate, Every: 5e-3 / rate / count, Samples: func(s *flood.Sample) {
				off, lolls := lollOff(s.Spaces[1].Water, s.Bodies[0].Heel)
				if lolls {
					lolled++
				}
				if math.Abs(off) > 1e-6 || s.Bodies[0].Heel < -1e-6 {
					if bad++; bad == 1 {
						t.Errorf("%g m³/s, %g samples, at %.4f s: tan²θ is off by %.3g, heel %g", rate, count, s.Time, off, s.Bodies[0].Heel)
					}
				}
			}}
			if _, err := mustStart(t, mustBuild(t, spec), set).Finish(t.Context()); err != nil {
				t.Fatal(err)
			}
			if lolled < 30 {
				t.Errorf("%g m³/s: only %d samples of loll", rate, lolled)
			}
		}
	}
}
