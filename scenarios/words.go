package scenarios

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/flood"
)

// Event says in plain words what happened, without the time.
func (w Words) Event(e flood.Event) string {
	what := w.eventWords(e)
	if e.Section != "" && e.Section != "hull" && e.Section != e.Name {
		what += " in " + e.Section
	}
	return what
}

func (w Words) eventWords(e flood.Event) string {
	switch e.Kind {
	case flood.Overtopped:
		return "water goes over bulkhead " + e.Name
	case flood.Filled:
		return e.Name + " is full"
	case flood.AirLost:
		return "the last of the air leaves " + e.Name
	case flood.Opened:
		return e.Name + " opens"
	case flood.Shut:
		return e.Name + " shuts"
	case flood.BrokeThrough:
		return "water breaks through at " + e.Name
	case flood.Parted:
		return "the hull parts at " + e.Name
	}
	return bodyWords(e.Name) + " " + bodyEventWords(e.Kind)
}

// bodyEventWords is what a body goes through.
func bodyEventWords(kind flood.EventKind) string {
	switch kind {
	case flood.DeckEdgeUnder:
		return "has its deck edge under water"
	case flood.Capsized:
		return "rolls over"
	case flood.PastVertical:
		return "turns past the vertical"
	case flood.Foundered:
		return "goes under"
	case flood.TouchedBottom:
		return "touches the bottom"
	case flood.SettledDown:
		return "has come to rest"
	case flood.LostStability:
		return "can no longer stand as it stood, and falls to another rest"
	}
	return string(kind)
}

// bodyWords names a body within a sentence.
func bodyWords(name string) string {
	switch name {
	case "hull":
		return "the hull"
	case "hull+later":
		return "the hull with the weights that come later"
	}
	return "section " + name
}

// Warning says in one line, beginning with the name of what it is about, what the user is to know.
func (w Words) Warning(x flood.Warning) string {
	return x.Name + ": " + w.warningWords(x)
}

func (w Words) warningWords(x flood.Warning) string {
	switch x.Kind {
	case flood.DryHoleHolds:
		return fmt.Sprintf("when the first water came to this opening, a dry one would have held it back, for want of %.1f mm of head", 1000*x.Value)
	case flood.DryEdgeHolds:
		return fmt.Sprintf("when the first water came over this edge, a dry one would have held it back, for want of %.1f mm of head", 1000*x.Value)
	case flood.NoVolume:
		return fmt.Sprintf("%.1f g have no density and are counted without volume", 1000*x.Value)
	case flood.KeelUp:
		return "it floats keel up from the start"
	case flood.PartsAtStart:
		return "it lets go before any water has moved"
	case flood.NeverParts:
		if x.Value > 0 {
			return fmt.Sprintf("it never lets go: at most %.0f %% of what it holds was asked of it", 100*x.Value)
		}
		return "it never lets go: no release came about"
	case flood.RollsOver:
		if x.Value == 0 {
			return "it rolls over as soon as it is alone" + w.after(x.Time)
		}
		return fmt.Sprintf("it rolls over %s after it came free,%s", w.Time(x.Value), w.at(x.Time))
	case flood.VentUnder:
		return fmt.Sprintf("it went under water at %s with %s of air still to let out: from then on that leaves more slowly or not at all; the vent belongs where the last air is", w.Time(x.Time), w.Volume(x.Value))
	case flood.TooShallow:
		return fmt.Sprintf("it reaches %s down at %s, deeper than the pool is: it would touch the bottom", w.Length(x.Value), w.Time(x.Time))
	case flood.Chatters:
		return fmt.Sprintf("it switched to and fro %.0f times, up to %s", x.Value, w.Time(x.Time))
	}
	return fmt.Sprintf("%s (%g)", x.Kind, x.Value)
}

// Failure says when and why a run gave up.
func (w Words) Failure(f *flood.Failure) string {
	about := ""
	if f.Name != "" {
		about = ", at " + f.Name
	}
	return fmt.Sprintf("the computation gave up at %s%s: %s", w.Time(f.Time), about, causeWords(f.Cause))
}

func causeWords(c flood.FailureCause) string {
	switch c {
	case flood.StepTooSmall:
		return "it would have had to go on in ever smaller steps"
	case flood.NotFinite:
		return "a number was no longer finite"
	case flood.TooManySteps:
		return "it took too many steps"
	case flood.Creeping:
		return "it went on in steps that led nowhere"
	case flood.NoRest:
		return "no rest was found though there must be one"
	}
	return string(c)
}

// Ended says when a run ended, and why.
func (w Words) Ended(r *flood.Result) string {
	switch at := w.at(r.Duration); r.Ended {
	case flood.EndedFoundered:
		return "ends" + at + ": nothing is afloat any more"
	case flood.EndedSettled:
		return "ends" + at + ": all has come to rest"
	default:
		return "ends" + at
	}
}

// Fate says in one sentence how a section ended. trim is its last known, rad; NaN where it is not known.
func (w Words) Fate(s *flood.SectionResult, r *flood.Result, trim float64) string {
	body := bodyWords(s.Name)
	switch s.Fate {
	case flood.Capsizes:
		text := body + " capsizes"
		if at, ok := timeOf(r, flood.Capsized, s.Name); ok {
			text += w.after(at)
		}
		if !math.IsNaN(s.Foundered) {
			text += ", and goes under" + w.after(s.Foundered)
		}
		return text
	case flood.Founders:
		return body + " founders" + byEnd(trim) + w.after(s.Foundered)
	case flood.Grounds:
		return body + " lies on the bottom, part of it above the water"
	case flood.Floats:
		return body + " stays afloat; it has come to rest" + w.after(r.Duration)
	case flood.Undecided:
		if s.OnlySwings {
			return body + " has not come to rest at the end of the run" + w.at(r.Duration) + ", though nothing flows (a longer `until` would show)"
		}
		return body + " is still flooding at the end of the run" + w.at(r.Duration) + "; " + tendency(s.Tends)
	}
	return body + " has no fate: " + gaveUpShort
}

const gaveUpShort = "the computation gave up before its end"

func tendency(t flood.Tendency) string {
	if t == flood.Sinking {
		return "it was sinking (a longer `until` would show)"
	}
	return "the flow was ebbing and it was levelling out (a longer `until` would show)"
}

// byEnd tells by which end a body goes under; nothing within a degree of level.
func byEnd(trim float64) string {
	const level = math.Pi / 180
	switch {
	case trim > level:
		return " by the head"
	case trim < -level:
		return " by the stern"
	}
	return ""
}

// after and at write a time with its full-size equivalent.
func (w Words) after(seconds float64) string { return " after " + w.both(seconds) }
func (w Words) at(seconds float64) string    { return " at " + w.both(seconds) }

func (w Words) both(seconds float64) string {
	if !w.Scaled() {
		return w.Time(seconds)
	}
	return fmt.Sprintf("%s (full size %s)", w.Time(seconds), w.FullTime(seconds))
}

// bothLengths writes a length with its full-size equivalent.
func (w Words) bothLengths(metres float64) string {
	if !w.Scaled() {
		return w.Length(metres)
	}
	return fmt.Sprintf("%s (full size %s)", w.Length(metres), w.FullLength(metres))
}

// timeOf is when something first happened to a named thing.
func timeOf(r *flood.Result, kind flood.EventKind, name string) (time float64, ok bool) {
	for _, e := range r.Events {
		if e.Kind == kind && e.Name == name {
			return e.Time, true
		}
	}
	return 0, false
}
