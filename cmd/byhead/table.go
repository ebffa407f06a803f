package main

import (
	"bytes"
	"fmt"
	"strings"
	"text/tabwriter"
)

// grid is a plain table of aligned columns, without lines, indented by two.
type grid struct {
	lines []string // cells with tabs between
	rows  int      // without the header
}

func newTable(header ...string) *grid {
	g := &grid{}
	if len(header) > 0 {
		g.lines = append(g.lines, strings.Join(header, "\t"))
	}
	return g
}

func (g *grid) add(cells ...string) {
	g.lines = append(g.lines, strings.Join(cells, "\t"))
	g.rows++
}

// write puts the table out without blanks at the ends of its lines; nothing of one that has a header only.
func (g *grid) write(out *bytes.Buffer) {
	if g.rows == 0 {
		return
	}
	var b bytes.Buffer
	table := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, line := range g.lines {
		fmt.Fprintln(table, line)
	}
	table.Flush() // into a buffer: it cannot fail
	for line := range strings.Lines(b.String()) {
		out.WriteString("  " + strings.TrimRight(line, " \n") + "\n")
	}
}
