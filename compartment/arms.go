package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Arms is the righting-arm curve of a body: the arm at even steps of ArmStep from the heel at rest, half a turn to either
// side. Arms are positive where they turn the body back to port (to lesser heel): to starboard of the rest a positive arm
// rights it, to port of it a negative one. At every heel trim and sinkage are where the energy is least.
type Arms struct {
	Heel            []float64 // rad, from the rest's − π to the rest's + π, the rest in the middle; not wrapped
	Arm             []float64 // m; NaN where no trim is a rest
	Starboard, Port ArmSide
}

// ArmSide is what the curve comes to on one side of the rest. Everything counts from the heel at rest, and arms and areas
// are positive where they resist.
type ArmSide struct {
	Range  float64 // rad turned until the arm first vanishes; π: it does not
	Most   float64 // the greatest arm within the range, m
	MostAt float64 // the heel at it, rad
	Area   float64 // under the curve up to the range, m·rad: the work to turn it that far over its weight
	Area30 float64 // up to 30° turned, or the range where that is less
	Area40 float64 // up to 40° turned, or the range
}

// ArmStep is the step of heel of a curve of arms, rad.
const ArmStep = 2.5 * math.Pi / 180

const armSteps = 72 // to half a turn

// inclination holds a body at a heel and finds its trim and sinkage there.
type inclination struct {
	f     *Floater
	water []float64
	bal   Balance
	trim  float64
	sea   float64
}

// Arm is the righting arm at a heel, m: the slope of the least energy over trim and sinkage, over the weight. Positive turns
// the hull back to port (to lesser heel). ok is false where no trim is a minimum; trim and sinkage are then as before.
func (in *inclination) Arm(heel float64) (arm float64, ok bool) {
	trim, sea := in.trim, in.sea
	if !in.seek(heel) {
		in.trim, in.sea = trim, sea
		return nan, false
	}
	byHeel := r3.Vec{Y: math.Cos(in.trim) * math.Cos(heel), Z: -math.Cos(in.trim) * math.Sin(heel)}
	excess := r3.Sub(in.bal.LoadMoment, in.bal.Buoyancy)
	return r3.Dot(excess, byHeel) / in.bal.Load, true
}

// seek goes to the least energy at a heel, from the trim and sinkage that it had. Where rounding keeps the steps from falling
// under the wanted 1e-11, those under 1e-8 do; what still moves more after so many is no rest.
func (in *inclination) seek(heel float64) (found bool) {
	for range 100 {
		up := Inclined(heel, in.trim)
		in.f.Balance(Pose{Up: up, Sea: in.sea}, in.water, &in.bal)
		byTrim := r3.Vec{X: -math.Cos(in.trim), Y: -math.Sin(in.trim) * math.Sin(heel), Z: -math.Sin(in.trim) * math.Cos(heel)}
		a, b := r3.Dot(byTrim, in.bal.Pitch), r3.Dot(byTrim, in.bal.Roll)
		h := &in.bal.Hessian
		// the trim circle at a heel is a great circle: the Hessian along it needs no correction
		htt := a*a*h[0][0] + 2*a*b*h[0][1] + b*b*h[1][1]
		hts, hss := a*h[0][2]+b*h[1][2], h[2][2]
		gt, gs := a*in.bal.Gradient[0]+b*in.bal.Gradient[1], in.bal.Gradient[2]
		dt, ds, convex := newton2(htt, hts, hss, gt, gs, in.f.length)
		in.trim += dt
		in.sea += ds
		if !(math.Abs(in.trim) <= math.Pi/2) {
			return false
		}
		size := math.Max(math.Abs(dt), math.Abs(ds)/in.f.length)
		if convex && size < 1e-11 {
			return true
		}
		found = convex && size < 1e-8
	}
	return found
}

// newton2 is the step to the minimum of a quadratic in trim and sinkage, at most 0.2 rad and a tenth of the length.
func newton2(htt, hts, hss, gt, gs, length float64) (dt, ds float64, convex bool) {
	det := htt*hss - hts*hts
	if convex = hss > 0 && det > 0; convex {
		dt, ds = (hts*gs-hss*gt)/det, (hts*gt-htt*gs)/det
	} else {
		ds = -math.Copysign(0.02*length, gs)
		if hss > 0 {
			ds = -gs / hss
		}
		dt = -math.Copysign(0.02, gt-hts*gs/math.Max(hss, 1e-300))
	}
	dt = math.Max(-0.2, math.Min(0.2, dt))
	ds = math.Max(-0.1*length, math.Min(0.1*length, ds))
	return dt, ds, convex
}

