package hydro

import "math"

// drive is a pressure difference that grows evenly with the distance from a height at which it is zero.
type drive struct {
	law
	zero   float64 // height over the figure's centre at which Δp is zero
	weight float64 // change of Δp per height, ρg, Pa/m
	up     bool    // Δp is positive above zero, else below
	gas    *gas    // what is driven, nil for water
}

// at is Δp at a height, not negative.
func (d *drive) at(y float64) float64 {
	if d.up {
		return math.Max(0, d.weight*(y-d.zero))
	}
	return math.Max(0, d.weight*(d.zero-y))
}

// spread is an integral over a part of a figure's extent: of the speed for water, of the mass flux for air.
type spread struct {
	rate   float64 // ∫ v dA, m³/s; of air kg/s
	slope  float64 // its derivative by Δp everywhere, per Pa
	source float64 // of air: its derivative by the pressure where the air comes from, Δp as it is, per Pa
}

// add counts a point of the quadrature: an area in place of which dA/dv stands, weight·dA = width·(Creep + 2 Jet v) dv, so
// that a change of v with Δp, 1/(Creep + 2 Jet v), has no pole at rest.
func (s *spread) add(d *drive, width, v float64) {
	if d.gas != nil {
		s.addGas(d, width, v)
		return
	}
	s.addWater(d, width, v)
}

// addWater is add for water, small enough for the compiler to put in place.
func (s *spread) addWater(d *drive, width, v float64) {
	s.rate += width * v * (d.creep + 2*d.jet*v)
	s.slope += width
}

// addGas is add for air.
func (s *spread) addGas(d *drive, width, v float64) {
	f := d.gas.flux(v * (d.creep + d.jet*v))
	width *= d.creep + 2*d.jet*v
	s.rate += width * f.rate
	s.slope += width * f.slope
	s.source += width * f.source
}

// scale multiplies all of it.
func (s *spread) scale(by float64) { s.rate, s.slope, s.source = s.rate*by, s.slope*by, s.source*by }

// integrate is the flow between two heights over the centre, from < to, over which Δp is not negative.
//
// The square root is taken out by integrating over v: weight·dy = (Creep + 2 Jet v) dv.
func (v *View) integrate(d *drive, from, to float64) spread {
	from, to = math.Max(from, v.low), math.Min(to, v.high)
	switch {
	case !(from < to):
		return spread{}
	case v.shape == round:
		return v.integrateRound(d, from, to)
	}
	return v.integrateStrips(d, from, to)
}

// throughAt is the flow per height at a height, which may be infinite: what the integral gains as its end moves up there.
func (v *View) throughAt(y float64, d *drive) float64 {
	width := v.width(y)
	if width == 0 {
		return 0
	}
	if d.gas != nil {
		return width * d.gas.flux(d.at(y)).rate
	}
	return width * d.speed(d.at(y))
}

// Gauss's three points on (0, 1).
var (
	gaussAt     = [3]float64{0.1127016653792583, 0.5, 0.8872983346207417}
	gaussWeight = [3]float64{5.0 / 18, 8.0 / 18, 5.0 / 18}
)

// integrateStrips is integrate for a polygon. Over a strip the width runs straight with y, so that the integrand is a
// polynomial of the fourth degree in v, for which three Gauss points are exact.
func (v *View) integrateStrips(d *drive, from, to float64) spread {
	sum := spread{}
	lower := d.speed(d.at(from))
	for k := v.indexAt(from); k < len(v.strips) && v.strips[k].low < to; k++ {
		s := &v.strips[k]
		y0, y1 := math.Max(from, s.low), math.Min(to, s.high)
		upper := d.speed(d.at(y1))
		w0, w1 := s.width(y0), s.width(y1)
		// With x the fraction of the way from v(y0) to v(y1), dA = (y1−y0)·width·(Creep + 2 Jet v)/mean dx, and y has gone
		// the fraction x·(Creep + Jet(v(y0)+v))/mean of its way: nothing cancels however thin the strip.
		mean := d.creep + d.jet*(lower+upper)
		for i, x := range gaussAt {
			speed := lower + (upper-lower)*x
			w := w0 + (w1-w0)*x*(d.creep+d.jet*(lower+speed))/mean
			if w *= gaussWeight[i] * (y1 - y0) / mean; d.gas == nil {
				sum.addWater(d, w, speed)
			} else {
				sum.addGas(d, w, speed)
			}
		}
		lower = upper
	}
	return sum
}

