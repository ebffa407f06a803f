package hydro

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestFigureMeasures(t *testing.T) {
	c := Circle(r3.Vec{X: 1, Y: 2, Z: 3}, r3.Vec{Z: -5}, 0.2)
	relative(t, "circle", c.Area(), math.Pi*0.01, 1e-15)
	if c.Centre() != (r3.Vec{X: 1, Y: 2, Z: 3}) || c.Normal() != (r3.Vec{Z: -1}) {
		t.Errorf("circle: centre %v, normal %v", c.Centre(), c.Normal())
	}
	// A square of 4 with a square hole of 1 off its middle: area 15, centroid by hand (16·0 − 1·1)/15 along y.
	outer := []r3.Vec{{Y: -2, Z: -2}, {Y: 2, Z: -2}, {Y: 2, Z: 2}, {Y: -2, Z: 2}}
	hole := []r3.Vec{{Y: 0.5, Z: -0.5}, {Y: 0.5, Z: 0.5}, {Y: 1.5, Z: 0.5}, {Y: 1.5, Z: -0.5}}
	for _, reversed := range []bool{false, true} {
		if reversed {
			slices.Reverse(outer)
			slices.Reverse(hole)
		}
		f := Face([][]r3.Vec{outer, hole}, r3.Vec{X: 2})
		relative(t, "area", f.Area(), 15, 1e-15)
		near(t, "centroid", f.Centre().Y, -1.0/15, 1e-15)
		var v View
		f.View(skyward, &v)
		relative(t, "extent", v.High-v.Low, 4, 1e-15)
		// Below 0: half of the square, less half of the hole.
		relative(t, "below the middle", v.AreaBelow(0), 7.5, 1e-14)
		relative(t, "below the hole", v.AreaBelow(-1), 4, 1e-14)
	}
	if f := Face(nil, r3.Vec{X: 1}); f.Area() != 0 {
		t.Error("nothing has an area")
	}
}

// A rectangle's length lies along the projection of its direction.
func TestRectangleStands(t *testing.T) {
	var v View
	Rectangle(r3.Vec{Z: 1}, r3.Vec{X: 1}, r3.Vec{X: 5, Y: 0.1}, 0.4, 0.1).View(skyward, &v)
	relative(t, "length across", v.High-v.Low, 0.1, 1e-12)
	Rectangle(r3.Vec{Z: 1}, r3.Vec{X: 1}, r3.Vec{X: 5, Z: -0.1}, 0.4, 0.1).View(skyward, &v)
	relative(t, "length up", v.High-v.Low, 0.4, 1e-12)
	// Without a direction of its own it still is a rectangle.
	f := Rectangle(r3.Vec{Z: 1}, r3.Vec{X: 1}, r3.Vec{X: 1}, 0.4, 0.1)
	f.View(skyward, &v)
	relative(t, "area", v.AreaBelow(2), 0.04, 1e-12)
}

// Every width in the view against an intersection of the outline, and the area below against its quadrature.
func TestViewAgainstOutline(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	var v View
	for range 300 {
		f, _ := randomFigure(r)
		up := randomUnit(r)
		f.View(up, &v)
		chord, breaks := chords(f, up)
		z := v.Low + (v.High-v.Low)*r.Float64()
		scale := f.Area() / (v.High - v.Low)
		near(t, "width", v.width(z-v.mid), chord(z), 1e-9*scale)
		breaks = append(breaks, z)
		want := piecewise(func(x float64) float64 {
			if x > z {
				return 0
			}
			return chord(x)
		}, breaks)
		near(t, "area below", v.AreaBelow(z), want, 1e-8*f.Area())
		near(t, "all of it", v.AreaBelow(v.High+1), f.Area(), 1e-12*f.Area())
		near(t, "just under the top", v.AreaBelow(v.High-1e-12*(v.High-v.Low)), f.Area(), 1e-10*f.Area())
		near(t, "none of it", v.AreaBelow(v.Low-1), 0, 0)
	}
}

// What a view held before must not change a bit of what it holds now.
func TestViewForgets(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 6))
	var used View
	for range 500 {
		f, o := randomFigure(r)
		up := randomUnit(r)
		if r.IntN(5) == 0 {
			up = f.Normal()
		}
		var clean View
		f.View(up, &clean)
		f.View(up, &used)
		a, b := randomSides(r, &clean, &still)
		if x, y := o.Water(&clean, &still, a, b), o.Water(&used, &still, a, b); x != y {
			t.Fatalf("%v from a clean view, %v from a used one", x, y)
		}
	}
}

