package scenarios

import (
	"math"
	"os"
	"strings"
	"testing"
)

func example(t *testing.T, path string) *Scenario {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read(os.DirFS("testdata"), path, data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-15*math.Abs(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// TestExampleOfTheContract reads the contract's own example: what it holds, in SI units.
func TestExampleOfTheContract(t *testing.T) {
	s := example(t, "testdata/example.yaml")
	if s.Format != 1 || s.Title != "Island packet, holed forward on a reef" || s.Scale != 96 || s.Unit.Name != "mm" {
		t.Errorf("head: %d %q %v %v", s.Format, s.Title, s.Scale, s.Unit.Name)
	}
	spec := s.Spec
	near(t, "water temperature", spec.Water.Temperature, 291.15)
	near(t, "pool depth", *spec.Water.Depth, 1.4)
	if n := len(spec.Hull.Offsets.Stations); n != 13 || !spec.Hull.Offsets.Mirror {
		t.Errorf("%d stations, mirror %v", n, spec.Hull.Offsets.Mirror)
	}
	near(t, "last station", spec.Hull.Offsets.Stations[12].X, 1.06)
	near(t, "shell", *spec.Hull.Shell.Mass, 0.41)
	near(t, "contact angle", *spec.Hull.ContactAngle, 80*math.Pi/180)
	if spec.Bulkheads[0].Top != nil {
		t.Error("B1 has a top")
	}
	near(t, "top of B4", *spec.Bulkheads[3].Top, 0.062)
	if c := spec.Compartments; !c[0].Airtight || c[2].Name != "boiler-room" || c[2].Permeability != nil || c[2].Airtight {
		t.Errorf("compartments: %+v", c)
	}
	near(t, "start", *spec.Compartments[3].Starts.Volume, 0.0003)
	near(t, "size", spec.Weights[2].Size[2], 0.008)
	if !spec.Weights[0].Later || spec.Weights[1].Later {
		t.Error("later")
	}
	near(t, "slot", spec.Openings[0].Slot.Width, 0.0012)
	near(t, "hole", *spec.Openings[4].Hole, 0.0008)
	if b := spec.Openings[4].Between; b != [2]string{"poop", "outside"} {
		t.Errorf("between %v", b)
	}
	j := spec.Joints[0]
	near(t, "hogging", *j.Holds.Hogging, 1.2)
	near(t, "release", *j.Release[0].Trim, 10*math.Pi/180)
	if s.Run.Motion != Free || s.Run.Until != 480 || s.Run.Every != 0.5 || s.Run.Menisci != Wet || s.Run.Tolerance != 1e-5 || s.Run.AddedMass != 1 {
		t.Errorf("run: %+v", s.Run)
	}
	near(t, "wish", *s.Ballast.Want[0].GM, 0.006)
	near(t, "lead", s.Ballast.Places[0].Material.Density, 11340)
	if sp := s.Spread; !sp[0].Relative || sp[0].Normal != 0.15 || sp[1].Uniform[0] != -0.004 {
		t.Errorf("spread: %+v", sp)
	}
}

// TestDefaults: a file of two keys.
func TestDefaults(t *testing.T) {
	s, err := Read(nil, "-", []byte("format: 1\nhull: {box: {length: 1 m, breadth: 200 mm, depth: 150 mm}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := Run{Until: 600, Every: 0.5, Motion: Settled, Menisci: Wet, Tolerance: 1e-5, AddedMass: 1, LinearDamping: 1, QuadraticDamping: 1}
	if s.Run != want || s.Spec.Water.Kind != "fresh" || s.Spec.Water.Temperature != 288.15 || s.Scale != 1 || s.Ballast != nil {
		t.Errorf("%+v %+v", s.Run, s.Spec.Water)
	}
	basis, faults := parse([]byte(defaults))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	doc, d := assemble(&node{kind: mappingNode, keys: append(s.root.keys, basis.keys...), items: append(s.root.items, basis.items...)}, s.folder)
	if len(d.faults) > 0 || doc.Run != want || doc.Spec.Water != s.Spec.Water {
		t.Errorf("the defaults written out differ from those left out: %+v %v", doc.Run, d.faults)
	}
}

func TestVariants(t *testing.T) {
	s := example(t, "testdata/every-key.yaml")
	low, err := s.Variant("low")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "top", *low.Spec.Bulkheads[0].Top, 0.05)
	near(t, "top in the file", *s.Spec.Bulkheads[0].Top, 0.1143)
	near(t, "permeability of a compartment that is only a name", *low.Spec.Compartments[0].Permeability, 0.9)
	near(t, "width", low.Spec.Openings[1].Slot.Width, 0.001)
	near(t, "length beside it", low.Spec.Openings[1].Slot.Length, 0.024)
	if low.Digest == s.Digest || len(low.Digest) != 64 || low.Title != s.Title || len(low.Variants) != 0 {
		t.Errorf("digest %q, title %q, %d variants", low.Digest, low.Title, len(low.Variants))
	}
	other, err := s.Variant("other")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "keel", *other.Run.Keel, 0.09)
	near(t, "coefficient that the file does not give", *other.Spec.Openings[0].Cd, 0.7)
	near(t, "whole place", other.Spec.Openings[5].At.X, 0.81)
	if _, err := s.Variant("lwo"); err == nil || !strings.Contains(err.Error(), `did you mean "low"?`) || !strings.Contains(err.Error(), "every-key.yaml:50:1: ") {
		t.Errorf("unknown variant: %v", err)
	}
}

func TestSet(t *testing.T) {
	s := example(t, "testdata/every-key.yaml")
	out, err := s.Set("openings.pump.flow", "2 l/min")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "flow", *out.Spec.Openings[5].Flow, 0.002/60)
	for path, has := range map[string]string{"openings.pmup.flow": "pump", "openings.pump.flow.x": "no part", "openings.pump.name": "does not lead", "sails": "not the path"} {
		if _, err := s.Set(path, "2 l/min"); err == nil || !strings.Contains(err.Error(), has) {
			t.Errorf("%s: %v", path, err)
		}
	}
	if _, err := s.Set("openings.pump.flow", "2 mm"); err == nil || !strings.Contains(err.Error(), "openings.pump.flow: \"2 mm\" is a length") {
		t.Errorf("wrong kind: %v", err)
	}
}

// TestFaultOfAVariantStandsInIt: what the builder finds wrong with a replaced value is told where that value is written, and
// what it finds wrong with the file's own values beside it at the variant.
func TestFaultOfAVariantStandsInIt(t *testing.T) {
	text, places := marked(varied + "variants:\n  - §{name: v, set: {bulkheads.B1.at: 700 mm}}\n  - {name: w, set: {bulkheads.B2.at: §200 mm}}\n")
	s, err := Read(nil, "-", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Build(); err != nil {
		t.Fatal(err)
	}
	for i, name := range []string{"v", "w"} {
		v, err := s.Variant(name)
		if err != nil {
			t.Fatal(err)
		}
		_, err = v.Build()
		faults, ok := err.(Faults)
		if !ok || len(faults) != 1 || faults[0].Line != places[i][0] || faults[0].Column != places[i][1] {
			t.Errorf("want one fault at %v, have\n%v", places[i], err)
		}
	}
}

// TestDigest: it changes with every byte of the scenario and of the files that it names, and with nothing else.
func TestDigest(t *testing.T) {
	text := "format: 1\nhull: {mirror: true, offsets: {unit: mm, file: good.csv}}\n"
	digestOf := func(text, csv string) string {
		folder := testFolder()
		folder["good.csv"].Data = []byte(csv)
		s, err := Read(folder, "boat.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return s.Digest
	}
	csv := string(testFolder()["good.csv"].Data)
	first := digestOf(text, csv)
	if first != digestOf(text, csv) || first == digestOf(text+"\n", csv) || first == digestOf(text, csv+"\n") || first == digestOf(text, strings.Replace(csv, "30", "31", 1)) {
		t.Error("the digest does not follow the input")
	}
}

func TestUnitOfTheFile(t *testing.T) {
	for text, want := range map[string]string{
		"hull: {box: {length: 40 in, breadth: 8 in, depth: 150 mm}}":      "in",
		"hull: {box: {length: 1 m, breadth: 200 mm, depth: 0.5 ft}}":      "m",
		"hull: {mesh: {file: tetra.stl, unit: cm}}":                       "cm",
		"water: {depth: 1 ft}\nhull: {mesh: {file: tetra.stl, unit: cm}}": "ft",
	} {
		s, err := Read(testFolder(), "boat.yaml", []byte("format: 1\n"+text+"\n"))
		if err != nil {
			t.Fatal(err)
		}
		if s.Unit.Name != want {
			t.Errorf("%s: %s, want %s", text, s.Unit.Name, want)
		}
	}
}

// TestMeshIsReadAndMended: the flat bottom that an open STL lacks is closed, and told.
func TestMeshIsReadAndMended(t *testing.T) {
	s, err := Read(testFolder(), "in/boat.yaml", []byte("format: 1\nhull: {mirror: true, mesh: {file: cup.stl, unit: mm}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	notes := strings.Join(s.Notes, "\n")
	if len(s.Spec.Hull.Mesh.Triangles) < 4 || !strings.Contains(notes, "in/cup.stl:") || !strings.Contains(notes, "closed by a plane of 50 cm²") || !strings.Contains(notes, "hull.mirror") {
		t.Errorf("%d triangles, notes:\n%s", len(s.Spec.Hull.Mesh.Triangles), notes)
	}
}

// TestStandardInputNamesNoFiles, and files of a demo are called by its name.
func TestStandardInputNamesNoFiles(t *testing.T) {
	text := []byte("format: 1\nhull: {mirror: true, offsets: {unit: mm, file: good.csv}}\n")
	if _, err := Read(nil, "-", text); err == nil || !strings.HasPrefix(err.Error(), "-:2:42: ") || !strings.Contains(err.Error(), "standard input") {
		t.Errorf("%v", err)
	}
	text = []byte("format: 1\nhull: {mirror: true, offsets: {unit: mm, file: wrong.csv}}\n")
	if _, err := Read(testFolder(), "demo:packet", text); err == nil || !strings.HasPrefix(err.Error(), "demo:packet/wrong.csv:3:6: ") {
		t.Errorf("%v", err)
	}
}

func TestLimits(t *testing.T) {
	head := "format: 1\n" + boxHull
	aliases := func(n int) string {
		return head + "title: [&a x" + strings.Repeat(", *a", n) + "]\n"
	}
	bomb := head + "title: [&a [x,x,x,x,x,x,x,x,x,x], &b [*a,*a,*a,*a,*a,*a,*a,*a,*a,*a], &c [*b,*b,*b,*b,*b,*b,*b,*b,*b,*b], &d [*c,*c,*c,*c,*c,*c,*c,*c,*c,*c]]\n"
	for name, c := range map[string]struct{ text, has string }{
		"100 aliases": {aliases(100), "a text is due"},
		"101 aliases": {aliases(101), "more than 100 aliases"},
		"bomb":        {bomb, "more than 10000 values"},
		"nodes":       {head + "title: [" + strings.Repeat("x,", 10_001) + "]\n", "more than 10000 values"},
		"lists":       {strings.Repeat("- ", 1<<19), "levels deep"},
		"question":    {strings.Repeat("? ", 1<<19), "neither"}, // quick only if no part of the line is looked at twice
		"mappings":    {strings.Repeat("{a: ", 1<<18), "not closed"},
		"bytes":       {head + "#" + strings.Repeat("x", 1<<20) + "\n", "more than the 1048576"},
	} {
		_, err := Read(nil, "-", []byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.has) || strings.Count(err.Error(), "\n") > 0 {
			t.Errorf("%s: %.300v", name, err)
		}
	}
}

// TestByteOrderMark: it is not counted in columns, and a stray one is refused.
func TestByteOrderMark(t *testing.T) {
	if _, err := Read(nil, "-", []byte("\ufeffformat: 1\n"+boxHull)); err != nil {
		t.Error(err)
	}
	if _, err := Read(nil, "-", []byte("\ufeffformat: 2\n"+boxHull)); err == nil || !strings.HasPrefix(err.Error(), "-:1:9: ") {
		t.Errorf("%v", err)
	}
	if _, err := Read(nil, "-", []byte("format: 1\n\ufeff"+boxHull)); err == nil || !strings.HasPrefix(err.Error(), "-:2:1: ") {
		t.Errorf("%v", err)
	}
}

// TestCarriageReturns: lines end in \n, \r\n or \r.
func TestCarriageReturns(t *testing.T) {
	for _, end := range []string{"\n", "\r\n", "\r"} {
		_, err := Read(nil, "-", []byte(strings.ReplaceAll("format: 1\n"+boxHull+"scale: x\n", "\n", end)))
		if err == nil || !strings.HasPrefix(err.Error(), "-:3:8: ") {
			t.Errorf("%q: %v", end, err)
		}
	}
}

func TestEveryDemo(t *testing.T) {
	for _, demo := range Demos() {
		folder, data, err := OpenDemo(demo.Name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := Read(folder, DemoPrefix+demo.Name, data)
		if err != nil {
			t.Errorf("%s: %v", demo.Name, err)
			continue
		}
		if _, err := s.Build(); err != nil {
			t.Errorf("%s: %v", demo.Name, err)
		}
		if demo.Title == "" || !strings.HasPrefix(string(data), "# yaml-language-server: $schema=scenario.schema.json\n") {
			t.Errorf("%s: title %q, first line %.60q", demo.Name, demo.Title, data)
		}
	}
	if _, _, err := OpenDemo("pakcet"); err == nil {
		t.Error("an unknown demo was opened")
	}
}
