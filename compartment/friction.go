package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro"
)

// rubbing is what a square metre of skin sets against the swing of the water past it, over its velocity, kg/(m²s): ρ√(νω/2), the part
// in phase of a plate's that swings in its own plane (Stokes 1851; L. D. Landau and E. M. Lifshitz, Fluid Mechanics, §24). The
// rate ω is that of a pendulum as long as a cube of the body's volume, near those at which bodies swing; the root forgives what it is off.
func (s *Surround) rubbing() float64 {
	return s.factors.LinearDamping * math.Sqrt(s.density*s.viscosity*s.grid.rate/2)
}

// swingRate is that of a body of a volume, rad/s.
func swingRate(volume float64) float64 { return math.Sqrt(hydro.Gravity / math.Cbrt(volume)) }

// setFriction finds what the skin of a strip adds to what damps it, and returns its area: that of an ellipse with the same second
// moments, round which the water slips by as round a circle, at the square root of twice the velocity (closed form), and which in roll
// meets it at their radius.
func (d *stripDrag) setFriction(w *wetStrip, length, rubbing float64) (skin float64) {
	n := &w.form
	spread := 2 * n.image.trace().v // a circle's radius squared
	skin = 2 * math.Pi * math.Sqrt(spread) * (1 - n.near.v/2) * length * w.area.v / n.area.v
	filled := w.area.v / (4 * math.Pi * math.Sqrt(w.own.determinant().v)) // about 1 of a section
	skin *= filled * (1 + sliver) / (filled + sliver)
	d.still = square(slips*rubbing*skin) / (d.gy * d.gz)
	d.rollSkin = rubbing * skin * spread
	return skin
}

// sliver is the share of what a section's second moments make one expect under which there is hardly any: where a strip just dips in, the
// cells that its water is counted in have moments, and it has no skin yet.
const sliver = 1e-3
