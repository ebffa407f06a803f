package validation

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/validation.md, docs/experiments.md and the figures in docs/bench.md")

const pageFile = "../../docs/validation.md"

// chapters are the groups of the page, in its order.
func chapters() []group {
	return []group{
		{"Fluids", fluidChecks},
		{"Discharge of openings", dischargeChecks},
		{"Geometry and hydrostatics", geometryChecks},
		{"Stability", stabilityChecks},
		{"Bending in still water", bendingChecks},
		{"Air and surfaces", airChecks},
		{"Time histories", append(historyChecks[:len(historyChecks):len(historyChecks)], secondChecks()...)},
		{"Motion, filming, ballast", motionChecks},
	}
}

const pageHead = `# Checked against the outside

Every row is a value that somebody else has, and what the engine of this version makes of it. ` + "`go test ./scenarios/validation`" + ` reckons
all of them anew and fails where one is further off than its last column allows; with ` + "`-update`" + ` it writes this page. The same rows come
out on any machine: differences are printed no finer than a hundredth of what is allowed.

How a value is known: *read* stands in the source named (worked examples of textbooks mostly in published companion scripts, whose
printed output it is, Scilab_TBC among them); *computed* is the source's formula or inputs, worked out by a second hand; *closed form* is classical; *second
method* is a program of our own that shares nothing with the engine; *from memory* is not verified, and proves the less.
Differences are the largest of a row, ours less theirs. Ids are those that the tests of the packages cite.

Measured experiments are on [a page of their own](experiments.md), and [one to do in a sink](bench.md).
`

func TestPage(t *testing.T) {
	var page strings.Builder
	page.WriteString(pageHead)
	rows, published, remembered := 0, 0, 0
	var body strings.Builder
	for _, g := range chapters() {
		fmt.Fprintf(&body, "\n## %s\n\n| id | check | source | theirs | ours | difference | allowed, and why |\n| --- | --- | --- | --- | --- | --- | --- |\n", g.title)
		for i := range g.checks {
			o := g.checks[i].do(&laws{})
			if !o.passes() {
				t.Errorf("%v", &o)
			}
			if o.err != nil {
				continue
			}
			body.WriteString(o.row())
			rows++
			switch o.known {
			case read, computed:
				published++
			case memory:
				remembered++
			}
		}
	}
	if rows < 90 || published < 60 {
		t.Errorf("%d rows, %d of them published; at least 90 and 60 are wanted", rows, published)
	}
	fmt.Fprintf(&page, "\n%d rows, %d of them of published sources, %d from memory.\n", rows, published, remembered)
	page.WriteString(body.String())
	page.WriteString(absentChapter())
	if !t.Failed() {
		samePage(t, pageFile, page.String())
	}
}

// samePage compares a page with what it ought to be, or writes it. Numbers may differ by one in their last digit: where one lies
// right between two, the last bit of another machine decides.
func samePage(t *testing.T, file, want string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(want), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	have, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	a, b := strings.Split(string(have), "\n"), strings.Split(want, "\n")
	if len(a) != len(b) {
		t.Fatalf("%s has %d lines, not %d: go test ./scenarios/validation -update", file, len(a), len(b))
	}
	for i := range a {
		if !alike(a[i], b[i]) {
			t.Errorf("%s:%d is\n%s\nnot\n%s\ngo test ./scenarios/validation -update", file, i+1, a[i], b[i])
		}
	}
}
