package main

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"github.com/byhead/byhead/scenarios"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A lighter with a bulkhead that comes apart with the hull, openings in it, a low one, and a tank that is a box. Invented.
const lighter = `format: 1
title: A lighter (Prähm)
hull:
  box: {length: 1 m, breadth: 150 mm, depth: 120 mm}
  shell: {thickness: 2 mm, density: 1050 kg/m3}
bulkheads:
  - {name: B1, at: 300 mm, top: 80 mm}
  - {name: B2, at: 600 mm}
compartments: [aft, mid, fore, {name: tank, x: [700 mm, 760 mm], y: [-30 mm, 30 mm], z: [0 mm, 50 mm]}]
weights:
  - {name: lead-aft, mass: 2 kg, at: [300 mm, 0 mm, 10 mm]}
  - {name: lead-fore, mass: 1 kg, at: [800 mm, 0 mm, 10 mm]}
openings:
  - {name: limber, between: [aft, mid], at: [300 mm, 0 mm, 14 mm], hole: 10 mm, wall: 3 mm}
  - {name: door, between: [mid, fore], at: [600 mm, 30 mm, 50 mm], door: 20 mm x 30 mm, wall: 3 mm}
joints:
  - {name: J1, at: 600 mm, sections: [stern, bow]}
`

// drawn makes templates of a scenario, and gives the document and the pages of the PDF after the cutting list's.
func drawn(t *testing.T, content string, args ...string) (o outcome, d templatesDocument, pages []pdfPage) {
	t.Helper()
	args = append([]string{"templates", "model.yaml", "-o", "out", "--json"}, args...)
	o = byhead(t, map[string]string{"model.yaml": content}, "", args...)
	if o.status != statusDone {
		t.Fatalf("status %d: %s", o.status, o.stderr)
	}
	if err := json.Unmarshal([]byte(o.stdout), &d); err != nil {
		t.Fatal(err)
	}
	for _, p := range readPDF(t, filepath.Join(o.dir, "out", pdfName)) {
		if !strings.HasPrefix(p.text, "Cutting list") {
			pages = append(pages, p)
		}
	}
	return o, d, pages
}

