package compartment

import (
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// lump is a mass with its first and its second moments about the origin, ∫ x dm and ∫ x xᵀ dm.
type lump struct {
	mass   float64
	first  r3.Vec
	second solid.Moments
}

func (l lump) plus(o lump) lump {
	return lump{l.mass + o.mass, r3.Add(l.first, o.first), l.second.Add(o.second)}
}

// centre is that of the mass; the origin where there is none.
func (l lump) centre() r3.Vec {
	if l.mass > 0 {
		return r3.Scale(1/l.mass, l.first)
	}
	return r3.Vec{}
}

// lumpAt is a mass about a centre, with the second moments per kilogram that it has about that centre.
func lumpAt(mass float64, centre r3.Vec, own solid.Moments) lump {
	return lump{mass, r3.Scale(mass, centre), outer(centre).Add(own).Scale(mass)}
}

// spread is a mass laid out along x from lo to hi, evenly or falling linearly so that its centre is where it is said to be;
// lo = hi is a point. Breadth and height are its extents across, about the centre.
type spread struct {
	mass            float64
	centre          r3.Vec
	lo, hi          float64
	breadth, height float64
	later           bool
}

// part is what lies between two planes across x. A point in the after plane belongs to the part, one in the forward plane
// does not.
func (s *spread) part(from, to float64) lump {
	own := solid.Moments{YY: s.breadth * s.breadth / 12, ZZ: s.height * s.height / 12}
	if s.hi <= s.lo {
		if s.centre.X < from || s.centre.X >= to {
			return lump{}
		}
		return lumpAt(s.mass, s.centre, own)
	}
	middle, half := (s.lo+s.hi)/2, (s.hi-s.lo)/2
	a := max(-1, (max(from, s.lo)-middle)/half)
	c := min(1, (min(to, s.hi)-middle)/half)
	if c <= a {
		return lump{}
	}
	m0, m1, m2 := linearMoments(a, c, 3*(s.centre.X-middle)/half)
	if m0 <= 0 { // the thin end of a spread that falls to nothing
		return lump{}
	}
	mean := m1 / m0
	own.XX = half * half * max(0, m2/m0-mean*mean)
	return lumpAt(s.mass*m0, r3.Vec{X: middle + half*mean, Y: s.centre.Y, Z: s.centre.Z}, own)
}

// linearMoments are ∫ ξⁿ(1 + kξ)/2 dξ from a to c for n = 0, 1, 2: a density whose whole over −1 ≤ ξ ≤ 1 is one and whose
// centre there is k/3.
func linearMoments(a, c, k float64) (m0, m1, m2 float64) {
	a2, c2 := a*a, c*c
	one, two, three, four := c-a, (c2-a2)/2, (c2*c-a2*a)/3, (c2*c2-a2*a2)/4
	return (one + k*two) / 2, (two + k*three) / 2, (three + k*four) / 2
}

// weightSpreads lays the weights out, each over its size, else its rod, else as a point.
func weightSpreads(spec *Spec) []spread {
	all := make([]spread, len(spec.Weights))
	for i := range all {
		w := &spec.Weights[i]
		s := spread{mass: w.Mass, centre: w.At, lo: w.At.X, hi: w.At.X, later: w.Later}
		if w.Size != nil {
			s.lo, s.hi = w.At.X-w.Size[0]/2, w.At.X+w.Size[0]/2
			s.breadth, s.height = w.Size[1], w.Size[2]
		}
		if w.Over != nil {
			s.lo, s.hi = w.Over[0], w.Over[1]
		}
		all[i] = s
	}
	return all
}

// shellSpread is how a shell of some mass goes along x.
func shellSpread(shell *ShellSpec, hull *hullForm) spread {
	s := spread{mass: *shell.Mass, centre: *shell.At, lo: hull.lo.X, hi: hull.hi.X}
	if shell.Over != nil {
		s.lo, s.hi = shell.Over[0], shell.Over[1]
	}
	return s
}

// checkShellCentre does for a shell without `over` what validate does for one with it: only now is the hull's length known.
func (b *builder) checkShellCentre() {
	shell, hull := &b.spec.Hull.Shell, b.made.hull
	if hull != nil && shell.Mass != nil && shell.At != nil && shell.Over == nil {
		b.middleThird("hull.shell", shell.At.X, [2]float64{hull.lo.X, hull.hi.X})
	}
}

// shellLump is the shell's share in piece k of the hull. A shell of some thickness is what of the hull's surface lies there.
// A shell of some mass has the mass and the place along x that its linear spread gives the piece, and the shape of the
// surface there, as a uniform skin moved to that centre; so in one piece it is the whole surface moved to `at`.
func (b *builder) shellLump(k int) lump {
	shell, skin := &b.spec.Hull.Shell, b.made.sections.skins[k]
	switch {
	case shell.Thickness != nil:
		f := *shell.Thickness * *shell.Density
		return lump{f * skin.mass, r3.Scale(f, skin.first), skin.second.Scale(f)}
	case shell.Mass == nil || shell.At == nil:
		return lump{}
	}
	from, to := b.made.sections.bounds(k)
	share, whole := lump{mass: *shell.Mass}, len(b.made.sections.skins) == 1
	centre := *shell.At
	if !whole {
		s := shellSpread(shell, b.made.hull)
		share = s.part(from, to)
		centre = share.centre()
	}
	if !(share.mass > 0) || !(skin.mass > 0) {
		return share
	}
	shape := skin.second.Scale(1 / skin.mass).Add(outer(skin.centre()).Scale(-1))
	return lumpAt(share.mass, centre, shape)
}

// pieceLumps are the masses in each piece: aboard, and still to come.
func (b *builder) pieceLumps() (now, later []lump) {
	weights := weightSpreads(b.spec)
	n := len(b.made.sections.forms)
	now, later = make([]lump, n), make([]lump, n)
	for k := range n {
		from, to := b.made.sections.bounds(k)
		now[k] = b.shellLump(k)
		for i := range weights {
			part := weights[i].part(from, to)
			if weights[i].later {
				later[k] = later[k].plus(part)
			} else {
				now[k] = now[k].plus(part)
			}
		}
	}
	return now, later
}

// load gives a body its mass.
func (body *Body) load(now, later lump) {
	body.Mass, body.Centre, body.Inertia = now.mass, now.centre(), now.second
	body.LaterMass, body.LaterCentre, body.LaterInertia = later.mass, later.centre(), later.second
}
