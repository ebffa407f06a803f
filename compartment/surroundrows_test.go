package compartment

import (
	"fmt"
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// extruded is a prism along x over a loop of (y, z), counterclockwise from y to z.
func extruded(t testing.TB, loop [][2]float64, length float64) *solid.Solid {
	t.Helper()
	at := func(i int, x float64) r3.Vec { p := loop[i%len(loop)]; return r3.Vec{X: x, Y: p[0], Z: p[1]} }
	var middle r3.Vec
	for i := range loop {
		middle = r3.Add(middle, r3.Scale(1/float64(len(loop)), at(i, 0)))
	}
	far := r3.Add(middle, r3.Vec{X: length})
	var tris []solid.Triangle
	for i := range loop {
		a, b, c, d := at(i, 0), at(i+1, 0), at(i, length), at(i+1, length)
		tris = append(tris, solid.Triangle{middle, b, a}, solid.Triangle{far, c, d}, solid.Triangle{a, b, d}, solid.Triangle{a, d, c})
	}
	form, err := solid.New(tris)
	if err != nil {
		t.Fatal(err)
	}
	return form
}

// ring is a circle of diameter 1.
func ring() (loop [][2]float64) {
	for k := range 96 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 96)
		loop = append(loop, [2]float64{cos / 2, sin / 2})
	}
	return loop
}

// spheroidForm is a spheroid along x of diameter 1.
func spheroidForm(t testing.TB, length float64) *solid.Solid {
	t.Helper()
	var stations []solid.Station
	for i := range 81 {
		x := -math.Cos(math.Pi * float64(i) / 80)
		r := math.Sqrt(max(0, 1-x*x)) / 2
		st := solid.Station{X: length / 2 * (1 + x)}
		if i == 0 || i == 80 {
			st.Points = []solid.StationPoint{{}}
		} else {
			for k := range 49 {
				sin, cos := math.Sincos(math.Pi * float64(k) / 48)
				st.Points = append(st.Points, solid.StationPoint{Z: -r * cos, Y: r * sin})
			}
		}
		stations = append(stations, st)
	}
	form, _, err := solid.Stations(stations, true)
	if err != nil {
		t.Fatal(err)
	}
	return form
}

// lewisForm is a prism over a Lewis form of half-breadth 1 at z = 0, wall-sided above, and the added mass of the half figure
// in heave over ρπb²/2 (F. M. Lewis 1929: ((1 + a₁)² + 3a₃²)/(1 + a₁ + a₃)²). breadth: b/T, sigma: the area over 2bT.
func lewisForm(t testing.TB, breadth, sigma float64) (form *solid.Solid, c float64) {
	t.Helper()
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
	a3 := low
	a1 := (1 + a3) * tilt
	m := 1 / (1 + a1 + a3)
	var loop [][2]float64
	for k := range 201 {
		angle := math.Pi * (float64(k)/200 - 1)
		y := m * ((1+a1)*math.Cos(angle) + a3*math.Cos(3*angle))
		z := m * ((1-a1)*math.Sin(angle) - a3*math.Sin(3*angle))
		loop = append(loop, [2]float64{y, z})
	}
	loop = append(loop, [2]float64{loop[200][0], 1}, [2]float64{loop[0][0], 1})
	return extruded(t, loop, 500), m * m * ((1+a1)*(1+a1) + 3*a3*a3)
}

// offBy checks a number against a source, and tells how far off it is.
func offBy(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	off := got/want - 1
	t.Logf("%s: %.4f, source %.4f, %+.1f %%", what, got, want, 100*off)
	if !(math.Abs(off) <= share) {
		t.Errorf("%s: %.4f, source %.4f, more than %g %% off", what, got, want, 100*share)
	}
}

