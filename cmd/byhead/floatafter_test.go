package main

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// stageDocument is what a test reads of a float test's document.
type stageDocument struct {
	After *float64 `json:"after_s"`
	Marks []struct {
		Depth *float64 `json:"depth_m"`
	}
	Conditions []struct {
		Name   string
		Floats bool
		Mass   float64  `json:"mass_kg"`
		Fore   *float64 `json:"draft_fore_m"`
		Trim   *float64 `json:"trim_deg"`
		Aboard []struct {
			Name  string
			Water float64 `json:"water_m3"`
			Open  bool
		}
	}
}

// The float test at a stage of a run has the drafts and the water that the trace has there, to what the stepping may err: 1e-5 of a space
// (here under 5 l on 0.2 m², so 2.5e-7 m of draft; a run that ends there steps otherwise at its end).
func TestFloatAfter(t *testing.T) {
	o := byhead(t, nil, "", "sink", "tub.yaml", "--trace", "t.csv")
	o.want(t, statusDone, "Verdict", "note: weights")
	file, err := os.Open(filepath.Join(o.dir, "t.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(time, column string) float64 {
		for _, row := range rows[1:] {
			for i, name := range rows[0] {
				if name == column && row[0] == time {
					x, _ := strconv.ParseFloat(row[i], 64)
					return x
				}
			}
		}
		t.Fatalf("no %s at %s s", column, time)
		return 0
	}
	o = byhead(t, nil, "", "float", "tub.yaml", "--after", "20s", "--json")
	o.want(t, statusDone, `"after_s": 20`, "note: weights: 200 g")
	var d stageDocument
	decodeOne(t, o.stdout, &d)
	if len(d.Conditions) != 1 || d.Conditions[0].Name != "hull" || len(d.Conditions[0].Aboard) != 2 {
		t.Fatalf("%s", o.stdout)
	}
	c := d.Conditions[0]
	fore := c.Aboard[1]
	if want := at("20", "fore.water_m3"); fore.Name != "fore" || !(want > 0) || math.Abs(fore.Water-want) > 1e-7 {
		t.Errorf("aboard %+v, in the trace %g m³", fore, want)
	}
	if want := at("20", "hull.draft_fore_m"); math.Abs(*c.Fore-want) > 1e-6 {
		t.Errorf("draft fore %g m, in the trace %g", *c.Fore, want)
	}
	if want := 12.2 + 999.1*(c.Aboard[0].Water+fore.Water); math.Abs(c.Mass-want) > 1e-5*want {
		t.Errorf("%g kg, hull and water are %g", c.Mass, want)
	}
}

// Once it has parted the sections are floated as they are; before, each also alone, if it were cut off.
func TestFloatAfterAParting(t *testing.T) {
	o := byhead(t, nil, "", "float", "demo:parting", "--after", "40s")
	o.want(t, statusDone, "the hull at 40.0 s, ", "note: weights")
	for _, want := range []string{"section stern alone, if it were cut off at 40.0 s, 2.834 kg", "aboard in hold-1", "bending at J1"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
	o = byhead(t, nil, "", "float", "demo:parting", "--after", "4 min")
	o.want(t, statusDone, "section stern at 4 min 00 s, ", "note: weights")
	if !strings.Contains(o.stdout, "stands on end, its keel 7") || !strings.Contains(o.stdout, "open to the sea, ") || strings.Contains(o.stdout, "the hull at") {
		t.Errorf("%s", o.stdout)
	}
	var d stageDocument
	o = byhead(t, nil, "", "float", "demo:parting", "--after", "4 min", "--json")
	decodeOne(t, o.stdout, &d)
	if len(d.Conditions) != 2 || d.Conditions[0].Name != "stern" || !(*d.Conditions[0].Trim > 70) || d.Conditions[1].Floats || d.Conditions[1].Trim != nil || !d.Conditions[1].Aboard[0].Open {
		t.Errorf("%+v", d)
	}
}

func TestFloatAfterRefusals(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--after", "40"}, `"40" has no unit; a time such as 2 min (s, min or h) is due`},
		{[]string{"--after", "40 mm"}, "is a length; a time such as"},
		{[]string{"--after", "-1 s"}, "lies before the start"},
		{[]string{"--after", ""}, "--after needs a time"},
		{[]string{"--after", "11 min"}, "lies past the end of the run, until: 10 min 00 s; a time up to then, or a longer until"},
		{[]string{"--after", "9 min"}, "nothing is afloat any more; a time up to then"},
		{[]string{"--after", "9s", "--measured", "log.csv"}, "--after and --measured do not go together"},
		{[]string{"--after", "9s", "--lay", "1 kg at 500 mm"}, "--after and --lay do not go together"},
	} {
		o := byhead(t, nil, "", append([]string{"float", "tub.yaml"}, c.args...)...)
		if o.want(t, statusWrongInput, "", c.want); o.stdout != "" {
			t.Errorf("%v: %s", c.args, o.stdout)
		}
	}
	byhead(t, nil, "", "float", "tub.yaml", "--after", "0s").want(t, statusDone, "the hull at 0.0 s, 12.200 kg", "note: weights")
}
