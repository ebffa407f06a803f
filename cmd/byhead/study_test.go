package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// wide is the tub with a variant, and with tolerances.
const wide = tub + `variants:
  - {name: high, set: {bulkheads.B1.top: 140 mm}}
spread:
  - {value: openings.cut.hole, normal: 5 %}
  - {value: bulkheads.B1.top, uniform: [-5 mm, 30 mm]}
`

func TestCompareCommand(t *testing.T) {
	files := map[string]string{"wide.yaml": wide, "other.yaml": floatingTub()}
	o := byhead(t, files, "", "compare", "wide.yaml")
	o.want(t, statusDone, "hull goes under after", "note: weights: 200 g")
	if !strings.Contains(o.stdout, "founders -") || !strings.Contains(o.stdout, "floats +") || strings.Contains(o.stdout, "NaN") {
		t.Errorf("the table is\n%s", o.stdout)
	}
	var doc struct {
		Columns []string
		Rows    []struct {
			Result      string
			Values      []any
			Best, Worst *string
		}
	}
	decodeOne(t, byhead(t, files, "", "compare", "wide.yaml", "other.yaml", "--json").stdout, &doc)
	if got := strings.Join(doc.Columns, " "); got != "wide.yaml wide.yaml:high other.yaml" {
		t.Errorf("the columns are %s", got)
	}
	if r := doc.Rows[0]; r.Result != "fate" || r.Values[0] != "founders" || r.Values[1] != "floats" || *r.Best != "wide.yaml:high" || *r.Worst != "wide.yaml" {
		t.Errorf("the first row is %+v", r)
	}
	o = byhead(t, files, "", "compare", "tub.yaml", "--grid", "bulkheads.B1.top=60..140 mm/3", "--grid", "openings.cut.hole=10 mm..20 mm/2", "--csv")
	o.want(t, statusDone, "result,bulkheads.B1.top=60 mm openings.cut.hole=10 mm,", "note: ")
	rows, err := csv.NewReader(strings.NewReader(o.stdout)).ReadAll()
	if err != nil || len(rows[0]) != 1+6+2 {
		t.Errorf("the CSV has %d columns: %v", len(rows[0]), err)
	}
	byhead(t, files, "", "compare", "tub.yaml").want(t, statusDone, "founders", "nothing to compare with")
	byhead(t, files, "", "compare", "tub.yaml", "--grid", "bulkheads.B1.top=60..140 mm/9").want(t, statusDone, "bulkheads.B1.top=140 mm", "note: ")
}

func TestSizeCommand(t *testing.T) {
	o := byhead(t, nil, "", "size", "tub.yaml", "--value", "bulkheads.B1.top", "--between", "60", "140 mm", "--want", "fate = floats")
	o.want(t, statusDone, "above it floats", "note: ")
	var doc struct {
		Value     *float64
		Unit      string
		Found     bool
		Outcome   any
		Crossings []float64
	}
	args := []string{"size", "--between", "60 mm", "14 cm", "tub.yaml", "--value", "bulkheads.B1.top", "--json", "--want"}
	decodeOne(t, byhead(t, nil, "", append(args, "fate=floats")...).stdout, &doc)
	if !doc.Found || doc.Unit != "mm" || doc.Outcome != "floats" || len(doc.Crossings) != 1 || *doc.Value < 70 || *doc.Value > 120 {
		t.Errorf("the document is %+v", doc)
	}
	none := byhead(t, nil, "", append(args, "hull.steepest_deg = 45 deg")...)
	none.want(t, statusDone, `"found": false`, "note: ")
	decodeOne(t, none.stdout, &doc)
	if doc.Found || doc.Value != nil || len(doc.Crossings) != 0 {
		t.Errorf("the document is %+v", doc)
	}
}

