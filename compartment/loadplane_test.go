package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestEndPressure: the sea on the plane of a box, level, on its side, heeled by 45° with a corner in the water, on end, and
// deep under, against the hydrostatic thrust on plane figures (ρg times area and depth of the centroid; for a rectangle
// ρgBT²/2 at T/3 from its lower edge, for a triangle of base b and height h ρgbh²/6 at h/2: Lewitt, Hydraulics, from memory).
func TestEndPressure(t *testing.T) {
	const b, d, hinge = 0.2, 0.13, 0.04
	spec := jointsAt(laden(1.2, [3]float64{3, 0, 1.2}), 0.5)
	spec.Joints[0].Hinge = ptr(hinge)
	v := mustBuild(t, spec)
	f := NewFloater(v.Whole, v.Water.Density, true)
	rg := v.Water.Density * grav
	half := math.Sqrt(0.5)
	corner := 0.05                                   // m of the lower corner's depth at 45°
	base, deep := 2*corner, r3.Vec{Y: half, Z: half} // the corner is that at y = −b/2
	low := -b / 2 * half                             // its height along up
	centre := corner / 2 * half                      // z of the triangle's centre of pressure, half its height above the corner
	tri := func(f float64) float64 { return f * rg * base * corner * corner / 6 }
	for _, c := range []struct {
		name          string
		pose          Pose
		force, moment float64
	}{
		{"level", Upright(0.08), rg * b * 0.08 * 0.08 / 2, -rg * b * 0.08 * 0.08 / 2 * (0.08/3 - hinge)},
		{"deep", Upright(0.3), rg * b * d * (0.3 - d/2), -rg * b * (0.3*d*d/2 - d*d*d/3 - hinge*d*(0.3-d/2))},
		{"clear of it", Upright(-0.01), 0, 0},
		{"on its side", Pose{Up: r3.Vec{Y: 1}, Sea: 0}, rg * d * b * b / 8, -rg * d * b * b / 8 * (d/2 - hinge)},
		{"a corner under", Pose{Up: deep, Sea: low + corner}, tri(1), tri(hinge - centre)},
		{"on end", Pose{Up: r3.Vec{X: 1}, Sea: 0.7}, rg * b * d * 0.2, -rg * b * d * 0.2 * (d/2 - hinge)},
		{"on end, the plane in the air", Pose{Up: r3.Vec{X: 1}, Sea: 0.45}, 0, 0},
	} {
		a := posed(v, f, c.pose, make([]float64, 1))
		got := a.joints()[0]
		near(t, c.name+": thrust", got.Axial, c.force, 1e-11*rg*b*d)
		near(t, c.name+": moment", got.EndMoment, c.moment, 1e-11*rg*b*d)
	}
}

// TestEndPressureOfShip: of a ship's section with water and trapped air inside, in poses all round, against the sum over a
// lattice of points (400 × 400 midpoints; cells that the waterline and the outline cut are some 1e-3 of the thrust off).
func TestEndPressureOfShip(t *testing.T) {
	spec := barge()
	spec.Hull = HullSpec{Offsets: ship()}
	spec.Openings, spec.Marks, spec.Bulkheads = nil, nil, nil
	spec.Compartments, spec.Joints = []CompartmentSpec{{Name: "hold", Permeability: ptr(0.7)}}, nil
	for i := range spec.Weights {
		spec.Weights[i].Density = nil
	}
	v := mustBuild(t, jointsAt(spec, 0.43))
	f := NewFloater(v.Whole, v.Water.Density, true)
	rg, form := v.Water.Density*grav, v.Whole.Form
	outline := form.Section(solid.Plane{N: r3.Vec{X: 1}, D: 0.43})
	room := v.Spaces[0].Room.Section(solid.Plane{N: r3.Vec{X: 1}, D: 0.43})
	for _, up := range []r3.Vec{Inclined(0.3, 0.1), Inclined(2, -0.4), Inclined(-1.2, 1.3), Inclined(0, -1.57), Inclined(3, 0.02)} {
		low, high := form.Reach(up)
		a := posed(v, f, Pose{Up: up, Sea: low + 0.6*(high-low)}, []float64{1.5e-3})
		a.c.Air = []float64{120}
		got := a.joints()[0]
		level := a.c.Surfaces[0].Level
		var force, moment float64
		lo, hi := outline.Bounds()
		const n = 400
		cell := (hi.Y - lo.Y) * (hi.Z - lo.Z) / (n * n)
		for i := range n {
			for j := range n {
				p := r3.Vec{X: 0.43, Y: lo.Y + (hi.Y-lo.Y)*(float64(i)+0.5)/n, Z: lo.Z + (hi.Z-lo.Z)*(float64(j)+0.5)/n}
				if !holds(outline, p.Y, p.Z) {
					continue
				}
				pressure := rg * math.Max(0, -a.c.Pose.Height(p))
				if holds(room, p.Y, p.Z) {
					pressure -= 120 + rg*math.Max(0, level-r3.Dot(up, p))
				}
				force += pressure * cell
				moment -= pressure * cell * p.Z
			}
		}
		scale := rg * areaOf(outline) * 0.1
		near(t, "thrust", got.Axial/scale, force/scale, 1e-3)
		near(t, "moment", got.EndMoment/scale/0.1, moment/scale/0.1, 1e-3)
	}
}

