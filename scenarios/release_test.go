package scenarios

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
)

// releaseOf runs a variant of the demo parting with a story, and keeps what a test needs beside it.
func releaseOf(t *testing.T, variant string) (ReleaseDesign, []flood.Sample, string, *flood.Result) {
	t.Helper()
	folder, data, err := OpenDemo("parting")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read(folder, "demo:parting", data)
	if err == nil && variant != "" {
		s, err = s.Variant(variant)
	}
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	story, set := NewStory(s, v), s.Run.Settings()
	var samples []flood.Sample
	set.NoCurve, set.Until = true, 230
	set.Samples = func(q *flood.Sample) {
		story.Sample(q)
		c := *q
		c.Bodies, c.Joints = slices.Clone(q.Bodies), slices.Clone(q.Joints)
		samples = append(samples, c)
	}
	run, err := flood.Start(v, set)
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	var text bytes.Buffer
	if err := story.Write(&text, r); err != nil {
		t.Fatal(err)
	}
	designs := story.Releases(r)
	if len(designs) != 1 || designs[0].Name != "J1" {
		t.Fatalf("%+v", designs)
	}
	return designs[0], samples, text.String(), r
}

// The design of the demo's release against its own numbers: the lever is the deck's height at the joint, 124 mm in the table of offsets;
// the pull is the bending over it; a latch set light goes where the samples say that the bending was so great; a link is wetted where
// the mean of the drafts at the ends has the sea at mid-length, where the joint is.
func TestReleaseDesign(t *testing.T) {
	d, samples, text, r := releaseOf(t, "")
	if math.Abs(d.Lever-0.124) > 1e-6 || math.Abs(d.Set-1.45) > 1e-5 || !d.Hogs || !d.ByLoad() || d.Cause != "hogging" || d.Parted != r.Separations[0].Time {
		t.Errorf("%+v", d)
	}
	for _, v := range d.Devices() {
		pull, pin := 1.45/0.124, math.Hypot(1.45/0.124, d.Last.Shear)
		want := map[string]Device{
			"servo-pin":    {Carries: 2 * math.Hypot(1.45/0.124, d.Shear.Value), LetsGo: pin, Draws: 0.6 * pin},
			"soluble-link": {Carries: 2 * pull, LetsGo: pull},
			"magnet-pair":  {Carries: 0.8 * pull, LetsGo: pull},
			"spring-latch": {Carries: 0.8 * pull, LetsGo: pull, Bench: 1.45 / 0.980665},
		}[v.Kind]
		for k, off := range []float64{v.Carries - want.Carries, v.LetsGo - want.LetsGo, v.Draws - want.Draws, v.Bench - want.Bench} {
			if math.Abs(off) > 1e-3 {
				t.Errorf("%s, value %d: %+v, by hand %+v", v.Kind, k, v, want)
			}
		}
	}
	if len(d.Light) != 3 || len(d.Wetting) != 4 {
		t.Fatalf("%+v, %+v", d.Light, d.Wetting)
	}
	for _, l := range d.Light {
		i := slices.IndexFunc(samples, func(s flood.Sample) bool { return s.Joints[0].Bending >= l.Share*1.45 })
		if !(l.Time <= samples[i].Time && l.Time >= samples[i-1].Time) || l.Trim > samples[i].Bodies[0].Trim {
			t.Errorf("set to %g it goes at %g s, trim %g; the samples have it at %g s", l.Share, l.Time, l.Trim, samples[i].Time)
		}
	}
	for _, h := range d.Wetting {
		i := slices.IndexFunc(samples, func(s flood.Sample) bool { return s.Time >= d.Parted-h.Seconds })
		b := samples[i].Bodies[0]
		if want := (b.DraftFore + b.DraftAft) / 2 / math.Cos(b.Trim); math.Abs(h.Height-want) > 1e-4 { // the sea rises by 0.1 mm a second
			t.Errorf("%g s before, the sea stood at %g m, by the drafts %g", h.Seconds, h.Height, want)
		}
	}
	for _, want := range []string{"Release at J1 (parts at", "factor of 1.25", "Servo pin: carries", "no source", "Nothing that burns"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
}

// Let go on command before that, the joint is designed by what it bore until then, and may hold less.
func TestReleaseOnCommand(t *testing.T) {
	early, _, _, r := releaseOf(t, "servo")
	if early.Cause != "trim" || !(early.Set < 1.2) || early.Hogging.Value > 1.001*early.Set || early.Last.Bending != r.Separations[0].Bending {
		t.Errorf("%+v", early)
	}
}

// A joint that bore more before cannot be let go by load, nor one that nothing bends; one that never lets go has no load to go at.
func TestReleaseNotByLoad(t *testing.T) {
	w := Words{scale: 1}
	d := ReleaseDesign{Lever: 0.1, Set: 1, Hogs: true, Cause: "time", Passed: math.NaN()}
	d.Hogging, d.Parted = flood.Extreme{Value: 2, Time: 5}, 9
	d.follow(&jointTrack{time: []float64{0, 5, 9}, bending: []float64{0, 2, 1}, trim: []float64{0, 0, 0}, sea: []float64{0, 0, 0}})
	if d.ByLoad() || d.Passed != 5 || len(d.Devices()) != 2 || len(d.Light) != 0 {
		t.Errorf("%+v", d)
	}
	if text := strings.Join(w.releaseLines(&d), "\n"); !strings.Contains(text, "By load no latch can go at that moment: it bore more at 5.0 s") {
		t.Error(text)
	}
	d.Passed, d.Set = math.NaN(), 0.05
	if text := strings.Join(w.releaseLines(&d), "\n"); d.ByLoad() || !strings.Contains(text, "next to nothing bends it then") {
		t.Error(text)
	}
	d = ReleaseDesign{Lever: 0.1, Passed: math.NaN()}
	d.Sagging = flood.Extreme{Value: 2, Time: 5}
	if v := d.Devices(); len(v) != 2 || math.Abs(v[1].Carries-40) > 1e-12 {
		t.Errorf("%+v", v)
	}
	e := newReleaseEntry(&d)
	if e.Set != nil || e.Cause != nil || e.Devices[0].LetsGo != nil || e.Loads[1].AtParting != nil || *e.Loads[1].Greatest != 2 {
		t.Errorf("%+v", e)
	}
}
