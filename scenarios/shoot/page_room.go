package shoot

import (
	"fmt"
	"math"
	"strings"
)

// large writes a length of the pool: metres to two places, or feet to one, rounded up.
func (w *writer) large(metres float64) string {
	if w.feet() {
		return fmt.Sprintf("%.1f ft", math.Ceil(metres/0.3048*10-1e-9)/10)
	}
	return fmt.Sprintf("%.2f m", math.Ceil(metres*100-1e-9)/100)
}

// pool says how deep and how large the water has to be.
func (w *writer) pool() Block {
	s := &w.Site
	b := Block{Title: "Pool", Box: -1, Blank: -1}
	deepest, need := "", 0.0
	for i := range s.Sections {
		if k := &s.Sections[i]; k.need() > need {
			need = k.need()
			deepest = fmt.Sprintf("%s reaches %s down at %s", bodyName(k.Name), w.large(k.Reached), w.Time(k.At))
			switch {
			case k.Across == need:
				deepest = fmt.Sprintf("%s rolls over, %s across with all that stands on it", bodyName(k.Name), w.large(k.Across))
			case k.Plunges && k.Extent == need:
				deepest = fmt.Sprintf("%s may stand on end as it goes, %s long", bodyName(k.Name), w.large(k.Extent))
			}
		}
	}
	depth := fmt.Sprintf("Depth %s or more: %s, the rest to spare (a rule of ours).", w.large(s.Depth), deepest)
	switch {
	case math.IsInf(s.Given, 1):
	case s.Enough():
		depth += fmt.Sprintf(" The scenario's %s is enough.", w.large(s.Given))
	default:
		depth += fmt.Sprintf(" TOO SHALLOW: the scenario's pool has %s.", w.large(s.Given))
	}
	b.Lines = []string{depth, fmt.Sprintf("Clear of walls, lamps and people: %s along the hull by %s across, the hull in the middle, so that all of it can turn.",
		w.large(s.Length), w.large(s.Breadth))}
	return b
}

// bodyName names a body within a sentence.
func bodyName(name string) string {
	if name == "hull" {
		return "the hull"
	}
	return "section " + name
}

// lifting is the table of pulls and lines.
func (w *writer) lifting() Block {
	b := Block{Title: "Lines and lifting", Box: -1, Blank: -1,
		Head: []string{"", "dry", "pull, under water", "out, all at once", "drained, level", "line, lying", "on end"}, Shares: []float64{15, 12, 16, 17, 16, 13, 11}}
	most := 0.0
	for i := range w.Lifts {
		l := &w.Lifts[i]
		most = max(most, l.AtOnce)
		lying, onEnd := "–", "–"
		for k := range w.Site.Sections {
			if s := &w.Site.Sections[k]; s.Name == l.Name && s.Line > 0 {
				lying, onEnd = w.large(s.Line), w.large(s.OnEnd)
			}
		}
		pull := "none: it floats up"
		if l.Submerged > 0 {
			pull = w.Force(l.Submerged)
		}
		b.Rows = append(b.Rows, []string{l.Name, w.Mass(l.Mass), pull, w.Force(l.AtOnce), w.Force(l.Drained[Level]), lying, onEnd})
	}
	b.Lines = []string{
		"All flooded, no air left: the most it can be." + w.onScale(" A hand scale shows %s as %s.", most),
		fmt.Sprintf("Two lines to each, one an end, each to bear it all: breaking load %s%s or more (%d times: textile slings, Directive 2006/42/EC). Lengths: from the floor, lying or its upper end, to a hand on the long side, a fifth to spare (ours).",
			w.Force(breaking*most), w.onScale(" (%[2]s)", breaking*most), breaking),
		"Up slowly and level, then wait at the surface: water leaves only by the openings, in about the time it came in.",
	}
	for i := range w.Lifts {
		b.Lines = append(b.Lines, w.drainWords(&w.Lifts[i]))
	}
	return b
}

// onScale puts a pull, and what it is in kilograms, as hand scales show it and lines are sold by, into a text; "" where pulls are in
// pounds anyway.
func (w *writer) onScale(format string, newtons float64) string {
	if w.feet() {
		return ""
	}
	return fmt.Sprintf(format, w.Force(newtons), fmt.Sprintf("%.1f kg", newtons/gravity))
}

// feet tells whether the scenario speaks in inches or feet.
func (w *writer) feet() bool { return w.Scenario.Unit.Name == "in" || w.Scenario.Unit.Name == "ft" }

// drainWords says what stays in a section and how to hang it; nothing where all runs out.
func (w *writer) drainWords(l *Lift) string {
	const drop = 1e-6 // m³
	if l.Stays[Level] < drop {
		return ""
	}
	text := fmt.Sprintf("%s keeps %s level", sentenceStart(bodyName(l.Name)), w.Volume(l.Stays[Level]))
	best := Level
	for _, a := range [2]Attitude{ByAfter, ByFore} {
		if l.Stays[a] < l.Stays[best]-drop {
			best = a
		}
	}
	if best == Level {
		return text + ", and no less hanging by an end."
	}
	kept := "nothing"
	if l.Stays[best] > drop {
		kept = w.Volume(l.Stays[best])
	}
	return text + fmt.Sprintf("; hanging by its %s end it keeps %s and pulls %s.", [attitude]string{ByAfter: "after", ByFore: "fore"}[best], kept, w.Force(l.Drained[best]))
}

func sentenceStart(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
