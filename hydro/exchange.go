package hydro

import "math"

// The passing of water and air through a hole that lies flat, each other's way.
const (
	// exchangeShare is the volume that passes each way over A√(gd): a third, which for a circle is (π/12)√(g d⁵), the mean
	// flow of a bottle that empties by gulps in T = 3.0·L/√(gD)·(D/d)^2.5 (Clanet & Searby, J. Fluid Mech. 510 (2004) 145:
	// the paper's existence is verified, the law is from memory).
	exchangeShare = 1.0 / 3

	// heldWidth is the diameter, over √(σ/ρg), up to which a surface pinned to the rim of a flat hole carries water: twice
	// the first zero of the Bessel function J₁, the first axisymmetric mode that keeps the volume (Maxwell 1875, from
	// memory; the scenario format has it rounded as here).
	heldWidth = 7.66
)

// Exchange is water and air that pass a hole the opposite way.
type Exchange struct {
	Water float64 // m³/s, downwards
	Air   float64 // kg/s, upwards

	WaterByUpper float64 // derivatives of Water: Surface and Head of the upper side rising together, m²/s
	WaterByLower float64 // the same of the lower side
	WaterByAir   float64 // the air of the upper side gaining pressure, and its Head with it; the lower side's has −1 times it, m³/s/Pa

	AirByUpper    float64 // derivatives of Air, as above, kg/s/m
	AirByLower    float64
	AirByUpperAir float64 // kg/s/Pa
	AirByLowerAir float64 // by the lower side's air, its density counted
}

// Exchange is what passes both ways, beside the flows of Water and Air, through a hole that lies flat or nearly so, with
// water over air. The caller says which side is the upper one. Holes no wider than 7.66√(σ/ρg), 21 mm in clean water, pass
// nothing: a surface holds there. The volume that passes each way is
//
//	q = ⅓ A √(gd)·cos²α·(1 − (Δp/ρgd)²)²
//
// d the opening's Width, α the angle of its plane with the horizontal, Δp the pressure difference at its centre; none where
// |Δp| ≥ ρgd, for then one fluid fills the hole. It fades in over the first d of water above the hole and of air below it.
// The number and its source stand at exchangeShare; the shape of the fading and of cos² are choices (an upright hole
// exchanges by its extent, in Water and Air), smooth so that a solver can follow.
func (o *Orifice) Exchange(v *View, w *Water, air *Air, upper, lower Side) Exchange {
	weight, d := w.Density*Gravity, o.Width
	density := air.DensityAt(lower.Air)
	if !(d > HeldWidth(*w)) || !(density > 0) {
		return Exchange{}
	}
	over, byOver := fadeIn((upper.Surface - v.mid) / d)
	under, byUnder := fadeIn((v.mid - lower.Surface) / d)
	x := ((upper.Head-v.mid)*weight - lower.Air) / (weight * d)
	if over*under == 0 || math.Abs(x) >= 1 {
		return Exchange{}
	}
	full := exchangeShare * v.area * math.Sqrt(Gravity*d) * v.level
	fade := (1 - x*x) * (1 - x*x)
	q, byX := full*over*under*fade, -full*over*under*4*x*(1-x*x)
	byUpper, byLower, byAir := (byX+full*byOver*under*fade)/d, -full*over*byUnder*fade/d, byX/(weight*d)
	return Exchange{
		Water: q, WaterByUpper: byUpper, WaterByLower: byLower, WaterByAir: byAir,
		Air: density * q, AirByUpper: density * byUpper, AirByLower: density * byLower,
		AirByUpperAir: density * byAir,
		AirByLowerAir: q*air.Density/Atmosphere - density*byAir,
	}
}

// HeldWidth is the diameter, m, of the widest flat hole at which a surface still carries water over air.
func HeldWidth(w Water) float64 { return heldWidth * capillaryLength(w) }

// fadeIn is 0 up to 0, 1 from 1, straight between, with its slope.
func fadeIn(x float64) (value, slope float64) {
	switch {
	case !(x > 0):
		return 0, 0
	case x >= 1:
		return 1, 0
	}
	return x, 1
}
