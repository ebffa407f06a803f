package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// bellPair is two airtight spaces side by side in a box of 300 × 150 × 150 mm, the first 100 mm long, with a tube between them
// near the top and a mouth in the bottom of the first.
func bellPair(tube float64) compartment.Spec {
	s := bellSpec(0.3, 0.15, 0.15, 0.02, 1000)
	s.Water.SurfaceTension = ptr(0.0)
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "wall", At: 0.1}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "first", Airtight: true}, {Name: "second", Airtight: true}}
	s.Openings = []compartment.OpeningSpec{bored("mouth", "outside", "first", r3.Vec{X: 0.05}, r3.Vec{Z: -1}, 0.02),
		bored("tube", "first", "second", r3.Vec{X: 0.1, Z: 0.14}, r3.Vec{X: 1}, tube)}
	return s
}

// Two bells joined by a tube come to one pressure, and what air there is fills both (Boyle's law, closed form): with areas a and
// b, the air of the start n as height × area, and water up to x in every bell that has a mouth,
//
//	(atm + ρg(D − x))·(room of both over x) = atm·n
//
// a quadratic. Once the second bell is closed, once it has a mouth of its own and the first begins with 30 mm of water.
func TestJoinedBells(t *testing.T) {
	const h, depth, a, b, weight = 0.15, 0.6, 0.1 * 0.15, 0.2 * 0.15, 1000 * 9.80665
	level := func(wet, dry, n float64) float64 { // wet and dry: areas of bells with a mouth and without
		k, head := hydro.Atmosphere/weight+depth, h*(wet+dry)
		// (k − x)(head − wet·x) = atm·n/ρg
		p, q := -(wet*k+head)/wet, (k*head-hydro.Atmosphere*n/weight)/wet
		return -p/2 - math.Sqrt(p*p/4-q)
	}
	closed := bellPair(0.004)
	both := bellPair(0.004)
	both.Compartments[0].Starts = &compartment.StartSpec{Depth: ptr(0.03)}
	both.Openings = append(both.Openings, bored("mouth-2", "outside", "second", r3.Vec{X: 0.2}, r3.Vec{Z: -1}, 0.015))
	for _, c := range []struct {
		name   string
		spec   compartment.Spec
		x      float64
		second float64 // level there
	}{
		{"second closed", closed, level(a, b, h*(a+b)), 0},
		{"both open below", both, level(a+b, 0, h*(a+b)-0.03*a), level(a+b, 0, h*(a+b)-0.03*a)},
	} {
		r, last := heldUnder(t, c.spec, depth, 600, 1e-8)
		p := weight * (depth - c.x)
		first, second := last["first"], last["second"]
		t.Logf("%s: level %.9f (%.9f), %.9f; pressures %.4f, %.4f (%.4f)", c.name, first.Depth, c.x, second.Depth, first.Air, second.Air, p)
		if math.Abs(first.Depth-c.x) > 1e-6*c.x || math.Abs(second.Depth-c.second) > 1e-6*c.x ||
			math.Abs(first.Air-p) > 1e-6*p || math.Abs(second.Air-p) > 1e-6*p {
			t.Errorf("%s: levels %.9f and %.9f, closed form %.9f; pressures %.4f and %.4f, %.4f", c.name, first.Depth, second.Depth, c.x, first.Air, second.Air, p)
		}
		if math.Abs(r.AirBalance) > 1e-12*r.AirCrossed || r.GaveUp != nil {
			t.Errorf("%s: air balance %g of %g kg; %+v", c.name, r.AirBalance, r.AirCrossed, r.GaveUp)
		}
	}
}

