package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Tanks for tests. Tanks that empty as in textbooks (EM-01 to EM-23) are rows of docs/validation.md, reckoned in scenarios/validation.

const foot = 0.3048

// tank is a hold of some depth of water in a hull.
type tank struct {
	spec compartment.Spec
	keel float64
}

// tankOf is a box of a base area, square, with a single hold.
func tankOf(area, depth, start float64) tank {
	s := bargeSpec()
	side := math.Sqrt(area)
	s.Hull.Box = &compartment.BoxSpec{Length: side, Breadth: side, Depth: depth}
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: 1, At: r3.Vec{X: side / 2}}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold", Starts: &compartment.StartSpec{Depth: &start}}}
	return tank{spec: s, keel: 1}
}

// toSea lowers the tank until the hole's mouth is ten nanometres under the sea: it can then empty to the last without the air
// coming up through the hole, of which the sources know nothing (a flat hole under less water than its width lets both pass).
func (k tank) toSea() tank { k.keel = -1e-8; return k }

func disc(d float64) float64 { return math.Pi * d * d / 4 }

// references.md EM-25: a thin box of 0.2 m² afloat at 0.08 m with a hole of 1e-4 m² in its bottom, C_d 0.6, sinks under a
// constant head, its rim of 0.15 m under after A(D − d₀)/(C_d a √(2 g d₀)) = 186.276 s. Its floor is all free surface, which
// cancels its waterplane: a centre of mass under half the draft keeps it upright.
func TestTextbookSinkingBowl(t *testing.T) {
	s := bargeSpec()
	s.Hull.Box = &compartment.BoxSpec{Length: 0.5, Breadth: 0.4, Depth: 0.15}
	s.Weights[0].At = r3.Vec{X: 0.25, Z: 0.02}
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}}
	hole := bored("hole", "outside", "hold", r3.Vec{X: 0.25}, r3.Vec{Z: -1}, math.Sqrt(4e-4/math.Pi))
	hole.Cd = ptr(0.6)
	s.Openings = []compartment.OpeningSpec{hole}
	r, err := mustStart(t, withoutCreep(mustBuild(t, s), 1), flood.Settings{Tolerance: 1e-8}).Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := 0.2 * (0.15 - 0.08) / (0.6 * 1e-4 * math.Sqrt(2*refGravity*0.08))
	if math.Abs(want-186.276) > 5e-4 {
		t.Errorf("closed form %.6g s, printed 186.276", want)
	}
	// On an even keel the rim goes under all round at once, and nothing is left above: it has foundered.
	got := r.Sections[0].Foundered
	t.Logf("EM-25: rim under at %.6f s, closed form %.6f, %s", got, want, r.Fate)
	if !(math.Abs(got-want) <= 1e-6*want) || r.Fate != flood.Founders {
		t.Errorf("EM-25: rim under at %g s, fate %q; wanted %g s, founders; events %v", got, r.Fate, want, r.Events)
	}
}

// turned is a solid of revolution about the z axis as a mesh, from radii at heights, the first and last on the axis.
func turned(profile [][2]float64, around int) (m [][3]r3.Vec) {
	at := func(i, j int) r3.Vec {
		s, c := math.Sincos(2 * math.Pi * float64(j%around) / float64(around))
		return r3.Vec{X: profile[i][0] * c, Y: profile[i][0] * s, Z: profile[i][1]}
	}
	for i := range len(profile) - 1 {
		for j := range around {
			a, b, c, d := at(i, j), at(i, j+1), at(i+1, j+1), at(i+1, j)
			if profile[i][0] > 0 {
				m = append(m, [3]r3.Vec{a, b, c})
			}
			if profile[i+1][0] > 0 {
				m = append(m, [3]r3.Vec{a, c, d})
			}
		}
	}
	return m
}

// bowl is a hemisphere's profile with a lid; tall adds a cylinder on top.
func bowl(r, tall float64) (p [][2]float64) {
	const rings = 60
	for i := range rings + 1 {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / rings)
		p = append(p, [2]float64{r * s, r - r*c})
	}
	if tall > 0 {
		p = append(p, [2]float64{r, r + tall})
	}
	return append(p, [2]float64{0, r + tall})
}
