package main

import (
	"encoding/json"
	"strings"
	"testing"
)

// A hull that rolls over as it floods in free motion: what is doubtful moves what happens on the way, and the tables show it.
func TestSinkDoubt(t *testing.T) {
	free := strings.Replace(tub, "hole: 20 mm", "hole: 60 mm", 1) + "run: {until: 2 min, motion: free}\n"
	o := byhead(t, map[string]string{"free.yaml": free}, "", "sink", "free.yaml", "--doubt", "--json")
	o.want(t, statusDone, `"doubt"`, "note: ")
	var doc struct {
		Sections []struct {
			Foundered float64 `json:"foundered_s"`
		}
		Doubt []struct {
			Factor   string
			Value    float64
			Fate     string
			Sections []struct {
				Name      string
				Foundered float64 `json:"foundered_s"`
			}
		}
	}
	if err := json.Unmarshal([]byte(o.stdout), &doc); err != nil || len(doc.Doubt) != 4 {
		t.Fatalf("%v: %d doubts", err, len(doc.Doubt))
	}
	told := map[float64]string{}
	for i, want := range []struct {
		factor string
		value  float64
	}{{"added_mass", 0.5}, {"added_mass", 2}, {"damping", 0.5}, {"damping", 2}} {
		d := doc.Doubt[i]
		if d.Factor != want.factor || d.Value != want.value || d.Fate != "founders" || len(d.Sections) != 1 || d.Sections[0].Name != "hull" {
			t.Errorf("doubt %d is %+v", i, d)
		}
		if d.Sections[0].Foundered == doc.Sections[0].Foundered {
			t.Errorf("%s × %g: the very same trace", d.Factor, d.Value)
		}
		if other, same := told[d.Sections[0].Foundered]; same {
			t.Errorf("%s × %g: the very same trace as with %s", d.Factor, d.Value, other)
		}
		told[d.Sections[0].Foundered] = d.Factor
	}
	o = byhead(t, map[string]string{"free.yaml": free}, "", "sink", "free.yaml", "--doubt")
	o.want(t, statusDone, "With damping doubled: the same fate", "note: ")
	o = byhead(t, nil, "", "sink", "tub.yaml", "--doubt", "--json")
	o.want(t, statusDone, `"doubt": null`, "note: --doubt: with motion: settled")
}
