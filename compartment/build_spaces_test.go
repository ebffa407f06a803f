package compartment

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestBargeSpaces checks rooms and capacities of the barge, whose every part is a box: closed forms.
func TestBargeSpaces(t *testing.T) {
	v := mustBuild(t, barge())
	// the shell's 0.6/1050 m³ come off in proportion to the hull's surface in each space
	skin := func(length float64, ends, less float64) float64 { return 2*(0.2+0.15)*length + ends*0.2*0.15 - less }
	wing := 0.2 * (0.06 + 0.08) // its bottom and its side
	surface := map[string]float64{"after": skin(0.3, 1, 0), "mid": skin(0.4, 0, wing/2), "fore": skin(0.3, 1, wing/2), "wing": wing}
	room := map[string]float64{
		"after": 0.3 * 0.2 * 0.15, "wing": 0.2 * 0.06 * 0.08,
		"mid":  0.4*0.2*0.15 - 0.1*0.06*0.08 - 2.0/1e4,
		"fore": 0.3*0.2*0.15 - 0.1*0.06*0.08,
	}
	whole := 0.2*0.15*2 + 2*(0.2+0.15)*1
	for name, want := range room {
		s := space(t, v, name)
		near(t, name+" room", s.Room.Volume(), want, 1e-15)
		share := 0.6 / 1050 * surface[name] / whole
		permeability := 1.0
		if name == "mid" {
			permeability = 0.9
		}
		near(t, name+" capacity", s.Capacity(), permeability*(want-share), 1e-14)
	}
	after := space(t, v, "after")
	nearVec(t, "after's centroid", after.Room.Centroid(), r3.Vec{X: 0.15, Z: 0.075}, 1e-12)
	if !after.Airtight || space(t, v, "mid").Airtight {
		t.Error("airtight is not as described")
	}
	// mid's centroid by its boxes: whole less wing's part less lead
	total := room["mid"]
	moment := r3.Scale(0.4*0.2*0.15, r3.Vec{X: 0.5, Z: 0.075})
	moment = r3.Sub(moment, r3.Scale(0.1*0.06*0.08, r3.Vec{X: 0.65, Y: 0.07, Z: 0.04}))
	moment = r3.Sub(moment, r3.Scale(2e-4, r3.Vec{X: 0.45, Z: 0.01}))
	nearVec(t, "mid's centroid", space(t, v, "mid").Room.Centroid(), r3.Scale(1/total, moment), 1e-12)
}

// TestSpacesFillTheHull: whatever the form, the bulkheads and the boxes, the rooms and what stands in them add up to it.
func TestSpacesFillTheHull(t *testing.T) {
	for name, hull := range map[string]HullSpec{
		"box":  {Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15}},
		"ship": {Offsets: ship()},
	} {
		t.Run(name, func(t *testing.T) {
			spec := barge()
			spec.Hull, spec.Joints, spec.Openings = hull, nil, nil
			spec.Weights = spec.Weights[:1]
			spec.Weights[0].At.Z = 0.06 // clear of every floor
			v := mustBuild(t, spec)
			sum := 2.0 / 1e4
			var moment r3.Vec
			for _, s := range v.Spaces {
				sum += s.Room.Volume()
				moment = r3.Add(moment, r3.Scale(s.Room.Volume(), s.Room.Centroid()))
			}
			form := v.Whole.Form
			near(t, "volume", sum, form.Volume(), 1e-12*form.Volume())
			lead := r3.Sub(r3.Scale(form.Volume(), form.Centroid()), moment)
			nearVec(t, "the lead's place", r3.Scale(1/2e-4, lead), r3.Vec{X: 0.45, Z: 0.06}, 1e-9)
		})
	}
}

// TestWigleyVolume holds the facets chosen here to what their comment says. The volume below the draft is 4/9·LBT.
func TestWigleyVolume(t *testing.T) {
	v := mustBuild(t, Spec{Water: WaterSpec{Temperature: 288.15}, Hull: HullSpec{
		Wigley: &WigleySpec{Length: 1, Breadth: 0.2, Draft: 0.1, Depth: 0.15},
		Shell:  ShellSpec{Mass: ptr(1.0), At: &r3.Vec{X: 0.5, Z: 0.07}},
	}})
	want := 4.0/9*0.2*0.1 + 2.0/3*0.2*0.05
	near(t, "volume", v.Whole.Form.Volume(), want, 1e-4*want)
	if len(v.Spaces) != 1 || v.Spaces[0].Name != "hold" {
		t.Errorf("a hull without bulkheads and compartments has one space named hold, not %d", len(v.Spaces))
	}
	nearVec(t, "the sharp stem's deck edge", v.Whole.DeckEdge[200], r3.Vec{X: 1, Z: 0.15}, 1e-6)
}

