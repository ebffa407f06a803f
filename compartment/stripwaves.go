package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro"
)

// stripWaves is what waves take from the wet strips of a body that stands in the surface. Alone each would make those of a hull without
// ends; of what all make together the energy goes out all ways. It is a tensor over velocity and rate of turn.
type stripWaves struct {
	sources     []waveSource
	heave, sway []float64 // how much two strips that stand so many apart count together
	tensor      [6][6]float64
}

// waveSource is a strip as what makes waves: a height of them over the sea for a velocity and rate of turn, whose square is what they would
// take of a hull without ends: as high on both sides, in heave, and up on the one and down on the other, in sway and roll.
type waveSource struct {
	at          int // number of the strip
	heave, sway [6]float64
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
//	½ k ΣΣ h_i h_j J₀(k |x_i − x_j|) Δx,      of sway with roll J₁(k |x_i − x_j|)/(k |x_i − x_j|) in place of J₀.
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

// addSource adds a strip. Heave is at the wave number k and comes from its breadth at the surface; sway and roll, at slowWaves of that, are one
// wave: of the water that the section takes the place of, at its centroid, of what it throws back, where that acts, and of the turn of its
// breadth at the surface.
func (s *Surround) addSource(w *wetStrip, k float64) {
	f, n, area := &s.frame, &w.form, w.area.v
	up, side := f.inSection()
	breadth := f.breadth(w)
	height := heaveHeight(k, breadth, area, s.sectionMass(n, up))
	scale := math.Sqrt(s.factors.LinearDamping * s.density * s.grid.length * f.across.v)
	slow := slowWaves * k
	slowly := scale * rootOfFrequency(slow) * slow * reachDown(slow, w.depth.v+n.near.v*w.lift) // √(ρωk²) e^(−kz)
	x := w.strip.middle.X
	y, z := f.wetCentroid(w)
	sway := acrossAt(side, x, y, z, slowly*area)
	y, z = n.thrownAt(up)
	for c, back := range acrossAt(side, x, y, z, slowly*s.sectionMass(n, side)) {
		sway[c] += back
	}
	sway[3] += slowly * breadth * breadth * breadth / 12
	s.stripWaves.sources = append(s.stripWaves.sources, waveSource{
		at:    int(math.Round((x - s.grid.strips[0].middle.X) / s.grid.length)),
		heave: acrossAt(up, x, n.y.v, n.z.v, scale*rootOfFrequency(k)*height),
		sway:  sway,
	})
}

// thrownAt is where the force of what a section throws back of a long wave acts: of a half ellipse (4/3π)(T² − b²)/T under the surface, see
// lower, and of a rectangle deeper by wavesLever times the second moment of its breadth over the root of that of its draft.
func (n *wetSection) thrownAt(up [2]float64) (y, z float64) {
	m := &n.image
	down := m.yy.v*up[0]*up[0] + 2*m.yz.v*up[0]*up[1] + m.zz.v*up[1]*up[1]
	aside := m.yy.v + m.zz.v - down
	corners := 2 * n.blunt.v / (1 + square(n.blunt.v))
	depth := n.near.v * (8/(3*math.Pi)*(down-aside) + corners*wavesLever*aside) / math.Sqrt(down)
	return n.y.v - depth*up[0], n.z.v - depth*up[1]
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

// reachDown is e^(−kz), how much of a wave there is at a depth. Of what is hardly wet the depth is what the smoothing of cells leaves, and under
// 0, or of the last drop of rounding, anything.
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
	for i := range w.sources {
		b := &w.sources[i]
		apart := max(a.at-b.at, b.at-a.at)
		p, q := w.heave[apart], w.sway[apart]
		for c := 1; c < 6; c++ {
			heave[c] += p * b.heave[c]
			sway[c] += q * b.sway[c]
		}
	}
	for c := 1; c < 6; c++ {
		for d := c; d < 6; d++ {
			w.tensor[c][d] += a.heave[c]*heave[d] + a.sway[c]*sway[d]
		}
	}
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
