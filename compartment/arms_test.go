package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

const degree = math.Pi / 180

// TestArmsOfPrisms takes box, triangle and half-round log right round, against plane geometry; the keel is long enough for
// them to keep their trim of nothing at every heel.
func TestArmsOfPrisms(t *testing.T) {
	for _, c := range []struct {
		name    string
		section []corner
		s, kg   float64
	}{
		{"box", rectangle(0.2, 0.15), 0.08 / 0.15, 0.05},
		{"box, deep and high", rectangle(0.2, 0.15), 0.7, 0.08},
		{"triangle, apex down", []corner{{0, 0}, {-0.1, 0.12}, {0.1, 0.12}}, 0.4, 0.06},
		{"triangle, apex up", []corner{{-0.1, 0}, {0, 0.12}, {0.1, 0}}, 0.4, 0.03},
		{"twelve corners", polygon(0.1, 12), 0.3, 0.08},
	} {
		body := prism(t, 2, c.section)
		f := afloat(body, c.s, c.kg)
		arms := f.RightingArms(f.uprightPose(t), nil)
		area := c.s * body.Form.Volume() / 2
		for k, heel := range arms.Heel {
			near(t, c.name+": arm", arms.Arm[k], sectionArm(c.section, area, c.kg, heel), 2e-10)
		}
		near(t, c.name+": range to port", arms.Port.Range, arms.Starboard.Range, 1e-8)
		near(t, c.name+": greatest to port", arms.Port.Most, arms.Starboard.Most, 1e-12)
		checkSide(t, c.name, arms.Starboard, func(heel float64) float64 { return sectionArm(c.section, area, c.kg, heel) })
	}
}

// checkSide holds the numbers of a side against the curve itself: nothing is higher, nothing vanishes earlier, and the areas
// are its integrals (Simpson's rule over the range).
func checkSide(t *testing.T, name string, side ArmSide, arm func(float64) float64) {
	t.Helper()
	const n = 500
	for k := 1; k < n; k++ {
		a := arm(side.Range * float64(k) / n)
		if a > side.Most+1e-10 || a <= 0 {
			t.Fatalf("%s: arm %g at %g°, greatest %g, range %g°", name, a, side.Range*float64(k)/n/degree, side.Most, side.Range/degree)
		}
	}
	near(t, name+": greatest arm", side.Most, arm(side.MostAt), 1e-10)
	if side.Range < math.Pi {
		near(t, name+": arm at the range", arm(side.Range), 0, 1e-9)
	}
	simpson := func(to float64) (sum float64) {
		const n = 1000
		for k := range n + 1 {
			w := 2.0 + 2*float64(k%2)
			if k == 0 || k == n {
				w = 1
			}
			sum += w * arm(to*float64(k)/n)
		}
		return sum * to / (3 * n)
	}
	near(t, name+": area", side.Area, simpson(side.Range), 2e-9)
	near(t, name+": area to 30°", side.Area30, simpson(math.Min(side.Range, 30*degree)), 2e-9)
	near(t, name+": area to 40°", side.Area40, simpson(math.Min(side.Range, 40*degree)), 2e-9)
}

// TestArmsWallSided: GZ = sinθ(GM + ½BM tan²θ) while deck and bilge stay clear (closed form), its printed values in
// references.md ST-51 (computed there, six digits), and its integral GM(1 − cosθ) + ½BM(1/cosθ + cosθ − 2).
func TestArmsWallSided(t *testing.T) {
	f := afloat(prism(t, 1, rectangle(0.2, 0.2)), 0.08/0.2, 0.05)
	rest := f.uprightPose(t)
	arms := f.RightingArms(rest, nil)
	bm, gm := 0.04/12/0.08, 0.04+0.04/12/0.08-0.05
	for k, heel := range arms.Heel {
		if math.Abs(heel) <= 37.5*degree { // the bilge comes out at atan(0.8) = 38.7°
			near(t, "arm", arms.Arm[k], math.Sin(heel)*(gm+bm/2*math.Pow(math.Tan(heel), 2)), 1e-14)
		}
	}
	for _, c := range []struct{ heel, mm float64 }{{5, 2.77383}, {10, 5.61134}, {20, 11.77457}, {30, 19.30556}} {
		near(t, "ST-51", 1e3*arms.Arm[armSteps+int(c.heel/2.5)], c.mm, 0.5e-5)
	}
	area := func(heel float64) float64 {
		return gm*(1-math.Cos(heel)) + bm/2*(1/math.Cos(heel)+math.Cos(heel)-2)
	}
	near(t, "area to 30°", arms.Starboard.Area30, area(30*degree), 1e-13)
}

