package plan_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"gonum.org/v1/gonum/spatial/r3"
)

// tub is a box of 1 m × 200 mm × 150 mm with a shell of 4 kg amidships, in water of 1000 kg/m³: 5 mm of draft a kilogram.
func tub() compartment.Spec {
	return compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: given(1000.0)},
		Hull: compartment.HullSpec{
			Box:   &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
			Shell: compartment.ShellSpec{Mass: given(4.0), At: &r3.Vec{X: 0.5, Z: 0.05}},
		},
	}
}

// floor is a place on the tub's floor, of lead.
func floor(name string, x0, x1, y0, y1 float64) plan.Place {
	return plan.Place{Name: name, X: [2]float64{x0, x1}, Y: [2]float64{y0, y1}, Z: [2]float64{0.002, 0.03}, Material: "lead", Density: 11340}
}

func given[T any](x T) *T { return &x }

func ballast(t *testing.T, spec compartment.Spec, w []plan.Wish, p []plan.Place) *plan.BallastPlan {
	t.Helper()
	b, err := plan.Ballast(t.Context(), spec, w, p)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// total is the mass of the entries, kg, and their common centre.
func total(b *plan.BallastPlan) (mass float64, at r3.Vec) {
	for i := range b.Entries {
		w := &b.Entries[i].Weight
		mass += w.Mass
		at = r3.Add(at, r3.Scale(w.Mass, w.At))
	}
	return mass, r3.Scale(1/mass, at)
}

// A weight that the builder makes thicker, since its solid would stick through the floor, stands in the way as it is built: lead of
// 2 kg, 0.4 m long and 21 mm square about 2 mm over the floor, comes to some 17 mm of height.
func TestBallastClearOfThickenedWeight(t *testing.T) {
	spec := tub()
	spec.Weights = []compartment.WeightSpec{{Name: "keel", Mass: 2, At: r3.Vec{X: 0.5, Z: 0.002}, Over: &[2]float64{0.3, 0.7}, Density: given(11340.0)}}
	fore, aft := 0.048, 0.044
	b := ballast(t, spec, []plan.Wish{{DraftFore: &fore, DraftAft: &aft}}, []plan.Place{floor("hold", 0.1, 0.9, -0.08, 0.08)})
	if !b.Feasible || len(b.Entries) == 0 {
		t.Fatalf("no plan: %+v", b)
	}
}

// Two drafts of a box say all: displacement 1000 × 0.2 × (mean draft), its centre along by the wedge L²(df − da)/(12 T).
func TestBallastOfABox(t *testing.T) {
	fore, aft := 0.048, 0.044
	b := ballast(t, tub(), []plan.Wish{{DraftFore: &fore, DraftAft: &aft}}, []plan.Place{floor("hold", 0.1, 0.9, -0.08, 0.08)})
	if !b.Feasible {
		t.Fatalf("no plan: %+v", b)
	}
	mass, at := total(b)
	if want := 0.2*1000*0.046 - 4; math.Abs(mass-want) > 0.2*1000*2e-5 {
		t.Errorf("mass %.5f kg, want %.5f", mass, want)
	}
	// at small trim the centre of buoyancy lies at L/2 + L(df − da)/(12 T); G stands over it, higher by h, and so h·tan(trim) aft of it
	sum := 4 + mass
	lcb := 0.5 + (fore-aft)/(12*0.046)
	vcb := 0.023
	vcg := (4*0.05 + mass*at.Z) / sum
	lcg := lcb - (vcg-vcb)*(fore-aft)
	want := (lcg*sum - 4*0.5) / mass
	if math.Abs(at.X-want) > 1e-3 {
		t.Errorf("centre at %.5f m, want %.5f", at.X, want)
	}
}

// Two short places share the mass by the levers, on an even keel: no height matters.
func TestBallastByLevers(t *testing.T) {
	draft := 0.05
	b := ballast(t, tub(), []plan.Wish{{DraftFore: &draft, DraftAft: &draft}},
		[]plan.Place{floor("aft", 0.20, 0.25, -0.08, 0.08), floor("fore", 0.65, 0.85, -0.08, 0.08)})
	mass, at := total(b)
	if want := 10.0 - 4; math.Abs(mass-want) > 0.2*1000*2e-5 || !b.Feasible {
		t.Errorf("mass %.5f kg, want %.5f; %+v", mass, want, b.Misses)
	}
	// the band of 0.01 mm at each end lets the centre be off by displacement × GML × 2e-5 / L over the mass: GML is 1.65 m
	if math.Abs(at.X-0.5) > 10*1.7*2e-5/mass {
		t.Errorf("centre at %.5f m, want 0.5", at.X)
	}
}

// Without a wish for drafts the mass is the least that gives GM, by GM = T/2 + B²/(12 T) − KG of a box.
func TestBallastForStability(t *testing.T) {
	spec := tub()
	spec.Hull.Shell.At.Z = 0.17
	wanted := 0.01
	place := floor("hold", 0.45, 0.55, -0.08, 0.08)
	b := ballast(t, spec, []plan.Wish{{GM: &wanted}}, []plan.Place{place})
	gm := func(m float64) float64 {
		draft, height := (4+m)/200, m/(11340*0.1*0.16)
		return draft/2 + 0.04/(12*draft) - (4*0.17+m*(0.002+height/2))/(4+m)
	}
	lo, hi := 0.0, 3.0
	for range 60 {
		if mid := (lo + hi) / 2; gm(mid) < wanted+1e-5 { // the plan aims 0.01 mm over the wish
			lo = mid
		} else {
			hi = mid
		}
	}
	mass, _ := total(b)
	if !b.Feasible || math.Abs(mass-hi) > 2e-3 {
		t.Errorf("%.5f kg, want %.5f; %+v", mass, hi, b.Misses)
	}
}

// A list is taken out by the moment it has.
func TestBallastAgainstAList(t *testing.T) {
	spec := tub()
	spec.Weights = []compartment.WeightSpec{{Name: "engine", Mass: 1, At: r3.Vec{X: 0.5, Y: 0.03, Z: 0.06}}}
	draft := 0.05
	b := ballast(t, spec, []plan.Wish{{DraftFore: &draft, DraftAft: &draft}}, []plan.Place{floor("hold", 0.3, 0.7, -0.08, 0.08)})
	mass, at := total(b)
	// 0.005° of heel, displacement 10 kg, GM below 0.08 m
	if slack := 10 * 0.08 * 0.005 * math.Pi / 180; !b.Feasible || math.Abs(mass*at.Y+0.03) > slack {
		t.Errorf("moment %.6f kg·m, want −0.03; %+v", mass*at.Y, b.Misses)
	}
}

// Coins come whole, and the wish is met within its tolerance.
func TestBallastInCoins(t *testing.T) {
	coin, _ := plan.Coin("10-euro-cent")
	place := floor("hold", 0.1, 0.9, -0.08, 0.08)
	place.Piece = &coin
	fore, aft := 0.046, 0.044
	b := ballast(t, tub(), []plan.Wish{{DraftFore: &fore, DraftAft: &aft}}, []plan.Place{place})
	if !b.Feasible {
		t.Fatalf("%s %+v", b.Cause, b.Misses)
	}
	for _, e := range b.Entries {
		if e.Count < 1 || math.Abs(e.Weight.Mass-float64(e.Count)*0.0041) > 1e-12 {
			t.Errorf("%s: %d coins, %g kg", e.Weight.Name, e.Count, e.Weight.Mass)
		}
	}
	if f := b.Reached[0]; math.Abs(f.DraftFore-fore) > 1e-4 || math.Abs(f.DraftAft-aft) > 1e-4 {
		t.Errorf("drafts %v, %v", f.DraftFore, f.DraftAft)
	}
}

// The section that would stand on a knife's edge gets its ballast, the whole its drafts; weights to come are aboard where said.
// By hand, on an even keel: the stern displaces 3 kg and m of the 5 kg of lead, T = (3 + m)/100 in m, GM = T/2 + B²/(12 T) −
// (2 · 0.08 + 0.16 + m z)/(3 + m) with z of 3 to 6 mm: 0.020 without any, 0.026 with 2 kg, 0.030 with 3, 0.039 with all five,
// so that 0.033 asks for more than half of the lead and for moment from the bow's few.
func TestBallastOfSections(t *testing.T) {
	spec := tub()
	spec.Hull.Shell.At.Z = 0.08
	spec.Joints = []compartment.JointSpec{{Name: "J", At: 0.5, Sections: [2]string{"stern", "bow"}}}
	spec.Bulkheads = []compartment.BulkheadSpec{{Name: "B", At: 0.5}}
	spec.Compartments = []compartment.CompartmentSpec{{Name: "after"}, {Name: "forward"}}
	spec.Weights = []compartment.WeightSpec{{Name: "house", Mass: 1, At: r3.Vec{X: 0.3, Z: 0.16}, Later: true}}
	draft := 0.05
	wishes := []plan.Wish{{Of: "hull+later", DraftFore: &draft, DraftAft: &draft}, {Of: "stern", GM: given(0.033)}, {Of: "bow", GM: given(0.03)}}
	places := []plan.Place{floor("floor", 0.1, 0.9, -0.08, 0.08), floor("bow-floor", 0.92, 0.98, -0.08, 0.08)}
	b := ballast(t, spec, wishes, places)
	if !b.Feasible {
		t.Fatalf("%s %+v", b.Cause, b.Misses)
	}
	if without := ballast(t, spec, wishes[:1], places).Vessel.FloatTest()[2]; without.Name != "stern" || without.GMUpright > 0.032 {
		t.Errorf("the wish for the stern would be met anyway: %+v", without)
	}
	names := map[string]compartment.Floating{}
	for _, f := range b.Vessel.FloatTest() {
		names[f.Name] = f
	}
	if f := names["hull+later"]; math.Abs(f.DraftFore-draft) > 1e-4 || math.Abs(f.DraftAft-draft) > 1e-4 {
		t.Errorf("hull+later %v %v", f.DraftFore, f.DraftAft)
	}
	if f := names["stern"]; f.GMUpright < 0.033-1e-4 {
		t.Errorf("stern GM %v", f.GMUpright)
	}
	// without its house of 1 kg at 0.3 m: 5 mm less on the mean, and by the head, 0.2 kg·m over 9 kg and a GM along of 1.84 m
	if f := names["hull"]; math.Abs((f.DraftFore+f.DraftAft)/2-0.045) > 2e-5 || math.Abs(f.Trim-0.2/9/1.837) > 1e-4 {
		t.Errorf("the hull without its house is to be told too: %v, %v", f.DraftFore, f.DraftAft)
	}
}

// What stands in a place takes its room: the plan lies beside it or on it, and can be built.
func TestBallastRoundWhatStands(t *testing.T) {
	spec := tub()
	spec.Weights = []compartment.WeightSpec{
		{Name: "motor", Mass: 1, At: r3.Vec{X: 0.5, Z: 0.0125}, Size: &[3]float64{0.1, 0.1, 0.015}, Density: given(1 / 0.00015)},
	}
	draft := 0.05
	b := ballast(t, spec, []plan.Wish{{DraftFore: &draft, DraftAft: &draft}}, []plan.Place{floor("hold", 0.4, 0.6, -0.08, 0.08)})
	if mass, _ := total(b); !b.Feasible || math.Abs(mass-5) > 0.004 {
		t.Errorf("%.4f kg, want 5: %s %+v", mass, b.Cause, b.Misses)
	}
	for _, e := range b.Entries {
		low := e.Weight.At.Z - e.Weight.Size[2]/2
		if math.Abs(e.Weight.At.X-0.5) < 0.05 && low < 0.02-1e-9 && math.Abs(e.Weight.At.Y) < 0.05 {
			t.Errorf("%s stands in the motor: %+v", e.Weight.Name, e.Weight)
		}
	}
}
