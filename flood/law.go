package flood

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// Law is an opening's law of the caller's own, in the place of the one that the vessel gives it: other people's gates, valves and
// grilles. Where the opening is, and how it lies in the present attitude, is the vessel's.
//
// A Law is called by the goroutine that runs, and must answer the same to the same question.
type Law interface {
	// Water is the flow of water from a to b and how it follows the levels and pressures on the two sides. It must rise with the
	// head of a and fall with that of b.
	Water(v *hydro.View, a, b hydro.Side) hydro.Flow

	// Air is the same for air, as mass at the density on the side that it comes from.
	Air(v *hydro.View, a, b hydro.Side) hydro.AirFlow

	// Resistance is roughly what drives which flow: of water at the lowest point of the opening, of air at the highest. The
	// search for the flows goes along these parabolas; what it finds is Water and Air, whatever they are.
	Resistance() (water, air Resistance)
}

// Resistance is Δp = Linear·Q + Quadratic·Q|Q|, Q in m³/s, of air at one atmosphere. Both must be positive.
type Resistance struct {
	Linear    float64 // Pa·s/m³
	Quadratic float64 // Pa·s²/m⁶
}

// ownLaw takes a law of the caller's over into a port: its nominal speeds are then flows.
func (p *port) ownLaw(law Law) {
	p.own, p.breadth = law, 1
	water, air := law.Resistance()
	p.waterLaw, p.airLaw = parabola{water.Linear, water.Quadratic}, parabola{air.Linear, air.Quadratic}
	p.law.JetTension, p.law.Bubbling, p.law.Breaking = 0, 0, 0
}

// vesselsLaw takes the law of the vessel's opening.
func (p *port) vesselsLaw(airDensity float64) {
	l := &p.Law
	p.law, p.breadth = *l, p.Figure.Area()
	p.waterLaw, p.airLaw = parabola{l.Creep, l.Jet}, parabola{l.AirCreep, l.AirJet * airDensity}
}

// waterThrough is the flow of water between two sides.
func (p *port) waterThrough(w *hydro.Water, a, b hydro.Side) hydro.Flow {
	if p.own != nil {
		return p.own.Water(&p.view, a, b)
	}
	return p.law.Water(&p.view, w, a, b)
}

// airThrough is the flow of air between two sides.
func (p *port) airThrough(w *hydro.Water, air *hydro.Air, a, b hydro.Side) hydro.AirFlow {
	if p.own != nil {
		return p.own.Air(&p.view, a, b)
	}
	return p.law.Air(&p.view, w, air, a, b)
}

// checkLaws refuses laws for what is no opening, and such as no search can go along.
func (s Settings) checkLaws(v *compartment.Vessel) error {
	for name, law := range s.Laws {
		at := slices.IndexFunc(v.Passages, func(p *compartment.Passage) bool { return p.Name == name })
		if at < 0 || v.Passages[at].Pump != 0 {
			return fmt.Errorf("flood: a law for %q, which is no opening with an extent", name)
		}
		water, air := law.Resistance()
		for _, r := range [2]Resistance{water, air} {
			if !(r.Linear > 0 && r.Quadratic > 0) || math.IsInf(r.Linear+r.Quadratic, 0) {
				return fmt.Errorf("flood: the law for %q gives the resistance %g, %g; both must be positive", name, r.Linear, r.Quadratic)
			}
		}
	}
	return nil
}
