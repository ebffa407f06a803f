package compartment

import (
	"math"

	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bell says that space i of the body is a diving bell: open to the sea at a mouth that lies under water, with an amount of
// air over it, m³ at one atmosphere, that stays. Its water stands where the pressures balance, and passes the mouth without
// resistance, in every pose. From now on the water that Levels and Balance are given for the space is that amount of air.
// Where the mouth lies is not looked at. Open makes it a space open to the sea again, or a closed one.
//
// With A that air, C the room, V the water in it up to the height h along up, d the sea's offset, a the atmosphere as a head
// of water and q the air's gauge pressure as one: Boyle's law (a + q)(C − V) = aA and the mouth's balance q = d − h. The water
// adds n·m(V) − V d to the energy, as one aboard does, and the air ∫ q dV; V makes the sum least, so that the gradient is that
// of the water aboard. The Hessian, with that water free, is less by w wᵀ/(1/S + k), w the place of the surface's middle
// against pitch, roll and sea, S its area, and k = (a + q)/(C − V) the stiffness of the air: the Schur complement. With k = 0
// it is that of the open space.
func (f *Floater) Bell(i int, air float64) {
	f.Open(i, true)
	if f.bell == nil {
		f.bell, f.air = make([]bool, len(f.surfaces)), make([]float64, len(f.surfaces))
	}
	f.bell[i], f.air[i] = true, air
}

// isBell tells whether space i is a diving bell.
func (f *Floater) isBell(i int) bool { return f.bell != nil && f.bell[i] }

// atmosphere is one atmosphere as a head of the water, m.
func (f *Floater) atmosphere() float64 { return hydro.Atmosphere / (f.Density * hydro.Gravity) }

// LetIn finds the water of the spaces that are open to the sea, or diving bells, at a pose.
func (f *Floater) LetIn(p Pose) {
	for i := range f.open {
		switch {
		case !f.open[i]:
		case f.isBell(i):
			f.enclose(i, p)
		default:
			f.letIn(i, p)
		}
	}
}

// enclose finds the level in a bell: the root of (a + d − h)(C − V(h)) − aA, which falls with h, by Newton's method between
// bounds; where the air fills more than the room, see overfill. The last step, shorter than closeLevel, is taken by the tangent, which leaves its square.
func (f *Floater) enclose(i int, p Pose) {
	s, sp, a := &f.surfaces[i], f.Body.Spaces[i], f.atmosphere()
	capacity, air := sp.Capacity(), f.air[i]
	low, high := sp.Room.Reach(p.Up)
	switch {
	case air <= 0:
		f.Level(i, p.Up, capacity)
		s.Gauge = p.Sea - high
		return
	case (a+p.Sea-low)*capacity <= a*air:
		f.Level(i, p.Up, 0)
		s.overfill(sp.Room.Centroid(), p, a, air, capacity)
		return
	}
	lo, hi, h := low, high, s.Level
	if !(h > low && h < high) {
		h = (low + high) / 2
	}
	for range 200 {
		f.SpaceQueries++
		s.set(sp.Room.Below(planeAt(p.Up, h)), sp.Fraction)
		room, q := capacity-s.Volume, p.Sea-h
		miss := (a+q)*room - a*air
		if miss > 0 {
			lo = h
		} else {
			hi = h
		}
		step := miss / (room + (a+q)*s.Area)
		if math.Abs(step) < closeLevel*(high-low) || hi-lo < 1e-15*(high-low) {
			if !(h+step >= lo && h+step <= hi) { // in a corner right under the top, where there is neither room nor surface
				step = 0
			}
			s.rise(step)
			s.Level, s.Low, s.High, s.Gauge = h+step, low, high, q-step
			s.Yield = 0
			if room := capacity - s.Volume; room > 0 {
				s.Yield = 1 / (1 + s.Area*(a+s.Gauge)/room)
			}
			return
		}
		if h += step; !(h > lo && h < hi) {
			h = (lo + hi) / 2
		}
	}
}

// overfill is what a bell has whose air fills more than its room: it stands under that in a shaft as wide as the room on the mean,
// from which it is about to leave, and which bears nothing. The level in it is the lower root of (a + d − h)(C + S(low − h)) = aA.
func (s *Surface) overfill(centroid r3.Vec, p Pose, a, air, capacity float64) {
	area := capacity / (s.High - s.Low)
	head := a + p.Sea - s.Low // of the air, were its surface at the lowest point
	b := head + capacity/area
	lack := (a*air - head*capacity) / area // under: (head + t)(C/S + t) = aA/S
	t := 2 * lack / (b + math.Sqrt(b*b+4*lack))
	s.Level, s.Gauge = s.Low-t, head-a+t
	s.Yield = 1 / (1 + area*(a+s.Gauge)/(capacity+area*t))
	s.Centre = r3.Add(centroid, r3.Scale(s.Low-r3.Dot(p.Up, centroid), p.Up))
}

// closeLevel is how near to the level, as a share of the room's height, the tangent is good for the rest of the way.
const closeLevel = 1e-9

// rise lifts a surface a little, by its area.
func (s *Surface) rise(step float64) {
	more := s.Area * step
	s.Volume += more
	s.Moment = r3.Add(s.Moment, r3.Scale(more, s.Centre))
}

// encloses adds to lost what the water of a bell takes: its volume, and of its surface what gives way to the sea.
func (s *Surface) encloses(lost solid.Below) solid.Below {
	give := s.Area * s.Yield
	lost.Volume += s.Volume
	lost.Moment = r3.Add(lost.Moment, s.Moment)
	lost.Area += give
	lost.AreaMoment = r3.Add(lost.AreaMoment, r3.Scale(give, s.Centre))
	lost.AreaSecond = lost.AreaSecond.Add(s.Second).Add(outer(s.Centre).Scale(give))
	return lost
}

// pressed is the energy over ρg of the air in the bells, over what it would have at one atmosphere: (C − V)((a + q) ln(1 + q/a) − q).
func (f *Floater) pressed() (energy float64) {
	a := f.atmosphere()
	for i := range f.bell {
		if s := &f.surfaces[i]; f.bell[i] && f.air[i] > 0 {
			room := f.Body.Spaces[i].Capacity() - s.Volume
			q := s.Gauge
			if s.Volume == 0 { // whatever is on its way out bears nothing
				q = a*f.air[i]/room - a
			}
			energy += room * ((a+q)*math.Log1p(q/a) - q)
		}
	}
	return energy
}
