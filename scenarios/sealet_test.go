package scenarios

import (
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
)

// A box of 1 m × 200 mm × 150 mm and 12 kg with its centre 30 mm up, and a bulkhead at 900 mm; the fore space is holed.
const holedBox = `format: 1
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
water: {kind: fresh, temperature: 15 C, density: 1000 kg/m3}
bulkheads:
  - {name: B1, at: 900 mm, top: 80 mm}
compartments: [aft, fore]
openings:
  - {name: cut, between: [outside, fore], at: [1000 mm, 0 mm, 20 mm], hole: 20 mm}
`

func built(t *testing.T, text string) *compartment.Vessel {
	t.Helper()
	s, err := Read(nil, "-", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// heldTrim is the slope tan θ of the waterline of the box with its fore space lost: closed form. What floats is the box from
// 0 to a = 900 mm under the line z = T + t(x − a/2), T the mean draft. Its centroid is x = a/2 + ta²/(12T),
// z = T/2 + t²a²/(24T), and at rest G stands over it: (x_G − x) + t(z_G − z) = 0.
func heldTrim(a, mean, xG, zG float64) float64 {
	lo, hi := 0.0, 0.2
	for range 100 {
		t := (lo + hi) / 2
		if xG-a/2-t*a*a/(12*mean)+t*(zG-mean/2-t*t*a*a/(24*mean)) > 0 {
			lo = t
		} else {
			hi = t
		}
	}
	return (lo + hi) / 2
}

// The rest with the bulkhead closed, and how far the water then stands over its present top, against the closed form.
func TestSeaLetAgainstClosedForm(t *testing.T) {
	const a, mean = 0.9, 0.012 / (0.9 * 0.2)
	slope := heldTrim(a, mean, 0.5, 0.03)
	s := newSeaLet(built(t, holedBox))
	s.closed[0] = true
	if end := s.settle(); end != seaLetRests {
		t.Fatalf("it ends %d, want at rest", end)
	}
	if got, want := s.pose.Trim(), math.Atan(slope); math.Abs(got-want) > 1e-6 {
		t.Errorf("trim %.9g, closed form %.9g", got, want)
	}
	got := -s.edgeHeight(0) / s.pose.Up.Z
	want := mean + slope*a/2 - 0.080
	if math.Abs(got-want) > 1e-6 { // a thousandth of a millimetre: ten times the search's own tolerance at this length
		t.Errorf("%.9g m over the edge, closed form %.9g m", got, want)
	}
	if s.wet[s.local[0]] || !s.wet[s.local[1]] {
		t.Errorf("reached by the sea: %v", s.wet)
	}
}

func TestSeaLetEnds(t *testing.T) {
	for _, c := range []struct {
		name, text string
		closed     bool
		removed    int
		want       seaLetEnd
	}{
		{"over the edge it sinks", holedBox, false, -1, seaLetSinks},
		{"held, it rests", holedBox, true, -1, seaLetRests},
		{"without its bulkhead it sinks", strings.Replace(holedBox, "top: 80 mm", "top: 110 mm", 1), false, 0, seaLetSinks},
		{"with one high enough it rests", strings.Replace(holedBox, "top: 80 mm", "top: 110 mm", 1), false, -1, seaLetRests},
		{"a hole over the sea lets nothing in", strings.Replace(holedBox, "0 mm, 20 mm], hole", "0 mm, 140 mm], hole", 1), false, -1, seaLetRests},
		{"too heavy from the start", strings.Replace(holedBox, "12 kg", "40 kg", 1), false, -1, seaLetSinks},
	} {
		s := newSeaLet(built(t, c.text))
		s.closed[0], s.removed = c.closed, c.removed
		if got := s.settle(); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}
