package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// sinkingHull is onEnd with a hold that the joint's plane divides, which parts after 100 s.
func sinkingHull() compartment.Spec {
	s := onEnd()
	s.Bulkheads = s.Bulkheads[:1]
	s.Compartments = []compartment.CompartmentSpec{{Name: "poop", Airtight: true}, {Name: "hold"}}
	s.Openings = []compartment.OpeningSpec{
		bored("cut", "outside", "hold", r3.Vec{X: 1.1, Y: 0.09, Z: 0.02}, r3.Vec{Y: 1}, 0.008),
		bored("limber", "hold", "poop", r3.Vec{X: 0.25, Z: 0.012}, r3.Vec{X: 1}, 0.014),
	}
	s.Joints[0].Release = []compartment.Condition{{Time: ptr(100.0)}}
	return s
}

// At any time of a run the float test finds the bodies where the run has them, and looking leaves no trace in the run: drafts to 3e-8
// m (a rest is found to 1e-12 of the length; a stage may leave 2e-8 of it, see near, and mostly leaves some 1e-9). Mass and water of the pieces are those of the whole.
func TestFloatTestOfAStage(t *testing.T) {
	for name, spec := range map[string]compartment.Spec{"on end": onEnd(), "divided": sinkingHull()} {
		v := mustBuild(t, spec)
		var whole, watched trail
		run := mustStart(t, v, flood.Settings{Until: 260, Samples: whole.sample})
		for run.Result().Ended == flood.Running {
			whole.step(run, run.Step())
		}
		var bodies []flood.BodySample
		set := flood.Settings{Until: 260, Samples: func(s *flood.Sample) { watched.sample(s); bodies = append(bodies[:0], s.Bodies...) }}
		run = mustStart(t, v, set)
		looked, apart := 0, 0
		for n := 0; run.Result().Ended == flood.Running; n++ {
			watched.step(run, run.Step())
			if n%5 != 0 {
				continue
			}
			tests := run.FloatTest()
			looked++
			for k, b := range run.Result().Sections {
				i := slices.IndexFunc(tests, func(f compartment.Floating) bool { return f.Name == b.Name })
				f := tests[i]
				if !math.IsNaN(b.Foundered) {
					apart++
					if f.Floats {
						t.Errorf("%s: %s has foundered and floats", name, b.Name)
					}
					continue
				}
				body := v.Pieces[0]
				if b.Name == "hull" {
					body = v.Whole
				}
				fore, aft := body.Drafts(run.Pose(k))
				if math.Abs(f.DraftFore-fore) > 3e-8 || math.Abs(f.DraftAft-aft) > 3e-8 {
					t.Errorf("%s, %g s: %s draws %g and %g m, in the run %g and %g", name, run.Time(), b.Name, f.DraftFore, f.DraftAft, fore, aft)
				}
				if b.Name == "hull" && math.Abs(tests[i+1].Mass+tests[i+2].Mass-f.Mass) > 1e-12*f.Mass {
					t.Errorf("%s, %g s: pieces of %g and %g kg in a whole of %g", name, run.Time(), tests[i+1].Mass, tests[i+2].Mass, f.Mass)
				}
			}
		}
		if at := firstDifference(whole.bits, watched.bits); at >= 0 || looked < 3 {
			t.Errorf("%s: looked %d times, and the run differs from number %d of %d on", name, looked, at, len(whole.bits))
		}
		if apart == 0 {
			t.Errorf("%s: nothing came apart", name)
		}
	}
}

// A space that a parting has cut open is open to the sea in the float test too: the stern's hold stands at sea level, its water is no
// load of hers.
func TestFloatTestOfAnOpenSpace(t *testing.T) {
	s := sinkingHull()
	s.Joints[0].Release = []compartment.Condition{{Time: ptr(10.0)}}
	s.Weights[0].At.X = 0.22
	s.Bulkheads = append(s.Bulkheads, compartment.BulkheadSpec{Name: "B2", At: 0.45})
	s.Compartments = []compartment.CompartmentSpec{{Name: "poop", Airtight: true}, {Name: "engine"}, {Name: "hold"}}
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "hold", r3.Vec{X: 1.1, Y: 0.09, Z: 0.02}, r3.Vec{Y: 1}, 0.008)}
	v := mustBuild(t, s)
	run := mustStart(t, v, flood.Settings{Until: 12})
	r, err := run.Finish(t.Context())
	if err != nil || len(r.Separations) != 1 {
		t.Fatalf("%v, %+v", err, r)
	}
	f := run.FloatTest()[0]
	if f.Name != "stern" || !f.Floats || len(f.Aboard) != 3 {
		t.Fatalf("%+v", f)
	}
	hold := f.Aboard[2]
	if hold.Name != "hold.stern" || !hold.Open || !(hold.Volume > 0) {
		t.Errorf("aboard: %+v", f.Aboard)
	}
	// 5 kg of her own, and nothing of the water
	if math.Abs(f.Mass-5) > 1e-9 {
		t.Errorf("she weighs %g kg", f.Mass)
	}
	fore, _ := v.Pieces[0].Drafts(f.Pose)
	if want := 0.15 * 0.18 * (f.DraftAft + (fore-f.DraftAft)*0.525/0.6); math.Abs(hold.Volume-want) > 0.01*want {
		t.Errorf("%g m³ in the hold, by the drafts %g", hold.Volume, want)
	}
}
