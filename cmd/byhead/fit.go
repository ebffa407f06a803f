package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
	"github.com/spf13/cobra"
)

// fitFlags are what the command line says of a fit.
type fitFlags struct {
	values  []string
	workers int
	json    bool
}

func (a *app) fitCommand() *cobra.Command {
	var f fitFlags
	c := &cobra.Command{
		Use:   "fit FILE LOG.csv",
		Short: "Opening coefficients from a timed flood test",
		Long: `Takes the discharge coefficients of the openings, or the values that --value names, from the readings of a flood test: depths
of marks, of the water in compartments, angles, times of events. Tells each with the range that holds 19 times of 20, the
residuals, what the log does not show, and the lines to paste into the file.`,
		Example: "  byhead fit model.yaml take-1.csv\n  byhead fit model.yaml take-1.csv --value openings.cut-1.slot.width",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 2 {
				return nil
			}
			return usage("fit takes a FILE and a LOG.csv and was given %d; byhead fit model.yaml log.csv", len(args))
		},
		ValidArgsFunction: completeFile,
		RunE:              func(c *cobra.Command, args []string) error { return a.fit(c.Context(), args[0], args[1], f) },
	}
	c.Flags().StringArrayVar(&f.values, "value", nil, "a `PATH` to fit; may be given several times (default: the cd of every opening)")
	c.Flags().BoolVar(&f.json, "json", false, "print one JSON document")
	workersFlag(c, &f.workers)
	a.completeFlag(c, "value", valuePaths)
	return c
}

func (a *app) fit(ctx context.Context, name, logName string, f fitFlags) error {
	m, err := a.model(ctx, name)
	if err != nil {
		return err
	}
	readings, err := a.readings(m, logName)
	if err != nil {
		return err
	}
	paths := f.values
	if len(paths) == 0 {
		paths = study.FitPaths(m)
	}
	if len(paths) == 0 {
		return usage("%s has no opening to fit; --value PATH names another value", name)
	}
	for i, path := range paths {
		if slices.Contains(paths[:i], path) {
			return usage("--value gives %s twice; once", path)
		}
	}
	meter := a.newCountMeter()
	found, err := study.Fit(ctx, m, readings, paths, study.Options{Workers: f.workers, Progress: meter.count})
	meter.erase()
	if errors.Is(err, study.ErrNoFit) {
		return fmt.Errorf("%w; look for a slip in the log, or in the scenario", err)
	}
	if err != nil {
		return valueFault("--value", err)
	}
	for _, line := range fitWarnings(found) {
		a.tell("warning", line)
	}
	var out bytes.Buffer
	if f.json {
		err = scenarios.WriteJSON(&out, study.NewFitDocument(m.Scenario, found))
	} else {
		writeFit(&out, m.Scenario, found)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// readings reads the log of a flood test.
func (a *app) readings(m *study.Model, name string) ([]study.Reading, error) {
	data, err := readSome(a.path(name), mostLogBytes)
	if err != nil {
		return nil, unreadable(name, fmt.Sprintf("the log cannot be read (%s); a CSV file with readings", plain(err)))
	}
	rows, err := m.Scenario.ReadLog(name, data)
	if err != nil {
		return nil, err
	}
	readings, err := study.Readings(m, name, rows)
	if err == nil {
		a.tellPassedOver(len(rows)-len(readings), "without a time, of a float test")
	}
	return readings, err
}

// fitWarnings say what stands in the way of trusting the fit.
func fitWarnings(f *study.Fitted) (lines []string) {
	for _, v := range f.NotIdentified {
		text := "the readings hardly depend on it"
		if len(v.Like) > 0 {
			text = "the log cannot tell it apart from " + strings.Join(v.Like, ", ")
		}
		lines = append(lines, v.Path+": "+text)
	}
	for i := range f.Residuals {
		if r := &f.Residuals[i]; !r.Seen {
			lines = append(lines, fmt.Sprintf("the fitted run does not have what was read at %g s (%s %s)", *r.Time, r.Kind, r.Name))
		}
	}
	if f.Known && f.Spare > 2 && f.RMS > 2 {
		lines = append(lines, fmt.Sprintf("the fit is off by %.1f times what the log gives as sigma: something in the scenario is otherwise than in the tank", f.RMS))
	}
	if f.Spare == 0 {
		lines = append(lines, "there are no more readings than values: the fit cannot be checked")
	}
	return lines
}

// mostResiduals is how many lines of residuals are shown; of more the worst.
const mostResiduals = 40

func writeFit(out *bytes.Buffer, s *scenarios.Scenario, f *study.Fitted) {
	if s.Title != "" {
		fmt.Fprintln(out, s.Title)
	}
	if len(f.Values) == 0 {
		fmt.Fprintln(out, "\nThe log shows none of the values that were sought.")
	} else {
		fmt.Fprintln(out, "\nFitted")
		t := newTable("", "value", "19 times of 20 within", "scenario")
		for _, v := range f.Values {
			write := func(x float64) string { return s.WriteValue(v.Path, x, 4) }
			listed := write(v.Listed)
			if !v.Given {
				listed += " (by default)"
			}
			t.add(v.Path, write(v.Value), write(v.Low95)+" to "+write(v.High95), listed)
		}
		t.write(out)
	}
	fmt.Fprintf(out, "\nResiduals, %.2f sigmas in the mean square (%d readings more than values)\n", f.RMS, f.Spare)
	writeResiduals(out, s.Words(), f)
	if len(f.Values) > 0 {
		under := ""
		if len(s.Variants) > 0 {
			under = ", under variants"
		}
		fmt.Fprintf(out, "\nFor the file%s:\n%s", under, study.FitLines(s, f))
	}
}

func writeResiduals(out *bytes.Buffer, w scenarios.Words, f *study.Fitted) {
	rows := slices.Clone(f.Residuals)
	if len(rows) > mostResiduals {
		slices.SortStableFunc(rows, func(a, b study.Residual) int { return cmp.Compare(math.Abs(b.Off()), math.Abs(a.Off())) })
		rows = rows[:mostResiduals]
		fmt.Fprintf(out, "  (the %d largest)\n", mostResiduals)
	}
	t := newTable("time", "", "read", "fitted", "sigmas off")
	for i := range rows {
		r := &rows[i]
		write := w.Length
		switch r.Kind {
		case scenarios.LogEvent:
			write = w.Time
		case scenarios.LogHeel, scenarios.LogTrim:
			write = w.Angle
		}
		fitted, off := write(r.Fitted), fmt.Sprintf("%+.1f", r.Off())
		if !r.Seen {
			fitted, off = "–", "–"
		}
		t.add(w.Time(*r.Time), strings.TrimSpace(string(r.Kind)+" "+r.Name), write(r.Read), fitted, off)
	}
	t.write(out)
}
