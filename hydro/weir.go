package hydro

import "math"

// weir turns the flow over an edge with a coefficient of one into that with the coefficient of ISO 1438 for the levels on
// both sides, and carries the coefficient's own change into the derivatives. Between two full spaces the edge is drowned.
func (v *View) weir(flow Flow, a, b Side, weight float64) Flow {
	fullA, fullB := math.IsInf(a.Surface, 1), math.IsInf(b.Surface, 1)
	cd, byA, byB, byAir := weirDrowned, 0.0, 0.0, 0.0
	if !(fullA && fullB) {
		ha, hb := overEdge(a, b, weight)-v.Low, overEdge(b, a, weight)-v.Low
		if ha >= hb {
			cd, byA, byB = v.weirCoefficient(ha, hb)
		} else {
			cd, byB, byA = v.weirCoefficient(hb, ha)
		}
	}
	// Of a surface the air does not change the level, of a full space it does.
	if fullA {
		byAir = byA / weight
	} else if fullB {
		byAir = -byB / weight
	}
	return Flow{
		Rate:  cd * flow.Rate,
		ByA:   cd*flow.ByA + byA*flow.Rate,
		ByB:   cd*flow.ByB + byB*flow.Rate,
		ByAir: cd*flow.ByAir + byAir*flow.Rate,
	}
}

// overEdge is the level on a side: its surface, or of a full space the height to which the water would stand under the
// air of the other side.
func overEdge(side, other Side, weight float64) float64 {
	if math.IsInf(side.Surface, 1) {
		return side.Head - other.Air/weight
	}
	return side.Surface
}

// weirCoefficient is C_d for the heights of the higher and the lower water over the lowest point of the edge, and its
// derivatives by both.
func (v *View) weirCoefficient(higher, lower float64) (cd, byHigher, byLower float64) {
	if !(higher > 0) {
		return weirBase, 0, 0
	}
	free, byFree := weirBase+weirRise, 0.0
	if p := v.Low - v.plate; p > 0 && higher < p {
		free, byFree = weirBase+weirRise*higher/p, weirRise/p
	}
	share := 2 * lower / higher
	switch {
	case !(share > 0):
		return free, byFree, 0
	case share >= 1:
		return weirDrowned, 0, 0
	}
	fall := weirDrowned - free
	return free + share*fall, byFree*(1-share) - share/higher*fall, 2 / higher * fall
}
