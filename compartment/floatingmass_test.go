package compartment

import (
	"fmt"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// bemAdded is the added mass by the panel method, on meshes 2 and 3 and their limit.
func bemAdded(length, breadth, draft, k float64) [6][6]float64 {
	var a [2][6][6]float64
	for fine := range a {
		s := bemAssemble(bemBoxMesh(length, breadth, draft, 2+fine), k)
		a[fine] = s.pressureAdded(s.potentials())
	}
	return bemLimit(a[0], a[1], 1.5)
}

// TestAddedMassOfFloatingBoxes: 0.8 m by 0.2 m at three drafts, in sway and in roll about a centre of mass 60 mm above the keel at low frequency,
// in heave at its own, against a panel method that shares nothing with the strips: as far off as docs/motion.md says.
func TestAddedMassOfFloatingBoxes(t *testing.T) {
	const length, breadth = 0.8, 0.2
	for draft, off := range map[float64][2][2]float64{ // sway, roll
		0.04: {{-0.04, 0.02}, {0.21, 0.31}},
		0.08: {{0, 0.05}, {0.1, 0.2}},
		0.16: {{0.02, 0.08}, {-0.1, 0}},
	} {
		s := inWater(solid.Box(r3.Vec{X: -length / 2, Y: -breadth / 2, Z: -draft}, r3.Vec{X: length / 2, Y: breadth / 2, Z: draft}), 0)
		s.Immerse(Pose{Up: r3.Vec{Z: 1}})
		low := bemAdded(length, breadth, draft, 0.02)
		got, mass := s.Added(), 0.06-draft // the height of the centre of mass
		aboutMass := func(a *[6][6]float64) float64 { return a[3][3] + 2*mass*a[1][3] + mass*mass*a[1][1] }
		name := func(what string) string { return fmt.Sprintf("draft %g m, %s", draft, what) }
		between(t, name("sway"), got[1][1]/low[1][1]-1, off[0])
		between(t, name("roll"), aboutMass(got)/aboutMass(&low)-1, off[1])
		if draft == 0.08 {
			between(t, name("heave"), got[2][2]/bemAdded(length, breadth, draft, s.ownHeave())[2][2]-1, [2]float64{0.28, 0.36})
		}
		t.Logf("%s", name(fmt.Sprintf("sway acts %.1f mm under the surface, by the panels %.1f", 1e3*got[1][3]/got[1][1], 1e3*low[1][3]/low[1][1])))
	}
}
