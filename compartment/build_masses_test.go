package compartment

import (
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// skinOfBox is a box's surface as a uniform sheet about its centre: area and second moments. Closed form: a pair of faces
// at ±a, of sides b and c, has the area 2bc, the second moments a²·2bc across and b²/12·2bc along b.
func skinOfBox(l, b, h float64) (area float64, m solid.Moments) {
	x, y, z := 2*b*h, 2*l*h, 2*l*b // area of the faces across each axis
	return x + y + z, solid.Moments{
		XX: x*l*l/4 + (y+z)*l*l/12,
		YY: y*b*b/4 + (x+z)*b*b/12,
		ZZ: z*h*h/4 + (x+y)*h*h/12,
	}
}

// TestMassClosedForms: shell as a skin moved to its centre, weights as box, rod and point.
func TestMassClosedForms(t *testing.T) {
	spec := barge()
	spec.Joints = nil
	v := mustBuild(t, spec)
	at := r3.Vec{X: 0.52, Z: 0.07}
	area, skin := skinOfBox(1, 0.2, 0.15)
	want := lumpAt(0.6, at, skin.Scale(1/area))
	want = want.plus(lumpAt(2, r3.Vec{X: 0.45, Z: 0.01}, solid.Moments{XX: 0.04 / 12, YY: 0.01 / 12, ZZ: 1e-4 / 12}))
	want = want.plus(lumpAt(0.5, r3.Vec{X: 0.2, Z: 0.05}, solid.Moments{}))
	want = want.plus(lumpAt(1, r3.Vec{X: 0.5, Z: -0.02}, solid.Moments{XX: 0.25 / 12, YY: 1e-4 / 12, ZZ: 4e-4 / 12}))
	near(t, "mass", v.Whole.Mass, 4.1, 1e-14)
	nearVec(t, "centre", v.Whole.Centre, want.centre(), 1e-14)
	nearMoments(t, "inertia", v.Whole.Inertia, want.second, 1e-14)
	// the house's rod of 0.42 m whose centre lies 0.01 abaft its middle: uniform variance less the shift's square
	rod := lumpAt(0.3, r3.Vec{X: 0.5, Z: 0.17}, solid.Moments{XX: 0.42*0.42/12 - 1e-4})
	near(t, "later mass", v.Whole.LaterMass, 0.3, 1e-15)
	nearVec(t, "later centre", v.Whole.LaterCentre, r3.Vec{X: 0.5, Z: 0.17}, 1e-15)
	nearMoments(t, "later inertia", v.Whole.LaterInertia, rod.second, 1e-15)
}

// TestThicknessShell: mass, centre and inertia from the surface; its volume comes off the only space.
func TestThicknessShell(t *testing.T) {
	spec := Spec{Water: WaterSpec{Temperature: 288.15}, Hull: HullSpec{
		Box:   &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
		Shell: ShellSpec{Thickness: ptr(1.6e-3), Density: ptr(1050.0)},
	}}
	v := mustBuild(t, spec)
	area, skin := skinOfBox(1, 0.2, 0.15)
	want := lumpAt(area*1.6e-3*1050, r3.Vec{X: 0.5, Z: 0.075}, skin.Scale(1/area))
	near(t, "mass", v.Whole.Mass, want.mass, 1e-12)
	nearVec(t, "centre", v.Whole.Centre, want.centre(), 1e-12)
	nearMoments(t, "inertia", v.Whole.Inertia, want.second, 1e-12)
	near(t, "capacity", v.Spaces[0].Capacity(), 0.03-area*1.6e-3, 1e-12)

	spec.Joints = []JointSpec{{Name: "J", At: 0.3, Sections: [2]string{"stern", "bow"}}}
	parted := mustBuild(t, spec)
	nearMoments(t, "inertia in two pieces", parted.Whole.Inertia, want.second, 1e-12)
	near(t, "the stern's mass", parted.Pieces[0].Mass, (2*0.35*0.3+0.2*0.15)*1.6e-3*1050, 1e-12)
}

// TestPiecesSumToTheWhole: mass, moments and room of every piece together are the whole's.
func TestPiecesSumToTheWhole(t *testing.T) {
	for name, hull := range map[string]HullSpec{"box": {Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15}}, "ship": {Offsets: ship()}} {
		spec := barge()
		hull.Shell = spec.Hull.Shell
		spec.Hull, spec.Openings = hull, nil
		if name == "ship" {
			spec.Weights = spec.Weights[1:3]
		}
		spec.Joints = []JointSpec{
			{Name: "J1", At: 0.3002, Sections: [2]string{"stern", "mid"}}, // B1 stands in it: within half a millimetre
			{Name: "J2", At: 0.5, Sections: [2]string{"mid", "bow"}},
		}
		v := mustBuild(t, spec)
		var now, later lump
		volume, capacity := 0.0, 0.0
		for k, p := range v.Pieces {
			if p.First != k || p.Last != k || p.Name != [3]string{"stern", "mid", "bow"}[k] {
				t.Errorf("piece %d is %s, %d to %d", k, p.Name, p.First, p.Last)
			}
			now = now.plus(lump{p.Mass, r3.Scale(p.Mass, p.Centre), p.Inertia})
			later = later.plus(lump{p.LaterMass, r3.Scale(p.LaterMass, p.LaterCentre), p.LaterInertia})
			volume += p.Form.Volume()
			for _, s := range p.Spaces {
				capacity += s.Capacity()
			}
		}
		w := v.Whole
		near(t, name+" mass", now.mass, w.Mass, 1e-13)
		nearVec(t, name+" centre", now.centre(), w.Centre, 1e-13)
		nearMoments(t, name+" inertia", now.second, w.Inertia, 1e-13)
		near(t, name+" later mass", later.mass, w.LaterMass, 1e-14)
		nearMoments(t, name+" later inertia", later.second, w.LaterInertia, 1e-13)
		near(t, name+" form", volume, w.Form.Volume(), 1e-14)
		all := 0.0
		for _, s := range v.Spaces {
			all += s.Capacity()
		}
		near(t, name+" capacity", capacity, all, 1e-14)
		near(t, name+" shell and weights", w.Mass, spec.totalAtStart(), 1e-12)
	}
}

