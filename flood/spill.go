package flood

import (
	"math"

	"github.com/byhead/byhead/hydro"
)

// spill is the flow of air, m³/s, between a bell whose water stands at a level and the outside, over the brow of its mouth, and how it
// follows level and sea; positive out. At a height z between level and sea air drives out water, or water air, under ρg(z − level), and
// over both air passes under the whole difference: with x the brow over the lower of them and y the part of it up to the higher,
//
//	Q = C_d W √(2ρg/ρ_air) (⅔ y^1.5 + (x − y) √y),
//
// the integral of Bernoulli's law over a straight brow W wide. W is the diameter of the circle of the mouth's area, whatever its figure
// and its slope: the air that leaves is what comes, and only the tenth of a millimetre that it stands under the brow depends on W.
// √y is straightened under evenHead of the hull's length, where the two waters are level.
func (r *Run) spillOver(p *port, level, sea float64) (rate, byLevel, bySea float64) {
	if level > sea {
		rate, bySea, byLevel = r.spillOver(p, sea, level)
		return -rate, -byLevel, -bySea
	}
	k := p.law.Cd * p.law.Width * math.Sqrt(2*r.weight/r.vessel.Air.Density)
	x, y := p.view.High-level, sea-level
	if x <= 0 {
		return 0, 0, 0
	}
	if x <= y {
		return k * 2 / 3 * x * math.Sqrt(x), -k * math.Sqrt(x), 0
	}
	even := evenHead * r.size
	root := y / math.Sqrt(y+even)
	slope := (y/2 + even) / ((y + even) * math.Sqrt(y+even))
	rise := k * (math.Sqrt(y) + (x-y)*slope) // of the flow with y, the brow's height over the sea as it is
	return k * (2./3*y*math.Sqrt(y) + (x-y)*root), -rise, rise - k*root
}

// evenHead of the hull's length is a difference of levels that is none.
const evenHead = 1e-6

// passMouth puts the flow of air over a brow into a port's streams.
func (r *Run) passMouth(p *port, from, to hydro.Side) {
	t := &p.air
	t.flow, t.byA, t.byB = r.spillOver(p, from.Surface, to.Surface)
}
