package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
	"github.com/spf13/cobra"
)

// sizeFlags are what the command line says of a size.
type sizeFlags struct {
	value, between, want string
	workers              int
	json                 bool
}

func (a *app) sizeCommand() *cobra.Command {
	var f sizeFlags
	c := &cobra.Command{
		Use:   "size FILE --value PATH --between A B --want 'RESULT = VALUE'",
		Short: "The value that gives a wanted outcome",
		Long: `Finds the value, between A and B, that gives a wanted result: a number, such as 'hull.foundered_s = 75 s', or the border of
where a run has a fate, 'fate = founders'. Results are named as in the document of sink --json. It is told when there is
none, when there are several, and when the result jumps over what is wanted.`,
		Example:           "  byhead size demo:packet --value openings.cut-1.slot.width --between '1 mm' '3 mm' --want 'hull.foundered_s = 160 s'\n  byhead size demo:packet --value bulkheads.B4.top --between '60 mm' '90 mm' --want 'fate = floats'",
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			for name, text := range map[string]string{"value": f.value, "between": f.between, "want": f.want} {
				if text == "" {
					return usage("size needs --%s; see byhead size --help", name)
				}
			}
			return a.size(c.Context(), args[0], f)
		},
	}
	c.Flags().StringVar(&f.value, "value", "", "the `PATH` of the value that is sought, such as bulkheads.B4.top")
	c.Flags().StringVar(&f.between, "between", "", "the range: two values, `A B`")
	c.Flags().StringVar(&f.want, "want", "", "the wanted result, `'RESULT = VALUE'`")
	c.Flags().BoolVar(&f.json, "json", false, "print one JSON document")
	workersFlag(c, &f.workers)
	a.completeFlag(c, "value", valuePaths)
	a.completeFlag(c, "want", resultNames)
	return c
}

// twoValues joins the two values of --between into one, which is all that a flag can have.
func twoValues(args []string) []string {
	if len(args) == 0 || args[0] != "size" {
		return args
	}
	out := slices.Clone(args)
	for i := 1; i < len(out); i++ {
		first, joined := strings.CutPrefix(out[i], "--between=")
		next := i + 1
		switch {
		case out[i] == "--between" && i+1 < len(out):
			first, next = out[i+1], i+2
		case !joined:
			continue
		}
		if !strings.Contains(first, "..") && next < len(out) && !strings.HasPrefix(out[next], "--") {
			return slices.Concat(out[:i], []string{"--between=" + first + ".." + out[next]}, out[next+1:])
		}
	}
	return out
}

