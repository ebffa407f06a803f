package flood

import (
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
)

// FloatTest floats every body as it is now, with the water that is aboard and what is open to the sea: hull, or the sections from the
// stern; of a body that joints hold together also each of its pieces alone, with the water that is in it, what is not cut yet closed.
// A body at rest is found where it lies; what moves or is held is let down to its rest. One that has foundered does not float. The run
// is left as it was.
func (r *Run) FloatTest() (tests []compartment.Floating) {
	r.lookAside()
	defer r.lookBack()
	r.settleWaters(&r.now)
	for k := range r.bodies {
		b := &r.bodies[k]
		air := make([]float64, len(b.spaces))
		for i, g := range b.spaces {
			air[i] = r.airPressure(g, &r.now)
		}
		f := r.floaterAgain(k)
		tests = append(tests, r.floatFrom(f, k, b.Name, b.water, air, r.hasGone(k)))
		if b.Last == b.First {
			continue
		}
		var weighed compartment.Balance
		f.Balance(r.now.pose[k], b.water, &weighed)
		for piece := b.First; piece <= b.Last; piece++ {
			p, water := r.pieceAlone(k, piece, f.Surfaces())
			tests = append(tests, r.floatFrom(p, k, p.Body.Name, water, nil, r.failedStart))
		}
	}
	return tests
}

// hasGone tells whether a body is past floating: it has foundered, also at this moment with a last billionth of its buoyancy left.
func (r *Run) hasGone(k int) bool {
	return r.bodies[k].gone || r.failedStart || r.rests() && !math.IsNaN(r.sections[k].foundered)
}

// floatFrom is one condition; what has sunk is not sought another rest for.
func (r *Run) floatFrom(f *compartment.Floater, k int, name string, water, air []float64, sunk bool) compartment.Floating {
	if sunk {
		return r.vessel.FloatSunk(f, name, water)
	}
	return r.vessel.FloatFrom(f, name, r.now.pose[k], water, air)
}

// floaterAgain is a workspace like a body's own, which the run goes on with.
func (r *Run) floaterAgain(k int) *compartment.Floater {
	b := &r.bodies[k]
	f := compartment.NewFloater(b.Body, r.vessel.Water.Density, true)
	for i, g := range b.spaces {
		if sp := &r.spaces[g]; sp.open {
			f.Open(i, true)
		} else if sp.bell {
			f.Bell(i, r.bellAir(g, &r.now))
		}
	}
	return f
}

// pieceAlone is a piece of a body with the water that lies in it: of a space that another joint's plane divides its part, by the level.
func (r *Run) pieceAlone(k, piece int, now []compartment.Surface) (f *compartment.Floater, water []float64) {
	b, body := &r.bodies[k], r.vessel.Pieces[piece]
	f = compartment.NewFloater(body, r.vessel.Water.Density, true)
	for i, s := range body.Spaces {
		local := slices.IndexFunc(b.Spaces, func(x *compartment.Space) bool { return x.Index == s.Index })
		if b.Spaces[local] == s {
			water = append(water, now[local].Volume)
		} else {
			parts, at := r.partsOf(k, s.Index, piece)
			water = append(water, b.Spaces[local].Split(r.now.pose[k].Up, now[local].Volume, parts)[at])
		}
		switch g := b.spaces[local]; {
		case r.spaces[g].open:
			f.Open(i, r.facesSea(s.Index, piece))
		case r.spaces[g].bell && b.Spaces[local] == s:
			water[i] = r.bellAir(g, &r.now)
			f.Bell(i, water[i])
		}
	}
	return f, water
}

// partsOf are the parts of a space in the pieces of a body, and which of them lies in a piece.
func (r *Run) partsOf(k, index, piece int) (parts []*compartment.Space, at int) {
	for i := r.bodies[k].First; i <= r.bodies[k].Last; i++ {
		for _, s := range r.vessel.Pieces[i].Spaces {
			if s.Index == index {
				if i == piece {
					at = len(parts)
				}
				parts = append(parts, s)
			}
		}
	}
	return parts, at
}

// facesSea tells whether a joint that has parted has opened a space in a piece to the sea.
func (r *Run) facesSea(index, piece int) bool {
	q := r.vessel.Parted(r.parted)
	for i := range q.Spaces {
		s := &q.Spaces[i]
		if b := q.Bodies[s.Body]; s.Index != index || piece < b.First || piece > b.Last {
			continue
		}
		for _, face := range s.Faces {
			if face.Joint == piece || face.Joint == piece-1 {
				return true
			}
		}
	}
	return false
}
