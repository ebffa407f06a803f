package compartment

import "math"

// stripDrag is what damps one strip, of its whole length.
type stripDrag struct {
	x        float64
	y, z     float64 // of the wet part's centroid, in body axes
	gy, gz   float64 // drag across: the power lost is (gy u_y² + gz u_z²)^(3/2), times the factor of the settings
	factor   float64 // that
	still    float64 // what friction has under the root of the drag across: see drag
	roll     float64 // N·m·s²: moment over |ω|ω
	rollSkin float64 // N·m·s: of friction, moment over ω
}

// axialDrag is the drag along x: force over |u|u, and that of friction over u.
type axialDrag struct{ force, skin, y, z float64 }

// dragOf finds what damps a strip that has been immersed.
func (s *Surround) dragOf(w *wetStrip, finiteY, finiteZ float64) (d stripDrag) {
	f, n, length := &s.frame, &w.form, s.grid.length
	area, near := w.area.v, n.near.v
	d.x = w.strip.middle.X
	d.y, d.z = f.wetCentroid(w)
	sharpness := n.blunt.v * math.Sqrt(2/(1+square(n.blunt.v))) // 0: round, 1: sharp
	drag := func(along, across float64) float64 {
		r := math.Sqrt(along/across) / dragAlong
		c := dragRound * roundBreadth
		return c + (dragSharp/math.Sqrt(math.Sqrt(1+r*r*r))-c)*sharpness
	}
	// A floating section has water on one side of its double figure only.
	half := func(u float64) float64 { return 1 - near*u*u/(2*math.Max(f.across.v, 1e-300)) }
	shareY, shareZ := f.sharpened(w, near)
	k := 0.5 * s.density * length * area / math.Sqrt(12)
	d.gy = math.Cbrt(square(finiteY * k * drag(n.image.yy.v, n.image.zz.v) * half(f.up.Y) / math.Sqrt(w.own.yy.v*shareY)))
	d.gz = math.Cbrt(square(finiteZ * k * drag(n.image.zz.v, n.image.yy.v) * half(f.up.Z) / math.Sqrt(w.own.zz.v*shareZ)))

	corner := 3 * n.image.trace().v // r²
	fill := area / (12 * math.Sqrt(w.own.determinant().v*shareY*shareZ))
	d.roll = s.factors.QuadraticDamping * rollEddies * s.density * length * sharpness * fill * corner * corner * (2 - near)
	d.factor = s.factors.QuadraticDamping
	return d
}

// wetCentroid is that of a strip's wet part, in body axes, let down by what the smoothing of its cells lifts it in the surface.
func (f *surroundFrame) wetCentroid(w *wetStrip) (y, z float64) {
	near := w.form.near.v
	return w.y.v + w.strip.middle.Y - near*w.lift*f.up.Y, w.z.v + w.strip.middle.Z - near*w.lift*f.up.Z
}

// sharpened is how much of the second moments in y and in z the wet part of a floating section has once the smoothing of its
// cells is taken out: its moment about the surface is right as it stands, its centroid is too high by w.lift.
func (f *surroundFrame) sharpened(w *wetStrip, near float64) (shareY, shareZ float64) {
	t := near * w.lift * (2*w.depth.v/math.Max(f.across.v, 1e-300) + w.lift)
	left := func(x float64) float64 { return math.Sqrt(square(1-x) + 1e-4) } // never nothing
	return left(t * square(f.up.Y) / w.own.yy.v), left(t * square(f.up.Z) / w.own.zz.v)
}

func square(x float64) float64 { return x * x }

// finiteLength is how much of a long body's drag across one has, by its length over its breadth, both by their second
// moments: of a cylinder 2/√3 of what they are.
func finiteLength(slimness float64) float64 {
	x := math.Log(slimness * math.Sqrt(3) / 2)
	x = math.Max(x, -finiteDrag1/(2*finiteDrag2)) // the least of the parabola: smooth
	return math.Min(finiteDrag+x*(finiteDrag1+x*finiteDrag2), 1)
}

