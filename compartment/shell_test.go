package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestShellOfCylinder: a plate shell of a closed tube lying along x, from its mesh, against the thin tube with two discs
// (closed forms): area 2πR(L + R), second moments about the middle 2πRL·R²/2 + 2·πR²·R²/4 across, and
// 2πRL·L²/12 + 2·πR²·L²/4 along. A mesh of n corners lies within it by the order of 1/n².
func TestShellOfCylinder(t *testing.T) {
	const radius, length, thickness, density = 0.1, 0.8, 2e-3, 1200.0
	off := func(n int) float64 {
		v := mustBuild(t, Spec{Water: WaterSpec{Temperature: 288.15}, Hull: HullSpec{
			Mesh:  &MeshSpec{Name: "tube", Triangles: triangles(prism(t, length, polygon(radius, n)))},
			Shell: ShellSpec{Thickness: ptr(thickness), Density: ptr(density)},
		}})
		skin, disc := 2*math.Pi*radius*length, math.Pi*radius*radius
		mass := density * thickness * (skin + 2*disc)
		across := density * thickness * (skin*radius*radius/2 + 2*disc*radius*radius/4)
		along := density * thickness * (skin*length*length/12 + 2*disc*length*length/4)
		nearVec(t, "centre", v.Whole.Centre, r3.Vec{X: length / 2, Z: radius}, 1e-12)
		about := v.Whole.Inertia.Add(outer(v.Whole.Centre).Scale(-v.Whole.Mass))
		want := solid.Moments{XX: along, YY: across, ZZ: across}
		nearMoments(t, "inertia about the centre", about, want, 20/float64(n*n)*along)
		near(t, "mass", v.Whole.Mass, mass, 20/float64(n*n)*mass)
		return math.Abs(v.Whole.Mass/mass-1) + math.Abs(about.YY/across-1) + math.Abs(about.XX/along-1)
	}
	coarse, fine := off(40), off(80)
	if order := math.Log2(coarse / fine); math.Abs(order-2) > 0.05 {
		t.Errorf("the error goes with the power %.3f of the corners' distance, want 2", order)
	}
}

// TestShellOfBoxInParts: plates of a box are counted with their faces, wherever it is parted; closed form.
func TestShellOfBoxInParts(t *testing.T) {
	v := mustBuild(t, Spec{Water: WaterSpec{Temperature: 288.15},
		Hull: HullSpec{Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
			Shell: ShellSpec{Thickness: ptr(1e-3), Density: ptr(1000.0)}},
		Joints: []JointSpec{{Name: "J", At: 0.4, Sections: [2]string{"stern", "bow"}}}})
	near(t, "stern", v.Pieces[0].Mass, 0.2*0.15+0.7*0.4, 1e-12)
	near(t, "bow", v.Pieces[1].Mass, 0.2*0.15+0.7*0.6, 1e-12)
	near(t, "centre of the stern", v.Pieces[0].Centre.X, 0.7*0.4*0.2/(0.03+0.28), 1e-12)
	near(t, "centre of the bow", v.Pieces[1].Centre.X, (0.03*1+0.42*0.7)/(0.03+0.42), 1e-12)
}

// triangles are those of a body's form, as a mesh gives them.
func triangles(b *Body) (all [][3]r3.Vec) {
	for t := range b.Form.Triangles() {
		all = append(all, t)
	}
	return all
}