func (s *Spec) totalAtStart() float64 {
	sum := *s.Hull.Shell.Mass
	for i := range s.Weights {
		if !s.Weights[i].Later {
			sum += s.Weights[i].Mass
		}
	}
	return sum
}

// TestPieces: which spaces lie where, what a joint divides, and whose a point weight in its plane is.
func TestPieces(t *testing.T) {
	spec := barge()
	spec.Joints[0].At = 0.3
	spec.Weights[1].At.X = 0.3
	v := mustBuild(t, spec)
	if len(v.Pieces) != 2 || len(v.Pieces[0].Spaces) != 1 || v.Pieces[0].Spaces[0] != space(t, v, "after") {
		t.Fatalf("a joint at a bulkhead divides nothing: %d pieces", len(v.Pieces))
	}
	near(t, "the stern's mass without the engine in the plane", v.Pieces[0].Mass,
		v.Pieces[0].Mass+v.Pieces[1].Mass-0.5-2-1+0.1-v.bowShell(), 1e-12) // a tenth of the keel, 0.25 to 0.3
	spec.Joints[0].At = 0.5
	v = mustBuild(t, spec)
	mid := space(t, v, "mid")
	if mid.Piece != -1 || space(t, v, "fore").Piece != 1 || space(t, v, "after").Piece != 0 {
		t.Error("spaces are in the wrong pieces")
	}
	part := v.Pieces[0].Spaces[1]
	if part.Name != "mid.stern" || part.Index != mid.Index || part.Piece != 0 || part.Fraction != mid.Fraction {
		t.Errorf("part is %+v", part)
	}
	near(t, "its room", part.Room.Volume(), 0.2*0.2*0.15-0.15/0.2*2e-4, 1e-14)
	one := barge()
	one.Joints = nil
	if v = mustBuild(t, one); v.Pieces[0] != v.Whole || len(v.Pieces) != 1 {
		t.Error("in one piece, that piece is the whole")
	}
}

// bowShell is the barge's shell before x = 0.3, by its linear spread: centre 0.02 before the middle of 1 m, density
// 1 + 0.24·(x − 1/2) over the mean.
func (v *Vessel) bowShell() float64 {
	return *v.Spec.Hull.Shell.Mass * (0.7 + 0.24*((0.25-0.04)/2))
}
