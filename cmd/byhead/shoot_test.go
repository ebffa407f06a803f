package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/byhead/byhead/scenarios/shoot"
)

// filledIn is a printed log with what fill gives for a row's time and value; "" leaves that as it is.
func filledIn(t *testing.T, log string, fill func(time, kind, name string) (newTime, value, unit string)) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(log)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	for i, row := range rows {
		if i > 0 {
			time, value, unit := fill(row[0], row[1], row[2])
			for k, cell := range []string{0: time, 3: value, 4: unit} {
				if cell != "" {
					row[k] = cell
				}
			}
		}
		if err := w.Write(row); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	return out.String()
}

// The log that shoot prints, filled in with what a tub with another hole does and with how a box floats by hand, is read back: fit
// gives that hole, float --measured the mass and the centre, both from the one file.
func TestShootLogRoundTrip(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	write(t, dir, "true.yaml", strings.Replace(tub, "hole: 20 mm", "hole: 20 mm, cd: 0.7", 1))
	o := byheadIn(t, dir, "", "shoot", "tub.yaml", "--csv")
	o.want(t, statusDone, ",mark,M,,mm,\n,heel,,,deg,\n,trim,,,deg,\n,event,", "note: ")
	write(t, dir, "empty.csv", o.stdout)
	byheadIn(t, dir, "", "fit", "tub.yaml", "empty.csv").want(t, statusWrongInput, "", "nothing was read off")
	byheadIn(t, dir, "", "float", "tub.yaml", "--measured", "empty.csv").want(t, statusWrongInput, "", "nothing was read off")

	byheadIn(t, dir, "", "sink", "true.yaml", "--trace", "trace.csv").want(t, statusDone, "founders", "note: ")
	var run struct {
		Events []struct {
			Time  float64 `json:"time_s"`
			Event string
			Name  string
		}
	}
	decodeOne(t, byheadIn(t, dir, "", "sink", "true.yaml", "--json").stdout, &run)
	trace, filled := readCSV(t, dir, "trace.csv"), 0
	at := func(time, name string) string {
		for _, row := range trace[1:] {
			if row[0] == time {
				return row[column(trace, name)]
			}
		}
		return ""
	}
	log := filledIn(t, o.stdout, func(time, kind, name string) (string, string, string) {
		switch {
		case kind == "event":
			for _, e := range run.Events {
				if e.Event+":"+e.Name == name {
					filled++
					return strconv.FormatFloat(e.Time, 'f', 2, 64), "", ""
				}
			}
		case kind == "trim" && time != "":
			return "", at(time, "hull.trim_deg"), ""
		case kind == "depth":
			return "", at(time, name+".depth_m"), "m"
		case kind == "mark" && time == "": // 12 kg of the list and 1 kg more: 65 mm of draft in water of 999.1 kg/m3
			return "", fmt.Sprintf("%.4f", 1e3*(13/0.9991*5e-3-0.15)), ""
		case kind == "heel" || kind == "trim":
			return "", "0", ""
		}
		return "", "", ""
	})
	if filled < 3 {
		t.Fatalf("only %d events in\n%s", filled, log)
	}
	write(t, dir, "take.csv", log)
	fitsTake(t, dir, log)
	floatsTake(t, dir)
}

// fitsTake: the log of the take gives the hole's true coefficient.
func fitsTake(t *testing.T, dir, log string) {
	t.Helper()
	var fitted struct {
		Values []struct {
			Path  string
			Value float64
		}
	}
	o := byheadIn(t, dir, "", "fit", "tub.yaml", "take.csv", "--json")
	o.want(t, statusDone, "openings.cut.cd", "rows of the log without a time, of a float test, passed over")
	decodeOne(t, o.stdout, &fitted)
	if len(fitted.Values) != 1 || !(fitted.Values[0].Value > 0.695 && fitted.Values[0].Value < 0.705) {
		t.Errorf("fitted %+v of\n%s", fitted.Values, log)
	}
}

// floatsTake: it gives the mass that the marks' readings were made of.
func floatsTake(t *testing.T, dir string) {
	t.Helper()
	var floated struct {
		Measured struct {
			Mass struct{ Value float64 } `json:"mass_kg"`
			LCG  struct{ Value float64 } `json:"lcg_m"`
		}
	}
	o := byheadIn(t, dir, "", "float", "tub.yaml", "--measured", "take.csv", "--json")
	o.want(t, statusDone, "mass_kg", "rows of the log with a time, of a flood test, passed over")
	decodeOne(t, o.stdout, &floated)
	closeTo(t, "mass", floated.Measured.Mass.Value, 13, 1e-3)
	closeTo(t, "centre", floated.Measured.LCG.Value, 0.5, 1e-4)
}

