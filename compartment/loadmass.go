package compartment

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// massLine is how the masses of a body lie along x.
type massLine struct {
	sections  *sections
	first     int        // of the body's pieces
	pieces    []lump     // all of each piece
	weights   []spread   // those aboard
	shell     *ShellSpec // what the shell is
	skin      *skinLine  // of the whole hull
	plates    []float64  // of a shell of some thickness: where plates stand across x, whose masses are points along x
	perSquare float64    // kg/m², of a shell of some thickness; else 0
}

func (v *Vessel) newMassLine(b *Body, later bool) *massLine {
	m := &massLine{sections: v.made.sections, first: b.First, shell: &v.Spec.Hull.Shell}
	for k := b.First; k <= b.Last; k++ {
		m.pieces = append(m.pieces, v.Pieces[k].lump(later))
	}
	for _, w := range weightSpreads(&v.Spec) {
		if later || !w.later {
			m.weights = append(m.weights, w)
		}
	}
	if s := m.shell; s.Thickness != nil {
		m.perSquare = *s.Thickness * *s.Density
	}
	return m
}

// prepare sorts the skin, which only cuts between the joints need.
func (m *massLine) prepare() {
	if m.skin != nil {
		return
	}
	m.skin = newSkinLine(m.sections.hull.form)
	if m.perSquare == 0 {
		return
	}
	for _, t := range m.skin.plates {
		if t[0].X == t[1].X && t[0].X == t[2].X {
			m.plates = append(m.plates, t[0].X)
		}
	}
	m.plates = slices.Compact(m.plates)
}

// ahead is the mass before a plane across x, with what stands in it. second: with the second moments.
func (m *massLine) ahead(x float64, second bool) (sum lump) {
	m.prepare()
	for i := len(m.pieces) - 1; i >= 0; i-- {
		k := m.first + i
		from, to := m.sections.bounds(k)
		if from >= x {
			sum = sum.plus(m.pieces[i])
			continue
		}
		if !(x < to) {
			break
		}
		for j := range m.weights {
			sum = sum.plus(m.weights[j].part(x, to))
		}
		return sum.plus(m.shellAhead(x, k, second))
	}
	return sum
}

// shellAhead is the shell between a plane and the fore end of piece k: see builder.shellLump.
func (m *massLine) shellAhead(x float64, k int, second bool) lump {
	_, to := m.sections.bounds(k)
	if m.perSquare > 0 {
		skin := m.skinAhead(x, k)
		return lump{m.perSquare * skin.mass, r3.Scale(m.perSquare, skin.first), skin.second.Scale(m.perSquare)}
	}
	if m.shell.Mass == nil || m.shell.At == nil {
		return lump{}
	}
	s := shellSpread(m.shell, m.sections.hull)
	share := s.part(x, to)
	if !second || !(share.mass > 0) {
		return share
	}
	skin := m.skinAhead(x, k)
	if !(skin.mass > 0) {
		return share
	}
	return lumpAt(share.mass, share.centre(), skin.second.Scale(1/skin.mass).Add(outer(skin.centre()).Scale(-1)))
}

// skinAhead is the hull's surface between a plane and the fore end of piece k, by area.
func (m *massLine) skinAhead(x float64, k int) lump {
	skin := m.skin.ahead(x)
	for _, s := range m.sections.skins[k+1:] {
		skin = skin.plus(lump{-s.mass, r3.Scale(-1, s.first), s.second.Scale(-1)})
	}
	return skin
}

// knots are the places where the masses along x are not smooth.
func (m *massLine) knots() []float64 {
	all := slices.Clone(m.plates)
	for _, w := range m.weights {
		all = append(all, w.lo, w.hi)
	}
	if m.perSquare == 0 && m.shell.Mass != nil && m.shell.At != nil {
		s := shellSpread(m.shell, m.sections.hull)
		all = append(all, s.lo, s.hi)
	}
	return all
}

// skinLine is a surface sorted along x, to sum what lies before a plane.
type skinLine struct {
	plates []solid.Triangle // by their least x
	least  []float64
	from   []lump // the sum of the plates from each on, by area
}

func newSkinLine(form *solid.Solid) *skinLine {
	s := &skinLine{}
	for t := range form.Triangles() {
		s.plates = append(s.plates, t)
	}
	low := func(t solid.Triangle) float64 { return math.Min(t[0].X, math.Min(t[1].X, t[2].X)) }
	slices.SortStableFunc(s.plates, func(a, b solid.Triangle) int { return cmp.Compare(low(a), low(b)) })
	s.from = make([]lump, len(s.plates)+1)
	for i := len(s.plates) - 1; i >= 0; i-- {
		s.from[i] = s.from[i+1].plus(plateLump(s.plates[i][:]))
	}
	for _, t := range s.plates {
		s.least = append(s.least, low(t))
	}
	return s
}

// ahead is what lies before a plane across x or in it.
func (s *skinLine) ahead(x float64) lump {
	n := sort.SearchFloat64s(s.least, x)
	sum := s.from[n]
	for i := range s.plates[:n] {
		if t := s.plates[i][:]; reaches(t, x) {
			sum = sum.plus(plateLump(clipPlate(nil, t, solid.Plane{N: r3.Vec{X: -1}, D: -x})))
		}
	}
	return sum
}