// For every demo: a page's own numbers give the area of the solid's section, less the holes in it, within 0.1 % where the plates have
// no thickness, by the integral over the solid's triangles and, below a top, of the solid cut off there.
func TestTemplatesOfDemosMeasureTheSolid(t *testing.T) {
	for _, name := range scenarios.DemoNames() {
		folder, data, err := scenarios.OpenDemo(name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := scenarios.Read(folder, name, data)
		if err != nil {
			t.Fatal(err)
		}
		v, err := s.Build()
		if err != nil {
			t.Fatal(err)
		}
		if len(v.Bulkheads) == 0 { // the bell: one space
			continue
		}
		dir := t.TempDir()
		byheadIn(t, dir, "", "templates", "demo:"+name, "-o", "out", "--shell", "0 mm").want(t, statusDone, "cutting-list.txt", "note: weights")
		pages := readPDF(t, filepath.Join(dir, "out", pdfName))[1:]
		for i, b := range v.Bulkheads {
			form := v.Whole.Form
			if b.Spec.Top != nil {
				form = form.Clip(solid.Plane{N: r3.Vec{Z: 1}, D: *b.Spec.Top})
			}
			want := 1e6 * form.Below(solid.Plane{N: r3.Vec{X: 1}, D: b.Spec.At}).Area
			for _, p := range v.Passages { // holes through the plate, whole in these demos
				if at := p.Figure.Centre(); p.Listed != nil && math.Abs(at.X-b.Spec.At) < 1e-6 && math.Abs(p.Figure.Normal().X) > 0.999 {
					want -= 1e6 * p.Figure.Area()
				}
			}
			got := pages[i].area()
			if !strings.HasPrefix(pages[i].text, b.Spec.Name+",") || !(math.Abs(got/want-1) <= 1e-3) {
				t.Errorf("%s: page %q has %.3f mm2, the solid's section %.3f mm2", name, strings.SplitN(pages[i].text, "\n", 2)[0], got, want)
			}
			t.Logf("%s %s: %.2f mm2 on the page, %.2f mm2 of the solid, %+.4f %%", name, b.Spec.Name, got, want, 100*(got/want-1))
		}
	}
}

// Both bars both ways on every page of either paper, true to the PDF's hundredth of a point at both ends; and with --measured
// as much longer or shorter as makes up for the printer.
func TestBarsOnEveryPage(t *testing.T) {
	const rounding = 0.01 * 25.4 / 72
	for _, c := range []struct {
		args  []string
		paper r2.Vec
		scale r2.Vec
	}{
		{nil, r2.Vec{X: 210, Y: 297}, r2.Vec{X: 1, Y: 1}},
		{[]string{"--paper", "letter"}, r2.Vec{X: 215.9, Y: 279.4}, r2.Vec{X: 1, Y: 1}},
		{[]string{"--measured", "98 mm, 3 15/16 in"}, r2.Vec{X: 210, Y: 297}, r2.Vec{X: 1 / 0.98, Y: 1 / (3.9375 * 0.254)}},
	} {
		o, _, _ := drawn(t, lighter, c.args...)
		pages := readPDF(t, filepath.Join(o.dir, "out", pdfName))
		if len(pages) < 8 {
			t.Fatalf("%v: %d pages", c.args, len(pages))
		}
		for i := range pages {
			p := &pages[i]
			if r2.Norm(r2.Sub(p.size, c.paper)) > 0.01 {
				t.Errorf("%v: page %d is %v", c.args, i+1, p.size)
			}
			for _, want := range []r2.Vec{{X: 100}, {X: 101.6}, {Y: 100}, {Y: 101.6}} {
				want = r2.Vec{X: want.X * c.scale.X, Y: want.Y * c.scale.Y}
				if !slices.ContainsFunc(p.paths, func(q pdfPath) bool {
					d := r2.Sub(q.points[len(q.points)-1], q.points[0])
					return !q.over && len(q.points) == 2 && math.Abs(d.X-want.X) <= rounding && math.Abs(d.Y-want.Y) <= rounding
				}) {
					t.Errorf("%v: no bar of %v on page %d", c.args, want, i+1)
				}
			}
		}
	}
}

// All that is on a page lies within 190 × 255 mm in its middle, so that either paper takes it; what is clipped counts as clipped.
func TestPagesKeepToTheirFrame(t *testing.T) {
	for _, paper := range []string{"a4", "letter"} {
		_, _, pages := drawn(t, strings.ReplaceAll(lighter, "150 mm, depth: 120 mm", "450 mm, depth: 350 mm"), "--paper", paper)
		for i := range pages {
			p := &pages[i]
			frame := r2.Vec{X: 190, Y: 255}
			if p.size.X > p.size.Y {
				frame = r2.Vec{X: 255, Y: 190}
			}
			lo, hi := r2.Scale(0.5, r2.Sub(p.size, frame)), r2.Scale(0.5, r2.Add(p.size, frame))
			in := func(q r2.Vec) bool {
				return q.X >= lo.X-0.01 && q.X <= hi.X+0.01 && q.Y >= lo.Y-0.01 && q.Y <= hi.Y+0.01
			}
			if !in(p.clip[0]) || !in(p.clip[1]) {
				t.Errorf("page %d is clipped to %v", i+1, p.clip)
			}
			for _, q := range p.paths {
				if !q.over && slices.ContainsFunc(q.points, func(x r2.Vec) bool { return !in(x) }) {
					t.Fatalf("page %d: %v is outside", i+1, q.points)
				}
			}
		}
	}
}

// What the pages show is what the document says, and what the SVG cuts: plates in a joint's plane twice, openings taken off,
// walls of the box. Closed forms beside.
func TestTemplatesOfALighter(t *testing.T) {
	o, d, pages := drawn(t, lighter)
	hole, door := 25*math.Pi, 20.0*30
	want := []struct {
		name      string
		area      float64 // mm2, shell and openings taken off
		thickness float64
		face      string
	}{
		{"B1", 146*78 - hole, 0.003, "aft"},
		{"B2.stern", 146*116 - door, 0.003, "aft"}, {"B2.bow", 146*116 - door, 0.003, "aft"},
		{"tank.after", 60 * 48, 0.002, "aft"}, {"tank.forward", 60 * 48, 0.002, "aft"},
		{"tank.starboard", 60 * 48, 0.002, "starboard"}, {"tank.port", 60 * 48, 0.002, "starboard"}, {"tank.top", 60 * 60, 0.002, "up"},
	}
	if len(d.Parts) != len(want) || len(pages) != len(want) {
		t.Fatalf("%d parts, %d pages, want %d", len(d.Parts), len(pages), len(want))
	}
	for i, w := range want {
		p := d.Parts[i]
		if p.Name != w.name || p.Thickness == nil || *p.Thickness != w.thickness || p.Face != w.face {
			t.Errorf("part %+v, want %+v", p, w)
		}
		polygon := 2.1e-4 * hole // an inscribed polygon of 180 corners has that much less
		for from, got := range map[string]float64{"document": 1e6 * p.Area, "page": pages[i].area(), "svg": svgArea(t, filepath.Join(o.dir, "out", d.Files[i]))} {
			if !(math.Abs(got-w.area) <= polygon+5e-5*w.area) { // a hundredth of a point all round is 3e-5 of the smallest
				t.Errorf("%s of %s: %.3f mm2, want %.3f", from, w.name, got, w.area)
			}
		}
		for _, say := range []string{w.name, "this side " + strings.Replace(w.face, "starboard", "to starboard", 1), "plate " + strconv.FormatFloat(1000*w.thickness, 'f', 1, 64) + " mm"} {
			if !strings.Contains(pages[i].text, say+"\n") {
				t.Errorf("page of %s does not say %q: %q", w.name, say, pages[i].text)
			}
		}
		if !strings.Contains(pages[i].text, d.InputDigest) {
			t.Errorf("page of %s has no digest", w.name)
		}
	}
}

// The cutting list has every part and opening, and says how to cut without heat.
func TestCuttingList(t *testing.T) {
	o, d, _ := drawn(t, lighter)
	list, err := os.ReadFile(filepath.Join(o.dir, "out", listName))
	if err != nil {
		t.Fatal(err)
	}
	for _, say := range []string{"A lighter (Prähm)", d.InputDigest, "B2.stern", "tank.top", "limber", "door 20.0 mm x 30.0 mm", "Without heat:", "Blades slip", "3.0 mm"} {
		if !strings.Contains(string(list), say) {
			t.Errorf("the cutting list does not say %q:\n%s", say, list)
		}
	}
	for line := range strings.Lines(string(list)) {
		if len([]rune(line)) > 99 {
			t.Errorf("a line of %d letters runs off the page: %q", len([]rune(line)), line)
		}
	}
}

// svgArea checks that an SVG is what cutters read rightly, and gives the area of what it cuts, mm².
func svgArea(t *testing.T, path string) (area float64) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	group := ""
	dec := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return area
		}
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		attr := map[string]string{}
		for _, a := range e.Attr {
			attr[a.Name.Local] = a.Value
		}
		if _, moved := attr["transform"]; moved || !slices.Contains([]string{"svg", "title", "g", "path"}, e.Name.Local) {
			t.Errorf("%s: <%s> with %v", path, e.Name.Local, attr)
		}
		switch e.Name.Local {
		case "svg":
			box := strings.Fields(attr["viewBox"])
			if len(box) != 4 || attr["width"] != box[2]+"mm" || attr["height"] != box[3]+"mm" || box[0] != "0" || box[1] != "0" {
				t.Errorf("%s: width %s, height %s, viewBox %s", path, attr["width"], attr["height"], attr["viewBox"])
			}
		case "g":
			group = attr["id"]
		case "path":
			if group == "cut" {
				area -= shoelace(svgPoints(t, attr["d"])) // y counts down
			}
		}
	}
}

