package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// loaded is a body of a vessel at a pose with its loads.
type loaded struct {
	*Vessel
	floater *Floater
	loads   *Loads
	c       LoadCase
	scale   float64 // N, the weight of all
}

// newLoaded lets the whole float: at rest from the start, with water m³ in its spaces; nil: dry.
func newLoaded(t testing.TB, spec Spec, water []float64) *loaded {
	t.Helper()
	v := mustBuild(t, spec)
	f := NewFloater(v.Whole, v.Water.Density, true)
	if water == nil {
		water = make([]float64, len(v.Spaces))
	}
	sea, _, _ := v.Whole.Form.Offset(r3.Vec{Z: 1}, f.Mass/v.Water.Density, nan)
	rest := f.Settle(Upright(sea), water, SearchStride, nil)
	if !rest.Stable {
		t.Fatal("it finds no rest")
	}
	return posed(v, f, rest.Pose, water)
}

// posed puts the whole into a pose, in balance or not.
func posed(v *Vessel, f *Floater, p Pose, water []float64) *loaded {
	f.Levels(p.Up, water)
	a := &loaded{Vessel: v, floater: f, loads: v.NewLoads(v.Whole, true), c: LoadCase{Pose: p, Surfaces: f.Surfaces()}}
	a.scale = f.Mass * hydro.Gravity
	for _, w := range water {
		a.scale += w * v.Water.Density * hydro.Gravity
	}
	return a
}

func (a *loaded) joints() []Load {
	out := make([]Load, len(a.Pieces)-1)
	a.loads.AtJoints(&a.c, out)
	return out
}

// laden is a box barge of a length, 0.2 × 0.13 m across, without a shell, with weights low down that are spread as given:
// triples of kg, from and to.
func laden(length float64, loads ...[3]float64) Spec {
	spec := Spec{
		Water: WaterSpec{Kind: Fresh, Temperature: 288.15},
		Hull:  HullSpec{Box: &BoxSpec{Length: length, Breadth: 0.2, Depth: 0.13}},
	}
	for i, l := range loads {
		w := WeightSpec{Name: string(rune('a' + i)), Mass: l[0], At: r3.Vec{X: (l[1] + l[2]) / 2, Z: 0.03}}
		if l[2] > l[1] {
			w.Over = &[2]float64{l[1], l[2]}
		}
		spec.Weights = append(spec.Weights, w)
	}
	return spec
}

// jointsAt cuts a hull at places, with the pieces p0, p1, …
func jointsAt(spec Spec, at ...float64) Spec {
	name := func(k int) string { return "p" + string(rune('0'+k)) }
	for k, x := range at {
		spec.Joints = append(spec.Joints, JointSpec{Name: "J" + string(rune('1'+k)), At: x, Sections: [2]string{name(k), name(k + 1)}})
	}
	return spec
}

const grav = hydro.Gravity