// TestSolids: solids take mass over density, wherever they stand; a flat one on a rounded floor sits higher, not outside.
func TestSolids(t *testing.T) {
	spec := barge()
	spec.Hull = HullSpec{Offsets: ship()}
	spec.Joints, spec.Openings, spec.Bulkheads, spec.Compartments = nil, nil, nil, nil
	spec.Weights = []WeightSpec{{Name: "lead", Mass: 1, At: r3.Vec{X: 0.5, Z: 0.03}, Over: &[2]float64{0.35, 0.65}, Density: ptr(11340.0)}}
	v := mustBuild(t, spec)
	near(t, "taken", v.Whole.Form.Volume()-v.Spaces[0].Room.Volume(), 1/11340.0, 1e-9/11340)
	spec.Weights[0].At.Z = 0.005 // now some of it would stick through the floor
	v = mustBuild(t, spec)
	near(t, "taken on the floor", v.Whole.Form.Volume()-v.Spaces[0].Room.Volume(), 1/11340.0, 1e-9/11340)
	if len(v.Notes) == 0 {
		t.Error("that it was fitted is not told")
	}
	spec.Weights[0].Over, spec.Weights[0].At.Z = nil, -0.1
	v = mustBuild(t, spec)
	if v.Spaces[0].Room != v.Whole.Form || v.Whole.Appendages == nil {
		t.Fatal("a solid under the keel is no appendage")
	}
	near(t, "appendage", v.Whole.Appendages.Volume(), 1/11340.0, 1e-12)
	nearVec(t, "its place", v.Whole.Appendages.Centroid(), spec.Weights[0].At, 1e-9)
	lo, hi := v.Whole.Appendages.Bounds()
	side := math.Cbrt(1 / 11340.0)
	nearVec(t, "a cube", r3.Sub(hi, lo), r3.Vec{X: side, Y: side, Z: side}, 1e-9)
}

// TestGapLessBoxes: a boxed compartment closes the part of the gap that it takes; the gap's integrals are those of what is open.
func TestGapLessBoxes(t *testing.T) {
	spec := barge()
	spec.Compartments[2].Z = &[2]float64{0, 0.13} // wing now reaches above B2's top of 0.1
	v := mustBuild(t, spec)
	b2 := v.Bulkheads[1]
	near(t, "plate", areaOf(b2.Plate), 0.2*0.1, 1e-12)
	near(t, "gap", areaOf(b2.Gap), 0.2*0.05-0.06*0.03, 1e-12)
	p := v.Passages[b2.Passage]
	near(t, "figure", p.Figure.Area(), 0.2*0.05-0.06*0.03, 1e-12)
	if v.Spaces[p.From].Name != "mid" || v.Spaces[p.To].Name != "fore" || p.Name != "B2" || p.Bulkhead != 1 {
		t.Errorf("the gap's passage is %+v", p)
	}
	if b1 := v.Bulkheads[0]; b1.Passage != -1 || b1.Gap != nil {
		t.Error("a bulkhead up to the deck has a gap")
	}
	spec.Bulkheads[1].Top = ptr(0.16)
	if v = mustBuild(t, spec); v.Bulkheads[1].Passage != -1 {
		t.Error("a bulkhead above the deck has a gap")
	}
}

// TestDeckEdge: at a table's stations their highest points, the single point of the stem too; else at 101 sections.
func TestDeckEdge(t *testing.T) {
	spec := barge()
	spec.Openings, spec.Weights = nil, spec.Weights[1:2]
	v := mustBuild(t, spec)
	if n := len(v.Whole.DeckEdge); n != 2*sectionsAlong {
		t.Fatalf("%d points", n)
	}
	for i, p := range v.Whole.DeckEdge {
		nearVec(t, fmt.Sprintf("point %d", i), p, r3.Vec{X: float64(i/2) / 100, Y: 0.1 * float64(1-2*(i%2)), Z: 0.15}, 1e-12)
	}
	meshed := spec
	meshed.Hull = HullSpec{Mesh: &MeshSpec{Name: "box"}, Shell: spec.Hull.Shell}
	for t := range mustBox().Triangles() {
		meshed.Hull.Mesh.Triangles = append(meshed.Hull.Mesh.Triangles, t)
	}
	for i, p := range mustBuild(t, meshed).Whole.DeckEdge {
		nearVec(t, fmt.Sprintf("of plates, point %d", i), p, v.Whole.DeckEdge[i], 1e-12)
	}
	spec.Hull = HullSpec{Offsets: ship(), Shell: spec.Hull.Shell}
	v = mustBuild(t, spec)
	if n := len(v.Whole.DeckEdge); n != 10 {
		t.Fatalf("%d points of a table with 5 stations", n)
	}
	nearVec(t, "quarter", v.Whole.DeckEdge[3], r3.Vec{X: 0.25, Y: -0.085, Z: 0.1}, 1e-12)
	nearVec(t, "stem", v.Whole.DeckEdge[8], r3.Vec{X: 1, Z: 0.12}, 1e-12)
	bow := v.Pieces[1].DeckEdge // 0.75, 1, and the corners of the cut at 0.5
	if len(bow) != 6 {
		t.Fatalf("%d points of the bow", len(bow))
	}
	nearVec(t, "the cut's corner", bow[4], r3.Vec{X: 0.5, Y: 0.09, Z: 0.1}, 1e-5)
}
