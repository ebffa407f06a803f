package hydro

import "math"

// The expansion factor of air in an orifice, ISO 5167-2:2003 eq. 5 for a small hole in a large wall (β = 0):
// ε = 1 − 0.351·(1 − (p₂/p₁)^(1/κ)). The standard gives it for p₂/p₁ ≥ 0.75.
const (
	expansionLoss = 0.351
	isentropic    = 1.4 // κ of air
	// leastRatio is the p₂/p₁ below which ε stays what it is there, so that the flow rises with Δp all the way. No space of
	// a model comes near it.
	leastRatio = 0.2
)

// DensityAt is the air's density at its temperature under a gauge pressure, kg/m³: the ideal gas law.
func (a *Air) DensityAt(gauge float64) float64 { return a.Density * (1 + gauge/Atmosphere) }

// AirFlow is a flow of air through an opening, as mass, and how it follows levels and pressures.
type AirFlow struct {
	Rate   float64 // kg/s, from a to b
	ByA    float64 // derivative when Surface and Head of a rise together, kg/s/m
	ByB    float64 // the same for b
	ByAirA float64 // derivative when the air over a gains pressure and a's Head rises with it, its Surface staying, kg/s/Pa
	ByAirB float64 // the same for b
}

// gas is air that comes from one side: the local law of an opening for it.
type gas struct {
	creep    float64
	jet      float64 // AirJet × density at the source
	density  float64 // at the source
	pressure float64 // at the source, Pa absolute
}

// flux is a mass flux with its derivatives.
type flux struct {
	rate   float64 // kg/s/m²
	slope  float64 // by Δp with the source as it is
	source float64 // by the pressure of the source with Δp as it is
}

// flux is the mass flux under a pressure difference that is not negative: Δp = AirCreep·v + AirJet·ρ₁·(v/ε)², with v and ρ₁
// at the density of the side that the air comes from.
func (g *gas) flux(dp float64) flux {
	epsilon, bySlope, bySource := expansion(dp, g.pressure)
	l := law{g.creep, g.jet / (epsilon * epsilon)}
	v := l.speed(dp)
	stiff := l.slope(v)
	byJet := -v * v * stiff
	return flux{
		rate:   g.density * v,
		slope:  g.density * (stiff - byJet*2*l.jet*bySlope/epsilon),
		source: g.density * (v/g.pressure + byJet*l.jet*(1/g.pressure-2*bySource/epsilon)),
	}
}

// expansion is ε with its derivatives by Δp and by the pressure of the source.
func expansion(dp, source float64) (epsilon, byDrop, bySource float64) {
	ratio := 1 - dp/source
	if ratio < leastRatio {
		return 1 - expansionLoss*(1-math.Pow(leastRatio, 1/isentropic)), 0, 0
	}
	power := math.Pow(ratio, 1/isentropic)
	by := expansionLoss / isentropic * power / ratio
	return 1 - expansionLoss*(1-power), -by / source, by * dp / (source * source)
}

// Air is the flow of air through the figure in view, between the sides a and b: at each height the higher pressure drives
// what stands there on its side, and where that is air it is counted. Where air leaves into water, Bubbling is held back
// from the driving pressure, so that it begins once Δp at the upper edge of what is under water passes that, and ends there.
// A side that is full has no air of its own: its Air is not looked at.
//
// It is the same integral as for water and allocates nothing. An absolute pressure of a source that is not positive passes
// nothing.
func (o *Orifice) Air(v *View, w *Water, air *Air, a, b Side) AirFlow {
	p := breath{o: o, view: v, air: air, weight: w.Density * Gravity, mid: v.mid}
	flow := p.open(a, b)
	if a.Surface > b.Surface {
		bubbles := p.bubbles(b, a)
		flow.Rate -= bubbles.Rate
		flow.ByA, flow.ByB = flow.ByA-bubbles.ByB, flow.ByB-bubbles.ByA
		flow.ByAirA, flow.ByAirB = flow.ByAirA-bubbles.ByAirB, flow.ByAirB-bubbles.ByAirA
	} else if b.Surface > a.Surface {
		bubbles := p.bubbles(a, b)
		flow.Rate += bubbles.Rate
		flow.ByA, flow.ByB = flow.ByA+bubbles.ByA, flow.ByB+bubbles.ByB
		flow.ByAirA, flow.ByAirB = flow.ByAirA+bubbles.ByAirA, flow.ByAirB+bubbles.ByAirB
	}
	return flow
}

// breath is one evaluation of the air's flow.
type breath struct {
	o      *Orifice
	view   *View
	air    *Air
	weight float64 // ρg of the water
	mid    float64
}

// from is the gas that comes from a side.
func (p *breath) from(side Side) gas {
	density := p.air.DensityAt(side.Air)
	return gas{creep: p.o.AirCreep, jet: p.o.AirJet * density, density: density, pressure: Atmosphere + side.Air}
}

// open is the flow over the part of the figure that is dry on both sides, where Δp is the same all over.
func (p *breath) open(a, b Side) AirFlow {
	if a.Air < b.Air {
		back := p.open(b, a)
		return AirFlow{-back.Rate, -back.ByB, -back.ByA, -back.ByAirB, -back.ByAirA}
	}
	sill := math.Max(a.Surface, b.Surface) - p.mid
	area := p.view.area - p.view.below(sill)
	if g := p.from(a); area > 0 && g.density > 0 {
		f := g.flux(a.Air - b.Air)
		flow := AirFlow{Rate: area * f.rate, ByAirA: area * (f.slope + f.source), ByAirB: -area * f.slope}
		// The higher surface is the lower end of this part.
		if end := p.view.width(sill) * f.rate; a.Surface > b.Surface {
			flow.ByA = -end
		} else if b.Surface > a.Surface {
			flow.ByB = -end
		}
		return flow
	}
	return AirFlow{}
}

// bubbles is the flow from a dry side into a wet one over the heights between their surfaces; a is the dry side.
func (p *breath) bubbles(dry, wet Side) AirFlow {
	v, g := p.view, p.from(dry)
	if !(g.density > 0) || math.IsInf(dry.Surface, 1) {
		return AirFlow{}
	}
	d := drive{law: law{g.creep, g.jet}, weight: p.weight, up: true, gas: &g}
	d.zero = wet.Head - p.mid - (dry.Air-p.o.Bubbling)/p.weight
	surface, sill := wet.Surface-p.mid, dry.Surface-p.mid
	if v.shape == flat {
		push := d.at(0)
		if !(push > 0 && surface > 0 && sill <= 0) {
			return AirFlow{}
		}
		f := g.flux(push)
		return p.blown(spread{v.area * f.rate, v.area * f.slope, v.area * f.source}, 0, 0)
	}
	part := v.integrate(&d, math.Max(sill, d.zero), surface)
	return p.blown(part, v.throughAt(sill, &d), v.throughAt(surface, &d))
}

// blown puts the derivatives of bubbles together from those of the integral and the flow per height at its two ends.
func (p *breath) blown(part spread, atSill, atSurface float64) AirFlow {
	return AirFlow{
		Rate:   part.rate,
		ByA:    -atSill,
		ByB:    atSurface - part.slope*p.weight,
		ByAirA: part.slope + part.source,
		ByAirB: -part.slope,
	}
}