func TestSpreadAndGatherCommands(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "wide.yaml", wide)
	spread := func(more ...string) outcome {
		return byheadIn(t, dir, "", append([]string{"spread", "wide.yaml", "--runs", "24", "--seed", "5"}, more...)...)
	}
	spread().want(t, statusDone, "bulkheads.B1.top", "note: ")
	whole := spread("--json", "--records", "all.ndjson")
	whole.want(t, statusDone, `"runs": 24`, "note: ")
	if one := spread("--json", "--workers", "1"); one.stdout != whole.stdout {
		t.Error("another number of workers gives another document")
	}
	var names []string
	for _, shard := range []string{"3/3", "1/3", "2/3"} {
		names = append(names, "part-"+shard[:1]+".ndjson")
		spread("--shard", shard, "--records", names[len(names)-1]).want(t, statusDone, "8 of 24 runs", "note: ")
	}
	joined := byheadIn(t, dir, "", append([]string{"gather", "--json"}, names...)...)
	joined.want(t, statusDone, whole.stdout, "")
	byheadIn(t, dir, "", "gather", "all.ndjson").want(t, statusDone, "24 of 24 runs", "")
	byheadIn(t, dir, "", "gather", names[0], names[1]).want(t, statusDone, "16 of 24", "warning: 8 of 24 runs are missing")
	byheadIn(t, dir, "", "gather", "all.ndjson", names[0]).want(t, statusWrongInput, "", names[0]+":1:1: run 2 is there a second time")

	// a torn line is cut off and its run done again; all as if nothing had happened
	data, err := os.ReadFile(filepath.Join(dir, "all.ndjson"))
	if err != nil {
		t.Fatal(err)
	}
	write(t, dir, "torn.ndjson", string(data[:len(data)/2]))
	spread("--json", "--records", "torn.ndjson", "--resume").want(t, statusDone, whole.stdout, "note: ")
	again, _ := os.ReadFile(filepath.Join(dir, "torn.ndjson"))
	if string(again) != string(data) {
		t.Error("the records of a resumed study are others")
	}
	for _, c := range []struct{ args, want string }{
		{"--records all.ndjson", "exists; --resume goes on with it"},
		{"--records all.ndjson --resume --seed 6", "all.ndjson:1:1: the record comes from a study of 24 runs"},
		{"--records all.ndjson --resume --shard 1/3", "all.ndjson:2:1: run 1 is not of shard 1/3"},
		{"--records wide.yaml --resume", "wide.yaml:1:1: this line is no record"},
		{"--resume", "--records FILE.ndjson with it"},
		{"--records -", "needs a file's name"},
		{"--shard 0/3", "is no shard"}, {"--shard 4/3", "is no shard"}, {"--shard x", "is no shard"},
		{"--runs 0", "from 1 to"}, {"--sampling dice", "no sampling"}, {"--workers 0", "from 1 to 4096"},
		{"--matters hull.founderd_s", "did you mean hull.foundered_s?"},
	} {
		spread(strings.Fields(c.args)...).want(t, statusWrongInput, "", c.want)
	}
	if now, _ := os.ReadFile(filepath.Join(dir, "wide.yaml")); string(now) != wide {
		t.Error("the scenario was touched")
	}
	for i, want := range []string{"1 of 2 runs", "1 of 2 runs", "0 of 2 runs, seed 1; none of them falls to this shard"} { // more shards than runs
		spread("--runs", "2", "--seed", "1", "--shard", fmt.Sprintf("%d/3", i+1), "--records", fmt.Sprintf("few-%d.ndjson", i)).want(t, statusDone, want, "note: ")
	}
	spread("--runs", "2", "--seed", "1", "--shard", "3/3", "--json").want(t, statusDone, `"of": 2`, "note: ")
	byheadIn(t, dir, "", "gather", "few-0.ndjson", "few-1.ndjson", "few-2.ndjson").want(t, statusDone, "2 of 2 runs", "")
	spread("--records", "nowhere/x.ndjson").want(t, statusFailed, "", "cannot be written")
	byhead(t, nil, "", "spread", "tub.yaml").want(t, statusWrongInput, "", "tub.yaml:1:1: the scenario has no list `spread`")
}

