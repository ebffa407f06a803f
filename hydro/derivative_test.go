package hydro

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// raised is a side with its surface and head lifted.
func raised(s Side, by float64) Side {
	s.Surface, s.Head = s.Surface+by, s.Head+by
	return s
}

// randomGap is the gap over a bulkhead in a hull's section, seen from a random attitude.
func randomGap(r *rand.Rand) (*Figure, Orifice) {
	breadth, top, deck := 0.1+0.1*r.Float64(), 0.05+0.02*r.Float64(), 0.1
	gap := []r3.Vec{{Y: -breadth, Z: top}, {Y: breadth, Z: top}, {Y: 1.1 * breadth, Z: deck}, {Y: -1.1 * breadth, Z: deck}}
	wall := []r3.Vec{{Y: -breadth, Z: top}, {Z: 0}, {Y: breadth, Z: top}}
	f := Edge([][]r3.Vec{gap}, [][]r3.Vec{wall}, r3.Vec{X: 1})
	return f, EdgeLaw(f.Area(), math.NaN(), still, NewAir(291.15))
}

// pressed is a side with its air at a higher pressure and its head raised by that.
func pressed(s Side, by float64) Side {
	s.Air += by
	s.Head += by / (still.Density * Gravity)
	return s
}

// differences are the central differences of a flow by the levels of a and b, for a rise h, and by their airs, for the
// weight of the same height of water.
func differences(rate func(a, b Side) float64, a, b Side, h float64) (byA, byB, byAirA, byAirB float64) {
	dp := h * still.Density * Gravity
	byA = (rate(raised(a, h), b) - rate(raised(a, -h), b)) / (2 * h)
	byB = (rate(a, raised(b, h)) - rate(a, raised(b, -h))) / (2 * h)
	byAirA = (rate(pressed(a, dp), b) - rate(pressed(a, -dp), b)) / (2 * dp)
	byAirB = (rate(a, pressed(b, dp)) - rate(a, pressed(b, -dp))) / (2 * dp)
	return byA, byB, byAirA, byAirB
}

// All derivatives against central differences. The scale is the flow of the whole figure over its extent; a difference
// over a kink would be off by the order of that scale, so the few states that lie on one are counted, not forgiven unseen.
func TestWaterDerivatives(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 2))
	var v View
	states, kinks := 4000, 0
	for i := range states {
		f, o := randomFigure(r)
		if i%4 == 0 {
			f, o = randomGap(r)
		}
		f.View(randomUnit(r), &v)
		a, b := randomSides(r, &v, &still)
		flow := o.Water(&v, &still, a, b)
		h := 1e-6 * (v.High - v.Low)
		scale := math.Abs(flow.ByA) + math.Abs(flow.ByB) + fullFlow(&o, f, &v, a, b)/(v.High-v.Low)
		rate := func(a, b Side) float64 { return o.Water(&v, &still, a, b).Rate }
		byA, byB, byAirA, byAirB := differences(rate, a, b, h)
		rg := still.Density * Gravity
		e := max(math.Abs(byA-flow.ByA), math.Abs(byB-flow.ByB)) / scale
		if a.Air != b.Air {
			e = max(e, rg*math.Abs(byAirA-flow.ByAir)/scale, rg*math.Abs(byAirB+flow.ByAir)/scale)
		} else {
			// About equal airs the derivative goes as the root of their difference: 1e-3 of it within the step.
			e = max(e, 0.1*rg*math.Abs(byAirA-flow.ByAir)/scale, 0.1*rg*math.Abs(byAirB+flow.ByAir)/scale)
		}
		if !(e < 1e-4) {
			kinks++
			t.Logf("law %+v\n  view %g..%g a %+v b %+v: got %+v, differences %g %g %g %g, off by %g", o, v.Low, v.High, a, b, flow, byA, byB, byAirA, byAirB, e)
		}
	}
	if kinks > states/1000 {
		t.Errorf("%d of %d states have derivatives off by more than 1e-4", kinks, states)
	}
}

// A flow moves in proportion as a level moves through everything that can happen: no level is a step for an upright figure.
func TestWaterContinuousInLevel(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	var v View
	for range 60 {
		f, o := randomFigure(r)
		f.View(r3.Unit(r3.Add(f.one, r3.Scale(0.3, randomUnit(r)))), &v)
		extent := v.High - v.Low
		_, b := randomSides(r, &v, &still)
		const steps = 4000
		var last, jump float64
		full := 0.0
		for i := range steps + 1 {
			level := v.Low + extent*(4*float64(i)/steps-1.5)
			a := Side{Surface: level, Head: level}
			rate := o.Water(&v, &still, a, b).Rate
			full = math.Max(full, fullFlow(&o, f, &v, a, b))
			if i > 0 {
				jump = math.Max(jump, math.Abs(rate-last))
			}
			last = rate
		}
		// The steepest that occurs is a drowned figure near rest, where the flow goes like a root: one step of the level
		// there is a jump of the root of it.
		if limit := 3 * math.Sqrt(4.0/steps) * full; jump > limit {
			t.Errorf("a step of %g of the extent makes a jump of %g of the full flow (radius %g, b %+v)", 4.0/steps, jump/full, f.radius, b)
		}
	}
}

func TestWaterAllocatesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	face, law := randomFigure(r)
	for face.radius > 0 || len(face.corners) < 12 {
		face, law = randomFigure(r)
	}
	hole, holeLaw := Circle(r3.Vec{}, r3.Vec{X: 1}, 0.02), HoleLaw(0.02, 0.001, Sharp, math.NaN(), still, NewAir(291))
	var v, w View
	up := randomUnit(r)
	step := func() {
		up = r3.Unit(r3.Add(up, r3.Scale(0.3, randomUnit(r))))
		face.View(up, &v)
		hole.View(up, &w)
		a, b := randomSides(r, &v, &still)
		law.Water(&v, &still, a, b)
		holeLaw.Water(&w, &still, a, b)
	}
	step()
	if n := testing.AllocsPerRun(200, step); n != 0 {
		t.Errorf("%g allocations a step", n)
	}
}
