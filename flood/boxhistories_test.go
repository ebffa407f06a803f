package flood_test

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"testing"

	"github.com/byhead/byhead/compartment"
)

var update = flag.Bool("update", false, "write testdata/secondmethod/histories.json with what the second method has now")

const historiesFile = "../testdata/secondmethod/histories.json"

// history is a whole run by the second method: a vessel, and how it lies and what it holds at some instants. docs/validation.md
// holds the engine against it.
type history struct {
	Name     string           `json:"name"`
	Spec     compartment.Spec `json:"spec"`
	Instants []historyInstant `json:"instants"`
}

type historyInstant struct {
	Time  float64   `json:"time_s"`
	Trim  float64   `json:"trim_rad"`
	Heel  float64   `json:"heel_rad"`
	Sea   float64   `json:"sea_m"`
	Water []float64 `json:"water_m3"`
}

// TestHistoriesOfTheSecondMethod: the stored histories are what box integrals and the pair of Dormand and Prince (boxref_test.go,
// boxreftime_test.go) give; the engine has no part in them.
func TestHistoriesOfTheSecondMethod(t *testing.T) {
	cases := []history{
		{Name: "mid compartment, on an even keel", Spec: midSpec()},
		{Name: "end compartment, trim", Spec: endSpec()},
		{Name: "wing space, heel", Spec: wingSpec()},
		{Name: "two wing spaces near the end, heel and trim", Spec: cornerSpec()},
		{Name: "low bulkhead overtopped", Spec: spillSpec()},
	}
	for i := range cases {
		c := &cases[i]
		ship := refFrom(c.Spec)
		s := refState{water: refStart(c.Spec, ship)}
		ref := &refRun{ship: ship, limit: 1e-8}
		var err error
		if ref.pose, err = ship.rest(s.water, refPose{sea: 0.08, levels: make([]float64, len(ship.rooms))}); err != nil {
			t.Fatal(err)
		}
		for _, at := range []float64{5, 15, 30} {
			if err := ref.to(&s, at); err != nil {
				t.Fatal(c.Name, err)
			}
			c.Instants = append(c.Instants, historyInstant{at, s.pose.trim, s.pose.heel, s.pose.sea, append([]float64(nil), s.water...)})
		}
	}
	if *update {
		data, err := json.MarshalIndent(cases, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(historiesFile, append(data, '\n'), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	compareHistories(t, cases)
}

func compareHistories(t *testing.T, cases []history) {
	t.Helper()
	data, err := os.ReadFile(historiesFile)
	if err != nil {
		t.Fatal(err)
	}
	var stored []history
	if err := json.Unmarshal(data, &stored); err != nil {
		t.Fatal(err)
	}
	if len(stored) != len(cases) {
		t.Fatalf("%d histories are stored, not %d", len(stored), len(cases))
	}
	for i, c := range cases {
		specs := [2][]byte{}
		for k, spec := range []compartment.Spec{c.Spec, stored[i].Spec} {
			specs[k], _ = json.Marshal(spec)
		}
		if string(specs[0]) != string(specs[1]) || len(stored[i].Instants) != len(c.Instants) {
			t.Errorf("%s: another vessel is stored: go test ./flood -run SecondMethod -update", c.Name)
			continue
		}
		for k, now := range c.Instants {
			was := stored[i].Instants[k]
			off := max(math.Abs(now.Trim-was.Trim), math.Abs(now.Heel-was.Heel), math.Abs(now.Sea-was.Sea))
			for j, w := range now.Water {
				off = max(off, math.Abs(w-was.Water[j]))
			}
			if !(off <= 1e-9) { // of other machines' last bits
				t.Errorf("%s at %g s is %+v, stored is %+v", c.Name, now.Time, now, was)
			}
		}
	}
}
