package validation

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// absent are the values of the list that no row of the page has, and why.
var absent = []struct{ ids, why string }{
	{"FL-06", "viscosity at densities that no water in a pool has"},
	{"FL-14", "sea water under 1000 bar"},
	{"FL-26", "vapour: trapped air is dry (at 20 °C vapour would be 2 % of the pressure)"},
	{"DI-01 DI-02 DI-03 DI-04 DI-06 DI-07", "orifice meters in pipes, with taps and an approach velocity; a hull's hole is in a wall without end (DI-05)"},
	{"DI-10", "a nozzle's expansion: ours is a sharp hole's (DI-08), which loses half as much (DI-50)"},
	{"DI-12", "a mouthpiece that projects inwards: the format has none"},
	{"DI-17", "triangular holes: the format has none"},
	{"DI-24", "a warning, heeded: below l/d 1.5 one number is a choice, and the scenario's page says so"},
	{"DI-27", "the pressure inside a mouthpiece, which nothing asks for"},
	{"DI-51", "a relief valve for a real gas"},
	{"EM-24", "a V-notch in a tank: the format has none (DI-42 and DI-43 are the notch itself)"},
	{"AI-02", "vapour, as FL-26"},
	{"AI-12", "a maker's empirical 0.715 for filters"},
	{"AI-15", "mercury, and cos θ where a hole has sin θ"},
	{"CF-01 CF-02 CF-07", "resistances of structural ducts, which a user gives as C_d"},
	{"CF-05 CF-08 CF-09", "text without a number, or a criterion"},
	{"ST-20", "two liquids of another density in cells that the list does not describe"},
	{"ST-27", "a cube whose centre of mass the list does not give"},
	{"ST-31", "a regression over readings of a ship without a form"},
	{"ST-37", "a plank on a hinge"},
	{"ST-50", "Wigley's hulls with a term of the fourth power"},
	{"PF-01 PF-02 PF-03 PF-04 PF-05 PF-06", "published model tests of progressive flooding: known by their layout only, see the experiments' page"},
	{"PF-07", "the scale effect of AI-08"},
	{"MO-11 MO-12 MO-13", "grains and balls that settle, partly in Stokes flow: no hulls"},
	{"MA-02 MA-03", "sizes of coins, which the tests of the ballast plan check"},
	{"MA-06 MA-07 MA-08 MA-09", "densities of materials: a scenario gives its own"},
	{"MA-10 MA-11", "contact angles: the default, 80°, is ABS's of MA-10; sources differ by ten degrees"},
	{"MA-12 MA-13 MA-14", "permeabilities of rules for ships"},
}

// listed are the ids of the list of published values.
func listed() (ids []string) {
	for _, g := range []struct {
		name    string
		last    int
		missing []int
	}{
		{"FL", 26, nil}, {"DI", 59, []int{36, 54}}, {"EM", 25, []int{13, 16}}, {"AI", 18, []int{4, 7, 10}}, {"CF", 9, nil},
		{"ST", 56, []int{12, 24, 25, 26, 35, 53}}, {"BE", 8, []int{6, 7}}, {"PF", 7, nil}, {"MO", 16, []int{2, 3}}, {"MA", 14, nil},
	} {
		for k := 1; k <= g.last; k++ {
			if !slices.Contains(g.missing, k) {
				ids = append(ids, fmt.Sprintf("%s-%02d", g.name, k))
			}
		}
	}
	return ids
}

// absentChapter tells what is not on the page.
func absentChapter() string {
	var b strings.Builder
	b.WriteString("\n## Not on this page\n\nPublished values that we know of and have no row for:\n\n| id | why |\n| --- | --- |\n")
	for _, a := range absent {
		fmt.Fprintf(&b, "| %s | %s |\n", strings.ReplaceAll(a.ids, " ", ", "), a.why)
	}
	return b.String()
}

// Every value of the list is on the page, or the page says why not; and none is both.
func TestEveryListedValueIsAccountedFor(t *testing.T) {
	ids := listed()
	if len(ids) != 221 {
		t.Errorf("the list has 221 rows, not %d", len(ids))
	}
	id := regexp.MustCompile(`[A-Z]{2}-[0-9]{2}`)
	where := map[string]string{}
	for _, g := range chapters() {
		for _, c := range g.checks {
			for _, x := range id.FindAllString(c.id, -1) {
				where[x] = g.title
			}
		}
	}
	for _, a := range absent {
		for _, x := range strings.Fields(a.ids) {
			if on := where[x]; on != "" {
				t.Errorf("%s is on the page (%s), and said to be absent", x, on)
			}
			where[x] = "absent"
		}
	}
	for _, x := range ids {
		if where[x] == "" {
			t.Errorf("%s is neither on the page nor said to be absent", x)
		}
	}
}
