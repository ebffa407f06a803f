package validation

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// bell is an airtight box with a hole in its bottom.
func bell(length, breadth, depth, hole, density, celsius float64) compartment.Spec {
	return compartment.Spec{
		Water:        compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 273.15 + celsius, Density: &density, SurfaceTension: ptr(0.0)},
		Hull:         compartment.HullSpec{Box: &compartment.BoxSpec{Length: length, Breadth: breadth, Depth: depth}},
		Compartments: []compartment.CompartmentSpec{{Name: "bell", Airtight: true}},
		Openings:     []compartment.OpeningSpec{bored("mouth", "outside", "bell", r3.Vec{X: length / 2}, r3.Vec{Z: -1}, hole, 0.61)},
	}
}

// under holds a bell with its mouth at a depth to the end: the level over the mouth and the gauge pressure.
func (l *laws) under(s compartment.Spec, depth float64) (level, pressure float64) {
	l.run(l.build(s), flood.Settings{Motion: flood.Held, Keel: ptr(-depth), Until: 3000, Every: 3000, Tolerance: 1e-8,
		Samples: func(s *flood.Sample) { level, pressure = s.Spaces[0].Depth, s.Spaces[0].Air }})
	return level, pressure
}

// dived is the level in a bell whose air cools on its way down: it is as much less from the start, the rest is water.
func dived(height, depth, density, hot, cold float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		s := bell(1, 1, height, 0.1, density, cold)
		if share := 1 - (273.15+cold)/(273.15+hot); share > 0 {
			s.Compartments[0].Starts = &compartment.StartSpec{Share: &share}
		}
		level, _ := l.under(s, depth)
		return []float64{level}
	}
}

// exactBell is the air left in a bell, m, and its gauge pressure.
func exactBell(l *laws) []float64 {
	level, pressure := l.under(bell(3, 1.5, 3, 0.15, 1000, 15), 10)
	return []float64{3 - level, pressure}
}

// scaledBells are levels over the height, in %, of a bell of 10 m at 10 m and of one of 0.1 m at 0.1 m.
func scaledBells(l *laws) []float64 {
	large, _ := l.under(bell(10, 5, 10, 0.5, 1000, 15), 10)
	small, _ := l.under(bell(0.1, 0.05, 0.1, 0.005, 1000, 15), 0.1)
	return []float64{10 * large, 1000 * small}
}

// onTrappedAir is a box that floats on its air: gauge pressure, height of the air, freeboard.
func onTrappedAir(l *laws) []float64 {
	s := bell(0.1, 0.1, 0.15, 0.08, 1000, 15)
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: 0.5, At: r3.Vec{X: 0.05, Z: 0.01}}}
	var out []float64
	l.run(l.build(s), flood.Settings{Until: 100, Every: 100, Tolerance: 1e-9, Samples: func(s *flood.Sample) {
		out = []float64{s.Spaces[0].Air, 0.15 - s.Spaces[0].Depth, s.Bodies[0].Freeboard}
	}})
	return out
}

// bubbling is what holes hold back of bubbles under water at 20 °C.
func bubbling(l *laws, law func(d float64, w hydro.Water) hydro.Orifice, widths ...float64) []float64 {
	w := l.fresh(20)
	return each(func(d float64) float64 { return law(d, w).Bubbling }, widths...)
}

// rise is the height to which a wetting liquid rises in a bore, mm: 4σ/d over its weight.
func rise(d, sigma, weight float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		w := hydro.Water{Density: weight / gravity, SurfaceTension: sigma}
		return []float64{1e3 * l.hole(d, 0, hydro.Sharp, 0.6, w, hydro.Air{}).Bubbling / weight}
	}
}

// expansion is ε of a sharp hole: the flow of air from 100 to 99 kPa over that of a fluid of one density.
func expansion(l *laws) []float64 {
	const p1, p2 = 100e3 - hydro.Atmosphere, 99e3 - hydro.Atmosphere
	a := l.airAt(293.15)
	o := l.hole(1e-3, 0, hydro.Sharp, 0.6, still, hydro.Air{Density: a.Density})
	rate := airThrough(o, 1e-3, a, p1, p2)
	area := math.Pi / 4 * 1e-6
	return []float64{rate / (0.6 * area * math.Sqrt(2*a.DensityAt(p1)*(p1-p2)))}
}