// svgPoints reads a path of M, L and Z alone.
func svgPoints(t *testing.T, d string) (points []r2.Vec) {
	t.Helper()
	f := strings.Fields(strings.NewReplacer("M", " ", "L", " ", "Z", " ").Replace(d))
	for i := 0; i+1 < len(f); i += 2 {
		x, errX := strconv.ParseFloat(f[i], 64)
		y, errY := strconv.ParseFloat(f[i+1], 64)
		if errX != nil || errY != nil {
			t.Fatalf("path %q", d)
		}
		points = append(points, r2.Vec{X: x, Y: y})
	}
	return points
}

// The same input gives the same bytes, and a second run replaces the first's files.
func TestTemplatesAreReproducible(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "model.yaml", lighter)
	read := func(folder string) map[string]string {
		files := map[string]string{}
		for _, name := range left(t, filepath.Join(dir, folder)) {
			data, err := os.ReadFile(filepath.Join(dir, folder, name))
			if err != nil {
				t.Fatal(err)
			}
			files[name] = string(data)
		}
		return files
	}
	for _, folder := range []string{"one", "deep/two", "one"} {
		byheadIn(t, dir, "", "templates", "model.yaml", "-o", folder).want(t, statusDone, "10 files in "+folder, "note: weights")
	}
	one, two := read("one"), read("deep/two")
	if len(one) != 10 || len(two) != 10 {
		t.Errorf("%d and %d files", len(one), len(two))
	}
	for name := range one {
		if one[name] != two[name] {
			t.Errorf("%s differs", name)
		}
	}
}

