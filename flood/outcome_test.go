package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// narrowWell is well with a well of 40 mm between wider tanks, and 3 kg aft: filled on and on, it goes.
func narrowWell() compartment.Spec {
	s := well()
	s.Weights[0].Mass = 3
	s.Compartments[1].Y, s.Compartments[2].Y = &[2]float64{0.02, 0.09}, &[2]float64{-0.09, -0.02}
	for i := range s.Openings {
		s.Openings[i].Shuts = nil
	}
	return s
}

// The outcome of a parting, known by hand. The hull parts at 1 s. Its fore half, open at its cut and with nothing else to bear it, is
// gone at that moment. The after half stands upright at once; water comes into its tanks at 40 cm³/s from 5 s on, and it goes when
// its draft is its length L: with a one atmosphere as a head, (a + q) q = a (L − T₀) for the air's gauge pressure q then, and
// V = A_w L + A_c q − m/ρ of water aboard (see hangs).
func TestOutcomeByHand(t *testing.T) {
	const length, wings, centre, mass = 0.6, 2 * 0.07 * 0.12, 0.04 * 0.12, 3.0
	a := 101325 / (1000 * 9.80665)
	q := (math.Sqrt(a*a+4*a*(length-mass/1000/wings)) - a) / 2
	goes := 5 + (wings*length+centre*q-mass/1000)/4e-5
	for _, tolerance := range []float64{1e-3, 1e-5, 1e-7} {
		r, err := mustStart(t, mustBuild(t, narrowWell()), flood.Settings{Tolerance: tolerance}).Finish(t.Context())
		if err != nil || r.GaveUp != nil || len(r.Sections) != 2 || len(r.Earlier) != 1 || len(r.Separations) != 1 {
			t.Fatalf("%v, %+v", err, r)
		}
		stern, bow := r.Sections[0], r.Sections[1]
		near := func(what string, got, want, within float64) {
			t.Helper()
			if !(math.Abs(got-want) <= within) {
				t.Errorf("tolerance %g: %s %.9g, by hand %.9g", tolerance, what, got, want)
			}
		}
		near("hull parted", r.Earlier[0].Parted, 1, 1e-12)
		near("bow founders", bow.Foundered, 1, 1e-12)
		near("bow afloat alone", bow.AfloatAlone, 0, 1e-12)
		near("stern founders", stern.Foundered, goes, 1e-5*goes)
		near("stern afloat alone", stern.AfloatAlone, goes-1, 1e-5*goes)
		near("steepest", stern.Steepest, math.Pi/2, 1e-6)
		near("steepest at", stern.SteepestAt, 1, 1e-12)
		if r.Earlier[0].Name != "hull" || r.Ended != flood.EndedFoundered || r.Fate != flood.Founders || stern.Fate != flood.Founders ||
			bow.Fate != flood.Founders || stern.PastVertical || !math.IsNaN(stern.WorstHeel) {
			t.Errorf("tolerance %g: %+v", tolerance, r)
		}
		near("water balance", r.WaterBalance, 0, 1e-12*r.WaterCrossed)
		near("air balance", r.AirBalance, 0, 1e-12*r.AirCrossed)
	}
}

// Shut in time, it floats, and so does the whole, whatever became of the bow: the first that any section has of floats, founders.
func TestOneHalfFloats(t *testing.T) {
	r, err := mustStart(t, mustBuild(t, well()), flood.Settings{}).Finish(t.Context())
	if err != nil || r.Ended != flood.EndedSettled || r.Fate != flood.Floats || r.Sections[0].Fate != flood.Floats || r.Sections[1].Fate != flood.Founders ||
		!math.IsNaN(r.Sections[0].AfloatAlone) || r.Duration < 45 || r.Duration > 46 {
		t.Errorf("%v, %+v", err, r)
	}
}

