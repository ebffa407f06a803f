package scenarios

import (
	"fmt"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"gonum.org/v1/gonum/spatial/r3"
)

// BallastEntry says what is to be laid and where, in one line.
func (w Words) BallastEntry(e *plan.Entry) string {
	weight := &e.Weight
	what := w.Mass(weight.Mass) + " of " + e.Material
	if q := e.Piece; q != nil {
		what = fmt.Sprintf("%d × %s (%s), in %s", e.Count, w.pieceWords(q), w.Mass(weight.Mass), layerWords(e.Layers))
	} else {
		what += fmt.Sprintf(", %s long, %s across, %s thick", w.Length(weight.Size[0]), w.Length(weight.Size[1]), w.Length(weight.Size[2]))
	}
	return fmt.Sprintf("%s: %s; its middle %s", e.Place, what, w.spot(weight.At))
}

func (w Words) pieceWords(q *plan.Piece) string {
	if q.Length == q.Breadth {
		return q.Name
	}
	return fmt.Sprintf("%s %s × %s, %s long", q.Name, w.Length(q.Breadth), w.Length(q.Height), w.Length(q.Length))
}

func layerWords(n int) string {
	if n == 1 {
		return "1 layer"
	}
	return fmt.Sprintf("%d layers", n)
}

// spot is a place in the hull.
func (w Words) spot(at r3.Vec) string {
	side := "on the middle line"
	switch {
	case at.Y > 5e-5:
		side = w.Length(at.Y) + " to port"
	case at.Y < -5e-5:
		side = w.Length(-at.Y) + " to starboard"
	}
	return fmt.Sprintf("%s from the after end, %s, %s above the keel line", w.Length(at.X), side, w.Length(at.Z))
}

// BallastLines are the entries as they go under `weights:`, to the micrometre and the milligram.
func BallastLines(entries []plan.Entry) string {
	var b strings.Builder
	for i := range entries {
		w := &entries[i].Weight
		fmt.Fprintf(&b, "  - {name: %s, mass: %s g, at: [%s], size: [%s], density: %s kg/m3}\n", w.Name, decimals(1000*w.Mass, 3),
			millimetres(w.At.X, w.At.Y, w.At.Z), millimetres(w.Size[0], w.Size[1], w.Size[2]), decimals(*w.Density, 1))
	}
	return b.String()
}

func millimetres(all ...float64) string {
	var words []string
	for _, x := range all {
		words = append(words, decimals(1000*x, 3)+" mm")
	}
	return strings.Join(words, ", ")
}

// BallastReason says why the wishes cannot be met, and what the builder can do. weights are those of the scenario.
func (w Words) BallastReason(weights []compartment.WeightSpec, p *plan.BallastPlan) string {
	s := &p.Short
	body := bodyWords(s.Of)
	switch p.Cause {
	case plan.TooHeavy:
		return fmt.Sprintf("%s is %s too heavy for these drafts without any ballast; take so much off, or let it float deeper",
			body, w.Mass(s.Mass))
	case plan.NoRoom:
		return fmt.Sprintf("the places hold %s less than %s needs for these drafts; more room, or a denser material", w.Mass(s.Mass), body)
	case plan.TopHeavy:
		return w.topHeavy(weights, p)
	case plan.TooCoarse:
		return "any amount of ballast would do it, but not whole pieces; smaller pieces, or a place for a little in bulk"
	}
	if s.Of == "" {
		return "the places do not reach to where the weight is needed; places nearer to it, and on both sides"
	}
	return fmt.Sprintf("%s needs %s with its centre %s, and the places do not reach so far; places nearer to it", body, w.Mass(s.Mass), w.spot(s.Centre))
}

// topHeavy tells by how much weights are too high, and what would mend it: the weight that stands highest over the
// ballast, for its mass, is the one to work on.
func (w Words) topHeavy(weights []compartment.WeightSpec, p *plan.BallastPlan) string {
	s := &p.Short
	text := fmt.Sprintf("%s is top-heavy: with the ballast as low as it can lie GM is %s, wished are %s; weights must come down by %s g·mm (grams times millimetres) together",
		bodyWords(s.Of), w.Length(s.GM), w.Length(s.Wanted), decimals(s.Moment*1e6, 0))
	low := ballastTop(p.Entries)
	var worst *compartment.WeightSpec
	for i := range weights {
		x := &weights[i]
		if x.At.Z > low && (worst == nil || x.Mass*(x.At.Z-low) > worst.Mass*(worst.At.Z-low)) {
			worst = x
		}
	}
	if worst == nil {
		return text + "; a broader hull or a deeper draft would help"
	}
	if down := s.Moment / worst.Mass; down < worst.At.Z-low {
		text += fmt.Sprintf("; lower %s by %s", worst.Name, w.Length(down))
	}
	if off := s.Moment / (worst.At.Z - low); off < worst.Mass {
		text += fmt.Sprintf("; or build it %s lighter and lay as much more ballast", w.Mass(off))
	} else {
		text += fmt.Sprintf("; %s alone cannot mend it; a broader hull or a deeper draft would help", worst.Name)
	}
	return text
}

// ballastTop is the height of the highest entry's top, m, where more of it would lie; 0 where there is none.
func ballastTop(entries []plan.Entry) (top float64) {
	for i := range entries {
		w := &entries[i].Weight
		top = max(top, w.At.Z+w.Size[2]/2)
	}
	return top
}

// BallastMiss says in one line which wish is not met.
func (w Words) BallastMiss(m plan.Miss) string {
	show := w.Length
	name := map[plan.Quantity]string{
		plan.DraftFore: "draft fore", plan.DraftAft: "draft aft", plan.GM: "GM", plan.Heel: "heel",
	}[m.Quantity]
	switch m.Quantity {
	case plan.Floats:
		return bodyWords(m.Of) + " does not float"
	case plan.Heel:
		show = w.Heel
	}
	return fmt.Sprintf("%s: %s %s, wished %s", bodyWords(m.Of), name, show(m.Reached), show(m.Wanted))
}
