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