// A body whose water only leaves it no reserve plunges at an instant known by hand, (V − m/ρ)/q after the pump's start, in whatever trim.
// Nothing flows from then on, so that the other half, dry behind its own bulkhead, has settled at the same instant (the contract, §3, The end:
// "all have settled with nothing left to open, shut or release").
func TestPlungeLeavesTheOtherHalfSettled(t *testing.T) {
	const volume, mass, flow = 0.5 * 0.2 * 0.1, 4.0, 1e-4
	spec := compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:  compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.1}},
		Weights: []compartment.WeightSpec{
			{Name: "aft", Mass: 4, At: r3.Vec{X: 0.25, Z: 0.01}, Over: &[2]float64{0, 0.5}},
			{Name: "fore", Mass: mass, At: r3.Vec{X: 0.75, Z: 0.01}, Over: &[2]float64{0.5, 1}},
		},
		Bulkheads:    []compartment.BulkheadSpec{{Name: "B1", At: 0.5}, {Name: "B2", At: 0.65}},
		Compartments: []compartment.CompartmentSpec{{Name: "after"}, {Name: "middle"}, {Name: "fore"}},
		Openings: []compartment.OpeningSpec{{Name: "pump", Between: [2]string{"outside", "fore"},
			At: r3.Vec{X: 0.8, Z: 0}, Flow: ptr(flow)}},
		Joints: []compartment.JointSpec{{Name: "J", At: 0.5, Sections: [2]string{"stern", "bow"},
			Release: []compartment.Condition{{Time: ptr(1.0)}}}},
	}
	r, err := mustStart(t, mustBuild(t, spec), flood.Settings{}).Finish(t.Context())
	goes := (volume - mass/1000) / flow
	if err != nil || r.Ended != flood.EndedSettled || r.Fate != flood.Floats || r.Sections[0].Fate != flood.Floats ||
		r.Sections[1].Fate != flood.Founders || !(math.Abs(r.Sections[1].Foundered-goes) <= 1e-5*goes) || r.Duration != r.Sections[1].Foundered {
		t.Errorf("%v, foundered at %g by hand: %+v", err, goes, r)
	}
}

