package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

// mostAcross is how many columns of a comparison stand side by side; more stand below each other.
const mostAcross = 6

// writeCompare is the table for people.
func writeCompare(out *bytes.Buffer, w scenarios.Words, c *study.Comparison) {
	if len(c.Columns) > mostAcross {
		writeCompareDown(out, w, c)
	} else {
		writeCompareAcross(out, w, c)
	}
	for i, o := range c.Outcomes {
		if o.GaveUp != nil {
			fmt.Fprintf(out, "\n%s: %s\n", c.Columns[i], w.Failure(o.GaveUp))
		}
	}
	fmt.Fprintln(out, "\n+ best, - worst of the row, for a hull that has to stay up; of a wreck wanted on cue read them as you like.")
}

// writeCompareAcross has a line for each result.
func writeCompareAcross(out *bytes.Buffer, w scenarios.Words, c *study.Comparison) {
	t := newTable(append([]string{""}, c.Columns...)...)
	for i := range c.Rows {
		r := &c.Rows[i]
		label := resultLabel(w, r.Result)
		if label == "" {
			continue
		}
		t.add(append([]string{label}, marked(w, c, r)...)...)
	}
	t.write(out)
}

// marked are the cells of a row with their marks.
func marked(w scenarios.Words, c *study.Comparison, r *study.Row) (cells []string) {
	for k, v := range r.Values {
		text := resultText(w, r.Result, v)
		if v != nil && v.Number < 0 && strings.HasPrefix(r.Result, "margins.") && c.Outcomes[k].Fate != flood.Floats {
			text = "passed" // how deep a wreck came to lie is not a margin that anybody could use
		}
		switch {
		case slices.Contains(r.Best, c.Columns[k]):
			text += " +"
		case slices.Contains(r.Worst, c.Columns[k]):
			text += " -"
		}
		cells = append(cells, text)
	}
	return cells
}

// writeCompareDown has a line for each column, with the results that matter most: the fates, when it goes under, then those in
// which the columns differ.
func writeCompareDown(out *bytes.Buffer, w scenarios.Words, c *study.Comparison) {
	const most = 6
	var header []string
	var cells [][]string
	for _, want := range []func(string) bool{
		func(p string) bool { return p == "fate" },
		func(p string) bool { return strings.HasSuffix(p, ".foundered_s") },
		func(p string) bool { return strings.HasSuffix(p, "worst_heel_deg") },
		func(p string) bool { return strings.HasSuffix(p, ".gm.closest_m") },
		func(p string) bool { return strings.HasSuffix(p, ".edge.closest_m") },
	} {
		for i := range c.Rows {
			r := &c.Rows[i]
			if !want(r.Result) || len(header) >= most || len(r.Best) == 0 && r.Result != "fate" {
				continue
			}
			header = append(header, resultLabel(w, r.Result))
			cells = append(cells, marked(w, c, r))
		}
	}
	t := newTable(append([]string{""}, header...)...)
	for k, name := range c.Columns {
		line := []string{name}
		for i := range cells {
			line = append(line, cells[i][k])
		}
		t.add(line...)
	}
	t.write(out)
}
