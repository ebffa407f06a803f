package compartment

import "math"

// Verdict is what a float test comes to, the gravest first.
type Verdict string

// The verdicts.
const (
	Sinks     Verdict = "sinks"      // heavier than what it can displace, or without a rest
	OnEnd     Verdict = "on-end"     // |trim| > 60°
	KeelUp    Verdict = "keel-up"    // |heel| > 90°
	Lolls     Verdict = "lolls"      // upright is no rest: GM < 0 there
	DeckUnder Verdict = "deck-under" // the deck edge is in the water
	Lists     Verdict = "lists"      // heeled by a weight to one side
	Tender    Verdict = "tender"     // upright, but easily turned over
	Firm      Verdict = "upright"    // upright and firm
)

// Where a model is called heeled and where tender: common practice, no source. Half a degree is what an eye sees over the
// breadth of a model; a fiftieth of the breadth is the GM below which a finger's touch lays it over.
const (
	listSeen    = 0.5 * math.Pi / 180
	tenderGM    = 0.02 // of the breadth
	tenderRange = 30 * math.Pi / 180
)

// judge is the verdict on a body that floats.
func (t *Floating) judge(body *Body) Verdict {
	lo, hi := body.Form.Bounds()
	switch {
	case t.Pose.Steep():
		return OnEnd
	case math.Abs(t.Heel) > math.Pi/2:
		return KeelUp
	case !math.IsNaN(t.Loll) && math.Abs(t.Heel) > 1e-6:
		return Lolls
	case t.Freeboard < 0:
		return DeckUnder
	case math.Abs(t.Heel) > listSeen:
		return Lists
	case t.GMTransverse < tenderGM*(hi.Y-lo.Y), t.RangeOfStability < tenderRange:
		return Tender
	}
	return Firm
}
