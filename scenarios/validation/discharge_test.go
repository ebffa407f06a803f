package validation

import (
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// Openings alone, without a vessel. Textbooks take their own g and coefficient and leave viscosity and surface tension out: so do
// these, by ideal and scaled. Lengths in feet stay feet: the law knows no units.

var (
	upright = r3.Vec{X: 1} // the normal of a figure in a wall
	dryside = hydro.Side{Surface: math.Inf(-1)}
	still   = hydro.Water{Density: 1000, Viscosity: 1e-3}
	nan     = math.NaN()
)

// ideal is the law of a textbook: a coefficient and nothing else.
func (l *laws) ideal(cd float64) hydro.Orifice {
	jet := still.Density / (2 * cd * cd)
	return l.law(hydro.Orifice{Creep: hydro.MinimumCreep(jet), Jet: jet, Cd: cd})
}

func (l *laws) hole(diameter, wall float64, rim hydro.Rim, cd float64, w hydro.Water, a hydro.Air) hydro.Orifice {
	return l.law(hydro.HoleLaw(diameter, wall, rim, cd, w, a))
}

func (l *laws) slot(length, width, wall, cd float64, w hydro.Water, a hydro.Air) hydro.Orifice {
	return l.law(hydro.SlotLaw(length, width, wall, hydro.Sharp, cd, w, a))
}

// scaled turns a flow under our g into one under another: free flows go with its root.
func scaled(flow, g float64) float64 { return flow * math.Sqrt(g/gravity) }

// level is a side whose water stands at a height, open to the air.
func level(z float64) hydro.Side { return hydro.Side{Surface: z, Head: z} }

// through is the flow of water through an upright figure from a to b.
func through(o hydro.Orifice, f *hydro.Figure, a, b hydro.Side) float64 {
	var v hydro.View
	f.View(r3.Vec{Z: 1}, &v)
	return o.Water(&v, &still, a, b).Rate
}

// gate is an upright rectangle of a breadth between two heights.
func gate(breadth, low, high float64) *hydro.Figure {
	return hydro.Rectangle(r3.Vec{Z: (low + high) / 2}, upright, r3.Vec{Y: 1}, breadth, high-low)
}

// freely is the flow through a gate between depths, with a coefficient and a g, into the air or against a depth.
func freely(cd, breadth, from, to, against, g float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		b := dryside
		if !math.IsInf(against, 1) {
			b = level(-against)
		}
		return []float64{scaled(through(l.ideal(cd), gate(breadth, -to, -from), level(0), b), g)}
	}
}

// crested is the flow over the crest of a gate of a breadth under a head.
func crested(cd, breadth, head, g float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		return []float64{scaled(through(l.ideal(cd), gate(breadth, 0, 5), level(head), dryside), g)}
	}
}

// notched is the flow over a V-notch of 90° under heads, times a factor.
func notched(cd, lengthened, g, factor float64, heads ...float64) func(*laws) []float64 {
	notch := hydro.Face([][]r3.Vec{{{}, {Y: 2, Z: 2}, {Y: -2, Z: 2}}}, upright)
	return func(l *laws) []float64 {
		return each(func(h float64) float64 {
			return factor * scaled(through(l.ideal(cd), notch, level(h+lengthened), dryside), g)
		}, heads...)
	}
}

// bulkhead is the flow over an edge of full width whose foot is p below it.
func bulkhead(breadth, p, head, g float64) func(*laws) []float64 {
	gap := []r3.Vec{{Y: -breadth / 2}, {Y: breadth / 2}, {Y: breadth / 2, Z: 50}, {Y: -breadth / 2, Z: 50}}
	wall := []r3.Vec{{Y: -breadth / 2, Z: -p}, {Y: breadth / 2, Z: -p}, {Y: breadth / 2}, {Y: -breadth / 2}}
	return func(l *laws) []float64 {
		f := hydro.Edge([][]r3.Vec{gap}, [][]r3.Vec{wall}, upright)
		o := l.law(hydro.EdgeLaw(f.Area(), nan, hydro.Water{Density: still.Density}, hydro.Air{}))
		return []float64{scaled(through(o, f, level(head), dryside), g)}
	}
}

