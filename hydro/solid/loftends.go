package solid

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// across is the mirror image of a point on the other side.
func across(p r3.Vec) r3.Vec { return r3.Vec{X: p.X, Y: 0 - p.Y, Z: p.Z} }

// mirrored gives the plates of the other side.
func mirrored(tris []Triangle) []Triangle {
	out := make([]Triangle, len(tris))
	for i, t := range tris {
		out[i] = Triangle{across(t[2]), across(t[1]), across(t[0])}
	}
	return out
}

// decks lays the flat deck from edge to edge, and the flat bottom where the curves do not begin on the centre line.
func (l *loft) decks(tris []Triangle) []Triangle {
	m := l.columns()
	for i := 0; i+1 < len(l.curves); i++ {
		a, b := l.curves[i].points, l.curves[i+1].points
		for c := range m {
			t0, t1 := float64(c)/float64(m), float64(c+1)/float64(m)
			p, q := between(a[len(a)-1], b[len(b)-1], t0), between(a[len(a)-1], b[len(b)-1], t1)
			tris = quad(tris, p, across(p), across(q), q)
			p, q = between(a[0], b[0], t0), between(a[0], b[0], t1)
			tris = quad(tris, q, across(q), across(p), p)
		}
	}
	return tris
}

// ends closes the first and the last station by planes.
func (l *loft) ends(tris []Triangle) []Triangle {
	aft, fore := l.curves[0].all(), l.curves[len(l.curves)-1].all()
	if !l.mirror {
		slices.Reverse(aft)
		return appendCap(appendCap(tris, [][]r3.Vec{aft}, r3.Vec{X: -1}), [][]r3.Vec{fore}, r3.Vec{X: 1})
	}
	for j := 1; j < len(aft); j++ {
		tris = quad(tris, aft[j], aft[j-1], across(aft[j-1]), across(aft[j]))
	}
	for j := 1; j < len(fore); j++ {
		tris = quad(tris, across(fore[j-1]), fore[j-1], fore[j], across(fore[j]))
	}
	return tris
}

// all gives the curve's own points and the extra ones in order; of a closed curve the first is not repeated at the end.
func (c *curve) all() []r3.Vec {
	var out []r3.Vec
	extra := c.extra
	for i, p := range c.points {
		out = append(out, p)
		for len(extra) > 0 && extra[0] < float64(i+1) {
			out = append(out, c.at(extra[0]))
			extra = extra[1:]
		}
	}
	if len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}