// TestArmsOfTriangle: a V section of half angle α, apex down: with A the wet area, h = √(2A/(tan(α+θ) + tan(α−θ))) is the
// depth of the apex and GZ = h/3·(tan(α+θ) − tan(α−θ)) − KG sinθ while the deck is dry (closed form, centroid of a triangle).
func TestArmsOfTriangle(t *testing.T) {
	alpha := math.Atan2(0.1, 0.12)
	body := prism(t, 2, []corner{{0, 0}, {-0.1, 0.12}, {0.1, 0.12}})
	f := afloat(body, 0.25, 0.05)
	arms := f.RightingArms(f.uprightPose(t), nil)
	for k := armSteps; arms.Heel[k] < 20*degree; k++ {
		heel := arms.Heel[k]
		leaning, rising := math.Tan(alpha+heel), math.Tan(alpha-heel)
		h := math.Sqrt(2 * 0.25 * 0.012 / (leaning + rising))
		near(t, "arm", arms.Arm[k], h/3*(leaning-rising)-0.05*math.Sin(heel), 1e-11) // the level is found to 1e-11 of the length
	}
}

// TestArmsOfCylinder: buoyancy goes through the axis of a circle, so with G in it the arm is nothing at any heel, and with G
// below it by e the arm is e·sinθ. A polygon of n corners ripples by the order of R/n², and by a quarter with twice as many.
func TestArmsOfCylinder(t *testing.T) {
	const r = 0.1
	ripple := func(n int, e float64) (most float64) {
		f := afloat(prism(t, 3, polygon(r, n)), 0.3, r-e)
		arms := f.RightingArms(f.uprightPose(t), nil)
		for k, heel := range arms.Heel {
			most = math.Max(most, math.Abs(arms.Arm[k]-e*math.Sin(heel)))
		}
		if e > 0 {
			near(t, "greatest arm", arms.Starboard.Most, e, 10*r/float64(n*n))
			near(t, "heel of it", arms.Starboard.MostAt, math.Pi/2, 0.2)
			near(t, "range", arms.Starboard.Range, math.Pi, 0)
		}
		return most
	}
	coarse, fine := ripple(60, 0), ripple(120, 0)
	if coarse > r/(60*60) || fine > coarse/4 {
		t.Errorf("arms of a cylinder about its axis: %g m with 60 corners, %g m with 120", coarse, fine)
	}
	if got := ripple(120, 0.02); got > r/(120*120) {
		t.Errorf("arms of a weighted cylinder are off by %g m", got)
	}
}

// TestSquareLog: where a square log of relative density s floats (D. Reid, Am. J. Phys. 31 (1963) 565; references.md ST-38 to
// 40, exact): upright for s(1 − s) < 1/6, with an edge up for 9/32 < s < 23/32, at tan²θ = 12 s(1 − s) − 2 in between.
func TestSquareLog(t *testing.T) {
	body := prism(t, 10, rectangle(1, 1))
	gmAt := func(s, heel float64) float64 {
		f := afloat(body, s, 0.5)
		up := Inclined(heel, 0)
		sea, _, _ := body.Form.Offset(up, f.Mass/f.Density, nan)
		var b Balance
		f.Balance(Pose{Up: up, Sea: sea}, nil, &b)
		gm, _ := f.Metacentric(&b)
		return gm
	}
	edge := (3 - math.Sqrt(3)) / 6 // 0.211325, and 1 − that
	for _, c := range []struct {
		s, heel float64
		stable  bool
	}{
		{edge - 1e-6, 0, true}, {edge + 1e-6, 0, false}, {1 - edge + 1e-6, 0, true}, {1 - edge - 1e-6, 0, false},
		{9./32 - 1e-6, 45, false}, {9./32 + 1e-6, 45, true}, {23./32 - 1e-6, 45, true}, {23./32 + 1e-6, 45, false},
	} {
		if gm := gmAt(c.s, c.heel*degree); (gm > 0) != c.stable {
			t.Errorf("s %.6f at %g°: GM %g, stable should be %v", c.s, c.heel, gm, c.stable)
		}
	}
	// as printed there; the formula gives 23.48549° for s 0.24, which rounds to 23.485
	for _, c := range []struct{ s, heel, within float64 }{
		{0.2, 0, 1e-6}, {0.22, 13.675, 5e-4}, {0.23, 19.486, 5e-4}, {0.24, 23.486, 6e-4}, {0.25, 26.565, 5e-4}, {0.28, 41.2, 0.05}, {0.3, 45, 1e-6},
	} {
		f := afloat(body, c.s, 0.5)
		rest := f.Settle(f.uprightPose(t), nil, FallStride, nil)
		near(t, "rest of a log", rest.Pose.Heel()/degree, c.heel, c.within)
		if tan2 := 12*c.s*(1-c.s) - 2; tan2 > 0 && tan2 <= 4*c.s*c.s {
			near(t, "rest by the formula", rest.Pose.Heel(), math.Atan(math.Sqrt(tan2)), 1e-9)
		}
	}
}