// coefficient is C_d by a wall's thickness over the diameter: what a law passes at a high Reynolds number.
func coefficient(rim hydro.Rim, lengths ...float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		return each(func(length float64) float64 {
			o := l.hole(1, length, rim, nan, hydro.Water{Density: 1000}, hydro.Air{})
			return math.Sqrt(1000 / 2 / o.Jet)
		}, lengths...)
	}
}

func same(f func(*laws) []float64, n int) func(*laws) []float64 {
	return func(l *laws) (out []float64) {
		for range n {
			out = append(out, f(l)...)
		}
		return out
	}
}

// speed is the flow over the area under a pressure difference.
func speed(o hydro.Orifice, dp float64) float64 {
	return 2 * dp / (o.Creep + math.Sqrt(o.Creep*o.Creep+4*o.Jet*dp))
}

// atReynolds is C_d of a hole 1 mm across at Reynolds numbers of the ideal speed √(2Δp/ρ).
func atReynolds(length float64, numbers ...float64) func(*laws) []float64 {
	const d = 1e-3
	return func(l *laws) []float64 {
		o := l.hole(d, length*d, hydro.Sharp, nan, still, hydro.Air{})
		return each(func(re float64) float64 {
			u := re * still.Viscosity / (still.Density * d)
			return speed(o, still.Density*u*u/2) / u
		}, numbers...)
	}
}

// atJetReynolds is C_d of the same by Reynolds numbers of the flow over the area.
func atJetReynolds(numbers ...float64) func(*laws) []float64 {
	const d = 1e-3
	return func(l *laws) []float64 {
		o := l.hole(d, 0, hydro.Sharp, nan, still, hydro.Air{})
		return each(func(re float64) float64 {
			v := re * still.Viscosity / (still.Density * d)
			return v / math.Sqrt(2*(o.Creep*v+o.Jet*v*v)/still.Density)
		}, numbers...)
	}
}

// creeping is the flow per pascal at a millionth of one, where the jet is no part of a million; the rows' water has 1001.6 µPa·s.
func creeping(area float64, law func(*laws, hydro.Water) hydro.Orifice) func(*laws) []float64 {
	return func(l *laws) []float64 {
		w := l.fresh(20)
		w.SurfaceTension, w.Viscosity = 0, 1001.6e-6
		return []float64{area * speed(law(l, w), 1e-6) / 1e-6}
	}
}

// dagan is C_d over the Reynolds number of the ideal speed at rest.
func dagan(l *laws) []float64 {
	return each(func(length float64) float64 {
		o := l.hole(1e-3, length*1e-3, hydro.Sharp, nan, still, hydro.Air{})
		u := math.Sqrt(2 * 1e-6 / still.Density)
		return speed(o, 1e-6) / u / (still.Density * u * 1e-3 / still.Viscosity)
	}, 0.5, 1, 2, 4)
}

// headed is the flow through a figure one across over the ideal one at its centre, for heads over it in such units.
func headed(f *hydro.Figure) func(*laws) []float64 {
	return func(l *laws) []float64 {
		return each(func(h float64) float64 {
			return through(l.ideal(1), f, level(h), dryside) / (f.Area() * math.Sqrt(2*gravity*h))
		}, 0.5, 0.6, 0.75, 1, 2, 5)
	}
}

