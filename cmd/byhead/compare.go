package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
	"github.com/spf13/cobra"
)

// compareFlags are what the command line says of a comparison.
type compareFlags struct {
	grid      []string
	json, csv bool
	workers   int
}

func (a *app) compareCommand() *cobra.Command {
	var f compareFlags
	c := &cobra.Command{
		Use:   "compare FILE…",
		Short: "Variants of a scenario, or several scenarios, side by side",
		Long: `Runs each FILE and its variants and sets what comes of them side by side: fates, times, trim and heel at every event,
smallest GM, margins. The best of a row is marked + and the worst -, as a hull sees it that has to stay up. --grid replaces a
value by N values from FROM to TO; several make all combinations, of the variants too.`,
		Example:           "  byhead compare demo:freighter\n  byhead compare one.yaml two.yaml --csv\n  byhead compare demo:packet --grid 'bulkheads.B4.top=60 mm..80 mm/5'",
		Args:              someFiles,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if f.json && f.csv {
				return usage("--json and --csv exclude each other; one of them")
			}
			return a.compare(c.Context(), args, f)
		},
	}
	c.Flags().StringArrayVar(&f.grid, "grid", nil, "a value and the places on it, as `PATH=FROM..TO/N`; may be given several times")
	c.Flags().BoolVar(&f.json, "json", false, "print one JSON document")
	c.Flags().BoolVar(&f.csv, "csv", false, "print a table as CSV")
	workersFlag(c, &f.workers)
	return c
}

func (a *app) compare(ctx context.Context, files []string, f compareFlags) error {
	columns, err := a.columns(ctx, files)
	if err != nil {
		return err
	}
	if columns, err = gridded(columns, f.grid); err != nil {
		return err
	}
	if len(columns) == 1 {
		a.tell("note", "there is nothing to compare with: the scenario has no variants; another FILE, or --grid PATH=FROM..TO/N")
	}
	m := a.newRunMeter()
	found, err := study.Compare(ctx, columns, study.Options{Workers: f.workers, Progress: m.done})
	m.erase()
	if err != nil {
		return err
	}
	var out bytes.Buffer
	switch {
	case f.json:
		err = scenarios.WriteJSON(&out, study.NewCompareDocument(found))
	case f.csv:
		err = writeCompareCSV(&out, found)
	default:
		writeCompare(&out, columns[0].Model.Scenario.Words(), found)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// columns are those of every file: its own, then one for each variant.
func (a *app) columns(ctx context.Context, files []string) (columns []study.Column, err error) {
	taken := map[string]int{}
	var all scenarios.Faults
	for _, file := range files {
		m, err := a.model(ctx, file)
		if err != nil {
			return nil, err
		}
		name := file
		if taken[file]++; taken[file] > 1 {
			name = fmt.Sprintf("%s#%d", file, taken[file])
		}
		columns = append(columns, study.Column{Name: name, Model: m})
		for _, v := range m.Scenario.Variants {
			variant, err := m.Variant(v.Name)
			var faults scenarios.Faults
			if errors.As(err, &faults) { // those of all variants are told in one go
				all = append(all, faults...)
				continue
			}
			if err != nil {
				return nil, err
			}
			of := v.Name
			if len(files) > 1 {
				of = name + ":" + v.Name
			}
			columns = append(columns, study.Column{Name: of, Model: variant})
		}
	}
	if len(all) > 0 {
		return nil, all
	}
	return columns, nil
}

// gridded puts the columns on the grid that --grid gives.
func gridded(columns []study.Column, texts []string) ([]study.Column, error) {
	var axes []study.Axis
	for _, text := range texts {
		axis, err := parseAxis(columns[0].Model.Scenario, text)
		if err != nil {
			return nil, usage("--grid %q: %s", text, oneLine(err.Error()))
		}
		if slices.ContainsFunc(axes, func(x study.Axis) bool { return x.Path == axis.Path }) {
			return nil, usage("--grid gives %s twice; one range for each value", axis.Path)
		}
		axes = append(axes, axis)
	}
	if len(axes) == 0 {
		return columns, nil
	}
	points, err := study.Grid(columns, axes)
	if err != nil {
		return nil, usage("--grid: %s", oneLine(err.Error()))
	}
	return points, nil
}

// parseAxis reads PATH=FROM..TO/N. FROM may leave out the unit that TO has.
func parseAxis(s *scenarios.Scenario, text string) (axis study.Axis, err error) {
	const want = "PATH=FROM..TO/N, such as 'bulkheads.B4.top=60 mm..80 mm/5'"
	path, rest, ok := strings.Cut(text, "=")
	span, count, counted := cutLast(rest, "/")
	first, last, two := strings.Cut(span, "..")
	if !ok || !counted || !two {
		return axis, fmt.Errorf("that is not a grid; %s", want)
	}
	n, err := strconv.Atoi(strings.TrimSpace(count))
	if err != nil {
		return axis, fmt.Errorf("%q is not a number of values; %s", count, want)
	}
	path = strings.TrimSpace(path)
	low, high, err := parseRange(s, path, first, last)
	if err != nil {
		return axis, err
	}
	return study.NewAxis(path, low.Value, high.Value, n)
}

func cutLast(text, sep string) (before, after string, found bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return text, "", false
	}
	return text[:i], text[i+len(sep):], true
}

// writeCompareCSV is a line for each result: SI units and degrees, an empty cell where there is none.
func writeCompareCSV(out *bytes.Buffer, c *study.Comparison) error {
	w := csv.NewWriter(out)
	w.Write(append(append([]string{"result"}, c.Columns...), "best", "worst"))
	for i := range c.Rows {
		r := &c.Rows[i]
		line := []string{r.Result}
		for _, v := range r.Values {
			switch {
			case v == nil:
				line = append(line, "")
			case v.IsText():
				line = append(line, v.Text)
			default:
				line = append(line, strconv.FormatFloat(v.Number, 'g', -1, 64))
			}
		}
		w.Write(append(line, strings.Join(r.Best, " | "), strings.Join(r.Worst, " | ")))
	}
	w.Flush()
	return w.Error()
}
