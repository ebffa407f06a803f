package scenarios

import (
	"bytes"
	"fmt"
	"math"
	"text/tabwriter"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// Releases are the release designs of the joints in the run that r came of.
func (t *Story) Releases(r *flood.Result) []ReleaseDesign { return t.releases.designs(r) }

// writeReleases tells what a release at each joint has to bear.
func (t *Story) writeReleases(b *bytes.Buffer, r *flood.Result) {
	for _, d := range t.Releases(r) {
		t.writeRelease(b, &d)
	}
}

func (t *Story) writeRelease(b *bytes.Buffer, d *ReleaseDesign) {
	w := t.words
	if d.Cause == "" {
		fmt.Fprintf(b, "\nRelease at %s (it never lets go in this run)\n", d.Name)
	} else {
		fmt.Fprintf(b, "\nRelease at %s (parts%s, by %s)\n", d.Name, w.at(d.Parted), d.Cause)
	}
	var table bytes.Buffer
	tabs := tabwriter.NewWriter(&table, 0, 0, 2, ' ', 0)
	fmt.Fprint(tabs, "\tat the start\tgreatest\tat the parting\n")
	for _, row := range releaseRows(d) {
		fmt.Fprintf(tabs, "%s\t%s\t%s\t%s\n", row.kind, w.borne(row, row.start), w.greatest(row), w.parting(d, row))
	}
	tabs.Flush() // into a buffer: it cannot fail
	indent(b, table.String())
	for _, line := range w.releaseLines(d) {
		fmt.Fprintf(b, "  %s\n", line)
	}
}

// indent sets lines in by two, without blanks at their ends.
func indent(b *bytes.Buffer, text string) {
	for line := range bytes.Lines([]byte(text)) {
		fmt.Fprintf(b, "  %s\n", bytes.TrimRight(line, " \n"))
	}
}

// releaseRow is a kind of load through the run, magnitudes.
type releaseRow struct {
	kind           string
	moment         bool // N·m, else N
	start, parting float64
	most           flood.Extreme
}

func releaseRows(d *ReleaseDesign) []releaseRow {
	one := func(kind string, moment bool, most flood.Extreme, of func(*compartment.Load) float64) releaseRow {
		return releaseRow{kind, moment, math.Max(0, of(&d.Start)), math.Max(0, of(&d.Last)), most}
	}
	return []releaseRow{
		one("hogging", true, d.Hogging, func(l *compartment.Load) float64 { return l.Bending }),
		one("sagging", true, d.Sagging, func(l *compartment.Load) float64 { return -l.Bending }),
		one("shear", false, d.Shear, func(l *compartment.Load) float64 { return math.Abs(l.Shear) }),
		one("torsion", true, d.Torsion, func(l *compartment.Load) float64 { return math.Abs(l.Torsion) }),
		one("pressed together", false, d.Compression, func(l *compartment.Load) float64 { return l.Axial }),
		one("pulled apart", false, d.Tension, func(l *compartment.Load) float64 { return -l.Axial }),
	}
}

// leastTold is the load, N or N·m, that is told as none.
const leastTold = 1e-6

func (w Words) borne(row releaseRow, value float64) string {
	switch {
	case math.IsNaN(value):
		return "unknown"
	case value < leastTold:
		return "–"
	case row.moment:
		return w.Moment(value)
	}
	return w.Force(value)
}

func (w Words) greatest(row releaseRow) string {
	if row.most.Value < leastTold {
		return "–"
	}
	return w.borne(row, row.most.Value) + " at " + w.Time(row.most.Time)
}

func (w Words) parting(d *ReleaseDesign, row releaseRow) string {
	if d.Cause == "" {
		return ""
	}
	return w.borne(row, row.parting)
}

// releaseLines say what mechanical releases there are for it.
func (w Words) releaseLines(d *ReleaseDesign) (lines []string) {
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	hinge, far := "keel", "deck"
	if d.Set > 0 && !d.Hogs {
		hinge, far = far, hinge
	}
	say("Hinged at the %s, a release at the %s has a lever of %s. What the sea presses the halves together is not counted.", hinge, far, w.Length(d.Lever))
	if math.IsNaN(d.Start.Bending) || math.IsNaN(d.Last.Bending) {
		say("What it bears while the hull stands on the floor is not known, and not in these.")
	}
	for _, v := range d.Devices() {
		say("%s", w.device(d, &v))
	}
	if d.ByLoad() {
		say("By load: between what it must carry and what it must let go at lies a factor of %.2f, so a latch that scatters by more parts too early.", loadFactor)
		for _, l := range d.Light {
			say("  Set %.0f %% light it parts%s, at a trim of %s: %s early.", 100*(1-l.Share), w.at(l.Time), w.Trim(l.Trim), w.Time(d.Parted-l.Time))
		}
	} else if d.Cause != "" {
		say("By load no latch can go at that moment: %s.", w.notByLoad(d))
	}
	say("On command: it carries %.0f times the greatest load, and lets go under any up to that at the parting; so a jam, not the load, decides.", releaseFactor)
	for _, h := range d.Wetting {
		if !math.IsNaN(h.Height) && h.Height > 0 && h.Height < d.Lever {
			say("  A link that holds for %s once it is wet: %s over the keel line at the joint, where the sea stood that long before.", w.Time(h.Seconds), w.Length(h.Height))
		}
	}
	return append(lines, ReleaseCautions()...)
}

func (w Words) notByLoad(d *ReleaseDesign) string {
	switch {
	case math.IsNaN(d.Last.Bending):
		return "it stands on the floor then, and what bends it there is not known"
	case math.IsNaN(d.Passed):
		return "next to nothing bends it then"
	}
	return "it bore more" + w.at(d.Passed)
}

// device is a line on one of them.
func (w Words) device(d *ReleaseDesign, v *Device) string {
	lets := "lets go at " + w.Force(v.LetsGo)
	if v.Command {
		lets = "lets go under up to " + w.Force(v.LetsGo)
		if d.Cause == "" {
			lets = "lets go on command"
		}
	}
	text := fmt.Sprintf("%s: carries %s, %s", deviceNames[v.Kind], w.Force(v.Carries), lets)
	switch v.Kind {
	case "servo-pin":
		if v.Draws > 0 {
			text += fmt.Sprintf("; the servo draws it with %s or more (friction %.1f, from memory; twofold)", w.Force(v.Draws), pinFriction)
		}
	case "soluble-link":
		text += ", wet as well as dry; time ten of a batch in the water of the day, warm water is quicker"
	case "magnet-pair":
		text += "; set it by shims of card, and let a dowel take the shear: sideways magnets hold about a fifth"
	case "spring-latch":
		text += fmt.Sprintf("; on the bench %s hung %s from the joint, with what the free half bends it by its own weight reckoned in, must just open it", w.Mass(v.Bench), w.Length(v.BenchArm))
	}
	return text + "."
}

var deviceNames = map[string]string{
	"servo-pin": "Servo pin", "magnet-pair": "Magnet pair", "spring-latch": "Spring latch", "soluble-link": "Soluble link",
}

// ReleaseCautions are those of every release.
func ReleaseCautions() []string {
	return []string{
		"These factors and what is said of magnets and links are common practice, no source. The loads are the model's, without handling: lifted out with water aboard she bends far more.",
		"Nothing that burns or goes off. Strong magnets nip fingers and are kept from pacemakers; a sprung half comes off fast: face away, and a line on each half. Try it dry with weights, then afloat with a hand on her.",
	}
}
