package study_test

import (
	"slices"
	"testing"

	"github.com/byhead/byhead/scenarios/study"
)

func row(t *testing.T, c *study.Comparison, name string) study.Row {
	t.Helper()
	i := slices.IndexFunc(c.Rows, func(r study.Row) bool { return r.Result == name })
	if i < 0 {
		t.Fatalf("there is no row %s", name)
	}
	return c.Rows[i]
}

// The freighter founders with low bulkheads and floats with high ones, as her demos say.
func TestCompare(t *testing.T) {
	m := demo(t, "freighter")
	high, err := m.Variant("high")
	if err != nil {
		t.Fatal(err)
	}
	c, err := study.Compare(background, []study.Column{{Name: "low", Model: m}, {Name: "high", Model: high}}, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if c.Rows[0].Result != "fate" {
		t.Errorf("the first row is %s", c.Rows[0].Result)
	}
	for name, want := range map[string]bool{ // better: high
		"fate": true, "hull.foundered_s": true, "hull.steepest_deg": true, "margins.B3.edge.closest_m": true, "margins.hull.gm.closest_m": true,
		"events.overtopped.B3.time_s": true, "duration_s": false, "hull.worst_heel_deg": false, "margins.B2.edge.closest_m": false,
	} {
		r := row(t, c, name)
		if want && !(slices.Equal(r.Best, []string{"high"}) && slices.Equal(r.Worst, []string{"low"})) {
			t.Errorf("%s: best %v, worst %v", name, r.Best, r.Worst)
		}
		if !want && (r.Best != nil || r.Worst != nil) {
			t.Errorf("%s: best %v, worst %v, want none", name, r.Best, r.Worst)
		}
	}
	alone, err := demo(t, "freighter-high").Run(background)
	if err != nil {
		t.Fatal(err)
	}
	for i := range alone.Results { // the variant is the other demo, built by another way
		got, want := c.Outcomes[1].Find(alone.Results[i].Path), alone.Results[i]
		if got == nil || got.Text != want.Text || !(want.IsText() || got.Number == want.Number) {
			t.Errorf("%s is %+v, of the other demo %+v", want.Path, got, want)
		}
	}
}

func TestGrid(t *testing.T) {
	m := read(t, clamped)
	one, err := study.NewAxis("openings.cut.hole", 0.02, 0.03, 3)
	if err != nil {
		t.Fatal(err)
	}
	other, _ := study.NewAxis("openings.cut.cd", 0.6, 0.8, 2)
	points, err := study.Grid([]study.Column{{Name: "tub", Model: m}}, []study.Axis{one, other})
	if err != nil {
		t.Fatal(err)
	}
	c, err := study.Compare(background, points, study.Options{Workers: 3})
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Columns) != 6 || c.Columns[3] != "openings.cut.hole=25 mm openings.cut.cd=0.8" {
		t.Errorf("the columns are %q", c.Columns)
	}
	r, k := row(t, c, rises), 0
	for _, d := range one.Values {
		for _, cd := range other.Values {
			within(t, c.Columns[k], r.Values[k].Number, risingTime(m, d, cd), 1e-5)
			k++
		}
	}
	if !slices.Equal(r.Best, c.Columns[:1]) || !slices.Equal(r.Worst, c.Columns[5:]) {
		t.Errorf("best %v, worst %v", r.Best, r.Worst)
	}
	wrong, _ := study.NewAxis("openings.cut.hole", -0.01, 0.03, 3)
	if _, err := study.Grid([]study.Column{{Model: m}}, []study.Axis{wrong}); err == nil {
		t.Error("a hole of less than nothing passed")
	}
	many, _ := study.NewAxis("openings.cut.hole", 0.01, 0.03, 1000)
	if _, err := study.Grid([]study.Column{{Model: m}}, []study.Axis{many, many}); err == nil {
		t.Error("a million points passed")
	}
}
