package scenarios

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// members gives the member names of a JSON object in the order in which they stand.
func members(t *testing.T, data []byte) (names []string) {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(data))
	if open, err := d.Token(); err != nil || open != json.Delim('{') {
		t.Fatalf("no object: %v %v in %.60s", open, err, data)
	}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, name.(string))
		var skipped json.RawMessage
		if err := d.Decode(&skipped); err != nil {
			t.Fatal(err)
		}
	}
	return names
}

// written gives a document's text and its members by name.
func written(t *testing.T, document any) (text []byte, byName map[string]json.RawMessage) {
	t.Helper()
	var out bytes.Buffer
	if err := WriteJSON(&out, document); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out.Bytes(), &byName); err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), byName
}

// items are the elements of a JSON list.
func items(t *testing.T, data json.RawMessage) (list []json.RawMessage) {
	t.Helper()
	if err := json.Unmarshal(data, &list); err != nil || list == nil {
		t.Fatalf("no list: %v in %s", err, data)
	}
	return list
}

func testScenario() *Scenario {
	mm, _ := unitNamed("mm")
	return &Scenario{Format: 1, Title: "Tub & < barrel >", Scale: 96, Unit: mm, Digest: "abc", Run: Run{Motion: Settled}}
}

// foundered is a made-up result with one of everything.
func foundered() *flood.Result {
	return &flood.Result{
		Duration: 212.4, Ended: flood.EndedFoundered, Fate: flood.Founders,
		Sections: []flood.SectionResult{{
			Name: "hull", Fate: flood.Founders, Foundered: 212.4, AfloatAlone: 212.4, Steepest: math.Pi / 4, SteepestAt: 210,
			WorstHeel: math.NaN(),
		}},
		Events: []flood.Event{
			{Time: 18.4, Kind: flood.Overtopped, Name: "B5", Section: "hull"},
			{Time: 40, Kind: flood.LostStability, Name: "hull", Section: "hull"},
			{Time: 61.2, Kind: flood.Parted, Name: "J1"},
			{Time: 212.4, Kind: flood.Foundered, Name: "hull", Section: "hull"},
		},
		Margins: []flood.Margin{
			{Name: "B5", Kind: flood.MarginEdge, Closest: -0.004, Time: 51},
			{Name: "hull", Kind: flood.MarginGM, Closest: math.Copysign(0, -1), Time: 3},
		},
		Warnings:     []flood.Warning{{Kind: flood.DryHoleHolds, Name: "cut-1", Value: 0.0123, Time: 2}},
		WaterBalance: 1.2e-18,
	}
}

