package compartment

import (
	"math"
	"testing"
)

func TestStrain(t *testing.T) {
	all := HoldSpec{Hogging: ptr(2.0), Sagging: ptr(3.0), Shear: ptr(10.0)}
	inf := math.Inf(1)
	for _, c := range []struct {
		name   string
		joint  JointSpec
		load   Load
		limit  Limit
		margin float64
	}{
		{"no holds", JointSpec{}, Load{Bending: 100, Shear: 100}, "", inf},
		{"nothing asked", JointSpec{Holds: all}, Load{}, Hogging, 1},
		{"hogs half of it", JointSpec{Holds: all}, Load{Bending: 1, Shear: 4}, Hogging, 0.5},
		{"at the limit", JointSpec{Holds: all}, Load{Bending: 2}, Hogging, 0},
		{"sags past it", JointSpec{Holds: all}, Load{Bending: -4.5}, Sagging, -0.5},
		{"shear, downward too", JointSpec{Holds: all}, Load{Bending: 1, Shear: -12}, Shear, 1 - 12.0/10},
		{"a limit that is not given", JointSpec{Holds: HoldSpec{Shear: ptr(10.0)}}, Load{Bending: 9, Shear: 1}, Shear, 0.9},
		{"no hinge: the end pressure does not count", JointSpec{Holds: all}, Load{Bending: 1, EndMoment: -3}, Hogging, 0.5},
		{"a hinge: it counts", JointSpec{Holds: all, Hinge: ptr(0.0)}, Load{Bending: 1, EndMoment: -5.5}, Sagging, -0.5},
	} {
		s := c.joint.Strain(c.load)
		if s.Limit != c.limit || !(s.Margin == c.margin || math.Abs(s.Margin-c.margin) < 1e-15) {
			t.Errorf("%s: %+v, want %s with a margin of %g", c.name, s, c.limit, c.margin)
		}
	}
	if s := (&JointSpec{Holds: all}).Strain(Load{Bending: -4.5}); math.Abs(s.Over()-1.5) > 1e-15 {
		t.Errorf("over by %g, want 1.5", s.Over())
	}
}

// TestStrainIsContinuous: along a load that changes evenly the margin has no jumps, and is 0 where it lets go.
func TestStrainIsContinuous(t *testing.T) {
	j := JointSpec{Holds: HoldSpec{Hogging: ptr(2.0), Sagging: ptr(3.0), Shear: ptr(10.0)}}
	at := func(s float64) float64 { return j.Strain(Load{Bending: 6*s - 4, Shear: 15 * s * s}).Margin }
	for s := 0.0; s < 1; s += 1e-3 {
		if d := math.Abs(at(s+1e-3) - at(s)); d > 5e-3 {
			t.Errorf("the margin jumps by %g at %g", d, s)
		}
	}
	if at(1.0/6-1e-9) > 0 || at(1.0/6+1e-9) < 0 { // sagging 3 N·m at s = 1/6
		t.Error("it does not let go where sagging passes 3 N·m")
	}
}