// The sheet as text, and as JSON with the same numbers as sink has.
func TestShootText(t *testing.T) {
	o := byhead(t, nil, "", "shoot", "tub.yaml", "--base", "25", "--camera", "240")
	o.want(t, statusDone, "A tub (1:100)\nThe hull founders", "note: ")
	for _, want := range []string{"[ ]  water goes over bulkhead B1", "________", "filmed at 240 and shown at 25", "24        240.0       240     right", "breaking load", "[ ] Emptied", "Never alone", "shoot FILE --csv"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in\n%s", want, o.stdout)
		}
	}
	for _, line := range strings.Split(o.stdout, "\n") {
		if len([]rune(line)) > textColumns+10 {
			t.Errorf("a line of %d letters: %s", len(line), line)
		}
	}
	var d shoot.Document
	if err := json.Unmarshal([]byte(byhead(t, nil, "", "shoot", "tub.yaml", "--json").stdout), &d); err != nil {
		t.Fatal(err)
	}
	var run struct {
		Fate   string
		Events []struct {
			Time float64 `json:"time_s"`
		}
	}
	decodeOne(t, byhead(t, nil, "", "sink", "tub.yaml", "--json").stdout, &run)
	if string(*d.Fate) != run.Fate || len(d.Events) != len(run.Events) || len(d.Cameras) != 3 || *d.Scale != 100 {
		t.Fatalf("%+v", d)
	}
	for i, e := range run.Events {
		closeTo(t, "time", *d.Events[i].Time, e.Time, 1e-12)
		closeTo(t, "full size", *d.Events[i].Full, 10*e.Time, 1e-9)
	}
}

// Both kinds of page are one sheet, have every event and every caution, and need nothing from elsewhere; the same input gives the
// same bytes.
func TestShootPages(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "tub.yaml", strings.Replace(tub, "A tub", "A <tub>", 1))
	for _, paper := range []string{"a4", "letter"} {
		byheadIn(t, dir, "", "shoot", "tub.yaml", "--paper", paper, "-o", paper+".html", "-o", paper+".pdf").want(t, statusDone, "The sheet is in "+paper+".html and "+paper+".pdf.", "note: ")
		byheadIn(t, dir, "", "shoot", "tub.yaml", "--paper", paper, "-o", "again.html", "-o", "again.pdf").want(t, statusDone, "again.pdf", "note: ")
		pages := readPDF(t, filepath.Join(dir, paper+".pdf"))
		if len(pages) != 1 {
			t.Errorf("%s: %d pages", paper, len(pages))
		}
		html, err := os.ReadFile(filepath.Join(dir, paper+".html"))
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"water goes over bulkhead B1", "the hull goes under", "Never alone at the water", "Take care", "really at", "cut."} {
			if !strings.Contains(string(html), want) || !strings.Contains(pages[0].text, want) {
				t.Errorf("%s: no %q on a page", paper, want)
			}
		}
		if strings.Contains(string(html), "://") || strings.Contains(string(html), "<tub>") || strings.Contains(string(html), "ZgotmplZ") {
			t.Errorf("%s: the page reaches out, or is not well made", paper)
		}
		for _, kind := range []string{".html", ".pdf"} {
			one, _ := os.ReadFile(filepath.Join(dir, paper+kind))
			two, _ := os.ReadFile(filepath.Join(dir, "again"+kind))
			if !bytes.Equal(one, two) {
				t.Errorf("%s%s is another the second time", paper, kind)
			}
		}
	}
}

// The page of HTML prints on one sheet too, where a browser is (Debian: chromium).
func TestShootPrintsOnOneSheet(t *testing.T) {
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not here: how the page of HTML prints is not looked at")
	}
	dir := t.TempDir()
	byheadIn(t, dir, "", "shoot", "demo:parting", "-o", "sheet.html").want(t, statusDone, "sheet.html", "note: ")
	pdf := filepath.Join(dir, "sheet.pdf")
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	command := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--user-data-dir="+filepath.Join(dir, "profile"),
		"--print-to-pdf="+pdf, filepath.Join(dir, "sheet.html"))
	if text, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	data, err := os.ReadFile(pdf)
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte("/Type /Page\n")); n != 1 {
		t.Errorf("%d pages", n)
	}
}

func TestShootWrongInput(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"tub.yaml --base 0", "--base 0 is no frame rate"},
		{"tub.yaml --camera 1e9", "--camera 1e+09 is no frame rate"},
		{"tub.yaml --camera NaN", "is no frame rate"},
		{"tub.yaml --paper a5", "--paper \"a5\" is not known; a4 or letter"},
		{"tub.yaml --csv --json", "one of them"},
		{"tub.yaml -o sheet.doc", "a name that ends in .html or .pdf"},
		{"tub.yaml -o tub.yaml", "a name that ends in .html or .pdf"},
		{"nowhere.yaml", "there is no such file"},
	} {
		byhead(t, nil, "", append([]string{"shoot"}, strings.Fields(c.args)...)...).want(t, statusWrongInput, "", c.want)
	}
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	if err := os.Mkdir(filepath.Join(dir, "taken.pdf"), 0o777); err != nil {
		t.Fatal(err)
	}
	byheadIn(t, dir, "", "shoot", "tub.yaml", "-o", "sheet.html", "-o", "taken.pdf").want(t, statusFailed, "", "taken.pdf cannot be written: it is a folder")
	if _, err := os.Stat(filepath.Join(dir, "sheet.html")); !errors.Is(err, os.ErrNotExist) {
		t.Error("one of two pages was written")
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	var stdout, stderr bytes.Buffer
	if status := run(ctx, []string{"shoot", "tub.yaml", "-o", "sheet.html"}, strings.NewReader(""), &stdout, &stderr, dir); status != statusInterrupted || stdout.Len() > 0 {
		t.Errorf("interrupted: %d, %s", status, stdout.String())
	}
}
