package flood_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// worstOf steps through a run of a vessel and draws the whole curve at the end of every step while the hull is whole; it gives the
// greatest bending of all.
func worstOf(t *testing.T, v *compartment.Vessel, set flood.Settings) (most float64, res *flood.Result) {
	t.Helper()
	run := mustStart(t, v, set)
	loads, f := v.NewLoads(v.Whole, true), compartment.NewFloater(v.Whole, v.Water.Density, true)
	look := func() {
		if len(run.Result().Separations) == 0 {
			f.Levels(run.Pose(0).Up, run.Water())
			most = math.Max(most, math.Abs(loads.Curve(&compartment.LoadCase{Pose: run.Pose(0), Surfaces: f.Surfaces()}).Peak.Value))
		}
	}
	for look(); run.Result().Ended == flood.Running; look() {
		run.Step()
	}
	return most, run.Result()
}

// The curve of a run is that of the moment at which the hull bent most of all, joint or none: against a curve at the end of every
// step. It is chosen by peaks among 23 places, so that a moment with a peak between them may be passed over for another: by less than
// what a parabola through its neighbours leaves there, under 1 %. The moment of a parting is not among the ends of steps as the test
// sees them, and may be worse.
func TestWorstBending(t *testing.T) {
	specs := map[string]compartment.Spec{"no joint": endSpec(), "jointed": jointedSpec(), "on end": onEnd(), "mid": midSpec()}
	for name, spec := range specs {
		want, r := worstOf(t, mustBuild(t, spec), flood.Settings{Until: 300})
		if r.Curve == nil {
			t.Fatalf("%s: no curve", name)
		}
		got := math.Abs(r.Curve.Peak.Value)
		t.Logf("%s: %.5g N·m at %.1f s and %.3f m, of all steps %.5g", name, got, r.Curve.Time, r.Curve.Peak.X, want)
		if got < 0.99*want || len(r.Separations) == 0 && got > want*(1+1e-9) {
			t.Errorf("%s: the worst bending is %g N·m, at the steps' ends %g", name, got, want)
		}
	}
}

// Many steps make the moments that are kept go two for one, and a run that is taken up again finds the same curve and the same loads.
func TestWorstBendingOverASave(t *testing.T) {
	v := mustBuild(t, onEnd())
	set := flood.Settings{Until: 300, Tolerance: 1e-9}
	run := mustStart(t, v, set)
	for run.Time() < 60 {
		run.Step()
	}
	data, err := run.Save()
	if err != nil {
		t.Fatal(err)
	}
	again, err := flood.Resume(v, set, data)
	if err != nil {
		t.Fatal(err)
	}
	one, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	two, err := again.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if one.Stats.Steps < 300 || one.Curve.Time != two.Curve.Time || one.Curve.Peak != two.Curve.Peak || fmt.Sprint(one.Joints) != fmt.Sprint(two.Joints) { // printed: NaN is not itself
		t.Errorf("%d steps; %+v and %+v, %+v and %+v", one.Stats.Steps, one.Curve.Peak, two.Curve.Peak, one.Joints[0], two.Joints[0])
	}
	want, _ := worstOf(t, v, set)
	if got := math.Abs(one.Curve.Peak.Value); got < 0.99*want {
		t.Errorf("the worst bending is %g N·m, at the steps' ends %g", got, want)
	}
	set.NoCurve = true
	if bare, err := mustStart(t, v, set).Finish(t.Context()); err != nil || bare.Curve != nil || fmt.Sprint(bare.Joints) != fmt.Sprint(one.Joints) {
		t.Errorf("%v: without a curve %+v, %+v", err, bare.Curve, bare.Joints)
	}
}

// What a joint bore is what the samples say: the greatest of each kind before it parted, to what lies between samples, and at the
// parting the bending that let it go.
func TestJointLoads(t *testing.T) {
	var hogging, sagging, shear float64
	set := flood.Settings{Until: 300, Every: 0.25, Samples: func(s *flood.Sample) {
		if j := s.Joints[0]; j.Present {
			hogging, sagging, shear = math.Max(hogging, j.Bending), math.Max(sagging, -j.Bending), math.Max(shear, math.Abs(j.Shear))
		}
	}}
	r, err := mustStart(t, mustBuild(t, onEnd()), set).Finish(t.Context())
	if err != nil || len(r.Separations) != 1 {
		t.Fatalf("%v, %+v", err, r)
	}
	j := r.Joints[0]
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"hogging", j.Hogging.Value, hogging}, {"sagging", j.Sagging.Value, sagging}, {"shear", j.Shear.Value, shear}} {
		if math.Abs(c.got-c.want) > 0.01*math.Max(c.want, 0.01) {
			t.Errorf("%s: %g, by the samples %g", c.name, c.got, c.want)
		}
	}
	if j.Name != "J" || j.Parted != r.Separations[0].Time || j.Last.Bending != r.Separations[0].Bending || j.Last.Shear != r.Separations[0].Shear {
		t.Errorf("%+v; %+v", j, r.Separations)
	}
}