// TestArmsOfWigley holds a facetted Wigley hull against an integration over strips of the formula's own half-breadths.
func TestArmsOfWigley(t *testing.T) {
	const nz = 48
	body := wigleyBody()
	body.Form = solid.Wigley(1.2, 0.18, 0.075, 0.11, 96, nz)
	body.KeelMiddle.X = 0.6
	const volume = 1.2 * 0.18 * 0.075 * 4 / 9 // Cb 4/9 at the designed draft (Wigley 1942)
	f := afloat(body, volume/body.Form.Volume(), 0.06)
	arms := f.RightingArms(f.uprightPose(t), nil)
	// facets lie within the form by up to (B/2)·2/8/nz² (parabola and chord)
	within := 0.09 / 4 / nz / nz * 4
	for k := armSteps; k < 2*armSteps; k += 8 {
		near(t, "arm of Wigley's hull", arms.Arm[k], wigleyArm(volume, 0.06, arms.Heel[k]), within)
	}
}

// wigleyArm is the arm at a heel without trim: at each x and height the wet part of the breadth is taken, and the level
// bisected to the wanted volume.
func wigleyArm(volume, kg, heel float64) float64 {
	const length, breadth, draft, depth, nx, nz = 1.2, 0.18, 0.075, 0.11, 40, 600
	sin, cos := math.Sincos(heel)
	wet := func(level float64) (v, my, mz float64) {
		for i := range nx {
			xi := (float64(i)+0.5)*2/nx - 1
			for j := range nz {
				z := (float64(j) + 0.5) * depth / nz
				zeta := 1 - math.Min(z, draft)/draft
				b := breadth / 2 * (1 - xi*xi) * (1 - zeta*zeta)
				from, to := -b, b // y·sin + z·cos ≤ level
				switch reach := level - z*cos; {
				case sin > 1e-12:
					to = math.Max(from, math.Min(b, reach/sin))
				case reach < 0:
					to = from
				}
				cell := (to - from) * length / nx * depth / nz
				v, my, mz = v+cell, my+cell*(from+to)/2, mz+cell*z
			}
		}
		return v, my, mz
	}
	lo, hi := -0.3, 0.3
	for range 40 {
		if v, _, _ := wet((lo + hi) / 2); v < volume {
			lo = (lo + hi) / 2
		} else {
			hi = (lo + hi) / 2
		}
	}
	v, my, mz := wet((lo + hi) / 2)
	return (-my*cos+mz*sin)/v - kg*sin
}

// TestArmsAreTheEnergysSlope holds the curve of a hull that trims as it heels, with water aboard, in one piece and in two,
// against the energy: the area under it, by the trapezoidal rule, is the energy's rise. And it meets the zero at rest with
// the slope GM.
func TestArmsAreTheEnergysSlope(t *testing.T) {
	spec := barge()
	spec.Hull = HullSpec{Offsets: ship(), Shell: spec.Hull.Shell}
	spec.Openings, spec.Weights = nil, spec.Weights[1:3]
	spec.Weights[0].Mass, spec.Weights[0].At = 2.5, r3.Vec{X: 0.5, Y: 0.002, Z: 0.02}
	spec.Weights = append(spec.Weights, WeightSpec{Name: "fore", Mass: 0.8, At: r3.Vec{X: 0.7, Z: 0.02}})
	for _, test := range mustBuild(t, spec).FloatTest() {
		if !test.Floats {
			t.Fatalf("%s does not float", test.Name)
		}
		arms := test.Arms
		near(t, test.Name+": arm at rest", arms.Arm[armSteps], 0, 1e-10)
		sum, turned := 0.0, 0
		for k := armSteps; k < armSteps+16 && float64(k+1-armSteps)*ArmStep <= arms.Starboard.Range; k++ {
			sum += (arms.Arm[k] + arms.Arm[k+1]) / 2 * ArmStep
			turned++
		}
		if turned == 16 { // the rule's own error: the curve's bend over a step, step²/12 of the slope's change
			near(t, test.Name+": area to 40°", arms.Starboard.Area40, sum, ArmStep*ArmStep/12*0.2)
		}
		slope := (arms.Arm[armSteps+1] - arms.Arm[armSteps-1]) / (2 * ArmStep)
		if test.Name == "hull" || test.Name == "hull+later" {
			// heel is a turn about an axis that trim tilts: E's slope along it goes with cos² of the trim. The chord over two
			// steps, and the trim that follows the heel, leave half a hundredth.
			want := test.GMTransverse * math.Pow(math.Cos(test.Trim), 2)
			near(t, test.Name+": slope at rest", slope, want, 0.005*want)
		}
	}
}
