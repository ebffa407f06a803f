package scenarios

import (
	"errors"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"
)

// brokenCase is a scenario with its faults marked: § stands before the character at which each is told, in order of place.
// words has something of each message. reason says why the place is the right one, where it is not plain.
type brokenCase struct {
	name, text string
	words      []string
	schema     bool // the JSON Schema refuses it, too: what it can know are keys, shapes and units
	reason     string
}

const boxHull = "hull: {box: {length: 1 m, breadth: 200 mm, depth: 150 mm}, shell: {mass: 1 kg, at: [500 mm, 0 mm, 50 mm]}}\n"

// marked takes the marks out of a text and gives their places.
func marked(text string) (clean string, places [][2]int) {
	line, column := 1, 1
	var out strings.Builder
	for len(text) > 0 {
		r, size := utf8.DecodeRuneInString(text)
		if r == '§' {
			places = append(places, [2]int{line, column})
			text = text[size:]
			continue
		}
		out.WriteString(text[:size])
		text = text[size:]
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
	}
	return out.String(), places
}

// testFolder is what the scenarios of these tests may name.
func testFolder() fstest.MapFS {
	return fstest.MapFS{
		"good.csv":  {Data: []byte("x,z,y\n0,0,0\n0,50,20\n100,0,0\n100,50,30\n200,0,0\n200,50,5\n")},
		"wrong.csv": {Data: []byte("x,z,y\n0,0,0\n0,50,wide\n100,0,0\n100,50,30\n")},
		"open.stl":  {Data: []byte(openSTL)},
		"tetra.stl": {Data: []byte(stl("0 0 0|0 100 0|100 0 0", "0 0 0|100 0 0|0 0 100", "0 0 0|0 0 100|0 100 0", "100 0 0|0 100 0|0 0 100"))},
		"cup.stl":   {Data: []byte(stl("0 0 0|100 0 0|0 0 100", "0 0 0|0 0 100|0 100 0", "100 0 0|0 100 0|0 0 100"))},
	}
}

func readAll(text string) Faults {
	s, err := Read(testFolder(), "in/boat.yaml", []byte(text))
	if err == nil {
		_, err = s.Build()
	}
	var faults Faults
	if err != nil && !errors.As(err, &faults) {
		faults = Faults{{What: "not Faults: " + err.Error()}}
	}
	return faults
}

func (c brokenCase) check(t *testing.T) {
	text, places := marked(c.text)
	faults := readAll(text)
	if len(faults) != len(c.words) || len(places) != len(c.words) {
		t.Fatalf("%d faults, %d marks, %d words:\n%v\n%s", len(faults), len(places), len(c.words), faults, c.text)
	}
	for i, f := range faults {
		if f.File != "in/boat.yaml" || f.Line != places[i][0] || f.Column != places[i][1] {
			t.Errorf("fault %d is at %s:%d:%d, want in/boat.yaml:%d:%d (%s)\n%v", i, f.File, f.Line, f.Column, places[i][0], places[i][1], c.reason, f)
		}
		message := f.What + "; " + f.Want
		if !strings.Contains(message, c.words[i]) {
			t.Errorf("fault %d has no %q: %s", i, c.words[i], message)
		}
		if f.What == "" || f.Want == "" || strings.ContainsAny(f.Error(), "\n\r") {
			t.Errorf("fault %d is not one line of two halves: %q", i, f.Error())
		}
	}
}

func TestBroken(t *testing.T) {
	for _, group := range [][]brokenCase{brokenYAML, brokenKeys, brokenUnits, brokenLists, brokenParts, brokenBuilds, brokenRuns, brokenVariants} {
		for _, c := range group {
			t.Run(c.name, c.check)
		}
	}
}

