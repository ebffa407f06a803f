package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
	"github.com/spf13/cobra"
)

// model reads and builds what FILE names, for a study.
func (a *app) model(ctx context.Context, name string) (*study.Model, error) {
	s, err := a.read(ctx, name)
	if err != nil {
		return nil, err
	}
	m, err := study.NewModel(s)
	if err != nil {
		return nil, err
	}
	a.tellNotes(&input{s, m.Vessel})
	return m, ctx.Err()
}

// workersFlag gives a command --workers.
func workersFlag(c *cobra.Command, n *int) {
	c.Flags().IntVar(n, "workers", 0, "runs at a time (default: one for each processor; the results are the same)")
	pre := c.PreRunE
	c.PreRunE = func(c *cobra.Command, args []string) error {
		if c.Flags().Changed("workers") && (*n < 1 || *n > 4096) {
			return usage("--workers %d is out of range; from 1 to 4096", *n)
		}
		if pre != nil {
			return pre(c, args)
		}
		return nil
	}
}

// someFiles is the arguments of a command that takes one FILE or more.
func someFiles(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return nil
	}
	return usage("%s takes one FILE or more; FILE is a path, - for standard input, or demo:NAME", c.Name())
}

// parseRange reads two values of a path; the first may leave out the unit that the second has.
func parseRange(s *scenarios.Scenario, path, first, last string) (low, high scenarios.Quantity, err error) {
	if high, err = s.ParseValue(path, last); err != nil {
		return low, high, err
	}
	if low, err = s.ParseValue(path, first); err != nil && high.Unit.Name != "" && isBare(first) {
		low, err = s.ParseValue(path, first+" "+high.Unit.Name)
	}
	return low, high, err
}

// isBare tells a number without a unit.
func isBare(text string) bool {
	_, err := scenarios.ParseQuantity(text, scenarios.Plain)
	return err == nil
}

// valueFault turns the builder's faults in a value of the command line into a wrong command line.
func valueFault(flag string, err error) error {
	var faults compartment.Faults
	if !errors.As(err, &faults) {
		return err
	}
	var texts []string
	for _, f := range faults {
		text := fmt.Sprintf("%s: %s", f.Path, f.What)
		if f.Want != "" {
			text += "; " + f.Want
		}
		texts = append(texts, text)
	}
	return usage("%s: %s", flag, strings.Join(texts, "; "))
}
