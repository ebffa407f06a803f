package flood_test

import (
	"fmt"
	"math"
)

// The reference for box-shaped hulls: a second method, sharing nothing with the engine. Integrals below a plane come from
// iterated Gauss quadrature between the places where the integrand changes its polynomial, which is exact for a box; the
// engine sums triangles. Arrays instead of r3.Vec, because the axes are picked by index.

type refVec [3]float64

func (a refVec) dot(b refVec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a refVec) plus(f float64, b refVec) refVec {
	return refVec{a[0] + f*b[0], a[1] + f*b[1], a[2] + f*b[2]}
}

// refBox is a box along the axes, counted with a sign, so that a room less a wing space is a sum.
type refBox struct {
	lo, hi refVec
	sign   float64
}

// refBelow are the integrals over the part of a solid where up·x ≤ offset; area is that of the plane's cut.
type refBelow struct {
	volume, area float64
	moment       refVec
}

// gaussTwo and gaussThree are the Gauss–Legendre rules on [0, 1]: exact for degrees 3 and 5.
var (
	gaussTwo   = [2]float64{0.5 - 0.5/math.Sqrt(3), 0.5 + 0.5/math.Sqrt(3)}
	gaussThree = [3][2]float64{{0.5 - math.Sqrt(0.15), 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + math.Sqrt(0.15), 5.0 / 18}}
)

// below integrates columns along the axis nearest to up: their wet length is linear between the breaks, so that the
// integrals across the first axis are quadratic and those across the second cubic at most.
func (b refBox) below(up refVec, offset float64) (r refBelow) {
	k := 0
	for a := 1; a < 3; a++ {
		if math.Abs(up[a]) > math.Abs(up[k]) {
			k = a
		}
	}
	i, j := (k+1)%3, (k+2)%3
	breaks := make([]float64, 0, 6)
	for _, y := range [2]float64{b.lo[j], b.hi[j]} {
		for _, z := range [2]float64{b.lo[k], b.hi[k]} {
			breaks = refBreak(breaks, (offset-up[j]*y-up[k]*z)/up[i], b.lo[i], b.hi[i])
		}
	}
	from := b.lo[i]
	for _, to := range append(breaks, b.hi[i]) {
		for _, g := range gaussThree {
			x := from + g[0]*(to-from)
			b.slice(&r, [3]int{i, j, k}, up, offset, x, g[1]*(to-from)*b.sign)
		}
		from = to
	}
	return r
}

// slice adds the columns over one value x of axis i, counted with a weight.
func (b refBox) slice(r *refBelow, axes [3]int, up refVec, offset, x, weight float64) {
	i, j, k := axes[0], axes[1], axes[2]
	c := offset - up[i]*x
	breaks := make([]float64, 0, 4)
	for _, z := range [2]float64{b.lo[k], b.hi[k]} {
		breaks = refBreak(breaks, (c-up[k]*z)/up[j], b.lo[j], b.hi[j])
	}
	from := b.lo[j]
	for _, to := range append(breaks, b.hi[j]) {
		for _, g := range gaussTwo {
			y := from + g*(to-from)
			w := 0.5 * (to - from) * weight
			surface := (c - up[j]*y) / up[k]
			z0, z1 := b.lo[k], min(surface, b.hi[k])
			if up[k] < 0 {
				z0, z1 = max(surface, b.lo[k]), b.hi[k]
			}
			if surface > b.lo[k] && surface < b.hi[k] {
				r.area += w / math.Abs(up[k])
			}
			if z1 <= z0 {
				continue
			}
			length := w * (z1 - z0)
			r.volume += length
			r.moment[i] += length * x
			r.moment[j] += length * y
			r.moment[k] += length * 0.5 * (z0 + z1)
		}
		from = to
	}
}

// refBreak inserts a value that lies strictly inside an interval, in order; others, and NaN, change nothing.
func refBreak(sorted []float64, x, lo, hi float64) []float64 {
	if !(x > lo && x < hi) {
		return sorted
	}
	sorted = append(sorted, x)
	for i := len(sorted) - 1; i > 0 && sorted[i] < sorted[i-1]; i-- {
		sorted[i], sorted[i-1] = sorted[i-1], sorted[i]
	}
	return sorted
}

// refRoom is a sum of signed boxes; share is the permeability.
type refRoom struct {
	boxes []refBox
	share float64
}

func (r refRoom) below(up refVec, offset float64) (s refBelow) {
	for _, b := range r.boxes {
		p := b.below(up, offset)
		s.volume += r.share * p.volume
		s.area += r.share * p.area
		s.moment = s.moment.plus(r.share, p.moment)
	}
	return s
}

// reach is the lowest and highest height of the room's first box, which contains all of it.
func (r refRoom) reach(up refVec) (lo, hi float64) {
	for a := range 3 {
		p, q := up[a]*r.boxes[0].lo[a], up[a]*r.boxes[0].hi[a]
		lo, hi = lo+min(p, q), hi+max(p, q)
	}
	return lo, hi
}

func (r refRoom) capacity() float64 { return r.below(refVec{0, 0, 1}, math.Inf(1)).volume }

// level finds the offset below which a volume lies, by Newton's iteration kept within a bracket by bisection, to the last
// digits; near is a guess.
func (r refRoom) level(up refVec, volume, near float64) (float64, refBelow) {
	lo, hi := r.reach(up)
	span := hi - lo
	d := min(max(near, lo), hi)
	var b refBelow
	for range 200 {
		b = r.below(up, d)
		if b.volume > volume {
			hi = d
		} else {
			lo = d
		}
		next := d - (b.volume-volume)/b.area
		if !(next > lo && next < hi) {
			next = 0.5 * (lo + hi)
		}
		moved := math.Abs(next - d)
		if d = next; moved <= 2e-16*span {
			break
		}
	}
	return d, r.below(up, d)
}