// TestAddedOfSections: MO-05, long figures far under water (Lamb; J. N. Newman, Marine Hydrodynamics, 1977, table 4.3; the
// rectangles between DNV-RP-C205, appendix D; from memory).
func TestAddedOfSections(t *testing.T) {
	const length = 500.0
	deep := func(form *solid.Solid) *[6][6]float64 {
		s := formSurround(form)
		s.Immerse(Upright(1e4))
		return s.Added()
	}
	offBy(t, "circle", deep(extruded(t, ring(), length))[2][2]/(1000*length*math.Pi/4), 1, 0.01)
	for _, x := range []struct{ height, heave, roll float64 }{ // over breadth, over ρπa², over ρπ times the longer half to the 4th
		{0.001, 1, 0.125}, {0.1, 1.14, 0.147}, {0.2, 1.21, 0.15}, {0.5, 1.36, 0.15}, {1, 1.51, 0.234}, {2, 1.70, 0.15}, {5, 1.98, 0.15}, {10, 2.23, 0.147},
	} {
		m := deep(solid.Box(r3.Vec{Y: -0.5, Z: -x.height / 2}, r3.Vec{X: length, Y: 0.5, Z: x.height / 2}))
		offBy(t, fmt.Sprintf("%g:1 in heave", x.height), m[2][2]/(1000*length*math.Pi/4), x.heave, 0.055)
		offBy(t, fmt.Sprintf("%g:1 in roll", x.height), m[3][3]/(1000*length*math.Pi/16*math.Pow(max(1, x.height), 4)), x.roll, 0.06)
	}
}

// TestHeaveOfLewisSections: MO-06, and others of the same formula.
func TestHeaveOfLewisSections(t *testing.T) {
	for _, x := range [][3]float64{
		{1, math.Pi / 4, 1}, {1, 0.9, 1.18359}, {1, 1, 1.43320}, {1.25, 0.95, 1.25557},
		{1.5, 0.9}, {2, 0.85}, {1.25, 0.7}, {0.7, 0.8}, {0.7, 0.9}, {2, 0.95}, {1, 0.6},
	} {
		form, c := lewisForm(t, x[0], x[1])
		if x[2] != 0 {
			near(t, "the form itself", c, x[2], 1e-4)
		}
		s := formSurround(form)
		s.Immerse(Upright(0))
		offBy(t, fmt.Sprintf("b/T %g, area %.3f", x[0], x[1]), s.Added()[2][2]/(1000*500*math.Pi/2), c, 0.06) // the last is V-shaped
	}
}

// TestAddedOfHalfEllipses: floating to the axis, the surface a wall for sway and roll: sway ρπT²/2, acting (4/3π)(T² − b²)/T
// under the surface, roll about the surface 0.318 ρ(b² − T²)²; heave ρπb²/2. By the potential T cos η of the ellipse (Lamb,
// §71) and its series for roll, worked out here.
func TestAddedOfHalfEllipses(t *testing.T) {
	for _, x := range [][2]float64{{1, 0.5}, {0.5, 1}, {1, 0.8}} {
		b, d := x[0], x[1]
		loop := ring()
		for i := range loop {
			loop[i] = [2]float64{2 * b * loop[i][0], 2 * d * loop[i][1]}
		}
		s := formSurround(extruded(t, loop, 500))
		s.Immerse(Upright(0))
		m, what := s.Added(), fmt.Sprintf("b %g, T %g: ", b, d)
		offBy(t, what+"sway", m[1][1]/(1000*500*math.Pi*d*d/2), 1, 0.03)
		offBy(t, what+"heave", m[2][2]/(1000*500*math.Pi*b*b/2), 1, 0.03)
		near(t, what+"where sway acts", m[1][3]/m[1][1], 4/(3*math.Pi)*(d*d-b*b)/d, 0.02*d)
		near(t, what+"roll", m[3][3]/(1000*500), 0.318*math.Pow(b*b-d*d, 2), 0.02*math.Pow(max(b, d), 4))
	}
}