// TestBoxBargesBend: box barges on an even keel against the closed forms of ship beam theory (load less buoyancy, integrated
// twice; the formulas are those of the rows of BE-01 and BE-03 to BE-05 where they are named, classical results that follow
// from M = Σ moments of one side).
func TestBoxBargesBend(t *testing.T) {
	const l, p = 1.2, 6.0
	for _, c := range []struct {
		name                  string
		spec                  Spec
		at                    float64
		bending, shear, peakX float64 // N·m, N (magnitude of the greatest); NaN: any
		length                float64
	}{
		{"uniform load: nothing anywhere", laden(l, [3]float64{p, 0, l}), l / 2, 0, 0, nan, l},
		{"BE-03: a point load amidships sags by PL/8", laden(l, [3]float64{p, l / 2, l / 2}), l / 2, -p * grav * l / 8, p * grav / 2, l / 2, l},
		{"BE-03 with uniform weight beside it", laden(l, [3]float64{p, 0, l}, [3]float64{p, l / 2, l / 2}), l / 2, -p * grav * l / 8, p * grav / 2, l / 2, l},
		{"BE-04: the middle half loaded sags by PL/16", laden(l, [3]float64{p, l / 4, 3 * l / 4}), l / 2, -p * grav * l / 16, p * grav / 4, l / 2, l},
		{"BE-04: two end quarters loaded hog by PL/16", laden(l, [3]float64{p / 2, 0, l / 4}, [3]float64{p / 2, 3 * l / 4, l}), l / 2,
			p * grav * l / 16, p * grav / 4, l / 2, l},
		{"BE-05: three holds, ends loaded, hog by WL/24", laden(l, [3]float64{p / 2, 0, l / 3}, [3]float64{p / 2, 2 * l / 3, l}), l / 2,
			p * grav * l / 24, p * grav / 6, l / 2, l},
		{"BE-05: three holds, the middle one loaded, sag by WL/12", laden(l, [3]float64{p, l / 3, 2 * l / 3}), l / 2,
			-p * grav * l / 12, p * grav / 3, l / 2, l},
		{"points at both ends hog by PL/8", laden(l, [3]float64{p / 2, 0, 0}, [3]float64{p / 2, l, l}), l / 2, p * grav * l / 8, p * grav / 2, l / 2, l},
		// BE-01 (Tupper, Introduction to Naval Architecture, ex. 7.1; the answer computed from M = 5000(140 − 10)/8 t·m) in a
		// model at 1:100: moments 1e-8 of it, masses 1e-6.
		{"BE-01: barge of 140 m with 5000 t over the central 10 m", laden(1.4, [3]float64{20.83, 0, 1.4}, [3]float64{5, 0.65, 0.75}), 0.7,
			-81250e3 * 1e-8 * grav, 2321.4285714e3 * 1e-6 * grav, 0.7, 1.4},
	} {
		a := newLoaded(t, c.spec, nil)
		per := a.scale * c.length
		curve := a.loads.Curve(&a.c)
		near(t, c.name+": bending", a.loads.At(c.at, &a.c).Bending/per, c.bending/per, 1e-10)
		near(t, c.name+": peak", curve.Peak.Value/per, c.bending/per, 1e-10)
		near(t, c.name+": greatest shear", math.Abs(curve.PeakShear.Value)/a.scale, c.shear/a.scale, 2e-10)
		if !math.IsNaN(c.peakX) {
			near(t, c.name+": its place", curve.Peak.X/c.length, c.peakX/c.length, 2e-7)
		}
		first, last := curve.Bending[0], curve.Bending[len(curve.Bending)-1]
		near(t, c.name+": bending at the ends", math.Max(math.Abs(first), math.Abs(last))/per, 0, 1e-12)
	}
}

// TestSimplySupportedBeam: a hull of two floats far apart is a beam on two supports (BE-02: M = wx(l − x)/2, shear
// w(l − 2x)/2, Derrett, Ship Stability for Masters and Mates, p. 336). BE-08, load growing from nothing at one end: M = w l²/(9√3)
// at l/√3 from the light end (Derrett, exercise 40 no. 1): the floats are 1 : 2 broad, so that it lies level.
func TestSimplySupportedBeam(t *testing.T) {
	const l, e, mass = 1.0, 0.08, 1.5
	floats := func(after, fore float64) Spec {
		var mesh MeshSpec
		for _, b := range [2]*solid.Solid{
			solid.Box(r3.Vec{X: -e / 2, Y: -after / 2}, r3.Vec{X: e / 2, Y: after / 2, Z: 0.2}),
			solid.Box(r3.Vec{X: l - e/2, Y: -fore / 2}, r3.Vec{X: l + e/2, Y: fore / 2, Z: 0.2}),
		} {
			for tri := range b.Triangles() {
				mesh.Triangles = append(mesh.Triangles, tri)
			}
		}
		return Spec{Water: WaterSpec{Kind: Fresh, Temperature: 288.15}, Hull: HullSpec{Mesh: &mesh}}
	}
	beam := floats(0.2, 0.2)
	beam.Weights = []WeightSpec{{Name: "load", Mass: mass, At: r3.Vec{X: l / 2, Z: 0.01}, Over: &[2]float64{0, l}}}
	a := newLoaded(t, beam, nil)
	per, w := a.scale*l, mass*grav/l
	for _, x := range []float64{0.1, 0.25, 0.5, 0.77} {
		load := a.loads.At(x, &a.c)
		near(t, "BE-02 bending", load.Bending/per, -w*x*(l-x)/2/per, 1e-10)
		near(t, "BE-02 shear", load.Shear/a.scale, w*(l-2*x)/2/a.scale, 1e-10) // abaft the middle the after float pushes up
	}
	growing := floats(0.15, 0.3)
	growing.Weights = []WeightSpec{{Name: "load", Mass: mass, At: r3.Vec{X: 2 * l / 3, Z: 0.01}, Over: &[2]float64{0, l}}}
	a = newLoaded(t, growing, nil)
	peak := a.loads.Curve(&a.c).Peak
	near(t, "BE-08 bending", peak.Value/per, -2*w*l*l/(9*math.Sqrt(3))/per, 1e-10)
	near(t, "BE-08 place", peak.X, l/math.Sqrt(3), 2e-7)
}

