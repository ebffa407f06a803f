package shoot

import (
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/scenarios"
)

// Page is the sheet for the poolside in words.
type Page struct {
	Title  string
	Lines  []string // under the title: the verdict
	Blocks []Block
	Foot   string
}

// Block is a part of a page: a table, or lines. Empty rows and lines are not written.
type Block struct {
	Title   string
	Head    []string // of the columns
	Rows    [][]string
	Shares  []float64 // of the breadth, by column
	Box     int       // the column that is a box to tick, −1: none
	Blank   int       // the column that is a line to write on, −1: none
	Lines   []string
	Ticked  bool // a box to tick before every line
	Caution bool // what nobody may miss
	Large   bool // in larger letters than the others
	Beside  bool // fits beside the one before it
}

// writer puts a plan into words.
type writer struct {
	*Plan
	scenarios.Words
}

// Page writes the plan.
func (p *Plan) Page() *Page {
	w := &writer{p, p.Scenario.Words()}
	title := p.Scenario.Title
	if title == "" {
		title = "a scenario without a title"
	}
	page := &Page{Title: title, Foot: fmt.Sprintf("input digest %s, byhead %s. For models only.", p.Scenario.Digest[:16], scenarios.Version)}
	if w.Scaled() {
		page.Title += fmt.Sprintf(" (1:%g)", p.Scenario.Scale)
	}
	for i := range p.Result.Sections {
		s := &p.Result.Sections[i]
		trim, known := p.last[s.Name]
		if !known {
			trim = math.NaN()
		}
		page.Lines = append(page.Lines, sentence(w.Fate(s, p.Result, trim)))
	}
	page.Blocks = []Block{w.order(), w.cautions(), w.camera(), w.pool(), w.lifting(), w.reset(), w.logging()}
	return page
}

// sentence begins with a capital and ends with a full stop.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] + "." }

// order is the table of events.
func (w *writer) order() Block {
	b := Block{Title: "Order of events", Box: 1, Blank: 5, Large: true,
		Head: []string{"no.", "", "what happens", "model", "", "really at"}, Shares: []float64{5, 4, 47, 13, 14, 17}}
	if w.Scaled() {
		b.Head = []string{"no.", "", "what happens", "model", "full size", "on screen", "really at"}
		b.Shares, b.Blank = []float64{5, 4, 42, 11, 13, 12, 13}, 6
	} else {
		b.Head = append(b.Head[:4], "until the next", "really at")
	}
	row := func(number int, what string, at, full, then float64) {
		cells := []string{fmt.Sprint(number), "", what, w.Time(at)}
		if w.Scaled() {
			cells = append(cells, w.Time(full), w.lasting(w.Camera.OnScreen(then)), "")
		} else {
			cells = append(cells, w.lasting(then), "")
		}
		b.Rows = append(b.Rows, cells)
	}
	first := math.NaN()
	if len(w.Moments) > 0 {
		first = w.Moments[0].Event.Time
	}
	row(0, "clock and cameras run, the first water comes in", 0, 0, first)
	for i := range w.Moments {
		m := &w.Moments[i]
		row(i+1, w.Event(m.Event), m.Event.Time, m.Full, m.Then)
	}
	if w.Scaled() {
		b.Lines = []string{fmt.Sprintf("On screen: from this line to the next, filmed at %g and shown at %g frames a second.", w.Camera.Rate, w.Camera.Base)}
	}
	return b
}

// lasting writes how long something lasts until the next.
func (w *writer) lasting(seconds float64) string {
	if seconds < 0.05 {
		return "at once"
	}
	return w.Time(seconds)
}

// Written are the lines that are not empty.
func (b *Block) Written() (lines []string) {
	for _, line := range b.Lines {
		if line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}
