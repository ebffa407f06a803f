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

// The curve of bending of a hull without a joint, as CSV, as JSON and in words: they say the same. Its ends bear nothing: the shear and
// the bending of a free body vanish there (statics), to 1e-9 of weight × length, the shear but for what stands in the end planes.
func TestSinkCurve(t *testing.T) {
	o := byhead(t, nil, "", "sink", "tub.yaml", "--curve", "c.csv", "--json")
	o.want(t, statusDone, `"peak_shear"`, "note: weights")
	var doc struct {
		Curve struct {
			Time    float64   `json:"time_s"`
			X       []float64 `json:"x_m"`
			Bending []float64 `json:"bending_nm"`
			Shear   []float64 `json:"shear_n"`
			Peak    struct {
				X       float64 `json:"x_m"`
				Bending float64 `json:"bending_nm"`
			}
		} `json:"bending_curve"`
	}
	decodeOne(t, o.stdout, &doc)
	file, err := os.Open(filepath.Join(o.dir, "c.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || strings.Join(rows[0], ",") != "time_s,x_m,bending_nm,shear_n" || len(rows)-1 != len(doc.Curve.X) || len(rows) < 100 {
		t.Fatalf("%v, %d rows, %d in the document", err, len(rows), len(doc.Curve.X))
	}
	peak := 0.0
	for i, row := range rows[1:] {
		for k, want := range []float64{doc.Curve.Time, doc.Curve.X[i], doc.Curve.Bending[i], doc.Curve.Shear[i]} {
			if got, err := strconv.ParseFloat(row[k], 64); err != nil || got != want {
				t.Fatalf("row %d: %v, in the document %g", i+1, row, want)
			}
		}
		peak = max(peak, math.Abs(doc.Curve.Bending[i]))
	}
	if last := len(doc.Curve.X) - 1; math.Abs(doc.Curve.Bending[0]) > 1e-9*120 || math.Abs(doc.Curve.Bending[last]) > 1e-9*120 {
		t.Errorf("at the ends %g and %g N·m", doc.Curve.Bending[0], doc.Curve.Bending[last])
	}
	if p := math.Abs(doc.Curve.Peak.Bending); !(p >= peak) || p > 1.01*peak || !(peak > 0.1) {
		t.Errorf("the peak is %+v, of the places %g N·m", doc.Curve.Peak, peak)
	}
	o = byheadIn(t, o.dir, "", "sink", "tub.yaml", "--curve", "c.csv")
	o.want(t, statusDone, ": a hull of even strength would part here.", "note: weights")
}

func TestSinkCurveRefusals(t *testing.T) {
	byhead(t, nil, "", "sink", "tub.yaml", "--curve", "-").want(t, statusWrongInput, "", "--curve needs a file's name")
	byhead(t, nil, "", "sink", "tub.yaml", "--curve", "a.csv", "--trace", "a.csv").want(t, statusWrongInput, "", "name the same file, a.csv; two names")
	o := byhead(t, map[string]string{"a.csv": "x,z,y\n"}, "", "sink", "tub.yaml", "--curve", "a.csv", "--trace", "t.csv")
	o.want(t, statusFailed, "", "a.csv exists and is not a curve; another name, or move it away")
	if names := strings.Join(left(t, o.dir), " "); strings.Contains(names, "t.csv") {
		t.Errorf("left: %s", names)
	}
}

// The more the water about the hull sets against its motion, the more of the curve is left at the after end; that is told, and a peak that is
// mostly that is no place where she parts.
func TestSinkCurveTellsWhatIsLeftAtTheEnd(t *testing.T) {
	const left, parts = "At the after end", "would part here"
	run := func(factors string) string {
		text := strings.Replace(tub, "hole: 20 mm", "hole: 60 mm", 1) + "run: {until: 2 min, motion: free, " + factors + "}\n"
		o := byhead(t, map[string]string{"free.yaml": text}, "", "sink", "free.yaml")
		o.want(t, statusDone, "Bending along the whole hull", "note: ")
		return o.stdout
	}
	if none := run("added_mass: 0, linear_damping: 0, quadratic_damping: 0"); strings.Contains(none, left) || !strings.Contains(none, parts) {
		t.Errorf("without the water about her:\n%s", none)
	}
	if most := run("added_mass: 1000"); !strings.Contains(most, left) || strings.Contains(most, parts) {
		t.Errorf("with a thousand times the added mass:\n%s", most)
	}
}
