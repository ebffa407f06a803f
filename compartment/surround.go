package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// MotionFactors scale what is documented in docs/motion.md.
type MotionFactors struct{ AddedMass, LinearDamping, QuadraticDamping float64 }

// DocumentedMotion takes everything as it is documented.
var DocumentedMotion = MotionFactors{1, 1, 1}

// Surround is what the sea sets against a body's motion: added mass and damping, for the part of it that is under water. It
// is a workspace: one goroutine's, and it allocates nothing after it is made. Solids outside the outer form do not count.
//
// The body is cut into strips across x. The wet part of each has an area, a centroid and second moments, all smooth in the
// pose; what stands against its motion across x follows from those (sectionOf), and along x the whole is taken for a
// spheroid. Velocities are of the body's origin, and rates of turn, both in body axes: v_x, v_y, v_z, ω_x, ω_y, ω_z.
type Surround struct {
	factors    MotionFactors
	density    float64 // kg/m³, of the sea
	viscosity  float64 // Pa·s, of it
	grid       *surroundGrid
	frame      surroundFrame
	strips     []wetStrip // those with water about them
	drags      []stripDrag
	sums       tensorSums
	added      [6][6]float64
	changes    [3][6][6]float64
	changed    bool    // whether changes is of the pose
	endsLeave  float64 // share of the strips' added mass across x that a body with ends has
	axialDrag  axialDrag
	stripWaves stripWaves
	endWaves   endWaves
}

// surroundFrame is a pose with the derivatives that everything takes from it.
type surroundFrame struct {
	up, pitch, roll r3.Vec
	sea             float64
	x, y, z         slope // the components of up
	across          slope // u_y² + u_z²
	across4, along4 slope // its square, and u_x⁴
	along16         slope // u_x¹⁶

	cell                    [2]float64 // of these cells' sizes are
	perCell, alongY, alongZ slope      // cells per metre along up, and by how many the next along y, along z is higher
}

// NewSurround makes a workspace for a body of the vessel, one of Parted.Bodies. Cutting its form takes some milliseconds for
// the first of them, the others share it.
func (v *Vessel) NewSurround(b *Body, f MotionFactors) *Surround {
	grid := v.surroundGridOf(b)
	return &Surround{
		factors: f, density: v.Water.Density, viscosity: v.Water.Viscosity, grid: grid,
		strips: make([]wetStrip, 0, len(grid.strips)), drags: make([]stripDrag, 0, len(grid.strips)),
		stripWaves: newStripWaves(),
	}
}

// surroundGridOf is the body's grid, made when first asked for.
func (v *Vessel) surroundGridOf(b *Body) *surroundGrid {
	v.rows.Lock()
	defer v.rows.Unlock()
	g := v.rows.grids[b]
	if g == nil {
		g = newSurroundGrid(b.Form)
		v.rows.grids[b] = g
	}
	return g
}

// Immerse finds what lies under water in a pose: from then on the others speak of that pose.
func (s *Surround) Immerse(p Pose) {
	s.frame.set(p)
	s.strips = s.strips[:0]
	for i := range s.grid.strips {
		n := len(s.strips)
		s.strips = s.strips[:n+1]
		if !s.frame.immerse(&s.strips[n], &s.grid.strips[i], s.grid.length) {
			s.strips = s.strips[:n]
		}
	}
	s.sums = tensorSums{}
	s.addAll()
	values := s.sums.part(0)
	values.lay(&s.added)
	s.setStripWaves()
	s.setEndWaves()
	s.changed = false
}

// Added is the symmetric added-mass tensor about the body's origin in body axes, kg, kg·m and kg·m²; it is positive
// semidefinite. Read only, overwritten by the next Immerse.
func (s *Surround) Added() *[6][6]float64 { return &s.added }

// AddedChange is the derivative of Added by a turn of the pose along pitch (k = 0), along roll (1) (the Tangents of its up,
// as Pose.Turned takes them) and by a rise of the sea (2). Read only, overwritten by the next Immerse.
func (s *Surround) AddedChange(k int) *[6][6]float64 {
	if !s.changed {
		for i := range s.changes {
			part := s.sums.part(i + 1)
			part.lay(&s.changes[i])
		}
		s.changed = true
	}
	return &s.changes[k]
}

func (f *surroundFrame) set(p Pose) {
	f.up, f.sea = p.Up, p.Sea
	f.cell = [2]float64{}
	f.pitch, f.roll = Tangents(p.Up)
	f.x = slope{p.Up.X, f.pitch.X, f.roll.X, 0}
	f.y = slope{p.Up.Y, f.pitch.Y, f.roll.Y, 0}
	f.z = slope{p.Up.Z, f.pitch.Z, f.roll.Z, 0}
	f.across = f.y.squared().plus(f.z.squared())
	f.across4 = f.across.squared()
	f.along4 = f.x.squared().squared()
	f.along16 = f.along4.squared().squared()
}

