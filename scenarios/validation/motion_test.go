package validation

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios/shoot"
	"gonum.org/v1/gonum/spatial/r3"
)

// swinging is the box of 1 × 0.2 × 0.15 m drawing 0.08 m, KG 0.05, its mass spread so that its gyradii are given. Its only opening
// opens long after the run, which therefore does not end while nothing flows.
func swinging(roll, pitch float64) compartment.Spec {
	const height = 0.02
	s := boxed(1, 0.2, 0.15, 16, 0, 0.05)
	s.Weights[0].Size = &[3]float64{math.Sqrt(12*pitch*pitch - height*height), math.Sqrt(12*roll*roll - height*height), height}
	o := bored("later", "outside", "hold", r3.Vec{X: 0.5, Y: 0.1, Z: 0.14}, r3.Vec{Y: 1}, 0.001, 0.61)
	o.Opens = []compartment.Condition{{Time: ptr(9e6)}}
	s.Openings = []compartment.OpeningSpec{o}
	return s
}

// period lets a box swing, free of added mass and damping, from where another value has it at rest.
func period(path string, from, to float64, coordinate func(compartment.Pose) float64) func(*laws) []float64 {
	const until = 8.0
	return func(l *laws) []float64 {
		none := 0.0
		v := must(l.build(swinging(0.07, 0.25)).With(path, from))
		var at, x []float64
		set := flood.Settings{Motion: flood.Free, Until: until, Every: 0.004, AddedMass: &none, LinearDamping: &none, QuadraticDamping: &none,
			Samples: func(s *flood.Sample) { at, x = append(at, s.Time), append(x, coordinate(s.Bodies[0].Pose)) }}
		if l.motion != nil {
			set.AddedMass = &l.motion.AddedMass
		}
		run := l.start(v, set)
		to := must(v.With(path, to))
		if l.vessel != nil {
			l.vessel(to)
		}
		rest := coordinate(to.FloatTest()[0].Pose)
		if err := run.Change(to); err != nil {
			panic(err)
		}
		for run.Result().Ended == flood.Running {
			run.Step()
		}
		return []float64{meanPeriod(at, x, rest)}
	}
}

// meanPeriod is the mean of all whole periods about a rest, by upward crossings.
func meanPeriod(at, x []float64, rest float64) float64 {
	var crossings []float64
	for i := 1; i < len(x); i++ {
		if a, b := x[i-1]-rest, x[i]-rest; a < 0 && b >= 0 {
			crossings = append(crossings, at[i-1]+(at[i]-at[i-1])*a/(a-b))
		}
	}
	n := len(crossings) - 1
	if n < 2 {
		panic("it does not swing")
	}
	return (crossings[n] - crossings[0]) / float64(n)
}

// deep is a form's added mass far under water, over 1000 kg/m³.
func (l *laws) deep(form [][3]r3.Vec) *[6][6]float64 {
	s := l.surround(form)
	s.Immerse(compartment.Upright(1000))
	return s.Added()
}

// rectangle is a prism of 20 m over a rectangle 0.02 m broad.
func rectangle(height float64) [][3]r3.Vec {
	const a = 0.01
	return prism([][2]float64{{-a, -a * height}, {a, -a * height}, {a, a * height}, {-a, a * height}}, 20)
}

// sections are added masses in heave over ρπa² per metre: a circle, and rectangles of heights over the breadth.
func sections(l *laws) []float64 {
	const per = 1000 * 20 * math.Pi * 1e-4
	out := []float64{l.deep(prism(ring(0.01, 0, 96), 20))[2][2] / per}
	for _, height := range []float64{0.01, 1} {
		out = append(out, l.deep(rectangle(height))[2][2]/per)
	}
	return out
}

