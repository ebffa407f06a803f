package compartment

import "math"

// tensorSums are the sums over strips that make up a 6×6 tensor.
type tensorSums struct {
	mass, massX, massXX symmetric2 // Σ a, Σ a x, Σ a x²: a of each strip across x
	lever, leverX       [2]slope   // Σ a·l, Σ x a·l: l the velocity across x that a turn about x gives the strip's centre
	roll                slope      // Σ l·a·l and what the strips have about their centres
	axial               [6]slope   // along x: m, m z, −m y, m z², −m z y, m y², at the centre
}

func (t *symmetric2) add(o symmetric2) {
	t.yy, t.yz, t.zz = t.yy.plus(o.yy), t.yz.plus(o.yz), t.zz.plus(o.zz)
}

func (t symmetric2) by(f float64) symmetric2 {
	return symmetric2{t.yy.by(f), t.yz.by(f), t.zz.by(f)}
}

func (t symmetric2) times(f slope) symmetric2 {
	return symmetric2{t.yy.times(f), t.yz.times(f), t.zz.times(f)}
}

// addStrip adds a strip: a is its tensor across x, roll what it has about its centre.
func (t *tensorSums) addStrip(x, length float64, a symmetric2, roll, y, z slope) {
	t.mass.add(a)
	t.massX.add(a.by(x))
	t.massXX.add(a.by(x*x + length*length/12))
	ly := a.yz.times(y).minus(a.yy.times(z))
	lz := a.zz.times(y).minus(a.yz.times(z))
	t.lever[0], t.lever[1] = t.lever[0].plus(ly), t.lever[1].plus(lz)
	t.leverX[0], t.leverX[1] = t.leverX[0].plus(ly.by(x)), t.leverX[1].plus(lz.by(x))
	t.roll = t.roll.plus(roll).plus(lz.times(y)).minus(ly.times(z))
}

// scale multiplies what the strips have.
func (t *tensorSums) scale(f slope) {
	t.mass, t.massX, t.massXX = t.mass.times(f), t.massX.times(f), t.massXX.times(f)
	for i := range 2 {
		t.lever[i], t.leverX[i] = t.lever[i].times(f), t.leverX[i].times(f)
	}
	t.roll = t.roll.times(f)
}

// addAxial adds a mass along x at a centre.
func (t *tensorSums) addAxial(m, y, z slope) {
	mz, my := m.times(z), m.times(y)
	t.axial = [6]slope{m, mz, my.by(-1), mz.times(z), mz.times(y).by(-1), my.times(y)}
}

// part is the sums' values (k = 0) or their derivatives by the pose's coordinate k − 1.
func (t *tensorSums) part(k int) (p plainSums) {
	across := func(s *symmetric2) [3]float64 { return [3]float64{s.yy.part(k), s.yz.part(k), s.zz.part(k)} }
	p.mass, p.massX, p.massXX = across(&t.mass), across(&t.massX), across(&t.massXX)
	for i := range 2 {
		p.lever[i], p.leverX[i] = t.lever[i].part(k), t.leverX[i].part(k)
	}
	p.roll = t.roll.part(k)
	for i := range p.axial {
		p.axial[i] = t.axial[i].part(k)
	}
	return p
}

// addAll sums the strips' added masses, shortened at the ends as a spheroid's are, and adds that along x.
func (s *Surround) addAll() {
	if len(s.strips) == 0 {
		s.setDrags(1, 0, 0)
		return
	}
	var area, first, second, y, z slope
	var mean symmetric2
	length := s.grid.length
	for i := range s.strips {
		w := &s.strips[i]
		w.form = s.frame.sectionOf(w)
		n, x := &w.form, w.strip.middle.X
		f := s.density * length
		s.sums.addStrip(x, length, n.mass.by(f), n.roll.by(f), n.y, n.z)
		area, first, second = area.plus(w.area), first.plus(w.area.by(x)), second.plus(w.area.by(x*x+length*length/12))
		y, z = y.plus(w.area.times(n.y)), z.plus(w.area.times(n.z))
		mean.add(n.image.times(w.area))
	}
	i := area.oneOver()
	y, z = y.times(i), z.times(i)
	spread := second.times(i).minus(first.times(i).squared())
	slimness := s.slimness(area.times(constant(length)), spread, mean.times(i))
	along, across := spheroid(slimness)
	s.sums.scale(across.by(s.factors.AddedMass))
	s.sums.addAxial(area.by(s.density*length*s.factors.AddedMass).times(along), y, z)
	s.setDrags(slimness.v, y.v, z.v)
}

// slimness is the length over the diameter of the spheroid that has the second moments of the wet part with its image.
func (s *Surround) slimness(volume, spread slope, mean symmetric2) slope {
	whole, depth := 0.0, constant(0)
	for i := range s.grid.strips {
		whole += s.grid.strips[i].whole.area
	}
	for i := range s.strips {
		depth = depth.plus(s.strips[i].depth.times(s.strips[i].area))
	}
	depth = depth.times(constant(s.grid.length)).over(volume)
	wet := volume.by(1 / (whole * s.grid.length))
	g := wet.squared().squared().squared().squared()
	fade := constant(1).plus(g.times(depth.squared().over(spread).squared()).by(imageFading))
	image := depth.times(s.frame.x).squared().over(fade)
	return spread.plus(image).over(mean.determinant().root()).root()
}

// spheroid gives a spheroid's added mass over the mass of the water it displaces, along its axis and across (H. Lamb,
// Hydrodynamics, §114: k₁ and k₂), by its length over its diameter. With N the demagnetising factor along the axis they are
// N/(1−N) and (1−N)/(1+N).
func spheroid(slimness slope) (along, across slope) {
	n := slimness.mapped(demagnetising(slimness.v))
	one := constant(1)
	return n.over(one.minus(n)), one.minus(n).over(one.plus(n))
}

// demagnetising is (g − 1)/(λ² − 1) with g = artanh(e)/e, e² = 1 − 1/λ², and its derivative; a sphere's is 1/3.
func demagnetising(l float64) (n, rate float64) {
	square := (l - 1) * (l + 1)
	q := square / (l * l) // e²
	if math.Abs(q) < 0.1 {
		sum, power, before, slope := 0.0, 1.0, 0.0, 0.0
		for k := range 16 {
			c := 1 / float64(2*k+3)
			sum += c * power
			slope += c * float64(k) * before
			before, power = power, power*q
		}
		n = (1 - q) * sum
		return n, ((1-q)*slope - sum) * 2 / (l * l * l)
	}
	var g float64
	if q > 0 {
		e := math.Sqrt(q)
		g = math.Atanh(e) / e
	} else {
		e := math.Sqrt(-q)
		g = math.Atan(e) / e
	}
	n = (g - 1) / square
	return n, ((g*(1/l-l/square) + l/square) - 2*l*n) / square
}
