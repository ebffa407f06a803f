package main

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"github.com/byhead/byhead/compartment/plan"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

func (a *app) ballastCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "ballast FILE",
		Short: "The weights and places that float it as wanted",
		Long: `Finds the least ballast, within the places that the scenario gives under "ballast:", that floats the hull and its
sections as wished there: drafts at the ends, heel, least GM. What cannot be had is told with its reason, and the nearest to it.`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE:              func(c *cobra.Command, args []string) error { return a.ballast(c.Context(), args[0], asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	return c
}

func (a *app) ballast(ctx context.Context, name string, asJSON bool) error {
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	wishes, places, err := in.BallastTask(in.vessel)
	if err != nil {
		return err
	}
	found, err := plan.Ballast(ctx, in.Spec, wishes, places)
	if err != nil {
		return err
	}
	a.tellNotes(in)
	var out bytes.Buffer
	if asJSON {
		err = scenarios.WriteJSON(&out, scenarios.NewBallastDocument(in.Scenario, found))
	} else {
		in.writeBallast(&out, found)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// writeBallast is the list to lay by, how it then floats, and the lines for the file.
func (in *input) writeBallast(out *bytes.Buffer, p *plan.BallastPlan) {
	w := in.Words()
	if in.Title != "" {
		fmt.Fprintln(out, in.Title)
	}
	if p.Feasible {
		fmt.Fprintln(out, "\nLay (lengths along, across, thick; the middle of each):")
	} else {
		fmt.Fprintf(out, "\nThis cannot be had: %s.\n\nThe nearest to it:\n", w.BallastReason(in.Spec.Weights, p))
		for _, m := range p.Misses {
			fmt.Fprintln(out, "  "+w.BallastMiss(m))
		}
		fmt.Fprintln(out)
	}
	total := 0.0
	for i := range p.Entries {
		fmt.Fprintln(out, "  "+w.BallastEntry(&p.Entries[i]))
		total += p.Entries[i].Weight.Mass
	}
	if len(p.Entries) == 0 {
		fmt.Fprintln(out, "  no ballast at all")
	}
	fmt.Fprintf(out, "  %s in all.%s\n", w.Mass(total), leadCaution(p.Entries))
	for i := range p.Reached {
		t := &p.Reached[i]
		fmt.Fprintf(out, "\n%s, %s\n", conditionWords(t.Name), w.Mass(t.Mass))
		if !t.Floats {
			fmt.Fprintln(out, "  does not float")
			continue
		}
		rows := newTable()
		rows.add("draft fore", w.Length(t.DraftFore))
		rows.add("draft aft", w.Length(t.DraftAft))
		rows.add("trim", w.Trim(t.Trim))
		rows.add("heel", w.Heel(t.Heel))
		rows.add("GM", w.Length(t.GMTransverse))
		rows.add("GM at zero heel", w.Length(t.GMUpright))
		rows.write(out)
	}
	if len(p.Entries) > 0 {
		fmt.Fprintf(out, "\nFor the file, under weights:\n%s", scenarios.BallastLines(p.Entries))
	}
}

// leadCaution is what those who lay lead should know.
func leadCaution(entries []plan.Entry) string {
	for i := range entries {
		if strings.HasPrefix(entries[i].Material, "lead") {
			return " Lead: gloves, wash afterwards, no loose dust; paint or wrap it."
		}
	}
	return ""
}