// setDrags finds what damps the strips and the ends. long and mean are the second moments of the wet part with its image, along
// and across x. It returns what friction has along x.
func (s *Surround) setDrags(long float64, mean symmetric2) (skin float64) {
	s.drags = s.drags[:0]
	rubbing := s.rubbing()
	finiteY, finiteZ := finiteLength(math.Sqrt(long/mean.zz.v)), finiteLength(math.Sqrt(long/mean.yy.v))
	for i := range s.strips {
		d := s.dragOf(&s.strips[i], finiteY, finiteZ)
		skin += rubbing * d.setFriction(&s.strips[i], s.grid.length, rubbing)
		s.drags = append(s.drags, d)
	}
	return skin
}

// axialForce is the drag along x over the speed's square: that of the ends, and of what is rounded that of a spheroid.
func (s *Surround) axialForce(slimness, ends, largest float64) float64 {
	thick := 1 / (1 + slimness*slimness)
	blunt := (dragEnds + dragDisc*thick) * ends
	if round := 1 - ends/largest; round > 0 {
		blunt += dragSphere * math.Sqrt(2*thick) * round * round * largest
	}
	return 0.5 * s.density * blunt * s.factors.QuadraticDamping
}

// Damp adds the force and the moment (about the origin, body axes) of damping at a velocity of the body, and their
// derivative by the velocity, which is symmetric and negative semidefinite.
func (s *Surround) Damp(velocity [6]float64, force *[6]float64, slope *[6][6]float64) {
	v := &velocity
	var sums plainSums
	for i := range s.drags {
		d := &s.drags[i]
		d.drag(v, force, &sums)
	}
	s.axialDrag.damp(v, force, &sums)
	s.stripWaves.damp(v, force, slope)
	s.endWaves.damp(v, force, &sums, slope)
	var rate [6][6]float64
	sums.lay(&rate)
	for i := range 6 {
		for k := range 6 {
			slope[i][k] += rate[i][k]
		}
	}
}

// damp adds the drag along x.
func (a *axialDrag) damp(v, force *[6]float64, sums *plainSums) {
	f, slows := against(a.force, a.skin, v[0]+v[4]*a.z-v[5]*a.y)
	force[0] += f
	force[4] += f * a.z
	force[5] -= f * a.y
	sums.addAxial(slows, a.y, a.z)
}

// velocityAcross is that across x of a point of a body in motion.
func velocityAcross(v *[6]float64, x, y, z float64) (uy, uz float64) {
	return v[1] - v[3]*z + v[5]*x, v[2] + v[3]*y - v[4]*x
}

// pushAcross adds a force across x at a point and a moment about x.
func pushAcross(force *[6]float64, fy, fz, roll, x, y, z float64) {
	force[1] += fy
	force[2] += fz
	force[3] += roll + fz*y - fy*z
	force[4] -= fz * x
	force[5] += fy * x
}

// drag is −(√Q gy u_y, √Q gz u_z), Q = factor² (gy u_y² + gz u_z²) + still: the gradient of −Q^(3/2)/(3 factor²), which is convex.
// Under one root, friction rules the small swings and nothing is left of it in a fall, whose drag was measured with it.
func (d *stripDrag) drag(v *[6]float64, force *[6]float64, sums *plainSums) {
	uy, uz := velocityAcross(v, d.x, d.y, d.z)
	py, pz := d.gy*uy, d.gz*uz
	ff := d.factor * d.factor
	root := math.Sqrt(ff*(py*uy+pz*uz) + d.still)
	roll, rollRate := against(d.roll, d.rollSkin, v[3])
	pushAcross(force, -root*py, -root*pz, roll, d.x, d.y, d.z)
	var rate [3]float64
	if root > 0 {
		rate = [3]float64{-root*d.gy - ff*py*py/root, -ff * py * pz / root, -root*d.gz - ff*pz*pz/root}
	}
	sums.addStrip(d.x, 0, rate, rollRate, d.y, d.z)
}

// against is −u √((drag u)² + skin²), and its derivative.
func against(drag, skin, u float64) (force, rate float64) {
	root := math.Sqrt(square(drag*u) + skin*skin)
	if root == 0 {
		return 0, 0
	}
	return -u * root, -root - square(drag*u)/root
}
