package hydro

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The rows of group DI that are integrals over an opening's extent. Textbooks leave viscosity and surface tension out, and
// take their own g and coefficient: so do these, by ideal and scaled. Lengths in feet stay feet: the law knows no units.

var (
	upright = r3.Vec{X: 1} // the normal of a figure in a wall
	skyward = r3.Vec{Z: 1}
	dryside = Side{Surface: math.Inf(-1)}
)

// ideal is the law of a textbook: a coefficient and nothing else.
func ideal(cd float64) Orifice {
	jet := still.Density / (2 * cd * cd)
	return Orifice{Creep: MinimumCreep(jet), Jet: jet, Cd: cd}
}

// scaled turns a flow under our g into one under another: free flows go with its root.
func scaled(flow, g float64) float64 { return flow * math.Sqrt(g/Gravity) }

// level is a side whose water stands at a height, open to the air.
func level(z float64) Side { return Side{Surface: z, Head: z} }

// through is the flow through an upright figure from a to b.
func through(o Orifice, f *Figure, a, b Side) float64 {
	var v View
	f.View(skyward, &v)
	return o.Water(&v, &still, a, b).Rate
}

// gate is an upright rectangle of a breadth between two heights.
func gate(breadth, low, high float64) *Figure {
	return Rectangle(r3.Vec{Z: (low + high) / 2}, upright, r3.Vec{Y: 1}, breadth, high-low)
}

func TestRectanglesOfTextbooks(t *testing.T) {
	// DI-31, Lewitt ex. 4.2: three printed digits.
	relative(t, "DI-31", scaled(through(ideal(0.62), gate(4, -4, -2), level(0), dryside), 32.2), 68.6, 0.001)
	// DI-32, Choudhary & Om Prakash ex. 6.13; the mid-head formula against the integral too.
	q := scaled(through(ideal(0.6), gate(1.6, -2.75, -1.5), level(0), dryside), 9.81)
	relative(t, "DI-32", q, 7.720, 1e-4)
	middle := 0.6 * 1.6 * 1.25 * math.Sqrt(2*9.81*2.125)
	near(t, "DI-32 mid-head, %", 100*(middle/q-1), 0.368, 0.0006)
	// DI-33, Lal ex. 3.14: four digits.
	q = scaled(through(ideal(0.62), gate(3, -1.5, -0.75), level(0), dryside), 32.2)
	near(t, "DI-33", q, 11.82, 0.006)
	// DI-34, Choudhary ex. 6.14 as its companion corrects it: wholly drowned, level difference 1.2 m.
	q = scaled(through(ideal(0.6), gate(1.6, -3.25, -2), level(0), level(-1.2)), 9.81)
	near(t, "DI-34", q, 5.823, 0.0006)
	// DI-35, Choudhary ex. 6.15: head 2 m at the top, 3.25 m at the foot, the lower 0.8 m drowned.
	q = scaled(through(ideal(0.6), gate(1.6, -3.25, -2), level(0), level(-2.45)), 9.81)
	near(t, "DI-35", q, 8.178, 0.0006)
	// DI-37, Sarkar ex. 4.6.
	q = scaled(through(ideal(0.62), gate(2, -7, -4), level(0), level(-4.8)), 9.81)
	near(t, "DI-37", q, 35.687, 0.0006)
	// The same flows the other way.
	back := scaled(through(ideal(0.62), gate(2, -7, -4), level(-4.8), level(0)), 9.81)
	near(t, "DI-37 reversed", back, -q, 1e-12*q)
}

func TestCirclesAndSquares(t *testing.T) {
	heads := []float64{0.5, 0.6, 0.75, 1, 2, 5}
	// DI-38, quadrature by a second hand, and DI-39, closed form: six digits.
	circle := []float64{0.960337, 0.975132, 0.984969, 0.991854, 0.998027, 0.999687}
	square := []float64{0.942809, 0.965721, 0.979604, 0.989043, 0.997365, 0.999583}
	for i, h := range heads {
		unit := math.Sqrt(2 * Gravity * h)
		near(t, "DI-38", through(ideal(1), Circle(r3.Vec{}, upright, 1), level(h), dryside)/(math.Pi/4*unit), circle[i], 1.1e-6)
		near(t, "DI-39", through(ideal(1), gate(1, -0.5, 0.5), level(h), dryside)/unit, square[i], 1.1e-6)
	}
	// DI-29, Das ex. 8.1.
	q := scaled(through(ideal(0.6), Circle(r3.Vec{}, upright, 0.05), level(12), dryside), 9.81)
	relative(t, "DI-29", q, 0.0180768, 5e-6)
	// DI-30, Sarkar ex. 4.2, the other way round: the flow that the measured coefficient gives back. Four digits of C_d.
	q = scaled(through(ideal(0.6198), Circle(r3.Vec{}, upright, 0.12), level(10), dryside), 9.81)
	relative(t, "DI-30", q, 0.0982, 2e-4)
	// DI-28, Lal ex. 3.4, feet: three digits.
	q = scaled(through(ideal(0.833), Circle(r3.Vec{}, upright, 2.0/12), level(12), dryside), 32.2)
	near(t, "DI-28", q, 0.505, 0.0006)
}

