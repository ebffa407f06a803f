package compartment

import "math"

// addAll sums the strips' added masses, less at the ends as a spheroid's are, and adds that along x.
func (s *Surround) addAll() {
	s.drags, s.axialDrag = s.drags[:0], axialDrag{}
	if len(s.strips) == 0 {
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
		s.sums.addStrip(x, length, n.mass.by(f), n.roll.by(f), n.swayY, n.swayZ)
		area, first, second = area.plus(w.area), first.plus(w.area.by(x)), second.plus(w.area.by(x*x+length*length/12))
		y, z = y.plus(w.area.times(n.y)), z.plus(w.area.times(n.z))
		mean.add(n.image.times(w.area))
	}
	i := area.oneOver()
	y, z = y.times(i), z.times(i)
	middle := first.times(i)
	spread := second.times(i).minus(middle.squared())
	mean = mean.times(i)
	long := s.longer(area, spread)
	slimness := long.over(mean.determinant().root()).root()
	k := spheroidOf(slimness)
	ends, largest, double := s.ends()
	blunt := ends.times(double.root()).times(slimness).over(slimness.plus(constant(endsSlimness))).by(endsMass)
	axial := area.times(k.along).by(length).plus(blunt)
	s.sums.scale(middle, k.across.by(s.factors.AddedMass), k.turn.by(s.factors.AddedMass))
	s.sums.addAxial(axial.by(s.density*s.factors.AddedMass), y, z)
	s.endsLeave = k.across.v
	skin := s.setDrags(long.v, mean)
	s.axialDrag = axialDrag{s.axialForce(slimness.v, ends.v, largest.v), skin, y.v, z.v}
}

// longer is the second moment along x over volume of the wet part with its image: that of the wet part is given, and the sum
// of the strips' areas.
func (s *Surround) longer(area, spread slope) slope {
	whole, depth := 0.0, constant(0)
	for i := range s.grid.strips {
		whole += s.grid.strips[i].whole.area
	}
	for i := range s.strips {
		depth = depth.plus(s.strips[i].depth.times(s.strips[i].area))
	}
	depth = depth.over(area)
	g := area.by(1 / whole).squared().squared().squared().squared()
	fade := constant(1).plus(g.times(depth.squared().over(spread).squared()).by(imageFading))
	return spread.plus(depth.times(s.frame.x).squared().over(fade))
}

// ends is the area of what stands across x, halved so that both ends of a prism make one section, and the area of about the
// largest section, without its image and with it. At each border between strips the step in section counts by its cube, so that a sudden end
// counts whole and of one that n strips share an n²th is left. The water's surface is no end.
func (s *Surround) ends() (ends, largest, double slope) {
	var steps, squares, cubes, doubles, wetBefore slope
	var before *surroundStrip
	step := func(of slope, by float64) { steps = steps.plus(of.squared().times(of).by(math.Abs(by * by * by))) }
	next := 0
	for i := range s.grid.strips {
		strip := &s.grid.strips[i]
		var wet slope
		if next < len(s.strips) && s.strips[next].strip == strip {
			w := &s.strips[next]
			wet = w.area.by(1 / strip.whole.area)
			square := w.area.times(w.form.area)
			cube := square.times(w.form.area)
			squares, cubes, doubles = squares.plus(square), cubes.plus(cube), doubles.plus(cube.times(w.form.near))
			next++
		}
		if before != nil && strip.middle.X-before.middle.X > 1.5*s.grid.length { // nothing between them
			step(wetBefore, before.whole.area)
			before = nil
		}
		if before == nil {
			step(wet, strip.whole.area)
		} else {
			step(wet.plus(wetBefore), 0.5*(strip.whole.area-before.whole.area))
		}
		before, wetBefore = strip, wet
	}
	step(wetBefore, before.whole.area)
	largest = cubes.over(squares)
	return steps.over(largest.squared()).by(0.5), largest, cubes.plus(doubles).over(squares)
}

// spheroid is what a spheroid has against motion, over what its strips add up to: a mass ρA each across x (k₂, and k′ with
// the inertia of the displaced water taken as the strips'), and over its displaced mass along x (k₁).
type spheroid struct{ along, across, turn slope }

// spheroidOf is by H. Lamb, Hydrodynamics, §114 and §115, by length over diameter. With q = e² = 1 − 1/λ² (negative for a
// disc), N the demagnetising factor along the axis and b = (1 − 3N)/q:
//
//	k₁ = N/(1 − N),  k₂ = (1 − N)/(1 + N),  k′(1 + 1/λ²) = q² b/(2 − (2 − q) b).
func spheroidOf(slimness slope) (k spheroid) {
	one := constant(1)
	q := one.minus(slimness.squared().oneOver())
	b := q.mapped(oblongness(q.v))
	n := one.minus(q.times(b)).by(1 / 3.0)
	k.along = n.over(one.minus(n))
	k.across = one.minus(n).over(one.plus(n))
	k.turn = q.squared().times(b).over(constant(2).minus(constant(2).minus(q).times(b)))
	return k
}

// oblongness is (1 − 3N)/q and its derivative by q: 2/5 for a sphere, N = (1 − q)(g − 1)/q with g = artanh(√q)/√q.
func oblongness(q float64) (b, rate float64) {
	if math.Abs(q) < 0.1 {
		power, before := 1.0, 0.0
		for j := range 16 {
			c := 6 / float64((2*j+3)*(2*j+5))
			b += c * power
			rate += c * float64(j) * before
			before, power = power, power*q
		}
		return b, rate
	}
	var g float64
	if q > 0 {
		g = math.Atanh(math.Sqrt(q)) / math.Sqrt(q)
	} else {
		g = math.Atan(math.Sqrt(-q)) / math.Sqrt(-q)
	}
	gRate := (1/(1-q) - g) / (2 * q)
	n := (1 - q) * (g - 1) / q
	nRate := gRate*(1-q)/q - (g-1)/(q*q)
	b = (1 - 3*n) / q
	return b, -(3*nRate + b) / q
}
