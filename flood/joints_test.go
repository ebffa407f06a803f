package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// jointedSpec is a box barge with a joint amidships, of two equal halves of even mass at the height of the centre of buoyancy, so
// that the trim is by the second moment of the waterplane alone; holed at the fore end.
func jointedSpec() compartment.Spec {
	s := bargeSpec()
	s.Weights = []compartment.WeightSpec{
		{Name: "aft", Mass: 5, At: r3.Vec{X: 0.25, Z: 0.025}, Over: &[2]float64{0, 0.5}},
		{Name: "fore", Mass: 5, At: r3.Vec{X: 0.75, Z: 0.025}, Over: &[2]float64{0.5, 1}},
	}
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.8}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}, {Name: "peak"}}
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "peak", r3.Vec{X: 0.9, Y: 0.1, Z: 0.01}, r3.Vec{Y: 1}, 0.004)}
	s.Joints = []compartment.JointSpec{{Name: "J", At: 0.5, Sections: [2]string{"stern", "bow"}}}
	return s
}

// With water of mass m in the fore end the barge of even breadth trims; for a small angle the load amidships is by hand: the fore
// half weighs half of the hull and m, and displaces its share of a wedge: bending = −Σ F x, hogging positive. The free surface of
// the end, 0.2 m long, takes its own second moment off the waterplane's, and its water runs forward by as much.
func bendingByHand(mass, at float64) float64 {
	const length, breadth, hull, end = 1.0, 0.2, 10.0, 0.2
	mean := (hull + mass) / (1000 * breadth * length)
	surface := 1000 * breadth * end * end * end / 12
	slope := mass * (at - length/2) / (1000*breadth*length*length*length/12 - surface) // draft gained per metre forward
	buoyancy := 1000 * breadth * (mean*0.125 + slope*0.125/3)
	return -9.80665 * (buoyancy - hull/2*0.25 - mass*(at-length/2) - surface*slope)
}

func TestBendingAsAnEndFloods(t *testing.T) {
	checked := 0
	set := flood.Settings{Until: 60, Every: 5, Samples: func(s *flood.Sample) {
		water := 1000 * s.Spaces[1].Water
		if water < 0.02 || water > 0.3 || s.Event {
			return
		}
		checked++
		j := s.Joints[0]
		if want := bendingByHand(water, 0.9); !j.Present || math.Abs(j.Bending-want) > 0.01*math.Abs(want) {
			t.Errorf("%.0f s: %.4f kg forward, %.5f N·m, by hand %.5f", s.Time, water, j.Bending, want)
		}
	}}
	r, err := mustStart(t, mustBuild(t, jointedSpec()), set).Finish(t.Context())
	if err != nil || checked < 3 {
		t.Fatalf("%v, %d checked", err, checked)
	}
	if r.Curve == nil || math.Abs(r.Curve.Peak.Value) < math.Abs(bendingByHand(0.3, 0.9)) {
		t.Errorf("the curve of the worst moment: %+v", r.Curve)
	}
}

// A joint lets go when what it holds is asked of it, at the time at which the samples say so; a release at its time.
func TestJointLetsGo(t *testing.T) {
	spec := jointedSpec()
	limit := math.Abs(bendingByHand(0.15, 0.9))
	spec.Joints[0].Holds = compartment.HoldSpec{Sagging: &limit, Hogging: &limit}
	before, after := math.NaN(), math.NaN()
	set := flood.Settings{Every: 0.1, Samples: func(s *flood.Sample) {
		switch j := s.Joints[0]; {
		case j.Present && math.Abs(j.Bending) < limit:
			before = s.Time
		case math.IsNaN(after):
			after = s.Time
		}
	}}
	r, err := mustStart(t, mustBuild(t, spec), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil || len(r.Separations) != 1 {
		t.Fatalf("%v, %+v, %+v", err, r.GaveUp, r.Separations)
	}
	if s := r.Separations[0]; s.Time < before || s.Time > after || math.IsNaN(before) || s.Cause != "hogging" && s.Cause != "sagging" {
		t.Errorf("%+v, between %.4f and %.4f", s, before, after)
	}
	spec.Joints[0].Holds = compartment.HoldSpec{}
	spec.Joints[0].Release = []compartment.Condition{{Time: ptr(12.5)}, {Trim: ptr(0.5)}}
	if r, err = mustStart(t, mustBuild(t, spec), flood.Settings{}).Finish(t.Context()); err != nil || len(r.Separations) != 1 || math.Abs(r.Separations[0].Time-12.5) > 1e-9 {
		t.Errorf("released at 12.5 s: %v, %+v", err, r)
	}
}
