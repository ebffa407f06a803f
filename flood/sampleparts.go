package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

// spacePart is a part of a space that joints' planes divide which have not parted: the space has one water and one air, and the part is
// told beside it by where the water lies.
type spacePart struct {
	space int // index into Run.spaces
	parts []*compartment.Space
	at    int // of parts
}

// layOutParts adds the parts of the divided spaces to the sample.
func (r *Run) layOutParts() {
	r.parts = r.parts[:0]
	for i := range r.spaces {
		k := r.spaces[i].body
		for piece := r.bodies[k].First; piece <= r.bodies[k].Last; piece++ {
			if r.vessel.Pieces[piece].Holds(r.spaces[i].Index) {
				if parts, at := r.partsOf(k, r.spaces[i].Index, piece); len(parts) > 1 {
					r.parts = append(r.parts, spacePart{i, parts, at})
					r.sample.Spaces = append(r.sample.Spaces, SpaceSample{Name: parts[at].Name})
				}
			}
		}
	}
}

// sampleParts tells of every part the water that lies in it; its depth, to the surface or to its highest point where that is under
// water; and the pressure of the space's air, or what stands at that point.
func (r *Run) sampleParts(s *state) {
	for n := range r.parts {
		p := &r.parts[n]
		whole, part := r.sample.Spaces[p.space], p.parts[p.at]
		up := s.pose[r.spaces[p.space].body].Up
		low, high := part.Room.Reach(up)
		out := SpaceSample{Name: part.Name, Air: whole.Air, Level: math.Max(low, math.Min(high, whole.Level))}
		out.Water = r.spaces[p.space].Split(up, whole.Water, p.parts)[p.at]
		if out.Depth = out.Level - low; out.Water <= 0 {
			out.Depth, out.Level = 0, low
		}
		if out.Full = out.Water >= brim*part.Capacity(); out.Full {
			out.Air += r.weight * (whole.Level - high)
		}
		r.sample.Spaces[len(r.spaces)+n] = out
	}
}
