package validation

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// Tanks that empty, with the hull held. Sources reckon with 9.81, 9.8 or 32.2 ft/s², the engine with 9.80665 m/s²: under a given
// head time goes with 1/√g. Surface tension and creep are off, sources know nothing of them.

// tank is a hold of some depth of water in a hull, and how its time runs against the source's.
type tank struct {
	spec  compartment.Spec
	keel  float64
	pace  float64 // the source's seconds per second of the run
	level func(*flood.Sample) float64
	end   float64                          // s, about: of the whole run
	ready func(*compartment.Vessel, *laws) // what is done to the vessel; nil: withoutCreep
}

// tankOf is a square box of a base area with a single hold.
func tankOf(area, depth, start, g, end float64) tank {
	side := math.Sqrt(area)
	s := boxed(side, side, depth, 1, 0, 0)
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold", Starts: &compartment.StartSpec{Depth: &start}}}
	return tank{spec: s, keel: 1, pace: math.Sqrt(gravity / g), end: end, level: func(s *flood.Sample) float64 { return s.Spaces[0].Depth }}
}

// bottom gives the tank a hole in the middle of its bottom, ten nanometres under the sea: so it empties to the last without
// air coming up, of which sources know nothing.
func (k tank) bottom(diameter, cd float64) tank {
	k.spec.Openings = append(slices.Clone(k.spec.Openings), bored("hole", "hold", "outside", r3.Vec{X: k.spec.Hull.Box.Length / 2}, r3.Vec{Z: -1}, diameter, cd))
	k.keel = -1e-8
	return k
}

// falls are the times, in the source's seconds times a factor, at which the level comes down through marks; 0: empty.
func (k tank) falls(factor float64, marks ...float64) func(*laws) []float64 {
	return func(l *laws) (times []float64) {
		until := 1.3 * k.end / k.pace
		var at, h []float64
		v := l.build(k.spec)
		if k.ready != nil {
			k.ready(v, l)
		} else {
			withoutCreep(v)
		}
		l.run(v, flood.Settings{Until: until, Every: until / 1000, Motion: flood.Held, Keel: &k.keel, Tolerance: 1e-7,
			Samples: func(s *flood.Sample) { at, h = append(at, s.Time), append(h, k.level(s)) }})
		for _, m := range marks {
			times = append(times, factor*k.pace*comesTo(at, h, m))
		}
		return times
	}
}

// comesTo is when a level comes down to a mark: √h is linear in an upright tank; for a mark of 0 it goes on from 1 % and 0.01 %
// of the start.
func comesTo(at, h []float64, mark float64) float64 {
	if mark == 0 {
		a, b := comesTo(at, h, 1e-2*h[0]), comesTo(at, h, 1e-4*h[0])
		return b + (b-a)*1e-2/(1e-1-1e-2)
	}
	for i := 1; i < len(h); i++ {
		if h[i] <= mark && h[i-1] > mark {
			a, b := math.Sqrt(h[i-1]), math.Sqrt(max(0, h[i]))
			return at[i-1] + (at[i]-at[i-1])*(a-math.Sqrt(mark))/(a-b)
		}
	}
	panic(fmt.Sprintf("the level never comes down to %g m: it ends at %g", mark, h[len(h)-1]))
}

func disc(d float64) float64 { return math.Pi * d * d / 4 }

// across is the diameter of a round hole of an area.
func across(area float64) float64 { return math.Sqrt(4 * area / math.Pi) }

// twoTanks are joined by a hole that stays under water: the levels' difference falls.
func twoTanks(a, b, high, low, depth, g, end float64, hole compartment.OpeningSpec) tank {
	k := tankOf(a+b, depth, low, g, end)
	box := k.spec.Hull.Box
	box.Length, box.Breadth = 4, (a+b)/4
	wall := a / box.Breadth
	k.spec.Weights[0].At.X = 2
	k.spec.Bulkheads = []compartment.BulkheadSpec{{Name: "B", At: wall}}
	k.spec.Compartments = []compartment.CompartmentSpec{
		{Name: "first", Starts: &compartment.StartSpec{Depth: &high}}, {Name: "second", Starts: &compartment.StartSpec{Depth: &low}}}
	k.level = func(s *flood.Sample) float64 { return s.Spaces[0].Depth - s.Spaces[1].Depth }
	hole.Name, hole.Between, hole.Faces, hole.At.X, hole.Cd = "hole", [2]string{"first", "second"}, &r3.Vec{X: 1}, wall, ptr(0.62)
	k.spec.Openings = []compartment.OpeningSpec{hole}
	return k
}