// column is what a trimmed box of water, B broad, adds between two places along x: its surface stands at u·x = level. By
// direct integration of h(x) = (level − u_x x)/u_z, ∫h, ∫hx and ∫h²/2 dx, for one side of a plane.
func column(up r3.Vec, level, breadth, a, b float64) upward {
	h := func(x float64) float64 { return (level - up.X*x) / up.Z }
	ha, hb, hm := h(a), h(b), h((a+b)/2)
	simpson := func(f func(x, h float64) float64) float64 { // exact: the integrands are of degree two
		return breadth * (b - a) / 6 * (f(a, ha) + 4*f((a+b)/2, hm) + f(b, hb))
	}
	return upward{force: simpson(func(_, h float64) float64 { return h }), first: r3.Vec{
		X: simpson(func(x, h float64) float64 { return x * h }),
		Z: simpson(func(_, h float64) float64 { return h * h / 2 }),
	}}
}

// TestFloodedEnd: a box barge with its fore end flooded, trimmed by it, against the closed form of one side (the integrals of
// column above, and the bending of the contract, ΣF(z u_x − x u_z) about the keel-line point).
func TestFloodedEnd(t *testing.T) {
	const l, at = 1.2, 0.9
	spec := jointsAt(laden(l, [3]float64{6, 0, l}), 0.5, at)
	spec.Bulkheads = []BulkheadSpec{{Name: "B", At: at}}
	spec.Compartments = []CompartmentSpec{{Name: "aft"}, {Name: "fore", Permeability: ptr(0.8)}}
	a := newLoaded(t, spec, []float64{0, 0.8e-3})
	up, rg := a.c.Pose.Up, a.Water.Density*grav
	if trim := a.c.Pose.Trim(); trim < 0.01 || trim > 0.05 {
		t.Fatalf("trim %g: the formula wants a surface that meets the ends only", trim)
	}
	for k, x := range []float64{0.5, at} {
		sea := column(up, a.c.Pose.Sea, 0.2, x, l).times(rg)
		weight := upward{force: -6 * grav * (l - x) / l, first: r3.Scale(-6*grav*(l-x)/l, r3.Vec{X: (l + x) / 2, Z: 0.03})}
		water := column(up, a.c.Surfaces[1].Level, 0.2, at, l).times(-0.8 * rg)
		sum := sea.plus(weight).plus(water)
		got := a.joints()[k]
		near(t, "shear", got.Shear/a.scale, -sum.force/a.scale, 1e-11)
		near(t, "bending", got.Bending/a.scale, (sum.first.Z*up.X-(sum.first.X-x*sum.force)*up.Z)/a.scale, 1e-11)
		near(t, "torsion", got.Torsion/a.scale, 0, 1e-12)
	}
	// Flooded to sea level through a large hole, it carries nothing: what is left before the bulkhead is its own weight.
	spec.Compartments[1].Permeability = nil
	v := mustBuild(t, spec)
	a = posed(v, NewFloater(v.Whole, v.Water.Density, true), a.c.Pose, make([]float64, 2))
	a.floater.Fill(1, up, a.c.Pose.Sea)
	w := 6 * grav * (l - at) / l
	near(t, "shear of a bilged end", a.joints()[1].Shear, w, 1e-11*a.scale)
	near(t, "bending of a bilged end", a.joints()[1].Bending, w*((l-at)/2*up.Z-0.03*up.X), 1e-11*a.scale)
}

