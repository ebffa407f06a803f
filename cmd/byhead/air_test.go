package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
)

// The trace of the demo bell has the air's pressure and its flow, whose sum over time is what the story says has gone; the document
// has a balance of air.
func TestAirInTraceAndDocument(t *testing.T) {
	dir := t.TempDir()
	byheadIn(t, dir, "", "sink", "demo:bell", "--trace", "bell.csv").want(t, statusDone, "Trapped air", "")
	file, err := os.Open(filepath.Join(dir, "bell.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(row []string, column string) float64 {
		at := slices.Index(rows[0], column)
		if at < 0 {
			t.Fatalf("no column %s in %v", column, rows[0])
		}
		x, err := strconv.ParseFloat(row[at], 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	gone, last := 0.0, rows[len(rows)-1]
	for i := 2; i < len(rows); i++ {
		dt := number(rows[i], "time_s") - number(rows[i-1], "time_s")
		gone += dt * number(rows[i], "pinhole.air_m3_per_s") // nearly constant once the mouth has let the water in, at once
	}
	const capacity, atmosphere = 7.8552e-3, 101325 // as `check` prints it
	pressure := number(last, "bell.air_pa")
	want := capacity/(1+pressure/atmosphere) - (capacity - number(last, "bell.water_m3")) // at the pressure inside, which stays
	t.Logf("%.5g m³ went through the pinhole, %.5g m³ are missing, at %.1f Pa", gone, want, pressure)
	if !(math.Abs(gone/want-1) < 0.01) || !(pressure > 1000 && pressure < 1500) {
		t.Errorf("%g m³ went through the pinhole, %g m³ are missing, at %g Pa", gone, want, pressure)
	}
	o := byheadIn(t, dir, "", "sink", "demo:bell", "--json")
	var document struct {
		Air  *float64 `json:"air_balance_kg"`
		Fate string   `json:"fate"`
	}
	if err := json.Unmarshal([]byte(o.stdout), &document); err != nil || document.Air == nil || math.Abs(*document.Air) > 1e-15 || document.Fate != "founders" {
		t.Errorf("%v: %+v", err, document)
	}
}