// lewis is a prism over a Lewis form of half-breadth 0.01 m at z = 0, wall-sided above (F. M. Lewis 1929). breadth: b/T, sigma: the
// area over 2bT.
func lewis(breadth, sigma float64) [][3]r3.Vec {
	tilt := (breadth - 1) / (breadth + 1)
	low, high := -0.3, 0.3 // sigma falls with a₃
	for range 60 {
		a3 := (low + high) / 2
		a1 := (1 + a3) * tilt
		if math.Pi/4*(1-a1*a1-3*a3*a3)/((1+a3)*(1+a3)-a1*a1) > sigma {
			low = a3
		} else {
			high = a3
		}
	}
	a3, a1 := low, (1+low)*tilt
	m := 0.01 / (1 + a1 + a3)
	var loop [][2]float64
	for k := range 201 {
		angle := math.Pi * (float64(k)/200 - 1)
		loop = append(loop, [2]float64{m * ((1+a1)*math.Cos(angle) + a3*math.Cos(3*angle)), m * ((1-a1)*math.Sin(angle) - a3*math.Sin(3*angle))})
	}
	return prism(append(loop, [2]float64{loop[200][0], 0.01}, [2]float64{loop[0][0], 0.01}), 20)
}

// lewisHeave is C of Lewis forms afloat, over ρπb²/2 per metre.
func lewisHeave(l *laws) (out []float64) {
	for _, x := range [][2]float64{{1, math.Pi / 4}, {1, 0.9}, {1, 1}, {1.25, 0.95}} {
		s := l.surround(lewis(x[0], x[1]))
		s.Immerse(compartment.Upright(0))
		out = append(out, s.Added()[2][2]/(1000*20*math.Pi/2*1e-4))
	}
	return out
}

// spheroid lies along x, of diameter 1.
func spheroid(length float64) [][3]r3.Vec {
	form := sphere(0.5, 40)
	for i := range form {
		for j, p := range form[i] {
			form[i][j] = r3.Vec{X: p.Z * length, Y: p.Y, Z: -p.X}
		}
	}
	return form
}

// spheroids is k₁, k₂ or k′ of spheroids of length 4, 6 and 10 diameters, deep.
func spheroids(which int) func(*laws) []float64 {
	return func(l *laws) []float64 {
		return each(func(length float64) float64 {
			m, half, mass := l.deep(spheroid(length)), length/2, 1000*math.Pi/6*length
			turn := m[4][4] + 2*half*m[2][4] + half*half*m[2][2]
			return []float64{m[0][0] / mass, m[2][2] / mass, turn / (mass * (half*half + 0.25) / 5)}[which]
		}, 4, 6, 10)
	}
}

// drag is the force of 1 m/s along an axis, far under water, over ½ρu² and an area.
func (l *laws) drag(form [][3]r3.Vec, axis int, area float64) float64 {
	s := l.surround(form)
	s.Immerse(compartment.Upright(1000))
	var v, force [6]float64
	var slope [6][6]float64
	v[axis] = 1
	s.Damp(v, &force, &slope)
	return -force[axis] / (500 * area)
}

// rods is the drag of round rods of lengths over the diameter, 10 mm, across or along.
func rods(axis int, lengths ...float64) func(*laws) []float64 {
	const d = 0.01
	return func(l *laws) []float64 {
		return each(func(length float64) float64 {
			area := length * d * d
			if axis == 0 {
				area = disc(d)
			}
			return l.drag(prism(ring(d/2, 0, 96), length*d), axis, area)
		}, lengths...)
	}
}

// plates are the drags of a long plate, a square plate that stands across the flow, a long cylinder and a disc.
func plates(l *laws) []float64 {
	slab := func(x, y, z float64) [][3]r3.Vec {
		return prism([][2]float64{{-y / 2, -z / 2}, {y / 2, -z / 2}, {y / 2, z / 2}, {-y / 2, z / 2}}, x)
	}
	return []float64{l.drag(slab(20, 0.02, 0.0004), 2, 0.4), l.drag(slab(0.002, 0.1, 0.1), 0, 0.01),
		l.drag(prism(ring(0.005, 0, 96), 20), 2, 0.2), l.drag(prism(ring(0.05, 0, 96), 0.002), 0, disc(0.1))}
}