// TestBargeOnEnd: a box that stands on its after end, the fore end up; in equilibrium. Weights w at z_w, buoyancy at the
// middle of the depth: bending is ΣF z (up = e_x), shear −ΣF, all of it by hand.
func TestBargeOnEnd(t *testing.T) {
	const l, d = 1.2, 0.13
	spec := jointsAt(laden(l, [3]float64{3, 0, l}, [3]float64{6, 0.01, 0.01}), 0.2, 0.8)
	for i := range spec.Weights {
		spec.Weights[i].At.Z = d / 2
	}
	v := mustBuild(t, spec)
	f := NewFloater(v.Whole, v.Water.Density, true)
	draft := f.Mass / v.Water.Density / (0.2 * d)
	for name, trim := range map[string]float64{"bow up": -math.Pi / 2, "bow down": math.Pi / 2} {
		up := r3.Vec{X: -math.Sin(trim)}
		sea := draft
		if up.X < 0 {
			sea = draft - l
		}
		a := posed(v, f, Pose{Up: up, Sea: sea}, make([]float64, 1))
		for k, x := range []float64{0.2, 0.8} {
			wet := math.Max(0, draft-x)
			if up.X < 0 {
				wet = math.Min(draft, l-x)
			}
			sum := a.Water.Density*grav*0.2*d*wet - 3*grav*(l-x)/l
			got := a.joints()[k]
			near(t, name+": shear", got.Shear, -sum, 1e-11*a.scale)
			near(t, name+": bending", got.Bending, sum*d/2*up.X, 1e-11*a.scale)
			near(t, name+": bending at any place", a.loads.At(x, &a.c).Bending, got.Bending, 1e-11*a.scale)
		}
	}
}

// TestBothSidesAgree: at rest nothing is left over, so the loads from the fore side and from the after side are the same to
// 1e-9 of weight and weight × length; whole hulls with divided spaces, appendages, water, list and trim. The after side is
// summed by itself.
func TestBothSidesAgree(t *testing.T) {
	shipSpec := func(shell ShellSpec) Spec {
		spec := barge()
		spec.Hull = HullSpec{Offsets: ship(), Shell: shell}
		spec.Openings, spec.Marks = nil, nil
		spec.Compartments[2] = CompartmentSpec{Name: "wing", X: &[2]float64{0.6, 0.8}, Y: &[2]float64{0.02, 0.06}, Z: &[2]float64{0.02, 0.06}}
		spec.Weights[1].At.Y = 0.004
		return spec
	}
	for name, spec := range map[string]Spec{
		"box":        barge(),
		"ship":       shipSpec(ShellSpec{Mass: ptr(0.6), At: &r3.Vec{X: 0.5, Z: 0.05}, Density: ptr(1050.0)}),
		"ship plate": shipSpec(ShellSpec{Thickness: ptr(0.0012), Density: ptr(1050.0)}),
	} {
		spec.Joints = nil
		a := newLoaded(t, jointsAt(spec, 0.31, 0.5, 0.65), []float64{1e-4, 3e-4, 1e-4, 2e-4})
		got, per := a.joints(), a.scale*1.0
		for k, x := range []float64{0.31, 0.5, 0.65} {
			var abaft upward
			for i := 0; i <= k; i++ {
				abaft = abaft.plus(a.loads.sums[i])
			}
			other := abaft.load(a.c.Pose.Up, x)
			near(t, name+": shear from abaft", -other.Shear/a.scale, got[k].Shear/a.scale, 1e-10)
			near(t, name+": bending from abaft", -other.Bending/per, got[k].Bending/per, 1e-10)
			near(t, name+": torsion from abaft", -other.Torsion/per, got[k].Torsion/per, 1e-10)
			at := a.loads.At(x, &a.c) // cut by the water planes first, masses by their lines
			near(t, name+": shear of At", at.Shear/a.scale, got[k].Shear/a.scale, 1e-11)
			near(t, name+": bending of At", at.Bending/per, got[k].Bending/per, 1e-11)
			near(t, name+": torsion of At", at.Torsion/per, got[k].Torsion/per, 1e-11)
			near(t, name+": axial of At", at.Axial/a.scale, got[k].Axial/a.scale, 1e-11)
			near(t, name+": end moment of At", at.EndMoment/per, got[k].EndMoment/per, 1e-11)
		}
		if math.Abs(got[1].Bending) < 1e-4*per || math.Abs(a.c.Pose.Heel()) < 1e-3 {
			t.Errorf("%s: bending %g and heel %g, too easy a case", name, got[1].Bending, a.c.Pose.Heel())
		}
	}
}

