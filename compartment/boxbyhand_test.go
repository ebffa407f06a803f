package compartment

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// boxByHand is what docs/motion.md states for a box that floats upright, kg and kg·m², about the point of its middle section
// that lies in the surface and on the centre line.
type boxByHand struct{ heave, pitch, roll, sway, surge, depth float64 }

// spheroidByHand is k₁, k₂ and the factor of pitch by Lamb's closed forms, of length over diameter above 1.
func spheroidByHand(slimness float64) (k1, k2, turn float64) {
	e2 := 1 - 1/(slimness*slimness)
	e := math.Sqrt(e2)
	n := (1 - e2) / e2 * (math.Log((1+e)/(1-e))/(2*e) - 1)
	b := (1 - 3*n) / e2
	return n / (1 - n), (1 - n) / (1 + n), e2 * e2 * b / (2 - (2-e2)*b)
}

func uprightBoxByHand(density, l, b, t float64) boxByHand {
	ratio := b / (2 * t)
	tau := ratio + 1/ratio
	w := math.Sqrt(2 / tau)
	p, q := 1/(1+0.274*(1-w)), 0.186*w
	p4 := 1 / (1 + 0.695 - 0.44*w)
	k1, k2, turn := spheroidByHand(l / math.Sqrt(2*b*t))
	slim := l / math.Sqrt(2*b*t)
	m := density * l * b * t
	heave := m * (p*ratio + q)
	return boxByHand{
		heave: k2 * heave,
		pitch: turn * heave * l * l / 12,
		roll:  k2 * m * b * t / 6 * (0.18*(tau*tau-4)*p4/2 + 0.55),
		sway:  k2 * m * (p/ratio + q),
		surge: density * b * t * (k1*l + 0.8*math.Sqrt(2*b*t)*slim/(slim+3.4)),
		depth: 0.779*t - 0.1226*b*b/t,
	}
}

// TestAddedOfBoxByHand: the formulas of docs/motion.md give what the strips do, and the worked example there is theirs.
func TestAddedOfBoxByHand(t *testing.T) {
	share := func(what string, got, want, share float64) {
		t.Helper()
		if !(math.Abs(got/want-1) <= share) {
			t.Errorf("%s: %g, by hand %g", what, got, want)
		}
	}
	for _, x := range [][4]float64{{1, 0.2, 0.15, 0.08}, {1.2, 0.16, 0.16, 0.1}, {2, 0.5, 0.2, 0.06}, {0.5, 0.2, 0.2, 0.1}} {
		l, b, d, draft := x[0], x[1], x[2], x[3]
		s := formSurround(solid.Box(r3.Vec{X: -l / 2, Y: -b / 2, Z: -draft}, r3.Vec{X: l / 2, Y: b / 2, Z: d - draft}))
		s.Immerse(Upright(0))
		m, h := s.Added(), uprightBoxByHand(1000, l, b, draft)
		what := fmt.Sprintf("box %g × %g × %g, draft %g: ", l, b, d, draft)
		share(what+"heave", m[2][2], h.heave, 0.005)
		share(what+"pitch", m[4][4], h.pitch, 0.008)
		share(what+"roll", m[3][3], h.roll+h.sway*h.depth*h.depth, 0.01)
		share(what+"the depth of sway", 1+m[1][3]/m[1][1]/draft, 1+h.depth/draft, 0.01)
		share(what+"sway", m[1][1], h.sway, 0.005)
		share(what+"surge", m[0][0], h.surge, 0.005)
	}

	// On end, 0.5 m deep: the spheroid is as long as twice that, one end stands across.
	s := formSurround(solid.Box(r3.Vec{X: -0.5, Y: -0.1, Z: -0.075}, r3.Vec{X: 0.5, Y: 0.1, Z: 0.075}))
	s.Immerse(Pose{Up: r3.Vec{X: 1}})
	slim := 2 * 0.5 / math.Sqrt(0.2*0.15)
	k1, _, _ := spheroidByHand(slim)
	share("on end, heave", s.Added()[0][0], 1000*0.03*(k1*0.5+0.4*math.Sqrt(0.03)*slim/(slim+3.4)), 0.01)

	text, err := os.ReadFile("../docs/motion.md")
	if err != nil {
		t.Fatal(err)
	}
	h := uprightBoxByHand(1000, 1, 0.2, 0.08)
	heave := 2 * math.Pi * math.Sqrt((16+h.heave)/(1000*9.80665*0.2))
	roll := 2 * math.Pi * math.Sqrt((16*0.07*0.07+h.roll+h.sway*math.Pow(0.02-h.depth, 2))/(16*9.80665*(0.04+0.2*0.2/(12*0.08)-0.06)))
	pitch := 2 * math.Pi * math.Sqrt((16*0.26*0.26+h.pitch+h.surge*0.02*0.02)/(16*9.80665*(0.04+1/(12*0.08)-0.06)))
	for _, want := range []string{
		fmt.Sprintf("rolls in %.3f s", roll), fmt.Sprintf("pitches in %.3f s", pitch),
		fmt.Sprintf("heave %.2f kg", h.heave), fmt.Sprintf("pitch %.4f kg·m²", h.pitch), fmt.Sprintf("roll %.5f kg·m²", h.roll),
		fmt.Sprintf("sway %.2f kg", h.sway), fmt.Sprintf("surge %.3f kg", h.surge), fmt.Sprintf("sway acts %.1f mm", 1000*h.depth), fmt.Sprintf("heaves in %.3f s", heave),
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("docs/motion.md does not say %q", want)
		}
	}
}
