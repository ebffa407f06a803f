package scenarios

import (
	"bytes"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// writeOpposite tells what would have to change for the opposite verdict. What it says of bulkheads is a static balance
// (see seaLet): where the hull rests in the end, not how it comes there.
func (t *Story) writeOpposite(b *bytes.Buffer, r *flood.Result) {
	if len(r.Sections) != 1 || r.GaveUp != nil {
		return
	}
	var lines []string
	switch r.Fate {
	case flood.Founders:
		lines = t.toStayAfloat(r)
	case flood.Floats:
		lines = t.toFounder(r)
	case flood.Capsizes:
		lines = t.toStayUpright(r)
	}
	if len(lines) == 0 {
		return
	}
	fmt.Fprintln(b, "\nFor the opposite verdict (by the balance at rest; run it again to be sure)")
	for _, line := range lines {
		fmt.Fprintf(b, "  %s.\n", line)
	}
}

// toStayAfloat looks at every bulkhead that water went over, in the order in which it did: would the hull have floated if
// that one had held, and how high must it be? Where none does alone, all of them are tried together.
func (t *Story) toStayAfloat(r *flood.Result) (lines []string) {
	var passed []int
	saved := false
	for _, e := range r.Events {
		k := t.bulkhead(e.Name)
		if e.Kind != flood.Overtopped || k < 0 {
			continue
		}
		passed = append(passed, k)
		line, saves := t.heldBy(k)
		lines, saved = append(lines, line), saved || saves
	}
	switch {
	case len(passed) == 0:
		return []string{"no bulkhead was passed by water that could have held it: fewer or smaller openings, more bulkheads or less weight"}
	case !saved && len(passed) > 1:
		return []string{t.heldTogether(passed)}
	}
	return lines
}

// heldBy says what one bulkhead would have done.
func (t *Story) heldBy(k int) (line string, saves bool) {
	name := "bulkhead " + t.vessel.Bulkheads[k].Spec.Name
	s := newSeaLet(t.vessel)
	s.closed[k] = true
	switch s.settle() {
	case seaLetSinks:
		return name + ": would not have saved it, not even up to the deck", false
	case seaLetCapsizes:
		return name + ": had it reached up to the deck, the hull would have rolled over", false
	case seaLetUnknown:
		return name + ": whether it would have saved the hull was not found", false
	}
	return name + ": " + t.higher(s, k) + ", and the hull would have come to rest afloat", true
}

// heldTogether says what all the bulkheads that were passed would have done together. Those with the sea on both sides, or on
// neither, need not hold anything.
func (t *Story) heldTogether(passed []int) string {
	s := newSeaLet(t.vessel)
	for _, k := range passed {
		s.closed[k] = true
	}
	switch s.settle() {
	case seaLetSinks, seaLetUnknown:
		return "no bulkhead that water went over would have saved it, nor all together up to the deck: fewer or smaller openings, more bulkheads or less weight"
	case seaLetCapsizes:
		return "had all the bulkheads that water went over reached up to the deck, the hull would have rolled over"
	}
	var needs []string
	for _, k := range passed {
		if s.holdsBack(k) {
			needs = append(needs, t.vessel.Bulkheads[k].Spec.Name+" "+t.higher(s, k))
		}
	}
	return "no bulkhead alone, but together: " + both(needs) + ", and the hull would have come to rest afloat"
}

// deckOver is the height of the deck over a bulkhead with a top, m above the keel line.
func deckOver(b *compartment.Bulkhead) float64 {
	deck := math.Inf(-1)
	for _, loop := range b.Gap {
		for _, x := range loop {
			deck = math.Max(deck, x.Z)
		}
	}
	return deck
}

// higher says how much higher a closed bulkhead must be in the rest that was found.
func (t *Story) higher(s *seaLet, k int) string {
	short := -s.edgeHeight(k) / s.pose.Up.Z
	spec := t.vessel.Bulkheads[k].Spec
	switch {
	case short <= 0:
		return fmt.Sprintf("higher while the water moved (at rest its top is %s clear)", t.words.Length(-short))
	case spec.Top == nil:
		return t.words.bothLengths(short) + " higher"
	case *spec.Top+short >= deckOver(t.vessel.Bulkheads[k]):
		return "up to the deck"
	}
	return fmt.Sprintf("%s higher (its top at %s, or up to the deck)", t.words.bothLengths(short), t.words.Length(*spec.Top+short))
}

// toFounder looks at the bulkhead that the water came closest to without passing it, and at what is left over.
func (t *Story) toFounder(r *flood.Result) (lines []string) {
	closest, k := math.Inf(1), -1
	for _, m := range r.Margins {
		if i := t.bulkhead(m.Name); m.Kind == flood.MarginEdge && i >= 0 && m.Closest > 0 && m.Closest < closest {
			closest, k = m.Closest, i
		}
	}
	if k >= 0 {
		s := newSeaLet(t.vessel)
		s.removed = k
		ends := map[seaLetEnd]string{seaLetSinks: "would founder", seaLetCapsizes: "would roll over", seaLetRests: "would float all the same"}
		if then := ends[s.settle()]; then != "" {
			lines = append(lines, fmt.Sprintf("bulkhead %s: with its top more than %s lower water would have gone over it, and the hull %s",
				t.vessel.Bulkheads[k].Spec.Name, t.words.bothLengths(closest), then))
		}
	}
	for _, now := range t.last.bodies {
		if left := t.vessel.Whole.Form.Volume() - now.Displaced; now.Name == t.vessel.Whole.Name && left > 0 {
			lines = append(lines, fmt.Sprintf("reserve of buoyancy at the end: %s of hull above the water, so much more water or weight would sink it", t.words.Volume(left)))
		}
	}
	return lines
}

// toStayUpright tells what stability the hull had while it stood, and what would have given it more. It goes by the heel from
// which the hull rolled over: past a few degrees it was water, or weight, on one side.
func (t *Story) toStayUpright(*flood.Result) []string {
	const leaning = 5 * math.Pi / 180
	s := t.upright[t.vessel.Whole.Name]
	if s == nil {
		return nil
	}
	lines := []string{
		fmt.Sprintf("it rolled over from a heel of %s; its GM was %s at the start and fell to %s%s",
			t.words.Heel(s.heel), t.words.bothLengths(s.first), t.words.bothLengths(s.least), t.words.at(s.leastAt)),
	}
	if math.Abs(s.heel) > leaning {
		return append(lines, "less water on the low side, a way for it to cross over, or weights lower")
	}
	return append(lines, "weights lower, or water that runs across the hull divided by walls along it")
}

// bulkhead is the index of the named bulkhead with a gap above it, −1 if there is none.
func (t *Story) bulkhead(name string) int {
	for i, b := range t.vessel.Bulkheads {
		if b.Spec.Name == name && b.Passage >= 0 {
			return i
		}
	}
	return -1
}
