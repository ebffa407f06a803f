package solid

// Sum adds cycles: their integrals add, whatever the parts' places. Parts that overlap count twice where they do; a
// reversed part that lies inside another is a void in it.
func Sum(parts ...*Solid) *Solid {
	n := 0
	for _, p := range parts {
		n += p.Len()
	}
	tris := make([]Triangle, 0, n)
	for _, p := range parts {
		for t := range p.Triangles() {
			tris = append(tris, t)
		}
	}
	return closed(tris)
}

// Reversed turns the solid inside out: every plate faces the other way, and every volume changes its sign.
func (s *Solid) Reversed() *Solid {
	tris := make([]Triangle, 0, s.Len())
	for t := range s.Triangles() {
		tris = append(tris, Triangle{t[0], t[2], t[1]})
	}
	return closed(tris)
}
