package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/cmd/byhead/sheet"
	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/scenarios"
)

// cuttingCautions are what stands under every cutting list.
const cuttingCautions = `Cutting
  Without heat: score thin plastic along a steel rule in several light passes and snap it, or saw it with a fine blade; file to the line. A hot knife or wire gives off fumes that nobody should breathe, and is not needed here.
  Blades slip: clamp the sheet, keep the free hand behind the edge, wear eye protection. Dust: file wet, or wear a mask.
  A cutter with heat or a laser: only for sheet that its maker allows (never PVC), with extraction, never left alone.
`

// list is the cutting list, in lines that fit the page.
func (t *templateSet) list() []string {
	var out bytes.Buffer
	fmt.Fprintf(&out, "%s\ninput digest %s, byhead %s\n\n", t.title(), t.Digest, scenarios.Version)
	t.writeTable(&out)
	t.writeOpeningList(&out)
	if len(t.notes) > 0 {
		fmt.Fprintln(&out, "\nNotes")
		for _, n := range t.notes {
			fmt.Fprintln(&out, "  "+n)
		}
	}
	fmt.Fprintf(&out, "\n%s", t.outlineWords())
	fmt.Fprintf(&out, "\n%s", cuttingCautions)
	return wrapped(out.String(), sheet.OpeningColumns)
}

// writeTable lists the parts.
func (t *templateSet) writeTable(out *bytes.Buffer) {
	w := t.Words()
	rows := newTable("part", "stands at", "plate", "broad", "high", "area", "mass", "openings")
	area, mass := 0.0, 0.0
	for i := range t.parts {
		p := &t.parts[i]
		plate, weight := "any", ""
		if p.thickness > 0 {
			plate = w.Length(p.thickness)
		}
		if !math.IsNaN(p.mass) {
			weight = w.Mass(p.mass)
		}
		place := [3]string{"", "y ", "z "}[p.Axis] + w.Length(p.At)
		size := p.size()
		rows.add(p.Name, place, plate, w.Length(size.X), w.Length(size.Y), w.Area(p.cutArea()), weight, fmt.Sprint(len(p.Holes)))
		area, mass = area+p.cutArea(), mass+p.mass
	}
	rows.write(out)
	word := "parts"
	if len(t.parts) == 1 {
		word = "part"
	}
	fmt.Fprintf(out, "  %d %s, %s of sheet without waste", len(t.parts), word, w.Area(area))
	if !math.IsNaN(mass) {
		fmt.Fprintf(out, ", %s", w.Mass(mass))
	}
	fmt.Fprintln(out)
}

// writeOpeningList tells of every opening where its middle is.
func (t *templateSet) writeOpeningList(out *bytes.Buffer) {
	w := t.Words()
	rows := newTable("opening", "in", "shape", "to port", "above keel line", "from aft", "")
	for i := range t.parts {
		p := &t.parts[i]
		for k := range p.Holes {
			h := &p.Holes[k]
			at := h.Spec.At
			note := ""
			if h.Notched {
				note = "a notch"
			}
			rows.add(h.Spec.Name, p.Name, holeWords(w.Length, h), w.Length(at.Y), w.Length(at.Z), w.Length(at.X), note)
		}
	}
	if rows.rows > 0 {
		fmt.Fprintln(out)
		rows.write(out)
	}
}

// outlineWords says what an outline is of, and what is still to do by hand.
func (t *templateSet) outlineWords() string {
	w := t.Words()
	text := "Outlines\n  Each is the hull's section at the station itself"
	if t.shell > 0 {
		text += fmt.Sprintf(", less a shell of %s measured square to the skin, deck included", w.Length(t.shell))
	}
	text += ".\n  Where the hull narrows, bevel the edge to its slope. Bulkheads are drawn as seen from abaft, port to the left.\n"
	for i := range t.parts {
		if t.parts[i].Spec == nil {
			text += "  Walls of boxes are drawn to the planes that the file gives: where two plates butt, one loses the other's thickness.\n"
			break
		}
	}
	text += "  Print one page, measure the bars both ways, and give what the 100 mm bars came out as with --measured if they are off.\n"
	if t.options.bars.X != 0 {
		text += fmt.Sprintf("  This PDF makes up for a printer whose 100 mm bars came out as %g mm across and %g mm up; SVG files are never changed.\n",
			t.options.bars.X, t.options.bars.Y)
	}
	return text
}

// wrapped are the lines of a text, longer ones cut at blanks and indented further.
func wrapped(text string, most int) (lines []string) {
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		runes := []rune(line)
		for len(runes) > most {
			at := most
			for at > most/2 && runes[at] != ' ' {
				at--
			}
			if runes[at] != ' ' {
				at = most
			}
			lines = append(lines, strings.TrimRight(string(runes[:at]), " "))
			runes = append([]rune("    "), []rune(strings.TrimLeft(string(runes[at:]), " "))...)
		}
		lines = append(lines, string(runes))
	}
	return lines
}

// templatesDocument is what templates --json prints.
type templatesDocument struct {
	scenarios.DocumentHead
	Shell float64     `json:"shell_m"`
	Parts []partEntry `json:"parts"`
	Files []string    `json:"files"` // in the folder that was named
	Notes []string    `json:"notes"`
}

// partEntry is a plate in the document.
type partEntry struct {
	Name        string   `json:"name"`
	Section     *string  `json:"section"` // that keeps it; null: the hull does not part there
	Face        string   `json:"face"`    // the side that the drawing shows: aft, starboard, up
	At          float64  `json:"at_m"`
	Thickness   *float64 `json:"thickness_m"` // null: unknown
	Mass        *float64 `json:"mass_kg"`
	Area        float64  `json:"area_m2"`         // less its openings
	Outline     float64  `json:"outline_area_m2"` // with them
	HullSection float64  `json:"hull_section_m2"` // by the solid's integral
	HullOutline float64  `json:"hull_outline_m2"` // of the outline that the plate is made from
	Openings    []string `json:"openings"`
}

func (t *templateSet) document(files []asset) *templatesDocument {
	d := &templatesDocument{DocumentHead: t.Head(), Shell: t.shell, Parts: []partEntry{}, Files: []string{}, Notes: append([]string{}, t.notes...)}
	for i := range t.parts {
		p := &t.parts[i]
		e := partEntry{
			Name: p.Name, Face: string(p.Axis.Face()), At: p.At, Mass: scenarios.Number(p.mass), Area: p.cutArea(), Outline: p.Area,
			HullSection: p.HullArea, HullOutline: p.SectionArea, Openings: openingsOf(p.Plate),
		}
		if p.Section != "" {
			e.Section = &p.Section
		}
		if p.thickness > 0 {
			e.Thickness = &p.thickness
		}
		d.Parts = append(d.Parts, e)
	}
	for _, f := range files {
		d.Files = append(d.Files, f.name)
	}
	return d
}

func openingsOf(p *compartment.Plate) []string {
	names := []string{}
	for i := range p.Holes {
		names = append(names, p.Holes[i].Spec.Name)
	}
	return names
}
