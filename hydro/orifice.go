package hydro

import "math"

// Orifice is the discharge law of an opening. With v the flow over the area (not the speed of the jet, which is narrower),
// the pressure difference at a point of it is Δp = Creep·v + Jet·v|v|: creeping flow into the hole and through the tube,
// in series with the loss of the jet. It is smooth through rest.
//
// The laws HoleLaw, SlotLaw, EdgeLaw and FaceLaw build one; the members may be changed afterwards. Jet must be positive.
type Orifice struct {
	Creep      float64 // Pa/(m/s), for water; see MinimumCreep
	Jet        float64 // Pa/(m/s)², for water
	JetTension float64 // Pa, lost to the jet's own surface where water leaves into air
	Cd         float64 // discharge coefficient; of a Weir, that of a drowned edge

	AirCreep    float64 // Pa/(m/s), for air
	AirJet      float64 // Pa/(m/s)² over the density of the air, that is 1/(2 C_d²)
	Bubbling    float64 // Pa, held back at every height where air leaves into water; see WithContactAngle
	Breaking    float64 // Pa, that water must pass to break through a dry opening; see WithContactAngle
	Width       float64 // m, of the opening across: diameter, smaller side, or diameter of the circle of equal area
	tensionForm float64 // shape factor of the surface: 4/d of a hole, 2/w of a slot, 0 of what has no rim to hold it, 1/m
	tension     float64 // N/m

	// Weir: the coefficient changes with the water levels (see EdgeLaw); Jet is then for a coefficient of one.
	Weir bool
}

// restCore is the pressure, Pa, under which a law without viscosity is taken to be linear, so that its slope at rest is
// finite: a head of a tenth of a picometre, nine orders below a micrometre of water.
const restCore = 1e-12

// MinimumCreep is the least Creep that the laws give an orifice of a Jet coefficient. It makes the flow at rest linear
// where the square root would be infinitely steep, within 1e-12 Pa, and matters nowhere else: at Δp ≫ 1e-12 Pa it takes
// the fraction √(1e-12 Pa/Δp) off the flow, a millionth at 1 Pa.
func MinimumCreep(jet float64) float64 { return 2 * math.Sqrt(jet*restCore) }

// Law is a quadratic law of loss, Δp = Creep·v + Jet·v², for a pressure difference that is not negative.
type law struct{ creep, jet float64 }

// speed is v at Δp ≥ 0, written so that nothing cancels at small Δp and nothing divides by zero at 0.
func (l law) speed(dp float64) float64 {
	return 2 * dp / (l.creep + math.Sqrt(l.creep*l.creep+4*l.jet*dp))
}

// slope is dv/dΔp at the speed v.
func (l law) slope(v float64) float64 { return 1 / (l.creep + 2*l.jet*v) }

// HoleLaw is the law of a round hole in a plate, diameter and wall thickness in metres:
//
//	Δp = μvA/d³·(24 + 128 L/(πd)) + ½ρ(v/C_d)²
//
// Sampson's creeping flow into the hole (1891), Poiseuille's along the tube in series with it (Dagan, Weinbaum & Pfeffer,
// J. Fluid Mech. 115 (1982) 505) and the jet's loss. A cd that is a number replaces the coefficient of the table; NaN
// takes the table's, by rim and L/d. The diameter must be positive.
func HoleLaw(diameter, wall float64, rim Rim, cd float64, w Water, a Air) Orifice {
	if math.IsNaN(cd) {
		cd = dischargeCoefficient(rim, wall, diameter)
	}
	return build(holeCreep(math.Pi/4*diameter*diameter, wall), cd, 4/diameter, diameter, w, a)
}

// SlotLaw is the law of a rectangular slot or door, sizes in metres: as HoleLaw, but in the viscous place stands
//
//	μvA·(32/(πw²l) + 12 L/(w³l))
//
// with w the smaller and l the larger side (Hasimoto, J. Phys. Soc. Japan 13 (1958) 633, and plane Poiseuille flow), or
// that of the circle of equal area where it resists more. C_d is that of a hole of diameter 2w. Both sides must be
// positive.
func SlotLaw(length, width, wall float64, rim Rim, cd float64, w Water, a Air) Orifice {
	width, length = min(length, width), max(length, width)
	if math.IsNaN(cd) {
		cd = dischargeCoefficient(rim, wall, 2*width)
	}
	area := length * width
	slit := area * (32/(math.Pi*width*width*length) + 12*wall/(width*width*width*length))
	return build(max(slit, holeCreep(area, wall)), cd, 2/width, width, w, a)
}

// EdgeLaw is the law of the gap above a bulkhead's top, of an area in m². With cd NaN it is a weir over the full width of
// the wall (ISO 1438): C_d = 0.602 + 0.075 h/p, where h is the head over the lowest point of the edge on the higher side
// and p that point's height over the lowest point of the plate, h/p at most 1; 0.61 once the lower side drowns the edge by
// more than h/2, straight between; without a plate below, h/p is 1. Else cd is the coefficient. A sheet of water over an
// edge loses nothing to its surface, and nothing to creeping but MinimumCreep.
func EdgeLaw(area, cd float64, w Water, a Air) Orifice {
	if !math.IsNaN(cd) {
		return build(0, cd, 0, roundDiameter(area), w, a)
	}
	o := build(0, 1, 0, roundDiameter(area), w, a)
	o.AirJet = 1 / (2 * gapCd * gapCd)
	o.Cd, o.Weir = weirDrowned, true
	return o
}

// FaceLaw is the law of an open cut face of an area in m²: a sharp edge, C_d = 0.61, without surface loss, and without
// creeping but MinimumCreep.
func FaceLaw(area float64, w Water, a Air) Orifice {
	return build(0, faceCd, 0, roundDiameter(area), w, a)
}

// roundDiameter is the diameter of the circle of an area.
func roundDiameter(area float64) float64 { return math.Sqrt(4 * area / math.Pi) }

// holeCreep is the creeping resistance of a round hole of an area in a wall, over the viscosity: 1/m. Nothing passes a gap
// without area, so that it needs no resistance.
func holeCreep(area, wall float64) float64 {
	if !(area > 0) {
		return 0
	}
	d := roundDiameter(area)
	return area / (d * d * d) * (24 + 128*wall/(math.Pi*d))
}

// build is the law with a creeping resistance over the viscosity, 1/m, a coefficient, and the form of the surface that
// spans it, 1/m.
func build(creep, cd, form, width float64, w Water, a Air) Orifice {
	jet, airJet := w.Density/(2*cd*cd), 1/(2*cd*cd)
	o := Orifice{
		Creep:    max(w.Viscosity*creep, MinimumCreep(jet)),
		Jet:      jet,
		AirCreep: max(a.Viscosity*creep, MinimumCreep(a.Density*airJet)),
		AirJet:   airJet,
		Cd:       cd,
		Width:    width,
		// Half the form is the jet's own surface: a cylinder of water has one curvature where a bubble has two.
		JetTension:  form / 2 * w.SurfaceTension,
		tensionForm: form,
		tension:     w.SurfaceTension,
	}
	return o.WithContactAngle(ContactAngle)
}
