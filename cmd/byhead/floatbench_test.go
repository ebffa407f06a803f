package main

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

// inclined is a box of 16 kg by its list, with a weight to incline it.
const inclined = `format: 1
hull: {box: {length: 1 m, breadth: 200 mm, depth: 200 mm}}
water: {density: 1000 kg/m3}
weights:
  - {name: lead, mass: 15.8 kg, at: [500 mm, 0 mm, 60 mm]}
  - {name: w, mass: 200 g, at: [500 mm, 0 mm, 200 mm]}
marks:
  - {name: M, at: [500 mm, 0 mm, 200 mm]}
`

const readings = `time_s,kind,name,value,unit,sigma
,mark,M,-120,mm,0.2
,heel,,0,deg,0.05
,trim,,0,deg,0.05
,shift,w,-90,mm,
,heel,,3,deg,0.05
`

type floatDoc struct {
	Conditions []struct {
		DraftFore float64 `json:"draft_fore_m"`
		DraftAft  float64 `json:"draft_aft_m"`
		Trim      float64 `json:"trim_deg"`
		Verdict   string
		Judgement string
		Holds     float64 `json:"holds_m3"`
		Spaces    []struct {
			Name  string
			Holds float64 `json:"holds_m3"`
		} `json:"spaces_hold"`
		InWater []struct {
			Kind      string
			DraftFore float64 `json:"draft_fore_m"`
		} `json:"in_water"`
		RightingArm struct {
			Heel []float64 `json:"heel_deg"`
			Arm  []float64 `json:"arm_m"`
		} `json:"righting_arm"`
		Lowest struct {
			Name   string
			Height float64 `json:"height_m"`
		} `json:"lowest_opening"`
	}
	Laid []struct {
		Mass float64 `json:"mass_kg"`
	}
}