// airThrough is the mass flow of air through a round hole between two gauge pressures.
func airThrough(o hydro.Orifice, d float64, a hydro.Air, from, to float64) float64 {
	var v hydro.View
	hydro.Circle(r3.Vec{}, upright, d).View(r3.Vec{Z: 1}, &v)
	return o.Air(&v, &still, &a, hydro.Side{Surface: math.Inf(-1), Air: from}, hydro.Side{Surface: math.Inf(-1), Air: to}).Rate
}

// vent is the flow of air through a hole of 0.8 mm without viscosity, C_d 0.6, in 1e-6 kg/s.
func vent(drops ...float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		a := l.airAt(293.15)
		o := l.hole(0.8e-3, 0, hydro.Sharp, 0.6, still, hydro.Air{Density: a.Density})
		return each(func(dp float64) float64 { return 1e6 * airThrough(o, 0.8e-3, a, dp, 0) }, drops...)
	}
}

// choked is the coefficient of a sharp hole on the choked nozzle at the critical ratio of pressures.
func choked(l *laws) []float64 {
	const ratio, critical = 0.528282, 0.684731
	a := l.airAt(293.15)
	o := l.hole(1e-3, 0, hydro.Sharp, 0.61, still, hydro.Air{Density: a.Density})
	p1 := hydro.Atmosphere/ratio - hydro.Atmosphere
	area := math.Pi / 4 * 1e-6
	return []float64{airThrough(o, 1e-3, a, p1, 0) / (area * critical * math.Sqrt(a.DensityAt(p1)*hydro.Atmosphere/ratio))}
}

// gulping is the flow each way through a flat hole with water over air, over √g·d^2.5.
func gulping(l *laws) []float64 {
	const d = 0.03
	a, w := l.airAt(293.15), l.fresh(20)
	o := l.hole(d, 1e-3, hydro.Sharp, nan, w, a)
	var v hydro.View
	hydro.Circle(r3.Vec{}, r3.Vec{Z: 1}, d).View(r3.Vec{Z: 1}, &v)
	return []float64{o.Exchange(&v, &w, &a, hydro.Side{Surface: 0.2}, dryside).Water / (math.Sqrt(gravity) * math.Pow(d, 2.5))}
}