// The records are JSON that others read: the values and results by their paths.
func TestRecordsAreJSON(t *testing.T) {
	o := byhead(t, map[string]string{"wide.yaml": wide}, "", "spread", "wide.yaml", "--runs", "2", "--records", "r.ndjson")
	o.want(t, statusDone, "2 of 2", "note: ")
	data, _ := os.ReadFile(filepath.Join(o.dir, "r.ndjson"))
	for line := range strings.Lines(string(data)) {
		var record struct {
			Run    *int
			Values map[string]float64
			Result map[string]any
		}
		if err := json.Unmarshal([]byte(line), &record); err != nil {
			t.Fatal(err)
		}
		if record.Run == nil || record.Values["openings.cut.hole"] == 0 || record.Result["fate"] == nil {
			t.Errorf("the record is %s", line)
		}
	}
}

func TestWrongStudies(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"compare", "takes one FILE or more"},
		{"compare tub.yaml --json --csv", "exclude each other"},
		{"compare tub.yaml --grid x", "that is not a grid"},
		{"compare tub.yaml --grid bulkheads.B1.top=1..2/x", "is not a number of values"},
		{"compare tub.yaml --grid bulkheads.B1.top=1..2/3", "has no unit"},
		{"compare tub.yaml --grid bulkheads.B2.top=1mm..2mm/3", "bulkheads.B2.top"},
		{"compare tub.yaml --grid bulkheads.B1.tip=1mm..2mm/3", "did you mean"},
		{"compare tub.yaml --grid bulkheads.B1.top=1mm..2mm/0", "from 1 to"},
		{"compare tub.yaml --grid bulkheads.B1.at=1mm..1900mm/2", "bulkheads.B1.at"},
		{"compare tub.yaml --grid run.motion=1..2/2", "is not a number"},
		{"compare nowhere.yaml", "nowhere.yaml:1:1: "},
		{"size tub.yaml", "size needs --"},
		{"size tub.yaml --value bulkheads.B1.top --between 60mm --want fate=floats", "is one value"},
		{"size tub.yaml --value bulkheads.B1.top --between 60mm 60mm --want fate=floats", "has no length"},
		{"size tub.yaml --value bulkheads.B1.at --between 60mm 9m --want fate=floats", "bulkheads.B1.at"},
		{"size tub.yaml --value bulkheads.B1.top --between 60mm 9kg --want fate=floats", "is a mass"},
		{"size tub.yaml --value bulkheads.B1.top --between 60mm 90mm --want fate", "is not a wish"},
		{"size tub.yaml --value bulkheads.B1.top --between 60mm 90mm --want fate=drowns", "is not a fate"},
		{"size tub.yaml --value bulkheads.B1.top --between 60mm 90mm --want hull.founded_s=9s", "did you mean hull.foundered_s?"},
		{"size tub.yaml --value bulkheads.B1.top --between 60mm 90mm --want hull.foundered_s=9kg", "is a mass"},
		{"size tub.yaml --value bulkheads.B7.top --between 60mm 90mm --want fate=floats", "B7"},
		{"gather", "takes one file of records"},
		{"gather nowhere.ndjson", "nowhere.ndjson:1:1: the records cannot be read"},
		{"gather tub.yaml", "tub.yaml:1:1: this line is no record"},
	} {
		byhead(t, nil, "", strings.Fields(c.args)...).want(t, statusWrongInput, "", c.want)
	}
}

func TestStudiesComplete(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"__complete size tub.yaml --value bulk", "bulkheads.B1.top\n"},
		{"__complete size tub.yaml --want hull.f", "hull.foundered_s\n"},
		{"__complete spread tub.yaml --matters dur", "duration_s\n"},
		{"__complete fit tub.yaml log.csv --value openings.cut.h", "openings.cut.hole\n"},
	} {
		byhead(t, nil, "", strings.Fields(c.args)...).want(t, statusDone, c.want, "NoFileComp")
	}
}
