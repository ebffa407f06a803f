package compartment

import (
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// Floater weighs a body with water aboard against its buoyancy. It is a workspace: one goroutine's, and it allocates
// nothing after it is made.
//
// With n the up direction and d the sea's offset, the potential energy over ρg of a body that displaces Φ = ∫(d − n·x) dV
// below the sea, weighs M at G and holds volumes V_i of water with first moments m_i at rest in its spaces is
//
//	E(n, d) = Φ + (M/ρ)(n·G − d) + Σ(n·m_i − V_i d)
//
// Its gradient are the residuals of volume and moment, its Hessian the moments of the cut less those of the free surfaces
// (water that runs to its level gives way). A rest is a minimum of it.
type Floater struct {
	Body    *Body
	Mass    float64       // kg, without water
	Centre  r3.Vec        // of Mass
	Inertia solid.Moments // ∫ x xᵀ dm of Mass about the origin
	Density float64       // of the water, kg/m³

	HullQueries, SpaceQueries int

	surfaces []Surface
	open     []bool       // of each space, whether it is open to the sea (see Open); nil: none is
	bell     []bool       // of each that is, whether it is a diving bell (see Bell); nil: none is
	air      []float64    // in each bell, m³ at one atmosphere
	length   float64      // the largest extent of the form
	outside  *solid.Solid // appendages that are aboard; nil: none
}

// Surface is the water in one space, at rest in the present pose. Of a full space Area is 0 and Level its highest point.
type Surface struct {
	Volume float64       // of water, m³
	Level  float64       // height of the surface along up, above the origin, m
	Moment r3.Vec        // of the water volume about the origin, m⁴
	Area   float64       // of the free surface × the share that is water, m²
	Centre r3.Vec        // of the free surface
	Second solid.Moments // of the free surface about its own centre × the share that is water, m⁴
	Low    float64       // height of the space's lowest point
	High   float64       // and of its highest
	Gauge  float64       // of a diving bell: gauge pressure of its air as a head of water, m
	Yield  float64       // of a diving bell: by how much its level follows the sea's, m/m
}

// NewFloater makes a workspace for a body. later: weights that come later are aboard.
func NewFloater(b *Body, density float64, later bool) *Floater {
	f := &Floater{Body: b, Mass: b.Mass, Centre: b.Centre, Inertia: b.Inertia, Density: density, outside: b.Appendages}
	if later && b.LaterMass > 0 {
		f.Mass += b.LaterMass
		f.Centre = r3.Scale(1/f.Mass, r3.Add(r3.Scale(b.Mass, b.Centre), r3.Scale(b.LaterMass, b.LaterCentre)))
		f.Inertia = f.Inertia.Add(b.LaterInertia)
		switch {
		case f.outside == nil:
			f.outside = b.LaterAppendages
		case b.LaterAppendages != nil:
			f.outside = solid.Sum(f.outside, b.LaterAppendages)
		}
	}
	f.surfaces = make([]Surface, len(b.Spaces))
	for i := range f.surfaces {
		f.surfaces[i].Level = nan
	}
	lo, hi := b.Form.Bounds()
	f.length = max(hi.X-lo.X, hi.Y-lo.Y, hi.Z-lo.Z)
	return f
}

// Reload gives the body another mass, kg, without water, and another centre of it; its gyradii about the centre stay.
func (f *Floater) Reload(mass float64, centre r3.Vec) {
	about := f.Inertia.Add(outer(f.Centre).Scale(-f.Mass))
	if f.Mass > 0 {
		about = about.Scale(mass / f.Mass)
	}
	f.Mass, f.Centre = mass, centre
	f.Inertia = about.Add(outer(centre).Scale(mass))
}

// Length is the largest extent of the form, m: the scale of everything.
func (f *Floater) Length() float64 { return f.length }

// Surfaces are the waters of the last Levels or Balance, in the order of the body's spaces; read only, overwritten by the next.
func (f *Floater) Surfaces() []Surface { return f.surfaces }

// Levels brings the water in every space to rest for an up direction. water: m³ in each of the body's spaces; of those that
// are open to the sea it counts for nothing, Weigh finds theirs; of a diving bell it is the air in it.
func (f *Floater) Levels(up r3.Vec, water []float64) {
	for i := range f.surfaces {
		if f.isBell(i) {
			f.air[i] = water[i]
		} else if !f.isOpen(i) {
			f.Level(i, up, water[i])
		}
	}
}

// Level brings m³ of water in space i of the body to rest for an up direction.
func (f *Floater) Level(i int, up r3.Vec, water float64) {
	s, sp := &f.surfaces[i], f.Body.Spaces[i]
	low, high := sp.Room.Reach(up)
	switch {
	case water <= 0:
		*s = Surface{Volume: water, Level: low, Low: low, High: high}
		return
	case water >= sp.Capacity():
		*s = Surface{Volume: water, Level: high, Low: low, High: high, Moment: r3.Scale(water, sp.Room.Centroid())}
		return
	}
	near := s.Level
	if !(near > low && near < high) {
		near = nan
	}
	height, below, queries := sp.Room.Offset(up, water/sp.Fraction, near)
	f.SpaceQueries += queries
	s.set(below, sp.Fraction)
	s.Volume, s.Level, s.Low, s.High = water, height, low, high
}

// Fill lets the water in space i of the body stand at a height along up, and finds how much of it that is: one query. Above
// its highest point the space is full.
func (f *Floater) Fill(i int, up r3.Vec, height float64) {
	s, sp := &f.surfaces[i], f.Body.Spaces[i]
	low, high := sp.Room.Reach(up)
	switch {
	case height >= high:
		f.Level(i, up, sp.Capacity())
	case height <= low:
		f.Level(i, up, 0)
	default:
		f.SpaceQueries++
		s.set(sp.Room.Below(planeAt(up, height)), sp.Fraction)
		s.Level, s.Low, s.High = height, low, high
	}
}

// set takes the integrals of the room below the surface over, times the share that is water.
func (s *Surface) set(below solid.Below, fraction float64) {
	s.Volume = fraction * below.Volume
	s.Moment = r3.Scale(fraction, below.Moment)
	s.Area = fraction * below.Area
	s.Centre, s.Second = aboutCentre(below, fraction)
}

// aboutCentre is the centroid of a cut and its second moments about it, times a factor.
func aboutCentre(b solid.Below, factor float64) (r3.Vec, solid.Moments) {
	if b.Area <= 0 {
		return r3.Vec{}, solid.Moments{}
	}
	c := r3.Scale(1/b.Area, b.AreaMoment)
	m := b.AreaSecond.Add(outer(c).Scale(-b.Area))
	return c, m.Scale(factor)
}

// outer is x xᵀ.
func outer(x r3.Vec) solid.Moments {
	return solid.Moments{XX: x.X * x.X, YY: x.Y * x.Y, ZZ: x.Z * x.Z, XY: x.X * x.Y, XZ: x.X * x.Z, YZ: x.Y * x.Z}
}

// Balance is the state of a floating body at a pose: the energy over ρg and its derivatives with respect to a turn along
// Pitch, a turn along Roll, and a rise of the sea (rad, rad, m).
type Balance struct {
	Pose        Pose
	Pitch, Roll r3.Vec
	Below       solid.Below // of the outer form alone: what is under water, and the waterplane
	Lost        solid.Below // what spaces that are open to the sea take off it, times their shares of water; zero: none is
	Displaced   float64     // m³, with appendages, less what is lost
	Buoyancy    r3.Vec      // first moment of Displaced, m⁴
	Load        float64     // m³ of water that weigh as much as body and floodwater
	LoadMoment  r3.Vec      // its first moment
	Energy      float64     // m⁴
	Gradient    [3]float64
	Hessian     [3][3]float64
}

// Balance weighs the body at a pose with water in its spaces: one query of the form, and the levels of the spaces.
func (f *Floater) Balance(p Pose, water []float64, b *Balance) {
	f.Levels(p.Up, water)
	f.Weigh(p, b)
}

// Weigh is Balance with the waters that the last Levels left, which must have been for the same up direction.
func (f *Floater) Weigh(p Pose, b *Balance) {
	f.HullQueries++
	b.Pose = p
	b.Pitch, b.Roll = Tangents(p.Up)
	b.Below = f.Body.Form.Below(planeAt(p.Up, p.Sea))
	cut := b.Below
	if f.outside != nil {
		more := f.outside.Below(planeAt(p.Up, p.Sea))
		cut.Volume += more.Volume
		cut.Moment = r3.Add(cut.Moment, more.Moment)
		cut.Area += more.Area
		cut.AreaMoment = r3.Add(cut.AreaMoment, more.AreaMoment)
		cut.AreaSecond = cut.AreaSecond.Add(more.AreaSecond)
	}
	b.Lost = solid.Below{}
	if f.open != nil {
		f.lose(b, &cut)
	}
	b.Displaced, b.Buoyancy = cut.Volume, cut.Moment
	second := f.addLoad(b, cut.AreaSecond)
	excess := r3.Sub(b.LoadMoment, b.Buoyancy)
	b.Energy = p.Sea*(b.Displaced-b.Load) + r3.Dot(p.Up, excess) + f.pressed()
	b.Gradient = [3]float64{r3.Dot(excess, b.Pitch), r3.Dot(excess, b.Roll), b.Displaced - b.Load}
	lift := r3.Dot(p.Up, excess) // the great circle's curvature
	sp, sr := second.Apply(b.Pitch), second.Apply(b.Roll)
	pr := r3.Dot(sp, b.Roll)
	pd, rd := -r3.Dot(cut.AreaMoment, b.Pitch), -r3.Dot(cut.AreaMoment, b.Roll)
	b.Hessian = [3][3]float64{
		{r3.Dot(sp, b.Pitch) - lift, pr, pd},
		{pr, r3.Dot(sr, b.Roll) - lift, rd},
		{pd, rd, cut.Area},
	}
}

// addLoad sums the weights as volumes of water, and takes the free surfaces off the waterplane's second moment.
func (f *Floater) addLoad(b *Balance, second solid.Moments) solid.Moments {
	b.Load = f.Mass / f.Density
	b.LoadMoment = r3.Scale(b.Load, f.Centre)
	for i := range f.surfaces {
		s := &f.surfaces[i]
		if s.Volume == 0 || f.isOpen(i) {
			continue
		}
		b.Load += s.Volume
		b.LoadMoment = r3.Add(b.LoadMoment, s.Moment)
		second = second.Add(s.Second.Scale(-1))
	}
	return second
}

// Room is how much more the body could displace than it must, m³: none left, and it has no rest. Of the air in a diving bell,
// which yields under water, it is the room that it had when last weighed, and of an airtight space that is open to the sea, which may
// yet become one unless it was full when last weighed, all: with such spaces some may be left, and it has no rest all the same.
func (f *Floater) Room(water []float64) float64 {
	room := f.Body.Form.Volume() - f.Mass/f.Density
	if f.outside != nil {
		room += f.outside.Volume()
	}
	for i := range f.surfaces {
		switch sp := f.Body.Spaces[i]; {
		case f.isBell(i):
			room -= max(0, sp.Capacity()-water[i], f.surfaces[i].Volume)
		case !f.isOpen(i):
			room -= water[i]
		case !sp.Airtight || f.surfaces[i].Volume >= fullOpen*sp.Capacity():
			room -= sp.Capacity()
		}
	}
	return room
}

// fullOpen is the share of its capacity from which a space that is open to the sea is full.
const fullOpen = 1 - 1e-6

// planeAt is the plane at a height along up.
func planeAt(up r3.Vec, height float64) solid.Plane { return solid.Plane{N: up, D: height} }