// fed pumps water in at the tank's foot.
func (k tank) fed(inflow float64) tank {
	k.spec.Openings = append(slices.Clone(k.spec.Openings), compartment.OpeningSpec{Name: "pump", Between: [2]string{"outside", "hold"},
		At: r3.Vec{X: k.spec.Hull.Box.Length / 4}, Faces: &r3.Vec{Z: -1}, Flow: &inflow})
	return k
}

// passing is the diameter that passes q under a head with C_d 0.6.
func passing(q, h float64) float64 { return across(q / (0.6 * math.Sqrt(2*gravity*h))) }

// gated gives the tank an upright rectangular opening to the outside about a height; its levels count from a height.
func (k tank) gated(length, height, at, cd, from, keel float64) tank {
	k.spec.Openings = []compartment.OpeningSpec{{Name: "gate", Between: [2]string{"hold", "outside"},
		At: r3.Vec{X: k.spec.Hull.Box.Length / 2, Y: k.spec.Hull.Box.Breadth / 2, Z: at}, Faces: &r3.Vec{Y: 1}, Along: &r3.Vec{X: 1},
		Door: &compartment.DoorSpec{Length: length, Height: height}, Cd: &cd}}
	k.keel = keel
	k.level = func(s *flood.Sample) float64 { return s.Spaces[0].Depth - from }
	return k
}

// formed is a tank of another form, with a hole at its lowest point, at the origin of x and y.
func (k tank) formed(form [][3]r3.Vec, diameter, cd float64) tank {
	k.spec.Hull = compartment.HullSpec{Mesh: &compartment.MeshSpec{Name: "tank", Triangles: form}}
	x := solid3(form).Centroid().X
	k.spec.Weights[0].At = r3.Vec{X: x}
	k.spec.Openings = []compartment.OpeningSpec{bored("hole", "hold", "outside", r3.Vec{X: x}, r3.Vec{Z: -1}, diameter, cd)}
	k.keel = -1e-8
	return k
}

// boiler is a horizontal drum of 1 m radius and 8 m with its hole at the bottom of the polygon, whose side lies level there.
func boiler() tank {
	form := prism(ring(1, math.Cos(math.Pi/120), 120), 8)
	for i := range form { // the polygon's lowest side is y = ±, z = 0
		for j := range form[i] {
			form[i][j].Z = math.Max(0, form[i][j].Z)
		}
	}
	return tankOf(1, 1, 1.9993, 9.81, 1084).formed(form, 0.1, 0.8)
}

// laminar is EM-15: a tank of a thick liquid that empties through a long tube. The law is the engine's own for a tube of that length,
// with the jet's loss taken down to nothing.
func laminar() tank {
	k := tankOf(disc(1.2), 2, 1.5, gravity, 1600).bottom(0.025, 0.98)
	k.keel = 1
	k.spec.Water.Density = ptr(1100.0)
	k.ready = func(v *compartment.Vessel, l *laws) {
		p := v.Passages[0]
		p.Law = l.hole(0.025, 3, hydro.Sharp, 0.98, hydro.Water{Density: 1100, Viscosity: 0.08}, v.Air)
		p.Law.Jet *= 1e-6
	}
	return k
}

// bowlSinks is EM-25: when the rim of a thin box with a hole in its bottom goes under.
func bowlSinks(l *laws) []float64 {
	s := boxed(0.5, 0.4, 0.15, 16, 0, 0.02)
	s.Openings = []compartment.OpeningSpec{bored("hole", "outside", "hold", r3.Vec{X: 0.25}, r3.Vec{Z: -1}, across(1e-4), 0.6)}
	r := l.run(withoutCreep(l.build(s)), flood.Settings{Tolerance: 1e-8})
	return []float64{r.Sections[0].Foundered}
}

