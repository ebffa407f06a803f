package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// divided is an invented barge whose long hold a joint divides, with a bulkhead that both sides keep in another joint's plane.
func divided() compartment.Spec {
	return compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:  compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1.2, Breadth: 0.2, Depth: 0.15}},
		Weights: []compartment.WeightSpec{
			{Name: "all", Mass: 8, At: r3.Vec{X: 0.62, Z: 0.03}, Over: &[2]float64{0, 1.2}},
		},
		Bulkheads:    []compartment.BulkheadSpec{{Name: "B1", At: 0.4}},
		Compartments: []compartment.CompartmentSpec{{Name: "aft", Airtight: true}, {Name: "hold", Starts: &compartment.StartSpec{Volume: ptr(3e-3)}}},
		Openings: []compartment.OpeningSpec{
			bored("cut", "outside", "hold", r3.Vec{X: 1, Y: 0.1, Z: 0.02}, r3.Vec{Y: 1}, 0.008),
			bored("door", "hold", "aft", r3.Vec{X: 0.4, Z: 0.02}, r3.Vec{X: 1}, 0.01),
		},
		Joints: []compartment.JointSpec{
			{Name: "J1", At: 0.4, Sections: [2]string{"stern", "mid"}, Release: []compartment.Condition{{Time: ptr(30.0)}}},
			{Name: "J2", At: 0.8, Sections: [2]string{"mid", "bow"}, Release: []compartment.Condition{{Time: ptr(20.0)}}},
		},
	}
}

// The halves of a divided space are told before the parting by where its water lies: of a box, level water over a sloping floor. A
// doubled opening is one until its joint parts, then two, of the names that the vessel tells.
func TestSamplesOfPartsAndDoubles(t *testing.T) {
	v := mustBuild(t, divided())
	halves, sloped := 0, 0
	names := v.DoubledNames(1)
	if !slices.Equal(names, []string{"door.stern", "door.mid"}) || v.DoubledNames(0) != nil {
		t.Fatal(names, v.DoubledNames(0))
	}
	set := flood.Settings{Until: 60, Every: 1, Samples: func(s *flood.Sample) {
		at := map[string]flood.SpaceSample{}
		for _, x := range s.Spaces {
			at[x.Name] = x
		}
		passes := map[string]bool{}
		for _, p := range s.Passages {
			passes[p.Name] = true
		}
		hold, whole := at["hold"]
		mid, bow := at["hold.mid"], at["hold.bow"]
		if whole != s.Joints[1].Present || passes["door"] != s.Joints[0].Present || passes[names[0]] == passes["door"] || passes[names[1]] == passes["door"] {
			t.Fatalf("%g s: %v, %v, %+v", s.Time, at, passes, s.Joints)
		}
		if !whole {
			return
		}
		halves++
		if math.Abs(mid.Water+bow.Water-hold.Water) > 1e-15 {
			t.Errorf("%g s: %g and %g of %g m³", s.Time, mid.Water, bow.Water, hold.Water)
		}
		// by hand, where the water covers the floor of both halves, 0.4 m long each: their middles' depths differ by 0.4 m of slope
		if u := s.Bodies[0].Pose.Up; u.X*0.4 < hold.Level && math.Abs(u.Y) < 1e-9 {
			slope := -u.X / u.Z
			sloped++
			if got, want := bow.Water-mid.Water, slope*0.2*0.4*0.4; math.Abs(got-want) > 1e-9 {
				t.Errorf("%g s: %g m³ more forward, by the slope %g", s.Time, got, want)
			}
		}
	}}
	r, err := mustStart(t, v, set).Finish(t.Context())
	if err != nil || r.GaveUp != nil || halves < 15 || sloped < 5 || len(r.Separations) != 2 {
		t.Fatalf("%v, %+v, %d", err, r, sloped)
	}
}
