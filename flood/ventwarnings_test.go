package flood_test

import (
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// ventWarning is the warning of a vent that went under too early; nil: there is none.
func ventWarning(t *testing.T, spec compartment.Spec, set flood.Settings) (*flood.Warning, *flood.Result) {
	t.Helper()
	r, err := mustStart(t, mustBuild(t, spec), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	i := slices.IndexFunc(r.Warnings, func(w flood.Warning) bool { return w.Kind == flood.VentUnder })
	if i < 0 {
		return nil, r
	}
	return &r.Warnings[i], r
}

// The stern on end goes under with her vent in the top after corner last, of which nothing is said; with it further forward, it goes
// under while she hangs, and most of her air goes by it under water, which the run tells.
func TestVentGoesUnderTooEarly(t *testing.T) {
	spec := onEnd()
	if w, r := ventWarning(t, spec, flood.Settings{Until: 3000}); w != nil || r.Fate != flood.Founders {
		t.Errorf("at the top after corner: %+v, %s", w, r.Fate)
	}
	deep := spec
	deep.Water.Depth = ptr(3.0)
	if w, r := ventWarning(t, deep, flood.Settings{Until: 3000, Motion: flood.Free}); w != nil || r.Fate != flood.Founders {
		t.Errorf("on its way to the bottom: %+v, %s", w, r.Fate)
	}
	spec.Openings[3] = bored("pinhole", "poop", "outside", r3.Vec{X: 0.12, Z: 0.12}, r3.Vec{Z: 1}, 0.0008)
	w, r := ventWarning(t, spec, flood.Settings{Until: 3000})
	if w == nil || w.Name != "pinhole" || !(w.Value > 1e-3) || !(w.Time > r.Separations[0].Time) || !(w.Time < r.Duration) {
		t.Errorf("half way: %+v, the run took %g s", w, r.Duration)
	}
	// a hole that was under water all along is no vent
	spec.Openings[3] = bored("pinhole", "poop", "outside", r3.Vec{X: 0.12, Y: 0.09, Z: 0.02}, r3.Vec{Y: 1}, 0.0008)
	if w, _ := ventWarning(t, spec, flood.Settings{Until: 3000}); w != nil {
		t.Errorf("low: %+v", w)
	}
}
