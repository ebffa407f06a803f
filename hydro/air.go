package hydro

import "math"

// Air is dry air at one standard atmosphere.
type Air struct {
	Temperature float64 // K
	Density     float64 // at one atmosphere, kg/m³
	Viscosity   float64 // dynamic, Pa·s
}

// NewAir returns dry air at one atmosphere and a temperature in kelvin, which must be positive. Density: the ideal gas
// law. Viscosity: Sutherland's law with the constants of ISO 2533:1975, to about 1 % at room temperature.
func NewAir(temperature float64) Air {
	return Air{
		Temperature: temperature,
		Density:     Atmosphere / (gasConstantAir * temperature),
		Viscosity:   1.458e-6 * temperature * math.Sqrt(temperature) / (temperature + 110.4),
	}
}