func TestNotches(t *testing.T) {
	// DI-42, ISO 1438, V-notch of 90°: C_e 0.578, the head lengthened by 0.85 mm.
	notch := Face([][]r3.Vec{{{}, {Y: 2, Z: 2}, {Y: -2, Z: 2}}}, upright)
	for i, h := range []float64{0.1, 0.2} {
		near(t, "DI-42", 1000*through(ideal(0.578), notch, level(h+0.85e-3), dryside), []float64{4.410, 24.682}[i], 0.0006*float64(i+1))
	}
	// DI-43, Sarkar ex. 5.3.
	near(t, "DI-43", scaled(1000*through(ideal(0.62), notch, level(0.36), dryside), 9.81), 113.893, 0.0006)
	// DI-48, the ideal sharp crest, exact: 2/3·√(2g)·H^1.5 a metre of breadth.
	relative(t, "DI-48", through(ideal(1), gate(1, 0, 3), level(1.7), dryside), 2.95246*math.Pow(1.7, 1.5), 2e-6)
	// DI-44, Lal ex. 4.5, and DI-45, Sarkar ex. 5.9: the plain formula with its own coefficient, four and five digits.
	crest := scaled(through(ideal(0.62), gate(7.573, 0, 5), level(1.2), dryside), 32.2)
	relative(t, "DI-44 plain", crest, 33.02, 2e-4)
	relative(t, "DI-45 plain", scaled(through(ideal(0.62), gate(4, 0, 5), level(0.2), dryside), 9.81), 0.65502, 1e-5)
	// DI-46, Lal ex. 4.14: a drowned crest, free part with 0.58 and drowned part with 0.8, by two laws.
	both := scaled(through(ideal(0.58), gate(6, 0, 5), level(0.5), level(0.25)), 32.2)
	drowned := scaled(through(ideal(0.8), gate(6, 0, 0.25), level(0.5), level(0.25)), 32.2)
	near(t, "DI-46 free", both-drowned*0.58/0.8, 2.3272, 2e-4)
	near(t, "DI-46 drowned", drowned, 4.8150, 2e-4)
}

// crest is a bulkhead of full width between side walls: its edge at 0, its foot at −p.
func crest(breadth, p float64) (*Figure, Orifice) {
	gap := []r3.Vec{{Y: -breadth / 2}, {Y: breadth / 2}, {Y: breadth / 2, Z: 50}, {Y: -breadth / 2, Z: 50}}
	wall := []r3.Vec{{Y: -breadth / 2, Z: -p}, {Y: breadth / 2, Z: -p}, {Y: breadth / 2}, {Y: -breadth / 2}}
	f := Edge([][]r3.Vec{gap}, [][]r3.Vec{wall}, upright)
	return f, EdgeLaw(f.Area(), math.NaN(), Water{Density: still.Density}, Air{})
}

func TestSpillingEdge(t *testing.T) {
	f, o := crest(2, 0.4)
	q := through(o, f, level(0.3), dryside)
	// ISO 1438 (Kindsvater & Carter) less its corrections of a millimetre to head and breadth: exact.
	relative(t, "closed form", q, (0.602+0.075*0.3/0.4)*2.0/3*math.Sqrt(2*Gravity)*2*math.Pow(0.3, 1.5), 1e-6)
	// DI-40, with them, to the 1.5 % of the standard; DI-41, Rehbock, 1 % from it.
	relative(t, "DI-40", q, 0.641560, 0.015)
	relative(t, "DI-41", q, 0.6486856, 0.02)
	// DI-44, Lal ex. 4.5 in feet: the four formulas there stand 3.4 % apart, ours among them.
	f, o = crest(7.573, 2.85)
	q = scaled(through(o, f, level(1.2), dryside), 32.2)
	if !(q > 33.01 && q < 34.12) {
		t.Errorf("DI-44: %g is not among the four formulas' 33.01 to 34.12", q)
	}
	// DI-45, Sarkar ex. 5.9, p unknown there: the lower end of ours, h/p → 0, against Bazin's 0.66559, and the upper.
	f, o = crest(4, 1000)
	low := scaled(through(o, f, level(0.2), dryside), 9.81)
	f, o = crest(4, 0.3)
	high := scaled(through(o, f, level(0.2), dryside), 9.81)
	if !(low < 0.65502 && 0.66559 < high) {
		t.Errorf("DI-45: ours runs from %g to %g with p", low, high)
	}
	// h/p counts to 1 and no further: as high as the edge, and twice.
	f, o = crest(1, 0.1)
	relative(t, "h/p 2", through(o, f, level(0.2), dryside)/through(o, f, level(0.1), dryside), math.Pow(2, 1.5), 1e-6)
}

