package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// A log made of the trace of the tub with another coefficient gives that coefficient, and lines that can be pasted.
func TestFitCommand(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	write(t, dir, "true.yaml", strings.Replace(tub, "hole: 20 mm", "hole: 20 mm, cd: 0.7", 1))
	byheadIn(t, dir, "", "sink", "true.yaml", "--trace", "trace.csv").want(t, statusDone, "founders", "note: ")
	log := "time_s,kind,name,value,unit,sigma\n"
	rows := readCSV(t, dir, "trace.csv")
	for _, row := range rows[1:] {
		if row[0] == "2" || row[0] == "4" || row[0] == "6" {
			log += fmt.Sprintf("%s,depth,fore,%s,m,0.001\n", row[0], row[column(rows, "fore.depth_m")])
		}
	}
	write(t, dir, "log.csv", log)
	o := byheadIn(t, dir, "", "fit", "tub.yaml", "log.csv")
	o.want(t, statusDone, "openings.cut.cd  0.7 ", "note: ")
	_, lines, ok := strings.Cut(o.stdout, "For the file:\n")
	if !ok || strings.Contains(o.stdout, "NaN") {
		t.Fatalf("no lines in:\n%s", o.stdout)
	}
	write(t, dir, "pasted.yaml", tub+lines)
	byheadIn(t, dir, "", "compare", "pasted.yaml").want(t, statusDone, "fitted", "note: ")
	var doc struct {
		Values []struct {
			Path                         string
			Value, Low95, High95, Listed float64
		}
		RMS           *float64
		NotIdentified []string `json:"not_identified"`
	}
	decodeOne(t, byheadIn(t, dir, "", "fit", "tub.yaml", "log.csv", "--json").stdout, &doc)
	if len(doc.Values) != 1 || doc.Values[0].Value < 0.695 || doc.Values[0].Value > 0.705 || doc.NotIdentified == nil || doc.RMS == nil {
		t.Errorf("the document is %+v", doc)
	}
	o = byheadIn(t, dir, "", "fit", "tub.yaml", "log.csv", "--value", "openings.cut.cd", "--value", "openings.cut.hole", "--json")
	o.want(t, statusDone, `"values": []`, "the log cannot tell it apart from openings.cut.hole")
}

func TestWrongFits(t *testing.T) {
	files := map[string]string{
		"good.csv":  "time_s,kind,name,value,unit,sigma\n2,depth,fore,40,mm,\n",
		"float.csv": "time_s,kind,name,value,unit,sigma\n,mark,M,40,mm,\n",
		"units.csv": "time_s,kind,name,value,unit,sigma\n2,depth,fore,40,kg,\n3,event,filled:fore,,mm,\n4,event,filled:fore,,,-1\n",
		"shift.csv": "time_s,kind,name,value,unit,sigma\n2,shift,crate,40,mm,\n",
	}
	for _, c := range []struct{ args, want string }{
		{"fit tub.yaml", "takes a FILE and a LOG.csv"},
		{"fit tub.yaml nowhere.csv", "nowhere.csv:1:1: the log cannot be read"},
		{"fit tub.yaml tub.yaml", "tub.yaml:1:1: the header is"},
		{"fit tub.yaml float.csv", "float.csv:2:2: a row without a time"},
		{"fit tub.yaml units.csv", "units.csv:3:22: \"mm\" is not the unit"},
		{"fit tub.yaml units.csv", "units.csv:4:23: a standard deviation"},
		{"fit tub.yaml shift.csv", "shift.csv:2:3: a weight that is moved"},
		{"fit tub.yaml good.csv --value openings.cat.cd", "openings.cat.cd"},
		{"fit tub.yaml good.csv --value run.until --value run.until", "twice"},
	} {
		byhead(t, files, "", strings.Fields(c.args)...).want(t, statusWrongInput, "", c.want)
	}
}

func readCSV(t *testing.T, dir, name string) [][]string {
	t.Helper()
	file, err := os.Open(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// column is where a column of a table stands.
func column(rows [][]string, name string) int { return slices.Index(rows[0], name) }
