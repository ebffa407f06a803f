package scenarios

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/flood"
)

// FirstWetting is what the same run comes to with the menisci in the other state, dry for wet or wet for dry. A document has one where
// some dry opening or edge held water back that a wet one lets through, or would have, had it been dry: elsewhere both are the same.
type FirstWetting struct {
	Menisci     flood.Menisci `json:"menisci"`   // of the other run
	HeldBack    []string      `json:"held_back"` // openings and edges, in this run
	Fate        *flood.Fate   `json:"fate"`      // of the whole, in the other run; null: it gave up
	FateDiffers bool          `json:"fate_differs"`
	Duration    *float64      `json:"duration_s"`
	Sections    []Section     `json:"sections"`
	Times       []TimeApart   `json:"times"`
	GaveUp      *GaveUp       `json:"gave_up"`
}

// TimeApart is when something happened in either run; null where it did not.
type TimeApart struct {
	Event flood.EventKind `json:"event"`
	Name  string          `json:"name"`
	Time  *float64        `json:"time_s"`       // in this run
	Other *float64        `json:"other_time_s"` // in the other one
	Later *float64        `json:"later_s"`      // how much later in the other one
}

// OtherMenisci is the other state of first wetting.
func OtherMenisci(m flood.Menisci) flood.Menisci {
	if m == flood.Dry {
		return flood.Wet
	}
	return flood.Dry
}

// AsksForBoth tells that a run's verdict may be another with the other state of first wetting.
func AsksForBoth(r *flood.Result) bool { return len(r.HeldBack) > 0 && r.GaveUp == nil }

// NewFirstWetting compares a run with that of the other state, whose menisci are given.
func NewFirstWetting(r, other *flood.Result, menisci flood.Menisci) *FirstWetting {
	f := &FirstWetting{
		Menisci: menisci, HeldBack: []string{}, Fate: orNull(other.Fate), FateDiffers: fatesDiffer(r, other),
		Duration: Number(other.Duration), Sections: []Section{}, Times: []TimeApart{}, GaveUp: newGaveUp(other.GaveUp),
	}
	for _, h := range r.HeldBack {
		f.HeldBack = append(f.HeldBack, h.Name)
	}
	for i := range other.Sections {
		f.Sections = append(f.Sections, newSection(&other.Sections[i]))
	}
	for _, e := range decisive(r, other) {
		here, there := firstTime(r, e), firstTime(other, e)
		f.Times = append(f.Times, TimeApart{e.Kind, e.Name, Number(here), Number(there), Number(there - here)})
	}
	return f
}

// fatesDiffer tells whether the whole, or a section, ends otherwise.
func fatesDiffer(r, other *flood.Result) bool {
	return r.Fate != other.Fate || !slices.EqualFunc(r.Sections, other.Sections, func(a, b flood.SectionResult) bool {
		return a.Name == b.Name && a.Fate == b.Fate
	})
}

// decisive are the events of two runs that a verdict is made of, each once, those of the first before those that only the second has.
func decisive(r, other *flood.Result) (all []flood.Event) {
	for _, events := range [2][]flood.Event{r.Events, other.Events} {
		for _, e := range events {
			switch e.Kind {
			case flood.Parted, flood.Capsized, flood.PastVertical, flood.Foundered, flood.TouchedBottom, flood.SettledDown:
			default:
				continue
			}
			if !slices.ContainsFunc(all, func(a flood.Event) bool { return a.Kind == e.Kind && a.Name == e.Name }) {
				all = append(all, e)
			}
		}
	}
	return all
}

// firstTime is when such an event first happened, s; NaN: it did not.
func firstTime(r *flood.Result, e flood.Event) float64 {
	if at, ok := timeOf(r, e.Kind, e.Name); ok {
		return at
	}
	return math.NaN()
}

// Compare lets the story tell what the run came to with the menisci in the other state.
func (t *Story) Compare(other *flood.Result, menisci flood.Menisci) {
	t.other, t.otherMenisci = other, menisci
}