var brokenYAML = []brokenCase{
	{name: "empty", text: "§", words: []string{"empty"}, reason: "the contract: an empty file at 1:1"},
	{name: "comment only", text: "§# nothing\n", words: []string{"empty"}},
	{name: "not a mapping", text: "§- 1\n", words: []string{"a scenario is due"}, schema: true},
	{name: "not utf-8", text: "format: 1\ntitle: a§\xff\n", words: []string{"0xFF"}},
	{name: "control character", text: "format: 1\ntitle: a§\x00b\n", words: []string{"U+0000"}},
	{name: "control character by an escape", text: "format: 1\ntitle: §\"a\\e[31mb\"\n" + boxHull, words: []string{"U+001B"}},
	{name: "odd line break", text: "format: 1\ntitle: é§\u2028b\n", words: []string{"U+2028"}, reason: "columns count characters: é is one"},
	{name: "tab", text: "format: 1\nhull:\n§\tbox: {length: 1 m, breadth: 1 m, depth: 1 m}\n", words: []string{"tab"}},
	{name: "unclosed double quote", text: "format: 1\ntitle: §\"a boat\n" + boxHull, words: []string{"quote"}, reason: "the library says line 4"},
	{name: "unclosed single quote", text: "title: §'a boat\nformat: 1\n" + boxHull, words: []string{"quote"}},
	{name: "quote closed by a later one", text: "format: 1\ntitle: §\"a boat\nscale: \"9\"\n" + boxHull, words: []string{"quote"}},
	{name: "unclosed bracket", text: "format: 1\nhull: §{box: {length: 1 m, breadth: 1 m, depth: 1 m}\nbulkheads: []\n", words: []string{"not closed"}},
	{name: "unclosed inner bracket", text: "format: 1\nweights:\n  - {name: a, mass: 1 g, at: §[1 mm, 2 mm}\n" + boxHull, words: []string{"not closed"}},
	{name: "bracket that closes nothing", text: "format: 1\ntitle: [a]§]\n", words: []string{"closes nothing"}},
	{name: "no colon", text: "format: 1\n§hull\nrun: {}\n", words: []string{"neither"}},
	{name: "no space after the colon", text: "format: 1\ntitle§:boat\n" + boxHull, words: []string{"no space"}},
	{name: "two colons", text: "format: 1\ntitle: boat§: holed\n" + boxHull, words: []string{"second colon"}},
	{name: "indented too much", text: "format: 1\n  §title: boat\n" + boxHull, words: []string{"indented"}},
	{name: "indented like nothing", text: "format: 1\nhull:\n    box: {length: 1 m, breadth: 1 m, depth: 1 m}\n  §mirror: true\n", words: []string{"indented"}},
	{name: "at sign", text: "format: 1\ntitle: §@boat\n" + boxHull, words: []string{"begin with @"}},
	{name: "unknown alias", text: "format: 1\ntitle: §*boat\n" + boxHull, words: []string{"names nothing"}},
	{name: "alias inside itself", text: "format: 1\ntitle: &a [§*a]\n" + boxHull, words: []string{"inside what it names"}},
	{name: "duplicate key", text: "format: 1\n" + boxHull + "§format: 1\n", words: []string{"second time (first in line 1)"}},
	{name: "second document", text: "format: 1\n" + boxHull + "§---\nformat: 1\n", words: []string{"second document"}},
	{name: "merge key", text: "format: 1\nhull: {§<<: {box: 1}, box: {length: 1 m, breadth: 1 m, depth: 1 m}, shell: {thickness: 2 mm, density: 1050 kg/m3}}\n", words: []string{"merge"}},
	{name: "merge key of a list", text: "format: 1\n§<<: {[x]: 1}\n" + boxHull, words: []string{"merge"}, reason: "the library panics when it decodes this"},
	{name: "custom tag", text: "format: §!!int 1\n" + boxHull, words: []string{"tag"}},
	{name: "key that is a list", text: "format: 1\n? §[a, b]\n: 1\n" + boxHull, words: []string{"key is a list"}},
	{name: "too deep", text: "format: 1\n" + boxHull + "title: " + strings.Repeat("[", 19) + "§[" + strings.Repeat("]", 20) + "\n", words: []string{"20 levels"},
		reason: "the file's mapping is level 1, so the twentieth bracket is level 21"},
}

var brokenKeys = []brokenCase{
	{name: "unknown key", text: "format: 1\n§titel: boat\n" + boxHull, words: []string{`did you mean "title"?`}, schema: true},
	{name: "unknown inner key", text: "format: 1\n" + boxHull + "water: {§temprature: 18 C}\n", words: []string{`"temperature"`}, schema: true},
	{name: "unknown key far from all", text: "format: 1\n" + boxHull + "§sails: 3\n", words: []string{"its keys are"}, schema: true},
	{name: "no format", text: "§" + boxHull, words: []string{"`format: 1`"}, schema: true},
	{name: "no hull", text: "§format: 1\n", words: []string{`no "hull"`}, schema: true},
	{name: "format of the future", text: "format: §2\n" + boxHull, words: []string{"only one"}, schema: true},
	{name: "hull without a form", text: "format: 1\nhull: §{contact_angle: 80 deg}\n", words: []string{"neither offsets, mesh"}, schema: true},
	{name: "hull of two forms", text: "format: 1\nhull:\n  box: {length: 1 m, breadth: 1 m, depth: 1 m}\n  §mesh: {file: hull.stl, unit: mm}\n",
		words: []string{"box and mesh"}, schema: true},
	{name: "missing key in braces", text: "format: 1\n" + boxHull + "weights: [§{name: a, at: [500 mm, 0 mm, 0 mm]}]\n", words: []string{`no "mass"`}, schema: true},
	{name: "missing key in a block", text: "format: 1\n" + boxHull + "weights:\n  - §name: a\n    at: [500 mm, 0 mm, 0 mm]\n", words: []string{"mass: 310 g"}, schema: true},
	{name: "key without a value", text: "format: 1\n" + boxHull + "water: {§depth: }\n", words: []string{"no value"}, schema: true},
	{name: "mapping where a list is due", text: "format: 1\n" + boxHull + "bulkheads: §{name: B1, at: 500 mm}\n", words: []string{"list is due"}, schema: true},
	{name: "list where a mapping is due", text: "format: 1\n" + boxHull + "water: §[fresh]\n", words: []string{"the water is due"}, schema: true},
	{name: "empty item", text: "format: 1\n" + boxHull + "marks: [{name: a, at: [0 mm, 0 mm, 0 mm]}, §~]\n", words: []string{"empty"}, schema: true},
	{name: "shell without centre", text: "format: 1\nhull: {box: {length: 1 m, breadth: 1 m, depth: 1 m}, shell: §{mass: 1 kg}}\n", words: []string{`no "at"`}},
	{name: "shell twice", text: "format: 1\nhull: {box: {length: 1 m, breadth: 1 m, depth: 1 m}, shell: {mass: 1 kg, at: [500 mm, 0 m, 0 m], §thickness: 1 mm, density: 1050 kg/m3}}\n",
		words: []string{"exclude"}, schema: true},
}