func (a *app) size(ctx context.Context, name string, f sizeFlags) error {
	m, err := a.model(ctx, name)
	if err != nil {
		return err
	}
	first, last, two := strings.Cut(f.between, "..")
	if !two {
		return usage("--between %s is one value; two, such as --between '1 mm' '3 mm'", f.between)
	}
	low, high, err := parseRange(m.Scenario, f.value, first, last)
	if err != nil {
		return usage("--between: %s", oneLine(err.Error()))
	}
	want, err := parseWant(m, f.want)
	if err != nil {
		return usage("--want: %s", oneLine(err.Error()))
	}
	if low.Value == high.Value {
		return usage("--between has no length; two different values")
	}
	meter := a.newCountMeter()
	found, err := study.Size(ctx, m, f.value, low.Value, high.Value, want, study.Options{Workers: f.workers, Progress: meter.count})
	meter.erase()
	if err != nil {
		return valueFault("--between", err)
	}
	for _, line := range sizeWarnings(found) {
		a.tell("warning", line)
	}
	var out bytes.Buffer
	if f.json {
		err = scenarios.WriteJSON(&out, study.NewSizeDocument(m.Scenario, found, low.Unit))
	} else {
		writeSize(&out, m, found, low.Unit)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// parseWant reads RESULT = VALUE.
func parseWant(m *study.Model, text string) (want study.Want, err error) {
	result, value, ok := strings.Cut(text, "=")
	result, value = strings.TrimSpace(result), strings.TrimSpace(value)
	if !ok || result == "" || value == "" {
		return want, fmt.Errorf("%q is not a wish; RESULT = VALUE, such as 'hull.foundered_s = 75 s' or 'fate = founders'", text)
	}
	if err := study.CheckResult(m.Vessel, result); err != nil {
		return want, err
	}
	want = study.Want{Result: result, Number: math.NaN()}
	last := result[strings.LastIndexByte(result, '.')+1:]
	kind := study.ResultKind(result)
	switch {
	case last == "fate":
		var known []string
		for _, fate := range study.Fates {
			known = append(known, string(fate))
		}
		if !slices.Contains(known, value) {
			return want, fmt.Errorf("%q is not a fate; one of %s", value, strings.Join(known, ", "))
		}
		want.Text = value
	case last == "past_vertical":
		if value != "true" && value != "false" {
			return want, fmt.Errorf("%q is neither true nor false; one of them", value)
		}
		want.Text = value
	case kind == scenarios.Plain:
		want.Text = value // ended, tends, a joint's name, a cause
	default:
		q, err := scenarios.ParseQuantity(value, kind, scenarios.Plain)
		if err != nil {
			return want, err
		}
		if want.Number = q.Value; kind == scenarios.Angle && q.Unit.Name != "" {
			want.Number = q.Value * (180 / math.Pi)
		}
	}
	return want, nil
}

// sizeWarnings say what stands in the way of trusting the answer.
func sizeWarnings(z *study.Sizing) (lines []string) {
	gaveUp, unbuilt := 0, 0
	var why error
	for _, l := range z.Looked {
		if l.GaveUp {
			gaveUp++
		}
		if l.Unbuilt != nil {
			unbuilt++
			why = l.Unbuilt
		}
	}
	if gaveUp > 0 {
		lines = append(lines, fmt.Sprintf("%d of %d runs gave up and say nothing", gaveUp, len(z.Looked)))
	}
	if unbuilt > 0 {
		lines = append(lines, fmt.Sprintf("with %d of %d values there is no vessel: %s", unbuilt, len(z.Looked), oneLine(why.Error())))
	}
	if len(z.Crossings) > 1 {
		lines = append(lines, fmt.Sprintf("there are %d answers; the first is given, all are listed", len(z.Crossings)))
	}
	return lines
}

// writeSize tells the answer, or that there is none and why.
func writeSize(out *bytes.Buffer, m *study.Model, z *study.Sizing, u scenarios.Unit) {
	w, s := m.Scenario.Words(), m.Scenario
	wanted := z.Want.Result + " = " + z.Want.Text
	if z.Want.Text == "" {
		wanted = z.Want.Result + " = " + resultNumber(w, z.Want.Result, z.Want.Number)
	}
	show := func(x float64) string { return inUnit(x, u) }
	from, to := z.Looked[0].Value, z.Looked[len(z.Looked)-1].Value
	if !z.Found {
		fmt.Fprintf(out, "%s: %s from %s to %s.\n", wanted, map[bool]string{true: "so it is throughout, without a border,", false: "there is no such " + z.Path}[z.Always], show(from), show(to))
	}
	for i := range z.Crossings {
		c := &z.Crossings[i]
		if z.Want.Text != "" {
			fmt.Fprintf(out, "%s at %s: below it %s is %s, above it %s.\n", z.Path, show(c.Value), z.Want.Result, c.Before.Text, c.Beyond.Text)
		} else {
			fmt.Fprintf(out, "%s = %s gives %s.\n", z.Path, show(c.Value), wanted)
			fmt.Fprintf(out, "  %s more changes it by %s.\n", spanIn(u, sizeStep(c.Value, u)), signed(w, z.Want.Result, c.Slope*sizeStep(c.Value, u)))
		}
	}
	for i := range z.Jumps {
		j := &z.Jumps[i]
		if z.Found && (j.Before.Path == "" || j.Beyond.Path == "") {
			continue // where it begins to be there, away from what is wanted
		}
		fmt.Fprintf(out, "At %s the result goes at once from %s to %s.\n", show(j.Value), orNone(w, z.Want.Result, &j.Before), orNone(w, z.Want.Result, &j.Beyond))
	}
	if now, err := m.Value(z.Path); err == nil && len(z.Crossings) > 0 {
		nearest := slices.MinFunc(z.Crossings, func(a, b study.Crossing) int {
			return int(math.Copysign(1, math.Abs(a.Value-now)-math.Abs(b.Value-now)))
		})
		fmt.Fprintf(out, "The scenario has %s, which is %s off.\n", s.WriteValue(z.Path, now, 6), spanIn(u, math.Abs(nearest.Value-now)))
	}
	writeLooks(out, w, z, u)
}

// sizeStep is some hundredths of a value: a power of ten of its unit.
func sizeStep(x float64, u scenarios.Unit) float64 {
	step := math.Abs(x) / 20 / study.PerUnit(u)
	if !(step > 0) {
		step = 1
	}
	return math.Pow(10, math.Floor(math.Log10(step))) * study.PerUnit(u)
}

// inUnit writes a value in a unit; spanIn a difference.
func inUnit(x float64, u scenarios.Unit) string {
	return strings.TrimSpace(fmt.Sprintf("%.6g %s", u.FromSI(x), u.Name))
}

func spanIn(u scenarios.Unit, x float64) string {
	return strings.TrimSpace(fmt.Sprintf("%.4g %s", x/study.PerUnit(u), u.Name))
}

func signed(w scenarios.Words, path string, x float64) string {
	text := resultNumber(w, path, math.Abs(x))
	if x < 0 {
		return "-" + text
	}
	return "+" + text
}

func orNone(w scenarios.Words, path string, r *study.Result) string {
	if r.Path == "" {
		return "none"
	}
	return resultText(w, path, r)
}

// writeLooks lists the runs over the range, so that everybody can see what the result does there: some twenty of them.
func writeLooks(out *bytes.Buffer, w scenarios.Words, z *study.Sizing, u scenarios.Unit) {
	fmt.Fprintf(out, "\nOver the range (%d runs)\n", len(z.Looked))
	t := newTable(z.Path, z.Want.Result)
	least := (z.Looked[len(z.Looked)-1].Value - z.Looked[0].Value) / 20
	last := math.Inf(-1)
	for i := range z.Looked {
		l := &z.Looked[i]
		if l.Value-last < least && i < len(z.Looked)-1 {
			continue
		}
		last = l.Value
		text := orNone(w, z.Want.Result, &l.Result)
		switch {
		case l.Unbuilt != nil:
			text = "no vessel"
		case l.GaveUp:
			text = "gave up"
		}
		t.add(inUnit(l.Value, u), text)
	}
	t.write(out)
}
