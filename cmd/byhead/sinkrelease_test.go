package main

import (
	"strings"
	"testing"
)

// What a release has to carry and to let go at, in the story and in the document; of a hull without joints an empty list.
func TestSinkRelease(t *testing.T) {
	o := byhead(t, nil, "", "sink", "demo:parting", "--json")
	var doc struct {
		Release []struct {
			Joint   string
			Set     float64 `json:"set_nm"`
			Lever   float64 `json:"lever_m"`
			Devices []struct {
				Kind, By string
				Carries  float64 `json:"carries_n"`
				LetsGo   float64 `json:"lets_go_n"`
			}
			Loads []struct{ Kind, Unit string }
		} `json:"release_design"`
	}
	decodeOne(t, o.stdout, &doc)
	if len(doc.Release) != 1 || doc.Release[0].Joint != "J1" || len(doc.Release[0].Devices) != 4 || len(doc.Release[0].Loads) != 6 ||
		!(doc.Release[0].Devices[2].LetsGo > 1.2*doc.Release[0].Devices[2].Carries) {
		t.Errorf("%+v", doc.Release)
	}
	o = byhead(t, nil, "", "sink", "tub.yaml", "--json")
	if !strings.Contains(o.stdout, `"release_design": []`) {
		t.Errorf("%s", o.stdout)
	}
}
