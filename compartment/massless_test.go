package compartment

import (
	"math"
	"testing"
)

// TestMassless floats a hull without any mass, such as a tank that is clamped over a sink: it lies on the water.
func TestMassless(t *testing.T) {
	v, err := Build(Spec{Water: WaterSpec{Kind: Fresh, Temperature: 288.15}, Hull: HullSpec{Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.1}}})
	if err != nil {
		t.Fatal(err)
	}
	f := v.FloatTest()[0]
	if !f.Floats || f.Mass != 0 || f.DraftFore != 0 || f.DraftAft != 0 || math.Abs(f.Freeboard-0.1) > 1e-15 {
		t.Errorf("floats %v with %g kg, drafts %g and %g, freeboard %g", f.Floats, f.Mass, f.DraftFore, f.DraftAft, f.Freeboard)
	}
	if !math.IsNaN(f.GMTransverse) || !math.IsNaN(f.RangeOfStability) {
		t.Errorf("GM %g, range %g: nothing is displaced", f.GMTransverse, f.RangeOfStability)
	}
}
