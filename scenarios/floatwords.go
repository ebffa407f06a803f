package scenarios

import (
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// Judgement is one line on how a body floats, for somebody who is about to build or to load it.
func (w Words) Judgement(t *compartment.Floating) string {
	text := w.judgement(t)
	if o := t.LowestDry; o.Name != "" && t.Floats {
		text += fmt.Sprintf("; the lowest opening over water, %s, is %s clear of it", o.Name, w.Length(o.Height))
	}
	return text
}

func (w Words) judgement(t *compartment.Floating) string {
	switch t.Verdict {
	case compartment.Sinks:
		if t.Aboard != nil {
			return "does not float with the water that is aboard"
		}
		return "does not float: it is heavier than the water it can displace, or finds no rest"
	case compartment.OnEnd:
		if t.Aboard != nil {
			return fmt.Sprintf("stands on end, its keel %s from the level", w.Angle(math.Abs(t.Trim)))
		}
		return "floats on end: its weight is far too much at one end"
	case compartment.KeelUp:
		return "floats keel up: its weight is too high"
	case compartment.Lolls:
		return fmt.Sprintf("lolls to %s: upright it is top-heavy by %s of GM; bring weight down", w.Angle(math.Abs(t.Heel)), w.Length(-t.GMUpright))
	case compartment.DeckUnder:
		return fmt.Sprintf("floats with its deck edge %s under water", w.Length(-t.Freeboard))
	case compartment.Lists:
		return fmt.Sprintf("floats heeled %s: its weight is %s off the middle", w.Heel(t.Heel), w.Length(math.Abs(t.Centre.Y)))
	case compartment.Tender:
		return fmt.Sprintf("floats upright, but is tender: GM %s, and it turns over past %s", w.Length(t.GMTransverse), w.Angle(t.RangeOfStability))
	}
	return fmt.Sprintf("floats upright and firm: GM %s, %s", w.Length(t.GMTransverse), w.comesBack(t))
}

// comesBack says from where it still rights itself.
func (w Words) comesBack(t *compartment.Floating) string {
	if t.RangeOfStability >= math.Pi {
		return "and it comes back from any heel that floods nothing"
	}
	return "and it comes back from " + w.Angle(t.RangeOfStability)
}

// ArmSide says what one side of a curve of righting arms comes to.
func (w Words) ArmSide(s compartment.ArmSide) string {
	if s.Range <= 0 || s.Most <= 0 {
		return "none"
	}
	text := fmt.Sprintf("greatest %s at %s", w.Length(s.Most), w.Heel(s.MostAt))
	if s.Range < math.Pi {
		text += fmt.Sprintf(", vanishes after %s", w.Angle(s.Range))
	}
	unit, per := "mm", 1e3
	if w.imperial() {
		unit, per = "in", 1/0.0254
	}
	return text + fmt.Sprintf(", area %.3g %s rad to 30°, %.3g to 40°, %.3g in all", per*s.Area30, unit, per*s.Area40, per*s.Area)
}

// Laid is a mass laid on for a trial, and where.
type Laid struct {
	Mass float64 // kg
	At   r3.Vec
}

// ParseLaid reads a mass laid on for a trial: `1.2 kg at 640 mm`, with the distance to port and the height over the keel line
// behind it where they are not nothing, `1.2 kg at 640 mm, 10 mm, 25 mm`.
func ParseLaid(text string) (Laid, error) {
	const want = "a mass and how far from the after end, such as 1.2 kg at 640 mm"
	mass, at, ok := strings.Cut(text, " at ")
	if !ok {
		return Laid{}, &trouble{what: quote(text) + " is not a mass at a place", want: want}
	}
	q, t := readQuantity(mass, []Kind{Mass})
	if t != nil {
		return Laid{}, t
	}
	if !(q.Value > 0) {
		return Laid{}, &trouble{what: quote(mass) + " is no mass to lay on", want: "more than nothing"}
	}
	l := Laid{Mass: q.Value}
	parts := strings.Split(at, ",")
	if len(parts) > 3 {
		return Laid{}, &trouble{what: quote(text) + " has more than three distances", want: want}
	}
	for i, into := range []*float64{&l.At.X, &l.At.Y, &l.At.Z}[:len(parts)] {
		if q, t = readQuantity(parts[i], []Kind{Length}); t != nil {
			return Laid{}, t
		}
		*into = q.Value
	}
	return l, nil
}

// Laid writes what is laid on.
func (w Words) Laid(l Laid) string {
	text := fmt.Sprintf("%s at %s", w.Mass(l.Mass), w.Length(l.At.X))
	if l.At.Y != 0 {
		text += fmt.Sprintf(", %s to port", w.Length(l.At.Y))
	}
	if l.At.Z != 0 {
		text += fmt.Sprintf(", %s above the keel line", w.Length(l.At.Z))
	}
	return text
}

// Aboard are rows on the waters that a body was floated with at a stage of a run.
func (w Words) Aboard(t *compartment.Floating) (rows [][]string) {
	for _, s := range t.Aboard {
		text := w.Volume(s.Volume)
		switch {
		case s.Open:
			text = "open to the sea, " + text + " in it"
		case s.Volume <= 0:
			text = "dry"
		}
		rows = append(rows, []string{"aboard in " + s.Name, text})
	}
	return rows
}
