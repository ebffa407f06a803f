package scenarios

import (
	"strings"
	"testing"
)

var brokenUnits = []brokenCase{
	{name: "bare number", text: "format: 1\n" + boxHull + "water: {depth: §2}\n", words: []string{"(m, cm, mm, in or ft)"}, schema: true},
	{name: "bare zero", text: "format: 1\n" + boxHull + "marks: [{name: a, at: [500 mm, §0, 75 mm]}]\n", words: []string{"no unit"}, schema: true},
	{name: "another kind", text: "format: 1\n" + boxHull + "water: {depth: §2 kg}\n", words: []string{`"2 kg" is a mass; a length`}, schema: true},
	{name: "unknown unit", text: "format: 1\n" + boxHull + "water: {depth: §2 mmm}\n", words: []string{"did you mean mm?"}, schema: true},
	{name: "usual name of a unit", text: "format: 1\n" + boxHull + "water: {depth: §2 inches}\n", words: []string{"write in"}, schema: true},
	{name: "decimal comma", text: "format: 1\n" + boxHull + "water:\n  depth: §1,5 m\n", words: []string{"decimal point"}, schema: true},
	{name: "nan", text: "format: 1\n" + boxHull + "water: {depth: §.nan}\n", words: []string{"not a finite number"}, schema: true},
	{name: "infinite", text: "format: 1\n" + boxHull + "water: {depth: §-Inf m}\n", words: []string{"not a finite number"}, schema: true},
	{name: "absurd length", text: "format: 1\n" + boxHull + "water: {depth: §21 m}\n", words: []string{"20 m"}},
	{name: "absurd in feet", text: "format: 1\n" + boxHull + "water: {depth: §70 ft}\n", words: []string{"65.617 ft"}},
	{name: "absurd factor", text: "format: 1\n" + boxHull + "run: {motion: free, added_mass: §1e300}\n", words: []string{"0 or more, at most 1000"}, schema: true},
	{name: "absurd time", text: "format: 1\n" + boxHull + "run: {until: §-1e30 s}\n", words: []string{"more than nothing, up to 1e+07 s"}, schema: true},
	{name: "absurd mass", text: "format: 1\n" + boxHull + "weights: [{name: a, mass: §21000 kg, at: [500 mm, 0 mm, 75 mm]}]\n", words: []string{"20000 kg"}},
	{name: "huge exponent", text: "format: 1\n" + boxHull + "water: {depth: §1e999 m}\n", words: []string{"absurd"}},
	{name: "negative mass", text: "format: 1\n" + boxHull + "weights: [{name: a, mass: §-1 kg, at: [500 mm, 0 mm, 75 mm]}]\n", words: []string{"more than nothing"}, schema: true},
	{name: "no number", text: "format: 1\n" + boxHull + "water: {depth: §deep}\n", words: []string{"not a quantity"}, schema: true},
	{name: "list for a value", text: "format: 1\n" + boxHull + "water: {depth: §[1 m]}\n", words: []string{"one value is due"}, schema: true},
	{name: "permeability past one", text: "format: 1\n" + boxHull + "compartments: [{name: a, permeability: §92}]\n", words: []string{"at most 1"}, schema: true},
	{name: "start without a unit", text: "format: 1\n" + boxHull + "compartments: [{name: a, starts: §0.3}]\n", words: []string{"volume such as 300 ml (l or ml)"}, schema: true},
	{name: "number with a unit", text: "format: 1\nscale: §96 mm\n" + boxHull, words: []string{"is a length"}, schema: true},
	{name: "scale as a ratio", text: "format: 1\nscale: §1:96\n" + boxHull, words: []string{"plain number"}, schema: true},
	{name: "hot water", text: "format: 1\n" + boxHull + "water: {temperature: §60 C}\n", words: []string{"0 C to 40 C"}},
	{name: "unknown word", text: "format: 1\n" + boxHull + "water: {kind: §salt}\n", words: []string{"fresh or sea"}, schema: true},
	{name: "yes for true", text: "format: 1\n" + boxHull + "compartments: [{name: a, airtight: §yes}]\n", words: []string{"true or false"}, schema: true},
	{name: "unit of a table", text: "format: 1\nhull: {offsets: {unit: §kg, file: good.csv}, mirror: true}\n", words: []string{"unit of length"}, schema: true},
}

