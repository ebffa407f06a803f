package scenarios

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
)

// resultsFile keeps what the demos come to, to five digits, and the version that it was so in. A change that moves them is a
// change of the program's results: Version goes up, CHANGELOG.md says under "Numeric effects" what moved and why, and then
// -update writes the file anew. It does not do so for a version that has been released.
const resultsFile = "testdata/results.txt"

// resultsShare is how far a result may be off on another build target or after a change that only moves last digits: twice the
// rounding of five digits.
const resultsShare = 1e-4

// unsteady are results that say nothing: rounding, and the moments of extremes that are flat.
var unsteady = regexp.MustCompile(`^(version|input_digest|format|title|warnings|bending_curve|water_balance_m3|air_balance_kg|first_wetting|doubt)\b|steepest_s|^margins.*time_s|^separation\.`)

func TestResultsBelongToTheVersion(t *testing.T) {
	tooLongUnderRace(t)
	got := "version " + Version + "\n"
	for _, name := range DemoNames() {
		if name != "freighter" && name != "tug" { // they take longest: the others do what they do
			got += demoResults(t, name)
		}
	}
	kept, err := os.ReadFile(resultsFile)
	version, _, _ := strings.Cut(strings.TrimPrefix(string(kept), "version "), "\n")
	if *update {
		if version == Version && released(t, Version) && len(differences(string(kept), got)) > 0 {
			t.Fatalf("%s is released with other results: Version has to go up", Version)
		}
		if err := os.WriteFile(filepath.FromSlash(resultsFile), []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	if version != Version {
		t.Fatalf("%s is of version %s, this is %s: go test ./scenarios -run TestResults -update", resultsFile, version, Version)
	}
	if moved := differences(string(kept), got); len(moved) > 0 {
		t.Errorf("%d results of version %s have changed. Is it meant? Then say so in CHANGELOG.md under Numeric effects, raise Version unless it is unreleased, and run go test ./scenarios -run TestResults -update\n%s",
			len(moved), Version, strings.Join(moved[:min(len(moved), 10)], "\n"))
	}
}

// released tells whether the changelog has a chapter of a version's own.
func released(t *testing.T, version string) bool {
	t.Helper()
	text, err := os.ReadFile("../CHANGELOG.md")
	if err != nil {
		t.Fatal(err)
	}
	return regexp.MustCompile(`(?m)^## \[?v?` + regexp.QuoteMeta(version) + `\b`).Match(text)
}

// demoResults are the lines of a demo's run, and of the float test before it.
func demoResults(t *testing.T, name string) string {
	t.Helper()
	folder, data, err := OpenDemo(name)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read(folder, DemoPrefix+name, data)
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	settings := s.Run.Settings()
	if settings.Motion != flood.Settled {
		return "" // the others are tested by what they are held against, and cost more
	}
	run, err := flood.Start(v, settings)
	if err != nil {
		t.Fatal(err)
	}
	result, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	lines := flatten(t, NewSinkDocument(s, result))
	for _, f := range v.FloatTest() {
		at := []float64{f.Mass, f.DraftFore, f.DraftAft, f.Trim, f.Heel, f.GMTransverse, f.GMLongitudinal}
		for i, what := range []string{"mass_kg", "draft_fore_m", "draft_aft_m", "trim", "heel", "gm_transverse_m", "gm_longitudinal_m"} {
			lines = append(lines, "float."+f.Name+"."+what+" "+fiveDigits(at[i]))
		}
	}
	return "\n" + name + "\n\t" + strings.Join(lines, "\n\t") + "\n"
}

// flatten writes a document's steady members, a line each.
func flatten(t *testing.T, document any) (lines []string) {
	t.Helper()
	var text bytes.Buffer
	if err := WriteJSON(&text, document); err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(&text)
	var walk func(path string)
	walk = func(path string) {
		token, err := d.Token()
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case json.Delim:
			for i := 0; d.More(); i++ {
				key := strconv.Itoa(i)
				if x == '{' {
					k, _ := d.Token()
					key = k.(string)
				}
				walk(strings.TrimPrefix(path+"."+key, "."))
			}
			d.Token()
		case float64:
			if !unsteady.MatchString(path) {
				lines = append(lines, path+" "+fiveDigits(x))
			}
		default:
			if x != nil && !unsteady.MatchString(path) {
				lines = append(lines, fmt.Sprint(path, " ", x))
			}
		}
	}
	walk("")
	return lines
}

// fiveDigits writes a number; what is nothing but rounding is 0.
func fiveDigits(x float64) string {
	if math.Abs(x) < 1e-9 {
		x = 0
	}
	return strconv.FormatFloat(x, 'g', 5, 64)
}

// differences tells the lines that differ, numbers by more than resultsShare.
func differences(kept, got string) (lines []string) {
	was, is := strings.Split(kept, "\n"), strings.Split(got, "\n")
	for i := range max(len(was), len(is)) {
		a, b := "(nothing)", "(nothing)"
		if i < len(was) {
			a = was[i]
		}
		if i < len(is) {
			b = is[i]
		}
		if a != b && !alike(a, b) {
			lines = append(lines, fmt.Sprintf("line %d: was %s, is %s", i+1, strings.TrimSpace(a), strings.TrimSpace(b)))
		}
	}
	return lines
}

// alike tells whether two lines say the same of the same, but for the last digits of a number.
func alike(a, b string) bool {
	i, j := strings.LastIndexByte(a, ' '), strings.LastIndexByte(b, ' ')
	if i < 0 || j < 0 || a[:i] != b[:j] {
		return false
	}
	x, errX := strconv.ParseFloat(a[i+1:], 64)
	y, errY := strconv.ParseFloat(b[j+1:], 64)
	return errX == nil && errY == nil && math.Abs(x-y) <= max(resultsShare*max(math.Abs(x), math.Abs(y)), 1e-7)
}

// The comparison sees a change of 2e-4, a missing line and another word, and not the last digit.
func TestResultsAreCompared(t *testing.T) {
	const kept = "tub\n\tduration_s 10.012\n\tfate floats"
	for text, same := range map[string]bool{
		kept: true,
		"tub\n\tduration_s 10.0125\n\tfate floats": true,
		"tub\n\tduration_s 10.014\n\tfate floats":  false,
		"tub\n\tduration_s 10.012\n\tfate sinks":   false,
		"tub\n\tfate floats":                       false,
		"tub\n\tlasts_s 10.012\n\tfate floats":     false,
	} {
		if got := differences(kept, text); (len(got) == 0) != same {
			t.Errorf("%q: %q", text, got)
		}
	}
}
