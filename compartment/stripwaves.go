package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro"
)

// stripWaves is what waves take from the strips that stand in the surface. Alone each would make those of a hull without ends; of
// what all make together the energy goes out all ways. It is a tensor over velocity and rate of turn.
type stripWaves struct {
	sources     []waveSource
	heave, sway []float64 // how much two strips that stand so many apart count together
	tensor      [6][6]float64
}

// waveSource is a strip as what makes waves: a height of them over the sea for a velocity and rate of turn, whose square is what they would
// take of a hull without ends; in heave, in sway, in roll.
type waveSource struct {
	at          int // number of the strip
	heave, sway [6]float64
	roll        float64
}

func newStripWaves() stripWaves {
	return stripWaves{
		sources: make([]waveSource, 0, surroundStrips), heave: make([]float64, surroundStrips), sway: make([]float64, surroundStrips),
	}
}

// setStripWaves finds them. The height of waves far away, in the direction θ from the hull's, is the sum over the strips of what each makes,
// h_i e^(i k x_i cos θ) (Kochin's function of a slender body; J. N. Newman, Marine Hydrodynamics, 1977, chapter 6, from memory), of sway
// times sin θ, and the power goes with the square of it over all θ:
//
//	½ k ΣΣ h_i h_j J₀(k |x_i − x_j|) Δx,      of sway and roll J₁(k |x_i − x_j|)/(k |x_i − x_j|) in place of J₀.
//
// Of a hull much longer than a wave that is the sum of the h_i²; of one much shorter half of k Δx (Σh_i)², of sway half of that again, which
// is Haskind's relation for a short body: see setEndWaves. J₀ and J₁(z)/z are transforms of what is nowhere negative, so nothing is driven.
func (s *Surround) setStripWaves() {
	w := &s.stripWaves
	w.sources, w.tensor = w.sources[:0], [6][6]float64{}
	k := s.ownHeave()
	if !(k > 0) {
		return
	}
	for i := range s.strips {
		s.addSource(&s.strips[i], k)
	}
	apart := k * s.grid.length * math.Sqrt(s.frame.across.v)
	w.setKernels(apart, slowWaves*apart)
	for i := range w.sources {
		w.addProducts(&w.sources[i])
	}
	w.mirror()
}

// ownHeave is the wave number at which the wet strips heave together, Σb/Σ(A + a/ρ), b their breadth at the surface, 1/m; 0: none stands in
// the surface, or all lie level.
func (s *Surround) ownHeave() float64 {
	if s.frame.across.v == 0 {
		return 0
	}
	breadth, spread := 0.0, 0.0
	up, _ := s.frame.inSection()
	for i := range s.strips {
		w := &s.strips[i]
		breadth += s.frame.breadth(w)
		spread += w.area.v + s.sectionMass(&w.form, up)
	}
	if !(spread > 0) {
		return 0
	}
	return breadth / spread
}

// sectionMass is a section's added mass over ρ in a direction across x, as the body with its ends has it, m².
func (s *Surround) sectionMass(n *wetSection, e [2]float64) float64 {
	mass := n.mass.yy.v*e[0]*e[0] + 2*n.mass.yz.v*e[0]*e[1] + n.mass.zz.v*e[1]*e[1]
	return s.factors.AddedMass * s.endsLeave * mass
}

// inSection are the directions up and to the side in a section.
func (f *surroundFrame) inSection() (up, side [2]float64) {
	across := math.Sqrt(f.across.v)
	up = [2]float64{f.up.Y / across, f.up.Z / across}
	return up, [2]float64{-up[1], up[0]}
}

// breadth is that of a strip at the surface: dA = b dh/|p|.
func (f *surroundFrame) breadth(w *wetStrip) float64 { return w.area.c * math.Sqrt(f.across.v) }