func closeTo(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// TestBenchBothWays: "lay 1.2 kg at 640 mm and it floats at …", "filled to that line it holds …", by the closed forms of a box:
// tanφ(BM + KB − KG + ½BM tan²φ) = moment over weight, and ∇ = M/ρ.
func TestBenchBothWays(t *testing.T) {
	o := byhead(t, nil, "", "float", "tub.yaml", "--lay", "1.2 kg at 640 mm", "--json")
	var doc floatDoc
	decodeOne(t, o.stdout, &doc)
	c := doc.Conditions[0]
	const density = 999.1026 // FL-01 of references.md, 15 °C
	draft := 13.2 / density / 0.2
	tan, bm := math.Tan(c.Trim*math.Pi/180), 1/12./draft
	closeTo(t, "moment", tan*(bm+draft/2-12*0.03/13.2+bm/2*tan*tan), 1.2*0.14/13.2, 1e-9)
	closeTo(t, "drafts", (c.DraftFore+c.DraftAft)/2, draft*math.Cos(c.Trim*math.Pi/180), 1e-7)
	closeTo(t, "what it holds", c.Holds, 13.2/density, 1e-7)
	closeTo(t, "in its spaces", c.Spaces[0].Holds+c.Spaces[1].Holds, 13.2/density, 1e-7) // no plates' thickness
	if doc.Laid[0].Mass != 1.2 || c.InWater[1].Kind != "sea" || !(c.InWater[1].DraftFore < c.DraftFore) {
		t.Errorf("%+v", doc)
	}
	o = byhead(t, nil, "", "float", "tub.yaml", "--lay", "1.2 kg at 640 mm", "--lay", "100 g at 100 mm")
	fore := fmt.Sprintf("%.1f mm", 1e3*c.DraftFore)
	o.want(t, statusDone, "(without it 60.1 mm)", "note: weights: 1500 g")
	for _, want := range []string{"All this with", "1200.0 g at 640.0 mm", "100.0 g at 100.0 mm", "filled to that line, fore", "in sea water"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
	if strings.Contains(o.stdout, fore) {
		t.Errorf("the second weight makes no difference: still %s", fore)
	}
}

// TestFloatInInches: a file in inches is answered in inches, fractions of 1/64 with what they leave out.
func TestFloatInInches(t *testing.T) {
	tin := "format: 1\nhull:\n  box: {length: 40 in, breadth: 8 in, depth: 6 in}\n  shell: {mass: 20 lb, at: [20 in, 0 in, 1 1/2 in]}\n"
	o := byhead(t, map[string]string{"tin.yaml": tin}, "", "float", "tin.yaml")
	// 20 lb on 320 in² of water of 999.1026 kg/m³ draw 1.7312 in (closed form) = 1 47/64 in less 0.003
	o.want(t, statusDone, "1 47/64 in (-0.003)", "note: hull.shell")
	for _, want := range []string{"20.000 lb", "in3)"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
}

func TestFloatArms(t *testing.T) {
	o := byhead(t, nil, "", "float", "tub.yaml", "--arms")
	o.want(t, statusDone, "righting arm to starboard", "note:")
	// GZ = sinθ(GM + ½BM tan²θ) at 10°: GM 55.50 + 30.03 − 30 mm
	var doc floatDoc
	decodeOne(t, byhead(t, nil, "", "float", "tub.yaml", "--json").stdout, &doc)
	arms := doc.Conditions[0].RightingArm
	bm := 0.04 / 12 / (12 / 999.1026 / 0.2)
	tan := math.Tan(10 * math.Pi / 180)
	closeTo(t, "heel", arms.Heel[76], 10, 1e-9)
	closeTo(t, "arm", arms.Arm[76], math.Sin(10*math.Pi/180)*(bm+12/999.1026/0.4-0.03+bm/2*tan*tan), 1e-7)
	if want := regexp.MustCompile(fmt.Sprintf(`10\.00° to starboard +%.1f mm`, 1e3*arms.Arm[76])); !want.MatchString(o.stdout) {
		t.Errorf("no %s in:\n%s", want, o.stdout)
	}
	if doc.Conditions[0].Verdict != "upright" || doc.Conditions[0].Lowest.Name != "cut" || len(arms.Heel) != 145 || arms.Heel[0] != -180 {
		t.Errorf("%+v", doc.Conditions[0])
	}
	closeTo(t, "lowest opening", doc.Conditions[0].Lowest.Height, 0.01-12/999.1026/0.2, 1e-8)
}

// TestFloatMeasured: the handbooks' inclining, whose height of G is known by hand; see TestInclining of compartment/plan.
func TestFloatMeasured(t *testing.T) {
	files := map[string]string{"box.yaml": inclined, "sink.csv": readings}
	o := byhead(t, files, "", "float", "box.yaml", "--measured", "sink.csv", "--json")
	var doc struct {
		Measured map[string]any
		Suspects []string
	}
	decodeOne(t, o.stdout, &doc)
	tan := math.Tan(3 * math.Pi / 180)
	bm := 0.04 / 12 / 0.08
	vcg := doc.Measured["vcg_m"].(map[string]any)
	closeTo(t, "vcg", vcg["value"].(float64), 0.04+bm+bm/2*tan*tan-0.2*0.09/16/tan, 1e-9)
	// the height hangs on the difference of two heels: √2·σ of one, times GM/θ for a small angle; here to a hundredth
	wide := 2 * 1.96 * math.Sqrt2 * 0.05 * math.Pi / 180 * 0.2 * 0.09 / 16 / (tan * tan)
	closeTo(t, "interval", vcg["high95"].(float64)-vcg["low95"].(float64), wide, 0.01*wide)
	closeTo(t, "mass", doc.Measured["mass_kg"].(map[string]any)["value"].(float64), 16, 1e-6)
	if doc.Suspects == nil {
		t.Error("no list of suspects")
	}
	o = byhead(t, files, "", "float", "box.yaml", "--measured", "sink.csv")
	o.want(t, statusDone, "19 times of 20 within", "note:")
	byhead(t, files, readings, "float", "box.yaml", "--measured", "-").want(t, statusDone, "19 times of 20 within", "note:")
	byhead(t, nil, readings, "float", "-", "--measured", "-").want(t, statusWrongInput, "", "standard input cannot be both")
	noShift := strings.Join(strings.SplitAfter(readings, "\n")[:4], "")
	o = byhead(t, map[string]string{"box.yaml": inclined, "sink.csv": noShift}, "", "float", "box.yaml", "--measured", "sink.csv")
	o.want(t, statusDone, "incline her", "note:")
	o = byhead(t, map[string]string{"box.yaml": inclined, "sink.csv": noShift}, "", "float", "box.yaml", "--measured", "sink.csv", "--json")
	o.want(t, statusDone, `"value": null`, "note:")
}

// TestFloatMeasuredSuspect: the lead is 400 g heavier than listed; marks and an inclining of a box of 16.4 kg say so.
func TestFloatMeasuredSuspect(t *testing.T) {
	draft := 0.2 - 16.4/200
	kg := (16.2*0.06 + 0.2*0.2) / 16.4
	bm, kb := 0.04/12/0.082, 0.041
	tan := 0.2 * 0.09 / 16.4 / (kb + bm - kg) // small: ½BM·tan² is taken in by one step
	tan = 0.2 * 0.09 / 16.4 / (kb + bm - kg + bm/2*tan*tan)
	log := fmt.Sprintf("time_s,kind,name,value,unit,sigma\n,mark,M,%.6f,mm,0.2\n,heel,,0,deg,\n,trim,,0,deg,\n,shift,w,-90,mm,\n,heel,,%.6f,deg,\n",
		-1e3*draft, math.Atan(tan)*180/math.Pi)
	o := byhead(t, map[string]string{"box.yaml": inclined, "sink.csv": log}, "", "float", "box.yaml", "--measured", "sink.csv")
	o.want(t, statusDone, "lead, if it weighs 16.2", "note:")
}

func TestFloatWrongInput(t *testing.T) {
	for _, c := range []struct{ log, args, want string }{
		{readings, "--measured missing.csv", "missing.csv:1:1: the log cannot be read"},
		{readings, "--measured .", ".:1:1: the log cannot be read (it is a folder)"},
		{strings.Replace(readings, ",M,", ",N,", 1), "--measured sink.csv", `sink.csv:2:7: there is no mark "N"`},
		{strings.Replace(readings, "3,deg", "3,mm", 1), "--measured sink.csv", "sink.csv:6:10:"},
		{strings.ReplaceAll(readings, "\n,", "\n5,"), "--measured sink.csv", "sink.csv:3:3: a time in a float test"},
		{readings, "--lay 5", "--lay: \"5\" is not a mass at a place"},
		{readings, "--measured -", "-:1:1: "},
		{readings, "--measured", "flag needs an argument"},
	} {
		o := byhead(t, map[string]string{"box.yaml": inclined, "sink.csv": c.log}, "", append([]string{"float", "box.yaml"}, strings.Fields(c.args)...)...)
		o.want(t, statusWrongInput, "", c.want)
	}
	o := byhead(t, nil, "", "float", "tub.yaml", "--lay", "1 kg at 19 m")
	o.want(t, statusWrongInput, "", "lies off the hull; x from 0 to 1 m")
	impossible := "time_s,kind,name,value,unit,sigma\n,mark,M,19,m,0.01\n"
	o = byhead(t, map[string]string{"box.yaml": inclined, "sink.csv": impossible}, "", "float", "box.yaml", "--measured", "sink.csv")
	o.want(t, statusFailed, "", "no mass and centre of gravity fit")
}