var airChecks = []check{
	{"AI-01", "0.52 m³ of air from 2.3e5 to 6.7e5 Pa, as a bell from 1 to as many atmospheres: what is left", "Matyáka, Concise Physics, ex. 6.4, " + tri, read, "0.179", "m³", printed(3), toPrint,
		func(l *laws) []float64 {
			depth := hydro.Atmosphere*(6.7/2.3-1)/(1000*gravity) + 0.52*(1-2.3/6.7)
			return []float64{0.52 - dived(0.52, depth, 1000, 15, 15)(l)[0]}
		}},
	{"AI-03", "diving bell of 2.50 m at 82.3 m, sea water, cooling from 20 to 4 °C: rise of the water", "Serway & Jewett, 6th ed., ch. 19 no. 44", computed, "2.236", "m", printed(3), toPrint, dived(2.5, 82.3, 1025, 20, 4)},
	{"AI-05", "diving bell of 4.0 m at 220 m, 25 to 5 °C: rise of the water", "problem text (scholaranswer.com)", computed, "3.83", "m", printed(2), toPrint, dived(4, 220, 1025, 25, 5)},
	{"AI-06", "bell of 3 m, its mouth at 10 m: air, gauge pressure", "Boyle and hydrostatics, a quadratic", closed, "1.634288 / 84673.4", "m; Pa", share(1e-6), toPrint, exactBell},
	{"AI-08", "water in a bell of 10 m at 10 m, and of 0.1 m at 0.1 m, share of the height", "the same", closed, "37.64 / 0.95", "%", printed(2), toPrint, scaledBells},
	{"AI-09", "box of 0.5 kg, 0.01 m² and 150 mm afloat on its air: pressure, air, freeboard", "the same", closed, "490.33 / 0.149278 / 0.099278", "Pa; m; m", share(1e-5), toPrint, onTrappedAir},
	{"AI-11", "bubble point at 0.3, 0.5, 0.8, 1, 2 mm, water 20 °C", "4γ/d: Washburn; ISO 4003, ASTM F316", computed, "969.8 / 581.9 / 363.7 / 290.9 / 145.5", "Pa", plain(0.06), toPrint, func(l *laws) []float64 {
		return bubbling(l, func(d float64, w hydro.Water) hydro.Orifice { return l.hole(d, 0, hydro.Sharp, 0.6, w, hydro.Air{}) }, 0.3e-3, 0.5e-3, 0.8e-3, 1e-3, 2e-3)
	}},
	{"AI-13", "the same of slots of 0.2, 0.5, 1.2 mm", "2γ/w: Laplace", closed, "727 / 291 / 121", "Pa", plain(0.51), toPrint, func(l *laws) []float64 {
		return bubbling(l, func(d float64, w hydro.Water) hydro.Orifice { return l.slot(0.02, d, 0, 0.6, w, hydro.Air{}) }, 0.2e-3, 0.5e-3, 1.2e-3)
	}},
	{"AI-14", "capillary rise in 2 mm, σ 0.073 N/m, 9810 N/m³", "Choudhary ex. 2.6, " + tri, read, "14.88", "mm", printed(2), toPrint, rise(2e-3, 0.073, 9810)},
	{"AI-16", "capillary rise in 0.3 mm, σ 0.0735 N/m", "Das, Fluid Mechanics, ex. 1.7, " + tri, read, "99.898", "mm", share(4e-4), "the source's weight of water is rounded", rise(0.3e-3, 0.0735, 9810)},
	{"AI-17", "pressure in a bubble of 1 mm radius in water, σ 72.7 mN/m", "Douglas et al. ex. 1.1, " + tri, read, "145.4", "Pa", printed(1), toPrint, func(l *laws) []float64 {
		return []float64{l.hole(2e-3, 0, hydro.Sharp, 0.6, hydro.Water{Density: 1000, SurfaceTension: 72.7e-3}, hydro.Air{}).Bubbling}
	}},
	{"AI-18", "capillary length of water at 20 °C, from the widest hole that holds water up (3.83 of them)", "√(γ/ρg)", closed, "2.726", "mm", printed(3), toPrint, func(l *laws) []float64 {
		return []float64{1e3 * hydro.HeldWidth(l.fresh(20)) / 7.66}
	}},
	{"DI-08", "expansion factor of air through a sharp hole from 100 to 99 kPa (the source's β is 0.30, ours 0)", "ISO 5167-2:2003 eq. 5, in CalebBell/fluids", read, "0.9974739", "", plain(2e-5), "β⁴ is 0.008, its part of the loss 0.6 %", expansion},
	{"DI-09", "the same, older form", "ISO 5167-1:1991, in CalebBell/fluids", read, "0.9970511", "", plain(5e-4), "two editions of one thing", expansion},
	{"DI-49", "sharp hole at the critical ratio 0.528282, coefficient on the choked nozzle (C* 0.684731, ISO 9300)", "Perry's measurements, Trans. ASME 71 (1949) 757", memory, "0.75", "", plain(0.01), "two digits", choked},
	{"DI-50", "air through 0.8 mm, C_d 0.6, 20 °C, 100 and 1000 Pa, as an isentropic nozzle", "isentropic nozzle × C_d", closed, "4.6801 / 14.7950", "1e-6 kg/s", share(0.003), "a sharp hole loses less to expansion than a nozzle: 0.03 % and 0.28 %", vent(100, 1000)},
	{"MT-10", "mean flow of a bottle that empties by gulps over √g·d^2.5", "Clanet & Searby, J. Fluid Mech. 510 (2004) 145 (existence read)", memory, "0.262", "", share(0.002), "three digits", gulping},
}
