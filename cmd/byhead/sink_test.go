package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func TestSinkTells(t *testing.T) {
	o := byhead(t, nil, "", "sink", "tub.yaml")
	o.want(t, statusDone, "The hull founders by the head after", "note: weights: 200 g")
	at := 0
	for _, part := range []string{"A tub", "what happens", "the run starts", "water goes over bulkhead B1", "goes under", "Verdict", "Margins",
		"bulkhead B1: the water went over its top at", "deck edge of the hull: it went under water at", "smallest metacentric height", "For the opposite verdict", "bulkhead B1: "} {
		next := strings.Index(o.stdout[at:], part)
		if next < 0 {
			t.Fatalf("%q is missing, or in the wrong place, in:\n%s", part, o.stdout)
		}
		at += next + len(part)
	}
	if strings.Contains(o.stdout, "NaN") || strings.Contains(o.stdout, "Inf") {
		t.Errorf("not for people:\n%s", o.stdout)
	}
}

func TestSinkTellsOfAHullThatFloats(t *testing.T) {
	o := byhead(t, map[string]string{"whole.yaml": floatingTub()}, "", "sink", "whole.yaml")
	o.want(t, statusDone, "The hull stays afloat", "note: weights: 200 g")
	if !strings.Contains(o.stdout, "reserve of buoyancy at the end") {
		t.Errorf("no reserve in:\n%s", o.stdout)
	}
}

func TestSinkDocument(t *testing.T) {
	o := byhead(t, nil, "", "sink", "tub.yaml", "--json")
	o.want(t, statusDone, `"fate": "founders"`, "note: weights: 200 g")
	var doc struct {
		Ended       string `json:"ended"`
		InputDigest string `json:"input_digest"`
		Duration    float64
		Events      []struct {
			Time  float64 `json:"time_s"`
			Event string
		}
	}
	decodeOne(t, o.stdout, &doc)
	if doc.Ended != "foundered" || len(doc.InputDigest) != 64 {
		t.Errorf("the document is %+v", doc)
	}
	var order []string
	for i, e := range doc.Events {
		order = append(order, e.Event)
		if i > 0 && e.Time < doc.Events[i-1].Time {
			t.Errorf("times fall: %+v", doc.Events)
		}
	}
	if got := strings.Join(order, " "); !strings.Contains(got, "overtopped") || !strings.HasSuffix(got, "foundered") {
		t.Errorf("events are %s", got)
	}
	if again := byhead(t, nil, "", "sink", "tub.yaml", "--json"); again.stdout != o.stdout {
		t.Error("the same input gave other bytes")
	}
}

// decodeOne reads one JSON document and checks that nothing follows it.
func decodeOne(t *testing.T, text string, into any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(text))
	if err := d.Decode(into); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Token(); err != io.EOF {
		t.Errorf("more than one document: %v", err)
	}
	wantHead(t, text)
}

func TestTrace(t *testing.T) {
	o := byhead(t, map[string]string{"trace.csv": "time_s,an,older,one\n"}, "", "sink", "tub.yaml", "--trace", "trace.csv")
	o.want(t, statusDone, "founders", "note: weights: 200 g")
	if files := left(t, o.dir); len(files) != 2 {
		t.Errorf("left %v, want tub.yaml and trace.csv", files)
	}
	file, err := os.Open(filepath.Join(o.dir, "trace.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll() // also checks that all rows have the header's length
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0][:7], ","); got != "time_s,hull.sinkage_m,hull.trim_deg,hull.heel_deg,hull.draft_fore_m,hull.draft_aft_m,hull.displaced_m3" {
		t.Errorf("the header begins %s", got)
	}
	before, multiples := -1.0, 0
	for _, row := range rows[1:] {
		now, err := strconv.ParseFloat(row[0], 64)
		if err != nil || now < before {
			t.Fatalf("time %q after %g: %v", row[0], before, err)
		}
		if now == 0.5*float64(multiples) {
			multiples++
		}
		before = now
	}
	if rows[1][0] != "0" || multiples != int(before/0.5)+1 {
		t.Errorf("starts at %s, %d multiples of 0.5 s up to %g s", rows[1][0], multiples, before)
	}
}

func TestTraceThatCannotBeWritten(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"nowhere/trace.csv", "no such file"},
		{".", "folder"},
		{"tub.yaml", "exists and is not a trace"}, // it would write over the scenario
	} {
		o := byhead(t, nil, "", "sink", "tub.yaml", "--trace", c.name)
		if o.status != statusFailed || o.stdout != "" || !strings.Contains(o.stderr, c.want) {
			t.Errorf("%s: status %d, stdout %q, stderr %q", c.name, o.status, o.stdout, o.stderr)
		}
		kept, err := os.ReadFile(filepath.Join(o.dir, "tub.yaml"))
		if err != nil || string(kept) != tub {
			t.Errorf("%s: the scenario was touched: %v", c.name, err)
		}
		if files := left(t, o.dir); len(files) != 1 {
			t.Errorf("%s: left %v", c.name, files)
		}
	}
}