// addSource adds a strip. Heave is at the wave number k and comes from its breadth at the surface; sway and roll, at slowWaves of that, from
// its depth too.
func (s *Surround) addSource(w *wetStrip, k float64) {
	f, n, area := &s.frame, &w.form, w.area.v
	up, side := f.inSection()
	breadth, across := f.breadth(w), math.Sqrt(f.across.v)
	height := heaveHeight(k, breadth, area, s.sectionMass(n, up))
	scale := math.Sqrt(s.factors.LinearDamping * s.density * s.grid.length * f.across.v)
	slow := slowWaves * k
	slowly := scale * rootOfFrequency(slow) * slow * reachDown(slow, w.depth.v) // √(ρωk²) e^(−kz)
	x, y, z := w.strip.middle.X, n.y.v, n.z.v
	s.stripWaves.sources = append(s.stripWaves.sources, waveSource{
		at:    int(math.Round((x - s.grid.strips[0].middle.X) / s.grid.length)),
		heave: acrossAt(up, x, y, z, scale*rootOfFrequency(k)*height),
		sway:  acrossAt(side, x, y, z, slowly*(area+s.sectionMass(n, side))),
		roll:  slowly * (breadth*breadth*breadth/12 - area*w.depth.v/across),
	})
}

// heaveHeight is the force of a wave of a height of one on a still section over ρg, m: its pressure at the mean draft over the breadth, 2/k sin(kb/2)
// e^(−kT), with a sine that is smooth and has no zeros, less by what of the wave the section throws back: its added mass, 1/(1 + ka/ρb).
func heaveHeight(k, breadth, area, mass float64) float64 {
	if !(breadth > 0) {
		return 0
	}
	half := k * breadth / 2
	return breadth / math.Sqrt(1+half*half) * math.Exp(-k*area/breadth) * breadth / (breadth + k*mass)
}

// reachDown is e^(−kz), how much of a wave there is at a depth. Of what is hardly wet the depth is no more than rounding, and may be anything.
func reachDown(k, depth float64) float64 { return math.Exp(-k * math.Max(depth, 0)) }

// rootOfFrequency is √ω at a wave number in deep water.
func rootOfFrequency(k float64) float64 { return math.Sqrt(math.Sqrt(hydro.Gravity * k)) }

// acrossAt is f times the velocity of a point across x in a direction, by velocity and rate of turn.
func acrossAt(way [2]float64, x, y, z, f float64) [6]float64 {
	a, b := f*way[0], f*way[1]
	return [6]float64{0, a, b, b*y - a*z, -b * x, a * x}
}

// mostApart is a distance of strips over the length of a wave over 2π up to which they stand for what lies between them.
const mostApart = 5

// setKernels finds how much strips count together, for distances from one to the next, over the lengths of the waves over 2π.
func (w *stripWaves) setKernels(heave, sway float64) {
	heave, sway = math.Min(heave, mostApart), math.Min(sway, mostApart)
	last := w.sources[len(w.sources)-1].at - w.sources[0].at
	w.heave[0], w.sway[0] = heave/2, sway/4
	for i := 1; i <= last; i++ {
		w.heave[i] = heave / 2 * math.J0(heave*float64(i))
		w.sway[i] = math.J1(sway*float64(i)) / float64(2*i)
	}
}

// addProducts adds those of a strip with all.
func (w *stripWaves) addProducts(a *waveSource) {
	var heave, sway [6]float64 // what all make where this is
	roll := 0.0
	for i := range w.sources {
		b := &w.sources[i]
		apart := max(a.at-b.at, b.at-a.at)
		p, q := w.heave[apart], w.sway[apart]
		for c := 1; c < 6; c++ {
			heave[c] += p * b.heave[c]
			sway[c] += q * b.sway[c]
		}
		roll += q * b.roll
	}
	for c := 1; c < 6; c++ {
		for d := c; d < 6; d++ {
			w.tensor[c][d] += a.heave[c]*heave[d] + a.sway[c]*sway[d]
		}
	}
	w.tensor[3][3] += a.roll * roll
}

// mirror makes the lower half of the tensor that of the upper, to the last bit.
func (w *stripWaves) mirror() {
	for c := range w.tensor {
		for d := range c {
			w.tensor[c][d] = w.tensor[d][c]
		}
	}
}

// damp adds force and moment at a velocity, and their rates.
func (w *stripWaves) damp(v, force *[6]float64, slope *[6][6]float64) {
	for c := 1; c < 6; c++ {
		for d := 1; d < 6; d++ {
			force[c] -= w.tensor[c][d] * v[d]
			slope[c][d] -= w.tensor[c][d]
		}
	}
}