// TestAddedOfSpheroids: MO-07, deep, and floating to the axis, where half of it is under water (k₁, k₂, k′: Lamb §114).
func TestAddedOfSpheroids(t *testing.T) {
	for _, x := range []struct{ length, k1, k2, turn float64 }{{4, 0.0816, 0.8598, 0.6079}, {6, 0.0452, 0.9171, 0.7623}, {10, 0.0207, 0.9602, 0.8835}} {
		s := formSurround(spheroidForm(t, x.length))
		for _, sea := range []float64{1000, 0} {
			s.Immerse(Upright(sea))
			m := s.Added()
			mass := 1000 * math.Pi / 6 * x.length
			if sea == 0 {
				mass /= 2
			}
			half := x.length / 2
			turn := m[4][4] + 2*half*m[2][4] + half*half*m[2][2]
			what := fmt.Sprintf("l/d %g, sea at %g, ", x.length, sea)
			offBy(t, what+"k1", m[0][0]/mass, x.k1, 0.12)
			offBy(t, what+"k2", m[2][2]/mass, x.k2, 0.01)
			offBy(t, what+"k'", turn/(mass*(half*half+0.25)/5), x.turn, 0.03)
		}
	}
}

// TestAddedOfPrisms: square prisms along their length, cylinders across (DNV-RP-C205, appendix D, from memory).
func TestAddedOfPrisms(t *testing.T) {
	for _, x := range [][2]float64{{1, 0.68}, {2, 0.36}, {3, 0.24}, {4, 0.19}, {5, 0.15}, {6, 0.13}, {7, 0.11}, {10, 0.08}} {
		s := formSurround(solid.Box(r3.Vec{}, r3.Vec{X: x[0], Y: 1, Z: 1}))
		s.Immerse(Upright(1000))
		offBy(t, fmt.Sprintf("prism %g, along", x[0]), s.Added()[0][0]/(1000*x[0]), x[1], 0.035)
	}
	for _, x := range [][2]float64{{1.2, 0.62}, {2.5, 0.78}, {5, 0.9}, {9, 0.96}} {
		s := formSurround(extruded(t, ring(), x[0]))
		s.Immerse(Upright(1000))
		offBy(t, fmt.Sprintf("cylinder %g, across", x[0]), s.Added()[2][2]/(1000*x[0]*math.Pi/4), x[1], 0.06)
	}
}

// dragOver is the force of 1 m/s along an axis, far under water, over ½ρu² and an area.
func dragOver(form *solid.Solid, axis int, area float64) float64 {
	s := formSurround(form)
	s.Immerse(Upright(1000))
	return resistance(s, axis, 1) / (500 * area)
}

// TestDrag: MO-08, MO-09, MO-10 (J. Matthews, Aeronautical Engineer's Data Book, 2002, p. 95).
func TestDrag(t *testing.T) {
	for _, x := range [][2]float64{{1, 0.63}, {2, 0.68}, {5, 0.74}, {10, 0.82}, {40, 0.98}} {
		offBy(t, fmt.Sprintf("cylinder l/d %g across", x[0]), dragOver(extruded(t, ring(), x[0]), 2, x[0]), x[1], 0.03)
	}
	for _, x := range [][2]float64{{1, 0.91}, {2, 0.85}, {4, 0.87}, {7, 0.99}} {
		offBy(t, fmt.Sprintf("cylinder l/d %g along", x[0]), dragOver(extruded(t, ring(), x[0]), 0, math.Pi/4), x[1], 0.12)
	}
	plate := func(x, y, z float64) *solid.Solid { return solid.Box(r3.Vec{}, r3.Vec{X: x, Y: y, Z: z}) }
	offBy(t, "long cylinder", dragOver(extruded(t, ring(), 1e4), 2, 1e4), 1.2, 0.02)
	offBy(t, "long plate", dragOver(plate(1e4, 1, 0.02), 2, 1e4), 1.98, 0.01)
	offBy(t, "square plate flat", dragOver(plate(1, 1, 0.02), 2, 1), 1.17, 0.12)
	offBy(t, "square plate across", dragOver(plate(0.02, 1, 1), 0, 1), 1.17, 0.06)
	offBy(t, "disc", dragOver(extruded(t, ring(), 0.02), 0, math.Pi/4), 1.12, 0.02)
	offBy(t, "sphere along", dragOver(spheroidForm(t, 1), 0, math.Pi/4), 0.45, 0.2)
	offBy(t, "sphere across", dragOver(spheroidForm(t, 1), 2, math.Pi/4), 0.45, 0.45) // strips know no sphere
	offBy(t, "long square", dragOver(plate(1e4, 1, 1), 2, 1e4), 2.05, 0.1)
}