// What a bell cannot hold leaves under its mouth: tanks that fill, airtight but for ways into the well at their top, press their air
// there until its water stands at the mouth. Then the well is all air, under the pressure of the draft T, and bears as much as the
// tanks do: T = (m/ρ + V)/(A_w + A_c).
func TestAirLeavesUnderTheMouth(t *testing.T) {
	s := well()
	s.Weights[0].Mass, s.Weights[0].At.X = 2.5, 0.59
	upper, lower, deep := &[2]float64{0, 0.2}, &[2]float64{0.2, 0.6}, s.Compartments[1].Z
	port, starboard := s.Compartments[1].Y, s.Compartments[2].Y
	s.Compartments = []compartment.CompartmentSpec{s.Compartments[0],
		{Name: "port", X: lower, Y: port, Z: deep, Airtight: true}, {Name: "starboard", X: lower, Y: starboard, Z: deep, Airtight: true},
		{Name: "void-p", X: upper, Y: port, Z: deep}, {Name: "void-s", X: upper, Y: starboard, Z: deep}}
	for i := range 2 {
		s.Openings[i].Shuts = []compartment.Condition{{Time: ptr(95.0)}}
	}
	s.Openings = append(s.Openings,
		bored("way-p", "port", "well", r3.Vec{X: 0.21, Y: 0.05, Z: 0.06}, r3.Vec{Y: 1}, 0.01),
		bored("way-s", "starboard", "well", r3.Vec{X: 0.21, Y: -0.05, Z: 0.06}, r3.Vec{Y: 1}, 0.01))
	var last flood.Sample
	set := flood.Settings{Until: 300, Samples: func(s *flood.Sample) {
		last = flood.Sample{Time: s.Time, Bodies: append([]flood.BodySample(nil), s.Bodies...), Spaces: append([]flood.SpaceSample(nil), s.Spaces...)}
	}}
	r, err := mustStart(t, mustBuild(t, s), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil || r.Ended != flood.EndedSettled {
		t.Fatalf("%v, %+v", err, r)
	}
	draft := (2.5e-3 + 4e-5*90) / (2*0.04*0.12 + 0.1*0.12)
	stern, inside := last.Bodies[0], last.Spaces[0]
	if math.Abs(stern.DraftFore-draft) > 1e-5*draft || inside.Depth > 1e-5 || math.Abs(inside.Air-9806.65*draft) > 0.1 {
		t.Errorf("draft %g, by hand %g; %+v", stern.DraftFore, draft, inside)
	}
	if math.Abs(r.WaterBalance) > 1e-12*r.WaterCrossed || math.Abs(r.AirBalance) > 1e-12*r.AirCrossed {
		t.Errorf("water %g of %g, air %g of %g", r.WaterBalance, r.WaterCrossed, r.AirBalance, r.AirCrossed)
	}
}

// A bell's air leaves by a hole at its top: in the end the well is full, and the tanks alone bear the section.
func TestBellLosesItsAir(t *testing.T) {
	s := well()
	s.Openings = []compartment.OpeningSpec{bored("vent", "well", "outside", r3.Vec{X: 0, Z: 0.06}, r3.Vec{X: -1}, 0.003)}
	s.Weights[0].Mass = 4.5
	var last flood.Sample
	set := flood.Settings{Until: 3000, Samples: func(s *flood.Sample) {
		last = flood.Sample{Time: s.Time, Bodies: append([]flood.BodySample(nil), s.Bodies...), Spaces: append([]flood.SpaceSample(nil), s.Spaces...)}
	}}
	r, err := mustStart(t, mustBuild(t, s), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil || r.Ended != flood.EndedSettled {
		t.Fatalf("%v, %+v", err, r)
	}
	// open at the top it is a well: nothing ever pressed its air, level and sea are one
	if stern, inside := last.Bodies[0], last.Spaces[0]; math.Abs(stern.DraftFore-4.5e-3/(2*0.04*0.12)) > 1e-9 ||
		math.Abs(inside.Depth-stern.DraftFore) > 1e-9 || math.Abs(inside.Air) > 1e-6 {
		t.Errorf("%+v, %+v", stern, inside)
	}
}

// TestOneSectionSettles: parted at 1 s, the dry bow has come to rest long before the time is up, at which the stern still takes in water;
// not if something of the bow is still to open.
func TestOneSectionSettles(t *testing.T) {
	spec := bargeSpec()
	spec.Weights = []compartment.WeightSpec{
		{Name: "aft", Mass: 6, At: r3.Vec{X: 0.25, Z: 0.03}, Over: &[2]float64{0, 0.5}, Size: &[3]float64{0.5, 0.15, 0.02}},
		{Name: "fore", Mass: 6, At: r3.Vec{X: 0.75, Z: 0.03}, Over: &[2]float64{0.5, 1}, Size: &[3]float64{0.5, 0.15, 0.02}},
	}
	spec.Bulkheads = []compartment.BulkheadSpec{{Name: "B", At: 0.5}}
	spec.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "fore"}}
	spec.Joints = []compartment.JointSpec{{Name: "J", At: 0.5, Keeps: compartment.KeepBoth, Sections: [2]string{"stern", "bow"}, Release: []compartment.Condition{{Time: ptr(1.0)}}}}
	spec.Openings = []compartment.OpeningSpec{bored("leak", "outside", "aft", r3.Vec{X: 0.2}, r3.Vec{Z: -1}, 0.004)}
	later := bored("later", "outside", "fore", r3.Vec{X: 0.8}, r3.Vec{Z: -1}, 0.004)
	later.Opens = []compartment.Condition{{Time: ptr(1000.0)}}
	for _, motion := range []flood.Motion{flood.Settled, flood.Free} {
		for want, more := range map[flood.Fate][]compartment.OpeningSpec{flood.Floats: nil, flood.Undecided: {later}} {
			s := spec
			s.Openings = append(slices.Clone(spec.Openings), more...)
			r, err := mustStart(t, mustBuild(t, s), flood.Settings{Motion: motion, Until: 120}).Finish(t.Context())
			if err != nil || r.GaveUp != nil || len(r.Sections) != 2 {
				t.Fatalf("%s: %v, %+v", motion, err, r)
			}
			if r.Sections[0].Fate != flood.Undecided || r.Sections[1].Fate != want || r.Fate != flood.Undecided {
				t.Errorf("%s: %s, the stern %s, the bow %s, want undecided, undecided, %s", motion, r.Fate, r.Sections[0].Fate, r.Sections[1].Fate, want)
			}
			rests := slices.ContainsFunc(r.Events, func(e flood.Event) bool { return e.Kind == flood.SettledDown && e.Section == "bow" })
			if rests != (want == flood.Floats) {
				t.Errorf("%s: the bow has settled: %t, and %s", motion, rests, want)
			}
		}
	}
}