func TestDrownedEdge(t *testing.T) {
	f, o := crest(1, 1)
	free := through(o, f, level(0.1), dryside)
	// DI-47, Villemonte 1947, ±5 % (from memory): the integral with the format's coefficients, up to nine tenths drowned.
	// Beyond, the measured nappe holds on longer than the integral, which is a quarter low at 0.99.
	villemonte := []float64{0.9499, 0.8454, 0.6679, 0.4770}
	for i, share := range []float64{0.25, 0.5, 0.75, 0.9} {
		relative(t, "DI-47", through(o, f, level(0.1), level(0.1*share))/free, villemonte[i], 0.05)
	}
	// The coefficient, exact: the free one with the lower side at the edge, half way to 0.61 at h/4, 0.61 from h/2 on.
	for i, share := range []float64{-0.1, 0, 0.25, 0.5, 0.75} {
		sheet := through(ideal(1), f, level(0.1), level(0.1*share))
		free := 0.602 + 0.075*0.1
		want := []float64{free, free, (free + 0.61) / 2, 0.61, 0.61}[i]
		relative(t, "drowned coefficient", through(o, f, level(0.1), level(0.1*share))/sheet, want, 1e-6)
	}
	// A full space behind the edge under the pressure of a level passes water as that level does.
	full := Side{Surface: math.Inf(1), Head: 0.1}
	relative(t, "full", through(o, f, full, level(0.02)), through(o, f, level(0.1), level(0.02)), 1e-12)
	// A given coefficient stands whatever the levels.
	fixed := EdgeLaw(f.Area(), 0.7, Water{Density: still.Density}, Air{})
	relative(t, "given", through(fixed, f, level(0.1), level(0.08)), 0.7*through(ideal(1), f, level(0.1), level(0.08)), 1e-5)
}

func TestFullSpaces(t *testing.T) {
	f, o := gate(0.02, -0.01, 0.01), ideal(0.61)
	full := func(head float64) Side { return Side{Surface: math.Inf(1), Head: head} }
	relative(t, "two full spaces", through(o, f, full(0.3), full(0.1)), 0.61*4e-4*math.Sqrt(2*Gravity*0.2), 1e-6)
	relative(t, "full into dry", through(o, f, full(0.3), dryside), through(o, f, level(0.3), dryside), 1e-12)
	if q := through(o, f, full(-0.3), dryside); q != 0 {
		t.Errorf("a full space under suction lets %g m³/s out into air", q)
	}
	if q := through(o, f, dryside, dryside); q != 0 {
		t.Errorf("dry sides pass %g m³/s of water", q)
	}
	// Air over one side drives water as the head that it equals does.
	pressed := Side{Surface: 0.1, Head: 0.1 + 500/(still.Density*Gravity), Air: 500}
	relative(t, "air over water", through(o, f, pressed, dryside), through(o, f, full(pressed.Head), dryside), 1e-12)
	relative(t, "air against water", through(o, f, level(0.1), Side{Surface: math.Inf(-1), Air: 500}),
		through(o, f, level(0.1-500/(still.Density*Gravity)), dryside), 1e-12)
}

func TestJetTensionHoldsBack(t *testing.T) {
	hole := Circle(r3.Vec{}, upright, 2e-3)
	o := ideal(0.6)
	o.JetTension = 70
	head := o.JetTension / (still.Density * Gravity)
	// The loss is a head: water into air flows as without it from a lower level, and not at all below the threshold.
	free := o
	free.JetTension = 0
	relative(t, "into air", through(o, hole, level(0.05), dryside), through(free, hole, level(0.05-head), dryside), 1e-12)
	if q := through(o, hole, level(head-1.01e-3), dryside); q != 0 {
		t.Errorf("%g m³/s leaves under a head less than the jet's tension", q)
	}
	// Under water there is no jet.
	relative(t, "into water", through(o, hole, level(0.05), level(0.02)), through(free, hole, level(0.05), level(0.02)), 0)
}

// A bulkhead that reaches the deck leaves a gap without area: nothing passes, and no NaN.
func TestEdgeWithoutGap(t *testing.T) {
	f := Edge([][]r3.Vec{{{Y: -1}, {Y: 1}}}, nil, upright)
	o := EdgeLaw(f.Area(), math.NaN(), still, NewAir(291))
	var v View
	f.View(skyward, &v)
	if q := o.Water(&v, &still, level(0.2), level(0.1)); q != (Flow{}) {
		t.Errorf("%+v passes a gap without area", q)
	}
}