// heeling takes a body from its rest over to one side.
type heeling struct {
	inclination
	heel0, energy0 float64
	sign           float64 // 1: to starboard, −1: to port
}

// RightingArms is the curve of righting arms about a rest, with the water in the spaces given and running to its level.
func (f *Floater) RightingArms(rest Pose, water []float64) *Arms {
	c := &Arms{Heel: make([]float64, 2*armSteps+1), Arm: make([]float64, 2*armSteps+1)}
	for k := range c.Heel {
		c.Heel[k] = rest.Heel() + float64(k-armSteps)*ArmStep
	}
	c.Starboard = f.heelOver(rest, water, 1, c)
	c.Port = f.heelOver(rest, water, -1, c)
	return c
}

// heelOver fills one side of the curve, and measures it. An area is exact, not a quadrature: the arm is the slope of the
// energy over the weight, so the area is the energy's rise over it.
func (f *Floater) heelOver(rest Pose, water []float64, sign float64, c *Arms) ArmSide {
	h := heeling{inclination: inclination{f: f, water: water, trim: rest.Trim(), sea: rest.Sea}, heel0: rest.Heel(), sign: sign}
	c.Arm[armSteps], _ = h.Arm(h.heel0)
	h.energy0 = h.bal.Energy
	side := ArmSide{Range: math.Pi}
	best, from := 0, h.inclination // the step before the greatest arm, and how the body lies there
	for k := 1; k <= armSteps; k++ {
		before := h.inclination
		arm, ok := h.Arm(h.heel0 + sign*float64(k)*ArmStep)
		c.Arm[armSteps+int(sign)*k] = arm
		if side.Range < math.Pi {
			continue
		}
		if k < armSteps && !(ok && sign*arm > 0) { // half a turn is the same attitude from either side
			after := h.inclination
			h.inclination = before
			side.Range = h.vanish(float64(k-1)*ArmStep, float64(k)*ArmStep)
			side.count(k, h.work())
			h.inclination = after
			continue
		}
		side.count(k, h.work())
		if sign*arm > side.Most {
			side.Most, best, from = sign*arm, k-1, before
		}
	}
	h.inclination = from
	side.Most, side.MostAt = h.highest(float64(best)*ArmStep, math.Min(side.Range, float64(best+2)*ArmStep))
	side.MostAt = h.heel0 + h.sign*side.MostAt
	return side
}

// count takes the work done up to step k, or up to the range that ends in it.
func (s *ArmSide) count(k int, work float64) {
	s.Area = work
	if k <= 12 { // 30° and 40° are 12 and 16 steps
		s.Area30 = work
	}
	if k <= 16 {
		s.Area40 = work
	}
}

// work is the rise of the energy up to the last heel over the weight, m·rad.
func (h *heeling) work() float64 { return (h.bal.Energy - h.energy0) / h.bal.Load }

// resist is the arm that turns the body back once it is turned so far from rest.
func (h *heeling) resist(turn float64) (arm float64, ok bool) {
	arm, ok = h.Arm(h.heel0 + h.sign*turn)
	return h.sign * arm, ok
}

// vanish finds where between two turns the righting arm vanishes, by bisection, and leaves the body just before it.
func (h *heeling) vanish(lo, hi float64) float64 {
	start := h.inclination
	for hi-lo > 1e-9 {
		mid := (lo + hi) / 2
		h.inclination = start
		if arm, ok := h.resist(mid); ok && arm > 0 {
			lo, start = mid, h.inclination
		} else {
			hi = mid
		}
	}
	h.inclination = start
	return (lo + hi) / 2
}

// highest is the greatest arm between two turns, by the golden section: to 1e-7 rad, where the arm is level to 1e-14.
func (h *heeling) highest(lo, hi float64) (arm, turn float64) {
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	atA, _ := h.resist(a)
	atB, _ := h.resist(b)
	for hi-lo > 1e-7 {
		if atA >= atB {
			hi, b, atB = b, a, atA
			a = hi - golden*(hi-lo)
			atA, _ = h.resist(a)
		} else {
			lo, a, atA = a, b, atB
			b = lo + golden*(hi-lo)
			atB, _ = h.resist(b)
		}
	}
	turn = (lo + hi) / 2
	arm, _ = h.resist(turn)
	return arm, turn
}
