package compartment

import (
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func loop(yz ...float64) (l []r3.Vec) {
	for i := 0; i < len(yz); i += 2 {
		l = append(l, r3.Vec{Y: yz[i], Z: yz[i+1]})
	}
	return l
}

// TestClipOutline: a section with two hulls and a tunnel, and a hole, falls into separate loops where it should.
func TestClipOutline(t *testing.T) {
	catamaran := solid.Outline{loop(-3, 0, -1, 0, -1, 2, 1, 2, 1, 0, 3, 0, 3, 4, -3, 4)}
	low := clipOutline(catamaran, solid.Plane{N: r3.Vec{Z: 1}, D: 1})
	if len(low) != 2 {
		t.Fatalf("%d loops, want the two hulls", len(low))
	}
	near(t, "one hull", areaOf(low[:1]), 2, 1e-12)
	near(t, "both hulls", areaOf(low), 4, 1e-12)
	high := clipOutline(catamaran, solid.Plane{N: r3.Vec{Z: -1}, D: -1})
	near(t, "the rest", areaOf(high), 24-4-4, 1e-12)
	if len(high) != 1 {
		t.Errorf("%d loops above", len(high))
	}
	ring := solid.Outline{loop(-2, -2, 2, -2, 2, 2, -2, 2), loop(-1, -1, -1, 1, 1, 1, 1, -1)}
	half := clipOutline(ring, solid.Plane{N: r3.Vec{Z: 1}, D: 0})
	near(t, "half a ring", areaOf(half), 6, 1e-12)
	if len(half) != 1 {
		t.Errorf("half a ring is %d loops, want one", len(half))
	}
	near(t, "untouched", areaOf(clipOutline(ring, solid.Plane{N: r3.Vec{Z: 1}, D: 3})), 12, 1e-12)
	if holds(ring, 0, 0) || !holds(ring, 1.5, 0) || holds(ring, 3, 0) {
		t.Error("a hole is no part of its outline")
	}
}

// TestClipParts: whatever the star-shaped outline and the line, what is below and above add up, and a rectangle taken out
// leaves the rest.
func TestClipParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var l []r3.Vec
		n := rapid.IntRange(3, 12).Draw(t, "corners")
		directions := star(n)
		for i := range n {
			// radii from a short list, so that corners often lie in the line
			l = append(l, r3.Scale(rapid.SampledFrom([]float64{1, 2, 3}).Draw(t, "radius"), directions[i]))
		}
		o := solid.Outline{l}
		d := rapid.SampledFrom([]float64{-1, -0.5, 0, 0.3, 1, 2}).Draw(t, "height")
		p := solid.Plane{N: r3.Vec{Z: 1}, D: d}
		below, above := areaOf(clipOutline(o, p)), areaOf(clipOutline(o, reversed(p)))
		if got, want := below+above, areaOf(o); !(got-want < 1e-9 && want-got < 1e-9) {
			t.Fatalf("%g below and %g above of %g", below, above, want)
		}
		in := clipOutline(clipOutline(o, solid.Plane{N: r3.Vec{Y: 1}, D: 0.5}), solid.Plane{N: r3.Vec{Y: -1}, D: 0.5})
		in = clipOutline(clipOutline(in, p), solid.Plane{N: r3.Vec{Z: -1}, D: 1 - d})
		rest := areaOf(lessRectangle(o, [2]float64{-0.5, 0.5}, [2]float64{d - 1, d}))
		if got, want := areaOf(in)+rest, areaOf(o); !(got-want < 1e-9 && want-got < 1e-9) {
			t.Fatalf("%g in the rectangle and %g around it of %g", areaOf(in), rest, want)
		}
	})
}
