package compartment

import (
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// skins is how much of the hull's surface each space has, and what room the shell takes off it.
type skins struct {
	rooms *rooms
	area  []float64 // m², by space
	sum   float64
	taken []float64 // m³, by space
}

// makeSkins measures the hull's surface in every space, and parts the shell's volume in proportion.
func (b *builder) makeSkins() {
	rooms := b.made.rooms
	if rooms == nil {
		return
	}
	s := &skins{rooms: rooms, taken: make([]float64, len(rooms.bare))}
	if old := b.old.skins; old != nil && old.rooms == rooms {
		s.area, s.sum = old.area, old.sum
	} else {
		s.measure()
	}
	volume := 0.0
	if !b.broken("hull.shell") {
		volume = shellVolume(&b.spec.Hull.Shell, rooms.hull.form)
	}
	for i := range s.taken {
		if s.sum > 0 {
			s.taken[i] = volume * s.area[i] / s.sum
		}
	}
	b.made.skins = s
}

// shellVolume is the volume of the shell's material, 0 where its density is not known.
func shellVolume(s *ShellSpec, form *solid.Solid) float64 {
	switch {
	case s.Thickness != nil:
		return *s.Thickness * form.Surface()
	case s.Mass != nil && s.Density != nil:
		return *s.Mass / *s.Density
	}
	return 0
}

// measure cuts every plate of the hull by the walls and the boxes and sums the pieces' areas.
func (s *skins) measure() {
	r := s.rooms
	s.area = make([]float64, len(r.bare))
	var a, c []r3.Vec
	for t := range r.hull.form.Triangles() {
		for k, i := range r.transverse {
			piece := append(a[:0], t[:]...)
			a = piece
			if k < len(r.at) {
				c = clipPlate(c[:0], piece, solid.Plane{N: r3.Vec{X: 1}, D: r.at[k]})
				piece, a, c = c, c, a
			}
			if k > 0 {
				c = clipPlate(c[:0], piece, solid.Plane{N: r3.Vec{X: -1}, D: -r.at[k-1]})
				piece, a, c = c, c, a
			}
			s.area[i] += plateArea(piece)
			for j := range r.boxes {
				if box := &r.boxes[j]; box.given {
					part := plateArea(clipPlateToBox(piece, box))
					s.area[j] += part
					s.area[i] -= part
				}
			}
		}
	}
	for i := range s.area {
		s.area[i] = max(0, s.area[i])
		s.sum += s.area[i]
	}
}

// clipPlate appends the part of a convex polygon below a plane.
func clipPlate(out, polygon []r3.Vec, p solid.Plane) []r3.Vec {
	for i, x := range polygon {
		y := polygon[(i+1)%len(polygon)]
		hx, hy := r3.Dot(p.N, x)-p.D, r3.Dot(p.N, y)-p.D
		if hx <= 0 {
			out = append(out, x)
		}
		if hx < 0 && hy > 0 || hx > 0 && hy < 0 {
			out = append(out, r3.Add(x, r3.Scale(hx/(hx-hy), r3.Sub(y, x))))
		}
	}
	return out
}

func clipPlateToBox(polygon []r3.Vec, c *box) []r3.Vec {
	for _, p := range [6]solid.Plane{
		{N: r3.Vec{X: 1}, D: c.hi.X}, {N: r3.Vec{X: -1}, D: -c.lo.X},
		{N: r3.Vec{Y: 1}, D: c.hi.Y}, {N: r3.Vec{Y: -1}, D: -c.lo.Y},
		{N: r3.Vec{Z: 1}, D: c.hi.Z}, {N: r3.Vec{Z: -1}, D: -c.lo.Z},
	} {
		if len(polygon) < 3 {
			return nil
		}
		polygon = clipPlate(nil, polygon, p)
	}
	return polygon
}

// plateArea is the area of a flat polygon.
func plateArea(polygon []r3.Vec) float64 {
	if len(polygon) < 3 {
		return 0
	}
	var sum r3.Vec
	for i := 2; i < len(polygon); i++ {
		sum = r3.Add(sum, r3.Cross(r3.Sub(polygon[i-1], polygon[0]), r3.Sub(polygon[i], polygon[0])))
	}
	return r3.Norm(sum) / 2
}

// plateLump is a flat convex polygon as a uniform sheet: area, ∫ x dA and ∫ x xᵀ dA. Of a triangle with the corners v and
// their sum s the last is A/12·(Σ v vᵀ + s sᵀ).
func plateLump(polygon []r3.Vec) (sum lump) {
	for i := 2; i < len(polygon); i++ {
		a, c, d := polygon[0], polygon[i-1], polygon[i]
		area := r3.Norm(r3.Cross(r3.Sub(c, a), r3.Sub(d, a))) / 2
		s := r3.Add(a, r3.Add(c, d))
		second := outer(a).Add(outer(c)).Add(outer(d)).Add(outer(s)).Scale(area / 12)
		sum = sum.plus(lump{area, r3.Scale(area/3, s), second})
	}
	return sum
}

// skinsBetween cuts the surface of a form at planes across x: what lies in each piece, from the stern.
func skinsBetween(form *solid.Solid, at []float64) []lump {
	if len(at) == 0 {
		area := form.Surface()
		return []lump{{area, r3.Scale(area, form.SurfaceCentroid()), form.SurfaceSecond()}}
	}
	skins := make([]lump, len(at)+1)
	for t := range form.Triangles() {
		rest, k := t[:], 0
		for ; k < len(at) && reaches(rest, at[k]); k++ {
			p := solid.Plane{N: r3.Vec{X: 1}, D: at[k]}
			skins[k] = skins[k].plus(plateLump(clipPlate(nil, rest, p)))
			rest = clipPlate(nil, rest, reversed(p))
		}
		skins[k] = skins[k].plus(plateLump(rest))
	}
	return skins
}

// reaches tells whether some of a polygon lies before a plane across x. One that lies in it does not: it is counted once.
func reaches(polygon []r3.Vec, x float64) bool {
	for _, v := range polygon {
		if v.X > x {
			return true
		}
	}
	return false
}
