package scenarios

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/flood"
)

// writeMargins tells how close things came to turning out otherwise; menisci have a part of their own.
func (t *Story) writeMargins(b *bytes.Buffer, r *flood.Result) {
	lines := 0
	for _, m := range r.Margins {
		if m.Kind == flood.MarginMeniscus {
			continue
		}
		if lines == 0 {
			fmt.Fprintln(b, "\nMargins")
		}
		lines++
		fmt.Fprintf(b, "  %s.\n", t.marginWords(m, r))
	}
}

// marginWords says one margin. Of what went under with its hull only the moment is told: how deep it came to lie is not a
// margin that anybody could use.
func (t *Story) marginWords(m flood.Margin, r *flood.Result) string {
	w := t.words
	switch m.Kind {
	case flood.MarginEdge:
		return t.edgeWords(m, r)
	case flood.MarginDeck:
		return t.deckWords(m, r)
	case flood.MarginGM:
		return fmt.Sprintf("smallest metacentric height (GM) of %s: %s%s", bodyWords(m.Name), w.bothLengths(m.Closest), w.at(m.Time))
	}
	return fmt.Sprintf("%s (%s): %s%s", m.Name, m.Kind, w.bothLengths(m.Closest), w.at(m.Time))
}

func (t *Story) edgeWords(m flood.Margin, r *flood.Result) string {
	w := t.words
	if m.Closest > 0 {
		return fmt.Sprintf("bulkhead %s: the water stayed %s below its top, closest%s", m.Name, w.bothLengths(m.Closest), w.at(m.Time))
	}
	text := fmt.Sprintf("bulkhead %s: the water went over its top", m.Name)
	if first, ok := timeOf(r, flood.Overtopped, m.Name); ok {
		text += w.at(first)
	} else if t.menisci == Dry {
		return fmt.Sprintf("bulkhead %s: the water stood %s over its top, which its dry edge held back", m.Name, w.bothLengths(-m.Closest))
	}
	if !anyFoundered(r) {
		text += fmt.Sprintf(", at most by %s%s", w.bothLengths(-m.Closest), w.at(m.Time))
	}
	return text
}

func (t *Story) deckWords(m flood.Margin, r *flood.Result) string {
	w, of := t.words, bodyWords(m.Name)
	if m.Closest >= 0 {
		return fmt.Sprintf("least freeboard of %s: %s%s", of, w.bothLengths(m.Closest), w.at(m.Time))
	}
	text := fmt.Sprintf("deck edge of %s: it went under water", of)
	if first, ok := timeOf(r, flood.DeckEdgeUnder, m.Name); ok {
		text += w.at(first)
	}
	if !anyFoundered(r) {
		text += fmt.Sprintf(", at most by %s%s", w.bothLengths(-m.Closest), w.at(m.Time))
	}
	return text
}

// anyFoundered tells whether a section went under.
func anyFoundered(r *flood.Result) bool {
	return slices.ContainsFunc(r.Sections, func(s flood.SectionResult) bool { return !math.IsNaN(s.Foundered) })
}
