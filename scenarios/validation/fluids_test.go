package validation

import (
	"fmt"
	"strings"

	"github.com/byhead/byhead/hydro"
)

const (
	onePercent = "both formulations claim 1 %"
	lastDigit  = "the last digit printed"
	twoSources = "half the last digit, and what the sources differ by"
)

var sevenTemperatures = []float64{0, 4, 10, 15, 20, 25, 30}

func freshDensity(t ...float64) func(*laws) []float64 {
	return func(l *laws) []float64 { return each(func(t float64) float64 { return l.fresh(t).Density }, t...) }
}

func freshViscosity(t ...float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		return each(func(t float64) float64 { return 1e6 * l.fresh(t).Viscosity }, t...)
	}
}

func freshTension(t ...float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		return each(func(t float64) float64 { return 1e3 * l.fresh(t).SurfaceTension }, t...)
	}
}

func seaDensity(t ...float64) func(*laws) []float64 {
	return func(l *laws) []float64 { return each(func(t float64) float64 { return l.sea(t).Density }, t...) }
}

// lessSalt turns densities of sea water of practical salinity 35, 35.16504 g/kg, at temperatures into those of our 35 g/kg, by the
// check values of UNESCO Technical Paper 44: between salinities 0 and 35 the density rises by 0.79168 kg/m³ for each at 5 °C,
// by 0.75129 at 25 °C.
func lessSalt(decimals int, t []float64, density ...float64) string {
	const warm, cold = (1023.34306 - 997.04796) / 35, (1027.67547 - 999.96675) / 35
	var out []string
	for i, rho := range density {
		slope := cold + (warm-cold)*(t[i]-5)/20
		out = append(out, fmt.Sprintf("%.*f", decimals, rho-slope*(35-35/1.0047154)))
	}
	return strings.Join(out, " / ")
}

const saltLess = "less 0.165 g/kg of salt (ours has 35 g of salt in the kilogram, standard sea water 35.165)"

