package compartment

import "github.com/byhead/byhead/hydro"

// OpeningHeight is how high an opening's lowest point stands over the sea, m, negative below it. Name is empty where there
// is no such opening.
type OpeningHeight struct {
	Name   string
	Height float64
}

// lowestOpenings are the lowest of a body's listed openings to the outside, and the lowest of those that are clear of the
// water at a pose. Pumps do not count, nor what a joint keeps shut until it parts: nothing comes in there by itself.
func (v *Vessel) lowestOpenings(body *Body, p Pose) (lowest, dry OpeningHeight) {
	var view hydro.View
	lowest.Height, dry.Height = nan, nan
	for _, o := range v.Passages {
		if !v.leadsOutOf(body, o) {
			continue
		}
		o.Figure.View(p.Up, &view)
		height := view.Low - p.Sea
		if !(height >= lowest.Height) {
			lowest = OpeningHeight{o.Name, height}
		}
		if height >= 0 && !(height >= dry.Height) {
			dry = OpeningHeight{o.Name, height}
		}
	}
	return lowest, dry
}

// leadsOutOf tells whether a passage is a listed opening between a space of the body and the outside.
func (v *Vessel) leadsOutOf(body *Body, o *Passage) bool {
	if o.Listed == nil || o.Pump != 0 || o.Joint >= 0 || (o.From != Outside && o.To != Outside) {
		return false
	}
	inside := max(o.From, o.To)
	if piece := v.Spaces[inside].Piece; piece >= 0 {
		return piece >= body.First && piece <= body.Last
	}
	lo, hi := body.Form.Bounds() // a joint's plane divides the space: where the opening is, decides
	x := o.Figure.Centre().X
	return x >= lo.X-plateReach && x <= hi.X+plateReach
}

// plateReach is how far off the plate an opening's centre may be listed, m (the format's 5 mm).
const plateReach = 0.005
