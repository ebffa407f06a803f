package page

import "gonum.org/v1/gonum/spatial/r3"

// thinnedLoop leaves out corners of a closed loop, as long as none that is left out lies further than within from the side that
// passes it (U. Ramer 1972; D. Douglas and T. Peucker 1973).
func thinnedLoop(l []r3.Vec, within float64) []r3.Vec {
	if len(l) < 4 {
		return l
	}
	far := 0 // the corner that is farthest from the first: both stay
	for i, p := range l {
		if r3.Norm(r3.Sub(p, l[0])) > r3.Norm(r3.Sub(l[far], l[0])) {
			far = i
		}
	}
	there := thinnedLine(l[:far+1], within)
	back := thinnedLine(append(append([]r3.Vec(nil), l[far:]...), l[0]), within)
	return append(there[:len(there)-1], back[:len(back)-1]...)
}

// thinnedLine does so for a line. Its ends stay.
func thinnedLine(l []r3.Vec, within float64) []r3.Vec {
	keep := make([]bool, len(l))
	type span struct{ from, to int }
	for todo := []span{{0, len(l) - 1}}; len(todo) > 0; {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		keep[s.from], keep[s.to] = true, true
		worst, at := within, -1
		for i := s.from + 1; i < s.to; i++ {
			if d := fromSide(l[i], l[s.from], l[s.to]); d > worst {
				worst, at = d, i
			}
		}
		if at >= 0 {
			todo = append(todo, span{s.from, at}, span{at, s.to})
		}
	}
	var out []r3.Vec
	for i, p := range l {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// fromSide is the distance of a point from the side between two others.
func fromSide(p, a, b r3.Vec) float64 {
	side, to := r3.Sub(b, a), r3.Sub(p, a)
	length := r3.Norm2(side)
	if length == 0 {
		return r3.Norm(to)
	}
	along := max(0, min(1, r3.Dot(to, side)/length))
	return r3.Norm(r3.Sub(to, r3.Scale(along, side)))
}
