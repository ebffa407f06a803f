package main

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

// floatFlags are what the command line asks of the float test.
type floatFlags struct {
	asJSON, curve bool
	laid          []string
	measured      string // the file with the readings; empty: none
	after         string // the time of a run; empty: none is made
}

func (a *app) floatCommand() *cobra.Command {
	var flags floatFlags
	c := &cobra.Command{
		Use:   "float FILE",
		Short: "The float test: drafts, trim, heel, freeboard, stability; whole and each section alone",
		Long: `Floats the hull as it is at the start of a run: with the water aboard then, every opening shut; once more with the
weights that come later, and each section alone.

--lay puts a mass on it for a trial: how it then floats. --measured takes the readings of a real float test and gives the
true mass and centre of gravity, and which listed weight must be off.

--after runs the flooding up to a time and floats what there is then, with the water aboard: the hull and each section alone, or, once
it has parted, the sections as they are.`,
		Example: `  byhead float demo:packet
  byhead float packet.yaml --lay '1.2 kg at 640 mm'
  byhead float packet.yaml --measured sink.csv
  byhead float demo:parting --after '4 min'`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if c.Flags().Changed("after") && flags.after == "" {
				return usage("--after needs a time, such as --after 40s")
			}
			return a.float(c.Context(), args[0], flags)
		},
	}
	c.Flags().BoolVar(&flags.asJSON, "json", false, "print one JSON document")
	c.Flags().BoolVar(&flags.curve, "arms", false, "print the whole curve of righting arms")
	c.Flags().StringArrayVar(&flags.laid, "lay", nil, "`MASS at X` laid on for a trial; more than once for more of them")
	c.Flags().StringVar(&flags.after, "after", "", "at a stage of the run: `TIME`, such as 40s")
	c.Flags().StringVar(&flags.measured, "measured", "", "`LOG.csv` with the readings of a float test; - for standard input")
	return c
}

func (a *app) float(ctx context.Context, name string, flags floatFlags) error {
	if name == "-" && flags.measured == "-" {
		return usage("standard input cannot be both the scenario and the log; a file for one of them")
	}
	laid, err := parseLaid(flags.laid)
	if err != nil {
		return err
	}
	if flags.after != "" {
		return a.floatAfter(ctx, name, flags)
	}
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	measured, err := a.measure(ctx, in, flags.measured)
	if err != nil {
		return err
	}
	bare := in.vessel
	if in.vessel, err = layOn(bare, laid); err != nil {
		return err
	}
	a.tellNotes(in)
	tests := in.vessel.FloatTest()
	if err := ctx.Err(); err != nil {
		return err
	}
	var out bytes.Buffer
	if flags.asJSON {
		err = scenarios.WriteJSON(&out, in.floatDocument(tests, laid, measured))
	} else {
		in.writeFloat(&out, tests, flags.curve, conditionWords)
		in.writeLaid(&out, tests, bare, laid)
		in.writeMeasured(&out, measured)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

func (in *input) floatDocument(tests []compartment.Floating, laid []scenarios.Laid, measured *plan.Measured) *scenarios.FloatDocument {
	d := scenarios.NewFloatDocument(in.Scenario, in.vessel, tests)
	for _, l := range laid {
		d.Laid = append(d.Laid, scenarios.LaidEntry{Mass: l.Mass, At: [3]float64{l.At.X, l.At.Y, l.At.Z}})
	}
	if measured != nil {
		d.AddMeasured(measured)
	}
	return d
}

// writeFloat is a table for every condition.
func (in *input) writeFloat(out *bytes.Buffer, tests []compartment.Floating, curve bool, words func(string) string) {
	if in.Title != "" {
		fmt.Fprintln(out, in.Title)
	}
	w := in.Words()
	for i := range tests {
		t := &tests[i]
		fmt.Fprintf(out, "\n%s, %s\n  %s\n", words(t.Name), w.Mass(t.Mass), w.Judgement(t))
		rows := newTable()
		for _, row := range w.Aboard(t) {
			rows.add(row...)
		}
		if t.Floats {
			for _, row := range floatRows(w, t) {
				rows.add(row...)
			}
			for k, m := range in.vessel.Marks {
				if !math.IsNaN(t.Marks[k]) {
					rows.add("mark "+m.Name, depthWords(w, t.Marks[k]))
				}
			}
		}
		for _, row := range benchRows(w, t) {
			rows.add(row...)
		}
		rows.write(out)
		if curve {
			writeCurve(out, w, t)
		}
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
	if t.Arms != nil {
		rows = append(rows, []string{"righting arm to starboard", w.ArmSide(t.Arms.Starboard)}, []string{"righting arm to port", w.ArmSide(t.Arms.Port)})
	}
	if t.Lowest.Name != "" {
		rows = append(rows, []string{"lowest opening", t.Lowest.Name + ", " + depthWords(w, -t.Lowest.Height)})
	}
	return append(rows, loadRows(w, t)...)
}

// loadRows are the bending and the shear at the joints and where they are greatest.
func loadRows(w scenarios.Words, t *compartment.Floating) (rows [][]string) {
	if t.Still == nil {
		return nil
	}
	for i := range t.Still.Joints {
		j := &t.Still.Joints[i]
		rows = append(rows, []string{"bending at " + j.Name, w.JointLoad(j)})
	}
	return append(rows, []string{"greatest bending", w.GreatestBending(t)}, []string{"greatest shear", w.GreatestShear(t)})
}

func depthWords(w scenarios.Words, depth float64) string {
	if depth < 0 {
		return w.Length(-depth) + " above the sea"
	}
	return w.Length(depth) + " below the sea"
}
