package scenarios_test

import (
	"io/fs"
	"math"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// The coaster's stern stands on end and hangs on its air for as long as the drill says: for ever without a hole, and about
// (air less what carries her)/(flow at that pressure) with one, which goes like the inverse of the hole's area.
func TestCoasterInTwo(t *testing.T) {
	folder, data, err := scenarios.OpenDemo("in-two")
	if err != nil {
		t.Fatal(err)
	}
	hangs := map[string]float64{}
	for _, name := range []string{"", "no-hole", "drill-05", "drill-12"} {
		r := intwo(t, folder, data, name)
		if len(r.Separations) != 1 || r.Separations[0].Cause != "trim" || math.Abs(r.Separations[0].Trim-4*math.Pi/180) > 1e-6 {
			t.Errorf("%q: %+v", name, r.Separations)
		}
		stern := r.Sections[0]
		if stern.Name != "stern" || stern.Steepest < 70*math.Pi/180 || stern.PastVertical {
			t.Errorf("%q: %+v", name, stern)
		}
		hangs[name] = stern.AfloatAlone
	}
	if !math.IsNaN(hangs["no-hole"]) || !(hangs["drill-05"] > hangs[""] && hangs[""] > hangs["drill-12"]) {
		t.Errorf("afloat alone: %v", hangs)
	}
	// a fixed time to stand up, and the rest like 1/d²: two unknowns from three drills
	stand := (hangs["drill-05"]*0.25 - hangs["drill-12"]*1.44) / (0.25 - 1.44)
	if want := stand + (hangs["drill-05"]-stand)*0.25/0.64; math.Abs(hangs[""]-want) > 0.06*want {
		t.Errorf("0.8 mm: %.1f s alone, by the area of the hole %.1f", hangs[""], want)
	}
}

func intwo(t *testing.T, folder fs.FS, data []byte, variant string) *flood.Result {
	t.Helper()
	s, err := scenarios.Read(folder, "demo:in-two", data)
	if err != nil {
		t.Fatal(err)
	}
	if variant != "" {
		if s, err = s.Variant(variant); err != nil {
			t.Fatal(err)
		}
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	run, err := flood.Start(v, s.Run.Settings())
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatalf("%q: %v, %+v", variant, err, r.GaveUp)
	}
	return r
}
