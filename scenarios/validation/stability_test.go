package validation

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Boxes of textbooks are built at 1:100, 1:10 or full size, as the format's limits of 20 m and 20 t have it; what is read off is
// multiplied back. The density is 1000 kg/m³ where a row is about form only. A centre of mass GZ/cosθ to starboard heels by θ.

// heel is the heel at rest, in degrees.
func heel(s compartment.Spec) func(*laws) []float64 {
	return func(l *laws) []float64 { return []float64{l.float(s).Heel / degree} }
}

// heels are those of several hulls.
func heels(all ...compartment.Spec) func(*laws) []float64 {
	return func(l *laws) (out []float64) {
		for _, s := range all {
			out = append(out, heel(s)(l)...)
		}
		return out
	}
}

func arm(a, deg float64) float64 { return -a / math.Cos(deg*degree) }

// log is a square log of a relative density.
func log(s float64) compartment.Spec { return ship(1, 3, 0.3, 0.3, 0.3*s, 0, 0.15) }

// upGM is GM upright, in the source's units.
func upGM(scale float64, s compartment.Spec) func(*laws) []float64 {
	return func(l *laws) []float64 { return []float64{scale * l.float(s).GMUpright} }
}

// inclined is tan of the heel of a round hull, whose metacentre is its axis, with the source's GM and a weight moved across as there.
func inclined(weight, moved, far, gm, radius float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		const k = 0.01
		form := prism(ring(k*radius, k*radius, corners), 1)
		v := solid3(form).Volume()
		s := loaded(meshed(form), 500*v, r3.Vec{X: 0.5, Y: -k * moved / weight * far, Z: k * (radius - gm)})
		p, _ := l.rest(s)
		return []float64{math.Tan(p.Heel())}
	}
}

// shifted is the centre of mass of two weights, one of them moved by a moment: ST-17.
func shifted(l *laws) []float64 {
	s := ship(100, 100, 20, 10, 4, 0, 4)
	s.Weights[0].Mass = 8.4
	s.Weights = append(s.Weights, compartment.WeightSpec{Name: "moved", Mass: 0.1, At: r3.Vec{X: 0.5, Y: 0.03, Z: 0.04}})
	return []float64{100 * l.build(s).Whole.Centre.Y}
}

// statical is the heel of a round hull of 10 000 t and GM 0.5 m under a moment of 674.25 t·m: ST-54.
func statical(l *laws) []float64 {
	const k, radius = 0.01, 10.0
	form := prism(ring(k*radius, k*radius, corners), 1)
	v := solid3(form).Volume()
	y := 674.25 / 10000 / math.Cos(7.75*degree)
	s := loaded(meshed(form), 500*v, r3.Vec{X: 0.5, Y: -k * y, Z: k * (radius - 0.5)})
	p, _ := l.rest(s)
	return []float64{p.Heel() / degree}
}

// freeSurface is the loss of GM by a tank of 10 × 6 m with 1 m of sea water, in cells of equal width: in a ship of 1000 t.
func freeSurface(cells int) func(*laws) []float64 {
	spec := func(fluid bool) compartment.Spec {
		s := ship(10, 20, 10, 10, 1000/1.025/200, 0, 3)
		s.Water.Density = ptr(1025.0)
		const water = 0.6 * 0.01 * 10
		s.Weights[0].Mass = 1000 - 1025*water
		s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}}
		if !fluid {
			s.Weights = append(s.Weights, compartment.WeightSpec{Name: "ice", Mass: 1025 * water, At: r3.Vec{X: 1, Z: 0.15}})
		}
		for i := range cells {
			y := -0.3 + 0.6*float64(i)/float64(cells)
			c := compartment.CompartmentSpec{Name: "cell-" + string(rune('a'+i)), X: &[2]float64{0.5, 1.5},
				Y: &[2]float64{y, y + 0.6/float64(cells)}, Z: &[2]float64{0.1, 0.4}}
			if fluid {
				c.Starts = &compartment.StartSpec{Depth: ptr(0.1)}
			}
			s.Compartments = append(s.Compartments, c)
		}
		return s
	}
	return func(l *laws) []float64 {
		return []float64{10 * (l.float(spec(false)).GMTransverse - l.float(spec(true)).GMTransverse)}
	}
}