// hemisphere is what waves take from one that lies half under water, across its strips or on end, over 2/3 πρa³ω: in heave at Ka = 1, or in
// sway at a quarter of that.
func hemisphere(up r3.Vec, axis int, ka float64) func(*laws) []float64 {
	const a = 0.5
	return func(l *laws) []float64 {
		s := l.inviscid(spheroid(1))
		s.Immerse(compartment.Pose{Up: up, Sea: r3.Dot(up, r3.Vec{X: a})})
		var v, force [6]float64
		var slope [6][6]float64
		v[axis] = 1e-9
		s.Damp(v, &force, &slope)
		return []float64{-force[axis] / v[axis] / (2.0 / 3 * math.Pi * 1000 * a * a * a * math.Sqrt(gravity*ka/a))}
	}
}

// froude is a box that founders, 10 m long and 0.1 m: the ratio of times, and of first flows.
func froude(l *laws) []float64 {
	var times, flows [2]float64
	for i, k := range []float64{10, 0.1} {
		s := boxed(k, 0.2*k, 0.15*k, 16*k*k*k, 0, 0.02*k)
		s.Openings = []compartment.OpeningSpec{bored("hole", "outside", "hold", r3.Vec{X: k / 2}, r3.Vec{Z: -1}, 0.02*k, 0.61)}
		v := withoutCreep(l.build(s))
		v.Passages[0].Law.Creep *= math.Sqrt(k)
		first := true
		r := l.run(v, flood.Settings{Until: 1e4, Every: 1e4, Tolerance: 1e-8, Samples: func(s *flood.Sample) {
			if first {
				flows[i], first = s.Passages[0].Water, false
			}
		}})
		times[i] = r.Sections[0].Foundered
	}
	return []float64{times[0] / times[1], flows[0] / flows[1]}
}

// coins is one property of coins.
func coins(of func(plan.Piece) float64, names ...string) func(*laws) []float64 {
	return func(*laws) (out []float64) {
		for _, name := range names {
			p, ok := plan.Coin(name)
			if !ok {
				panic("no coin " + name)
			}
			out = append(out, of(p))
		}
		return out
	}
}

func exactRate(scale, base float64) func(*laws) []float64 {
	return func(*laws) []float64 { return []float64{shoot.ExactRate(scale, base)} }
}

func gramsOf(p plan.Piece) float64 { return 1e3 * p.Mass }

func sea(p compartment.Pose) float64 { return p.Sea }

var euros = []string{"1-euro-cent", "2-euro-cent", "5-euro-cent", "10-euro-cent", "20-euro-cent", "50-euro-cent", "1-euro", "2-euro"}

const (
	small   = "small swings, of which 1e-4"
	strips  = "strips with the coefficients of docs/motion.md"
	hulme   = "A. Hulme, Journal of Fluid Mechanics 121 (1982) 443, tables, in test data of public code"
	haskind = "Haskind's relation for a short body"
	matthew = "Matthews, Aeronautical Engineer's Data Book, p. 95"
)

// hulmeSway is between the rows of his table.
var hulmeSway = 0.0082 * math.Pow(0.25/0.2, math.Log(0.0255/0.0082)/math.Log(0.3/0.2))

