package study_test

import (
	"context"
	"errors"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios/study"
)

// Every model of a study stands on the tree that was built first: variants, grids and draws.
func TestTheHullIsBuiltOnce(t *testing.T) {
	m := read(t, clamped)
	form := m.Vessel.Whole.Form
	for _, name := range []string{"wide", "tall"} {
		v, err := m.Variant(name)
		if err != nil {
			t.Fatal(err)
		}
		if v.Vessel.Whole.Form != form {
			t.Errorf("the variant %s built its hull anew", name)
		}
	}
	axis, err := study.NewAxis("openings.cut.hole", 0.01, 0.03, 3)
	if err != nil {
		t.Fatal(err)
	}
	points, err := study.Grid([]study.Column{{Model: m}}, []study.Axis{axis})
	if err != nil {
		t.Fatal(err)
	}
	d, err := study.NewDesign(m, study.LatinHypercube, 100, 1)
	if err != nil {
		t.Fatal(err)
	}
	models := []*study.Model{points[0].Model, points[2].Model}
	for run := range 100 {
		drawn, _, _, err := d.Model(m, run)
		if err != nil {
			t.Fatal(err)
		}
		models = append(models, drawn)
	}
	for _, p := range models {
		if p.Vessel.Whole.Form != form {
			t.Fatal("a model of a study built its hull anew")
		}
	}
}

// A variant that sets more than numbers is built anew, and right.
func TestVariantsThatAreNotNumbers(t *testing.T) {
	v, err := read(t, clamped).Variant("door")
	if err != nil {
		t.Fatal(err)
	}
	if v.Vessel.Spec.Openings[0].Door == nil || v.Vessel.Spec.Openings[0].Hole != nil {
		t.Errorf("the opening is %+v", v.Vessel.Spec.Openings[0])
	}
}

func TestValuesOfTheRun(t *testing.T) {
	m := read(t, clamped)
	changed, err := m.With([]study.Value{{Path: "run.until", Value: 5}, {Path: "run.keel", Value: -0.1}, {Path: "run.added_mass", Value: 2}})
	if err != nil {
		t.Fatal(err)
	}
	if s := changed.Settings; s.Until != 5 || *s.Keel != -0.1 || *s.AddedMass != 2 {
		t.Errorf("the settings are %+v", s)
	}
	if s := m.Settings; s.Until != 40 || *s.Keel != -0.14 || *s.AddedMass != 1 {
		t.Errorf("the old model changed: %+v", s)
	}
	for _, v := range []study.Value{{Path: "run.until", Value: 0}, {Path: "run.tolerance", Value: 1}, {Path: "run.motion", Value: 1}, {Path: "openings.cat.cd", Value: 1}} {
		if _, err := m.With([]study.Value{v}); !errors.As(err, new(compartment.Faults)) {
			t.Errorf("%+v: %v", v, err)
		}
	}
}

// Samples are taken at events alone; that changes nothing in the results.
func TestOutcome(t *testing.T) {
	m := read(t, clamped)
	o, err := m.Run(background)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "the time to the top", o.Number(rises), risingTime(m, 0.02, 0.61), 1e-6)
	run, err := flood.Start(m.Vessel, m.Settings)
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(background)
	if err != nil {
		t.Fatal(err)
	}
	if o.Number("duration_s") != r.Duration || o.Fate != r.Fate || o.Text("fate") != string(r.Fate) {
		t.Errorf("the outcome is %+v, the result %+v", o, r)
	}
	for _, path := range []string{"hull.steepest_deg", "sections.hull.steepest_deg", "margins.B1.closest_m", "margins.hull.deck-edge.closest_m", "events.overtopped.B1.trim_deg"} {
		if o.Find(path) == nil {
			t.Errorf("there is no %s", path)
		}
		if err := study.CheckResult(m.Vessel, path); err != nil {
			t.Error(err)
		}
	}
	for i := range o.Results {
		if err := study.CheckResult(m.Vessel, o.Results[i].Path); err != nil {
			t.Error(err)
		}
	}
	if err := study.CheckResult(m.Vessel, "hull.founderd_s"); err == nil {
		t.Error("a misspelt result passed")
	}
}

func TestErrorsOfTheStartPass(t *testing.T) {
	m := read(t, clamped)
	m.Settings.Motion = "no such motion"
	if _, err := m.Run(background); err == nil {
		t.Error("an error of the start did not pass")
	}
	columns := []study.Column{{Name: "one", Model: m}}
	if _, err := study.Compare(background, columns, study.Options{}); err == nil {
		t.Error("an error of the start did not pass through compare")
	}
	ctx, stop := context.WithCancel(background)
	stop()
	if _, err := study.Compare(ctx, []study.Column{{Name: "one", Model: read(t, clamped)}}, study.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
