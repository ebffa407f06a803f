package scenarios

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// seaLet is a hull whose every space that the sea can reach stands at the sea's level: where flooding ends if nothing more
// happens. Spaces are reached through any listed opening and over any edge that lies under the sea's level.
type seaLet struct {
	vessel  *compartment.Vessel
	closed  []bool // by bulkhead: it is taken to reach the deck
	removed int    // index of the bulkhead that is taken to have no height above its gap's lowest point; −1: none

	floater *compartment.Floater
	pose    compartment.Pose
	water   []float64 // m³, by the whole body's spaces
	start   []float64
	wet     []bool
	local   []int // by the vessel's spaces: index in the whole body's
}

// seaLetEnd is what becomes of the hull.
type seaLetEnd int

const (
	seaLetUnknown seaLetEnd = iota // not found in the iterations allowed
	seaLetRests
	seaLetCapsizes
	seaLetSinks
)

func newSeaLet(v *compartment.Vessel) *seaLet {
	s := &seaLet{vessel: v, closed: make([]bool, len(v.Bulkheads)), removed: -1}
	s.floater = compartment.NewFloater(v.Whole, v.Water.Density, true)
	s.local = make([]int, len(v.Spaces))
	for i, sp := range v.Whole.Spaces {
		s.local[sp.Index] = i
	}
	s.wet = make([]bool, len(v.Whole.Spaces))
	return s
}

// settle lets the sea in and the hull down in turns. Each turn takes up the share of the sinkage that the flooded part of
// the waterplane leaves over, so a hull that floats comes to its rest geometrically; the water only ever rises, so one that
// does not float runs out of room.
func (s *seaLet) settle() seaLetEnd {
	const turns = 1000
	const close = 1e-7 // rad, and as a share of the length: a tenth of a micrometre at a metre
	rest, water := s.floater.Start()
	s.start, s.water = append([]float64(nil), water...), water
	if !rest.Stable {
		return seaLetSinks
	}
	s.pose = rest.Pose
	for range turns {
		more := s.reach()
		s.fill()
		next := s.floater.Settle(s.pose, s.water, compartment.FallStride, nil)
		if !next.Stable {
			return seaLetSinks
		}
		moved := math.Max(r3.Norm(r3.Sub(next.Pose.Up, s.pose.Up)), math.Abs(next.Pose.Sea-s.pose.Sea)/s.floater.Length())
		s.pose = next.Pose
		if moved < close && !more {
			if s.pose.Up.Z < 0 {
				return seaLetCapsizes
			}
			return seaLetRests
		}
	}
	return seaLetUnknown
}

// reach marks the spaces that the sea gets to in the present pose, and tells whether there are new ones.
func (s *seaLet) reach() (more bool) {
	for again := true; again; {
		again = false
		for j, p := range s.vessel.Passages {
			from, to := s.isWet(p.From), s.isWet(p.To)
			if from == to || !s.passes(j) {
				continue
			}
			for _, side := range []int{p.From, p.To} {
				if side != compartment.Outside {
					s.wet[s.local[side]] = true
				}
			}
			again, more = true, true
		}
	}
	return more
}

func (s *seaLet) isWet(space int) bool {
	return space == compartment.Outside || s.wet[s.local[space]]
}

// passes tells whether water at the sea's level gets through a passage.
func (s *seaLet) passes(j int) bool {
	p := s.vessel.Passages[j]
	switch {
	case p.Pump != 0:
		return false
	case p.Bulkhead >= 0 && s.closed[p.Bulkhead]:
		return false
	case p.Bulkhead >= 0 && p.Bulkhead == s.removed:
		return true
	}
	return s.lowest(p) < s.pose.Sea
}

// holdsBack tells whether a bulkhead has the sea on one side of it only.
func (s *seaLet) holdsBack(bulkhead int) bool {
	p := s.vessel.Passages[s.vessel.Bulkheads[bulkhead].Passage]
	return s.isWet(p.From) != s.isWet(p.To)
}

// edgeHeight is how far a bulkhead's edge stands over the sea's level, m.
func (s *seaLet) edgeHeight(bulkhead int) float64 {
	return s.lowest(s.vessel.Passages[s.vessel.Bulkheads[bulkhead].Passage]) - s.pose.Sea
}

func (s *seaLet) lowest(p *compartment.Passage) float64 {
	var view hydro.View
	p.Figure.View(s.pose.Up, &view)
	return view.Low
}

// fill puts the sea's level into every space that it reaches, never less than was there.
func (s *seaLet) fill() {
	for i, sp := range s.vessel.Whole.Spaces {
		if !s.wet[i] {
			continue
		}
		_, high := sp.Room.Reach(s.pose.Up)
		level := sp.Capacity()
		if s.pose.Sea < high {
			level = sp.Fraction * sp.Room.Below(solid.Plane{N: s.pose.Up, D: s.pose.Sea}).Volume
		}
		s.water[i] = math.Max(s.start[i], level)
	}
}