// The members and their order are the contract's (scenario.md §6).
func TestSinkDocumentMembers(t *testing.T) {
	text, doc := written(t, NewSinkDocument(testScenario(), foundered()))
	want := strings.Fields("format title version input_digest duration_s ended fate separation separations sections earlier " +
		"events margins warnings bending_curve water_balance_m3 air_balance_kg gave_up first_wetting doubt release_design")
	if diff := cmp.Diff(want, members(t, text)); diff != "" {
		t.Error(diff)
	}
	for name, want := range map[string]string{
		"format": `1`, "title": `"Tub & < barrel >"`, "version": `"0.1.0"`, "input_digest": `"abc"`, "duration_s": `212.4`,
		"ended": `"foundered"`, "fate": `"founders"`, "separation": `null`, "separations": `[]`, "earlier": `[]`,
		"bending_curve": `null`, "water_balance_m3": `1.2e-18`, "air_balance_kg": `0`, "gave_up": `null`, "first_wetting": `null`, "doubt": `null`,
	} {
		if got := string(doc[name]); got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
}

func TestSinkDocumentParts(t *testing.T) {
	_, doc := written(t, NewSinkDocument(testScenario(), foundered()))
	for _, c := range []struct {
		list, members string
		count         int
		first         string
	}{
		{"sections", "name fate foundered_s afloat_alone_s steepest_deg steepest_s worst_heel_deg past_vertical tends", 1,
			`{"name":"hull","fate":"founders","foundered_s":212.4,"afloat_alone_s":212.4,"steepest_deg":45,"steepest_s":210,"worst_heel_deg":null,"past_vertical":false,"tends":null}`},
		{"events", "time_s event name section", 3, `{"time_s":18.4,"event":"overtopped","name":"B5","section":"hull"}`},
		{"margins", "name kind closest_m time_s", 2, `{"name":"B5","kind":"edge","closest_m":-0.004,"time_s":51}`},
	} {
		list := items(t, doc[c.list])
		if len(list) != c.count {
			t.Errorf("%s has %d entries, want %d", c.list, len(list), c.count)
		}
		if diff := cmp.Diff(strings.Fields(c.members), members(t, list[0])); diff != "" {
			t.Error(c.list, diff)
		}
		var compact bytes.Buffer
		if err := json.Compact(&compact, list[0]); err != nil || compact.String() != c.first {
			t.Errorf("%s: %s, want %s", c.list, &compact, c.first)
		}
	}
	events := items(t, doc["events"])
	if got := string(events[1]); !strings.Contains(got, `"section": null`) || !strings.Contains(got, `"parted"`) {
		t.Errorf("a parting belongs to no section: %s", got)
	}
	if got := string(items(t, doc["margins"])[1]); strings.Contains(got, "-0") {
		t.Errorf("a negative zero is written: %s", got)
	}
	if got := string(items(t, doc["warnings"])[0]); !strings.HasPrefix(got, `"cut-1: `) || !strings.Contains(got, "12.3 mm") {
		t.Errorf("a warning begins with the name and tells millimetres: %s", got)
	}
}

func TestSinkDocumentOfARunThatGaveUp(t *testing.T) {
	r := foundered()
	r.Ended, r.Fate, r.Sections[0].Fate = flood.EndedGaveUp, flood.NoFate, flood.NoFate
	r.GaveUp = &flood.Failure{Time: 3.5, Cause: flood.NotFinite, Name: "hold"}
	_, doc := written(t, NewSinkDocument(testScenario(), r))
	if string(doc["fate"]) != "null" || string(doc["ended"]) != `"gave-up"` {
		t.Errorf("fate %s, ended %s", doc["fate"], doc["ended"])
	}
	var compact bytes.Buffer
	if err := json.Compact(&compact, doc["gave_up"]); err != nil || compact.String() != `{"time_s":3.5,"cause":"not-finite","name":"hold"}` {
		t.Errorf("gave_up is %s", &compact)
	}
}

func TestFloatDocument(t *testing.T) {
	nan := math.NaN()
	v := &compartment.Vessel{Marks: []compartment.MarkSpec{{Name: "M"}}}
	tests := []compartment.Floating{
		{Name: "hull", Floats: true, Mass: 2, Centre: r3.Vec{X: 0.5, Z: 0.04}, DraftFore: 0.07, DraftAft: 0.08, Trim: -0.01,
			Freeboard: 0.03, GMTransverse: 0.006, GMLongitudinal: nan, GMUpright: 0.006, RangeOfStability: math.Pi, Marks: []float64{-0.01}},
		{Name: "hull+later", Mass: 9, Trim: nan, Marks: []float64{nan}},
	}
	text, doc := written(t, NewFloatDocument(testScenario(), v, tests))
	if diff := cmp.Diff(strings.Fields("format title version input_digest conditions marks"), members(t, text)); diff != "" {
		t.Error(diff)
	}
	want := strings.Fields("name floats mass_kg draft_fore_m draft_aft_m trim_deg heel_deg freeboard_m gm_transverse_m " +
		"gm_longitudinal_m gm_upright_m lcg_m tcg_m vcg_m range_of_stability_deg " +
		"verdict judgement loll_deg lowest_opening lowest_dry_opening righting_arm marks holds_m3 spaces_hold in_water " +
		"joint_loads bending_peak shear_peak bending_curve")
	for i, c := range items(t, doc["conditions"]) {
		if diff := cmp.Diff(want, members(t, c)); diff != "" {
			t.Error(i, diff)
		}
	}
	var conditions []map[string]any
	if err := json.Unmarshal(doc["conditions"], &conditions); err != nil {
		t.Fatal(err)
	}
	first, second := conditions[0], conditions[1]
	if first["range_of_stability_deg"] != 180.0 || first["gm_longitudinal_m"] != nil || first["lcg_m"] != 0.5 || first["floats"] != true {
		t.Errorf("the floating condition is %v", first)
	}
	for _, name := range want[3:11] {
		if second[name] != nil {
			t.Errorf("%s of what does not float is %v, want null", name, second[name])
		}
	}
	if second["mass_kg"] != 9.0 || second["floats"] != false {
		t.Errorf("the sunk condition is %v", second)
	}
	if got := strings.Join(strings.Fields(string(doc["marks"])), ""); got != `[{"name":"M","depth_m":-0.01}]` {
		t.Errorf("marks are %s", got)
	}
}
