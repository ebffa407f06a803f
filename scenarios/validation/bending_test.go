package validation

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// laden is a box barge of a length, 0.2 × 0.13 m across, with weights that are spread as given: triples of kg, from and to.
func laden(length float64, loads ...[3]float64) compartment.Spec {
	s := compartment.Spec{Water: plainWater(), Hull: compartment.HullSpec{Box: &compartment.BoxSpec{Length: length, Breadth: 0.2, Depth: 0.13}}}
	return spreadOver(s, loads...)
}

func spreadOver(s compartment.Spec, loads ...[3]float64) compartment.Spec {
	for i, l := range loads {
		w := compartment.WeightSpec{Name: string(rune('a' + i)), Mass: l[0], At: r3.Vec{X: (l[1] + l[2]) / 2, Z: 0.03}}
		if l[2] > l[1] {
			w.Over = &[2]float64{l[1], l[2]}
		}
		s.Weights = append(s.Weights, w)
	}
	return s
}

// bent is the curve of bending and shear of a hull afloat, and the loads that it is of.
func (l *laws) bent(s compartment.Spec) (*compartment.Loads, *compartment.LoadCase) {
	v := l.build(s)
	f := compartment.NewFloater(v.Whole, v.Water.Density, true)
	rest, water := f.Start()
	f.Levels(rest.Pose.Up, water)
	return v.NewLoads(v.Whole, true), &compartment.LoadCase{Pose: rest.Pose, Surfaces: f.Surfaces()}
}

// bendings are bending amidships and the greatest shear, times factors.
func bendings(s compartment.Spec, perBending, perShear float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		loads, c := l.bent(s)
		x := s.Hull.Box.Length / 2
		return []float64{loads.At(x, c).Bending * perBending, math.Abs(loads.Curve(c).PeakShear.Value) * perShear}
	}
}

// twoFloats is a hull of two floats far apart: a beam on two supports.
func twoFloats(after, fore, at float64) compartment.Spec {
	const l, e, mass = 1.0, 0.08, 1.5
	var form [][3]r3.Vec
	for _, b := range [2]*solid.Solid{
		solid.Box(r3.Vec{X: -e / 2, Y: -after / 2}, r3.Vec{X: e / 2, Y: after / 2, Z: 0.2}),
		solid.Box(r3.Vec{X: l - e/2, Y: -fore / 2}, r3.Vec{X: l + e/2, Y: fore / 2, Z: 0.2}),
	} {
		for t := range b.Triangles() {
			form = append(form, t)
		}
	}
	s := meshed(form)
	s.Weights = []compartment.WeightSpec{{Name: "load", Mass: mass, At: r3.Vec{X: at, Z: 0.01}, Over: &[2]float64{0, l}}}
	return s
}

// simply are bending at a quarter and shear there over w l² and w l.
func simply(l *laws) []float64 {
	loads, c := l.bent(twoFloats(0.2, 0.2, 0.5))
	x := loads.At(0.25, c)
	return []float64{-x.Bending / (1.5 * gravity), x.Shear / (1.5 * gravity)}
}

// growing is BE-08: the greatest bending over w l² for w the greatest load per length, and its place.
func growing(l *laws) []float64 {
	loads, c := l.bent(twoFloats(0.15, 0.3, 2./3))
	peak := loads.Curve(c).Peak
	return []float64{-peak.Value / (2 * 1.5 * gravity) * 75, 10 * peak.X}
}

const (
	barge  = 1.2
	ofPL   = 1 / (6 * gravity * barge)
	ofP    = 1 / (6 * gravity)
	statik = "exact: beam theory is statics; the digits printed"
)

var bendingChecks = []check{
	{"BE-01", "barge of 140 m, 20 830 t uniform and 5000 t over the central 10 m: bending amidships, greatest shear", "Tupper, Introduction to Naval Architecture, ex. 7.1", computed, "-797.1 / 22.77", "MN·m; MN", share(6e-4), "the source's g is 9.81 or rounded; digits printed",
		bendings(laden(1.4, [3]float64{20.83, 0, 1.4}, [3]float64{5, 0.65, 0.75}), 100, 1)},
	{"BE-02", "beam on two supports, uniform load w: bending at a quarter x(l − x)/2, shear (l − 2x)/2", derrett + "p. 336", read, "0.09375 / 0.25", "wl²; wl", plain(1e-6), statik, simply},
	{"BE-03", "point load P amidships on a uniform box: −PL/8, P/2", "classical", closed, "-0.125 / 0.5", "PL; P", plain(1e-6), statik, bendings(laden(barge, [3]float64{6, barge / 2, barge / 2}), ofPL, ofP)},
	{"BE-04a", "load over the middle half: −PL/16, P/4", "classical", closed, "-0.0625 / 0.25", "PL; P", plain(1e-6), statik, bendings(laden(barge, [3]float64{6, barge / 4, 3 * barge / 4}), ofPL, ofP)},
	{"BE-04b", "load over the two end quarters: PL/16, P/4", "classical", closed, "0.0625 / 0.25", "PL; P", plain(1e-6), statik,
		bendings(laden(barge, [3]float64{3, 0, barge / 4}, [3]float64{3, 3 * barge / 4, barge}), ofPL, ofP)},
	{"BE-05a", "three holds, the ends loaded: WL/24, W/6", "classical (an exercise of Derrett's)", closed, printf("%.6f", 1./24, 1./6), "WL; W", plain(1e-6), statik,
		bendings(laden(barge, [3]float64{3, 0, barge / 3}, [3]float64{3, 2 * barge / 3, barge}), ofPL, ofP)},
	{"BE-05b", "three holds, the middle loaded: −WL/12, W/3", "classical (an exercise of Derrett's)", closed, printf("%.6f", -1./12, 1./3), "WL; W", plain(1e-6), statik, bendings(laden(barge, [3]float64{6, barge / 3, 2 * barge / 3}), ofPL, ofP)},
	{"BE-08", "beam of 10 m, load from 0 to 0.75 t/m: greatest bending and its place", "Derrett, exercise 40 no. 1", computed, "4.81 / 5.77", "t·m; m", plain(0.0055), toPrint, growing},
}
