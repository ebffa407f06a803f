package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// figure is a section of a hull across x: y and z of its corners, counterclockwise seen from ahead.
type figure [][2]float64

// formulaSection is the section of a Wigley hull by the formula.
func formulaSection(w *WigleySpec, x float64) (out figure) {
	const heights = 200
	xi := 2*x/w.Length - 1
	half := func(k int) (y, z float64) {
		z = w.Draft * (1 - math.Cos(math.Pi*float64(k)/heights)) / 2
		zeta := 1 - z/w.Draft
		return w.Breadth / 2 * (1 - xi*xi) * (1 - zeta*zeta), z
	}
	for k := range heights + 1 {
		y, z := half(k)
		out = append(out, [2]float64{y, z})
	}
	top, _ := half(heights)
	out = append(out, [2]float64{top, w.Depth}, [2]float64{-top, w.Depth})
	for k := heights; k > 0; k-- {
		y, z := half(k)
		out = append(out, [2]float64{-y, z})
	}
	return out
}

// plateSections gives the sections of a hull as it is made of plates, each cut once, from the piece that it lies in.
func plateSections(pieces []*Body) func(x float64) figure {
	known := map[int64]figure{}
	return func(x float64) figure {
		place := int64(math.Round(1e12 * x))
		if out := known[place]; out != nil {
			return out
		}
		var out figure
		for _, b := range pieces {
			if b.KeelAft.X < x && x < b.KeelFore.X {
				for _, p := range b.Form.Section(solid.Plane{N: r3.Vec{X: 1}, D: x})[0] {
					out = append(out, [2]float64{p.Y, p.Z})
				}
			}
		}
		known[place] = out
		return out
	}
}

// strips sums what lies below the plane up·x = level of a hull between two places, by strips across x with three points of
// Gauss in each; in every section the water is found by clipping its polygon.
func strips(sectionAt func(x float64) figure, up r3.Vec, level, from, to float64, n int) (sum upward) {
	dx := (to - from) / float64(n)
	for i := range n {
		for k, weight := range [3]float64{5.0 / 18, 8.0 / 18, 5.0 / 18} {
			x := from + (float64(i)+0.5+float64(k-1)*math.Sqrt(0.6)/2)*dx
			area, ay, az := wetPolygon(sectionAt(x), func(y, z float64) float64 { return level - up.X*x - up.Y*y - up.Z*z })
			sum = sum.plus(upward{force: area, first: r3.Vec{X: x * area, Y: ay, Z: az}}.times(weight * dx))
		}
	}
	return sum
}

// wetPolygon is the area of a polygon where a linear function is positive, and its first moments.
func wetPolygon(p figure, f func(y, z float64) float64) (area, ay, az float64) {
	var wet figure
	for i, a := range p {
		b := p[(i+1)%len(p)]
		fa, fb := f(a[0], a[1]), f(b[0], b[1])
		if fa > 0 {
			wet = append(wet, a)
		}
		if fa*fb < 0 {
			s := fa / (fa - fb)
			wet = append(wet, [2]float64{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])})
		}
	}
	for i, a := range wet {
		b := wet[(i+1)%len(wet)]
		c := (a[0]*b[1] - b[0]*a[1]) / 2
		area += c
		ay += c * (a[0] + b[0]) / 3
		az += c * (a[1] + b[1]) / 3
	}
	return area, ay, az
}

// TestLoadsOfWigleyHullByStrips: trimmed and heeled, with water in an end. The strips share nothing with the integrals of
// solids. With sections of the formula the loads agree to the 1e-4 of weight and weight × length that the hull of plates is
// off in volume; with sections of the plates, whose areas are smooth between the 160 stations but where the waterline passes
// a corner, to 1e-9.
func TestLoadsOfWigleyHullByStrips(t *testing.T) {
	w := &WigleySpec{Length: 1.2, Breadth: 0.18, Draft: 0.075, Depth: 0.11}
	spec := jointsAt(Spec{
		Water:        WaterSpec{Kind: Fresh, Temperature: 288.15},
		Hull:         HullSpec{Wigley: w},
		Bulkheads:    []BulkheadSpec{{Name: "B", At: 0.9}},
		Compartments: []CompartmentSpec{{Name: "aft"}, {Name: "fore"}},
		Weights: []WeightSpec{
			{Name: "lead", Mass: 4, At: r3.Vec{X: 0.56, Y: 0.006, Z: 0.02}, Over: &[2]float64{0.2, 0.95}},
			{Name: "engine", Mass: 1, At: r3.Vec{X: 0.3, Z: 0.03}},
			{Name: "winch", Mass: 0.5, At: r3.Vec{X: 0.92, Z: 0.05}},
		},
	}, 0.75, 0.825, 0.9375)
	a := newLoaded(t, spec, []float64{0, 2e-4})
	if trim, heel := a.c.Pose.Trim(), a.c.Pose.Heel(); math.Abs(trim) < 0.01 || math.Abs(heel) < 0.05 {
		t.Fatalf("trim %g, heel %g: too easy a case", trim, heel)
	}
	for name, c := range map[string]struct {
		section   func(x float64) figure
		tolerance float64
	}{
		"formula": {func(x float64) figure { return formulaSection(w, x) }, 1e-4},
		"plates":  {plateSections(a.Pieces), 1e-9},
	} {
		for k, x := range []float64{0.75, 0.825, 0.9375} { // stations of the plates, 7.5 mm apart
			from, up := math.Max(x, 0.9), a.c.Pose.Up
			sum := strips(c.section, up, a.c.Pose.Sea, x, w.Length, int(math.Round((w.Length-x)/7.5e-3)))
			water := strips(c.section, up, a.c.Surfaces[1].Level, from, w.Length, int(math.Round((w.Length-from)/7.5e-3)))
			sum = sum.plus(water.times(-1)).times(a.Water.Density * grav).plus(wigleyWeights(x))
			arm := r3.Sub(sum.first, r3.Vec{X: x * sum.force})
			got, per := a.joints()[k], a.scale*w.Length
			near(t, name+": shear", got.Shear/a.scale, -sum.force/a.scale, c.tolerance)
			near(t, name+": bending", got.Bending/per, (arm.Z*up.X-arm.X*up.Z)/per, c.tolerance)
			near(t, name+": torsion", got.Torsion/per, (arm.Z*up.Y-arm.Y*up.Z)/per, c.tolerance)
		}
	}
}

// wigleyWeights are the weights of the test above before x. The lead's density falls linearly: 4/0.75 (1 + kξ) kg/m with the
// middle at 0.575 m and k = 3(0.56 − 0.575)/0.375; by Simpson's rule, exact for its moments.
func wigleyWeights(x float64) (sum upward) {
	ahead := func(mass, at, y, z float64) {
		sum = sum.plus(upward{force: -mass * grav, first: r3.Scale(-mass*grav, r3.Vec{X: at, Y: y, Z: z})})
	}
	if x < 0.95 {
		for k, weight := range [3]float64{1.0 / 6, 4.0 / 6, 1.0 / 6} {
			at := x + (0.95-x)*float64(k)/2
			ahead(4/0.75*(1-0.12*(at-0.575)/0.375)*(0.95-x)*weight, at, 0.006, 0.02)
		}
	}
	if x < 0.92 {
		ahead(0.5, 0.92, 0, 0.05)
	}
	return sum
}
