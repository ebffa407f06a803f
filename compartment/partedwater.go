package compartment

import "gonum.org/v1/gonum/spatial/r3"

// Split is how the planes of a parting part the water of a space: the m³ in each of its parts (see Parted.Heirs), where it
// lies at the parting, at rest for an up direction with one level in all of the space. Full to the rounding, each part is full; more than
// fits, or less than none, is shared out by what the parts hold. The parts have all of the water, to the rounding.
func (s *Space) Split(up r3.Vec, water float64, parts []*Space) []float64 {
	out := make([]float64, len(parts))
	share := func(more float64, of func(i int) float64) bool {
		sum := 0.0
		for i := range parts {
			sum += of(i)
		}
		if !(sum > 0) {
			return false
		}
		for i := range parts {
			out[i] += more * of(i) / sum
		}
		return true
	}
	holds := func(i int) float64 { return parts[i].Capacity() }
	if water <= 0 || water >= (1-roundingOfFull)*s.Capacity() {
		share(water, holds)
		return out
	}
	level, _, _ := s.Room.Offset(up, water/s.Fraction, nan)
	rest, areas := water, make([]float64, len(parts))
	for i, p := range parts {
		below := p.Room.Below(planeAt(up, level))
		out[i], areas[i] = p.Fraction*below.Volume, p.Fraction*below.Area
		rest -= out[i]
	}
	// What the level's own tolerance and slivers too small to be parts leave over lies on the surfaces.
	if !share(rest, func(i int) float64 { return areas[i] }) {
		share(rest, holds)
	}
	return out
}

// roundingOfFull is the share of its capacity that a full space may lack by the rounding of what flowed in.
const roundingOfFull = 1e-14
