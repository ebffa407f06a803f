package compartment

import "math"

// wetSection is what the wet part of a strip sets against its motion across x, per metre of length and per kg/m³ of water.
type wetSection struct {
	mass         symmetric2 // m²: added mass over ρ for a velocity of the centre across x
	roll         slope      // m⁴: for a turn about the centre
	y, z         slope      // the double figure's centre, in body axes
	area         slope      // m²: of a strip that is wet over part of its length, as they are on end, that of the wet part
	image        symmetric2 // m²: those with the mirror image in the sea's surface
	blunt        slope      // 0: an ellipse, 1: a rectangle
	swayY, swayZ slope      // where the force of sway acts, in body axes
	near         slope      // 1: it stands through the surface, 0: it is deep
}

// symmetric2 is a symmetric tensor in y and z.
type symmetric2 struct{ yy, yz, zz slope }

func (t symmetric2) trace() slope { return t.yy.plus(t.zz) }

func (t symmetric2) determinant() slope { return t.yy.times(t.zz).minus(t.yz.squared()) }

// sectionOf takes the section for one whose second moments are those of its wet part together with the mirror image in the
// surface. Heave of a floating section is half of what the double figure has in unbounded water, which is right for high
// frequency (the potential is zero on the surface; F. M. Lewis, Trans. SNAME 37 (1929) 1, from memory), and so is sway, for
// low frequency (the surface is a wall), at a centre of its own (lower).
//
// With S the double figure's second moments over its area, R = S/√det S and A the wet area, the added mass across x is
//
//	ρA (p R⁻¹ + q 1),  in roll about the centre  ρA √det S ((τ² − 4) p₄ c/2 + q₄),  τ = tr R,
//
// with c = 1 of a deep section, less of one in the surface, most of whose roll is in its sway.
//
// Of an ellipse p = p₄ = 1, q = q₄ = 0 are exact (H. Lamb, Hydrodynamics, §71 and §115). How far a figure is from an ellipse
// shows in the area that it has for its second moments (bluntness); p, q, p₄, q₄ are fitted to rectangles and to the
// triangle, coefficients and errors in motioncoefficients.go.
//
// The image fades as the section goes under and deeper, and as the body stands on end, where strips lie level.
func (f *surroundFrame) sectionOf(w *wetStrip) (n wetSection) {
	wet := w.area.by(1 / w.strip.whole.area)
	fade := f.fading(wet, w.depth, w.own.trace().by(0.5)).oneOver()
	n.near = f.across4.times(fade)
	up := w.depth.times(fade) // and times p, squared, what the image adds
	upY, upZ := up.times(f.y), up.times(f.z)
	y, z := w.depth.times(f.y), w.depth.times(f.z)
	n.image = symmetric2{w.own.yy.plus(upY.times(y)), w.own.yz.plus(upY.times(z)), w.own.zz.plus(upZ.times(z))}
	n.y = w.y.plus(upY.times(f.across)).plus(constant(w.strip.middle.Y))
	n.z = w.z.plus(upZ.times(f.across)).plus(constant(w.strip.middle.Z))

	det := n.image.determinant().root()
	lying := constant(1).minus(f.along16.times(constant(1).minus(wet)))
	n.area = w.area.over(lying)
	n.blunt = bluntness(w, &n, det)
	n.setMass(w.area, det)
	f.lower(&n, fade)
	return n
}

// fading is |p|⁴ + u_x⁴ + c g (h²/s²)²: over it the image is |p|⁴ strong. g is nothing while the section stands well out of
// the water, h the depth of the centroid, s² its second moment over its area.
func (f *surroundFrame) fading(wet, depth, spread slope) slope {
	g := wet.squared().squared().squared().squared()
	return f.across4.plus(f.along4).plus(g.times(depth.squared().over(spread).squared()).by(imageFading))
}

// bluntness is 0 for an ellipse and 1 for a parallelogram, by how much less area than an ellipse's a figure has for its second
// moments: the double figure as long as the section stands through the surface, else the section itself. det: the root of the
// double figure's determinant.
func bluntness(w *wetStrip, n *wetSection, det slope) slope {
	one := constant(1)
	both := n.near.times(one.plus(n.near)).over(det)
	alone := one.minus(n.near).over(w.own.determinant().root())
	full := n.area.by(1 / (4 * math.Pi)).times(both.plus(alone)) // 1 for an ellipse
	lack := one.minus(full)
	lack = lack.plus(lack.squared().plus(constant(roundedBy * roundedBy)).root()).by(0.5) // not below 0
	return lack.by(bluntScale).over(one.plus(lack.by(bluntBend)))
}

// lower moves the centre of a floating section to where the force of sway acts, with the surface as a wall (low frequency):
// (4/3π)(T² − b²)/T under the surface for a half ellipse of half-breadth b and depth T (its potential T cos η over the
// contour), lower for a rectangle, whose bottom turns it less. Heave acts along up and is not moved.
func (f *surroundFrame) lower(n *wetSection, fade slope) {
	den := f.across.plus(f.along4) // 1 where x is level, and on end, where nothing is left of all this
	trace := n.image.trace()
	up := n.image.yy.times(f.y.squared()).plus(n.image.yz.times(f.y.times(f.z)).by(2)).plus(n.image.zz.times(f.z.squared()))
	hh := up.plus(f.along4.times(trace).by(0.5)).over(den) // (T/2)²
	half := hh.root()
	corners := n.blunt.by(2).over(n.blunt.squared().plus(constant(1)))
	depth := hh.by(2).minus(trace).over(half).by(8 / (3 * math.Pi)).plus(corners.times(half).by(cornerLever))
	move := f.across.times(fade).times(depth).over(den.root())
	n.swayY, n.swayZ = n.y.minus(move.times(f.y)), n.z.minus(move.times(f.z))
}

func (n *wetSection) setMass(area, det slope) {
	one := constant(1)
	tau := n.image.trace().over(det)
	w := tau.oneOver().by(2).root() // 1 for equal axes, 0 for a plate
	slender := one.minus(w)
	p := one.plus(n.blunt.times(slender).by(plateExcess)).oneOver().over(det)
	q := w.times(n.blunt).by(squareExcess)
	n.mass = symmetric2{
		area.times(p.times(n.image.zz).plus(q)), area.times(p.times(n.image.yz)).by(-1), area.times(p.times(n.image.yy).plus(q)),
	}
	p4 := one.plus(n.blunt.times(constant(plateRoll).minus(w.by(plateRoll - squareRoll)))).oneOver()
	q4 := n.blunt.by(cornerRoll)
	free := one.minus(n.near.by(1 - surfaceRoll))
	n.roll = area.times(det).times(tau.squared().minus(constant(4)).times(p4).times(free).by(0.5).plus(q4))
}