// airRate is the mass flow of air, kg/s, through a round sharp hole from a gauge pressure into the atmosphere, written anew from
// the scenario format: Δp = μvA/d³·(24 + 128L/(πd)) + ½ρ(v/(εC_d))², ε = 1 − 0.351(1 − (p₂/p₁)^(1/1.4)) (ISO 5167-2, β = 0),
// Sutherland's viscosity, the density of the side that the air comes from.
func airRate(gauge, d, wall, cd, temperature float64) float64 {
	area := disc(d)
	density := (hydro.Atmosphere + gauge) / (287.05 * temperature)
	viscosity := 1.458e-6 * math.Pow(temperature, 1.5) / (temperature + 110.4)
	epsilon := 1 - 0.351*(1-math.Pow(hydro.Atmosphere/(hydro.Atmosphere+gauge), 1/1.4))
	creep, jet := viscosity*area/(d*d*d)*(24+128*wall/(math.Pi*d)), density/2/(epsilon*cd)/(epsilon*cd)
	return density * area * (math.Sqrt(creep*creep+4*jet*gauge) - creep) / (2 * jet)
}

// simpson is the integral of f by Simpson's rule.
func simpson(f func(float64) float64, a, b float64, n int) float64 {
	h := (b - a) / float64(2*n)
	sum := f(a) + f(b)
	for i := 1; i < 2*n; i++ {
		sum += float64(2+2*(i%2)) * f(a+h*float64(i))
	}
	return sum * h / 3
}

// An airtight space blows down to the atmosphere through a pinhole, at one temperature: V/(RT)·dp/dt = −q(p), a quadrature. The
// space is put under pressure by 2 m of water through a mouth, which then shuts, and the hole, at the end of a pipe of 3 m, opens. At
// 0.3 mm in 2 mm of plastic creep is half of it, at 1 mm in a thin plate nothing.
func TestBlowDown(t *testing.T) {
	const temperature, shut = 291.15, 40.0
	for _, c := range []struct{ d, wall, cd float64 }{{0.3e-3, 2e-3, 0.827 - 0.0085*2/0.3}, {1e-3, 0.2e-3, 0.61}} {
		s := bellSpec(0.2, 0.15, 0.15, 0.03, 1000)
		s.Openings[0].Shuts = []compartment.Condition{{Time: ptr(shut)}}
		s.Openings = append(s.Openings, compartment.OpeningSpec{Name: "pipe", Between: [2]string{"bell", "outside"}, At: r3.Vec{X: 0.1, Z: 0.15},
			Faces: &r3.Vec{Z: 1}, Hole: ptr(c.d), Wall: c.wall, Rises: 3, Opens: []compartment.Condition{{Time: ptr(shut)}}})
		v := mustBuild(t, s)
		var at, p []float64
		room := 0.0
		until := shut + 200*1e-6/(c.d*c.d)
		run := mustStart(t, v, flood.Settings{Motion: flood.Held, Keel: ptr(-2.0), Until: until, Every: (until - shut) / 40, Tolerance: 1e-8,
			Samples: func(q *flood.Sample) {
				if q.Time >= shut {
					at, p, room = append(at, q.Time), append(p, q.Spaces[0].Air), 0.2*0.15*0.15-q.Spaces[0].Water
				}
			}})
		if r, err := run.Finish(t.Context()); err != nil || r.GaveUp != nil {
			t.Fatal(err, r.GaveUp)
		}
		start, worst, lowest := p[0], 0.0, math.Inf(1)
		for i := range p {
			if p[i] < 50 || at[i] == at[0] {
				continue
			}
			// in ln p, for q goes as p or √p
			want := room / (287.05 * temperature) * simpson(func(x float64) float64 {
				return math.Exp(x) / airRate(math.Exp(x), c.d, c.wall, c.cd, temperature)
			}, math.Log(p[i]), math.Log(start), 200)
			worst, lowest = math.Max(worst, math.Abs((at[i]-at[0])/want-1)), p[i]
		}
		t.Logf("%g mm: from %.0f to %.0f Pa, times within %.1e of the quadrature", 1e3*c.d, start, lowest, worst)
		if !(worst < 1e-6) || lowest > start/10 {
			t.Errorf("%g mm: times off the quadrature by %g, from %g to %g Pa", 1e3*c.d, worst, start, lowest)
		}
	}
}
