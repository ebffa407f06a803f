package main

import (
	"math"
	"strings"
	"testing"
)

// aBarge is a box of 0.2 m² of waterplane, 4 kg, and a hold for lead.
const aBarge = `format: 1
title: A barge
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 4 kg, at: [500 mm, 0 mm, 50 mm]}
water: {kind: fresh, density: 1000 kg/m3}
ballast:
  want:
    - {draft_fore: 50 mm, draft_aft: 50 mm, gm: 40 mm}
  places:
    - {name: hold, x: [100 mm, 900 mm], y: [-80 mm, 80 mm], z: [2 mm, 30 mm], material: lead}
`

// At 50 mm the box displaces 10 kg: 6 kg of lead about its middle.
func TestBallastDocument(t *testing.T) {
	o := byhead(t, map[string]string{"barge.yaml": aBarge}, "", "ballast", "barge.yaml", "--json")
	var doc struct {
		Feasible bool
		Pieces   []struct {
			Place, Material string
			Count           *int
			Mass            float64    `json:"mass_kg"`
			At              [3]float64 `json:"at_m"`
		}
		Reached         map[string]map[string]any
		Reason, Nearest any
	}
	decodeOne(t, o.stdout, &doc)
	mass, moment := 0.0, 0.0
	for _, p := range doc.Pieces {
		if p.Place != "hold" || p.Material != "lead" || p.Count != nil {
			t.Errorf("%+v", p)
		}
		mass += p.Mass
		moment += p.Mass * p.At[0]
	}
	closeTo(t, "mass", mass, 6, 2e-3*2)
	closeTo(t, "centre", moment/mass, 0.5, 1e-3) // 0.01 mm at each end is 1e-5·2·GML·10 kg/6 kg, GML 1.7 m: 0.06 mm
	closeTo(t, "draft", doc.Reached["hull"]["draft_fore_m"].(float64), 0.05, 2e-5)
	if !doc.Feasible || doc.Reason != nil || doc.Nearest != nil {
		t.Errorf("%+v", doc)
	}
	o = byhead(t, map[string]string{"barge.yaml": aBarge}, "", "ballast", "barge.yaml")
	o.want(t, statusDone, "For the file, under weights:\n  - {name: hold-1, mass: ", "note:")
	o.want(t, statusDone, " in all. Lead: gloves", "note:")
}

// What cannot be had is told, and is no failure; the document has the nearest.
func TestBallastThatCannotBe(t *testing.T) {
	files := map[string]string{"barge.yaml": strings.Replace(aBarge, "50 mm, draft_aft: 50 mm", "15 mm, draft_aft: 15 mm", 1)}
	byhead(t, files, "", "ballast", "barge.yaml").want(t, statusDone, "This cannot be had: the hull is 1000.0 g too heavy", "note:")
	var doc struct {
		Feasible bool
		Pieces   []any
		Reason   string
		Nearest  struct {
			Missed []struct {
				Of, Quantity    string
				Wanted, Reached float64
			}
		}
	}
	decodeOne(t, byhead(t, files, "", "ballast", "barge.yaml", "--json").stdout, &doc)
	if doc.Feasible || doc.Pieces == nil || len(doc.Pieces) > 0 || !strings.Contains(doc.Reason, "too heavy") || len(doc.Nearest.Missed) != 2 {
		t.Fatalf("%+v", doc)
	}
	if m := doc.Nearest.Missed[0]; m.Quantity != "draft_fore_m" || m.Wanted != 0.015 || math.Abs(m.Reached-0.02) > 1e-6 {
		t.Errorf("%+v", m)
	}
}

func TestBallastWrongInput(t *testing.T) {
	for _, c := range []struct{ old, with, want string }{
		{"x: [100 mm, 900 mm]", "x: [1.1 m, 1.2 m]", "barge.yaml:11:7: the place hold lies outside the hull; a place inside it, that is between x = 0.00 mm and 1000.0 mm"},
		{"material: lead", "material: leed", `barge.yaml:11:89: "leed" is not one of the words that may stand here; did you mean "lead"?`},
		{"material: lead", "material: brass, pieces: {coin: 10-euro}", `"10-euro" is no coin that is known; `},
		{"material: lead", "material: steel, pieces: {strip: 12 mm x 40 mm}", "one piece, 20.0 mm × 12.0 mm × 40.0 mm, is larger than the place"},
		{"{draft_fore", "{of: stern, draft_fore", `barge.yaml:9:12: "stern" is not a body of this scenario; hull or hull+later`},
		{aBarge[strings.Index(aBarge, "ballast:"):], "", "barge.yaml:1:1: the scenario asks for no ballast; `ballast:` with `want:` and `places:`"},
	} {
		o := byhead(t, map[string]string{"barge.yaml": strings.Replace(aBarge, c.old, c.with, 1)}, "", "ballast", "barge.yaml")
		o.want(t, statusWrongInput, "", c.want)
	}
}