var brokenLists = []brokenCase{
	{name: "two coordinates", text: "format: 1\n" + boxHull + "marks: [{name: a, §at: [500 mm, 75 mm]}]\n", words: []string{"three values are due"}, schema: true,
		reason: "the contract: a wrong count at the list's key"},
	{name: "span backwards", text: "format: 1\n" + boxHull + "weights: [{name: a, mass: 1 g, at: [500 mm, 0 mm, 0 mm], over: [600 mm, §400 mm]}]\n", words: []string{"lesser value first"}},
	{name: "one name", text: "format: 1\n" + boxHull + "openings: [{name: a, §between: [hold], at: [0 mm, 0 mm, 75 mm], hole: 5 mm}]\n", words: []string{"two values"}, schema: true},
	{name: "slot of one side", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], slot: §24 mm}]\n",
		words: []string{"LENGTH x WIDTH"}, schema: true},
	{name: "slot in kilograms", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], slot: §24 mm x 1.2 kg}]\n",
		words: []string{"is a mass"}, schema: true},
	{name: "direction", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], hole: 5 mm, faces: §up}]\n",
		words: []string{"x, -x, y"}, schema: true},
	{name: "direction of no length", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], hole: 5 mm, faces: §[0, 0, 0]}]\n",
		words: []string{"points nowhere"}},
	{name: "inline table with units", text: "format: 1\nhull:\n  mirror: true\n  offsets:\n    unit: mm\n    stations:\n      - {x: 0, points: [[0, 5], [50, §20 mm]]}\n      - {x: 100, points: [[0, 5], [50, 20]]}\n",
		words: []string{"plain number is due"}, schema: true},
}

var brokenParts = []brokenCase{
	{name: "two shapes", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], hole: 5 mm, §slot: 5 mm x 1 mm}]\n",
		words: []string{"hole and slot"}, schema: true, reason: "the contract: two shapes at the later"},
	{name: "two shapes, the other order", text: "format: 1\n" + boxHull + "openings: [{name: a, slot: 5 mm x 1 mm, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], §hole: 5 mm}]\n",
		words: []string{"slot and hole"}, schema: true},
	{name: "no shape", text: "format: 1\n" + boxHull + "openings: [§{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm]}]\n", words: []string{"neither hole, slot"}, schema: true},
	{name: "taken name", text: "format: 1\n" + boxHull + "compartments: [§sea]\n", words: []string{"meaning of its own"}, schema: true},
	{name: "name with a space", text: "format: 1\n" + boxHull + "compartments: [§engine room]\n", words: []string{"letters, digits and hyphens"}, schema: true},
	{name: "half a box", text: "format: 1\n" + boxHull + "compartments: [main, §{name: wing, x: [1 mm, 2 mm]}]\n", words: []string{"all three"}},
	{name: "unknown space", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, §holt], at: [0 mm, 0 mm, 75 mm], hole: 5 mm}]\n", words: []string{"hold"}},
	{name: "unknown joint", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], hole: 5 mm, opens: {joint: §J1}}]\n", words: []string{"no joint"}},
	{name: "empty condition", text: "format: 1\n" + boxHull + "openings: [{name: a, between: [outside, hold], at: [0 mm, 0 mm, 75 mm], hole: 5 mm, opens: §{}}]\n", words: []string{"neither time, joint"}, schema: true},
	{name: "negative limit", text: "format: 1\n" + boxHull + "joints: [{name: J1, at: 500 mm, sections: [stern, bow], holds: {hogging: §-1 N.m}}]\n", words: []string{"magnitudes"}, schema: true},
	{name: "joint released by a joint", text: "format: 1\n" + boxHull + "joints: [{name: J1, at: 500 mm, sections: [stern, bow], release: {§joint: J2, time: 2 s}}]\n",
		words: []string{"no key"}, schema: true},
	{name: "section of another name", text: "format: 1\n" + boxHull + "joints: [{name: J1, at: 300 mm, sections: [stern, mid]}, {name: J2, at: 600 mm, sections: [§middle, bow]}]\n",
		words: []string{"one name for one piece"}},
	{name: "file that is not there", text: "format: 1\nhull: {mirror: true, offsets: {unit: mm, §file: god.csv}}\n", words: []string{`perhaps "good.csv"`}},
	{name: "file outside the folder", text: "format: 1\nhull: {mirror: true, offsets: {unit: mm, §file: ../good.csv}}\n", words: []string{"out of the scenario's folder"}},
	{name: "absolute file", text: "format: 1\nhull: {mirror: true, offsets: {unit: mm, §file: /etc/passwd}}\n", words: []string{"below the scenario's folder"}, schema: true},
	{name: "folder for a file", text: "format: 1\nhull: {mirror: true, offsets: {unit: mm, §file: .}}\n", words: []string{"out of"}},
	{name: "table twice", text: "format: 1\nhull: {mirror: true, offsets: {unit: mm, file: good.csv, §stations: []}}\n", words: []string{"file and stations"}, schema: true},
}

