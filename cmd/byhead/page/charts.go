package page

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// ChartNames are the charts that a run may have. Those of what it does not have (trapped air, joints) are left out.
var ChartNames = []string{"attitude", "drafts", "water", "air", "bending", "strength"}

// figures are the charts of a run.
func (r *Run) figures() []*figure {
	made := []*figure{r.attitude(), r.drafts(), r.water(), r.air(), r.bending(), r.strength()}
	made = slices.DeleteFunc(made, func(f *figure) bool { return f == nil })
	for _, f := range made {
		if f.along == "" {
			f.to = math.Max(r.result.Duration, 1e-3)
			f.marks = r.marks()
		}
		if len(f.rows) == 0 {
			f.spanLines()
		}
	}
	return made
}

// Chart is one chart as an SVG file; "" and the names of those there are, where the run has none of that name.
func (r *Run) Chart(name string) (svg string, known []string) {
	for _, f := range r.figures() {
		if f.name == name {
			f.of = r.title
			if r.name != "" {
				f.of += ", " + r.name
			}
			return f.svg(wideFrame, true) + "\n", nil
		}
		known = append(known, f.name)
	}
	return "", known
}

// marks are the moments of the story but its start, numbered from 1.
func (r *Run) marks() (out []mark) {
	for i, m := range r.told.Moments {
		if i > 0 {
			out = append(out, mark{m.Seconds, i, m.What})
		}
	}
	return out
}

// linesOf are curves of a column for every body, NaN where that is away.
func (r *Run) linesOf(f *figure, column, word, kind string, dash int, scale float64) {
	for i := range r.rec.bodies {
		b := r.rec.bodies[i].Name
		key := b + "." + column
		y := r.rec.values(key)
		if y == nil {
			continue
		}
		for k := range y {
			y[k] *= scale
		}
		label := word
		if len(r.rec.bodies) > 1 {
			label = b + " " + word
		}
		f.lines = append(f.lines, line{label, key, kind, r.rec.times, y, i % 7, dash})
	}
}

func (r *Run) attitude() *figure {
	f := &figure{name: "attitude", title: "Trim and heel", unit: "degrees",
		note: "Trim is positive by the head, heel to starboard. While the trim is past 60° heel says nothing and is left out."}
	r.linesOf(f, "trim_deg", "trim", "trim", 0, 1)
	n := len(f.lines)
	r.linesOf(f, "heel_deg", "heel", "heel", 1, 1)
	for i := n; i < len(f.lines); i++ {
		for k, trim := range f.lines[i-n].y {
			if math.Abs(trim) > 60 {
				f.lines[i].y[k] = math.NaN()
			}
		}
		if len(r.rec.bodies) == 1 {
			f.lines[i].colour = 1
		}
	}
	return f
}

func (r *Run) drafts() *figure {
	u := r.scenario.Unit
	f := &figure{name: "drafts", title: "Drafts", unit: u.Name, note: "Depth below the sea of the keel line's two ends; below zero the end is out of the water."}
	r.linesOf(f, "draft_fore_m", "fore", "length", 0, u.FromSI(1))
	n := len(f.lines)
	r.linesOf(f, "draft_aft_m", "aft", "length", 1, u.FromSI(1))
	if n == 1 {
		f.lines[1].colour = 1
	}
	return f
}

func (r *Run) water() *figure {
	f := &figure{name: "water", title: "Water in every compartment", lo: 0, hi: 1,
		note: "A row each: empty at its foot, full at its top."}
	for i := range r.rec.spaces {
		s := &r.rec.spaces[i]
		key := s.Name + ".water_m3"
		share := r.rec.values(key)
		holds := s.Capacity()
		for k := range share {
			share[k] /= holds
		}
		if share != nil {
			f.rows = append(f.rows, row{s.Name, key, holds, r.rec.times, share})
		}
	}
	return f
}

func (r *Run) air() *figure {
	f := &figure{name: "air", title: "Pressure of trapped air", unit: "kPa", note: "Over the atmosphere, in airtight spaces."}
	for i := range r.rec.spaces {
		s := &r.rec.spaces[i]
		y := r.rec.values(s.Name + ".air_pa")
		if y == nil {
			continue
		}
		for k := range y {
			y[k] /= 1000
		}
		n := len(f.lines)
		f.lines = append(f.lines, line{s.Name, s.Name + ".air_pa", "pressure", r.rec.times, y, n % 7, n / 7 % 5})
	}
	if len(f.lines) == 0 {
		return nil
	}
	return f
}

func (r *Run) bending() *figure {
	joints := r.rec.vessel.Spec.Joints
	if len(joints) == 0 {
		return nil
	}
	f := &figure{name: "bending", title: "Bending at the joints, and what they hold", unit: "N.m",
		note: "Hogging is positive. A joint lets go when its curve passes its limit."}
	for i := range joints {
		j := &joints[i]
		y := r.rec.values(j.Name + ".bending_nm")
		if y == nil {
			continue
		}
		l := line{j.Name, j.Name + ".bending_nm", "moment", r.rec.times, y, i % 7, 0}
		f.lines = append(f.lines, l)
		if end := r.rec.values(j.Name + ".end_moment_nm"); j.Hinge != nil && end != nil {
			for k := range end {
				end[k] += y[k]
			}
			f.lines = append(f.lines, line{j.Name + " with end pressure (what counts)", "", "moment", r.rec.times, end, i % 7, 1})
		}
		if h := j.Holds.Hogging; h != nil {
			f.limits = append(f.limits, limit{label: fmt.Sprintf("%s holds %.4g, hogging", j.Name, *h), at: *h})
		}
		if h := j.Holds.Sagging; h != nil {
			f.limits = append(f.limits, limit{label: fmt.Sprintf("%s holds %.4g, sagging", j.Name, *h), at: -*h})
		}
	}
	return f
}

func (r *Run) strength() *figure {
	c := r.result.Curve
	if c == nil {
		return nil
	}
	u := r.scenario.Unit
	f := &figure{name: "strength", title: "Bending along the hull" + " at " + r.scenario.Words().Time(c.Time), unit: "N.m", along: u.Name,
		note: "When its joints bent it most. A hull of even strength would part at the peak."}
	x := make([]float64, len(c.X))
	for i := range x {
		x[i] = u.FromSI(c.X[i])
	}
	f.from, f.to = x[0], x[len(x)-1]
	f.lines = []line{{label: "bending", x: x, y: c.Bending}}
	for i, j := range r.rec.vessel.Spec.Joints {
		f.marks = append(f.marks, mark{u.FromSI(j.At), i + 1, "joint " + j.Name})
	}
	return f
}

// Run is one run as the page shows it.
type Run struct {
	name, title string
	scenario    *scenarios.Scenario
	rec         *Recorder
	result      *flood.Result
	told        *scenarios.Telling
}

// NewRun takes a run that has ended: what was recorded of it, what it came to, and its story. name tells it from another.
func NewRun(name string, s *scenarios.Scenario, rec *Recorder, result *flood.Result, told *scenarios.Telling) *Run {
	rec.end()
	return &Run{name: name, title: s.Title, scenario: s, rec: rec, result: result, told: told}
}

// Needs says what a run must have for a chart.
func Needs(chart string) string {
	switch chart {
	case "air":
		return "an airtight compartment"
	case "bending", "strength":
		return "a joint"
	}
	return "samples"
}
