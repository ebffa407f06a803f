package shoot

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// TestMomentsAtFullSize: at 1:100 times are ten times those of the model (MO-14, Froude's rule), and every moment lasts until the next.
func TestMomentsAtFullSize(t *testing.T) {
	p := planned(t, box, Options{Base: 25, Rate: 125})
	if len(p.Moments) < 3 || len(p.Moments) != len(p.Result.Events) {
		t.Fatalf("%+v", p.Moments)
	}
	sum := p.Moments[0].Event.Time
	for i, m := range p.Moments {
		near(t, "full size", m.Full, 10*m.Event.Time, 1e-9)
		if i+1 < len(p.Moments) {
			sum += m.Then
		} else if !math.IsNaN(m.Then) {
			t.Errorf("the last lasts %g s", m.Then)
		}
	}
	near(t, "all together", sum, p.Moments[len(p.Moments)-1].Event.Time, 1e-9)
	near(t, "on screen at 125 for 25", *p.Document().Events[0].OnScreen, 5*p.Moments[0].Then, 1e-9)
}

// TestLogRows: marks, angles and a weight to move for the float test, the events once each, and readings while spaces fill.
func TestLogRows(t *testing.T) {
	marked := box + "marks: [{name: M, at: [1 m, 0 mm, 150 mm]}]\n"
	p := planned(t, marked, Options{})
	lines := strings.Split(strings.TrimSpace(string(p.Log())), "\n")
	want := []string{"time_s,kind,name,value,unit,sigma", ",mark,M,,mm,", ",heel,,,deg,", ",trim,,,deg,", ",shift,lead,,mm,", ",heel,,,deg,", ",event,deck-edge-under:hull,,,"}
	if len(lines) < len(want) || !slices.Equal(lines[:len(want)], want) {
		t.Fatalf("the log begins\n%s", strings.Join(lines, "\n"))
	}
	for _, e := range p.Result.Events {
		count := 0
		for _, line := range lines {
			if line == ",event,"+string(e.Kind)+":"+e.Name+",,," {
				count++
			}
		}
		if wanted := e.Kind != flood.LostStability && e.Kind != flood.SettledDown; wanted != (count == 1) || count > 1 {
			t.Errorf("%s:%s stands there %d times", e.Kind, e.Name, count)
		}
	}
	if !slices.ContainsFunc(lines, func(l string) bool { return strings.HasSuffix(l, ",depth,fore,,mm,") }) || !strings.Contains(string(p.Log()), ",mark,M,,mm,\n") {
		t.Errorf("no readings in\n%s", p.Log())
	}
	rows, err := p.Scenario.ReadLog("log.csv", p.Log())
	if err != nil || len(rows) != 0 {
		t.Errorf("the empty log: %+v, %v", rows, err)
	}
}

// TestPageOfEveryDemo: every demo has a sheet with all of its parts, a number in every cell, and a document that JSON takes.
func TestPageOfEveryDemo(t *testing.T) {
	for _, name := range scenarios.DemoNames() {
		folder, data, err := scenarios.OpenDemo(name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := scenarios.Read(folder, name, data)
		if err != nil {
			t.Fatal(err)
		}
		v, err := s.Build()
		if err != nil {
			t.Fatal(err)
		}
		p, err := New(t.Context(), s, v, Options{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		page := p.Page()
		var titles []string
		for _, b := range page.Blocks {
			titles = append(titles, b.Title)
			text := strings.Join(b.Lines, "\n")
			for _, row := range b.Rows {
				text += "\n" + strings.Join(row, "\t")
				if len(row) != len(b.Head) || len(row) != len(b.Shares) {
					t.Errorf("%s, %s: %d cells, %d heads, %d shares", name, b.Title, len(row), len(b.Head), len(b.Shares))
				}
			}
			if text == "" || strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, "%!") {
				t.Errorf("%s, %s:\n%s", name, b.Title, text)
			}
		}
		if got := strings.Join(titles, ", "); got != "Order of events, Take care, Camera, frames a second, Pool, Lines and lifting, Before every take, Log, for fit" {
			t.Errorf("%s: %s", name, got)
		}
		if _, err := json.Marshal(p.Document()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if p.Site.Depth <= 0 || len(p.Lifts) != len(p.Result.Sections) {
			t.Errorf("%s: depth %g, %d lifts of %d sections", name, p.Site.Depth, len(p.Lifts), len(p.Result.Sections))
		}
	}
}

// TestInches: a scenario in inches has its sheet in feet and pounds.
func TestInches(t *testing.T) {
	inches := strings.NewReplacer("1 m,", "40 in,", "200 mm", "8 in", "150 mm", "6 in", "500 mm", "20 in", "600 mm", "24 in", "80 mm", "3 in", "100 mm", "4 in",
		"12 kg", "26 lb", "30 mm", "1 in", "10 mm", "1/2 in", "20 mm", "3/4 in", "0 mm", "0 in").Replace(box)
	p := planned(t, inches, Options{})
	text := ""
	for _, b := range p.Page().Blocks {
		text += strings.Join(b.Lines, "\n")
		for _, row := range b.Rows {
			text += "\n" + strings.Join(row, "\t")
		}
	}
	for _, want := range []string{" ft or more", " lbf or more", "draft 2 5/8 in"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// TestNoScale: without a scale the sheet has no rates, and says what is missing.
func TestNoScale(t *testing.T) {
	p := planned(t, strings.Replace(box, "scale: 100\n", "", 1), Options{})
	if p.Cameras != nil || !strings.Contains(p.Page().Blocks[2].Lines[0], "add `scale:`") || len(p.Page().Blocks[0].Head) != 6 {
		t.Errorf("%+v", p.Page().Blocks[:3])
	}
}