var motionChecks = []check{
	{"MO-01", "box of 1 × 0.2 m drawing 0.08 m: period of heave without added mass, 2π√(d/g)", "classical", closed, "0.56750", "s", share(2e-4), small, period("weights.all.mass", 16.05, 16, sea)},
	{"MO-04", "its period of pitch, k 0.25 L", "classical", closed, "0.49384", "s", share(2e-4), small, period("weights.all.at.x", 0.501, 0.5, compartment.Pose.Trim)},
	{"MO-04 roll", "its period of roll, k 0.07 m: 2πk/√(g·GM)", "classical", closed, printf("%.5f", 2*math.Pi*0.07/math.Sqrt(gravity*(0.04+0.04/(12*0.08)-0.05))), "s", share(2e-4), small, period("weights.all.at.y", -0.0005, 0, compartment.Pose.Heel)},
	{"MO-05", "added mass across, deep: circle, plate 100 : 1, square, over ρπa²", "Lamb, Hydrodynamics; Newman, Marine Hydrodynamics, table 4.3", memory, "1 / 1 / 1.51", "", share(0.055), strips, sections},
	{"MO-06", "Lewis forms in heave at high frequency: b/T 1, σ π/4, 0.9, 1.0; 1.25, 0.95", "Lewis 1929", computed, "1.00000 / 1.18359 / 1.43320 / 1.25557", "ρπb²/2", share(0.06), strips, lewisHeave},
	{"MO-07a", "prolate spheroid, l/d 4, 6, 10: k₁", "Lamb, Hydrodynamics, §114", computed, "0.0816 / 0.0452 / 0.0207", "", share(0.12), strips + "; along x the smallest part", spheroids(0)},
	{"MO-07b", "the same: k₂", "Lamb §114", computed, "0.8598 / 0.9171 / 0.9602", "", share(0.02), strips, spheroids(1)},
	{"MO-07c", "the same: k′", "Lamb §114", computed, "0.6079 / 0.7623 / 0.8835", "", share(0.05), strips, spheroids(2)},
	{"MO-08a", "drag across of cylinders, l/d 1, 2, 5, 10, 40", matthew, read, "0.63 / 0.68 / 0.74 / 0.82 / 0.98", "", share(0.03), strips, rods(2, 1, 2, 5, 10, 40)},
	{"MO-08b, MO-10", "drag: long plate, square plate, long cylinder, disc", matthew + "; disc: diracdelta.co.uk", read, "1.98 / 1.17 / 1.20 / 1.12", "", share(0.13), strips, plates},
	{"MO-09", "drag of cylinders along their axis, l/d 1, 2, 4, 7", matthew, read, "0.91 / 0.85 / 0.87 / 0.99", "", share(0.12), "one value for all", rods(0, 1, 2, 4, 7)},
	{"WA-01", "waves of a hemisphere half under, on end, heave at Ka 1: over 2/3 πρa³ω", hulme, read, "0.2484", "", share(0.03), haskind, hemisphere(r3.Vec{X: 1}, 0, 1)},
	{"WA-02", "the same, sway at Ka 0.25, between 0.0082 at 0.2 and 0.0255 at 0.3 by a power", hulme, computed, printf("%.4f", hulmeSway), "", share(0.05), haskind, hemisphere(r3.Vec{X: 1}, 1, 0.25)},
	{"WA-03", "the same across the strips, heave", hulme, read, "0.2484", "", share(0.30), strips + ": what they throw back is taken for more than it is", hemisphere(r3.Vec{Z: 1}, 2, 1)},
	{"WA-04", "the same across the strips, sway", hulme, computed, printf("%.4f", hulmeSway), "", share(0.07), haskind + ", strip by strip", hemisphere(r3.Vec{Z: 1}, 1, 0.25)},
	{"MO-14", "Froude's rule at 1 : 100: times, flows", "dimensions", closed, "10 / 100000", "", share(1e-6), "exact", froude},
	{"MO-15", "camera for a miniature of 1 : 4 shown at 24", "VES Handbook of Visual Effects, appendix A", read, "48", "fps", plain(1e-9), "exact", exactRate(4, 24)},
	{"MO-16", "the same, a ship of 1 : 16 in water", "modelshipsinthecinema.com", read, "96", "fps", plain(1e-9), "exact", exactRate(16, 24)},
	{"MA-01", "mass of euro coins, 1 cent to 2 €", "Council Regulation (EC) 975/98", read, "2.30 / 3.06 / 3.92 / 4.10 / 5.74 / 7.80 / 7.50 / 8.50", "g", plain(1e-9), "specified", coins(gramsOf, euros...)},
	{"MA-04", "mass of US cent, nickel, dime, quarter", "US Mint", memory, "2.500 / 5.000 / 2.268 / 5.670", "g", plain(1e-9), "specified", coins(gramsOf, "us-cent", "us-nickel", "us-dime", "us-quarter")},
	{"MA-05", "mass of UK 1p, 2p, £1", "Royal Mint", memory, "3.56 / 7.12 / 8.75", "g", plain(1e-9), "specified", coins(gramsOf, "uk-1p", "uk-2p", "uk-pound")},
}
