package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/cmd/byhead/sheet"
	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/scenarios"
	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r2"
)

// templateFlags are what the command line says of templates, as typed.
type templateFlags struct {
	folder, paper, measured, shell, plate string
	asJSON                                bool
}

func (a *app) templatesCommand() *cobra.Command {
	var f templateFlags
	c := &cobra.Command{
		Use:   "templates FILE -o DIR",
		Short: "Bulkheads at true size, for printing and cutting, and a cutting list",
		Long: `Draws every bulkhead at 1:1, from the hull's section at its station less the thickness of the shell, with its top edge,
openings and marks; walls of boxed compartments too. Into DIR go an SVG for each, in mm and of plain paths only, for cutters; one
PDF with all of them for either A4 or Letter, large ones in tiles; and the cutting list.

Print at 100 % and measure the bars on the page. If the printer is off, --measured takes what its 100 mm bars came out as,
across and up, and makes up for it in the PDF.`,
		Example:           "  byhead templates demo:packet -o packet-templates\n  byhead templates model.yaml -o templates --paper letter --measured '99.2 mm,100.4 mm'",
		Args:              oneFile,
		ValidArgsFunction: completeFile,
		RunE:              func(c *cobra.Command, args []string) error { return a.templates(c.Context(), args[0], f) },
	}
	c.Flags().StringVarP(&f.folder, "output", "o", "", "the folder `DIR` to write to; files of the same names there are replaced")
	c.Flags().StringVar(&f.paper, "paper", "a4", "for `a4|letter`; the pages of each fit the other")
	c.Flags().StringVar(&f.measured, "measured", "", "what the 100 mm bars came out as: `W,H`, across and up, such as 99.2,100.4")
	c.Flags().StringVar(&f.shell, "shell", "", "`THICKNESS` of the hull's plates, such as '2 mm' (default: the scenario's)")
	c.Flags().StringVar(&f.plate, "plate", "", "`THICKNESS` of the bulkheads' plates (default: the wall of their openings, else that of the shell)")
	c.Flags().BoolVar(&f.asJSON, "json", false, "print one JSON document")
	return c
}

// templateOptions are the flags understood. A thickness that is not given is NaN.
type templateOptions struct {
	paper        sheet.Paper
	bars         r2.Vec
	shell, plate float64
}

func (f *templateFlags) options() (o templateOptions, err error) {
	if f.folder == "" {
		return o, usage("templates needs a folder to write to, such as -o templates")
	}
	if o.paper, err = paperNamed(f.paper); err != nil {
		return o, err
	}
	if o.bars, err = parseBars(f.measured); err != nil {
		return o, err
	}
	if o.shell, err = parseThickness("--shell", f.shell); err != nil {
		return o, err
	}
	o.plate, err = parseThickness("--plate", f.plate)
	return o, err
}

// paperNamed is the paper of a name.
func paperNamed(name string) (sheet.Paper, error) {
	for _, p := range [2]sheet.Paper{sheet.A4, sheet.Letter} {
		if strings.ToLower(name) == p.Name {
			return p, nil
		}
	}
	return sheet.Paper{}, usage("--paper %q is not known; a4 or letter", name)
}

// parseBars reads W,H: lengths, in mm where no unit says otherwise. A printer that is off by more than a fifth fits to the page.
func parseBars(text string) (bars r2.Vec, err error) {
	if text == "" {
		return bars, nil
	}
	wide, high, two := strings.Cut(text, ",")
	if !two {
		return bars, usage("--measured %q is one length; two with a comma between, across and up, such as 99.2,100.4", text)
	}
	for _, b := range []struct {
		text string
		into *float64
	}{{wide, &bars.X}, {high, &bars.Y}} {
		q, err := scenarios.ParseQuantity(b.text, scenarios.Length, scenarios.Plain)
		if err != nil {
			return bars, usage("--measured: %s", err)
		}
		*b.into = 1000 * q.Value
		if q.Unit.Name == "" {
			*b.into = q.Value
		}
		if !(*b.into >= 80 && *b.into <= 120) {
			return bars, usage("--measured: a 100 mm bar that comes out as %s was scaled to fit the page; print at 100 %%, then give from 80 to 120 mm", strings.TrimSpace(b.text))
		}
	}
	return bars, nil
}

// parseThickness reads a thickness of plates.
func parseThickness(flag, text string) (float64, error) {
	if text == "" {
		return math.NaN(), nil
	}
	q, err := scenarios.ParseQuantity(text, scenarios.Length)
	switch {
	case err != nil:
		return 0, usage("%s: %s", flag, err)
	case !(q.Value >= 0 && q.Value <= 0.1):
		return 0, usage("%s %s is no thickness of a plate; from 0 to 100 mm", flag, text)
	}
	return q.Value, nil
}

