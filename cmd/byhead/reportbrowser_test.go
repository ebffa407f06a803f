package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/byhead/byhead/cmd/byhead/page"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// traced is a page and the trace of the very run that it shows.
type traced struct {
	path    string
	bytes   int
	words   scenarios.Words
	columns map[string]int
	rows    [][]float64
}

// tracedReport makes the page of a demo's own run.
func tracedReport(t *testing.T, demo string) *traced {
	t.Helper()
	ctx := context.Background()
	a := &app{stdin: strings.NewReader(""), stdout: &bytes.Buffer{}, stderr: &bytes.Buffer{}, dir: t.TempDir()}
	in, err := a.load(ctx, "demo:"+demo)
	if err != nil {
		t.Fatal(err)
	}
	var csvText, html bytes.Buffer
	set := in.Run.Settings()
	story, rec, rows := scenarios.NewStory(in.Scenario, in.vessel), page.NewRecorder(in.vessel), scenarios.NewTrace(&csvText, in.vessel)
	set.Samples = func(s *flood.Sample) { story.Sample(s); rec.Sample(s); rows.Row(s) }
	result, err := a.step(ctx, in, set)
	if err != nil {
		t.Fatal(err)
	}
	if err := rows.Finish(); err != nil {
		t.Fatal(err)
	}
	if err := page.Write(&html, page.NewRun("", in.Scenario, rec, result, story.Tell(result))); err != nil {
		t.Fatal(err)
	}
	out := &traced{path: filepath.Join(a.dir, demo+".html"), bytes: html.Len(), words: in.Words(), columns: map[string]int{}}
	if err := os.WriteFile(out.path, html.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(&csvText).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range records[0] {
		out.columns[name] = i
	}
	for _, record := range records[1:] {
		row := make([]float64, len(record))
		for i, cell := range record {
			if row[i], err = strconv.ParseFloat(cell, 64); cell == "" {
				row[i], err = math.NaN(), nil
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		out.rows = append(out.rows, row)
	}
	return out
}

// rowAt is the last row of a time, at that share of the run or after it.
func (r *traced) rowAt(share float64) []float64 {
	end := r.rows[len(r.rows)-1][0]
	for i, row := range r.rows {
		if row[0] >= share*end && (i+1 == len(r.rows) || r.rows[i+1][0] > row[0]+1e-3) {
			return row
		}
	}
	return r.rows[len(r.rows)-1]
}

func (r *traced) value(row []float64, column string) float64 {
	if i, ok := r.columns[column]; ok {
		return row[i]
	}
	return math.NaN()
}

// says writes a value as the page should, by the words of the story, or as a number of kPa.
func (r *traced) says(kind string, x float64) string {
	if math.IsNaN(x) {
		return "–"
	}
	switch kind {
	case "trim":
		return r.words.Trim(x * math.Pi / 180)
	case "heel":
		return r.words.Heel(x * math.Pi / 180)
	case "length":
		return r.words.Length(x)
	case "volume":
		return r.words.Volume(x)
	case "moment":
		return r.words.Moment(x)
	case "pressure":
		if math.Abs(x) < 0.5 {
			x = 0 // not −0.000
		}
		return strconv.FormatFloat(x/1000, 'f', 3, 64) + " kPa"
	}
	return "a value of an unknown kind " + kind
}

// agrees tells whether a text is that of a value, or of one that the page's rounding may have made of it.
func (r *traced) agrees(text, kind string, x float64) bool {
	step := map[string]float64{"trim": 1e-4, "heel": 1e-4, "length": 1e-6, "volume": 1e-9, "pressure": 0.1, "moment": 1e-5}[kind]
	return text == r.says(kind, x) || text == r.says(kind, x-step/2) || text == r.says(kind, x+step/2)
}

// scrub moves the slider as a hand would.
func (b *browser) scrub(to float64) {
	b.t.Helper()
	b.eval(fmt.Sprintf("(() => { const s = document.getElementById('time'); s.value = %v; s.dispatchEvent(new Event('input')); })()", to))
	b.settle()
}

func (b *browser) take(t *testing.T, expression string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(b.text("JSON.stringify("+expression+")")), into); err != nil {
		t.Fatal(err)
	}
}

// The page of every demo opens without a word on the console and without asking for anything; what it shows at three times is the
// trace of the run; the scrubber moves the picture; it fits a phone and a desk, light and dark. Pictures of it go to the
// test's artifacts (go test -artifacts).
func TestReportsOfDemosInABrowser(t *testing.T) {
	b := startBrowser(t)
	for i, demo := range scenarios.DemoNames() {
		r := tracedReport(t, demo)
		if r.bytes > 3e6 {
			t.Errorf("%s: the page has %d bytes, more than 3 MB", demo, r.bytes)
		}
		b.open(r.path, 1200, 900, "light")
		for _, share := range []float64{0.2, 0.55, 0.9} {
			b.scrub(r.rowAt(share)[0])
			r.compare(t, b, demo, r.rowAt(share))
		}
		b.scrub(0)
		before := b.text("document.querySelector('.profile canvas').toDataURL() + document.querySelector('.body canvas').toDataURL()")
		b.scrub(r.rowAt(0.9)[0])
		after := b.text("document.querySelector('.profile canvas').toDataURL() + document.querySelector('.body canvas').toDataURL()")
		if before == after {
			t.Errorf("%s: the scrubber does not move the picture", demo)
		}
		b.looks(t, r, demo, 1200, "light")
		b.open(r.path, 390, 800, "dark")
		b.looks(t, r, demo, 390, "dark")
		if i == 0 {
			b.open(r.path, 1200, 900, "dark")
			b.looks(t, r, demo, 1200, "dark")
			b.open(r.path, 390, 800, "light")
			b.looks(t, r, demo, 390, "light")
		}
	}
}

// looks takes a picture of the page that is open, and tells of what is wrong with it.
func (b *browser) looks(t *testing.T, r *traced, demo string, wide int, scheme string) {
	t.Helper()
	b.scrub(r.rowAt(0.6)[0])
	if over := b.eval("document.documentElement.scrollWidth - window.innerWidth").(float64); over > 0 {
		t.Errorf("%s: at %d pixels the page is %g too wide", demo, wide, over)
	}
	if f := flag.Lookup("test.artifacts"); f != nil && f.Value.String() == "true" {
		b.shoot(filepath.Join(t.ArtifactDir(), fmt.Sprintf("%s-%d-%s.png", demo, wide, scheme)), true)
	}
	for _, f := range b.faults {
		t.Errorf("%s: %s", demo, f)
	}
}

// compare reads all numbers of the page, and compares them with a row of the trace.
func (r *traced) compare(t *testing.T, b *browser, demo string, row []float64) {
	t.Helper()
	if clock := b.text("document.getElementById('clock').textContent"); !strings.HasPrefix(clock, r.words.Time(row[0])) {
		t.Errorf("%s: the clock says %q at %g s", demo, clock, row[0])
	}
	var live [][3]string
	b.take(t, "[...document.querySelectorAll('output[data-key]')].map(o => [o.dataset.key, o.dataset.kind, o.textContent])", &live)
	if len(live) == 0 {
		t.Errorf("%s: no live numbers beside the charts", demo)
	}
	for _, x := range live {
		if want := r.value(row, x[0]); !r.agrees(x[2], x[1], want) {
			t.Errorf("%s at %g s: %s is shown as %q, the trace has %v", demo, row[0], x[0], x[2], want)
		}
	}
	var table [][]string
	b.take(t, "[...document.querySelectorAll('.now tr')].map(r => [...r.cells].map(c => c.textContent))", &table)
	seen := 0
	for _, line := range table[1:] {
		for i, text := range line[1:] {
			column, kind := map[string]string{"trim": "trim_deg", "heel": "heel_deg", "draft fore": "draft_fore_m", "draft aft": "draft_aft_m"}[line[0]], line[0]
			if column == "" { // freeboard is not in the trace
				continue
			}
			if strings.HasPrefix(kind, "draft") {
				kind = "length"
			}
			body := table[0][i+1]
			want := r.value(row, body+"."+column)
			if kind == "heel" && math.Abs(r.value(row, body+".trim_deg")) > 60 {
				want = math.NaN()
			}
			if seen++; !r.agrees(text, kind, want) {
				t.Errorf("%s at %g s: %s of %s is shown as %q, the trace has %v", demo, row[0], line[0], body, text, want)
			}
		}
	}
	if seen == 0 {
		t.Errorf("%s at %g s: nothing is shown of how it lies", demo, row[0])
	}
}

// Keys, buttons, charts and the story move the time; it plays at the speed that was chosen, and two runs go in step.
func TestReportIsPlayed(t *testing.T) {
	b := startBrowser(t)
	dir := t.TempDir()
	write(t, dir, "parts.yaml", inParts)
	if o := byheadIn(t, dir, "", "report", "parts.yaml", "-o", "parts.html"); o.status != 0 {
		t.Fatal(o)
	}
	b.open(filepath.Join(dir, "parts.html"), 1200, 900, "light")
	now := func() float64 { return b.eval("Number(document.getElementById('time').value)").(float64) }
	at := func(what string, want float64) {
		t.Helper()
		if got := now(); math.Abs(got-want) > 1e-3 {
			t.Errorf("%s: it is at %g s, want %g", what, got, want)
		}
	}
	b.press("ArrowRight")
	at("one sample on", 1)
	b.press("n")
	at("the next event", 20)
	if names := b.text("[...document.querySelectorAll('.lane')].map(l => l.querySelectorAll('.now thead th').length - 1).join()"); names != "2,1" {
		t.Errorf("after the parting of the one there are %s bodies, want 2,1", names)
	}
	b.press("p")
	at("the event before", 0)
	b.press("End")
	at("the end", b.eval("Math.max(...page.runs.map(r => r.duration))").(float64))
	b.press("Home")
	at("the start", 0)
	b.eval("document.querySelectorAll('tr[data-t] .go')[1].click()")
	b.settle()
	at("a click in the story", 20)
	b.eval("document.getElementById('next').click()")
	b.settle()
	if now() <= 20 {
		t.Error("the button does not go on to the next event")
	}
	b.press("Home")
	b.press("1")
	if speed := b.text("document.querySelector('input[name=speed]:checked').value"); speed != "quarter" {
		t.Errorf("key 1 chose %s", speed)
	}
	b.press("2")
	b.press(" ")
	plays := func() bool { return b.text("document.getElementById('play').textContent") == "Pause" }
	if !plays() {
		t.Error("the space bar does not play")
	}
	for range 200 {
		if now() > 0.05 {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	moved := b.eval("Number(document.getElementById('time').value)").(float64)
	if b.press(" "); plays() || moved <= 0 {
		t.Errorf("it played to %g s, and plays on: %v", moved, plays())
	}
	b.eval("document.getElementById('theme').click()")
	b.settle()
	if theme := b.text("document.documentElement.dataset.theme"); theme != "dark" {
		t.Errorf("the button made the page %q, want dark", theme)
	}
	if label := b.text("document.querySelector('.profile canvas').getAttribute('aria-label')"); !strings.Contains(label, "as given") || !strings.Contains(label, "trim") {
		t.Errorf("the picture says %q to those who do not see it", label)
	}
	for _, f := range b.faults {
		t.Error(f)
	}
}
