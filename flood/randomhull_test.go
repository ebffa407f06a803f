package flood_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// drawer draws random numbers.
type drawer struct{ *rand.Rand }

func (d drawer) between(a, b float64) float64 { return a + (b-a)*d.Float64() }

// scale draws from a to b, each octave as likely as any other.
func (d drawer) scale(a, b float64) float64 { return a * math.Pow(b/a, d.Float64()) }

// oneIn is true once in n times.
func (d drawer) oneIn(n int) bool { return d.IntN(n) == 0 }

// skin is the surface of a hull by stations that have equally many points: what a hull of this shape weighs, and where its plates are.
type skin struct {
	length, breadth, depth float64
	stations               []compartment.Station
}

// section is the hull's at a length, as (z, y) from the keel up.
func (s *skin) section(x float64) []compartment.StationPoint {
	i := 1
	for i < len(s.stations)-1 && s.stations[i].X < x {
		i++
	}
	a, b := s.stations[i-1], s.stations[i]
	u := (x - a.X) / (b.X - a.X)
	out := make([]compartment.StationPoint, len(a.Points))
	for k := range out {
		out[k].Z = a.Points[k].Z + u*(b.Points[k].Z-a.Points[k].Z)
		out[k].Y = a.Points[k].Y + u*(b.Points[k].Y-a.Points[k].Y)
	}
	return out
}

// side is a point of the port side, at a share of the way from the bilge's first point to the deck edge.
func (s *skin) side(x, share float64) r3.Vec {
	points := s.section(x)
	at := share * float64(len(points)-1)
	k := min(int(at), len(points)-2)
	v := at - float64(k)
	return r3.Vec{X: x, Y: points[k].Y + v*(points[k+1].Y-points[k].Y), Z: points[k].Z + v*(points[k+1].Z-points[k].Z)}
}

// halfBreadth is that at a height.
func (s *skin) halfBreadth(x, z float64) float64 {
	points := s.section(x)
	for k := 1; k < len(points); k++ {
		if a, b := points[k-1], points[k]; z < b.Z && b.Z > a.Z {
			return math.Max(0, a.Y+(z-a.Z)/(b.Z-a.Z)*(b.Y-a.Y))
		}
	}
	return points[len(points)-1].Y
}

// volume is the hull's up to the deck, and where along it the middle of that is, by the trapezium rule.
func (s *skin) volume() (volume, middle float64) {
	area := func(x float64) (sum float64) {
		points := s.section(x)
		for k := 1; k < len(points); k++ {
			sum += (points[k].Y + points[k-1].Y) * (points[k].Z - points[k-1].Z)
		}
		return sum
	}
	const n = 60
	for i := range n {
		x := (float64(i) + 0.5) / n * s.length
		volume += area(x) * s.length / n
		middle += area(x) * x * s.length / n
	}
	return volume, middle / volume
}

// boxSkin is a box's.
func (d drawer) boxSkin() *skin {
	s := d.measures()
	for _, x := range [2]float64{0, s.length} {
		s.stations = append(s.stations, compartment.Station{X: x, Points: []compartment.StationPoint{{Z: 0, Y: s.breadth / 2}, {Z: s.depth, Y: s.breadth / 2}}})
	}
	return s
}

// measures are those of a model of 0.5 to 1.8 m.
func (d drawer) measures() *skin {
	s := &skin{length: d.scale(0.5, 1.8)}
	s.breadth = s.length * d.between(0.14, 0.28)
	s.depth = s.breadth * d.between(0.5, 0.95)
	return s
}

// curvedSkin is a hull of ship shape: a middle body that tapers to a transom and a stem, with a flat or sharp bottom, sheer and rocker.
func (d drawer) curvedSkin() *skin {
	s := d.measures()
	n, m := 5+d.IntN(6), 3+d.IntN(4)
	after, fore := d.between(0.05, 0.8), d.between(0.02, 0.25) // breadth of the ends, as a share
	full := d.between(1.8, 5)
	flat, round := d.between(0, 0.8), d.between(1, 6)
	sheer, rocker := d.between(0, 0.25), d.between(0, 0.25)
	for i := range n {
		xi := 2*float64(i)/float64(n-1) - 1
		end := after
		if xi > 0 {
			end = fore
		}
		taper := end + (1-end)*(1-math.Pow(math.Abs(xi), full))
		keel, deck := rocker*xi*xi*s.depth, (1+sheer*xi*xi)*s.depth
		st := compartment.Station{X: s.length * float64(i) / float64(n-1)}
		for k := range m {
			zeta := float64(k) / float64(m-1)
			y := flat*taper + (1-flat*taper)*(1-math.Pow(1-zeta, round))
			st.Points = append(st.Points, compartment.StationPoint{Z: keel + zeta*(deck-keel), Y: s.breadth / 2 * taper * y})
		}
		s.stations = append(s.stations, st)
	}
	return s
}

// hull is the description of a skin.
func (s *skin) hull() compartment.HullSpec {
	if len(s.stations) == 2 {
		return compartment.HullSpec{Box: &compartment.BoxSpec{Length: s.length, Breadth: s.breadth, Depth: s.depth}}
	}
	return compartment.HullSpec{Offsets: &compartment.OffsetsSpec{Stations: s.stations, Mirror: true}}
}

// loaded gives a hull its shell and weights, some of them solids that take room: of all that it could displace a third to five
// sixths, the centre low in some and high in others, a little off the middle. It returns about the draft.
func (d drawer) loaded(s *compartment.Spec, skin *skin, density float64) (draft float64) {
	volume, middle := skin.volume()
	mass := volume * density * d.between(0.3, 0.85)
	shell := mass * d.between(0.15, 0.35)
	high := skin.depth * d.between(0.2, 0.75)
	s.Hull.Shell = compartment.ShellSpec{Mass: &shell, At: &r3.Vec{X: skin.length / 2, Z: skin.depth * 0.45}}
	n := 1 + d.IntN(4)
	off := (shell*skin.length/2 + (mass-shell)*middle) / mass // of the whole, were every weight in the middle
	for k := range n {
		w := compartment.WeightSpec{Name: fmt.Sprintf("W%d", k), Mass: (mass - shell) / float64(n)}
		apart := 0.25 * skin.length * (2*float64(k) - float64(n-1)) / float64(n)
		w.At = r3.Vec{X: middle + (middle - off) + apart + 0.015*skin.length*d.NormFloat64(), Y: 0.01 * skin.breadth * d.NormFloat64(), Z: high * d.between(0.7, 1.2)}
		long := math.Min(0.4*skin.length, 1.8*math.Min(w.At.X, skin.length-w.At.X))
		switch {
		case d.oneIn(3):
			w.Over = &[2]float64{w.At.X - long/2, w.At.X + long/2}
		case k == 0 && d.oneIn(2): // one only: solids may not overlap
			w.Density = ptr(11340.0)
			w.Size = &[3]float64{long / 2, 0.3 * skin.breadth, w.Mass / 11340 / (long / 2 * 0.3 * skin.breadth)}
		}
		s.Weights = append(s.Weights, w)
	}
	return skin.depth * math.Pow(mass/(volume*density), 0.7) // the exponent: somewhat fuller above than below
}