// brokenBuilds are faults that the builder finds, at their places in the file.
var brokenBuilds = []brokenCase{
	{name: "one compartment too few", text: "format: 1\n" + boxHull + "bulkheads: [{name: B1, at: 300 mm}, {name: B2, at: 600 mm}]\n§compartments: [a, b]\n",
		words: []string{"one more than the bulkheads"}, reason: "a wrong count at the list's key"},
	{name: "boxes overlap", text: "format: 1\n" + boxHull + "compartments:\n  - main\n  - {name: a, x: [100 mm, 200 mm], y: [0 mm, 50 mm], z: [0 mm, 50 mm]}\n  - §{name: b, x: [150 mm, 250 mm], y: [0 mm, 50 mm], z: [0 mm, 50 mm]}\n",
		words: []string{"overlaps"}, reason: "a fault of two things at the later"},
	{name: "opening out of reach of its compartment", text: "format: 1\n" + boxHull + "bulkheads: [{name: B1, at: 300 mm}]\ncompartments: [a, b]\nopenings: [{name: o, between: [outside, b], at: §[200 mm, 100 mm, 50 mm], hole: 5 mm}]\n",
		words: []string{"b"}},
	{name: "opening off the plate", text: "format: 1\n" + boxHull + "openings: [{name: o, between: [outside, hold], at: §[200 mm, 80 mm, 50 mm], hole: 5 mm}]\n", words: []string{"nearest plate"}},
	{name: "bulkheads out of order", text: "format: 1\n" + boxHull + "bulkheads:\n  - {name: B1, at: 600 mm}\n  - {name: B2, at: §300 mm}\ncompartments: [a, b, c]\n", words: []string{"order from the stern"}},
	{name: "name twice", text: "format: 1\n" + boxHull + "bulkheads:\n  - {name: B1, at: 300 mm}\n  - §{name: B1, at: 600 mm}\ncompartments: [a, b, c]\n", words: []string{"name"}},
	{name: "more water than fits", text: "format: 1\n" + boxHull + "compartments: [{name: a, starts: §31 l}]\n", words: []string{"30 l"}},
	{name: "centre outside the middle third", text: "format: 1\n" + boxHull + "weights: [{name: a, mass: 1 g, at: §[900 mm, 0 mm, 50 mm], over: [0 mm, 1 m]}]\n", words: []string{"middle third"}},
	{name: "stations out of order", text: "format: 1\nhull:\n  mirror: true\n  shell: {thickness: 2 mm, density: 1050 kg/m3}\n  offsets:\n    unit: mm\n    stations:\n      - {x: 100, points: [[0, 0], [50, 20]]}\n      - §{x: 0, points: [[0, 0], [50, 20]]}\n",
		words: []string{"aft forward"}},
}

