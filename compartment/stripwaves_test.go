package compartment

import (
	"fmt"
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestStripWavesOfBox: over those of a hull without ends, a box's in heave are ∫₀ˣ J₀ − J₁(x) and its in sway ∫₀ˣ J₁(z)/z dz −
// (1 − J₀(x))/x, x its length over that of a wave over 2π: the double integral of the kernels over its length, by gonum's quadrature.
func TestStripWavesOfBox(t *testing.T) {
	for _, length := range []float64{0.05, 0.2, 1, 4} {
		s := inWater(solid.Box(r3.Vec{Y: -0.1}, r3.Vec{X: length, Y: 0.1, Z: 0.15}), 0)
		s.Immerse(Pose{Up: r3.Vec{Z: 1}, Sea: 0.08})
		k := s.ownHeave()
		heave, sway := s.withoutEnds()
		x, slow := k*length, slowWaves*k*length
		shareHeave := integral(math.J0, x) - math.J1(x)
		shareSway := integral(func(z float64) float64 { return math.J1(z) / z }, slow) - (1-math.J0(slow))/slow
		near := func(name string, got, want float64) {
			t.Logf("%g m, %s: %.4f of those without ends, %.4f by quadrature", length, name, got, want)
			if !(math.Abs(got/want-1) < 0.01) { // strips count as their middles
				t.Errorf("%g m, %s: %g of those without ends, %g by quadrature", length, name, got, want)
			}
		}
		near("heave", s.stripWaves.tensor[2][2]/heave, shareHeave)
		near("sway", s.stripWaves.tensor[1][1]/sway, shareSway)
	}
}

// TestStripWavesOfBoxes: floating boxes 0.2 m broad at a draft of 0.08 m, heaving at their own rate, swaying at half of it, against a panel
// method that shares nothing with the strips: as far off as docs/motion.md says.
func TestStripWavesOfBoxes(t *testing.T) {
	for length, off := range map[float64][3][2]float64{ // heave, pitch, sway
		0.2: {{-0.09, -0.03}, {-0.55, -0.43}, {-0.14, -0.08}},
		0.4: {{-0.11, -0.05}, {0.7, 0.85}, {-0.14, -0.08}},
		0.8: {{-0.30, -0.24}, {0.15, 0.25}, {-0.14, -0.08}},
	} {
		s := inWater(solid.Box(r3.Vec{X: -length / 2, Y: -0.1, Z: -0.08}, r3.Vec{X: length / 2, Y: 0.1, Z: 0.07}), 0)
		s.Immerse(Pose{Up: r3.Vec{Z: 1}})
		k := s.ownHeave()
		quick, slow := bemBoxDamping(length, 0.2, 0.08, k), bemBoxDamping(length, 0.2, 0.08, slowWaves*k)
		got := &s.stripWaves.tensor
		between(t, fmt.Sprintf("%g m, heave", length), got[2][2]/quick[2][2]-1, off[0])
		between(t, fmt.Sprintf("%g m, pitch", length), got[4][4]/quick[4][4]-1, off[1])
		between(t, fmt.Sprintf("%g m, sway", length), got[1][1]/slow[1][1]-1, off[2])
	}
}

// TestStripWavesOfRolling: boxes that roll about an axis over or under the middle of their water's plane, against the same: sway and roll are
// one wave, which they make less or more of by where the axis lies. The height of the axis, m, and by how much ours is off.
func TestStripWavesOfRolling(t *testing.T) {
	for _, c := range []struct {
		length, breadth, draft float64
		off                    map[float64][2]float64
	}{
		{0.8, 0.3, 0.05, map[float64][2]float64{-0.04: {0.1, 0.17}, 0: {0.17, 0.25}, 0.04: {0.38, 0.5}}},
		{0.8, 0.2, 0.08, map[float64][2]float64{-0.04: {-0.07, 0.02}, -0.02: {0.1, 0.3}, 0.04: {-0.2, -0.12}}},
		{0.8, 0.2, 0.15, map[float64][2]float64{-0.04: {0.1, 0.24}, 0: {-0.08, 0}, 0.04: {-0.1, -0.04}}},
	} {
		s := inWater(solid.Box(r3.Vec{X: -c.length / 2, Y: -c.breadth / 2, Z: -c.draft}, r3.Vec{X: c.length / 2, Y: c.breadth / 2, Z: c.draft}), 0)
		s.Immerse(Pose{Up: r3.Vec{Z: 1}})
		slow := bemBoxDamping(c.length, c.breadth, c.draft, slowWaves*s.ownHeave())
		for z, off := range c.off {
			about := func(b *[6][6]float64) float64 { return b[3][3] + 2*z*b[1][3] + z*z*b[1][1] }
			name := fmt.Sprintf("%g by %g m, draft %g, about %g m", c.length, c.breadth, c.draft, z)
			between(t, name, about(&s.stripWaves.tensor)/about(&slow)-1, off)
		}
	}
}

// TestStripWavesGoOn: nothing jumps while strips come out and go under, and pieces of a hull with a gap between make waves together.
func TestStripWavesGoOn(t *testing.T) {
	apart := solid.Sum(solid.Box(r3.Vec{Y: -0.1}, r3.Vec{X: 0.3, Y: 0.1, Z: 0.15}), solid.Box(r3.Vec{X: 0.8, Y: -0.1}, r3.Vec{X: 1, Y: 0.1, Z: 0.15}))
	for name, form := range map[string]*solid.Solid{"box": mustBox(), "two": apart} {
		s := inWater(form, 0)
		for _, up := range []r3.Vec{r3.Unit(r3.Vec{X: 0.25, Z: 1}), r3.Unit(r3.Vec{X: -0.1, Y: 0.3, Z: -1}), {Z: 1}} {
			low, high := form.Reach(up)
			var last [6][6]float64
			const n = 20000
			for i := range n {
				s.Immerse(Pose{Up: up, Sea: low + (high-low)*float64(i)/n})
				for c := 1; i > 0 && c < 6; c++ {
					is, was := s.stripWaves.tensor[c][c], last[c][c]
					if math.IsNaN(is) || math.Abs(is-was) > 0.01*math.Max(is, was)+1e-9 {
						t.Fatalf("%s, up %v, step %d: element %d is %g after %g", name, up, i, c, is, was)
					}
				}
				last = s.stripWaves.tensor
			}
		}
	}
}

// withoutEnds is what waves take in heave and in sway from a hull that goes on for ever as it is.
func (s *Surround) withoutEnds() (heave, sway float64) {
	for i := range s.stripWaves.sources {
		heave += square(s.stripWaves.sources[i].heave[2])
		sway += square(s.stripWaves.sources[i].sway[1])
	}
	return heave, sway
}

// integral is that from 0 to x.
func integral(f func(z float64) float64, x float64) float64 {
	return quad.Fixed(f, 0, x, 200, nil, 0)
}

// TestStripWavesGoAllWays: in a skew pose every element of the tensor is the integral over all directions of the height of waves far away,
// here summed direction by direction.
func TestStripWavesGoAllWays(t *testing.T) {
	s := inWater(mustBox(), 0)
	up := r3.Unit(r3.Vec{X: 0.3, Y: -0.2, Z: 0.9})
	s.Immerse(Pose{Up: up, Sea: r3.Dot(up, r3.Vec{X: 0.5, Z: 0.02})})
	k := s.ownHeave()
	apart := s.grid.length * math.Hypot(up.Y, up.Z)
	const directions = 400
	var want [6][6]float64
	for i := range directions {
		theta := 2 * math.Pi * float64(i) / directions
		for _, part := range []struct {
			k, height float64
			of        func(*waveSource) [6]float64
		}{
			{k, 1, func(w *waveSource) [6]float64 { return w.heave }},
			{slowWaves * k, math.Sin(theta), func(w *waveSource) [6]float64 { return w.sway }},
		} {
			var inPhase, behind [6]float64
			for j := range s.stripWaves.sources {
				w := &s.stripWaves.sources[j]
				sin, cos := math.Sincos(part.k * apart * float64(w.at) * math.Cos(theta))
				for c, h := range part.of(w) {
					inPhase[c] += part.height * h * cos
					behind[c] += part.height * h * sin
				}
			}
			for c := range want {
				for d := range want {
					want[c][d] += part.k * apart / 2 / directions * (inPhase[c]*inPhase[d] + behind[c]*behind[d])
				}
			}
		}
	}
	got := &s.stripWaves.tensor
	for c := range want {
		for d := range want {
			if scale := math.Sqrt(want[c][c] * want[d][d]); !(math.Abs(got[c][d]-want[c][d]) <= 1e-12*scale) {
				t.Errorf("element %d, %d: %g, by directions %g", c, d, got[c][d], want[c][d])
			}
		}
	}
	if !(got[3][3] > 0 && got[4][4] > 0) {
		t.Errorf("%v", got)
	}
}
