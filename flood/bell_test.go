package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// well is an invented hull whose after half stands up, once it has come free, on two wing tanks, with an airtight well between them
// that is open below: 0.6 m long, 0.1 m wide and 0.12 m deep, the tanks 40 mm wide on each side of it.
func well() compartment.Spec {
	all, deep := &[2]float64{0, 0.6}, &[2]float64{0, 0.12}
	return compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:  compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1.2, Breadth: 0.18, Depth: 0.12}},
		Weights: []compartment.WeightSpec{
			{Name: "aft", Mass: 2, At: r3.Vec{X: 0.55, Z: 0.06}},
			{Name: "fore", Mass: 3, At: r3.Vec{X: 0.9, Z: 0.02}, Over: &[2]float64{0.6, 1.2}},
		},
		Compartments: []compartment.CompartmentSpec{{Name: "well", Airtight: true},
			{Name: "port", X: all, Y: &[2]float64{0.05, 0.09}, Z: deep}, {Name: "starboard", X: all, Y: &[2]float64{-0.09, -0.05}, Z: deep}},
		Openings: []compartment.OpeningSpec{
			{Name: "fill-p", Between: [2]string{"outside", "port"}, At: r3.Vec{X: 0.3, Y: 0.09, Z: 0.06}, Flow: ptr(2e-5),
				Opens: []compartment.Condition{{Time: ptr(5.0)}}, Shuts: []compartment.Condition{{Time: ptr(45.0)}}},
			{Name: "fill-s", Between: [2]string{"outside", "starboard"}, At: r3.Vec{X: 0.3, Y: -0.09, Z: 0.06}, Flow: ptr(2e-5),
				Opens: []compartment.Condition{{Time: ptr(5.0)}}, Shuts: []compartment.Condition{{Time: ptr(45.0)}}},
		},
		Joints: []compartment.JointSpec{{Name: "J", At: 0.6, Sections: [2]string{"stern", "bow"},
			Release: []compartment.Condition{{Time: ptr(1.0)}}}},
	}
}

// hangs is how the after half of well hangs with so much water in its tanks: closed form. With T the draft, h the level inside over
// the mouth, q = T − h the air's gauge pressure as a head, a one atmosphere and T₀ = m/(ρ A_w) the draft at which the mouth closed:
// ρ A_w T + ρ A_c q = m + ρ V, and (a + q)(L − h) = a (L − T₀). A_w and A_c are the sections of the tanks and of the well.
func hangs(water float64) (draft, level, gauge float64) {
	const length, wings, centre, mass = 0.6, 2 * 0.04 * 0.12, 0.1 * 0.12, 2.0
	a := 101325 / (1000 * 9.80665)
	first := mass / 1000 / wings
	lo, hi := -0.1, 0.5 // q
	for range 200 {
		q := (lo + hi) / 2
		t := (mass/1000 + water - centre*q) / wings
		if (a+q)*(length-t+q) < a*(length-first) {
			lo = q
		} else {
			hi = q
		}
		draft, level, gauge = t, t-q, 1000*9.80665*q
	}
	return draft, level, gauge
}

// A section with an open end and trapped air floats as the closed form says, while water comes aboard and after: level inside and
// gauge pressure to 1e-6.
func TestWellHangsOnItsAir(t *testing.T) {
	checked, before := 0, 0.0
	set := flood.Settings{Until: 60, Every: 1, Tolerance: 1e-6, Samples: func(s *flood.Sample) {
		if s.Time <= 1 || s.Event {
			return
		}
		checked++
		stern, inside := s.Bodies[0], s.Spaces[0]
		draft, level, gauge := hangs(2e-5 * 2 * math.Min(40, math.Max(0, s.Time-5)))
		if stern.Name != "stern" || inside.Name != "well.stern" {
			t.Fatalf("%+v, %+v", stern, inside)
		}
		close := func(what string, got, want, scale float64) {
			t.Helper()
			if !(math.Abs(got-want) <= 1e-6*scale) {
				t.Errorf("%.1f s: %s %.9g, want %.9g", s.Time, what, got, want)
			}
		}
		close("trim", stern.Trim, math.Pi/2, 1)
		close("draft", stern.DraftFore, draft, draft)
		close("level", inside.Depth, level, level)
		close("gauge pressure", inside.Air, gauge, 1000)
		close("water", inside.Water, level*0.1*0.12, level*0.1*0.12)
		before = inside.Air
	}}
	r, err := mustStart(t, mustBuild(t, well()), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil || checked < 40 || !(before > 300) {
		t.Fatalf("%v, %+v, %d checked, %g Pa", err, r, checked, before)
	}
	if math.Abs(r.WaterBalance) > 1e-12*r.WaterCrossed || math.Abs(r.AirBalance) > 1e-12*r.AirCrossed {
		t.Errorf("water %g of %g, air %g of %g", r.WaterBalance, r.WaterCrossed, r.AirBalance, r.AirCrossed)
	}
}
