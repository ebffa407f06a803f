package main

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

func (a *app) floatCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "float FILE",
		Short: "The float test: drafts, trim, heel, freeboard, stability; whole and each section alone",
		Long: `Floats the hull as it is at the start of a run: with the water aboard then, every opening shut; once more with the
weights that come later, and each section alone.`,
		Example:           "  byhead float demo:packet",
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE:              func(c *cobra.Command, args []string) error { return a.float(c.Context(), args[0], asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

func (a *app) float(ctx context.Context, name string, asJSON bool) error {
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	a.tellNotes(in)
	tests := in.vessel.FloatTest()
	if err := ctx.Err(); err != nil {
		return err
	}
	var out bytes.Buffer
	if asJSON {
		err = scenarios.WriteJSON(&out, scenarios.NewFloatDocument(in.Scenario, in.vessel, tests))
	} else {
		in.writeFloat(&out, tests)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// writeFloat is a table for every condition.
func (in *input) writeFloat(out *bytes.Buffer, tests []compartment.Floating) {
	if in.Title != "" {
		fmt.Fprintln(out, in.Title)
	}
	w := in.Words()
	for i := range tests {
		t := &tests[i]
		fmt.Fprintf(out, "\n%s, %s\n", conditionWords(t.Name), w.Mass(t.Mass))
		if !t.Floats {
			fmt.Fprintln(out, "  does not float: it is heavier than the water it can displace, or finds no rest")
			continue
		}
		rows := newTable()
		for _, row := range floatRows(w, t) {
			rows.add(row...)
		}
		for k, m := range in.vessel.Marks {
			rows.add("mark "+m.Name, depthWords(w, t.Marks[k]))
		}
		rows.write(out)
	}
}

func conditionWords(name string) string {
	switch name {
	case "hull":
		return "the hull as at the start"
	case "hull+later":
		return "the hull with the weights that come later"
	}
	return "section " + name + " alone"
}

// floatRows are the lines of a condition; where a scale is given, what lengths are at full size stands beside them.
func floatRows(w scenarios.Words, t *compartment.Floating) [][]string {
	length := func(name string, x float64) []string {
		row := []string{name, w.Length(x)}
		if w.Scaled() && !math.IsNaN(x) {
			row = append(row, w.FullLength(x)+" at full size")
		}
		return row
	}
	rows := [][]string{
		length("draft fore", t.DraftFore),
		length("draft aft", t.DraftAft),
		{"trim", w.Trim(t.Trim)},
		{"heel", w.Heel(t.Heel)},
		length("freeboard", t.Freeboard),
		length("GM transverse", t.GMTransverse),
		length("GM longitudinal", t.GMLongitudinal),
		length("GM at zero heel", t.GMUpright),
		length("centre from the after end", t.Centre.X),
		length("centre to port", t.Centre.Y),
		length("centre above the keel line", t.Centre.Z),
		{"range of stability", w.Angle(t.RangeOfStability)},
	}
	if math.Abs(t.Heel) > math.Pi/2 && math.Abs(t.Trim) < math.Pi/3 {
		rows = append(rows, []string{"", "it floats keel up"})
	}
	return rows
}

func depthWords(w scenarios.Words, depth float64) string {
	if depth < 0 {
		return w.Length(-depth) + " above the sea"
	}
	return w.Length(depth) + " below the sea"
}
