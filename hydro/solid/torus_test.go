package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// torus is a ring about the z axis: the tube's middle at radius ring, its own radius tube; nRing × nTube four-cornered plates.
func torus(ring, tube float64, nRing, nTube int) *Solid {
	at := func(i, j int) r3.Vec {
		a, b := 2*math.Pi*float64(i%nRing)/float64(nRing), 2*math.Pi*float64(j%nTube)/float64(nTube)
		r := ring + tube*math.Cos(b)
		return r3.Vec{X: r * math.Cos(a), Y: r * math.Sin(a), Z: tube * math.Sin(b)}
	}
	var tris []Triangle
	for i := range nRing {
		for j := range nTube {
			tris = quad(tris, at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1))
		}
	}
	return closed(tris)
}

// torusBelow is the volume of the ring below a plane: round the axis by the trapezium rule, in each half-plane through it
// the disc that a straight line cuts, in closed form (circular segment: area and first moment).
func torusBelow(ring, tube float64, p Plane, steps int) (v float64) {
	h := math.Hypot(p.N.X, p.N.Y)
	for i := range steps {
		// In the half-plane at angle a, with s from the middle of the tube: h cos a (ring + s) + n_z z < D.
		m := h * math.Cos(2*math.Pi*(float64(i)+0.5)/float64(steps))
		l := math.Hypot(m, p.N.Z)
		c := (p.D - m*ring) / l / tube // distance of the line from the middle, in radii
		switch {
		case c >= 1:
			v += ring * math.Pi * tube * tube
		case c > -1:
			area := tube * tube * (math.Pi - math.Acos(c) + c*math.Sqrt(1-c*c))
			first := -2. / 3 * tube * tube * tube * math.Pow(1-c*c, 1.5) * m / l // along s
			v += ring*area + first
		}
	}
	return v * 2 * math.Pi / float64(steps)
}