// Turning a figure and the up direction together changes nothing, and neither does the order in which corners are listed.
func TestViewTurnsWithTheBody(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 7))
	for range 200 {
		centre, normal, up := r3.Vec{X: r.Float64(), Z: r.Float64()}, randomUnit(r), randomUnit(r)
		plane := Circle(centre, normal, 1)
		loop := star(r, 8+r.IntN(80), centre, plane.one, plane.two, 0.1)
		turn := r3.NewRotation(2*math.Pi*r.Float64(), randomUnit(r))
		turned := make([]r3.Vec, len(loop))
		start := r.IntN(len(loop))
		for i := range loop {
			turned[i] = turn.Rotate(loop[(i+start)%len(loop)])
		}
		one, two := Face([][]r3.Vec{loop}, normal), Face([][]r3.Vec{turned}, turn.Rotate(normal))
		var v, w View
		one.View(up, &v)
		two.View(turn.Rotate(up), &w)
		o := FaceLaw(one.Area(), still, Air{})
		a, b := randomSides(r, &v, &still)
		near(t, "flow", o.Water(&w, &still, a, b).Rate, o.Water(&v, &still, a, b).Rate, 1e-7*fullFlow(&o, one, &v, a, b))
	}
}

// A figure that lies flat is one point; just off it, the flow is the same but for the surface's passage.
func TestFlatFigure(t *testing.T) {
	o := HoleLaw(0.02, 1e-3, Sharp, math.NaN(), still, Air{})
	var flat, tilted View
	for _, f := range []*Figure{Circle(r3.Vec{Z: 0.1}, skyward, 0.02), Rectangle(r3.Vec{Z: 0.1}, skyward, r3.Vec{X: 1}, 0.02, 0.01)} {
		f.View(skyward, &flat)
		f.View(r3.Unit(r3.Vec{X: 3e-9, Y: 2e-9, Z: 1}), &tilted)
		if flat.Low != 0.1 || flat.High != 0.1 {
			t.Fatalf("a flat figure lies from %g to %g", flat.Low, flat.High)
		}
		for _, sides := range [][2]Side{{level(0.3), level(0.2)}, {level(0.3), dryside}, {level(0.3), level(0.05)}, {level(0.05), level(0.02)}, {dryside, level(0.4)}} {
			x, y := o.Water(&flat, &still, sides[0], sides[1]), o.Water(&tilted, &still, sides[0], sides[1])
			near(t, "rate", x.Rate, y.Rate, 1e-6*math.Abs(y.Rate))
			near(t, "by a", x.ByA, y.ByA, 1e-6*math.Abs(y.ByA))
			near(t, "by b", x.ByB, y.ByB, 1e-6*math.Abs(y.ByB))
		}
		// A surface at the very height of a flat figure does not wet it.
		if q := o.Water(&flat, &still, level(0.1), dryside).Rate; q != 0 {
			t.Errorf("a level at the figure passes %g m³/s", q)
		}
	}
}

// TestHighest: the highest point lies in the figure's plane at its View's height, and that follows up as the point does: ∂High/∂up.
func TestHighest(t *testing.T) {
	centre := r3.Vec{X: 0.3, Y: -0.1, Z: 0.2}
	for name, f := range map[string]*Figure{
		"circle":    Circle(centre, r3.Vec{X: 1, Y: 0.2}, 0.1),
		"rectangle": Rectangle(centre, r3.Vec{X: 1}, r3.Vec{Y: 1, Z: 0.3}, 0.2, 0.05),
	} {
		for _, up := range []r3.Vec{{Z: 1}, {X: 0.6, Z: 0.8}, {X: 0.1, Y: -0.9, Z: 0.2}, {X: -0.7, Y: 0.1, Z: -0.3}} {
			up = r3.Unit(up)
			var v, w View
			f.View(up, &v)
			at := f.Highest(up)
			if off := math.Abs(r3.Dot(r3.Sub(at, centre), f.Normal())); off > 1e-15 || math.Abs(r3.Dot(up, at)-v.High) > 1e-15 {
				t.Errorf("%s, up %v: %v, %g off the plane, %g high, want %g", name, up, at, off, r3.Dot(up, at), v.High)
			}
			turn := r3.Scale(1e-6, r3.Unit(r3.Cross(up, r3.Vec{X: 0.3, Y: 0.4, Z: 0.5})))
			f.View(r3.Unit(r3.Add(up, turn)), &w)
			if got := w.High - v.High; math.Abs(got-r3.Dot(turn, at)) > 1e-11 {
				t.Errorf("%s, up %v: it rises by %g, the point by %g", name, up, got, r3.Dot(turn, at))
			}
		}
	}
	if got := Circle(centre, r3.Vec{Z: 1}, 0.1).Highest(r3.Vec{Z: 1}); got != centre {
		t.Errorf("level: %v, want %v", got, centre)
	}
}
