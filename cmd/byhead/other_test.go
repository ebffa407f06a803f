package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/byhead/byhead/scenarios"
)

func TestFloat(t *testing.T) {
	o := byhead(t, nil, "", "float", "tub.yaml")
	// 12 kg on 0.2 m² of water of 999.1 kg/m³ draw 60.06 mm; BM = B²/(12 T) = 55.5 mm, KB = 30.0 mm, KG = 30 mm: closed form
	o.want(t, statusDone, "draft fore", "note: weights: 200 g")
	for _, want := range []string{"60.1 mm", "55.5 mm", "the hull with the weights that come later, 12.200 kg", "mark M", "6.01 m at full size", "above the sea"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
}

func TestFloatTooHeavy(t *testing.T) {
	heavy := strings.Replace(tub, "12 kg", "40 kg", 1)
	o := byhead(t, map[string]string{"heavy.yaml": heavy}, "", "float", "heavy.yaml")
	o.want(t, statusDone, "does not float", "note: weights: 200 g")
	o = byhead(t, map[string]string{"heavy.yaml": heavy}, "", "float", "heavy.yaml", "--json")
	o.want(t, statusDone, `"floats": false`, "note: weights: 200 g")
	var doc struct{ Conditions []map[string]any }
	decodeOne(t, o.stdout, &doc)
	if len(doc.Conditions) != 2 || doc.Conditions[0]["draft_fore_m"] != nil || doc.Conditions[0]["mass_kg"] != 40.0 {
		t.Errorf("the document is %v", doc)
	}
}

func TestCheck(t *testing.T) {
	o := byhead(t, nil, "", "check", "tub.yaml")
	o.want(t, statusDone, "1000.0 mm long, 200.0 mm broad, 150.0 mm deep", "")
	for _, want := range []string{"30.000 l in 12 triangles", "aft", "27.000 l", "B1", "80.0 mm", "cut", "3.142 cm2", "0.610", "crate", "comes later", "Notes", "1:100"} {
		if !strings.Contains(o.stdout, want) {
			t.Errorf("no %q in:\n%s", want, o.stdout)
		}
	}
	o = byhead(t, nil, "", "check", "tub.yaml", "--json")
	o.want(t, statusDone, `"capacity_m3"`, "")
	var doc struct {
		Hull struct {
			Volume float64 `json:"volume_m3"`
		}
		Spaces   []struct{ Name string }
		Openings []struct {
			Between []string
			Cd      float64
		}
		Notes []string
	}
	decodeOne(t, o.stdout, &doc)
	if doc.Hull.Volume < 0.03-1e-12 || doc.Hull.Volume > 0.03+1e-12 || len(doc.Spaces) != 2 || len(doc.Openings) != 1 {
		t.Fatalf("the document is %+v", doc)
	}
	if opening := doc.Openings[0]; opening.Cd != 0.61 || !slices.Equal(opening.Between, []string{"outside", "fore"}) {
		t.Errorf("the opening is %+v", opening)
	}
}

func TestDemosAreListed(t *testing.T) {
	o := byhead(t, nil, "", "demo")
	o.want(t, statusDone, "packet", "")
	if lines := strings.Count(o.stdout, "\n"); lines != len(scenarios.DemoNames()) {
		t.Errorf("%d lines for %d demos", lines, len(scenarios.DemoNames()))
	}
}

// What demo writes runs as it stands, and is never written over.
func TestDemoIsWritten(t *testing.T) {
	for _, name := range scenarios.DemoNames() {
		dir := t.TempDir()
		o := byheadIn(t, dir, "", "demo", name)
		o.want(t, statusDone, name+".yaml\n", "")
		if files := left(t, dir); !slices.Contains(files, "scenario.schema.json") || len(files) != strings.Count(o.stdout, "\n") {
			t.Errorf("%s: left %v, told %q", name, files, o.stdout)
		}
		if o := byheadIn(t, dir, "", "check", name+".yaml"); o.status != statusDone {
			t.Errorf("%s: %s", name, o.stderr)
		}
		byheadIn(t, dir, "", "demo", name) // the same bytes: nothing to write over
		write(t, dir, name+".yaml", "mine")
		before := left(t, dir)
		o = byheadIn(t, dir, "", "demo", name)
		o.want(t, statusFailed, "", name+".yaml exists and is not overwritten")
		mine, err := os.ReadFile(filepath.Join(dir, name+".yaml"))
		if err != nil || string(mine) != "mine" || !slices.Equal(left(t, dir), before) {
			t.Errorf("%s: %q, %v, left %v", name, mine, err, left(t, dir))
		}
	}
}

// All or nothing: where one file is in the way, none is written.
func TestDemoIsNotHalfWritten(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "scenario.schema.json", "mine")
	byheadIn(t, dir, "", "demo", "packet").want(t, statusFailed, "", "scenario.schema.json exists")
	if files := left(t, dir); len(files) != 1 {
		t.Errorf("left %v", files)
	}
}

// The meter waits half a second, draws at most ten times a second, and leaves nothing behind.
func TestMeter(t *testing.T) {
	var out bytes.Buffer
	clock := time.Unix(0, 0)
	m := &meter{w: &out, until: 480, now: func() time.Time { return clock }, begun: clock}
	m.at(10)
	if out.Len() > 0 {
		t.Errorf("drawn at once: %q", &out)
	}
	m.erase()
	if out.Len() > 0 {
		t.Errorf("erased what is not there: %q", &out)
	}
	clock = clock.Add(600 * time.Millisecond)
	m.at(120)
	if got, want := out.String(), eraseLine+"[######..................] 120.0 of 480 s  200 x real time  at most 2 s left"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	drawn := out.Len()
	clock = clock.Add(50 * time.Millisecond)
	if m.at(130); out.Len() != drawn {
		t.Errorf("drawn again after 50 ms: %q", &out)
	}
	clock = clock.Add(60 * time.Millisecond)
	if m.at(140); out.Len() == drawn {
		t.Error("not drawn after 110 ms")
	}
	m.erase()
	if !strings.HasSuffix(out.String(), eraseLine) {
		t.Errorf("not erased: %q", &out)
	}
}

func TestNoMeterWhereNobodyLooks(t *testing.T) {
	var stderr bytes.Buffer
	a := &app{stderr: &stderr}
	m := a.newMeter(10)
	m.now = func() time.Time { return m.begun.Add(time.Hour) }
	m.at(5)
	m.erase()
	if stderr.Len() > 0 {
		t.Errorf("drawn into what is no terminal: %q", &stderr)
	}
	if got := a.paint("error"); got != "error" {
		t.Errorf("coloured: %q", got)
	}
}
