package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// spread is a mass laid out along x from lo to hi, evenly or falling linearly so that its centre is where it is said to be;
// lo = hi is a point. Own are its second moments per kilogram about its centre apart from that along x.
type spread struct {
	mass   float64
	centre r3.Vec
	lo, hi float64
	own    solid.Moments
	length float64 // second moment per kilogram along x of the whole where it is not that of the spread, NaN: it is
	later  bool
}

// part is the mass between two planes across x, its first and its second moments about the origin. A point in the after
// plane belongs to the part, one in the forward plane does not.
func (s *spread) part(from, to float64) (mass float64, first r3.Vec, second solid.Moments) {
	if s.hi <= s.lo {
		if s.centre.X < from || s.centre.X >= to {
			return 0, r3.Vec{}, solid.Moments{}
		}
		return s.whole()
	}
	if from <= s.lo && to >= s.hi {
		return s.whole()
	}
	middle, half := (s.lo+s.hi)/2, (s.hi-s.lo)/2
	a := math.Max(-1, (math.Max(from, s.lo)-middle)/half)
	c := math.Min(1, (math.Min(to, s.hi)-middle)/half)
	if c <= a {
		return 0, r3.Vec{}, solid.Moments{}
	}
	k := 3 * (s.centre.X - middle) / half // density ∝ 1 + kξ over −1 ≤ ξ ≤ 1
	moment := func(n float64) float64 {   // of ξⁿ, over the part's ξ
		return ((math.Pow(c, n+1)-math.Pow(a, n+1))/(n+1) + k*(math.Pow(c, n+2)-math.Pow(a, n+2))/(n+2)) / 2
	}
	m0, m1, m2 := moment(0), moment(1), moment(2)
	mass = s.mass * m0
	x := middle + half*m1/m0
	xx := s.mass * (middle*middle*m0 + 2*middle*half*m1 + half*half*m2)
	at := r3.Vec{X: x, Y: s.centre.Y, Z: s.centre.Z}
	second = outer(at).Scale(mass).Add(s.own.Scale(mass))
	second.XX = xx
	return mass, r3.Scale(mass, at), second
}

// whole is all of it.
func (s *spread) whole() (float64, r3.Vec, solid.Moments) {
	second := outer(s.centre).Scale(s.mass).Add(s.own.Scale(s.mass))
	along := s.length
	if math.IsNaN(along) {
		half, off := (s.hi-s.lo)/2, s.centre.X-(s.lo+s.hi)/2
		along = half*half/3 - off*off
	}
	second.XX += s.mass * along
	return s.mass, r3.Scale(s.mass, s.centre), second
}

// spreads are the shell and the weights.
func (b *builder) spreads() []spread {
	var all []spread
	if s, ok := b.shellSpread(); ok {
		all = append(all, s)
	}
	for i := range b.spec.Weights {
		all = append(all, weightSpread(&b.spec.Weights[i]))
	}
	return all
}

// weightSpread lays a weight out over its size, else its rod, else as a point.
func weightSpread(w *WeightSpec) spread {
	s := spread{mass: w.Mass, centre: w.At, lo: w.At.X, hi: w.At.X, length: math.NaN(), later: w.Later}
	if w.Size != nil {
		l, b, h := w.Size[0], w.Size[1], w.Size[2]
		s.lo, s.hi = w.At.X-l/2, w.At.X+l/2
		s.own = solid.Moments{YY: b * b / 12, ZZ: h * h / 12}
	}
	if w.Over != nil {
		s.lo, s.hi = w.Over[0], w.Over[1]
	}
	return s
}

// shellSpread lays the shell out: its second moments are those of a uniform skin on the hull's surface, moved to its centre;
// along x, where it is divided, it goes by `over`, or by the hull's length.
func (b *builder) shellSpread() (spread, bool) {
	shell, form := &b.spec.Hull.Shell, b.made.hull.form
	skin := form.SurfaceSecond().Scale(1 / form.Surface()).Add(outer(form.SurfaceCentroid()).Scale(-1))
	s := spread{lo: b.made.hull.lo.X, hi: b.made.hull.hi.X, length: skin.XX, own: skin}
	s.own.XX = 0
	switch {
	case shell.Thickness != nil:
		s.mass = *shell.Thickness * *shell.Density * form.Surface()
		s.centre = form.SurfaceCentroid()
	case shell.Mass != nil && shell.At != nil:
		s.mass, s.centre = *shell.Mass, *shell.At
		if shell.Over != nil {
			s.lo, s.hi = shell.Over[0], shell.Over[1]
		} else {
			b.middleThird("hull.shell", s.centre.X, [2]float64{s.lo, s.hi})
		}
	default:
		return s, false
	}
	return s, true
}

// load gives a body the mass that lies between two planes.
func (body *Body) load(all []spread, from, to float64) {
	var first, firstLater r3.Vec
	for i := range all {
		mass, moment, second := all[i].part(from, to)
		if all[i].later {
			body.LaterMass += mass
			firstLater = r3.Add(firstLater, moment)
			body.LaterInertia = body.LaterInertia.Add(second)
			continue
		}
		body.Mass += mass
		first = r3.Add(first, moment)
		body.Inertia = body.Inertia.Add(second)
	}
	if body.Mass > 0 {
		body.Centre = r3.Scale(1/body.Mass, first)
	}
	if body.LaterMass > 0 {
		body.LaterCentre = r3.Scale(1/body.LaterMass, firstLater)
	}
}
