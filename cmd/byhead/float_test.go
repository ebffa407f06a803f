package main

import (
	"strings"
	"testing"
)

func TestFloat(t *testing.T) {
	o := byhead(t, nil, "", "float", "tub.yaml")
	// 12 kg on 0.2 m² of water of 999.1 kg/m³ draw 60.06 mm; BM = B²/(12 T) = 55.5 mm, KB = 30.0 mm, KG = 30 mm: closed form
	o.want(t, statusDone, "draft fore", "note: weights: 200 g")
	for _, want := range []string{"60.1 mm", "55.5 mm", "the hull with the weights that come later, 12.200 kg", "mark M", "6.01 m at full size", "above the sea"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
}

func TestFloatTooHeavy(t *testing.T) {
	heavy := strings.Replace(tub, "12 kg", "40 kg", 1)
	o := byhead(t, map[string]string{"heavy.yaml": heavy}, "", "float", "heavy.yaml")
	o.want(t, statusDone, "does not float", "note: weights: 200 g")
	o = byhead(t, map[string]string{"heavy.yaml": heavy}, "", "float", "heavy.yaml", "--json")
	o.want(t, statusDone, `"floats": false`, "note: weights: 200 g")
	var doc struct{ Conditions []map[string]any }
	decodeOne(t, o.stdout, &doc)
	if len(doc.Conditions) != 2 || doc.Conditions[0]["draft_fore_m"] != nil || doc.Conditions[0]["mass_kg"] != 40.0 {
		t.Errorf("the document is %v", doc)
	}
}
