// Command consumer runs a scenario and tells what happened, as the page for authors of other programs shows.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

func main() {
	if err := sink(context.Background(), os.Stdout, "tub.yaml"); err != nil {
		var faults scenarios.Faults
		if errors.As(err, &faults) {
			for _, f := range faults {
				fmt.Fprintln(os.Stderr, f)
			}
			os.Exit(2)
		}
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func sink(ctx context.Context, w io.Writer, name string) error {
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}

	scenario, err := scenarios.Read(os.DirFS("."), name, data)
	if err != nil {
		return err
	}
	vessel, err := scenario.Build()
	if err != nil {
		return err
	}
	run, err := flood.Start(vessel, scenario.Run.Settings())
	if err != nil {
		return err
	}
	for step, err := range run.Steps(ctx) {
		if err != nil {
			return err // ctx is done
		}
		for _, e := range step.Events {
			fmt.Fprintln(w, e.Kind, e.Name)
		}
	}
	result := run.Result()

	if f := result.GaveUp; f != nil {
		return fmt.Errorf("gave up after %g s at %s: %s", f.Time, f.Name, f.Cause)
	}
	fmt.Fprintln(w, "she", result.Fate)
	return nil
}