// TestWhoKeepsTheBulkhead: with water on both sides of a bulkhead in the plane, that of the side without the plate presses
// on what lies before the plane, from its open face; none of it does between two plates. By the balance of the free body.
func TestWhoKeepsTheBulkhead(t *testing.T) {
	const b = 0.2
	thrust := func(v *Vessel, depth float64) float64 { return v.Water.Density * grav * b * depth * depth / 2 }
	for _, off := range []float64{0, 0.4e-3, -0.4e-3} { // within half a millimetre it stands in the plane
		spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.5)
		spec.Bulkheads = []BulkheadSpec{{Name: "B", At: 0.5 + off}}
		spec.Compartments = []CompartmentSpec{{Name: "aft"}, {Name: "fore"}}
		const aft, fore = 0.03, 0.05 // depths
		water := []float64{aft * b * (0.5 + off), fore * b * (0.7 - off)}
		for keeps, inside := range map[KeepKind]float64{KeepAfter: fore, KeepForward: aft, KeepBoth: 0, "": 0} {
			spec.Joints[0].Keeps = keeps
			v := mustBuild(t, spec)
			a := posed(v, NewFloater(v.Whole, v.Water.Density, true), Upright(0.07), water)
			want := thrust(v, 0.07) - thrust(v, inside)
			near(t, "keeps "+string(keeps), a.joints()[0].Axial, want, 1e-10*a.scale)
		}
		spec.Joints[0].Keeps = KeepBoth
		spec.Bulkheads[0].Top = ptr(0.02) // over the top there is one water, here of two heads: the mean
		v := mustBuild(t, spec)
		a := posed(v, NewFloater(v.Whole, v.Water.Density, true), Upright(0.07), water)
		want := thrust(v, 0.07) - (thrust(v, aft-0.02)+thrust(v, fore-0.02))/2
		near(t, "over the top", a.joints()[0].Axial, want, 1e-10*a.scale)
	}
}

// TestBoxEndsInThePlane: a box's wall in the plane holds the water beside it; the water counts from the side where it stands
// over the whole section.
func TestBoxEndsInThePlane(t *testing.T) {
	spec := jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.5)
	spec.Compartments = []CompartmentSpec{
		{Name: "hold"}, {Name: "tank", X: &[2]float64{0.5, 0.7}, Y: &[2]float64{0, 0.1}, Z: &[2]float64{0, 0.06}},
	}
	v := mustBuild(t, spec)
	a := posed(v, NewFloater(v.Whole, v.Water.Density, true), Upright(0.07), []float64{0.03 * (0.2*1.2 - 0.1*0.2), 1e-4})
	rg := v.Water.Density * grav
	near(t, "thrust", a.joints()[0].Axial, rg*0.2*(0.07*0.07-0.03*0.03)/2, 1e-10*a.scale)
}

// TestLoadsOfPiecesInARow: two pieces that hang together after the third has gone bear at their joint what the whole bears
// there in the same pose with the same waters, since what lies before the joint is the same.
func TestLoadsOfPiecesInARow(t *testing.T) {
	spec := barge()
	spec.Joints = nil
	a := newLoaded(t, jointsAt(spec, 0.31, 0.5, 0.65), []float64{1e-4, 3e-4, 1e-4, 2e-4})
	s := a.made.sections
	two := a.BodyOf(2, 3)
	c := LoadCase{Pose: a.c.Pose}
	for _, sp := range two.Spaces {
		c.Surfaces = append(c.Surfaces, a.c.Surfaces[sp.Index])
	}
	out := make([]Load, 1)
	l := a.NewLoads(two, true)
	l.AtJoints(&c, out)
	want := a.joints()[2]
	for k, pair := range [5][2]float64{{out[0].Bending, want.Bending}, {out[0].Shear, want.Shear}, {out[0].Torsion, want.Torsion},
		{out[0].Axial, want.Axial}, {out[0].EndMoment, want.EndMoment}} {
		near(t, "load "+string(rune('0'+k)), pair[0], pair[1], 1e-12*a.scale)
	}
	curve := l.Curve(&c)
	if from, _ := s.bounds(2); curve.X[0] != from {
		t.Errorf("the curve starts at %g, want %g", curve.X[0], from)
	}
}
