package validation

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

const (
	ft2     = foot * foot
	ft3     = ft2 * foot
	ftG     = 32.2 * foot
	stepped = "the source rounds its steps"
	msc     = "IMO MSC.245(83)"
)

var historyChecks = []check{
	{"EM-01", "cylinder of 3 m, hole of 0.4 m, C_d 0.6: 4 to 2 m, 4 m to empty", "Das, Fluid Mechanics, ex. 8.9, " + tri, read, "24.797 / 84.661", "s", share(5e-5), toPrint, tankOf(disc(3), 5, 4, 9.81, 85).bottom(0.4, 0.6).falls(1, 2, 0)},
	{"EM-02", "4 m, hole of 0.5 m, 5 to 2 m, 5 m to empty", "Choudhary ex. 6.16, " + tri, read, "39.58 / 107.7", "s", share(5e-4), toPrint, tankOf(disc(4), 6, 5, 9.81, 108).bottom(0.5, 0.6).falls(1, 2, 0)},
	{"EM-03", "1.2 m, hole of 50 mm, from 3 m: 12 min 30.8 s", "Choudhary ex. 6.17, " + tri, read, "750.8", "s", share(1e-3), stepped, tankOf(disc(1.2), 4, 3, 9.81, 751).bottom(0.05, 0.6).falls(1, 0)},
	{"EM-04", "3.2 m², hole of 10 cm², 5 to 2.5 m and to empty", "Choudhary ex. 6.18, 6.19, " + tri, read, "1577 / 5385", "s", share(1e-3), stepped, tankOf(3.2, 6, 5, 9.81, 5385).bottom(across(1e-3), 0.6).falls(1, 2.5, 0)},
	{"EM-05", "16 m², hole of 5 cm², C_d 0.62, from 10 m", "Himmelblau & Riggs 2006, ex. 32.2", read, "73695", "s", share(5e-5), toPrint, tankOf(16, 11, 10, 9.81, 73695).bottom(across(5e-4), 0.62).falls(1, 0)},
	{"EM-06", "4 m, hole of 60 mm, C_d 1, from 2 m to half and to empty", "companion of a chemical engineering text, ex. 7.2", computed, "831.37 / 2838.49", "s", share(2e-5), toPrint, tankOf(disc(4), 3, 2, 9.80665, 2838).bottom(0.06, 1).falls(1, 1, 0)},
	{"EM-07", "1 m³ in 1 m across, hole of 20 mm, C_d 0.6", "Schaschke, Fluid Mechanics: Worked Examples, 6.3, " + tri, read, "2124", "s", share(1e-3), stepped, tankOf(disc(1), 1.5, 1/disc(1), 9.8, 2124).bottom(0.02, 0.6).falls(1, 0)},
	{"EM-08", "hemisphere of 2 m radius from 1.5 m, hole of 50 mm, C_d 0.6", "Schaschke 6.4, " + tri, read, "2287", "s", share(3e-3), "40 rings of 80 facets hold 1e-3 less; rounded steps", tankOf(1, 1, 1.5, 9.8, 2287).formed(turned(bowl(2, 0, 40), 80), 0.05, 0.6).falls(1, 0)},
	{"EM-09", "hemisphere of 6 ft radius, 6 to 4 ft, hole of 8 in, C_d 0.6", "Lewitt, Hydraulics, ex. 4.4, " + tri, read, "58.1", "s", share(3e-3), "as EM-08", tankOf(1, 1, 5.9999*foot, ftG, 90).formed(turned(bowl(6*foot, 0, 40), 80), 8*foot/12, 0.6).falls(1, 4*foot)},
	{"EM-10", "horizontal drum of 1 m radius and 8 m, full, hole of 100 mm, C_d 0.8", "Sarkar ex. 4.9, " + tri, read, "18.065", "min", share(1e-3), "the drum has 120 sides: 5e-4 less; timed to the last 0.2 mm", boiler().falls(1./60, 2e-4)},
	{"EM-11", "cylinder of 10 ft on a hemisphere, from 17 ft, hole of 3 in, C_d 0.62", "Lal ex. 3.8, " + tri, read, "1885", "s", share(3e-3), "as EM-08", tankOf(1, 1, 17*foot, ftG, 1885).formed(turned(bowl(5*foot, 13*foot, 40), 80), foot/4, 0.62).falls(1, 0)},
	{"EM-12", "tanks of 12.5 and 37.5 ft² joined by a square of 3 in, C_d 0.62: 10 to 2 ft between the levels", "Lewitt ex. 4.5, " + tri, read, "105.4", "s", share(1e-3), stepped,
		twoTanks(12.5*ft2, 37.5*ft2, 11*foot, foot, 12*foot, ftG, 105, compartment.OpeningSpec{At: r3.Vec{Z: foot / 2}, Along: &r3.Vec{Y: 1}, Door: &compartment.DoorSpec{Length: foot / 4, Height: foot / 4}}).falls(1, 2*foot)},
	{"EM-14", "tanks of 8 and 4 m², hole of 0.01 m²: 0.30 to 0.10 m", "Schaschke 6.6, " + tri, read, "44.96", "s", share(1e-3), stepped,
		twoTanks(8, 4, 1.3, 1, 2, 9.81, 45, compartment.OpeningSpec{At: r3.Vec{Z: 0.5}, Hole: ptr(across(0.01))}).falls(1, 0.1)},
	{"EM-15", "1.2 m across, 0.75 m³ out from 1.5 m, through a tube of 25 mm × 3 m, 0.08 Pa·s, 1100 kg/m³", "Schaschke 6.10 (Hagen and Poiseuille), " + tri, read, "1531", "s", share(0.006), "ours has the creep into the mouth besides, 24πd/(128 L) = 0.49 %", laminar().falls(1, 1.5-0.75/disc(1.2))},
	{"EM-17", "1500 ft², 6 ft³/s in, 12 ft³/s out at 16 ft: 16 to 6 ft", "Lewitt ex. 4.6, " + tri, read, "75.6", "min", share(1e-3), stepped, tankOf(1500*ft2, 18*foot, 16*foot, gravity, 4536).bottom(passing(12*ft3, 16*foot), 0.6).fed(6*ft3).falls(1./60, 6*foot)},
	{"EM-18", "150 m², 0.2 m³/s in, 0.4 out at 1.5 m: 1.5 to 0.5 m", "Schaschke 6.8, " + tri, read, "1525.3", "s", share(1e-4), toPrint, tankOf(150, 2, 1.5, gravity, 1525).bottom(passing(0.4, 1.5), 0.6).fed(0.2).falls(1, 0.5)},
	{"EM-19", "lock of 80 × 12 ft, 12 ft through a square of 2.77 ft, C_d 0.6", "Lal ex. 3.12, " + tri, read, "180", "s", share(0.0036), "the side is printed to 0.005 ft", tankOf(80*12*ft2, 6, 1+12*foot, ftG, 180).gated(2.77*foot, 2.77*foot, 0.5, 0.6, 1, -1).falls(1, 0)},
	{"EM-20", "pool of 200 m², 1.5 m through four holes of 43.50 cm (here one of their area), C_d 0.62", "Sarkar ex. 4.7, " + tri, read, "300", "s", share(1e-3), "four digits of the diameter", tankOf(200, 2, 1.5, 9.81, 300).bottom(0.87, 0.62).falls(1, 0)},
	{"EM-21", "4 ft across, 6 to 2 ft through 2 in of which C_d 0.619 was found", "Lal ex. 3.6, " + tri, read, "240", "s", share(1.5e-3), "three digits of C_d", tankOf(disc(4*foot), 2.5, 6*foot, ftG, 240).bottom(2*foot/12, 0.619).falls(1, 2*foot)},
	{"EM-22", "6 m², 3.5 to 2.25 m through 1.5 m of 20 mm pipe, losses 4.9 velocity heads", "Douglas et al. ex. 14.9, " + tri, read, "7078.7", "s", share(5e-4), "the source's g and steps", tankOf(6, 4, 3.5, 9.81, 14000).bottom(0.02, 1/math.Sqrt(4.9)).falls(1, 2.25)},
	{"EM-23", "reservoir of 20 000 yd² (here a thousandth) falling from 2 to 1 ft over a weir of 5 ft, C_d 0.6", "Lal ex. 4.9, " + tri, read, "109.5", "min", share(1e-3), stepped, tankOf(20*9*ft2, 3, 1+2*foot, ftG, 6.6).gated(5*foot, 3*foot, 1+1.5*foot, 0.6, 1, 1).falls(1000./60, foot)},
	{"EM-25", "thin box of 0.2 m² afloat at 0.08 m of 0.15, hole of 1 cm², C_d 0.6: rim under", "A(D − d₀)/(C_d a√(2gd₀))", closed, "186.276", "s", printed(3), toPrint, bowlSinks},
	{"CF-03", "three cross-flooding devices in series, S 0.5, 0.4, 0.3, k 0.5, 0.8, 1: F", msc + " 2.5", read, "0.46996", "", plain(1e-5), toPrint, inSeries},
	{"CF-04", "two in parallel, S 0.5, Σk 1.5 and S 0.3, Σk 2.5: S·F", msc + " 2.4, 2.7", read, "0.59798", "", plain(1e-5), toPrint, inParallel},
	{"CF-06a", "equalisation, W 2e-3 m³, S 1e-4 m², F 0.6, heads 0.05 to 0.01 m", msc + " and MSC.362(92), 2.1", computed, "46.5095", "s", share(1e-5), "as printed; upright tanks are exact", crossed(2e-3, 1e-4, 0.6, 0.05, 0.01)},
	{"CF-06b", "the same, 100 m³, 0.25 m², 0.5, 4 to 0.5 m", msc + " and MSC.362(92), 2.1", computed, "133.434", "s", share(1e-5), toPrint, crossed(100, 0.25, 0.5, 4, 0.5)},
	{"CF-06c", "the same, 365.3 m³, 0.49 m², 0.6, 5.3 to 1.5 m", msc + " and MSC.362(92), 2.1", computed, "159.070", "s", share(1e-5), toPrint, crossed(365.3, 0.49, 0.6, 5.3, 1.5)},
}
