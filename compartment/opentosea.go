package compartment

import (
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// Open says whether space i of the body is open to the sea, so that its water stands at sea level in every pose: as a wide
// cut face has it where no time passes. What of its room lies under the sea then no longer buoys the body up (the lost
// buoyancy of naval architecture): Weigh takes it, times its share of water, off displaced volume, waterplane and second
// moments, and its water is neither load nor a free surface of its own. Energy, gradient and Hessian are those of that body.
//
// Surfaces tells its water after Weigh (or Balance), which finds it with one query of the room; Levels leaves it alone, and
// water given for it counts for nothing. Moments of water and of buoyancy that count it both ways come to the same.
func (f *Floater) Open(i int, open bool) {
	if f.open == nil {
		if !open {
			return
		}
		f.open = make([]bool, len(f.surfaces))
	}
	f.open[i] = open
	if f.bell != nil {
		f.bell[i] = false
	}
	for _, still := range f.open {
		if still {
			return
		}
	}
	f.open = nil
}

// isOpen tells whether space i is open to the sea.
func (f *Floater) isOpen(i int) bool { return f.open != nil && f.open[i] }

// lose lets the sea into the open spaces at the pose of b, and takes what it fills off cut, what is under water.
func (f *Floater) lose(b *Balance, cut *solid.Below) {
	for i := range f.open {
		if !f.open[i] {
			continue
		}
		if f.isBell(i) {
			f.enclose(i, b.Pose)
			b.Lost = f.surfaces[i].encloses(b.Lost)
			continue
		}
		below := f.letIn(i, b.Pose)
		b.Lost = more(b.Lost, &below, f.Body.Spaces[i].Fraction)
	}
	*cut = less(*cut, &b.Lost)
}

// letIn lets the sea into an open space, and returns what of its room is under water.
func (f *Floater) letIn(i int, p Pose) solid.Below {
	f.SpaceQueries++
	s, sp := &f.surfaces[i], f.Body.Spaces[i]
	low, high := sp.Room.Reach(p.Up)
	below := sp.Room.Below(planeAt(p.Up, p.Sea))
	s.set(below, sp.Fraction)
	s.Level, s.Low, s.High = min(max(p.Sea, low), high), low, high
	return below
}

// less is what is left of integrals without others.
func less(a solid.Below, b *solid.Below) solid.Below { return more(a, b, -1) }

// more is integrals and others times a factor.
func more(a solid.Below, b *solid.Below, factor float64) solid.Below {
	a.Volume += factor * b.Volume
	a.Moment = r3.Add(a.Moment, r3.Scale(factor, b.Moment))
	a.Area += factor * b.Area
	a.AreaMoment = r3.Add(a.AreaMoment, r3.Scale(factor, b.AreaMoment))
	a.AreaSecond = a.AreaSecond.Add(b.AreaSecond.Scale(factor))
	return a
}
