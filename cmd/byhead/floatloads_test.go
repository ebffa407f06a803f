package main

import (
	"math"
	"strings"
	"testing"
)

// TestFloatLoads: the tub's shell is spread evenly over its length, so that nothing bends it; with the crate amidships it
// sags by PL/8 (BE-03: a point load on a uniform box, classical), 0.2 kg × 9.80665 m/s² × 1 m / 8 = 0.2452 N·m.
func TestFloatLoads(t *testing.T) {
	jointed := tub + "joints:\n  - {name: J1, at: 500 mm, sections: [stern, bow], holds: {sagging: 0.2 N.m}}\n"
	o := byhead(t, map[string]string{"jointed.yaml": jointed}, "", "float", "jointed.yaml")
	o.want(t, statusDone, "greatest bending", "note: weights: 200 g")
	for _, want := range []string{
		"none", "0.245 N.m sagging, at x = 500.0 mm: a hull of even strength would part there",
		"it lets go at once: sagging is 123 % of what it holds", "section stern alone",
	} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
	if n := strings.Count(o.stdout, "greatest bending"); n != 2 {
		t.Errorf("the greatest bending is told %d times, want it for the hull and the hull with what comes later", n)
	}
	o = byhead(t, map[string]string{"jointed.yaml": jointed}, "", "float", "jointed.yaml", "--json")
	var doc struct {
		Conditions []struct {
			Name       string
			JointLoads []struct {
				Name    string
				Bending float64 `json:"bending_nm"`
				Margin  float64
			} `json:"joint_loads"`
			BendingPeak *struct {
				X float64 `json:"x_m"`
			} `json:"bending_peak"`
		}
	}
	decodeOne(t, o.stdout, &doc)
	later, stern := doc.Conditions[1], doc.Conditions[2]
	if len(later.JointLoads) != 1 || math.Abs(later.JointLoads[0].Bending+0.2*9.80665/8) > 1e-9 || math.Abs(later.JointLoads[0].Margin-(1-9.80665/8)) > 1e-8 ||
		later.BendingPeak == nil || math.Abs(later.BendingPeak.X-0.5) > 1e-6 {
		t.Errorf("with the crate: %+v", later)
	}
	if len(stern.JointLoads) != 0 || stern.BendingPeak != nil {
		t.Errorf("the stern alone: %+v", stern)
	}
}
