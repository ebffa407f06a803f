package flood_test

import (
	"math"
	"slices"
)

// refGravity is the contract's, scenario.md §3 Fluids.
const refGravity = 9.80665

// refPort is an opening: a circle (width 0: its diameter is length) or a rectangle of length along `along` and width
// across, in a plane of normal `faces`.
type refPort struct {
	from, to             int // rooms, −1: the sea
	centre, faces, along refVec
	length, width        float64
	cd                   float64
	wall                 float64 // thickness of the plate
	viscosity            float64 // Pa·s; 0: no creep
	tension              float64 // N/m; 0: a jet loses nothing to its own surface
	edge                 bool    // a gap over a bulkhead: its coefficient follows the water
	plate                float64 // height of the plate's lowest point over the keel line, at the centre line, for an edge
}

// refNodes is how many points each part of an opening is integrated with: the substitution leaves an analytic integrand,
// and 24 give ten digits (TestRefFlow).
const refNodes = 24

var refNodeX, refNodeW = refLegendre(refNodes)

// refLegendre are the nodes and weights of the Gauss–Legendre rule on [0, 1], by Newton's iteration on the polynomial.
func refLegendre(n int) (x, w []float64) {
	for i := range n {
		t := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var dp float64
		for range 100 {
			p, q := 1.0, 0.0
			for k := 1; k <= n; k++ {
				p, q = (float64(2*k-1)*t*p-float64(k-1)*q)/float64(k), p
			}
			dp = float64(n) * (t*p - q) / (t*t - 1)
			t -= p / dp
		}
		x, w = append(x, 0.5*(1+t)), append(w, 1/((1-t*t)*dp*dp))
	}
	return x, w
}

func (p *refPort) area() float64 {
	if p.width == 0 {
		return math.Pi * p.length * p.length / 4
	}
	return p.length * p.width
}

// creep is the viscous resistance, Pa/(m/s), of scenario.md §3 Openings: for a rectangle a slit, or the circle of equal area
// where that resists more; for an edge none.
func (p *refPort) creep() float64 {
	if p.edge {
		return 0
	}
	d := math.Sqrt(4 * p.area() / math.Pi)
	circle := p.viscosity * p.area() / (d * d * d) * (24 + 128*p.wall/(math.Pi*d))
	if p.width == 0 {
		return circle
	}
	l, w := max(p.length, p.width), min(p.length, p.width)
	return max(circle, p.viscosity*p.area()*(32/(math.Pi*w*w*l)+12*p.wall/(w*w*w*l)))
}

// jetLoss is what water loses to the jet's surface where it leaves into air, Pa: 2σ/d, for a rectangle σ/w.
func (p *refPort) jetLoss() float64 {
	if p.width == 0 {
		return 2 * p.tension / p.length
	}
	return p.tension / min(p.length, p.width)
}

// density is the area per height at a height over the centre, with the heights where it changes its kind.
func (p *refPort) density(up refVec) (half float64, at func(z float64) float64, kinks []float64) {
	n := up.dot(p.faces)
	tilt := math.Sqrt(max(0, 1-n*n))
	if p.width == 0 {
		r := 0.5 * p.length
		return r * tilt, func(z float64) float64 { return 2 * math.Sqrt(max(0, r*r*tilt*tilt-z*z)) / (tilt * tilt) }, nil
	}
	across := refVec{
		p.faces[1]*p.along[2] - p.faces[2]*p.along[1],
		p.faces[2]*p.along[0] - p.faces[0]*p.along[2],
		p.faces[0]*p.along[1] - p.faces[1]*p.along[0],
	}
	a, b := 0.5*p.length*math.Abs(up.dot(p.along)), 0.5*p.width*math.Abs(up.dot(across))
	most := p.area() / (2 * max(a, b))
	return a + b, func(z float64) float64 {
		ramp := p.area() * (a + b - math.Abs(z)) / (4 * a * b)
		if a*b == 0 {
			ramp = most
		}
		return max(0, min(most, ramp))
	}, []float64{-math.Abs(a - b), math.Abs(a - b)}
}

// flow is the water that passes, m³/s, from a to b, their surfaces at heights ha and hb (−Inf: none).
func (p *refPort) flow(up refVec, weight, ha, hb float64) float64 {
	if hb > ha {
		return -p.flow(up, weight, hb, ha)
	}
	half, at, kinks := p.density(up)
	z0 := up.dot(p.centre)
	jet := 0.5 * weight / refGravity / p.coefficient(up, ha, hb, z0-half, half)
	speed := func(z float64) float64 {
		push := weight * (max(ha, z) - max(hb, z))
		if hb <= z {
			push -= p.jetLoss()
		}
		return refSpeed(push, p.creep(), jet)
	}
	if half < 1e-12 {
		return p.area() * speed(z0)
	}
	loss := p.jetLoss() / weight
	breaks := []float64{z0 - half, z0 + half, ha, hb, ha - loss, z0 + kinks0(kinks, 0), z0 + kinks0(kinks, 1)}
	slices.Sort(breaks)
	sum := 0.0
	for i := range len(breaks) - 1 {
		lo, hi := max(breaks[i], z0-half), min(breaks[i+1], z0+half)
		if hi-lo > 0 {
			sum += refPart(lo, hi, func(z float64) float64 { return at(z-z0) * speed(z) })
		}
	}
	return sum
}

// kinks0 is a kink, or the centre where the figure has none.
func kinks0(kinks []float64, i int) float64 {
	if i < len(kinks) {
		return kinks[i]
	}
	return 0
}

// refPart integrates a function that may have a square root's slope at either end: z = lo + (hi−lo) sin²(πs/2).
func refPart(lo, hi float64, f func(float64) float64) (sum float64) {
	for i, s := range refNodeX {
		sin, cos := math.Sincos(0.5 * math.Pi * s)
		sum += refNodeW[i] * math.Pi * sin * cos * f(lo+(hi-lo)*sin*sin)
	}
	return sum * (hi - lo)
}

// refSpeed solves creep·v + jet·v² = push for the speed over the whole area.
func refSpeed(push, creep, jet float64) float64 {
	if push <= 0 {
		return 0
	}
	return 2 * push / (creep + math.Sqrt(creep*creep+4*jet*push))
}

// coefficient is C_d²: of an edge 0.602 + 0.075 h/p (ISO 1438, full width) up to h/p = 1, and 0.61 once the lower side
// drowns it by more than h/2, straight between (scenario.md §3 Openings).
func (p *refPort) coefficient(up refVec, ha, hb, lowest, half float64) float64 {
	if !p.edge {
		return p.cd * p.cd
	}
	h := ha - lowest
	if h <= 0 {
		return 0.602 * 0.602
	}
	foot := up.dot(refVec{p.centre[0], 0, p.plate})
	free := 0.602 + 0.075*min(1, h/(lowest-foot))
	drowned := min(1, max(0, (hb-lowest)/(0.5*h)))
	cd := free + drowned*(0.61-free)
	return cd * cd
}