// The results of a long run are not lost with its trace.
func TestTraceThatFailsAtTheEnd(t *testing.T) {
	const full = "/dev/full" // Linux: every write to it fails for want of room
	if _, err := os.Stat(full); err != nil {
		t.Skip("there is no ", full)
	}
	o := byhead(t, nil, "", "sink", "tub.yaml", "--trace", full)
	o.want(t, statusFailed, "The hull founders", "the trace /dev/full cannot be written: no space left on device")
	if info, err := os.Stat(full); err != nil || info.Mode().IsRegular() {
		t.Errorf("the device is gone: %v, %v", info, err)
	}
}

// A trace goes to where a link leads, and the link stays.
func TestTraceThroughALink(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	write(t, dir, "real.csv", "")
	if err := os.Symlink("real.csv", filepath.Join(dir, "link.csv")); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
	byheadIn(t, dir, "", "sink", "tub.yaml", "--trace", "link.csv").want(t, statusDone, "founders", "note: weights: 200 g")
	info, err := os.Lstat(filepath.Join(dir, "link.csv"))
	if err != nil || info.Mode()&os.ModeSymlink == 0 || !beginsWith(filepath.Join(dir, "real.csv"), "time_s,") {
		t.Errorf("the link is %v, %v; the file behind it is no trace", info, err)
	}
}

// A run that is stopped leaves nothing behind, and says nothing on standard output.
func TestInterrupted(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	for _, args := range [][]string{{"sink", "tub.yaml", "--trace", "trace.csv"}, {"float", "tub.yaml"}, {"check", "tub.yaml"}, {"sink", "-"}} {
		var stdout, stderr bytes.Buffer
		status := run(ctx, args, blocked{}, &stdout, &stderr, dir)
		if status != statusInterrupted || stdout.Len() > 0 {
			t.Errorf("%v: status %d, stdout %q, stderr %q", args, status, &stdout, &stderr)
		}
	}
	if files := left(t, dir); len(files) != 1 {
		t.Errorf("left %v", files)
	}
}

// blocked is a terminal at which nobody types.
type blocked struct{}

func (blocked) Read([]byte) (int, error) { select {} }

// The notes stop it: they come after reading and before stepping.
func TestInterruptedInTheMiddle(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	var stdout bytes.Buffer
	notes := writerFunc(func(p []byte) (int, error) { stop(); return len(p), nil })
	status := run(ctx, []string{"sink", "tub.yaml", "--trace", "trace.csv"}, blocked{}, &stdout, notes, dir)
	if files := left(t, dir); status != statusInterrupted || stdout.Len() > 0 || len(files) != 1 {
		t.Errorf("status %d, stdout %q, left %v", status, &stdout, files)
	}
}

type writerFunc func([]byte) (int, error)

func (f writerFunc) Write(p []byte) (int, error) { return f(p) }

func TestTolerance(t *testing.T) {
	loose := byhead(t, nil, "", "sink", "tub.yaml", "--json", "--tolerance", "1e-2")
	tight := byhead(t, nil, "", "sink", "tub.yaml", "--json")
	loose.want(t, statusDone, `"founders"`, "note: weights: 200 g")
	if loose.stdout == tight.stdout {
		t.Error("--tolerance changes nothing")
	}
}

// A lid that floats on a dry hole and sinks through a wet one (an invented one): each state tells of the other, and without surface
// tension there is no other.
func TestSinkTellsBothFirstWettings(t *testing.T) {
	lid := func(tension, menisci string) map[string]string {
		return map[string]string{"lid.yaml": "format: 1\nwater: {kind: fresh, temperature: 20 C" + tension + "}\n" +
			"hull:\n  box: {length: 32 mm, breadth: 32 mm, depth: 12.5 mm}\n  shell: {mass: 6 g, at: [16 mm, 0 mm, 4 mm]}\n" +
			"openings:\n  - {name: hole, between: [outside, hold], at: [16 mm, 0 mm, 0 mm], hole: 4 mm, wall: 1 mm}\nrun: {menisci: " + menisci + "}\n"}
	}
	for menisci, want := range map[string][2]string{"wet": {"founders", "floats"}, "dry": {"floats", "founders"}} {
		o := byhead(t, lid("", menisci), "", "sink", "lid.yaml", "--json")
		var doc struct {
			Fate         string
			FirstWetting struct {
				Menisci string
				Fate    string
				Differs bool `json:"fate_differs"`
			} `json:"first_wetting"`
		}
		decodeOne(t, o.stdout, &doc)
		if doc.Fate != want[0] || doc.FirstWetting.Fate != want[1] || !doc.FirstWetting.Differs || doc.FirstWetting.Menisci == menisci {
			t.Errorf("%s: %+v", menisci, doc)
		}
		o = byhead(t, lid("", menisci), "", "sink", "lid.yaml")
		o.want(t, statusDone, "another fate.\n    The hull "+map[string]string{"wet": "stays afloat", "dry": "founders"}[menisci], "note: ")
		o = byhead(t, lid(", surface_tension: 0 mN/m", menisci), "", "sink", "lid.yaml", "--json")
		o.want(t, statusDone, `"first_wetting": null`, "note: ")
	}
}
