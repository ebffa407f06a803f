package compartment

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// tubSpec is a box of 1 × 0.2 × 0.15 m of so many kilograms with their centre at a height, in water of 1000 kg/m³.
func tubSpec(mass, kg float64) Spec {
	return Spec{
		Water:    WaterSpec{Kind: Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:     HullSpec{Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15}},
		Weights:  []WeightSpec{{Name: "all", Mass: mass, At: r3.Vec{X: 0.5, Z: kg}}},
		Marks:    []MarkSpec{{Name: "M", At: r3.Vec{X: 1, Z: 0.15}}},
		Openings: []OpeningSpec{},
	}
}

// TestVerdicts: the same box, loaded so that every verdict comes up.
func TestVerdicts(t *testing.T) {
	for want, change := range map[Verdict]func(s *Spec){
		Firm:      func(*Spec) {},
		Sinks:     func(s *Spec) { s.Weights[0].Mass = 31 },
		Lolls:     func(s *Spec) { s.Weights[0].At.Z = 0.087 }, // KM 0.0817
		KeelUp:    func(s *Spec) { s.Weights[0].At.Z = 0.5 },
		Lists:     func(s *Spec) { s.Weights[0].At.Y = 0.002 },
		Tender:    func(s *Spec) { s.Weights[0].At.Z = 0.079 }, // GM 2.7 mm, a fiftieth of the breadth is 4
		DeckUnder: func(s *Spec) { s.Weights[0].At.X = 0.7 },
		OnEnd:     func(s *Spec) { s.Weights[0].At.X, s.Weights[0].At.Z = 0.02, 0.075 },
	} {
		spec := tubSpec(16, 0.05)
		change(&spec)
		if got := mustBuild(t, spec).FloatTest()[0].Verdict; got != want {
			t.Errorf("verdict %s, want %s", got, want)
		}
	}
}

// TestLoll: ST-52 of references.md, B 0.2, d 0.08, KG 0.085: 21.8014°, and no loll of a hull with GM.
func TestLoll(t *testing.T) {
	tests := mustBuild(t, tubSpec(16, 0.085)).FloatTest()
	near(t, "loll", tests[0].Loll/degree, 21.8014, 5e-5)
	near(t, "arm at rest", tests[0].Arms.Arm[armSteps], 0, 1e-12)
	near(t, "heel in the middle of the curve", tests[0].Arms.Heel[armSteps], tests[0].Heel, 0)
	if sooner := math.Min(tests[0].Arms.Starboard.Range, tests[0].Arms.Port.Range); tests[0].RangeOfStability != sooner {
		t.Errorf("range %g, of the sides %g", tests[0].RangeOfStability, sooner)
	}
	near(t, "towards upright the arm first vanishes upright", tests[0].Arms.Port.Range, tests[0].Heel, 1e-8)
	if firm := mustBuild(t, tubSpec(16, 0.05)).FloatTest()[0]; !math.IsNaN(firm.Loll) {
		t.Errorf("a firm hull has a loll of %g", firm.Loll)
	}
}

// TestLowestOpening: the least height of the figures over the sea; a pump does not count, nor what leads inside.
func TestLowestOpening(t *testing.T) {
	spec := tubSpec(16, 0.05) // floats at 80 mm
	spec.Bulkheads = []BulkheadSpec{{Name: "B", At: 0.4}}
	spec.Compartments = []CompartmentSpec{{Name: "aft"}, {Name: "fore"}}
	out := func(name string, z float64) OpeningSpec {
		return OpeningSpec{Name: name, Between: [2]string{"outside", "aft"}, At: r3.Vec{X: 0, Z: z}, Hole: ptr(0.01)}
	}
	spec.Openings = []OpeningSpec{out("port", 0.12), out("cut", 0.03),
		{Name: "inner", Between: [2]string{"aft", "fore"}, At: r3.Vec{X: 0.4, Z: 0.01}, Hole: ptr(0.01)},
		{Name: "pump", Between: [2]string{"fore", "outside"}, At: r3.Vec{X: 1, Z: 0.01}, Flow: ptr(1e-5)}}
	test := mustBuild(t, spec).FloatTest()[0]
	if test.Lowest.Name != "cut" || test.LowestDry.Name != "port" {
		t.Errorf("lowest %v, lowest dry %v", test.Lowest, test.LowestDry)
	}
	near(t, "cut", test.Lowest.Height, 0.03-0.005-0.08, 1e-12)
	near(t, "port", test.LowestDry.Height, 0.12-0.005-0.08, 1e-12)
	spec.Openings = spec.Openings[2:]
	if test = mustBuild(t, spec).FloatTest()[0]; test.Lowest.Name != "" || !math.IsNaN(test.Lowest.Height) {
		t.Errorf("without an opening to the outside the lowest is %v", test.Lowest)
	}
}

// TestBench: what the box draws with a mass laid on it, in fresh and in sea water, and what it holds to its waterline; closed
// forms for a box: T = M/(ρLB), trim ≈ M·x/(ρg∇GM_L) exactly by moments of the wedge.
func TestBench(t *testing.T) {
	spec := tubSpec(12, 0.05)
	spec.Bulkheads = []BulkheadSpec{{Name: "B", At: 0.25}}
	spec.Compartments = []CompartmentSpec{{Name: "aft"}, {Name: "fore", Permeability: ptr(0.9)}}
	v := mustBuild(t, spec)
	test := v.FloatTest()[0]
	near(t, "form below the waterline", test.Holds, 0.012, 1e-12)
	near(t, "aft", test.SpacesHold[0].Volume, 0.003, 1e-12)
	near(t, "fore", test.SpacesHold[1].Volume, 0.9*0.009, 1e-12)
	for k, kind := range [2]WaterKind{Fresh, Sea} {
		w := test.Waters[k]
		if w.Kind != kind || !w.Floats {
			t.Fatalf("water %d is %+v", k, w)
		}
		near(t, "draft in other water", w.DraftFore, 12/w.Density/0.2, 1e-12)
		near(t, "mark in other water", w.Marks[0], 12/w.Density/0.2-0.15, 1e-12)
	}
	// FL-01 and FL-17 of references.md: 999.1026 and EOS-80's 1025.972 kg/m³ at 15 °C (S 35; 35 g/kg is 0.13 lighter)
	near(t, "fresh", test.Waters[0].Density, 999.1026, 1e-3)
	near(t, "sea", test.Waters[1].Density, 1025.972, 0.14)

	laid, err := v.Laid(1.2, r3.Vec{X: 0.64})
	if err != nil {
		t.Fatal(err)
	}
	after := laid.FloatTest()[0]
	near(t, "mean draft with 1.2 kg", (after.DraftFore+after.DraftAft)/2/math.Cos(after.Trim), 13.2/200, 1e-12)
	// a box under trim φ (exact): moment of the two wedges, ∇·sinφ(BM + ½BM·tan²φ − (KG − KB)) = moved moment × cosφ
	kg, bm := 12*0.05/13.2, 1/12./0.066
	tan := math.Tan(after.Trim)
	near(t, "trim", tan*(bm+0.033-kg+bm/2*tan*tan), 1.2*0.14/13.2, 1e-9)
	if _, err := v.Laid(0, r3.Vec{}); err == nil {
		t.Error("nothing can be laid")
	}
	if _, err := v.Laid(1, r3.Vec{X: 50}); err == nil {
		t.Error("50 m off is not on the hull")
	}
}