// villemonte is the flow over a drowned edge over that with dry foot, for heights behind it in heights before it.
func villemonte(l *laws) []float64 {
	gap := []r3.Vec{{Y: -0.5}, {Y: 0.5}, {Y: 0.5, Z: 50}, {Y: -0.5, Z: 50}}
	wall := []r3.Vec{{Y: -0.5, Z: -1}, {Y: 0.5, Z: -1}, {Y: 0.5}, {Y: -0.5}}
	f := hydro.Edge([][]r3.Vec{gap}, [][]r3.Vec{wall}, upright)
	o := l.law(hydro.EdgeLaw(f.Area(), nan, hydro.Water{Density: still.Density}, hydro.Air{}))
	return each(func(x float64) float64 {
		return through(o, f, level(0.1), level(0.1*x)) / through(o, f, level(0.1), dryside)
	}, 0.25, 0.5, 0.75, 0.9)
}

// round is the flow through a round hole under a head.
func round(cd, d, head, g float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		return []float64{scaled(through(l.ideal(cd), hydro.Circle(r3.Vec{}, upright, d), level(head), dryside), g)}
	}
}

// drownedCrest is DI-46: the free part with one coefficient, the drowned one with another.
func drownedCrest(l *laws) []float64 {
	both := scaled(through(l.ideal(0.58), gate(6, 0, 5), level(0.5), level(0.25)), 32.2)
	drowned := scaled(through(l.ideal(0.8), gate(6, 0, 0.25), level(0.5), level(0.25)), 32.2)
	return []float64{both - drowned*0.58/0.8, drowned}
}

// printf writes numbers as a source would.
func printf(format string, xs ...float64) string {
	var out []string
	for _, x := range xs {
		out = append(out, fmt.Sprintf(format, x))
	}
	return strings.Join(out, " / ")
}

const (
	paper     = "the paper's own 0.02, and half a digit"
	profile   = "ours lacks the growth of the tube's profile; the paper claims 0.02"
	roundOnly = "ours has the coefficient of a round hole for every shape"
	tabled    = "exact: the table is this source's"
	nowhere   = "the value of a wall of any thickness is 0.61"
	toPrint   = "as printed"
	quadrat   = "the integral over the extent is exact; the digits printed"
)

var (
	air = math.Inf(1) // against the air
	tri = "in Scilab_TBC"
)

