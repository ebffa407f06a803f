package hydro

import "math"

// Side is what stands on one side of an opening. Heights are along up, as in View.
type Side struct {
	Surface float64 // water stands below this height, m; +Inf: at every height (a full space), −Inf: none
	Head    float64 // the pressure in the water at a height z is ρg(Head − z); Surface + Air/(ρg) where there is a surface
	Air     float64 // above the surface, Pa gauge
}

// Flow is a flow of water through an opening and how it follows the levels.
type Flow struct {
	Rate float64 // m³/s, from a to b
	ByA  float64 // derivative when Surface and Head of a rise together, m²/s
	ByB  float64 // the same for b

	// ByAir is the derivative when the air over a gains pressure and a's Head rises with it, its Surface staying, m³/s/Pa;
	// the same at b has the opposite sign, for water heeds differences only.
	ByAir float64
}

// Water is the flow of water through the figure in view, between the sides a and b: at each height the higher pressure
// drives whatever fluid stands there on its side, and where that is water it is counted. The flow is the integral of the
// law over the figure's extent; exact for polygons, to 1e-6 of the flow of the whole figure for circles. It
// allocates nothing.
func (o *Orifice) Water(v *View, w *Water, a, b Side) Flow {
	p := passage{law: law{o.Creep, o.Jet}, weight: w.Density * Gravity, tension: o.JetTension, view: v, mid: v.mid}
	flow := p.drowned(a, b)
	if a.Surface > b.Surface {
		rate, byWet, byDry, byPush := p.free(a, b)
		flow = Flow{flow.Rate + rate, flow.ByA + byWet, flow.ByB + byDry, flow.ByAir + byPush}
	} else if b.Surface > a.Surface {
		rate, byWet, byDry, byPush := p.free(b, a)
		flow = Flow{flow.Rate - rate, flow.ByA - byDry, flow.ByB - byWet, flow.ByAir + byPush}
	}
	if o.Weir {
		return v.weir(flow, a, b, p.weight)
	}
	return flow
}

// passage is one evaluation of the water's flow.
type passage struct {
	law
	weight  float64 // ρg
	tension float64
	view    *View
	mid     float64
}

// drowned is the flow over the part of the figure that is under water on both sides, where Δp is the same all over.
func (p *passage) drowned(a, b Side) Flow {
	top := math.Min(a.Surface, b.Surface) - p.mid
	area := p.view.below(top)
	if area == 0 {
		return Flow{}
	}
	dp := p.weight * (a.Head - b.Head)
	speed := math.Copysign(p.speed(math.Abs(dp)), dp)
	slope := area * p.slope(math.Abs(speed))
	flow := Flow{Rate: area * speed, ByA: slope * p.weight, ByB: -slope * p.weight, ByAir: slope}
	// The lower surface is the upper end of this part.
	if end := p.view.width(top) * speed; a.Surface < b.Surface {
		flow.ByA += end
	} else if b.Surface < a.Surface {
		flow.ByB += end
	}
	return flow
}

// free is the flow over the part that is wet on one side and dry on the other, from wet to dry, its derivatives by the two
// sides' levels, and that by the pressure difference. Air that goes the other way is no matter of this function.
func (p *passage) free(wet, dry Side) (rate, byWet, byDry, byPush float64) {
	v := p.view
	d := drive{law: p.law, weight: p.weight, zero: wet.Head - p.mid - (dry.Air+p.tension)/p.weight}
	surface, sill := wet.Surface-p.mid, dry.Surface-p.mid
	if v.shape == flat {
		push := d.at(0)
		if !(push > 0 && surface > 0 && sill <= 0) {
			return 0, 0, 0, 0
		}
		speed := p.speed(push)
		byPush = v.area * p.slope(speed)
		return v.area * speed, byPush * p.weight, 0, byPush
	}
	part := v.integrate(&d, sill, math.Min(surface, d.zero))
	byWet = part.slope * p.weight
	// The two surfaces are ends of this part, and move.
	if surface < d.zero {
		byWet += v.throughAt(surface, &d)
	}
	return part.rate, byWet, -v.throughAt(sill, &d), part.slope
}
