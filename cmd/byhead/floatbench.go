package main

import (
	"bytes"
	"context"
	"fmt"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"github.com/byhead/byhead/scenarios"
)

// parseLaid reads the values of --lay.
func parseLaid(texts []string) (laid []scenarios.Laid, err error) {
	for _, text := range texts {
		l, err := scenarios.ParseLaid(text)
		if err != nil {
			return nil, usage("--lay: %s", err)
		}
		laid = append(laid, l)
	}
	return laid, nil
}

// layOn is the vessel with what is laid on it.
func layOn(v *compartment.Vessel, laid []scenarios.Laid) (*compartment.Vessel, error) {
	for _, l := range laid {
		var err error
		if v, err = v.Laid(l.Mass, l.At); err != nil {
			return nil, usage("--lay: %s", oneLine(err.Error()))
		}
	}
	return v, nil
}

// benchRows are what can be tried at the sink: how it floats in either water, and what it holds up to its waterline.
func benchRows(w scenarios.Words, t *compartment.Floating) (rows [][]string) {
	for _, o := range t.Waters {
		kind := map[compartment.WaterKind]string{compartment.Fresh: "in fresh water", compartment.Sea: "in sea water"}[o.Kind]
		if !o.Floats {
			rows = append(rows, []string{kind, "does not float"})
			continue
		}
		rows = append(rows, []string{kind, fmt.Sprintf("%s fore, %s aft", w.Length(o.DraftFore), w.Length(o.DraftAft))})
	}
	if !t.Floats {
		return rows
	}
	rows = append(rows, []string{"hull below the waterline", w.Volume(t.Holds)})
	for _, s := range t.SpacesHold {
		rows = append(rows, []string{"filled to that line, " + s.Name, "holds " + w.Volume(s.Volume)})
	}
	return rows
}

// writeCurve prints the righting arms, a line for every step of heel.
func writeCurve(out *bytes.Buffer, w scenarios.Words, t *compartment.Floating) {
	if t.Arms == nil {
		return
	}
	rows := newTable("heel", "righting arm")
	for k, heel := range t.Arms.Heel {
		rows.add(w.Heel(heel), w.Length(t.Arms.Arm[k]))
	}
	rows.write(out)
}

// writeLaid says what a trial changes.
func (in *input) writeLaid(out *bytes.Buffer, tests []compartment.Floating, bare *compartment.Vessel, laid []scenarios.Laid) {
	if len(laid) == 0 {
		return
	}
	w := in.Words()
	fmt.Fprintln(out, "\nAll this with, for a trial")
	for _, l := range laid {
		fmt.Fprintf(out, "  %s\n", w.Laid(l))
	}
	before := bare.FloatTest()
	rows := newTable("", "draft fore", "draft aft")
	for i := range tests {
		rows.add(conditionWords(tests[i].Name), change(w, before[i].DraftFore, tests[i].DraftFore), change(w, before[i].DraftAft, tests[i].DraftAft))
	}
	rows.write(out)
}

func change(w scenarios.Words, before, after float64) string {
	return fmt.Sprintf("%s (without it %s)", w.Length(after), w.Length(before))
}

// measure reads the readings of a float test and finds what they say; nil without a file.
func (a *app) measure(ctx context.Context, in *input, name string) (*plan.Measured, error) {
	if name == "" {
		return nil, nil
	}
	data, err := a.logOf(ctx, name)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, unreadable(name, fmt.Sprintf("the log cannot be read (%s); a CSV file with readings", plain(err)))
	}
	rows, err := in.ReadLog(name, data)
	if err != nil {
		return nil, err
	}
	readings, err := in.Readings(name, rows)
	if err != nil {
		return nil, err
	}
	a.tellPassedOver(len(rows)-len(readings), "with a time, of a flood test")
	return plan.Measure(ctx, in.vessel, readings)
}

// tellPassedOver says how many rows of a log were of the other test.
func (a *app) tellPassedOver(count int, which string) {
	if count > 0 {
		a.tell("note", fmt.Sprintf("%d rows of the log %s, passed over", count, which))
	}
}

// logOf is the text of a log; - is standard input.
func (a *app) logOf(ctx context.Context, name string) ([]byte, error) {
	if name == "-" {
		return readAll(ctx, a.stdin, mostLogBytes)
	}
	return readSome(a.path(name), mostLogBytes)
}

// mostLogBytes is how much of a log is read: one more than the format allows, so that its reader tells of too long a file.
const mostLogBytes = 64<<20 + 1

// writeMeasured says what the readings show, beside the list.
func (in *input) writeMeasured(out *bytes.Buffer, m *plan.Measured) {
	if m == nil {
		return
	}
	fmt.Fprintln(out, "\nAs measured")
	table, lines := in.Words().Measured(m)
	rows := newTable("", "measured", "19 times of 20 within", "listed")
	for _, row := range table {
		rows.add(row...)
	}
	rows.write(out)
	for _, line := range lines {
		fmt.Fprintf(out, "  %s\n", line)
	}
}
