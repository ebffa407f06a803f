package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestCheck(t *testing.T) {
	o := byhead(t, nil, "", "check", "tub.yaml")
	o.want(t, statusDone, "1000.0 mm long, 200.0 mm broad, 150.0 mm deep", "")
	for _, want := range []string{"30.000 l in 12 triangles", "aft", "27.000 l", "B1", "80.0 mm", "cut", "3.142 cm2", "0.610", "crate", "comes later", "Notes", "1:100"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
	o = byhead(t, nil, "", "check", "tub.yaml", "--json")
	o.want(t, statusDone, `"capacity_m3"`, "")
	var doc struct {
		Hull struct {
			Volume float64 `json:"volume_m3"`
		}
		Spaces   []struct{ Name string }
		Openings []struct {
			Between []string
			Cd      float64
		}
		Gyradii      checkedGyradii
		LaterGyradii checkedGyradii `json:"later_gyradii"`
		Notes        []string
	}
	decodeOne(t, o.stdout, &doc)
	if doc.Hull.Volume < 0.03-1e-12 || doc.Hull.Volume > 0.03+1e-12 || len(doc.Spaces) != 2 || len(doc.Openings) != 1 {
		t.Fatalf("the document is %+v", doc)
	}
	if g := doc.Gyradii; !(g.Roll > 0.05 && g.Roll < 0.1) || math.Abs(g.RollShare-g.Roll/0.2) > 1e-12 || doc.LaterGyradii.Roll == g.Roll {
		t.Errorf("the gyradii are %+v and %+v", doc.Gyradii, doc.LaterGyradii)
	}
	if opening := doc.Openings[0]; opening.Cd != 0.61 || !slices.Equal(opening.Between, []string{"outside", "fore"}) {
		t.Errorf("the opening is %+v", opening)
	}
}

// An open box as ASCII STL, its deck missing: the loop is closed, and that is told on standard error by check as by the others
// (the contract, scenario.md §3, Offsets).
func TestCheckTellsClosedLoops(t *testing.T) {
	corners := [8][3]int{{0, -1, 0}, {10, -1, 0}, {10, 1, 0}, {0, 1, 0}, {0, -1, 2}, {10, -1, 2}, {10, 1, 2}, {0, 1, 2}}
	stl := "solid tray\n"
	for _, f := range [5][4]int{{0, 3, 2, 1}, {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}} {
		for _, tri := range [2][3]int{{f[0], f[1], f[2]}, {f[0], f[2], f[3]}} {
			stl += "facet normal 0 0 0\nouter loop\n"
			for _, k := range tri {
				stl += fmt.Sprintf("vertex %d %d %d\n", corners[k][0], corners[k][1], corners[k][2])
			}
			stl += "endloop\nendfacet\n"
		}
	}
	files := map[string]string{
		"tray.stl":  stl + "endsolid tray\n",
		"tray.yaml": "format: 1\nhull:\n  mesh: {file: tray.stl, unit: cm}\n  shell: {mass: 11340 g, at: [50 mm, 0 mm, 5 mm]}\n",
	}
	o := byhead(t, files, "", "check", "tray.yaml")
	o.want(t, statusDone, "hull.shell: 11340 g of shell without density", "note: tray.stl:")
	if strings.Contains(o.stdout, "open loop") || strings.Count(o.stderr, "\n") != 1 {
		t.Errorf("stdout:\n%s\nstderr:\n%s", o.stdout, o.stderr)
	}
	byhead(t, files, "", "check", "tray.yaml", "--json").want(t, statusDone, "open loop", "note: tray.stl:")
}

// All the mass low on the centre line: warned of, with the usual range (MT-11); spread to the sides it is not.
func TestCheckWarnsOfStiffHulls(t *testing.T) {
	stiff := "format: 1\nhull:\n  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}\n  shell: {mass: 100 g, at: [500 mm, 0 mm, 70 mm], density: 1050 kg/m3}\n" +
		"weights:\n  - {name: lead, mass: 8 kg, at: [500 mm, 0 mm, 30 mm], size: [500 mm, 100 mm, 10 mm]}\n"
	for _, x := range []struct {
		text string
		want bool
	}{{stiff, true}, {strings.Replace(stiff, "100 mm, 10", "195 mm, 10", 1), false}} {
		o := byhead(t, map[string]string{"hull.yaml": x.text}, "", "check", "hull.yaml")
		o.want(t, statusDone, "Gyradii: in roll ", "")
		if strings.Contains(o.stdout, "under 0.25") != x.want {
			t.Errorf("a warning is %t in:\n%s", !x.want, o.stdout)
		}
		doc := byhead(t, map[string]string{"hull.yaml": x.text}, "", "check", "hull.yaml", "--json")
		if strings.Contains(doc.stdout, "under 0.25") != x.want {
			t.Errorf("a warning is %t in:\n%s", !x.want, doc.stdout)
		}
	}
}

// A weight four metres wide on a hull of 200 mm is a slip of the unit, and told; every and the factors are shown as they are.
func TestCheckTellsOfWeightsFarOut(t *testing.T) {
	text := "format: 1\nhull:\n  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}\n  shell: {mass: 100 g, at: [500 mm, 0 mm, 70 mm], density: 1050 kg/m3}\n" +
		"weights:\n  - {name: lead, mass: 8 kg, at: [500 mm, 0 mm, 30 mm], size: [500 mm, 190 mm, 10 mm]}\n" +
		"run: {motion: free, every: 0.02 s, added_mass: 0.5}\n"
	const far = "more than masses within the hull can have"
	o := byhead(t, map[string]string{"hull.yaml": text}, "", "check", "hull.yaml")
	o.want(t, statusDone, "samples every 0.02 s", "")
	o.want(t, statusDone, "added mass 0.5, linear damping 1, quadratic damping 1", "")
	if strings.Contains(o.stdout, far) {
		t.Errorf("a weight within the hull is told of:\n%s", o.stdout)
	}
	wide := strings.Replace(text, "190 mm", "4 m", 1)
	byhead(t, map[string]string{"hull.yaml": wide}, "", "check", "hull.yaml").want(t, statusDone, far, "")
	doc := byhead(t, map[string]string{"hull.yaml": wide}, "", "check", "hull.yaml", "--json")
	doc.want(t, statusDone, far, "")
	doc.want(t, statusDone, `"added_mass": 0.5`, "")
}

// What only building a variant shows is told by check, of all variants in one go, and so by compare (the contract, §4 and §5: check
// "reads and builds everything"; "all of them in one go").
func TestCheckBuildsVariants(t *testing.T) {
	text := "format: 1\nhull:\n  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}\n  shell: {mass: 4 kg, at: [500 mm, 0 mm, 50 mm]}\n" +
		"bulkheads: [{name: B1, at: 500 mm, top: 80 mm}]\ncompartments: [aft, fore]\nvariants:\n" +
		"  - {name: low, set: {bulkheads.B1.top: -5 mm}}\n  - {name: right, set: {bulkheads.B1.top: 90 mm}}\n  - {name: far, set: {bulkheads.B1.at: 2 m}}\n"
	for _, command := range []string{"check", "compare"} {
		o := byhead(t, map[string]string{"box.yaml": text}, "", command, "box.yaml")
		o.want(t, statusWrongInput, "", "box.yaml:8:41: its top at -5 mm is not above the hull's bottom")
		if !strings.Contains(o.stderr, "\nbox.yaml:10:40: it stands at 2 m, outside the hull") || strings.Contains(o.stderr, ":9:") || o.stdout != "" {
			t.Errorf("%s: %s", command, o.stderr)
		}
	}
}
