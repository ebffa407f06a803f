package study_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/scenarios/study"
)

func size(t *testing.T, m *study.Model, path string, a, b float64, want study.Want) *study.Sizing {
	t.Helper()
	z, err := study.Size(background, m, path, a, b, want, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// The hole through which the tub fills to the top in 8 s, against the root of the closed form; and the slope there.
func TestSizeOfAHole(t *testing.T) {
	m := read(t, clamped)
	z := size(t, m, "openings.cut.hole", 0.03, 0.01, study.Want{Result: rises, Number: 8})
	low, high := 0.01, 0.03
	for range 60 {
		if mid := (low + high) / 2; risingTime(m, mid, 0.61) > 8 {
			low = mid
		} else {
			high = mid
		}
	}
	if !z.Found || len(z.Crossings) != 1 {
		t.Fatalf("found %v, %d crossings", z.Found, len(z.Crossings))
	}
	within(t, "the hole", z.Value, low, 1e-5) // asked for: 1e-3
	within(t, "its outcome", z.Outcome.Number, 8, 1e-5)
	within(t, "the slope", z.Slope, (risingTime(m, low+1e-5, 0.61)-risingTime(m, low-1e-5, 0.61))/2e-5, 1e-3)
}

// barge is a box barge of 12 kg with its fore tenth holed.
const barge = `format: 1
water: {density: 1000 kg/m3, surface_tension: 0 mN/m}
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
bulkheads:
  - {name: B1, at: 900 mm, top: 80 mm}
compartments: [aft, fore]
openings:
  - {name: cut, between: [outside, fore], at: [1000 mm, 0 mm, 20 mm], hole: 20 mm}
`

// bargeLevel is where the sea stands at the bulkhead, above the keel line, with the fore tenth lost: the water's plane is
// z = d + s·x, and of what is left, 0 ≤ x ≤ a, volume and moment are ∫(d + sx)dx; B lies over G along the plane's normal
// (−s, 1). Closed form but for the slope, which is the root of one equation.
func bargeLevel() float64 {
	const a, breadth, volume, gx, gz = 0.9, 0.2, 0.012, 0.5, 0.03
	depth := func(s float64) float64 { return (volume/breadth - s*a*a/2) / a }
	moment := func(s float64) float64 {
		d := depth(s)
		bx := (d*a*a/2 + s*a*a*a/3) * breadth / volume
		bz := (d*d*a + d*s*a*a + s*s*a*a*a/3) / 2 * breadth / volume
		return bx - gx + s*(bz-gz)
	}
	low, high := 0.0, 0.2
	for range 100 {
		if mid := (low + high) / 2; moment(mid)*moment(low) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return depth(low) + low*a
}

func TestSizeOfABulkhead(t *testing.T) {
	m := read(t, barge)
	z := size(t, m, "bulkheads.B1.top", 0.06, 0.14, study.Want{Result: "fate", Text: "floats"})
	if !z.Found || len(z.Crossings) != 1 || z.Crossings[0].Before.Text != "founders" || z.Crossings[0].Beyond.Text != "floats" || z.Outcome.Text != "floats" {
		t.Fatalf("found %+v", z.Crossings)
	}
	within(t, "the border", z.Value, bargeLevel(), 1e-4) // asked for: 1e-3
	if !math.IsNaN(z.Slope) {
		t.Errorf("a border has the slope %g", z.Slope)
	}
	// her angle jumps there from a few degrees to near the upright: 45° is nowhere
	z = size(t, m, "bulkheads.B1.top", 0.06, 0.14, study.Want{Result: "hull.steepest_deg", Number: 45})
	if z.Found || len(z.Jumps) != 1 {
		t.Fatalf("an angle that is jumped over: found %v, jumps %+v", z.Found, z.Jumps)
	}
	within(t, "the jump", z.Jumps[0].Value, bargeLevel(), 1e-4)
	if j := z.Jumps[0]; !(j.Before.Number > 45 && j.Beyond.Number < 10) {
		t.Errorf("jumps from %g to %g", j.Before.Number, j.Beyond.Number)
	}
}

// A weight that is moved along a hull without a hole: its trim is the same at two places, and 60° at none.
func TestSizeWithSeveralAnswersAndNone(t *testing.T) {
	text := without(barge, "openings:\n  - {name: cut, between: [outside, fore], at: [1000 mm, 0 mm, 20 mm], hole: 20 mm}\n")
	m := read(t, text+"weights:\n  - {name: block, mass: 2 kg, at: [500 mm, 0 mm, 30 mm]}\n")
	z := size(t, m, "weights.block.at.x", 0.1, 0.85, study.Want{Result: "hull.steepest_deg", Number: 1})
	if len(z.Crossings) != 2 || z.Value != z.Crossings[0].Value {
		t.Fatalf("%d crossings", len(z.Crossings))
	}
	within(t, "the middle of the two", (z.Crossings[0].Value+z.Crossings[1].Value)/2, 0.5, 1e-5)
	if !(z.Crossings[0].Slope < 0 && z.Crossings[1].Slope > 0) {
		t.Errorf("slopes %g and %g", z.Crossings[0].Slope, z.Crossings[1].Slope)
	}
	// both of these lie between the same two of the first row of runs, 23 mm apart
	z = size(t, m, "weights.block.at.x", 0.11, 0.86, study.Want{Result: "hull.steepest_deg", Number: 0.02})
	if len(z.Crossings) != 2 || z.Crossings[1].Value-z.Crossings[0].Value > 0.0234 {
		t.Errorf("close together: %+v", z.Crossings)
	}
	z = size(t, m, "weights.block.at.x", 0.1, 0.85, study.Want{Result: "hull.steepest_deg", Number: 60})
	if z.Found || !math.IsNaN(z.Value) || len(z.Crossings)+len(z.Jumps) != 0 {
		t.Errorf("60°: %+v", z)
	}
	z = size(t, m, "weights.block.at.x", 0.1, 0.85, study.Want{Result: "fate", Text: "floats"})
	if z.Found || !z.Always {
		t.Errorf("a fate without a border: found %v, always %v", z.Found, z.Always)
	}
	z = size(t, m, "weights.block.at.x", 0.1, 0.85, study.Want{Result: "hull.foundered_s", Number: 10})
	if z.Found {
		t.Error("found when a hull that floats goes under")
	}
}

// Where the result comes to be only in part of the range, what is wanted is found close to its edge too.
func TestSizeCloseToWhereTheResultEnds(t *testing.T) {
	m := read(t, clamped) // the run ends at 40 s: narrower holes have no such time
	z := size(t, m, "openings.cut.hole", 0.004, 0.03, study.Want{Result: rises, Number: 39.9})
	if !z.Found {
		t.Fatalf("not found: %+v", z.Jumps)
	}
	within(t, "the time", risingTime(m, z.Value, 0.61), 39.9, 1e-5)
}

func TestSizeRefuses(t *testing.T) {
	m := read(t, clamped)
	for _, c := range []struct {
		path string
		a, b float64
	}{{"openings.cut.hole", -0.01, 0.01}, {"openings.cat.hole", 0.01, 0.02}} {
		_, err := study.Size(background, m, c.path, c.a, c.b, study.Want{Result: rises, Number: 8}, study.Options{})
		if !errors.As(err, new(compartment.Faults)) {
			t.Errorf("%+v: %v", c, err)
		}
	}
	_, err := study.Size(background, m, "openings.cut.hole", 0.01, 0.01, study.Want{Result: rises, Number: 8}, study.Options{})
	if err == nil || !strings.Contains(err.Error(), "two different values") {
		t.Errorf("no range: %v", err)
	}
}