// templates draws everything first, and only then writes.
func (a *app) templates(ctx context.Context, name string, f templateFlags) error {
	options, err := f.options()
	if err != nil {
		return err
	}
	in, err := a.load(ctx, name)
	if err != nil {
		return err
	}
	set, err := in.newTemplates(options)
	if err != nil {
		return err
	}
	if len(set.parts) == 0 {
		return unreadable(name, "the scenario has no bulkhead to draw; one or more under bulkheads")
	}
	a.tellNotes(in)
	files, err := set.files()
	if err != nil {
		return err
	}
	for _, n := range set.notes {
		a.tell("note", n)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := a.replaceAll(f.folder, files); err != nil {
		return err
	}
	var out bytes.Buffer
	if f.asJSON {
		err = scenarios.WriteJSON(&out, set.document(files))
	} else {
		set.writeTable(&out)
		fmt.Fprintf(&out, "\n%d files in %s: %s for paper, one .svg each for cutters, %s.\n", len(files), f.folder, pdfName, listName)
	}
	if err == nil {
		_, err = a.stdout.Write(out.Bytes())
	}
	return err
}

// The names of the files that are written beside the drawings.
const (
	pdfName  = "templates.pdf"
	listName = "cutting-list.txt"
)

// templateSet is all that is drawn of a scenario.
type templateSet struct {
	*input
	options templateOptions
	shell   float64 // thickness that the outlines are inset by, m
	parts   []templatePart
	notes   []string
}

// templatePart is one plate with what is not the vessel's to know: its material.
type templatePart struct {
	*compartment.Plate
	thickness float64 // m, 0: unknown
	mass      float64 // kg, NaN: unknown
}

func (in *input) newTemplates(o templateOptions) (*templateSet, error) {
	t := &templateSet{input: in, options: o, shell: o.shell}
	if math.IsNaN(t.shell) {
		if t.shell = in.vessel.ShellThickness(); t.shell == 0 {
			t.notes = append(t.notes, "the thickness of the hull's plates is not known: the outlines are those of its outside; --shell says it")
		}
	}
	plates, err := in.vessel.Plates(t.shell)
	if err != nil {
		return nil, err
	}
	for _, p := range plates {
		part := templatePart{Plate: p, thickness: o.plate, mass: math.NaN()}
		if math.IsNaN(part.thickness) {
			if part.thickness = p.Thickness; part.thickness == 0 {
				part.thickness = t.shell
			}
		}
		if density := in.Spec.Hull.Shell.Density; density != nil && part.thickness > 0 {
			part.mass = part.cutArea() * part.thickness * *density
		}
		t.parts = append(t.parts, part)
		for _, n := range p.Notes {
			t.notes = append(t.notes, p.Name+": "+n)
		}
	}
	return t, nil
}

// cutArea is the area of a part less its openings, m².
func (p *templatePart) cutArea() (area float64) {
	for _, loop := range p.Cut {
		for i, a := range loop {
			area += r2.Cross(r2.Sub(a, loop[0]), r2.Sub(loop[(i+1)%len(loop)], loop[0])) / 2
		}
	}
	return area
}

// size is the breadth and the height of a part, m.
func (p *templatePart) size() r2.Vec {
	if len(p.Cut) == 0 {
		return r2.Vec{}
	}
	lo, hi := p.Cut[0][0], p.Cut[0][0]
	for _, loop := range p.Cut {
		for _, q := range loop {
			lo = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}
			hi = r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
		}
	}
	return r2.Sub(hi, lo)
}

// files are all that is to be written, whole.
func (t *templateSet) files() (files []asset, err error) {
	var drawings []sheet.Drawing
	lines := t.waterlines()
	for i := range t.parts {
		if p := &t.parts[i]; len(p.Cut) > 0 {
			d := t.drawing(p, lines)
			drawings = append(drawings, d)
			t.footed(&d)
			files = append(files, asset{fmt.Sprintf("%02d-%s.svg", i+1, p.Name), d.SVG()})
		}
	}
	doc := sheet.Document{
		Paper: t.options.paper, Title: t.title(), Bars: t.options.bars,
		Foot:   fmt.Sprintf("input digest %s, byhead %s", t.Digest, scenarios.Version),
		Opened: sheet.Opening{Title: "Cutting list", Lines: t.list()},
	}
	pdf, skipped, err := doc.PDF(drawings)
	if err != nil {
		return nil, err
	}
	for _, s := range skipped {
		t.notes = append(t.notes, s+": too large for paper, in its SVG only")
	}
	return append(files, asset{pdfName, pdf}, asset{listName, []byte(strings.Join(t.list(), "\n") + "\n")}), nil
}

// title is the scenario's, or what stands for it.
func (t *templateSet) title() string {
	if t.Title == "" {
		return "a scenario without a title"
	}
	return t.Title
}