// crossed is T_f of CF-06: a tank that fills from the sea through a duct from a head to a lesser one. The list worked it out with 9.81 m/s².
func crossed(volume, area, f, before, after float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		k := tankOf(volume/(before-after), before+1, 0.5, 9.81, 0)
		end := 4 * volume / (area * f * math.Sqrt(2*gravity*after))
		k.spec.Openings = []compartment.OpeningSpec{bored("duct", "outside", "hold", r3.Vec{X: k.spec.Hull.Box.Length / 2}, r3.Vec{Z: -1}, across(area), f)}
		k.keel, k.end = -(before + 0.5), end
		k.level = func(s *flood.Sample) float64 { return before + 0.5 - s.Spaces[0].Depth }
		return k.falls(1, after)(l)
	}
}

// inSeries is F of three devices one behind the other, of S·F = Q/√(2gH) over the first one's S: the flow at rest levels through two
// full spaces between them. A device of area S and resistance k is a hole of area S/√k/C_d.
func inSeries(l *laws) []float64 {
	const cd, head, scale = 0.6, 0.5, 1e-4
	s := boxed(0.8, 0.2, 0.2, 1, 0, 0)
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.2}, {Name: "B2", At: 0.4}}
	full := compartment.StartSpec{Share: ptr(1.0)}
	s.Compartments = []compartment.CompartmentSpec{{Name: "a", Airtight: true, Starts: &full}, {Name: "b", Airtight: true, Starts: &full}, {Name: "c"}}
	size := func(area, k float64) float64 { return across(scale * area / math.Sqrt(k) / cd) }
	s.Openings = []compartment.OpeningSpec{bored("one", "outside", "a", r3.Vec{X: 0.1}, r3.Vec{Z: -1}, size(0.5, 0.5), cd),
		bored("two", "a", "b", r3.Vec{X: 0.2, Z: 0.1}, r3.Vec{X: 1}, size(0.4, 0.8), cd), bored("three", "b", "c", r3.Vec{X: 0.4, Z: 0.1}, r3.Vec{X: 1}, size(0.3, 1), cd)}
	s.Compartments[2].Starts = &compartment.StartSpec{Depth: ptr(0.15)}
	q := nan
	l.run(withoutCreep(l.build(s)), flood.Settings{Motion: flood.Held, Keel: ptr(-head - 0.15), Until: 0.01, Tolerance: 1e-8, Samples: func(s *flood.Sample) {
		if math.IsNaN(q) {
			q = s.Passages[2].Water
		}
	}})
	return []float64{q / (scale * 0.5 * math.Sqrt(2*gravity*head))}
}

// inParallel is S·F of two devices side by side.
func inParallel(l *laws) []float64 {
	const cd, head, scale = 0.6, 0.5, 1e-4
	s := boxed(0.4, 0.2, 0.2, 1, 0, 0)
	size := func(area, k float64) float64 { return across(scale * area / math.Sqrt(k) / cd) }
	s.Openings = []compartment.OpeningSpec{bored("one", "outside", "hold", r3.Vec{X: 0.1}, r3.Vec{Z: -1}, size(0.5, 1.5), cd),
		bored("two", "outside", "hold", r3.Vec{X: 0.3}, r3.Vec{Z: -1}, size(0.3, 2.5), cd)}
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold", Starts: &compartment.StartSpec{Depth: ptr(0.1)}}}
	q := nan
	l.run(withoutCreep(l.build(s)), flood.Settings{Motion: flood.Held, Keel: ptr(-head - 0.1), Until: 0.01, Tolerance: 1e-8, Samples: func(s *flood.Sample) {
		if math.IsNaN(q) {
			q = s.Passages[0].Water + s.Passages[1].Water
		}
	}})
	return []float64{q / (scale * math.Sqrt(2*gravity*head))}
}