// Whatever is wrong, nothing is written, and nothing is changed that was there.
func TestTemplatesWriteNothingOnWrongInput(t *testing.T) {
	for _, c := range []struct {
		args   string
		status int
		want   string
	}{
		{"model.yaml", statusWrongInput, "needs a folder to write to"},
		{"model.yaml -o out --paper a5", statusWrongInput, `--paper "a5" is not known; a4 or letter`},
		{"model.yaml -o out --measured 99", statusWrongInput, "two with a comma between"},
		{"model.yaml -o out --measured 99,kg", statusWrongInput, "--measured: "},
		{"model.yaml -o out --measured 99,NaN", statusWrongInput, "--measured: "},
		{"model.yaml -o out --measured 9.9,9.9", statusWrongInput, "scaled to fit the page"},
		{"model.yaml -o out --measured 99g,99g", statusWrongInput, "--measured: "},
		{"model.yaml -o out --shell 2", statusWrongInput, "--shell: "},
		{"model.yaml -o out --plate=-1mm", statusWrongInput, "no thickness of a plate"},
		{"model.yaml -o out --plate 2m", statusWrongInput, "no thickness of a plate"},
		{"bare.yaml -o out", statusWrongInput, "bare.yaml:1:1: the scenario has no bulkhead to draw"},
		{"broken.yaml -o out", statusWrongInput, "broken.yaml:8:"},
		{"missing.yaml -o out", statusWrongInput, "missing.yaml:1:1: "},
		{"model.yaml -o tub.yaml", statusFailed, "it is a file; a folder is wanted"},
		{"model.yaml -o tub.yaml/out", statusFailed, "cannot be written to"},
		{"model.yaml -o taken", statusFailed, "templates.pdf cannot be written: it is a folder"},
	} {
		dir := t.TempDir()
		write(t, dir, "tub.yaml", tub)
		write(t, dir, "model.yaml", lighter)
		write(t, dir, "bare.yaml", "format: 1\nhull:\n  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}\n")
		write(t, dir, "broken.yaml", strings.Replace(lighter, "at: 600 mm}", "at: 600}", 1))
		if err := os.MkdirAll(filepath.Join(dir, "taken", pdfName), 0o777); err != nil {
			t.Fatal(err)
		}
		before := left(t, dir)
		o := byheadIn(t, dir, "", append([]string{"templates"}, strings.Fields(c.args)...)...)
		o.want(t, c.status, "", c.want)
		if after := left(t, dir); !slices.Equal(before, after) {
			t.Errorf("%s: left %v", c.args, after)
		}
		if inside := left(t, filepath.Join(dir, "taken")); len(inside) != 1 {
			t.Errorf("%s: left %v in the folder", c.args, inside)
		}
	}
}

// An interrupted run writes nothing.
func TestTemplatesInterrupted(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "model.yaml", lighter)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	status := run(ctx, []string{"templates", "model.yaml", "-o", "out"}, strings.NewReader(""), &stdout, &stderr, dir)
	if status != statusInterrupted || len(left(t, dir)) != 1 {
		t.Errorf("status %d, left %v", status, left(t, dir))
	}
}

// Without a known thickness of the shell the outlines are those of the outside, and that is told; with --shell they are not.
func TestTemplatesOfAShellOfUnknownThickness(t *testing.T) {
	o, d, _ := drawn(t, tub)
	if !strings.Contains(o.stderr, "--shell says it") || math.Abs(d.Parts[0].Outline-0.2*0.08) > 1e-9 || d.Parts[0].Thickness != nil {
		t.Errorf("%q, %+v", o.stderr, d.Parts)
	}
	o, d, _ = drawn(t, tub, "--shell", "1/8 in", "--plate", "3 mm")
	shell := 0.0254 / 8
	if strings.Contains(o.stderr, "--shell") || math.Abs(d.Parts[0].Outline-(0.2-2*shell)*(0.08-shell)) > 1e-8 || *d.Parts[0].Thickness != 0.003 {
		t.Errorf("%q, %+v", o.stderr, d.Parts)
	}
}
