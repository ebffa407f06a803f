package hydro

// Rim is how the edge of a hole is made. The empty Rim is Sharp.
type Rim string

// The rims.
const (
	Sharp   Rim = "sharp"
	Rounded Rim = "rounded"
	Tube    Rim = "tube" // as sharp, but the jet fills the hole again at any thickness of the wall
)

// segment is a straight piece of a discharge coefficient against the wall's thickness over the hole's diameter.
type segment struct {
	from, to      float64 // L/d
	atFrom, atTo  float64 // C_d
	value, reason string  // where the numbers come from
}

// sharpEdged is C_d of a hole with a sharp inlet by L/d; beyond its end the last value holds.
var sharpEdged = [...]segment{
	{0, 0.5, 0.61, 0.61, "handbook value of a thin sharp orifice above Re 1e4; Kirchhoff 1869 π/(π+2) = 0.611 for a slit", "the jet springs clear"},
	{0.5, 1.5, 0.61, 0.81, "straight between its neighbours", "a choice: published data show hysteresis below L/d 1.5 (Lichtarowicz, Duggins & Markland 1965, recommendation 1)"},
	{1.5, 2, 0.81, 0.81, "Lichtarowicz, Duggins & Markland, J. Mech. Eng. Sci. 7 (1965) 210", "the jet fills the hole again"},
	{2, 10, 0.81, 0.742, "same, eq. 7: 0.827 − 0.0085 L/d", "friction along the wall"},
}

// The other coefficients.
const (
	roundedCd = 0.98 // handbook value of a bell-mouthed inlet
	faceCd    = 0.61 // a cut face is a sharp edge: as sharpEdged at L/d 0
	gapCd     = 0.61 // air through the gap over a bulkhead: the same

	// A spilling edge over the full width of its wall: C_d = weirBase + weirRise·h/p, ISO 1438 (Kindsvater and Carter).
	// A drowned edge passes water under its head as a sharp hole does.
	weirBase    = 0.602
	weirRise    = 0.075
	weirDrowned = 0.61

	// refillLength is the L/d that a tube is given at least: there the jet has filled it again (sharpEdged).
	refillLength = 2.0
)

// dischargeCoefficient is C_d of a hole of diameter d in a wall of a thickness; for a slot of width w, d is 2w (its
// hydraulic diameter).
func dischargeCoefficient(rim Rim, wall, diameter float64) float64 {
	length := wall / diameter
	switch rim {
	case Rounded:
		return roundedCd
	case Tube:
		length = max(length, refillLength)
	}
	for _, s := range sharpEdged {
		if length <= s.to {
			return s.atFrom + (s.atTo-s.atFrom)*(length-s.from)/(s.to-s.from)
		}
	}
	return sharpEdged[len(sharpEdged)-1].atTo
}
