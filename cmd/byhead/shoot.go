package main

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/byhead/byhead/cmd/byhead/sheet"
	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/shoot"
	"github.com/spf13/cobra"
)

// shootFlags are what the command line says of a day of filming, as typed.
type shootFlags struct {
	outputs      []string
	paper        string
	base, camera float64 // 0: not given
	csv, asJSON  bool
}

func (a *app) shootCommand() *cobra.Command {
	var f shootFlags
	c := &cobra.Command{
		Use:   "shoot FILE",
		Short: "One sheet for the poolside: events, camera, depth, lines, resets, log, cautions",
		Long: `Runs the scenario and writes one sheet for the day of filming: the order of events at model and full size and on the
screen, with boxes to tick and room for what really happened; the camera's speed for the scale; depth of water and clear room; lines
and the pull that brings every flooded section up; what to put back between takes; what to log; cautions.

-o writes it as a page to print, FILE.html or FILE.pdf. --csv writes the log to fill in, which fit and float --measured read.`,
		Example: `  byhead shoot demo:packet
  byhead shoot packet.yaml --base 25 --camera 240 -o packet-sheet.pdf
  byhead shoot packet.yaml --csv > take-1.csv`,
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := f.check(c); err != nil {
				return err
			}
			return a.shoot(c.Context(), args[0], f)
		},
	}
	c.Flags().StringArrayVarP(&f.outputs, "output", "o", nil, "write the sheet to print to `FILE`.html or FILE.pdf; may be given several times")
	c.Flags().StringVar(&f.paper, "paper", "a4", "for `a4|letter`")
	c.Flags().Float64Var(&f.base, "base", 0, "frames a second that the film is shown at (default 24)")
	c.Flags().Float64Var(&f.camera, "camera", 0, "frames a second of the camera (default: the common rate that is nearest to what the scale asks for)")
	c.Flags().BoolVar(&f.csv, "csv", false, "print the log to fill in")
	c.Flags().BoolVar(&f.asJSON, "json", false, "print one JSON document")
	return c
}

// fastest is past what any camera does, frames a second.
const fastest = 1e6

func (f *shootFlags) check(c *cobra.Command) error {
	for _, flag := range []struct {
		name string
		rate float64
	}{{"base", f.base}, {"camera", f.camera}} {
		if c.Flags().Changed(flag.name) && !(flag.rate >= 1 && flag.rate <= fastest) {
			return usage("--%s %g is no frame rate; frames a second, from 1 to a million", flag.name, flag.rate)
		}
	}
	if f.csv && f.asJSON {
		return usage("--csv and --json both write to standard output; one of them")
	}
	for _, name := range f.outputs {
		if kind := strings.ToLower(filepath.Ext(name)); kind != ".html" && kind != ".pdf" {
			return usage("-o %s is no page; a name that ends in .html or .pdf", name)
		}
	}
	_, err := paperNamed(f.paper)
	return err
}

// shoot makes everything first, and only then writes.
func (a *app) shoot(ctx context.Context, name string, f shootFlags) error {
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	a.tellNotes(in)
	plan, err := a.plan(ctx, in, f)
	if err != nil {
		return err
	}
	for _, w := range plan.Result.Warnings {
		a.tell("warning", in.Words().Warning(w))
	}
	page := plan.Page()
	if err := a.printSheet(page, f); err != nil {
		return err
	}
	var out bytes.Buffer
	switch {
	case f.csv:
		out.Write(plan.Log())
	case f.asJSON:
		err = scenarios.WriteJSON(&out, plan.Document())
	case len(f.outputs) > 0:
		fmt.Fprintf(&out, "The sheet is in %s.\n", strings.Join(f.outputs, " and "))
	default:
		writeSheet(&out, page)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// plan runs the scenario, and shows how far it has come.
func (a *app) plan(ctx context.Context, in *input, f shootFlags) (*shoot.Plan, error) {
	m := a.newMeter(in.Run.Settings().Until)
	defer m.erase()
	return shoot.New(ctx, in.Scenario, in.vessel, shoot.Options{Base: f.base, Rate: f.camera, Progress: m.at})
}

// printSheet writes the pages to print: all of them, or none.
func (a *app) printSheet(page *shoot.Page, f shootFlags) (err error) {
	paper, err := paperNamed(f.paper)
	if err != nil {
		return err
	}
	var parts []*pending
	defer func() {
		if err != nil {
			for _, p := range parts {
				p.Discard()
			}
		}
	}()
	for _, name := range f.outputs {
		data, err := sheetPage(page, paper, strings.ToLower(filepath.Ext(name)))
		if err != nil {
			return err
		}
		p, err := begin(a.path(name))
		if err != nil {
			return fmt.Errorf("%s cannot be written: %s", name, plain(err))
		}
		parts = append(parts, p)
		if _, err := p.Write(data); err != nil {
			return fmt.Errorf("%s cannot be written: %s", name, plain(err))
		}
	}
	for i, p := range parts {
		if err := p.Commit(); err != nil {
			return fmt.Errorf("%s cannot be written: %s", f.outputs[i], plain(err))
		}
	}
	return nil
}

// sheetPage is the sheet as a file of a kind. Both kinds have letters of the same size.
func sheetPage(page *shoot.Page, paper sheet.Paper, kind string) ([]byte, error) {
	form := sheet.Form{Paper: paper, Title: page.Title, Lines: page.Lines, Foot: page.Foot}
	for i := range page.Blocks {
		b := &page.Blocks[i]
		form.Parts = append(form.Parts, sheet.FormPart{Title: b.Title, Head: b.Head, Rows: b.Rows, Shares: b.Shares, Box: b.Box, Blank: b.Blank,
			Lines: b.Written(), Ticked: b.Ticked, Framed: b.Caution, Large: b.Large, Beside: b.Beside})
	}
	data, _, letters, err := form.PDF()
	if err == nil && kind == ".html" {
		data, err = htmlSheet(page, paper, letters)
	}
	return data, err
}

// writeSheet is the sheet as text.
func writeSheet(out *bytes.Buffer, page *shoot.Page) {
	fmt.Fprintln(out, page.Title)
	for _, line := range page.Lines {
		fmt.Fprintln(out, line)
	}
	for i := range page.Blocks {
		b := &page.Blocks[i]
		fmt.Fprintf(out, "\n%s\n", b.Title)
		rows := newTable(b.Head...)
		for _, row := range b.Rows {
			rows.add(tickable(row, b.Box, b.Blank)...)
		}
		rows.write(out)
		for _, line := range b.Written() {
			if b.Ticked {
				line = "[ ] " + line
			}
			for _, part := range wrapped("  "+line, textColumns) {
				fmt.Fprintln(out, part)
			}
		}
	}
	fmt.Fprintf(out, "\n%s\n", page.Foot)
}

// textColumns is how wide lines of the sheet as text become at most.
const textColumns = 120

// tickable is a row with something to tick and to write on.
func tickable(row []string, box, blank int) []string {
	cells := append([]string(nil), row...)
	if box >= 0 {
		cells[box] = "[ ]"
	}
	if blank >= 0 {
		cells[blank] = "________"
	}
	return cells
}
