package scenarios

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
)

func TestMomentsAndForces(t *testing.T) {
	mm, in := wordsIn(t, "mm", 1), wordsIn(t, "in", 1)
	for got, want := range map[string]string{
		mm.Moment(1.2345): "1.23 N.m", mm.Moment(0.04456): "0.0446 N.m", mm.Moment(123.4): "123 N.m", mm.Moment(0): "0 N.m",
		mm.Force(-3.5976): "-3.60 N", mm.Bending(-0.397): "0.397 N.m sagging", mm.Bending(2): "2.00 N.m hogging",
		// 1 lbf = 0.45359237 kg × 9.80665 m/s² (international yard and pound agreement 1959)
		in.Force(4.4482216152605): "1.00 lbf", in.Moment(4.4482216152605 * 0.0254 * 4): "4.00 lbf.in",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestJointLoadWords(t *testing.T) {
	w := wordsIn(t, "mm", 1)
	load := compartment.Load{Bending: -0.4, Shear: -1.2}
	for want, strain := range map[string]compartment.Strain{
		"0.400 N.m sagging, shear 1.20 N":                                                      {Margin: math.Inf(1)},
		"0.400 N.m sagging, shear 1.20 N; 40 % of what it holds in sagging":                    {Limit: compartment.Sagging, Margin: 0.6},
		"0.400 N.m sagging, shear 1.20 N; it lets go at once: shear is 150 % of what it holds": {Limit: compartment.Shear, Margin: -0.5},
		"0.400 N.m sagging, shear 1.20 N; next to nothing of what it holds":                    {Limit: compartment.Hogging, Margin: 1.2},
	} {
		if got := w.JointLoad(&compartment.JointLoad{Load: load, Strain: strain}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	still := &compartment.StillWater{Curve: &compartment.LoadCurve{
		X: []float64{0, 1}, Peak: compartment.LoadPeak{X: 0.53, Value: -0.445}, PeakShear: compartment.LoadPeak{X: 0.72, Value: 3.6},
	}}
	floating := &compartment.Floating{Mass: 4, Still: still}
	if got := w.GreatestBending(floating); got != "0.445 N.m sagging, at x = 530.0 mm: a hull of even strength would part there" {
		t.Errorf("%q", got)
	}
	if got := w.GreatestShear(floating); got != "3.60 N, at x = 720.0 mm" {
		t.Errorf("%q", got)
	}
	still.Curve.Peak.Value, still.Curve.PeakShear.Value = 1e-15, -1e-15 // rounding
	if w.GreatestBending(floating) != "none" || w.GreatestShear(floating) != "none" {
		t.Error("rounding is shown as a load")
	}
}

func TestLoadsInTheFloatDocument(t *testing.T) {
	still := &compartment.StillWater{
		Joints: []compartment.JointLoad{
			{Name: "J1", Load: compartment.Load{Bending: -0.4, Shear: 1.5, Torsion: 0.01, Axial: 2, EndMoment: -0.04},
				Strain: compartment.Strain{Limit: compartment.Sagging, Asked: 0.4, Bears: 0.8, Margin: 0.5}},
			{Name: "J2", Strain: compartment.Strain{Margin: math.Inf(1)}},
		},
		Curve: &compartment.LoadCurve{X: []float64{0, 0.5}, Bending: []float64{0, -0.4}, Shear: []float64{0, 1.5},
			Peak: compartment.LoadPeak{X: 0.5, Value: -0.4}, PeakShear: compartment.LoadPeak{X: 0.5, Value: 1.5}},
	}
	var c FloatCondition
	c.addLoads(still)
	for want, part := range map[string]any{
		`[{"name":"J1","bending_nm":-0.4,"shear_n":1.5,"torsion_nm":0.01,"axial_n":2,"end_moment_nm":-0.04,"limit":"sagging","margin":0.5},` +
			`{"name":"J2","bending_nm":0,"shear_n":0,"torsion_nm":0,"axial_n":0,"end_moment_nm":0,"limit":null,"margin":null}]`: c.JointLoads,
		`{"x_m":0.5,"bending_nm":-0.4}`:                           c.BendingPeak,
		`{"x_m":0.5,"shear_n":1.5}`:                               c.ShearPeak,
		`{"x_m":[0,0.5],"bending_nm":[0,-0.4],"shear_n":[0,1.5]}`: c.BendingCurve,
	} {
		if got, err := json.Marshal(part); err != nil || string(got) != want {
			t.Errorf("%s (%v), want %s", got, err, want)
		}
	}
}
