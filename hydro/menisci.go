package hydro

import "math"

// ContactAngle is the contact angle of water on the plates where nothing else is said, rad: 80°, of ABS and near that of
// polystyrene, 87° (survey of polymer surfaces, mean of advancing and at rest; single studies differ by ten degrees).
const ContactAngle = 80 * math.Pi / 180

// WithContactAngle returns the law for a contact angle of water on the plate, in rad from 0 to π, with what surfaces hold
// back (Young and Laplace; the maximum-bubble-pressure method for the first):
//
//   - Bubbling: air leaves under water only above 4σ/d (slot and door 2σ/w), for each bubble must pass the hemisphere; where
//     the water does not wet the plate, beyond 90°, × sin θ.
//   - Breaking: water comes through a dry opening only once it has passed 4σ sin θ/d (2σ sin θ/w), the surface's hold at the
//     far rim; sin θ counts as 1 beyond 90°.
//
// Edges and faces have no rim around and hold nothing; for a dry edge see DryEdgeRise.
func (o Orifice) WithContactAngle(theta float64) Orifice {
	most := o.tensionForm * o.tension
	o.Bubbling, o.Breaking = most, most
	if theta > math.Pi/2 {
		o.Bubbling *= math.Sin(theta)
	} else {
		o.Breaking *= math.Sin(theta)
	}
	return o
}

// DryEdgeRise is the height, m, to which water stands above a dry edge before it passes, 2√(σ/ρg)·sin(θ/2), for a contact
// angle in rad: the depth of a puddle (Laplace; de Gennes, Brochard-Wyart & Quéré, Capillarity, ch. 2, from memory).
func DryEdgeRise(w Water, theta float64) float64 {
	return 2 * capillaryLength(w) * math.Sin(theta/2)
}

// capillaryLength is √(σ/ρg), m.
func capillaryLength(w Water) float64 { return math.Sqrt(w.SurfaceTension / (w.Density * Gravity)) }

// WaterPush is the greatest pressure difference, Pa, by which water presses against air anywhere over the figure in view:
// what has to pass Breaking. Where no water reaches the figure it is negative, by the weight of the water still lacking;
// where the figure is under water on both sides, or neither has any, −Inf.
func WaterPush(v *View, w *Water, a, b Side) float64 {
	return math.Max(pushAgainst(v, w, a, b), pushAgainst(v, w, b, a))
}

// pushAgainst is WaterPush from a wet against a dry side. It is greatest at the lowest height that is dry beyond.
func pushAgainst(v *View, w *Water, wet, dry Side) float64 {
	weight := w.Density * Gravity
	low := math.Max(v.Low, dry.Surface)
	switch {
	case low > v.High || math.IsInf(wet.Surface, -1):
		return math.Inf(-1)
	case wet.Surface <= low:
		return weight * (wet.Surface - low)
	}
	return weight*(wet.Head-low) - dry.Air
}
