package compartment

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

func (t symmetric2) plus(o symmetric2) symmetric2 {
	t.add(o)
	return t
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

// scale multiplies what the strips have against a velocity by one number, and against a turn about the middle by another. Both
// act on the velocities, by their roots, so that the tensor stays positive.
func (t *tensorSums) scale(middle, shift, turn slope) {
	both := shift.times(turn).root()
	first := t.massX.plus(t.mass.times(middle).by(-1))
	second := t.massXX.plus(t.massX.times(middle).by(-2)).plus(t.mass.times(middle.squared()))
	first, second = first.times(both), second.times(turn)
	t.mass = t.mass.times(shift)
	t.massXX = second.plus(first.times(middle).by(2)).plus(t.mass.times(middle.squared()))
	t.massX = first.plus(t.mass.times(middle))
	for i := range 2 {
		lever := t.leverX[i].minus(t.lever[i].times(middle)).times(both)
		t.lever[i] = t.lever[i].times(shift)
		t.leverX[i] = lever.plus(t.lever[i].times(middle))
	}
	t.roll = t.roll.times(shift)
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