var brokenRuns = []brokenCase{
	{name: "no time at all", text: "format: 1\n" + boxHull + "run: {until: §0 s}\n", words: []string{"more than nothing"}},
	{name: "long, but rare rows", text: "format: 1\n" + boxHull + "run: {until: 1000 h, every: 10 s}\n"},
	{name: "too many rows", text: "format: 1\n" + boxHull + "run: {until: 1000 h, §every: 1 s}\n", words: []string{"3600000 rows"}},
	{name: "a million rows passed", text: "format: 1\n" + boxHull + "run: {every: 1e-3 s, §until: 20 min}\n", words: []string{"1200000 rows"}, reason: "of two things at the later"},
	{name: "keel without held", text: "format: 1\n" + boxHull + "run: {§keel: 100 mm}\n", words: []string{"motion: held"}},
	{name: "keel of a settled hull", text: "format: 1\n" + boxHull + "run: {keel: 100 mm, §motion: settled}\n", words: []string{"motion: held"}},
	{name: "unknown motion", text: "format: 1\n" + boxHull + "run: {motion: §fre}\n", words: []string{`did you mean "free"?`}, schema: true},
	{name: "tolerance", text: "format: 1\n" + boxHull + "run: {tolerance: §2}\n", words: []string{"0.1"}, schema: true},
	{name: "negative factor", text: "format: 1\n" + boxHull + "run: {added_mass: §-1}\n", words: []string{"0 or more"}, schema: true},
	{name: "ballast of a stranger", text: "format: 1\n" + boxHull + "ballast: {want: [{of: §stern, gm: 3 mm}], places: []}\n", words: []string{"hull+later"}},
	{name: "ballast without wishes", text: "format: 1\n" + boxHull + "ballast: §{places: []}\n", words: []string{`no "want"`}, schema: true},
	{name: "wish for nothing", text: "format: 1\n" + boxHull + "ballast: {want: [§{of: hull}], places: []}\n", words: []string{"at least one"}, schema: true},
	{name: "material", text: "format: 1\n" + boxHull + "ballast: {want: [{gm: 3 mm}], places: [{name: a, x: [1 mm, 2 mm], y: [1 mm, 2 mm], z: [1 mm, 2 mm], material: §led}]}\n",
		words: []string{`"lead"`}, schema: true},
	{name: "place twice", text: "format: 1\n" + boxHull + "ballast: {want: [{gm: 3 mm}], places: [{name: a, x: [1 mm, 2 mm], y: [1 mm, 2 mm], z: [1 mm, 2 mm], material: lead}, {name: §a, x: [1 mm, 2 mm], y: [1 mm, 2 mm], z: [1 mm, 2 mm], material: lead}]}\n",
		words: []string{"already"}},
}

const varied = "format: 1\n" + boxHull + "bulkheads: [{name: B1, at: 300 mm, top: 66 mm}, {name: B2, at: 600 mm}]\ncompartments: [a, b, c]\nwater: {temperature: 18 C}\n" +
	"openings: [{name: cut, between: [outside, a], at: [0 mm, 0 mm, 75 mm], slot: 24 mm x 1.2 mm}]\n"

