package compartment

import "math"

// Limit is a load that a joint holds up to a magnitude.
type Limit string

// The limits.
const (
	Hogging Limit = "hogging"
	Sagging Limit = "sagging"
	Shear   Limit = "shear"
)

// Strain is how much of what a joint holds is asked of it.
type Strain struct {
	Limit  Limit   // the one that is nearest to being passed; "" where the joint has none
	Asked  float64 // of that kind, in its own direction: N·m or N; a bending the other way is negative
	Bears  float64 // N·m or N, > 0
	Margin float64 // 1 − Asked/Bears: 1 unloaded, 0 at the limit, negative past it; +Inf where the joint has no limits
}

// Over is by how much the limit is passed, N·m or N; negative: not yet.
func (s Strain) Over() float64 { return s.Asked - s.Bears }

// Strain compares a load with what the joint holds. The margin is the least over the limits given: continuous in the load,
// and it changes sign where the joint lets go, so that it serves as an event function. Bending counts as the contract of the
// file has it: alone, or with the moment of the end pressure where the joint has a hinge. Of two limits equally near it is
// the first of hogging, sagging, shear.
func (j *JointSpec) Strain(l Load) Strain {
	bending := l.Bending
	if j.Hinge != nil {
		bending += l.EndMoment
	}
	worst := Strain{Margin: math.Inf(1)}
	for _, s := range [3]struct {
		limit Limit
		load  float64
		bears *float64
	}{
		{Hogging, bending, j.Holds.Hogging},
		{Sagging, -bending, j.Holds.Sagging},
		{Shear, math.Abs(l.Shear), j.Holds.Shear},
	} {
		if s.bears == nil {
			continue
		}
		if margin := 1 - s.load / *s.bears; margin < worst.Margin {
			worst = Strain{s.limit, s.load, *s.bears, margin}
		}
	}
	return worst
}