// TestShearIsTheSlopeOfBending: on an even keel dM/dx = ΣF = −Shear, so between two places of the curve without a knot
// between them M changes by −∫ Shear dx; by Gauss's rule with three points, exact for the cubic shear of a box.
func TestShearIsTheSlopeOfBending(t *testing.T) {
	spec := laden(1.2, [3]float64{3, 0.1, 0.5}, [3]float64{4, 0.6, 1.15}, [3]float64{1, 0.55, 0.55})
	v := mustBuild(t, spec)
	a := posed(v, NewFloater(v.Whole, v.Water.Density, true), Upright(0.05), make([]float64, 1))
	curve := a.loads.Curve(&a.c)
	node := math.Sqrt(0.6) / 2
	for i := 1; i < len(curve.X); i++ {
		x, h := (curve.X[i]+curve.X[i-1])/2, curve.X[i]-curve.X[i-1]
		if h < 1e-9 {
			continue // the two sides of a jump
		}
		s := func(x float64) float64 { return a.loads.At(x, &a.c).Shear }
		area := h * (5*s(x-node*h) + 8*s(x) + 5*s(x+node*h)) / 18
		near(t, "rise of bending", (curve.Bending[i]-curve.Bending[i-1])/a.scale, -area/a.scale, 1e-13)
	}
}

// TestPointWeightInThePlane belongs to the forward side.
func TestPointWeightInThePlane(t *testing.T) {
	a := newLoaded(t, jointsAt(laden(1.2, [3]float64{6, 0, 1.2}, [3]float64{2, 0.6, 0.6}), 0.6), nil)
	near(t, "shear", a.joints()[0].Shear, grav, 1e-10*a.scale) // the after side bears half of it
	curve := a.loads.Curve(&a.c)
	for i, x := range curve.X {
		if x == 0.6 {
			near(t, "shear in the curve", curve.Shear[i], grav, 1e-10*a.scale)
			near(t, "shear behind the jump", curve.Shear[i+1], -grav, 1e-10*a.scale)
		}
	}
}

// TestAtJointsAllocatesNothing: it is asked for at every step of a run.
func TestAtJointsAllocatesNothing(t *testing.T) {
	a := newLoaded(t, jointsAt(laden(1.2, [3]float64{6, 0, 1.2}), 0.3, 0.6), []float64{1e-3})
	out := make([]Load, 2)
	if n := testing.AllocsPerRun(20, func() { a.loads.AtJoints(&a.c, out) }); n > 0 {
		t.Errorf("%g allocations a call", n)
	}
}
