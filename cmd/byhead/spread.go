package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
	"github.com/spf13/cobra"
)

// spreadFlags are what the command line says of a spread.
type spreadFlags struct {
	runs           int
	seed           uint64
	sampling       string
	records        string
	resume         bool
	shard, matters string
	workers        int
	json           bool
}

func (a *app) spreadCommand() *cobra.Command {
	var f spreadFlags
	c := &cobra.Command{
		Use:   "spread FILE",
		Short: "How likely each outcome is when the workshop misses",
		Long: `Runs the scenario many times with the values under "spread:" as the workshop may hit them, and tells how likely each fate
is, how times and angles scatter, and which value it is worth taking care of. The same seed gives the same results on any
number of workers.

--records keeps every run, one JSON object a line, as it is done; whatever ends the program, --resume goes on with it.
--shard I/N does every N-th run only, I from 1 to N; gather joins what the shards recorded.`,
		Example:           "  byhead spread model.yaml --runs 1000 --seed 1 --records model.ndjson\n  byhead spread model.yaml --runs 1000 --seed 1 --records model.ndjson --resume",
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			shard, err := f.check(c)
			if err != nil {
				return err
			}
			return a.spread(c.Context(), args[0], f, shard)
		},
	}
	c.Flags().IntVar(&f.runs, "runs", 1000, "how many runs")
	c.Flags().Uint64Var(&f.seed, "seed", 1, "of the random numbers")
	c.Flags().StringVar(&f.sampling, "sampling", string(study.LatinHypercube), "latin-hypercube or halton")
	c.Flags().StringVar(&f.records, "records", "", "keep every run in `FILE.ndjson`")
	c.Flags().BoolVar(&f.resume, "resume", false, "go on with the records that are there")
	c.Flags().StringVar(&f.shard, "shard", "", "do the part `I/N` only, I from 1 to N")
	c.Flags().StringVar(&f.matters, "matters", "", "the `RESULT` for which values are ranked (default: the fate, or how long the run took)")
	c.Flags().BoolVar(&f.json, "json", false, "print one JSON document")
	workersFlag(c, &f.workers)
	a.completeFlag(c, "matters", resultNames)
	return c
}

func (f *spreadFlags) check(c *cobra.Command) (shard study.Shard, err error) {
	switch {
	case c.Flags().Changed("records") && (f.records == "" || f.records == "-"):
		return shard, usage("--records needs a file's name, such as --records model.ndjson; standard output is for the results")
	case f.resume && f.records == "":
		return shard, usage("--resume goes on with a file of records; --records FILE.ndjson with it")
	case c.Flags().Changed("shard"):
		return parseShard(f.shard)
	}
	return shard, nil
}

// parseShard reads I/N.
func parseShard(text string) (shard study.Shard, err error) {
	first, last, ok := strings.Cut(text, "/")
	i, bad := strconv.Atoi(first)
	n, worse := strconv.Atoi(last)
	if !ok || bad != nil || worse != nil {
		return shard, usage("--shard %q is no shard; I/N with I from 1 to N, such as 3/8", text)
	}
	shard = study.Shard{I: i, N: n}
	if err := shard.Check(); err != nil {
		return shard, usage("--shard: %s", err)
	}
	return shard, nil
}

func (a *app) spread(ctx context.Context, name string, f spreadFlags, shard study.Shard) error {
	model, err := a.model(ctx, name)
	if err != nil {
		return err
	}
	s, err := study.NewSpread(model, study.Sampling(f.sampling), f.runs, f.seed)
	var lacks scenarios.Faults
	switch {
	case errors.As(err, &lacks):
		return lacks
	case err != nil:
		return usage("%s: %s", name, oneLine(err.Error()))
	}
	if f.matters != "" && f.matters != "fate" {
		if err := study.CheckResult(model.Vessel, f.matters); err != nil {
			return usage("--matters: %s", err)
		}
	}
	tally := s.Tally()
	file, err := a.openRecords(f.records, f.resume, s, shard, tally)
	if err != nil {
		return err
	}
	err = a.spreadRuns(ctx, s, s.Todo(shard, tally.Has), f, file, tally)
	if closed := file.close(); err == nil {
		err = closed
	}
	if errors.Is(err, context.Canceled) {
		a.tellHowToGoOn(name, f, tally)
	}
	if err != nil {
		return err
	}
	return a.printSpread(tally, model.Scenario.Words(), model.Scenario.Title, f.matters, f.json)
}

// spreadRuns does the runs and keeps their records.
func (a *app) spreadRuns(ctx context.Context, s *study.Spread, todo []int, f spreadFlags, file *recordFile, tally *study.Tally) error {
	m := a.newRunMeter()
	defer m.erase()
	return s.Run(ctx, todo, study.Options{Workers: f.workers, Progress: m.done}, func(r *study.Record) error {
		if file != nil {
			if err := file.put(r); err != nil {
				return err
			}
		}
		return tally.Add(r)
	})
}

// tellHowToGoOn says what an interrupted study leaves.
func (a *app) tellHowToGoOn(name string, f spreadFlags, tally *study.Tally) {
	if f.records == "" {
		a.tell("note", fmt.Sprintf("%d runs were done and nothing is kept; with --records FILE.ndjson they would be", tally.Len()))
		return
	}
	again := fmt.Sprintf("byhead spread %s --runs %d --seed %d --sampling %s --records %s --resume", shellWord(name), f.runs, f.seed, f.sampling, shellWord(f.records))
	if f.shard != "" {
		again += " --shard " + f.shard
	}
	a.tell("note", fmt.Sprintf("%d runs are in %s; to go on: %s", tally.Len(), f.records, again))
}

// shellWord puts a word in quotes where a shell would take it apart.
func shellWord(word string) string {
	if strings.ContainsAny(word, " \t\"'\\$&;()<>|*?[]{}~#!`") {
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	return word
}
