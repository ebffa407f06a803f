package main

import (
	"slices"
	"strings"
	"testing"
)

func TestCheck(t *testing.T) {
	o := byhead(t, nil, "", "check", "tub.yaml")
	o.want(t, statusDone, "1000.0 mm long, 200.0 mm broad, 150.0 mm deep", "")
	for _, want := range []string{"30.000 l in 12 triangles", "aft", "27.000 l", "B1", "80.0 mm", "cut", "3.142 cm2", "0.610", "crate", "comes later", "Notes", "1:100"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
	o = byhead(t, nil, "", "check", "tub.yaml", "--json")
	o.want(t, statusDone, `"capacity_m3"`, "")
	var doc struct {
		Hull struct {
			Volume float64 `json:"volume_m3"`
		}
		Spaces   []struct{ Name string }
		Openings []struct {
			Between []string
			Cd      float64
		}
		Notes []string
	}
	decodeOne(t, o.stdout, &doc)
	if doc.Hull.Volume < 0.03-1e-12 || doc.Hull.Volume > 0.03+1e-12 || len(doc.Spaces) != 2 || len(doc.Openings) != 1 {
		t.Fatalf("the document is %+v", doc)
	}
	if opening := doc.Openings[0]; opening.Cd != 0.61 || !slices.Equal(opening.Between, []string{"outside", "fore"}) {
		t.Errorf("the opening is %+v", opening)
	}
}
