package page

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// The parts of the page that are written by hand.
var (
	//go:embed page.html
	pageHTML string
	//go:embed page.css
	pageStyle string
	//go:embed data.js
	dataScript string
	//go:embed pose.js
	poseScript string
	//go:embed pictures.js
	pictureScript string
	//go:embed player.js
	playerScript string
)

var pageTemplate = template.Must(template.New("page").Parse(pageHTML))

// dataOut is what the page's script reads.
type dataOut struct {
	Unit  unitOut   `json:"unit"`
	Scale float64   `json:"scale"` // 96 is 1:96; 1: none given
	Depth *float64  `json:"depth"` // of the pool, m
	Runs  []*runOut `json:"runs"`
}

type unitOut struct {
	Name     string  `json:"name"`
	Per      float64 `json:"per"` // of them in a metre
	Decimals int     `json:"decimals"`
	Imperial bool    `json:"imperial"`
}

type runOut struct {
	Name     string             `json:"name"`
	Duration float64            `json:"duration"`
	Gone     map[string]float64 `json:"gone"` // when sections foundered, s, where it is not reckoned how they go on
	Times    *column            `json:"t"`
	Columns  map[string]*column `json:"columns"`
	Moments  []momentOut        `json:"moments"`
	Shapes   *shapes            `json:"shapes"`
}

type momentOut struct {
	At   float64 `json:"t"`
	Text string  `json:"text"`
}

// out is the run for the script.
func (r *Run) out() *runOut {
	words := r.scenario.Words()
	o := &runOut{Name: r.name, Duration: r.result.Duration, Times: &column{step: timeStep}, Gone: map[string]float64{}, Columns: r.rec.columns, Shapes: newShapes(r.rec)}
	o.Shapes.takeStations(r.rec, words.Length)
	for _, t := range r.rec.times {
		o.Times.add(t)
	}
	for _, s := range r.result.Sections {
		if !math.IsNaN(s.Foundered) && r.scenario.Run.Motion != string(flood.Free) {
			o.Gone[s.Name] = s.Foundered
		}
	}
	for _, m := range r.told.Moments {
		o.Moments = append(o.Moments, momentOut{m.Seconds, m.What})
	}
	for i := range r.rec.openings {
		o.Shapes.Openings[i].Turns = r.turns(&r.rec.openings[i])
	}
	return o
}

// turns are when an opening opened and shut: by its own events, and by the joint in whose plane it stood shut.
func (r *Run) turns(x *openingShape) (turns [][2]float64) {
	for _, e := range r.result.Events {
		switch {
		case e.Kind == flood.Parted && x.joint >= 0 && r.rec.vessel.Spec.Joints[x.joint].Name == e.Name,
			e.Kind == flood.Opened && e.Name == x.name:
			turns = append(turns, [2]float64{e.Time, 1})
		case e.Kind == flood.Shut && e.Name == x.name:
			turns = append(turns, [2]float64{e.Time, 0})
		}
	}
	return turns
}

// layout is what the template is given.
type layout struct {
	Title           string
	Lead            string
	Scale, Slower   string // "" without a scale
	Depth           bool
	Style           template.CSS
	Scripts         []template.JS
	Data            template.JS
	Runs            []runLayout
	Charts          []chartLayout
	Compared        bool
	Version, Digest string
}

type runLayout struct {
	Index    int
	Name     string
	Fates    []string // the verdict in a sentence a section
	Told     *scenarios.Telling
	Parts    []partLayout
	Numbered []numbered
	Full     bool
	Stations []string
	Station  int
	Warnings []string
	GaveUp   bool
}

type numbered struct {
	Number int
	scenarios.StoryMoment
}

type chartLayout struct {
	Name, Title, Note string
	Panels            []panelLayout
}

// partLayout is a paragraph of the story: its lines as they come, rows of a table together.
type partLayout struct {
	Title  string
	Blocks []blockLayout
}

// blockLayout is either lines or a table.
type blockLayout struct {
	Lines []string
	Head  []string
	Rows  [][]string
}

// partOf tells rows of a table from lines: their cells stand two blanks apart or more; a head begins with an empty cell.
func partOf(p scenarios.StoryPart) partLayout {
	out := partLayout{Title: p.Title}
	last := func() *blockLayout { return &out.Blocks[len(out.Blocks)-1] }
	for _, line := range p.Lines {
		isRow := strings.Contains(strings.TrimSpace(line), "  ")
		if n := len(out.Blocks); n == 0 || (last().Lines == nil) != isRow {
			out.Blocks = append(out.Blocks, blockLayout{})
		}
		if !isRow {
			last().Lines = append(last().Lines, strings.TrimSpace(line))
			continue
		}
		var cells []string
		if strings.HasPrefix(line, " ") {
			cells = append(cells, "")
		}
		for cell := range strings.SplitSeq(line, "  ") {
			if cell = strings.TrimSpace(cell); cell != "" {
				cells = append(cells, cell)
			}
		}
		if cells[0] == "" && last().Head == nil && last().Rows == nil {
			last().Head = cells
		} else {
			last().Rows = append(last().Rows, cells)
		}
	}
	return out
}

