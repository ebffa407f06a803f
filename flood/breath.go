package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// breathe finds the flow of air through a port near a nominal speed, and returns that speed, as pour does for water. The drop is
// that at the highest point of the opening, where air flows if it does anywhere: on the side where that is under water the
// pressure in the water there, and what a bubble needs.
func (r *Run) breathe(p *port, u float64, from, to hydro.Side) float64 {
	pa, dryA, holdsA := r.pressureOver(from, p)
	pb, dryB, holdsB := r.pressureOver(to, p)
	t, l := &p.air, p.airLaw
	if p.fading, p.dry = 1, 0; !dryA && !dryB {
		return 0
	}
	t.driven, t.drop, t.feelsA, t.feelsB, t.fromA, t.fromB = true, pa-pb, !dryA, !dryB, dryA, dryB
	t.holdsA, t.holdsB = holdsA, holdsB
	p.dry = p.breadth
	if p.own == nil {
		p.dry -= p.view.AreaBelow(math.Min(p.view.High, math.Min(from.Surface, to.Surface)))
	}
	if !t.flows(u) {
		u = l.speedAt(t.drop)
	}
	if u == 0 {
		u = math.Copysign(0, t.drop)
	}
	if !t.flows(u) {
		return u
	}
	driven := l.pressure(u)
	var f hydro.AirFlow
	var byMiss, miss float64
	// the air on the higher side is put under the pressure that the nominal speed needs
	if !math.Signbit(u) {
		miss = t.drop - driven
		f = p.airThrough(&r.vessel.Water, &r.vessel.Air, r.pressed(from, -miss), to)
		byMiss = f.ByAirA
	} else {
		miss = driven - t.drop
		f = p.airThrough(&r.vessel.Water, &r.vessel.Air, from, r.pressed(to, -miss))
		byMiss = f.ByAirB
	}
	t.flow, t.byA, t.byB, t.pushA, t.pushB = f.Rate+byMiss*miss, f.ByA, f.ByB, f.ByAirA, f.ByAirB
	t.scale(1 / r.vessel.Air.Density)
	return u
}

// pressureAt is the pressure on one side of an opening at a height, Pa, and whether that height is dry there.
func (r *Run) pressureAt(side hydro.Side, height float64) (pressure float64, dry bool) {
	if side.Surface < height {
		return side.Air, true
	}
	return r.weight * (side.Head - height), false
}

// pressureOver is the pressure at the highest point of an opening on one side, and of it what a bubble needs where that is under water. This
// comes in over the first water above, as high as the opening: it is the nominal speed that follows it, and no flow. With all of it at once
// the speed would jump where a level stands at the brim of a hole that passes its air by a share of its area, and no iteration would
// find that share. Over a level hole, which has no such shares, it jumps.
func (r *Run) pressureOver(side hydro.Side, p *port) (pressure float64, dry bool, h hold) {
	over, tall := side.Surface-p.view.High, p.view.High-p.view.Low
	if pressure, dry = r.pressureAt(side, p.view.High); dry {
		return pressure, true, hold{}
	}
	h = hold{now: p.law.Bubbling, most: p.law.Bubbling}
	if over < tall {
		h.now, h.steep = p.law.Bubbling*over/tall, p.law.Bubbling/tall
	}
	return pressure + h.now, false, h
}

// hold is what a bubble needs in pressure, how that rises with the level, Pa/m, and the most that it comes to.
type hold struct{ now, steep, most float64 }

// after is by how much it changes when the level rises.
func (h *hold) after(rise float64) float64 {
	return math.Max(0, math.Min(h.most, h.now+h.steep*rise)) - h.now
}

// pressed is a side with its air under another pressure.
func (r *Run) pressed(s hydro.Side, by float64) hydro.Side {
	s.Air += by
	s.Head += by / r.weight
	return s
}

// exchange adds what water and air pass a wide flat hole the opposite way. Where both sides' air comes and goes freely, water
// needs no air to take its place, and falls by its own law.
func (r *Run) exchange(p *port, from, to hydro.Side) {
	if p.upper == noSide || p.held {
		return
	}
	upper, lower, above := p.upright(from, to)
	sign := 1.0 // of the water's flow from → to
	if !above {
		sign = -1
	}
	e := p.law.Exchange(&p.view, &r.vessel.Water, &r.vessel.Air, upper, lower)
	if e.Water == 0 {
		return
	}
	w, a, scale := &p.water, &p.air, -sign/r.vessel.Air.Density
	w.flow += sign * e.Water
	a.flow += scale * e.Air
	if above {
		w.add(sign*e.WaterByUpper, sign*e.WaterByLower, sign*e.WaterByAir, -sign*e.WaterByAir)
		a.add(scale*e.AirByUpper, scale*e.AirByLower, scale*e.AirByUpperAir, scale*e.AirByLowerAir)
	} else {
		w.add(sign*e.WaterByLower, sign*e.WaterByUpper, -sign*e.WaterByAir, sign*e.WaterByAir)
		a.add(scale*e.AirByLower, scale*e.AirByUpper, scale*e.AirByLowerAir, scale*e.AirByUpperAir)
	}
}

// upright are the sides of a flat hole as they lie in the pose that it is seen in, and whether From is above.
func (p *port) upright(from, to hydro.Side) (upper, lower hydro.Side, above bool) {
	above = p.upper == p.From
	if r3.Dot(p.Figure.Normal(), p.seen) < 0 {
		above = !above
	}
	if above {
		return from, to, true
	}
	return to, from, false
}

// add adds to the derivatives of a stream.
func (t *stream) add(byA, byB, pushA, pushB float64) {
	t.byA, t.byB, t.pushA, t.pushB = t.byA+byA, t.byB+byB, t.pushA+pushA, t.pushB+pushB
}

// noSide stands for neither side of a port.
const noSide = -2

// upperSide is the side of a port that its figure's normal leads to, or noSide where water and air cannot pass each other there
// by the exchange through a flat hole.
func (r *Run) upperSide(p *compartment.Passage) int {
	w := r.vessel.Water
	if p.Pump != 0 || !(p.Law.Width > hydro.HeldWidth(w)) {
		return noSide
	}
	if p.Bulkhead >= 0 { // the normal leads forward, as from the first space to the second
		return p.To
	}
	normal := p.Figure.Normal()
	for _, side := range [2]struct{ here, there int }{{p.From, p.To}, {p.To, p.From}} {
		if side.here == compartment.Outside {
			continue
		}
		room := r.spaces[side.here].Room
		for reach := 1e-4 * r.size; reach < 0.02*r.size; reach *= 2 {
			if room.Inside(r3.Add(p.Figure.Centre(), r3.Scale(reach, normal))) {
				return side.here
			}
			if room.Inside(r3.Sub(p.Figure.Centre(), r3.Scale(reach, normal))) {
				return side.there
			}
		}
	}
	return noSide
}
