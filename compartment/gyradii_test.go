package compartment

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestGyradii: a box whose mass is a solid block of its own size has √((b² + d²)/12) and √((l² + d²)/12) (closed form), a
// second block beside it moves the axes by the rule of parallel axes.
func TestGyradii(t *testing.T) {
	spec := Spec{
		Water: WaterSpec{Kind: Fresh, Temperature: 288.15},
		Hull:  HullSpec{Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15}, Shell: ShellSpec{Mass: ptr(1e-9), At: &r3.Vec{X: 0.5, Z: 0.075}}},
		Weights: []WeightSpec{
			{Name: "block", Mass: 4, At: r3.Vec{X: 0.5, Z: 0.075}, Size: &[3]float64{1, 0.2, 0.15}},
			{Name: "point", Mass: 4, At: r3.Vec{X: 0.5, Y: 0.1, Z: 0.075}, Size: &[3]float64{1e-6, 1e-6, 1e-6}, Later: true},
		},
	}
	v := mustBuild(t, spec)
	roll, pitch := (0.2*0.2+0.15*0.15)/12, (1+0.15*0.15)/12
	g := v.Whole.Gyradii(false)
	near(t, "roll", g.Roll, math.Sqrt(roll), 1e-8)
	near(t, "pitch", g.Pitch, math.Sqrt(pitch), 1e-8)
	near(t, "roll over breadth", g.RollShare, math.Sqrt(roll)/0.2, 1e-8)
	near(t, "pitch over length", g.PitchShare, math.Sqrt(pitch), 1e-8)
	g = v.Whole.Gyradii(true)
	near(t, "roll with the point", g.Roll, math.Sqrt(roll/2+0.05*0.05), 1e-8)
	near(t, "pitch with the point", g.Pitch, math.Sqrt(pitch/2), 1e-8)
	if g := (&Body{Form: mustBox()}).Gyradii(false); !math.IsNaN(g.Roll) || !math.IsNaN(g.PitchShare) {
		t.Errorf("without mass: %v", g)
	}
}
