package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro"
)

// endWaves is what waves take from a body that stands on end, its strips level in the surface, at the middle of the water's plane through
// it: along x like friction, across it, and kg·m²/s of a turn about y and z in their products.
type endWaves struct {
	heave axialDrag
	sway  swayWaves
	turn  [3]float64 // yy, yz, zz
}

// swayWaves are of a point's velocity across x, kg/s.
type swayWaves struct{ wave, x, y, z float64 }

func (w *swayWaves) damp(v, force *[6]float64, sums *plainSums) {
	uy, uz := velocityAcross(v, w.x, w.y, w.z)
	pushAcross(force, -w.wave*uy, -w.wave*uz, 0, w.x, w.y, w.z)
	sums.addStrip(w.x, 0, [3]float64{-w.wave, 0, -w.wave}, 0, w.y, w.z)
}

// waterplane is that of the wet part, by how that grows as the sea rises: its area and middle, its second moments about that, along the
// body's y and z, and the depth of the wet part's centroid and its volume.
type waterplane struct {
	area, x, y, z, yy, yz, zz float64
	volume, depth             float64
}

// waterplane sums that of the strips.
func (s *Surround) waterplane() (p waterplane) {
	length := s.grid.length
	for i := range s.strips {
		w := &s.strips[i]
		at := length * w.area.c
		y, z := w.y.v+w.strip.middle.Y, w.z.v+w.strip.middle.Z
		p.area += at
		p.x, p.y, p.z = p.x+at*w.strip.middle.X, p.y+at*y, p.z+at*z
		p.yy, p.yz, p.zz = p.yy+at*(w.own.yy.v+y*y), p.yz+at*(w.own.yz.v+y*z), p.zz+at*(w.own.zz.v+z*z)
		p.volume += length * w.area.v
		p.depth += length * w.area.v * w.depth.v
	}
	if !(p.area > 0) {
		return waterplane{}
	}
	p.x, p.y, p.z, p.depth = p.x/p.area, p.y/p.area, p.z/p.area, p.depth/p.volume
	p.yy, p.yz, p.zz = p.yy-p.area*p.y*p.y, p.yz-p.area*p.y*p.z, p.zz-p.area*p.z*p.z
	return p
}

// setEndWaves finds them by Haskind's relation from the force of a wave on the still body (J. N. Newman, Journal of Ship Research 6,
// 1962, from memory): of a force X per amplitude from every side ωk X²/(2ρg²), of one that goes with the wave's direction half of
// that. Heave has the pressure of the wave on a bottom of the waterplane's area at the mean draft, at the wave number of its own heave,
// less what the body throws back; to sway and turn the water's slope does what it does to a short body, at slowWaves of that, as strips have it.
func (s *Surround) setEndWaves() {
	s.endWaves = endWaves{}
	p := s.waterplane()
	if p.area == 0 {
		return
	}
	heave := s.added[0][0] / s.density // of what goes along, m³
	across := (s.added[1][1] + s.added[2][2]) / (2 * s.density)
	k := p.area / (p.volume + heave)
	span := 1 + k*k*p.area/(4*math.Pi) // 2 J₁(ka)/ka of a disc is about span^−¾
	force := p.area * math.Exp(-k*p.volume/p.area) / (math.Pow(span, 0.75) * (1 + k*heave/p.area))
	scale := s.factors.LinearDamping * s.density * s.frame.along4.v
	slow := slowWaves * k
	slowly := scale / 4 * slow * slow * math.Sqrt(hydro.Gravity*slow) * slow * reachDown(2*slow, p.depth)
	sway := slowly * square(p.volume+across)
	yy, yz, zz := p.yy-p.volume*p.depth, p.yz, p.zz-p.volume*p.depth
	s.endWaves = endWaves{
		heave: axialDrag{skin: scale / 2 * k * math.Sqrt(hydro.Gravity*k) * force * force, y: p.y, z: p.z},
		sway:  swayWaves{sway, p.x, p.y, p.z},
		turn:  [3]float64{slowly * (zz*zz + yz*yz), -slowly * yz * (yy + zz), slowly * (yy*yy + yz*yz)},
	}
}

// damp adds force and moment at a velocity, and their rates to the sums and to the slope.
func (w *endWaves) damp(v, force *[6]float64, sums *plainSums, slope *[6][6]float64) {
	w.heave.damp(v, force, sums)
	w.sway.damp(v, force, sums)
	t := &w.turn
	force[4] -= t[0]*v[4] + t[1]*v[5]
	force[5] -= t[1]*v[4] + t[2]*v[5]
	slope[4][4] -= t[0]
	slope[4][5] -= t[1]
	slope[5][4] -= t[1]
	slope[5][5] -= t[2]
}