var brokenVariants = []brokenCase{
	{name: "unknown part", text: varied + "variants: [{name: v, set: {§bulkhead.B1.top: 50 mm}}]\n", words: []string{`"bulkheads"`}},
	{name: "unknown bulkhead", text: varied + "variants: [{name: v, set: {§bulkheads.B3.top: 50 mm}}]\n", words: []string{"it has B1 and B2"}},
	{name: "unknown value", text: varied + "variants: [{name: v, set: {§bulkheads.B1.tob: 50 mm}}]\n", words: []string{`"top"`}},
	{name: "past the end", text: varied + "variants: [{name: v, set: {§bulkheads.B1.top.x: 50 mm}}]\n", words: []string{"no part"}},
	{name: "name of a part", text: varied + "variants: [{name: v, set: {§bulkheads.B1.name: B9}}]\n", words: []string{"does not lead to a value"}},
	{name: "wrong kind", text: varied + "variants: [{name: v, set: {bulkheads.B1.top: §50 g}}]\n", words: []string{"is a mass"}},
	{name: "variant twice", text: varied + "variants: [{name: v, set: {run.until: 1 min}}, {name: §v, set: {run.until: 2 min}}]\n", words: []string{"already"}},
	{name: "spread of a word", text: varied + "spread: [{value: §water.kind, normal: 5 %}]\n", words: []string{"not a number"}},
	{name: "spread of nothing", text: varied + "spread: [{value: §openings.cut.cd, normal: 5 %}]\n", words: []string{"gives no value"}},
	{name: "spread of a stranger", text: varied + "spread: [{value: §openings.cat.slot.width, normal: 5 %}]\n", words: []string{`"cut"`}},
	{name: "spread of another kind", text: varied + "spread: [{value: openings.cut.slot.width, normal: §5 g}]\n", words: []string{"is a mass"}},
	{name: "uniform of another kind", text: varied + "spread: [{value: openings.cut.at.z, uniform: [-1 mm, §1 kg]}]\n", words: []string{"is a mass"}},
	{name: "uniform backwards", text: varied + "spread: [{value: openings.cut.at.z, uniform: [1 mm, §-1 mm]}]\n", words: []string{"lesser value first"}},
	{name: "two spreads in one", text: varied + "spread: [{value: openings.cut.at.z, normal: 1 mm, §uniform: [-1 mm, 1 mm]}]\n", words: []string{"normal and uniform"}, schema: true},
	{name: "no deviation", text: varied + "spread: [{value: openings.cut.at.z, normal: §0 mm}]\n", words: []string{"no standard deviation"}},
}

// TestFaultsOfNamedFiles: their place is inside them where they are text.
func TestFaultsOfNamedFiles(t *testing.T) {
	cases := []struct{ text, want string }{
		{"format: 1\nhull: {mirror: true, offsets: {unit: mm, file: wrong.csv}}\n", "in/wrong.csv:3:6: "},
		{"format: 1\nhull:\n  mesh: {file: open.stl, unit: mm}\n", "in/open.stl:4:"},
	}
	for _, c := range cases {
		faults := readAll(c.text)
		if len(faults) != 1 || !strings.HasPrefix(faults[0].Error(), c.want) {
			t.Errorf("want one fault at %s, have\n%v", c.want, faults)
		}
	}
}

// openSTL is a tetrahedron of which two neighbouring faces are missing: its open loop does not lie in one plane.
var openSTL = stl("0 0 0|0 100 0|100 0 0", "0 0 0|100 0 0|0 0 100")

// stl writes triangles, each of three corners with | between.
func stl(triangles ...string) string {
	var s strings.Builder
	s.WriteString("solid test\n")
	for _, t := range triangles {
		s.WriteString("facet normal 0 0 0\nouter loop\nvertex " + strings.ReplaceAll(t, "|", "\nvertex ") + "\nendloop\nendfacet\n")
	}
	return s.String() + "endsolid test\n"
}

// TestAllAtOnce: one file with faults of every stage, from the bytes' to the builder's; each is told once.
func TestAllAtOnce(t *testing.T) {
	c := brokenCase{
		text: "format: 1\n§titel: boat\n" + boxHull + "water: {depth: §2 kg}\nbulkheads:\n  - {name: B1, at: §three}\n  - {name: B2, at: 600 mm, §tpo: 60 mm}\n" +
			"compartments: [a, {name: b, permeability: §7}, c]\nopenings:\n  - {name: cut, between: [outside, §d], at: [0 mm, 0 mm, 75 mm], hole: 5 mm}\n",
		words: []string{"title", "mass", "not a quantity", "top", "at most 1", "no compartment"},
	}
	c.check(t)
}