// pumpedOut is ST-18 at a tenth: GM after a full tank of 15 × 10 × 2 m on the keel is pumped out to half, in a box whose KM is 8 m.
func pumpedOut(l *laws) []float64 {
	const breadth, mass, water = 1.8, 8000.0, 0.3 * 1025
	draft := (1.6 - math.Sqrt(1.6*1.6-4*2*breadth*breadth/12)) / 2 // T/2 + B²/(12 T) = 0.8
	dry := mass - water/2
	at := mass / 1025 / breadth / draft / 2
	s := boxed(2*at, breadth, 1.5, dry, 0, ((dry+water)*0.75-water*0.1)/dry)
	s.Water.Density = ptr(1025.0)
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}, {Name: "tank", Starts: &compartment.StartSpec{Share: ptr(0.5)},
		X: &[2]float64{at - 0.75, at + 0.75}, Y: &[2]float64{-0.5, 0.5}, Z: &[2]float64{0, 0.2}}}
	return []float64{10 * l.float(s).GMUpright}
}

// gm is GM upright of a form with a centre of mass at a height, in water of a density: floated with that low enough to stand in
// any direction, and the lever taken off again.
func (l *laws) gm(form [][3]r3.Vec, density, mass, low, kg float64) float64 {
	s := loaded(meshed(form), mass, r3.Vec{X: solid3(form).Centroid().X, Z: low})
	s.Water.Density = &density
	_, gm := l.rest(s)
	return gm + low - kg
}

// highest is the greatest height of a load on a drum at which it just stands, from its GM with the load on its bottom.
func highest(scale, d, height, density, body, at, load float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		s := meshed(drum(scale*d/2, scale*height))
		s.Water.Density = &density
		k := scale * scale * scale
		s.Weights = []compartment.WeightSpec{{Name: "body", Mass: k * body, At: r3.Vec{Z: scale * at}}, {Name: "load", Mass: k * load}}
		_, gm := l.rest(s)
		return []float64{gm * (body + load) / load / scale}
	}
}

// buoyWithMan is ST-33.
func buoyWithMan(l *laws) []float64 {
	return []float64{l.gm(drum(0.5, 1.5), 1026, 90, 0.02, (80*0.75+10*1.5)/90)}
}

// upstanding is a rectangle about (0, h/2) drawn along x.
func upstanding(b, h float64) [][3]r3.Vec {
	return prism([][2]float64{{-b / 2, 0}, {b / 2, 0}, {b / 2, h}, {-b / 2, h}}, 3)
}

// justStable is GM over the height of homogeneous forms that are to be just stable: a rectangle with (b/h)² = 6 s(1 − s), and an
// upright cylinder with (D/H)² = 8 s(1 − s).
func justStable(l *laws) []float64 {
	const s, h = 0.3, 0.3
	b := h * math.Sqrt(6*s*(1-s))
	form := drum(math.Sqrt(2)/2, 1)
	return []float64{l.gm(upstanding(b, h), 1000, 1000*s*3*b*h, 0.02, h/2) / h, l.gm(form, 1000, 500*solid3(form).Volume(), 0.2, 0.5)}
}

// logBorders are GMs of square logs at the borders of their ranges: upright at s(1 − s) = 1/6, on edge at 9/32.
func logBorders(l *laws) []float64 {
	const a = 0.3
	low, corner := (3-math.Sqrt(3))/6, a/2*math.Sqrt2
	edge := prism([][2]float64{{0, -corner}, {corner, 0}, {0, corner}, {-corner, 0}}, 3)
	flat := func(s float64) float64 { return l.gm(upstanding(a, a), 1000, 1000*s*3*a*a, 0.01, a/2) / a }
	tilted := func(s float64) float64 { return l.gm(edge, 1000, 1000*s*3*a*a, -0.15, 0) / a }
	return []float64{flat(low), flat(1 - low), tilted(9. / 32), tilted(23. / 32)}
}