var dischargeChecks = []check{
	{"DI-05", "sharp hole, small in a large wall, Re → ∞", "ISO 5167-2:2003", computed, "0.5961", "", share(0.025), "the handbooks' two digits are 0.61, the standard's 0.5 % are for pipes",
		coefficient(hydro.Sharp, 0)},
	{"DI-11", "jet out of a slot in a wall, π/(π+2)", "Kirchhoff 1869 (Lamb, Hydrodynamics, §75)", closed, "0.611015", "", plain(0.0015), "the table has it to two digits", coefficient(hydro.Sharp, 0)},
	{"DI-13", "round hole of 0.196 in² under 1, 2, 4, 6, 8, 10, 20 ft", "Bovey's measurements, Encyclopædia Britannica 11th ed., Hydraulics §17", read,
		"0.620 / 0.613 / 0.608 / 0.607 / 0.606 / 0.605 / 0.603", "", share(0.02), "one coefficient for all heads, the middle of these", same(coefficient(hydro.Sharp, 0), 7)},
	{"DI-14", "square hole of that area", "the same", read, "0.627 / 0.620 / 0.616 / 0.614 / 0.613 / 0.612 / 0.609", "", share(0.03), roundOnly, same(coefficient(hydro.Sharp, 0), 7)},
	{"DI-15", "rectangle 4 : 1 of that area, upright", "the same", read, "0.642 / 0.634 / 0.628 / 0.626 / 0.623 / 0.622 / 0.620", "", share(0.055), roundOnly, same(coefficient(hydro.Sharp, 0), 7)},
	{"DI-16", "rectangle 16 : 1 of that area, upright", "the same", read, "0.663 / 0.650 / 0.641 / 0.637 / 0.634 / 0.632 / 0.629", "", share(0.085), roundOnly, same(coefficient(hydro.Sharp, 0), 7)},
	{"DI-18", "round hole of 1 in under 1 ft, of 3 in under 4 ft", "Unwin's fit to Mair's measurements, Encyclopædia Britannica 11th ed.", computed,
		printf("%.4f", 0.6075+0.0098-0.0037, 0.6075+0.0098/2-0.0037*3), "", share(0.02), "one coefficient for all", same(coefficient(hydro.Sharp, 0), 2)},
	{"DI-19", "short cylindrical mouthpiece", "Molesworth's Pocket-book, p. 244", read, "0.81", "", printed(2), toPrint, coefficient(hydro.Tube, 0)},
	{"DI-20", "sharp hole; rounded; short tube (l/d 2)", "handbook values of an open thermal-hydraulics library", read, "0.61 / 0.98 / 0.81", "", printed(2), toPrint, func(l *laws) []float64 {
		return append(append(coefficient(hydro.Sharp, 0)(l), coefficient(hydro.Rounded, 0)(l)...), coefficient(hydro.Sharp, 2)(l)...)
	}},
	{"DI-21", "long sharp-edged hole, l/d 2, 4, 10, high Re", "Lichtarowicz, Duggins & Markland, J. Mech. Eng. Sci. 7 (1965) 210, eq. 7", read, "0.8100 / 0.7930 / 0.7420", "", printed(4), tabled,
		coefficient(hydro.Sharp, 2, 4, 10)},
	{"DI-22", "the same, l/d 2, Re 100, 1000, 1e4, 2e4", "the same, eq. 12", read, "0.4284 / 0.7446 / 0.8081 / 0.8088166", "", plain(0.02005), paper, atReynolds(2, 100, 1000, 1e4, 2e4)},
	{"DI-23a", "the same, l/d 4, Re 100, 1000, 5000", "the same, eq. 12", computed, "0.3067 / 0.6860 / 0.7793", "", plain(0.02005), paper, atReynolds(4, 100, 1000, 5000)},
	{"DI-23b", "the same, l/d 10", "the same, eq. 12", computed, "0.1654 / 0.5526 / 0.7158", "", plain(0.027), profile, atReynolds(10, 100, 1000, 5000)},
	{"DI-25", "short tube by the loss of Borda and Carnot, C_c 0.61", "1/√(1 + (1/C_c − 1)²)", closed, "0.8425", "", share(0.04), "ideal, without the friction that a measured tube has", coefficient(hydro.Tube, 0)},
	{"DI-26", "cylindrical mouthpiece by the same loss, C_c 0.64", "Lewitt, Hydraulics, ex. 4.12, " + tri, read, "0.872", "", share(0.075), "ideal; C_c of a sharp hole is 0.61", coefficient(hydro.Tube, 0)},
	{"DI-28", "mouthpiece of 2 in under 12 ft, C_v 0.833", "Lal, Hydraulics, ex. 3.4, " + tri, read, "0.505", "ft³/s", printed(3), toPrint, round(0.833, 2.0/12, 12, 32.2)},
	{"DI-29", "round hole of 50 mm under 12 m, C_d 0.6", "Das, Fluid Mechanics, ex. 8.1, " + tri, read, "0.0180768", "m³/s", share(5e-6), toPrint, round(0.6, 0.05, 12, 9.81)},
	{"DI-30", "the flow of a hole of 120 mm under 10 m of which C_d 0.6198 was found", "Sarkar, Fluid Mechanics, ex. 4.2, " + tri, read, "0.0982", "m³/s", share(6e-4), "three digits printed", round(0.6198, 0.12, 10, 9.81)},
	{"DI-31", "upright opening 4 ft wide from 2 to 4 ft deep, C_d 0.62", "Lewitt, Hydraulics, ex. 4.2, " + tri, read, "68.6", "ft³/s", printed(1), toPrint, freely(0.62, 4, 2, 4, air, 32.2)},
	{"DI-32", "the same kind, 1.6 m, 1.5 to 2.75 m, C_d 0.6", "Choudhary & Om Prakash ex. 6.13, " + tri, read, "7.720", "m³/s", printed(3), toPrint, freely(0.6, 1.6, 1.5, 2.75, air, 9.81)},
	{"DI-33", "the same kind, 3 ft, 9 to 18 in, C_d 0.62", "Lal, Hydraulics, ex. 3.14, " + tri, read, "11.82", "ft³/s", printed(2), toPrint, freely(0.62, 3, 0.75, 1.5, air, 32.2)},
	{"DI-34", "drowned opening 1.6 × 1.25 m, level difference 1.2 m, C_d 0.6", "Choudhary ex. 6.14 as its companion corrects it, " + tri, read, "5.823", "m³/s", printed(3), toPrint, freely(0.6, 1.6, 2, 3.25, 1.2, 9.81)},
	{"DI-35", "opening 1.6 m wide, 2 to 3.25 m deep, its lower 0.8 m drowned, C_d 0.6", "Choudhary ex. 6.15, " + tri, read, "8.178", "m³/s", printed(3), toPrint, freely(0.6, 1.6, 2, 3.25, 2.45, 9.81)},
	{"DI-37", "opening 2 m wide, 4 to 7 m deep, free to 4.8 m, C_d 0.62", "Sarkar ex. 4.6, " + tri, read, "35.687", "m³/s", printed(3), toPrint, freely(0.62, 2, 4, 7, 4.8, 9.81)},
	{"DI-38", "circle, Q/(A√(2gH)) at H/D 0.5, 0.6, 0.75, 1, 2, 5", "quadrature by a second hand", closed, "0.960337 / 0.975132 / 0.984969 / 0.991854 / 0.998027 / 0.999687", "", plain(1.1e-6), quadrat,
		headed(hydro.Circle(r3.Vec{}, upright, 1))},
	{"DI-39", "square, the same", "⅔[(r+½)^1.5 − (r−½)^1.5]/√r", closed, "0.942809 / 0.965721 / 0.979604 / 0.989043 / 0.997365 / 0.999583", "", plain(1.1e-6), quadrat, headed(gate(1, -0.5, 0.5))},
	{"DI-40", "weir across a channel, h 0.3, p 0.4, b 2 m", "ISO 1438 (Kindsvater and Carter), in CalebBell/fluids", read, "0.641560", "m³/s", share(0.015), "the standard's 1.5 %; ours leaves out its millimetre on head and breadth",
		bulkhead(2, 0.4, 0.3, gravity)},
	{"DI-41", "the same weir", "Rehbock 1929, ISO 1438, in CalebBell/fluids", read, "0.6486856", "m³/s", share(0.02), "another formula of the same standard, 1 % from the first", bulkhead(2, 0.4, 0.3, gravity)},
	{"DI-42", "V-notch of 90° under 0.1 and 0.2 m, C_e 0.578", "ISO 1438", computed, "4.410 / 24.682", "l/s", plain(0.0012), toPrint, notched(0.578, 0.85e-3, gravity, 1000, 0.1, 0.2)},
	{"DI-43", "V-notch of 90° under 0.36 m, C_d 0.62", "Sarkar ex. 5.3, " + tri, read, "113.893", "l/s", printed(3), toPrint, notched(0.62, 0, 9.81, 1000, 0.36)},
	{"DI-44a", "weir of 7.573 ft under 1.2 ft, C_d 0.62", "Lal ex. 4.5, " + tri, read, "33.02", "ft³/s", printed(2), toPrint, crested(0.62, 7.573, 1.2, 32.2)},
	{"DI-44b", "the same, p 2.85 ft, by the formulas of Francis, Bazin, Rehbock", "Lal ex. 4.5, " + tri, read, "33.15 / 33.01 / 34.12", "ft³/s", share(0.025),
		"they stand 3.4 % apart, ours among them", same(bulkhead(7.573, 2.85, 1.2, 32.2), 3)},
	{"DI-45", "weir of 4 m under 0.2 m, C_d 0.62", "Sarkar ex. 5.9, " + tri, read, "0.65502", "m³/s", printed(5), toPrint, crested(0.62, 4, 0.2, 9.81)},
	{"DI-46", "drowned weir of 6 ft, 0.5 and 0.25 ft over it: free part with C_d 0.58, drowned part with 0.8", "Lal ex. 4.14, " + tri, read, "2.3272 / 4.8150", "ft³/s", plain(2e-4), "the source rounds its steps", drownedCrest},
	{"DI-47", "drowned edge over a free one, h₂/h₁ 0.25, 0.5, 0.75, 0.9: (1 − (h₂/h₁)^1.5)^0.385", "Villemonte, Eng. News-Rec. 1947", computed, "0.9499 / 0.8454 / 0.6679 / 0.4770", "", share(0.06),
		"his 5 %, from memory, and what our coefficient changes by", villemonte},
	{"DI-48", "ideal sharp crest 1 m wide under 1.7 m, 2.95246 H^1.5", "⅔√(2g)", closed, printf("%.5f", 2.95246*math.Pow(1.7, 1.5)), "m³/s", share(3e-6), quadrat, crested(1, 1, 1.7, gravity)},
	{"DI-52", "round hole of 0.5 mm in a thin plate, Re → 0, water 20 °C, 1 Pa", "Sampson 1891; Happel & Brenner §4-29", computed, "5.2000e-9", "m³/s", share(3e-5), toPrint,
		creeping(math.Pi/4*0.25e-6, func(l *laws, w hydro.Water) hydro.Orifice { return l.hole(0.5e-3, 0, hydro.Sharp, nan, w, hydro.Air{}) })},
	{"DI-53", "C_d/Re at Re → 0, l/d 0.5, 1, 2, 4", "Dagan, Weinbaum & Pfeffer, J. Fluid Mech. 115 (1982) 505", computed, "0.01435 / 0.00983 / 0.00604 / 0.00340", "", plain(0.6e-5), toPrint, dagan},
	{"DI-55", "sharp hole at Re_d 10, 100, 1000", "Johansen, Proc. Roy. Soc. A126 (1930) 231, middle of the ranges", memory, "0.55 / 0.72 / 0.65", "", share(0.3),
		"known weakness: ours has no hump near Re 200; the values are not verified", atJetReynolds(10, 100, 1000)},
	{"DI-56a", "tube by entrance losses K 0.5 and 0.57", "Crane TP-410; Rennels, in CalebBell/fluids", read, printf("%.4f", 1/math.Sqrt(1.5), 1/math.Sqrt(1.57)), "", share(0.016), "the two are 2.3 % apart", same(coefficient(hydro.Tube, 0), 2)},
	{"DI-56b", "bell mouth by K 0.04", "Crane TP-410", computed, printf("%.4f", 1/math.Sqrt(1.04)), "", share(0.001), "two digits of K", coefficient(hydro.Rounded, 0)},
	{"DI-57", "thin plate between two large rooms, ζ 2.914", "Idelchik diagram 4-9 (form)", computed, printf("%.4f", 1/math.Sqrt(2.914)), "", share(0.045), "sources of the thin hole stand so far apart", coefficient(hydro.Sharp, 0)},
	{"DI-58", "slit of 0.3 mm in a thin plate, Re → 0, water 20 °C, 1 Pa, per metre", "Hasimoto, J. Phys. Soc. Japan 13 (1958) 633", computed, "8.8216e-6", "m³/s", share(3e-5), toPrint,
		creeping(0.3e-3, func(l *laws, w hydro.Water) hydro.Orifice { return l.slot(1, 0.3e-3, 0, nan, w, hydro.Air{}) })},
	{"DI-59", "the same through 1.5 mm", "plane Poiseuille flow in series with DI-58", closed, "1.2803e-6", "m³/s", share(5e-5), "as printed; what lies between the limits is not verified",
		creeping(0.3e-3, func(l *laws, w hydro.Water) hydro.Orifice { return l.slot(1, 0.3e-3, 1.5e-3, nan, w, hydro.Air{}) })},
}
