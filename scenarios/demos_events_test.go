package scenarios

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// Every event of every demo against a run at a thousandth of the tolerance: the same order, and its time within 2 % (settled,
// which comes slowly) or 0.1 % (all others) or 0.02 s (issue 3).
func TestDemoEventsAtFinerTolerance(t *testing.T) {
	tooLongUnderRace(t)
	for _, d := range Demos() {
		t.Run(d.Name, func(t *testing.T) {
			folder, data, err := OpenDemo(d.Name)
			if err != nil {
				t.Fatal(err)
			}
			s, err := Read(folder, DemoPrefix+d.Name, data)
			if err != nil {
				t.Fatal(err)
			}
			v, err := compartment.Build(s.Spec)
			if err != nil {
				t.Fatal(err)
			}
			set := flood.Settings{Until: s.Run.Until, Motion: flood.Motion(s.Run.Motion), Keel: s.Run.Keel, Tolerance: flood.DefaultTolerance}
			got := demoEvents(t, v, set)
			set.Tolerance /= 1000
			want := demoEvents(t, v, set)
			if len(got) != len(want) || len(got) == 0 {
				t.Fatalf("events %v\nat a thousandth of the tolerance %v", got, want)
			}
			for i, e := range got {
				w, share := want[i], 0.001
				if e.Kind == flood.SettledDown {
					share = 0.02
				}
				off := math.Abs(e.Time - w.Time)
				t.Logf("%-16s %-12s %10.4f s, %.2g s off", e.Kind, e.Name, e.Time, off)
				if e.Kind != w.Kind || e.Name != w.Name || !(off <= max(share*w.Time, 0.02)) {
					t.Errorf("%v, at a thousandth of the tolerance %v", e, w)
				}
			}
		})
	}
}

// demoEvents are the events of a run to its end.
func demoEvents(t *testing.T, v *compartment.Vessel, set flood.Settings) []flood.Event {
	t.Helper()
	run, err := flood.Start(v, set)
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if r.GaveUp != nil {
		t.Fatalf("gave up: %+v", *r.GaveUp)
	}
	if !(math.Abs(r.WaterBalance) <= 1e-12*r.WaterCrossed) {
		t.Errorf("balance %g m³ of %g that crossed", r.WaterBalance, r.WaterCrossed)
	}
	return r.Events
}