type panelLayout struct {
	Run     int
	RunName string
	SVG     []template.HTML
	Legend  []legendLayout
	Rows    []legendLayout
}

type legendLayout struct {
	Label, Key, Kind string
	Colour, Dash     int
	Holds            string
}

// Write writes the page of one run, or of two in step.
func Write(w io.Writer, runs ...*Run) error {
	s := runs[0].scenario
	data := dataOut{Unit: unitOf(s), Scale: s.Scale}
	if d := runs[0].rec.vessel.Depth; !math.IsInf(d, 1) {
		data.Depth = &d
	}
	l := &layout{
		Title: s.Title, Style: template.CSS(figureStyle + pageStyle), Compared: len(runs) > 1, Depth: data.Depth != nil,
		Version: scenarios.Version, Digest: s.Digest,
		Scripts: []template.JS{template.JS(dataScript + poseScript + pictureScript + playerScript)},
	}
	if l.Title == "" {
		l.Title = "A scenario without a title"
	}
	if s.Scale > 1 {
		l.Scale, l.Slower = fmt.Sprintf("1:%g", s.Scale), fmt.Sprintf("%.3g", math.Sqrt(s.Scale))
	}
	for i, r := range runs {
		o := r.out()
		data.Runs = append(data.Runs, o)
		l.Runs = append(l.Runs, r.layout(i, o))
	}
	l.Charts = charts(runs)
	text, err := json.Marshal(data)
	if err != nil {
		return err
	}
	l.Data = template.JS(text)
	return pageTemplate.Execute(w, l)
}

func unitOf(s *scenarios.Scenario) unitOut {
	decimals := map[string]int{"mm": 1, "cm": 2, "m": 4, "in": 3, "ft": 4}
	return unitOut{s.Unit.Name, s.Unit.FromSI(1), decimals[s.Unit.Name], s.Unit.Name == "in" || s.Unit.Name == "ft"}
}

// layout is the run for the template.
func (r *Run) layout(index int, o *runOut) runLayout {
	out := runLayout{Index: index, Name: r.name, Told: r.told, Station: o.Shapes.Station, GaveUp: r.result.GaveUp != nil}
	for i, m := range r.told.Moments {
		out.Numbered = append(out.Numbered, numbered{i, m})
		out.Full = out.Full || m.FullTime != ""
	}
	if g := r.result.GaveUp; g != nil {
		out.Fates = append(out.Fates, r.scenario.Words().Failure(g)+".")
	} else {
		for i := range r.result.Sections {
			s := &r.result.Sections[i]
			trim := r.rec.columns[s.Name+".trim_deg"].at(len(r.rec.times) - 1)
			out.Fates = append(out.Fates, r.scenario.Words().Fate(s, r.result, trim*math.Pi/180)+".")
		}
	}
	for _, s := range o.Shapes.Stations {
		out.Stations = append(out.Stations, s.Label)
	}
	for _, p := range r.told.Parts {
		out.Parts = append(out.Parts, partOf(p))
	}
	for _, w := range r.result.Warnings {
		out.Warnings = append(out.Warnings, r.scenario.Words().Warning(w))
	}
	return out
}

// charts puts the charts of the runs side by side, by name; those of one name have the same axes.
func charts(runs []*Run) (out []chartLayout) {
	var all [][]*figure
	for _, r := range runs {
		all = append(all, r.figures())
	}
	find := func(i int, name string) *figure {
		for _, f := range all[i] {
			if f.name == name {
				return f
			}
		}
		return nil
	}
	for _, name := range ChartNames {
		var c chartLayout
		if len(runs) == 2 {
			if a, b := find(0, name), find(1, name); a != nil && b != nil {
				sameSpan(a, b)
			}
		}
		for i, r := range runs {
			if f := find(i, name); f != nil {
				c.Name, c.Note = f.name, f.note
				c.Title = f.title
				c.Panels = append(c.Panels, panel(i, r, f))
			}
		}
		if len(c.Panels) > 0 {
			out = append(out, c)
		}
	}
	return out
}

func panel(index int, r *Run, f *figure) panelLayout {
	p := panelLayout{Run: index, RunName: r.name}
	p.SVG = []template.HTML{template.HTML(f.svg(narrowFrame, false)), template.HTML(f.svg(wideFrame, false))}
	for i := range f.lines {
		l := &f.lines[i]
		p.Legend = append(p.Legend, legendLayout{Label: l.label, Key: l.key, Kind: l.kind, Colour: l.colour, Dash: l.dash})
	}
	for i := range f.rows {
		x := &f.rows[i]
		p.Rows = append(p.Rows, legendLayout{Label: x.label, Key: x.key, Kind: "volume", Holds: strings.TrimSpace(r.scenario.Words().Volume(x.holds))})
	}
	return p
}