// depth of a fixed point under the sea's surface.
func (f *surroundFrame) depth(x r3.Vec) slope {
	return slope{f.sea - r3.Dot(f.up, x), -r3.Dot(f.pitch, x), -r3.Dot(f.roll, x), 1}
}

// wetStrip is a strip with what of it is under water, in the strip's own y and z.
type wetStrip struct {
	strip *surroundStrip
	area  slope      // m²
	y, z  slope      // the centroid
	own   symmetric2 // m²: second moments over area, about the centroid
	depth slope      // of the centroid under the surface
	lift  float64    // by how much the smoothing of cells lifts the centroid along up, m
	form  wetSection
}

// wetShare is how much of a cell is under water whose middle lies s cells deep, and its derivative: the integral of a
// quadratic B-spline. Summed over a lattice it grows exactly as the water rises, and its second derivative is continuous.
func wetShare(s float64) (share, rate float64) {
	switch {
	case s <= -1.5:
		return 0, 0
	case s < -0.5:
		t := s + 1.5
		return t * t * t / 6, t * t / 2
	case s <= 0.5:
		return 0.5 + s*(0.75-s*s/3), 0.75 - s*s
	case s < 1.5:
		t := 1.5 - s
		return 1 - t*t*t/6, t * t / 2
	}
	return 1, 0
}

// immerse finds the wet part of a strip; ok is false where there is none.
func (f *surroundFrame) immerse(w *wetStrip, strip *surroundStrip, length float64) (ok bool) {
	if f.cell != [2]float64{strip.hy, strip.hz} {
		f.cell = [2]float64{strip.hy, strip.hz}
		a, b, c := f.x.by(length), f.y.by(strip.hy), f.z.by(strip.hz)
		f.perCell = a.squared().plus(b.squared()).plus(c.squared()).root().oneOver() // over the extent of a cell along up
		f.alongY, f.alongZ = b.times(f.perCell), c.times(f.perCell)
	}
	under := f.depth(strip.middle)
	middle := under.times(f.perCell) // in cells
	reach := math.Abs(f.alongY.v)*float64(strip.ny-1)/2 + math.Abs(f.alongZ.v)*float64(strip.nz-1)/2
	w.strip = strip
	switch {
	case middle.v+reach <= -1.5:
		return false
	case middle.v-reach >= 1.5:
		m := &strip.whole
		w.area, w.y, w.z = constant(m.area), constant(m.y), constant(m.z)
		w.own = symmetric2{constant(m.yy), constant(m.yz), constant(m.zz)}
	default:
		w.sumCells(middle, f.alongY, f.alongZ)
	}
	if !(w.area.v > 0) {
		return false
	}
	i := w.area.oneOver()
	w.y, w.z = w.y.times(i), w.z.times(i)
	w.own = w.own.times(i)
	w.own.yy = w.own.yy.minus(w.y.squared())
	w.own.yz = w.own.yz.minus(w.y.times(w.z))
	w.own.zz = w.own.zz.minus(w.z.squared())
	w.lift = w.area.c * i.v / (6 * f.perCell.v * f.perCell.v) // (1/4 + 1/12)/2: the variances of the spline and of a cell
	w.depth = under.minus(f.y.times(w.y)).minus(f.z.times(w.z))
	return true
}

// sumCells sums the wet shares of a strip's cells. middle: the depth of the lattice's middle, in cells; b, c: by how much the
// next cell along y, along z is higher.
func (w *wetStrip) sumCells(middle, b, c slope) {
	var sum, rate, column, row flatness // wet shares, their rates by depth, and those times the cell's place
	s := w.strip
	reach := math.Abs(b.v) * float64(s.ny-1) / 2
	first := 0.5 * float64(1-s.ny)
	for k := range s.nz {
		place := float64(k) - 0.5*float64(s.nz-1)
		depth := middle.v - place*c.v
		switch {
		case depth+reach <= -1.5:
			continue
		case depth-reach >= 1.5:
			sum.add(&s.rows[k], 1)
			continue
		}
		var edge flatness
		cells := s.cells[k*s.ny : (k+1)*s.ny]
		for j := range cells {
			m, at := &cells[j], first+float64(j)
			share, r := wetShare(depth - at*b.v)
			if share == 0 || m.area == 0 {
				continue
			}
			sum.add(m, share)
			if r != 0 {
				edge.add(m, r)
				column.add(m, r*at)
			}
		}
		rate.add(&edge, 1)
		row.add(&edge, place)
	}
	all := func(v, r, y, z float64) slope {
		return slope{v, r*middle.a - y*b.a - z*c.a, r*middle.b - y*b.b - z*c.b, r*middle.c - y*b.c - z*c.c}
	}
	w.area = all(sum.area, rate.area, column.area, row.area)
	w.y, w.z = all(sum.y, rate.y, column.y, row.y), all(sum.z, rate.z, column.z, row.z)
	w.own.yy, w.own.yz = all(sum.yy, rate.yy, column.yy, row.yy), all(sum.yz, rate.yz, column.yz, row.yz)
	w.own.zz = all(sum.zz, rate.zz, column.zz, row.zz)
}