var fluidChecks = []check{
	{"FL-01", "fresh water, density at 0, 4, 10, 15, 20, 25, 30 °C and 101 325 Pa", "IAPWS-95 (R6-95(2018)) by python3-iapws of Debian", computed,
		"999.8431 / 999.9749 / 999.7025 / 999.1026 / 998.2072 / 997.0476 / 995.6495", "kg/m³", plain(0.0009), "k = 2 uncertainty of our formula (FL-02)",
		freshDensity(sevenTemperatures...)},
	{"FL-02", "the same by the CIPM formula", "Tanaka et al., Metrologia 38 (2001) 301", computed,
		"999.8428 / 999.9749 / 999.7027 / 999.1026 / 998.2067 / 997.0470 / 995.6488", "kg/m³", printed(4), lastDigit, freshDensity(sevenTemperatures...)},
	{"FL-03", "the same at 0, 20, 25, 30 °C by the older standard", "Kell, J. Chem. Eng. Data 20 (1975) 97", computed,
		"999.8395 / 998.2031 / 997.0434 / 995.6451", "kg/m³", plain(0.005), "the water standard of the time lies 0.003 to 0.0045 lower", freshDensity(0, 20, 25, 30)},
	{"FL-04a", "liquid water at 0.1 MPa and 298.15 K, density", "IAPWS SR6-08(2011) table 8, in jjgomera/iapws", read,
		"997.047013", "kg/m³", plain(0.0009), "as FL-01", freshDensity(25)},
	{"FL-04b", "the same, viscosity", "IAPWS SR6-08(2011) table 8, in jjgomera/iapws", read, "889.996774", "µPa·s", printed(6), "a program check: all digits", freshViscosity(25)},
	{"FL-05", "viscosity at 298.15 K and 998 kg/m³", "IAPWS R12-08 table 4, in jjgomera/iapws", read, "889.735100", "µPa·s", share(0.01),
		onePercent + "; ours is at 997.05 kg/m³", freshViscosity(25)},
	{"FL-07", "viscosity at 0, 4, 10, 15, 20, 25, 30 °C", "IAPWS R12-08", computed, "1791.8 / 1567.3 / 1305.9 / 1137.6 / 1001.6 / 890.0 / 797.2", "µPa·s",
		share(0.01), onePercent, freshViscosity(sevenTemperatures...)},
	{"FL-08", "kinematic viscosity at the same", "IAPWS R12-08", computed, "1.7920 / 1.5673 / 1.3063 / 1.1386 / 1.0034 / 0.8927 / 0.8007", "mm²/s", share(0.01), onePercent,
		func(l *laws) []float64 {
			return each(func(t float64) float64 { w := l.fresh(t); return 1e6 * w.Viscosity / w.Density }, sevenTemperatures...)
		}},
	{"FL-09", "viscosity at 273.16, 290, 300 K, saturated", "Perry's Chemical Engineers' Handbook, 9th ed., table 2-135", read, "1791.2 / 1084.0 / 853.84", "µPa·s",
		share(0.01), onePercent, freshViscosity(0.01, 290-273.15, 300-273.15)},
	{"FL-10", "surface tension at 10, 20, 30 °C and the triple point", "IAPWS R1-76(2014) table 1, in jjgomera/iapws", read, "74.22 / 72.74 / 71.19 / 75.65", "mN/m",
		printed(2), lastDigit, freshTension(10, 20, 30, 0.01)},
	{"FL-11", "surface tension at 300 K", "IAPWS R1-76(2014), in jjgomera/iapws", read, "71.6859625", "mN/m", printed(7), "a program check: all digits",
		func(l *laws) []float64 { return []float64{1e3 * l.kelvin(300).SurfaceTension} }},
	{"FL-12", "surface tension at 0, 4, 15, 25 °C", "IAPWS R1-76(2014)", computed, "75.648 / 75.084 / 73.486 / 71.972", "mN/m", printed(3), lastDigit, freshTension(0, 4, 15, 25)},
	{"FL-13", "sea water, density at 5 and 25 °C of the scale of 1968: 1027.67547 and 1023.34306 kg/m³, " + saltLess, "UNESCO Technical Papers 38 and 44; Gill 1982, A3.2", read,
		lessSalt(4, []float64{5, 25}, 1027.67547, 1023.34306), "kg/m³", plain(0.001), "the salt's slope is taken straight from salinity 0 to 35", seaDensity(5/1.00024, 25/1.00024)},
	{"FL-15", "sea water at 0 °C, 1028.1072 kg/m³ " + saltLess, "IAPWS R13-08 table 8a, in jjgomera/iapws", read, lessSalt(4, []float64{0}, 1028.1072), "kg/m³",
		plain(0.005), "0.004 is EOS-80's standard deviation, 0.001 the salt's slope", seaDensity(0)},
	{"FL-16", "sea water at 10, 15, 20, 25 °C, TEOS-10, " + saltLess, "TEOS-10 by python3-gsw 3.6.16", computed,
		lessSalt(4, []float64{10, 15, 20, 25}, 1026.9541, 1025.9756, 1024.7654, 1023.3431), "kg/m³", plain(0.005), "as FL-15", seaDensity(10, 15, 20, 25)},
	{"FL-17", "sea water at 10, 15, 20 °C, EOS-80, " + saltLess, "UNESCO EOS-80", computed, lessSalt(4, []float64{10, 15, 20}, 1026.9520, 1025.9720, 1024.7617), "kg/m³",
		plain(0.001), "the salt's slope is taken straight between two temperatures", seaDensity(10, 15, 20)},
	{"FL-18", "sea water at 10, 15, 20 °C as towing tanks tabulate it, " + saltLess, "ITTC 7.5-02-01-03 (2011)", memory,
		lessSalt(4, []float64{10, 15, 20}, 1027.0000, 1026.0210, 1024.8103), "kg/m³", plain(0.05), "their table lies 0.045 over TEOS-10", seaDensity(10, 15, 20)},
	{"FL-19", "sea water, viscosity at 10, 15, 20 °C, 35.165 g/kg", "Sharqawy, Lienhard & Zubair 2010, eqs 22 and 23", computed, "1397.2 / 1220.3 / 1077.0", "µPa·s", share(0.001),
		"0.165 g/kg less of salt is 0.04 %", func(l *laws) []float64 {
			return each(func(t float64) float64 { return 1e6 * l.sea(t).Viscosity }, 10, 15, 20)
		}},
	{"FL-20a", "air at 288.15 K, density", "US Standard Atmosphere 1976 = ISO 2533, in CalebBell/fluids", read, "1.2250", "kg/m³", printed(4), lastDigit,
		func(l *laws) []float64 { return []float64{l.airAt(288.15).Density} }},
	{"FL-20b", "the same, viscosity", "US Standard Atmosphere 1976 = ISO 2533, in CalebBell/fluids", read, "17.894", "µPa·s", printed(3), lastDigit,
		func(l *laws) []float64 { return []float64{1e6 * l.airAt(288.15).Viscosity} }},
	{"FL-21", "air at 275.15 K and 79 501 Pa (2000 m)", "US Standard Atmosphere 1976, in CalebBell/fluids", read, "1.0066", "kg/m³", printed(4), lastDigit,
		func(l *laws) []float64 { a := l.airAt(275.15); return []float64{a.DensityAt(79501 - hydro.Atmosphere)} }},
	{"FL-22", "air, viscosity at 0, 15, 20, 25, 30 °C", "ISO 2533:1975 (Sutherland)", computed, "17.161 / 17.894 / 18.134 / 18.372 / 18.609", "µPa·s", printed(3), lastDigit,
		func(l *laws) []float64 {
			return each(func(t float64) float64 { return 1e6 * l.airAt(t+273.15).Viscosity }, 0, 15, 20, 25, 30)
		}},
	{"FL-23", "dry air, density at 0, 15, 20, 25 °C and 101 325 Pa", "ISO 2533", computed, "1.2923 / 1.2250 / 1.2041 / 1.1839", "kg/m³", plain(0.00007),
		"the last digit; the standard's R is 287.05287, ours 287.05", func(l *laws) []float64 {
			return each(func(t float64) float64 { return l.airAt(t + 273.15).Density }, 0, 15, 20, 25)
		}},
	{"FL-24", "dry air of 400 ppm CO₂ at 20 °C, a real gas", "CIPM-2007, Picard et al., Metrologia 45 (2008) 149", computed, "1.20456", "kg/m³", share(5e-4),
		"ours is an ideal gas (compressibility 0.9996)", func(l *laws) []float64 { return []float64{l.airAt(293.15).Density} }},
	{"FL-25", "standard gravity; standard atmosphere", "CGPM 1901; scipy.constants", read, "9.80665 / 101325", "m/s²; Pa", plain(1e-9), "exact",
		func(*laws) []float64 { return []float64{hydro.Gravity, hydro.Atmosphere} }},
}