// trunkBM is BM of the box of trunked: the waterplane's second moment less the trunk's, over 16 l.
const trunkBM = (0.2*0.2*0.2 - 0.1*0.1*0.1) / 12 / 0.016

// trunked is a box of 14 kg with 2 l in a trunk on its middle line, that has a GM.
func trunked(gm float64) compartment.Spec {
	kg := 0.04 + trunkBM - gm
	s := boxed(1, 0.2, 0.3, 14, 0, (0.016*kg-0.002*0.01)/0.014)
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}, {Name: "trunk", Starts: &compartment.StartSpec{Depth: ptr(0.02)},
		X: &[2]float64{0, 1}, Y: &[2]float64{-0.05, 0.05}, Z: &[2]float64{0, 0.3}}}
	return s
}

// bilged runs a 1:100 ship with one bilged space to its end, a hole in it: drafts at both ends in the source's metres, heel, and GM.
func (l *laws) bilged(s compartment.Spec, hole, faces r3.Vec) (aft, fore, heeled, gm float64) {
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "bilged", hole, faces, 0.02, 0.61)}
	var last flood.BodySample
	run := l.start(l.build(s), flood.Settings{Until: 3000, Every: 10, Samples: func(s *flood.Sample) { last = s.Bodies[0] }})
	for run.Result().Ended == flood.Running {
		run.Step()
	}
	p := run.Pose(0)
	return 100 * p.Sea / p.Up.Z, 100 * (p.Sea - p.Up.X*s.Hull.Box.Length) / p.Up.Z, p.Heel() / degree, 100 * last.GM
}

// amidships is the draft with a compartment amidships open to the sea up to the deck.
func amidships(length, breadth, depth, d, kg, hit, permeability float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		s := ship(100, length, breadth, depth, d, 0, kg)
		s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: (length - hit) / 200}, {Name: "B2", At: (length + hit) / 200}}
		s.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "bilged", Permeability: &permeability}, {Name: "fore"}}
		aft, _, _, gm := l.bilged(s, r3.Vec{X: length / 200, Y: breadth / 200, Z: d / 400}, r3.Vec{Y: 1})
		return []float64{aft, gm * aft / d}
	}
}

func only(i int, f func(*laws) []float64) func(*laws) []float64 {
	return func(l *laws) []float64 { return f(l)[i : i+1] }
}

// endBilged are the drafts with an end compartment open to the sea.
func endBilged(length, d, hit, top, kg, permeability float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		s := ship(100, length, 10, 6, d, 0, kg)
		s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}, {Name: "bilged", Permeability: &permeability,
			X: &[2]float64{(length - hit) / 100, length / 100}, Y: &[2]float64{-0.05, 0.05}, Z: &[2]float64{0, top / 100}}}
		aft, fore, _, _ := l.bilged(s, r3.Vec{X: length / 100, Z: 0.015}, r3.Vec{X: 1})
		return []float64{aft, fore}
	}
}

// wing is ST-11 at 100 times the size: heel, and the draft on the centreline at model size.
func wing(l *laws) []float64 {
	s := ship(100, 100, 20, 15, 8, 0, 5)
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"},
		{Name: "bilged", X: &[2]float64{0.375, 0.625}, Y: &[2]float64{-0.1, -0.05}, Z: &[2]float64{0, 0.15}}}
	aft, _, heeled, _ := l.bilged(s, r3.Vec{X: 0.5, Y: -0.1, Z: 0.03}, r3.Vec{Y: -1})
	return []float64{heeled, aft / 100}
}
