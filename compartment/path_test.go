package compartment

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// results are all that a vessel is to its users, in plain values.
func results(v *Vessel) []any {
	out := []any{v.Spec, v.Water, v.Air, v.Depth, v.Marks, v.Notes}
	body := func(b *Body) {
		out = append(out, b.Name, b.First, b.Last, b.Form.Volume(), b.Form.Centroid(), b.Form.Second(), b.Mass, b.Centre, b.Inertia,
			b.LaterMass, b.LaterCentre, b.LaterInertia, b.DeckEdge, b.KeelAft, b.KeelFore, b.KeelMiddle, b.Appendages == nil, b.LaterAppendages == nil)
		for _, s := range b.Spaces {
			out = append(out, s.Name, s.Index, s.Room.Volume(), s.Room.Centroid(), s.Room.Second(), s.Fraction, s.Airtight, s.Start, s.Piece)
		}
		if b.Appendages != nil {
			out = append(out, b.Appendages.Volume(), b.Appendages.Centroid())
		}
	}
	body(v.Whole)
	for _, p := range v.Pieces {
		body(p)
	}
	for _, p := range v.Passages {
		out = append(out, p.Name, p.From, p.To, p.Figure.Centre(), p.Figure.Normal(), p.Figure.Area(), p.Law, p.Pump, p.Listed, p.Bulkhead, p.Joint, p.Angle)
	}
	for _, b := range v.Bulkheads {
		out = append(out, *b)
	}
	return out
}

// sameVessel compares two vessels bit by bit.
func sameVessel(t interface{ Fatalf(string, ...any) }, path string, a, b *Vessel) {
	x, y := results(a), results(b)
	if !reflect.DeepEqual(x, y) {
		t.Fatalf("after %s With and Build differ: %s", path, cmp.Diff(x, y, cmp.Exporter(func(reflect.Type) bool { return true })))
	}
}

// TestWithEqualsBuild: with any value changed, some after others, With gives the vessel that Build makes of the changed
// description, or the same faults; and it shares the hull unless that is what changed.
func TestWithEqualsBuild(t *testing.T) {
	first := mustBuild(t, barge())
	paths := append(first.Spec.Paths(), "openings.cut.cd", "bulkheads.B1.top", "compartments.fore.permeability", "hull.contact_angle", "joints.J1.holds.shear")
	rapid.Check(t, func(t *rapid.T) {
		v := first
		for range rapid.IntRange(1, 3).Draw(t, "changes") {
			path := rapid.SampledFrom(paths).Draw(t, "path")
			value, err := v.Spec.Value(path)
			if err != nil {
				value = 0.5
			}
			value *= rapid.SampledFrom([]float64{0.97, 0.999, 1.0005, 1.02, 1.5, -1}).Draw(t, "factor")
			next, err := v.With(path, value)
			spec := v.Spec
			if setErr := spec.set(path, value); setErr != nil {
				t.Fatalf("%s: %v", path, setErr)
			}
			fresh, freshErr := Build(spec)
			if (err == nil) != (freshErr == nil) || err != nil && err.Error() != freshErr.Error() {
				t.Fatalf("%s = %g: With says %v, Build %v", path, value, err, freshErr)
			}
			if err != nil {
				continue
			}
			if got, _ := next.Spec.Value(path); got != value {
				t.Fatalf("%s is %g, want %g", path, got, value)
			}
			sameVessel(t, path, next, fresh)
			if kept := next.Whole.Form == v.Whole.Form; kept == strings.HasPrefix(path, "hull.box") {
				t.Fatalf("after %s the hull is kept: %v", path, kept)
			}
			v = next
		}
	})
	sameVessel(t, "all of it", first, mustBuild(t, barge())) // nothing reached back into the first
}

