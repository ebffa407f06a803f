package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
	"github.com/spf13/cobra"
)

func (a *app) gatherCommand() *cobra.Command {
	var asJSON bool
	var matters string
	c := &cobra.Command{
		Use:   "gather RECORDS…",
		Short: "Join the records that the shards of a spread wrote",
		Long: `Reads files that spread --records wrote, of one study, in any order, and prints what spread itself would have printed of all
of them, the JSON document to the bit. A run that is there twice is an error; runs that are missing are told.`,
		Example: "  byhead gather model-*.ndjson",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage("gather takes one file of records or more; as spread --records writes them")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return a.gather(c.Context(), args, matters, asJSON) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print one JSON document")
	c.Flags().StringVar(&matters, "matters", "", "the `RESULT` for which values are ranked (default: the fate, or how long the run took)")
	return c
}

func (a *app) gather(ctx context.Context, names []string, matters string, asJSON bool) error {
	tally := &study.Tally{}
	for _, name := range names {
		if err := a.gatherFile(ctx, name, tally); err != nil {
			return err
		}
	}
	if tally.Len() == 0 {
		return usage("there are no records in %s; files that spread --records wrote", strings.Join(names, ", "))
	}
	if s, err := tally.Summary(""); err == nil && len(s.Missing) > 0 {
		a.tell("warning", fmt.Sprintf("%d of %d runs are missing, the first of them run %d", len(s.Missing), s.Of, s.Missing[0]))
	}
	return a.printSpread(tally, scenarios.MetricWords(), "", matters, asJSON)
}

// gatherFile takes in the records of a file. A torn line at its end is told: its run is missing.
func (a *app) gatherFile(ctx context.Context, name string, tally *study.Tally) error {
	file, err := os.Open(a.path(name))
	if err == nil {
		defer file.Close()
		if info, failed := file.Stat(); failed == nil && info.IsDir() {
			err = errors.New("it is a folder")
		}
	}
	if err != nil {
		return unreadable(name, fmt.Sprintf("the records cannot be read (%s); a file that spread --records wrote", plain(err)))
	}
	r := study.NewRecordReader(name, file)
	err = eachRecord(r, func(record *study.Record) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return addRecord(r, tally, record)
	})
	if errors.Is(err, study.ErrTorn) {
		a.tell("warning", name+" ends within a line: the process that wrote it was ended; spread --resume goes on with it")
		return nil
	}
	return err
}
