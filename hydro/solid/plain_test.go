package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// plainBelow is the loop over all triangles that the tree is measured against: the same integrals by the signed
// tetrahedra of design.md (apex in the plane, whole vectors, an orthonormal frame for the cut), written on its own, so
// that it checks the tree's arithmetic and not only its bookkeeping. centre only sets the origin of the sums.
func plainBelow(tris []Triangle, p Plane, centre r3.Vec) Below {
	l := plainLoop{n: p.N, d: p.D - r3.Dot(p.N, centre)}
	l.apex = r3.Scale(l.d, l.n)
	l.u, l.w = frame(p.N)
	for i := range tris {
		t := &tris[i]
		a, b, c := r3.Sub(t[0], centre), r3.Sub(t[1], centre), r3.Sub(t[2], centre)
		ha, hb, hc := r3.Dot(l.n, a)-l.d, r3.Dot(l.n, b)-l.d, r3.Dot(l.n, c)-l.d
		switch {
		case ha >= 0 && hb >= 0 && hc >= 0:
		case ha < 0 && hb < 0 && hc < 0:
			l.whole(a, b, c, 1)
		case (ha < 0) != (hb < 0) && (ha < 0) != (hc < 0):
			l.crossed(a, b, c, ha, hb, hc)
		case (hb < 0) != (ha < 0) && (hb < 0) != (hc < 0):
			l.crossed(b, c, a, hb, hc, ha)
		default:
			l.crossed(c, a, b, hc, ha, hb)
		}
	}
	return l.result(centre)
}

type plainLoop struct {
	n, apex, u, w r3.Vec
	d             float64
	vol           float64
	first         r3.Vec
	area          float64
	cu, cw        float64
	uu, ww, uw    float64
}

// frame gives two unit vectors that complete n to a right-handed frame.
func frame(n r3.Vec) (u, w r3.Vec) {
	u = r3.Cross(n, r3.Vec{X: 1})
	if math.Abs(n.X) > 0.7 {
		u = r3.Cross(n, r3.Vec{Y: 1})
	}
	u = r3.Unit(u)
	return u, r3.Cross(n, u)
}

func (l *plainLoop) whole(a, b, c r3.Vec, sign float64) {
	pa := r3.Sub(a, l.apex)
	v := sign * r3.Dot(pa, r3.Cross(r3.Sub(b, a), r3.Sub(c, a)))
	l.vol += v
	l.first = r3.Add(l.first, r3.Scale(v, r3.Add(r3.Add(a, b), r3.Add(c, l.apex))))
}

// crossed: corner a is alone on its side.
func (l *plainLoop) crossed(a, b, c r3.Vec, ha, hb, hc float64) {
	ab := r3.Add(a, r3.Scale(ha/(ha-hb), r3.Sub(b, a)))
	ac := r3.Add(a, r3.Scale(ha/(ha-hc), r3.Sub(c, a)))
	if ha < 0 {
		l.whole(a, ab, ac, 1)
		l.segment(ac, ab)
	} else {
		l.whole(a, b, c, 1)
		l.whole(a, ab, ac, -1)
		l.segment(ab, ac)
	}
}

func (l *plainLoop) segment(from, to r3.Vec) {
	a, b := r3.Sub(from, l.apex), r3.Sub(to, l.apex)
	au, aw, bu, bw := r3.Dot(a, l.u), r3.Dot(a, l.w), r3.Dot(b, l.u), r3.Dot(b, l.w)
	g := au*bw - bu*aw
	l.area += g
	l.cu += g * (au + bu)
	l.cw += g * (aw + bw)
	l.uu += g * (au*au + au*bu + bu*bu)
	l.ww += g * (aw*aw + aw*bw + bw*bw)
	l.uw += g * (2*(au*aw+bu*bw) + au*bw + bu*aw)
}

func (l *plainLoop) result(centre r3.Vec) Below {
	origin := r3.Add(centre, l.apex)
	inPlane := r3.Add(r3.Scale(l.cu/6, l.u), r3.Scale(l.cw/6, l.w))
	second := outer(l.u).Scale(l.uu / 12).Add(outer(l.w).Scale(l.ww / 12)).Add(sym(l.u, l.w).Scale(l.uw / 24))
	return Below{
		Volume:     l.vol / 6,
		Moment:     r3.Add(r3.Scale(1./24, l.first), r3.Scale(l.vol/6, centre)),
		Area:       l.area / 2,
		AreaMoment: r3.Add(inPlane, r3.Scale(l.area/2, origin)),
		AreaSecond: second.moved(origin, l.area/2, inPlane),
	}
}

// cutOnly gathers the triangles that the plane crosses: what no method can do without.
func cutOnly(tris []Triangle, p Plane) []Triangle {
	var cut []Triangle
	for _, t := range tris {
		below := 0
		for _, c := range t {
			if r3.Dot(p.N, c) < p.D {
				below++
			}
		}
		if below%3 != 0 {
			cut = append(cut, t)
		}
	}
	return cut
}