// TestWithShares: what a value does not touch is the same object.
func TestWithShares(t *testing.T) {
	v := mustBuild(t, barge())
	with := func(path string, value float64) *Vessel {
		t.Helper()
		next, err := v.With(path, value)
		if err != nil {
			t.Fatal(err)
		}
		return next
	}
	wider := with("openings.cut.slot.width", 0.0015)
	if &wider.Spaces[0] != &v.Spaces[0] || wider.Passages[0] == v.Passages[0] || wider.Passages[1] != v.Passages[1] {
		t.Error("a slot's width touches more than that slot")
	}
	lower := with("bulkheads.B2.top", 0.08)
	if lower.Spaces[1] != v.Spaces[1] || lower.Bulkheads[1].Passage < 0 || areaOf(lower.Bulkheads[1].Gap) <= areaOf(v.Bulkheads[1].Gap) {
		t.Error("a bulkhead's top touches the spaces, or not its gap")
	}
	moved := with("bulkheads.B1.at", 0.3005)
	if moved.Spaces[1].Room == v.Spaces[1].Room {
		t.Error("a moved bulkhead leaves its spaces as they were")
	}
	lighter := with("weights.engine.mass", 0.4)
	if &lighter.Spaces[0] != &v.Spaces[0] || lighter.Passages[0] != v.Passages[0] || lighter.Whole.Mass >= v.Whole.Mass {
		t.Error("a weight without volume touches spaces or openings, or not the mass")
	}
	if lead := with("weights.lead.mass", 2.1); lead.Spaces[1].Room == v.Spaces[1].Room || lead.Spaces[0].Room != v.Spaces[0].Room {
		t.Error("a solid changes its own compartment alone")
	}
	longer := with("hull.box.length", 1.004)
	if longer.Whole.Form == v.Whole.Form || longer.Whole.Form.Volume() <= v.Whole.Form.Volume() {
		t.Error("a longer hull is the old one")
	}
}

// TestPaths: every path that is listed has a value and can be set to it; those of the brief are there.
func TestPaths(t *testing.T) {
	v := mustBuild(t, barge())
	all := v.Spec.Paths()
	for _, p := range []string{"bulkheads.B2.top", "openings.cut.slot.width", "openings.valve.cd", "weights.house.at.z", "joints.J1.holds.hogging",
		"hull.shell.mass", "hull.box.length", "water.temperature", "compartments.mid.permeability", "compartments.wing.x.0",
		"compartments.mid.starts", "openings.pump.opens.time", "marks.M1.at.x", "weights.house.over.1", "weights.lead.size.2"} {
		if !slices.Contains(all, p) {
			t.Errorf("%s is not listed", p)
		}
	}
	seen := map[string]bool{}
	for _, p := range all {
		if seen[p] {
			t.Errorf("%s is listed twice", p)
		}
		seen[p] = true
		value, err := v.Spec.Value(p)
		if err != nil {
			t.Errorf("%s: %v", p, err)
			continue
		}
		same, err := v.With(p, value)
		if err != nil {
			t.Errorf("%s: %v", p, err)
			continue
		}
		near(t, p+" mass", same.Whole.Mass, v.Whole.Mass, 0)
	}
}

// TestUnknownPath: an error with the nearest path, and no panic, whatever the words.
func TestUnknownPath(t *testing.T) {
	v := mustBuild(t, barge())
	for path, want := range map[string]string{
		"openings.cut.slot.widht": "openings.cut.slot.width", "bulkheads.B2.tops": "bulkheads.B2.top", "weights.enginne.mass": "weights.engine.mass",
		"": "", "hull": "", "nonsense.at.all": "", "bulkheads.9.at": "bulkheads.B1.at", "openings.cut.hole": "openings.cut.wall",
		"openings.cut.slot.width.deeper": "", "weights..mass": "", "hull.shell.thickness": "",
	} {
		_, err := v.With(path, 1)
		var faults Faults
		if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Path != path {
			t.Errorf("%q: %v", path, err)
			continue
		}
		if want != "" && !strings.Contains(faults[0].Want, want) {
			t.Errorf("%q: %v, want %s", path, err, want)
		}
		if _, err := v.Spec.Value(path); err == nil {
			t.Errorf("%q has a value", path)
		}
	}
	if _, err := v.With("weights.engine.mass", math.NaN()); err == nil {
		t.Error("NaN is a mass")
	}
	if _, err := v.Spec.Value("openings.cut.cd"); err == nil {
		t.Error("a value that is not given has one")
	}
}