// refShip is a box hull with weights and rooms; the rooms in the order of the vessel's spaces.
type refShip struct {
	hull    refRoom
	mass    float64
	centre  refVec
	density float64
	rooms   []refRoom
	ports   []refPort

	slope [2][2]float64 // of the moments, kept from one equilibrium to the next
	known bool
}

// refPose is an attitude, rad, and the offset of the sea surface.
type refPose struct {
	trim, heel, sea float64
	levels          []float64 // of the water in the rooms
}

// refUp is the contract's unit vector: trim = −asin u_x, heel = atan2(u_y, u_z).
func refUp(trim, heel float64) refVec {
	return refVec{-math.Sin(trim), math.Cos(trim) * math.Sin(heel), math.Cos(trim) * math.Cos(heel)}
}

// refTangents are the derivatives of refUp by trim and by heel.
func refTangents(trim, heel float64) (byTrim, byHeel refVec) {
	return refVec{-math.Cos(trim), -math.Sin(trim) * math.Sin(heel), -math.Sin(trim) * math.Cos(heel)},
		refVec{0, math.Cos(trim) * math.Cos(heel), -math.Cos(trim) * math.Sin(heel)}
}

// afloat brings the pose's offsets to the water aboard and returns the moments about both angles that turn the hull on,
// as a volume times a length: minus the derivative of the potential energy by the angle.
func (s *refShip) afloat(water []float64, p *refPose) [2]float64 {
	up := refUp(p.trim, p.heel)
	total := s.mass / s.density
	weights := refVec{}.plus(total, s.centre)
	for i, r := range s.rooms {
		total += water[i]
		var b refBelow
		p.levels[i], b = r.level(up, water[i], p.levels[i])
		weights = weights.plus(1, b.moment)
	}
	var b refBelow
	p.sea, b = s.hull.level(up, total, p.sea)
	d := b.moment.plus(-1, weights)
	t, h := refTangents(p.trim, p.heel)
	return [2]float64{d.dot(t), d.dot(h)}
}

// lostBuoyancy is afloat with some rooms open to the sea: they count neither as buoyancy nor as load, and the sea's
// offset is found for the rest.
func (s *refShip) lostBuoyancy(open []int, p *refPose) [2]float64 {
	up := refUp(p.trim, p.heel)
	rest := refRoom{boxes: append([]refBox{}, s.hull.boxes...), share: 1}
	for _, i := range open {
		for _, b := range s.rooms[i].boxes {
			b.sign *= -s.rooms[i].share
			rest.boxes = append(rest.boxes, b)
		}
	}
	var b refBelow
	p.sea, b = rest.level(up, s.mass/s.density, p.sea)
	d := b.moment.plus(-s.mass/s.density, s.centre)
	t, h := refTangents(p.trim, p.heel)
	return [2]float64{d.dot(t), d.dot(h)}
}

// rest finds the equilibrium near a pose, with the water given, to rounding.
func (s *refShip) rest(water []float64, near refPose) (refPose, error) {
	return s.balance(near, func(p *refPose) [2]float64 { return s.afloat(water, p) })
}

// bilged finds the equilibrium with some rooms open to the sea.
func (s *refShip) bilged(open []int, near refPose) (refPose, error) {
	s.known = false
	defer func() { s.known = false }()
	return s.balance(near, func(p *refPose) [2]float64 { return s.lostBuoyancy(open, p) })
}

// balance is Newton's iteration on the two moments, with the slope kept as long as it serves. A slope that is not negative
// definite is an unstable rest, and refused.
func (s *refShip) balance(p refPose, moments func(*refPose) [2]float64) (refPose, error) {
	p.levels = append([]float64(nil), p.levels...)
	if p.levels == nil {
		p.levels = make([]float64, len(s.rooms))
	}
	last := math.Inf(1)
	for range 60 {
		m := moments(&p)
		if !s.known {
			s.slope = refSlope(p, moments)
			s.known = true
		}
		a, b, c, d := s.slope[0][0], s.slope[0][1], s.slope[1][0], s.slope[1][1]
		det := a*d - b*c
		if !(a < 0 && det > 0) {
			return p, fmt.Errorf("the rest at trim %g, heel %g is not stable", p.trim, p.heel)
		}
		dt, dh := -(d*m[0]-b*m[1])/det, -(a*m[1]-c*m[0])/det
		moved := math.Hypot(dt, dh)
		if most := 0.1; moved > most { // keep far starts from jumping to another rest
			dt, dh = dt*most/moved, dh*most/moved
		}
		p.trim, p.heel = p.trim+dt, p.heel+dh
		if moved < 1e-13 || (moved < 1e-10 && moved > 0.5*last) { // there, or down to rounding
			moments(&p)
			return p, nil
		}
		s.known = moved < 0.1*last
		last = moved
	}
	return p, fmt.Errorf("no rest found near trim %g, heel %g", p.trim, p.heel)
}

// refSlope is the derivative of the moments by both angles, by central differences.
func refSlope(p refPose, moments func(*refPose) [2]float64) (j [2][2]float64) {
	const step = 1e-5
	for k, d := range [2][2]float64{{step, 0}, {0, step}} {
		q := p
		q.levels = append([]float64(nil), p.levels...)
		q.trim, q.heel = p.trim+d[0], p.heel+d[1]
		above := moments(&q)
		q.trim, q.heel = p.trim-d[0], p.heel-d[1]
		below := moments(&q)
		for i := range 2 {
			j[i][k] = (above[i] - below[i]) / (2 * step)
		}
	}
	return j
}
