package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
)

// sinkFlags are what the command line says of a run.
type sinkFlags struct {
	json      bool
	trace     string
	curve     string
	tolerance float64 // 0: as the scenario says
	doubt     bool
}

func (a *app) sinkCommand() *cobra.Command {
	var f sinkFlags
	c := &cobra.Command{
		Use:   "sink FILE",
		Short: "Step the flooding through time: what happens, the verdict, the margins",
		Long: `Steps the flooding through time and tells what happens in order of time, the verdict, and how close things came to
turning out otherwise. --json gives the same as one document, --trace a table of every sample, --curve the bending along the
hull at its worst moment.`,
		Example:           "  byhead sink demo:packet\n  byhead sink model.yaml --json\n  byhead sink model.yaml --trace model-trace.csv",
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.check(c); err != nil {
				return err
			}
			return a.sink(c.Context(), args[0], f)
		},
	}
	c.Flags().BoolVar(&f.json, "json", false, "print one JSON document")
	c.Flags().StringVar(&f.trace, "trace", "", "write every sample to `FILE.csv`")
	c.Flags().StringVar(&f.curve, "curve", "", "write the bending along the hull at its worst moment to `FILE.csv`")
	c.Flags().Float64Var(&f.tolerance, "tolerance", 0, "error of a step as a share of each space (1e-12 to 0.1; default: the scenario's, 1e-5)")
	c.Flags().BoolVar(&f.doubt, "doubt", false, "with motion: free, run four times more, with added mass and damping halved and doubled")
	return c
}

func (f *sinkFlags) check(c *cobra.Command) error {
	switch {
	case c.Flags().Changed("tolerance") && !(f.tolerance >= 1e-12 && f.tolerance <= 0.1):
		return usage("--tolerance %g is out of range; a number from 1e-12 to 0.1", f.tolerance)
	case c.Flags().Changed("trace") && (f.trace == "" || f.trace == "-"):
		return usage("--trace needs a file's name, such as --trace model-trace.csv; standard output is for the results")
	case c.Flags().Changed("curve") && (f.curve == "" || f.curve == "-"):
		return usage("--curve needs a file's name, such as --curve model-curve.csv; standard output is for the results")
	case f.curve != "" && f.curve == f.trace:
		return usage("--curve and --trace name the same file, %s; two names", f.curve)
	}
	return nil
}

// sink runs a scenario: read and build it, begin its tables, step to the end, put the tables in their places, print.
func (a *app) sink(ctx context.Context, name string, f sinkFlags) error {
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	a.tellNotes(in)
	tables, err := a.beginTables(in, f)
	if err != nil {
		return err
	}
	story := scenarios.NewStory(in.Scenario, in.vessel)
	settings := in.Run.Settings()
	settings.Samples = tables.sampling(story)
	if f.tolerance != 0 {
		settings.Tolerance = f.tolerance
	}
	result, err := a.step(ctx, in, settings)
	var other *flood.Result
	if err == nil {
		other, err = a.otherWetting(ctx, in, settings, result)
	}
	var doubts []scenarios.Doubt
	if err == nil {
		doubts, err = a.doubts(ctx, in, settings, f.doubt)
	}
	if err != nil {
		tables.discard()
		return err
	}
	failed := tables.end(result)
	if other != nil {
		story.Compare(other, scenarios.OtherMenisci(settings.Menisci))
	}
	story.Doubt(doubts)
	if err := a.printSink(in, story, result, other, doubts, f.json); err != nil {
		return err
	}
	if failed == nil && result.GaveUp != nil {
		failed = errors.New(in.Words().Failure(result.GaveUp)) // its results are printed all the same
	}
	return failed
}

// step runs to the end, and shows how far it has come.
func (a *app) step(ctx context.Context, in *input, settings flood.Settings) (*flood.Result, error) {
	r, err := flood.Start(in.vessel, settings)
	if err != nil {
		return nil, err
	}
	if err := a.stepOn(ctx, r, settings.Until); err != nil {
		return nil, err
	}
	return r.Result(), nil
}

// stepOn runs what has started to its end.
func (a *app) stepOn(ctx context.Context, r *flood.Run, until float64) error {
	m := a.newMeter(until)
	defer m.erase()
	for s, err := range r.Steps(ctx) {
		if err != nil {
			return err
		}
		m.at(s.Time)
	}
	return nil
}

// otherWetting runs with the menisci in the other state, where that may decide; else it is nil.
func (a *app) otherWetting(ctx context.Context, in *input, settings flood.Settings, r *flood.Result) (*flood.Result, error) {
	if !scenarios.AsksForBoth(r) {
		return nil, nil
	}
	settings.Menisci, settings.Samples, settings.NoCurve = scenarios.OtherMenisci(settings.Menisci), nil, true
	return a.step(ctx, in, settings)
}

// doubts runs with what is doubtful in free motion halved and doubled, where that is asked for; else there are none.
func (a *app) doubts(ctx context.Context, in *input, settings flood.Settings, asked bool) ([]scenarios.Doubt, error) {
	if !asked {
		return nil, nil
	}
	if settings.Motion != flood.Free {
		a.tell("note", fmt.Sprintf("--doubt: with motion: %s neither added mass nor damping play a part", settings.Motion))
		return nil, nil
	}
	settings.Samples, settings.NoCurve = nil, true
	all := scenarios.Doubts()
	for i := range all {
		var err error
		if all[i].Result, err = a.step(ctx, in, all[i].Settings(settings)); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// printSink prints the results, in one go, and tells the warnings.
func (a *app) printSink(in *input, story *scenarios.Story, r, other *flood.Result, doubts []scenarios.Doubt, asJSON bool) error {
	for _, w := range r.Warnings {
		a.tell("warning", in.Words().Warning(w))
	}
	var out bytes.Buffer
	var err error
	if asJSON {
		doc := scenarios.NewSinkDocument(in.Scenario, r)
		if other != nil {
			doc.FirstWetting = scenarios.NewFirstWetting(r, other, scenarios.OtherMenisci(flood.Menisci(in.Run.Menisci)))
		}
		doc.ReleaseDesign = scenarios.NewReleaseEntries(story.Releases(r))
		doc.Doubt = scenarios.NewDoubtEntries(doubts)
		err = scenarios.WriteJSON(&out, doc)
	} else {
		err = story.Write(&out, r)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}
