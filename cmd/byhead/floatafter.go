package main

import (
	"bytes"
	"context"
	"errors"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// floatAfter is the float test at a stage of a run: it runs up to there, and floats what there is then.
func (a *app) floatAfter(ctx context.Context, name string, flags floatFlags) error {
	switch {
	case flags.measured != "":
		return usage("--after and --measured do not go together: what is measured is the hull as it is at the start; one of them")
	case len(flags.laid) > 0:
		return usage("--after and --lay do not go together: what is laid on would change the run; put it into the scenario's weights")
	}
	after, err := scenarios.ParseQuantity(flags.after, scenarios.Time)
	if err != nil {
		return usage("--after: %s", err)
	}
	time := after.Value
	if !(time >= 0) {
		return usage("--after %s lies before the start; a time of 0 s or more", flags.after)
	}
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	if w := in.Words(); time > in.Run.Until {
		return usage("--after %s lies past the end of the run, until: %s; a time up to then, or a longer until", w.Time(time), w.Time(in.Run.Until))
	}
	a.tellNotes(in)
	run, err := a.runTo(ctx, in, time)
	if err != nil {
		return err
	}
	tests := run.FloatTest()
	if err := ctx.Err(); err != nil {
		return err
	}
	var out bytes.Buffer
	if flags.asJSON {
		d := in.floatDocument(tests, nil, nil)
		d.At(in.vessel, time, tests)
		err = scenarios.WriteJSON(&out, d)
	} else {
		in.writeFloat(&out, tests, flags.curve, in.stageWords(run, time))
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// runTo runs a scenario up to a time that must not lie past its end.
func (a *app) runTo(ctx context.Context, in *input, time float64) (*flood.Run, error) {
	settings := in.Run.Settings()
	settings.NoCurve = true
	if time > 0 {
		settings.Until = time
	}
	run, err := flood.Start(in.vessel, settings)
	if err != nil || time == 0 {
		return run, err
	}
	if err := a.stepOn(ctx, run, time); err != nil {
		return nil, err
	}
	w := in.Words()
	switch r := run.Result(); {
	case r.GaveUp != nil:
		return nil, errors.New(w.Failure(r.GaveUp))
	case r.Duration < time:
		return nil, usage("--after %s lies past the end of the run, which %s; a time up to then", w.Time(time), w.Ended(r))
	}
	return run, nil
}

// stageWords names the conditions of a stage: what is a body then, and what is one only if it were cut there.
func (in *input) stageWords(run *flood.Run, time float64) func(string) string {
	at := " at " + in.Words().Time(time)
	bodies := map[string]bool{}
	for _, s := range run.Result().Sections {
		bodies[s.Name] = true
	}
	return func(name string) string {
		switch {
		case name == "hull":
			return "the hull" + at
		case bodies[name]:
			return "section " + name + at
		}
		return "section " + name + " alone, if it were cut off" + at
	}
}
