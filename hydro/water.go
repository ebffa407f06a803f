package hydro

import (
	"fmt"
	"math"
)

// Water is what floats the vessel and floods it. Any member may be replaced after construction (soap in the pool lowers
// the surface tension); a zero Viscosity or SurfaceTension switches creep or menisci off.
type Water struct {
	Density        float64 // kg/m³
	Viscosity      float64 // dynamic, Pa·s
	SurfaceTension float64 // against air, N/m
}

// The salt of sea water: the scenario format's 35 g/kg, taken as what it says, grams of salt in a kilogram of sea water.
// Standard sea water of practical salinity 35 holds 35.16504 g/kg (IOC, SCOR and IAPSO, TEOS-10 manual, 2010).
const (
	saltContent      = 0.035
	saltPerPractical = 35.16504e-3 / 35
)

// FreshWater returns air-free pure water at one atmosphere. The temperature is in kelvin, from 0 °C to 40 °C; outside
// that, or NaN, is an error. Density: Tanaka et al., Metrologia 38 (2001) 301, to 0.001 kg/m³. Viscosity: IAPWS
// SR6-08(2011), to 1 %. Surface tension: IAPWS R1-76(2014), to 0.5 %.
func FreshWater(temperature float64) (Water, error) {
	t, err := celsius(temperature)
	if err != nil {
		return Water{}, err
	}
	return Water{
		Density:        freshDensity(t),
		Viscosity:      freshViscosity(temperature),
		SurfaceTension: freshTension(temperature),
	}, nil
}

// SeaWater returns sea water with 35 g of salt in a kilogram, at one atmosphere. The temperature is in kelvin, from 0 °C to
// 40 °C; outside that, or NaN, is an error. Density: EOS-80, UNESCO Technical Papers 38 and 44, to 0.004 kg/m³.
// Viscosity: Sharqawy, Lienhard & Zubair, Desalination and Water Treatment 16 (2010) 354, to 1.5 %. Surface tension:
// Nayar et al., J. Phys. Chem. Ref. Data 43 (2014) no. 4, to 0.6 %.
func SeaWater(temperature float64) (Water, error) {
	t, err := celsius(temperature)
	if err != nil {
		return Water{}, err
	}
	return Water{
		Density:        seaDensity(t, saltContent/saltPerPractical),
		Viscosity:      seaViscosity(t, saltContent),
		SurfaceTension: freshTension(temperature) * seaTensionRatio(t, saltContent),
	}, nil
}

// celsius converts a temperature and refuses what the formulae do not cover. A hair of rounding is let pass at the ends,
// so that 40 °C converted by a caller is still 40 °C.
func celsius(temperature float64) (float64, error) {
	const hair = 1e-9
	t := temperature - freezing
	if !(t >= -hair && t <= 40+hair) {
		return 0, fmt.Errorf("water at %.4g K: the temperature must be from 273.15 K to 313.15 K (0 °C to 40 °C)", temperature)
	}
	return t, nil
}

// freshDensity is the CIPM-recommended formula of Tanaka et al. 2001, kg/m³, for t in °C.
func freshDensity(t float64) float64 {
	return 999.974950 * (1 - (t-3.983035)*(t-3.983035)*(t+301.797)/(522528.9*(t+69.34881)))
}

// freshViscosity is the viscosity of liquid water at 0.1 MPa, Pa·s, for T in kelvin: IAPWS SR6-08(2011), equation for μ.
func freshViscosity(temperature float64) float64 {
	r := temperature / 300
	return 1e-6 * (280.68*math.Pow(r, -1.9) + 511.45*math.Pow(r, -7.7) + 61.131*math.Pow(r, -19.6) + 0.45903*math.Pow(r, -40))
}

// freshTension is the surface tension against air, N/m, for T in kelvin: IAPWS R1-76(2014).
func freshTension(temperature float64) float64 {
	tau := 1 - temperature/647.096
	return 0.2358 * math.Pow(tau, 1.256) * (1 - 0.625*tau)
}

// seaDensity is the one-atmosphere equation of EOS-80 (Millero & Poisson 1981), kg/m³, for t in °C and the practical
// salinity s. The equation was written for the temperature scale of 1968.
func seaDensity(t, s float64) float64 {
	t *= 1.00024
	pure := polynomial(t, 999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9)
	linear := polynomial(t, 8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9)
	power := polynomial(t, -5.72466e-3, 1.0227e-4, -1.6546e-6)
	return pure + s*linear + s*math.Sqrt(s)*power + 4.8314e-4*s*s
}

// seaViscosity is equations 22 and 23 of Sharqawy et al. 2010, Pa·s, for t in °C and salt in kg/kg.
func seaViscosity(t, salt float64) float64 {
	pure := 4.2844e-5 + 1/(0.157*(t+64.993)*(t+64.993)-91.296)
	a := polynomial(t, 1.541, 1.998e-2, -9.52e-5)
	b := polynomial(t, 7.974, -7.561e-2, 4.724e-4)
	return pure * (1 + a*salt + b*salt*salt)
}

// seaTensionRatio is the surface tension of sea water over that of pure water, for t in °C and salt in kg/kg: Nayar
// et al. 2014, their correlation for 0 to 131 g/kg.
func seaTensionRatio(t, salt float64) float64 {
	grams := 1000 * salt
	return 1 + 3.766e-4*grams + 2.347e-6*grams*t
}

// polynomial evaluates c[0] + c[1]·x + c[2]·x² + …
func polynomial(x float64, c ...float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