// The positive ones of Gauss's ten points on (−1, 1) and their weights (Abramowitz & Stegun, table 25.4).
var (
	gauss10At     = [5]float64{0.148874338981631211, 0.433395394129247191, 0.679409568299024406, 0.865063366688984511, 0.973906528517171720}
	gauss10Weight = [5]float64{0.295524224714752870, 0.269266719309996355, 0.219086362515982044, 0.149451349150580593, 0.066671344308688138}
)

// integrateRound is integrate for a circle, whose width has square roots of its own at its two ends. With v going from the
// one end of the circle (or from rest, where Δp vanishes within it) to the other as (3t − t³)/2 goes from −1 to 1, both are
// taken out, whichever part of the circle is asked for.
func (v *View) integrateRound(d *drive, from, to float64) spread {
	zero := d.zero
	if d.up {
		zero, from, to = -zero, -to, -from // a circle upside down is the same circle: now the greater Δp is below
	}
	c := chord{law: d.law, half: v.half, weight: d.weight}
	c.most = d.weight * (zero + v.half)
	least := d.weight * (zero - v.half)
	c.fast = c.speed(math.Max(0, c.most))
	c.slow = c.speed(math.Max(0, least))
	c.lack = math.Max(0, -least)
	c.span = math.Min(c.most, 2*d.weight*v.half) / (c.creep + c.jet*(c.fast+c.slow))
	a, b := c.parameter(to), c.parameter(from)
	middle, reach := (a+b)/2, (b-a)/2
	sum := spread{}
	for i, x := range gauss10At {
		width, speed := c.at(middle - reach*x)
		sum.add(d, gauss10Weight[i]*width, speed)
		width, speed = c.at(middle + reach*x)
		sum.add(d, gauss10Weight[i]*width, speed)
	}
	// The chord's width is 2A/(π half²)·√(half² − y²), and dA = width/weight·(Creep + 2 Jet v) dv.
	sum.scale(reach * 2 * v.area / (math.Pi * v.half * v.half * d.weight * d.weight))
	return sum
}

// chord is a circle's width as a function of the speed through it; Δp is greatest at its lower end.
type chord struct {
	law
	half, weight float64
	most         float64 // Δp at the end where it is greatest
	fast, slow   float64 // speeds at that end, and at the other or 0 where Δp does not reach it
	span         float64 // fast − slow, without cancellation
	lack         float64 // −Δp at the other end where that is negative
}

// parameter is t for a height.
func (c *chord) parameter(y float64) float64 {
	fall := c.weight * (y + c.half)
	v := c.speed(math.Max(0, c.most-fall))
	share := 1 - 2*fall/(c.creep+c.jet*(c.fast+v))/c.span
	return 2 * math.Sin(math.Asin(math.Max(-1, math.Min(1, share)))/3)
}

// at is, at t, weight·√(half² − y²)·dv/dt and the speed v.
func (c *chord) at(t float64) (width, v float64) {
	up := (1 + t) * (1 + t) * (2 - t) / 4   // (v − slow)/span
	down := (1 - t) * (1 - t) * (2 + t) / 4 // (fast − v)/span
	v = c.slow + c.span*up
	fromMost := c.span * down * (c.creep + c.jet*(c.fast+v))
	fromLeast := c.span*up*(c.creep+c.jet*(c.slow+v)) + c.lack
	return math.Sqrt(fromMost*fromLeast) * c.span * 0.75 * (1 - t) * (1 + t), v
}