// writeMenisci tells where surface tension decided or could decide, and what the other state of first wetting comes to.
func (t *Story) writeMenisci(b *bytes.Buffer, r *flood.Result) {
	title, lines := "Where a meniscus could decide (a first, dry take differs from the next)", t.wouldHold(r)
	if t.menisci == Dry {
		title, lines = "Where a meniscus decided (a first, dry take)", t.didHold(r)
	}
	lines = append(lines, t.otherVerdict(r)...)
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s\n", title)
	for _, line := range lines {
		fmt.Fprintf(b, "  %s.\n", line)
	}
}

// wouldHold tells which openings and edges, if dry, hold back more head than they met, and which would have held the first water back
// for a while. A run cannot tell more of a head that it did not let build up.
func (t *Story) wouldHold(r *flood.Result) (lines []string) {
	neverMet := map[string]bool{}
	for _, m := range r.Margins {
		if m.Kind == flood.MarginMeniscus && m.Closest < 0 {
			neverMet[m.Name] = true
			lines = append(lines, fmt.Sprintf("%s: dry, it holds back %s more head than ever stood at it in this run; the water would first have risen further, or stayed out", m.Name, t.words.Length(-m.Closest)))
		}
	}
	for _, x := range r.Warnings {
		held := x.Kind == flood.DryHoleHolds || x.Kind == flood.DryEdgeHolds
		if held && !neverMet[x.Name] {
			lines = append(lines, fmt.Sprintf("%s: dry, it would have held the first water back, for want of %s of head, and %s", x.Name, t.words.Length(x.Value), t.afterHolding(x.Name)))
		}
	}
	return lines
}

// afterHolding is what came of a place that holds the first water back when dry, by the run in that state where there is one.
func (t *Story) afterHolding(name string) string {
	if t.other == nil || t.otherMenisci != flood.Dry || t.other.GaveUp != nil {
		return "let it through later"
	}
	i := slices.IndexFunc(t.other.HeldBack, func(h flood.HeldBack) bool { return h.Name == name })
	switch {
	case i < 0:
		return "then none comes to it"
	case math.IsNaN(t.other.HeldBack[i].Broke):
		return "let none through to the end"
	}
	return "let it through later"
}

// didHold tells which openings and edges held water back, and until when.
func (t *Story) didHold(r *flood.Result) (lines []string) {
	for _, h := range r.HeldBack {
		if math.IsNaN(h.Broke) {
			lines = append(lines, fmt.Sprintf("%s: it held the water back to the end; %s more head would have broken through", h.Name, t.words.Length(h.Holds-h.Met)))
		} else {
			lines = append(lines, fmt.Sprintf("%s: it held the water back until %s; dry, it holds %s of head", h.Name, t.words.both(h.Broke), t.words.Length(h.Holds)))
		}
	}
	return lines
}

// otherVerdict tells what the other state of first wetting comes to, and by how much the times differ.
func (t *Story) otherVerdict(r *flood.Result) (lines []string) {
	o := t.other
	if o == nil {
		return nil
	}
	with := fmt.Sprintf("The same with `menisci: %s`: ", t.otherMenisci)
	if o.GaveUp != nil {
		return []string{with + "no verdict, " + t.words.Failure(o.GaveUp)}
	}
	if fatesDiffer(r, o) {
		lines = append(lines, with+"another fate")
		for i := range o.Sections {
			lines = append(lines, "  "+capital(t.words.Fate(&o.Sections[i], o, math.NaN())))
		}
		return lines
	}
	lines = append(lines, with+"the same fate")
	for _, e := range decisive(r, o) {
		lines = append(lines, "  "+capital(t.timeApart(e, r, o)))
	}
	return lines
}

// timeApart tells when something happens in the other run, and how much later or earlier than in this one.
func (t *Story) timeApart(e flood.Event, r, other *flood.Result) string {
	w := t.words
	here, there := firstTime(r, e), firstTime(other, e)
	switch late := there - here; {
	case math.IsNaN(there):
		return w.Event(e) + w.at(here) + " in this run, and not in that"
	case math.IsNaN(here):
		return w.Event(e) + w.at(there) + ", and not in this run"
	case late > 0:
		return w.Event(e) + w.at(there) + ", " + w.both(late) + " later than in this run"
	case late < 0:
		return w.Event(e) + w.at(there) + ", " + w.both(-late) + " earlier than in this run"
	}
	return w.Event(e) + w.at(there) + ", as in this run"
}
