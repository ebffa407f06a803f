package shoot

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Rules of thumb of ours, without a source.
const (
	depthMargin = 0.1 // of the depth that is reached, at least leastMargin
	leastMargin = 0.1 // m under the deepest point
	lineSlack   = 0.2 // of a line's length, for knots and hands
)

// breaking is how many times its load a line of fibre should bear: the working coefficient of textile slings, as a general rule 7
// (Directive 2006/42/EC on machinery, annex I, 4.1.2.5). It is for lifting gear; a model's line has the same hands under it.
const breaking = 7

// Site is the room that the day takes.
type Site struct {
	Given    float64 // m, depth of the pool by the scenario; +Inf: it gives none
	Depth    float64 // m that the pool should have at least
	Length   float64 // m clear along the hull
	Breadth  float64 // m clear across
	Sections []SectionSite
}

// SectionSite is what one body asks of the pool.
type SectionSite struct {
	Name     string
	Extent   float64 // m along its keel
	Reached  float64 // m below the sea, the deepest of it while a part was above
	At       float64 // s, when that was
	Steepest float64 // rad, between keel and level, until it went under
	Plunges  bool    // it goes under in a settled run, which knows no poses on the way: it may stand on end
	Across   float64 // m, what it measures across, weights and all, where it rolls over in a settled run, which knows no poses on the way; else 0
	Line     float64 // m from the floor, lying, to a hand at the middle of the clear area's long side, with slack; 0: it has none
	OnEnd    float64 // m the same to the upper end of it where it stands on end on the floor; 0: it has none
}

// need is how deep a section comes.
func (s *SectionSite) need() float64 {
	need := math.Max(s.Reached, s.Across)
	if s.Plunges {
		need = math.Max(need, s.Extent)
	}
	return need
}

// siteOf finds the room for what a run came to. Before the hull parts it may turn about its middle, and each section about either
// of its ends; all of that stays within the clear area, whichever way they turn.
func siteOf(v *compartment.Vessel, r *flood.Result, w *watch, settled bool) Site {
	site := Site{Given: v.Depth}
	lo, hi := v.Whole.Form.Bounds()
	beyond := (hi.X - lo.X) / 2
	sections := map[string]*flood.SectionResult{}
	for i := range r.Sections {
		sections[r.Sections[i].Name] = &r.Sections[i]
	}
	add := func(name string) {
		reach := w.reach[name]
		if reach == nil || reach.body == nil {
			return
		}
		low, high := reach.body.Form.Reach(r3.Vec{X: 1})
		s := SectionSite{Name: name, Extent: high - low, Reached: reach.depth, At: reach.time, Steepest: reach.steepest}
		if end := sections[name]; end != nil {
			s.Plunges = settled && !math.IsNaN(end.Foundered)
			if settled && end.Fate == flood.Capsizes {
				s.Across = reach.across()
			}
			beyond = math.Max(beyond, s.Extent)
		}
		site.Depth = math.Max(site.Depth, s.need())
		site.Sections = append(site.Sections, s)
	}
	for _, e := range r.Earlier {
		add(e.Name)
	}
	for i := range r.Sections {
		add(r.Sections[i].Name)
	}
	site.Depth += math.Max(leastMargin, depthMargin*site.Depth)
	site.Length, site.Breadth = hi.X-lo.X+2*beyond, hi.Y-lo.Y+2*beyond
	for i := range site.Sections {
		if s := &site.Sections[i]; sections[s.Name] != nil {
			s.Line = site.line(site.Water())
			s.OnEnd = site.line(math.Max(0, site.Water()-s.Extent))
		}
	}
	return site
}

// line is how long a line is from so far below the sea in the middle of the clear area to a hand on its long side.
func (s *Site) line(depth float64) float64 {
	return (1 + lineSlack) * math.Hypot(depth, s.Breadth/2)
}

// Water is the depth that lines are cut for: the pool's, else what it should have.
func (s *Site) Water() float64 {
	if math.IsInf(s.Given, 1) {
		return s.Depth
	}
	return s.Given
}

// Enough tells whether the pool of the scenario is deep enough; true where it gives none.
func (s *Site) Enough() bool { return s.Given >= s.Depth }
