package compartment

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestRodInMotion: a rod in the air that is turned about its after end and lifted, against −∫(g + a) dm of one side by hand:
// a = a₀ − αx with α about y, and with a spin about y the pull along x changes nothing across it.
func TestRodInMotion(t *testing.T) {
	const m, l, at, a0, alpha = 3.0, 1.2, 0.5, 2.0, 7.0
	spec := jointsAt(laden(l, [3]float64{m, 0, l}), at)
	spec.Weights[0].At.Z = 0
	v := mustBuild(t, spec)
	a := posed(v, NewFloater(v.Whole, v.Water.Density, true), Upright(-1), make([]float64, 1))
	a.c.Motion = &Motion{Linear: r3.Vec{X: 5, Z: a0}, Angular: r3.Vec{Y: alpha}, Spin: r3.Vec{Y: 3}}
	shear := m / l * ((grav+a0)*(l-at) - alpha*(l*l-at*at)/2)
	bending := m / l * ((grav+a0)*(l-at)*(l-at)/2 - alpha*((l*l*l-at*at*at)/3-at*(l*l-at*at)/2))
	for name, got := range map[string]Load{"at the joint": a.joints()[0], "at any place": a.loads.At(at, &a.c)} {
		near(t, name+": shear", got.Shear, shear, 1e-12*a.scale)
		near(t, name+": bending", got.Bending, bending, 1e-12*a.scale)
	}
	a.c.Motion = &Motion{Spin: r3.Vec{X: 3, Y: 4}} // ω × (ω × r) has (ω·r)ω − ω²r along z: nothing, for a rod along x
	near(t, "spin across", a.joints()[0].Shear, m/l*grav*(l-at), 1e-12*a.scale)
	a.c.Motion = &Motion{Spin: r3.Vec{X: 3, Z: 4}} // upward: ω_z ω_x x
	near(t, "spin about a slanting axis", a.joints()[0].Shear, m/l*(grav*(l-at)+12*(l*l-at*at)/2), 1e-12*a.scale)
}

// TestFreeFall: what falls with g has no weight; the loads are those of the buoyancy alone.
func TestFreeFall(t *testing.T) {
	spec := barge()
	spec.Joints = nil
	a := newLoaded(t, jointsAt(spec, 0.31, 0.65), []float64{1e-4, 3e-4, 1e-4, 2e-4})
	a.c.Motion = &Motion{Linear: r3.Scale(-grav, a.c.Pose.Up)}
	got := a.joints()
	a.loads.masses.pieces = nil
	for k := range a.loads.pieces {
		a.loads.pieces[k].mass = lump{}
		a.loads.pieces[k].parts = nil
	}
	a.c.Motion = nil
	for k, want := range a.joints() {
		near(t, "shear", got[k].Shear, want.Shear, 1e-12*a.scale)
		near(t, "bending", got[k].Bending, want.Bending, 1e-12*a.scale)
		near(t, "torsion", got[k].Torsion, want.Torsion, 1e-12*a.scale)
	}
}

// TestBothSidesAgreeInMotion: out of balance and turning, with the accelerations that mass, centre and second moments of the whole body
// give it, the loads from both sides are the same again (d'Alembert): the pieces' masses add up to the whole's.
func TestBothSidesAgreeInMotion(t *testing.T) {
	spec := barge()
	spec.Joints = nil
	spec.Hull.Shell = ShellSpec{Mass: ptr(0.6), At: &r3.Vec{X: 0.45, Z: 0.05}}
	at := []float64{0.31, 0.65}
	v := mustBuild(t, jointsAt(spec, at...))
	f := NewFloater(v.Whole, v.Water.Density, true)
	pose := Pose{Up: Inclined(0.3, -0.2), Sea: 0.05}
	a := posed(v, f, pose, make([]float64, 4))
	var b Balance
	f.Weigh(pose, &b)
	// Newton and Euler: the centre of mass goes up by what buoys it beyond its weight, and about it the body turns as its moments of inertia
	// have it, but not about up, where nothing turns it.
	rg, centre := v.Water.Density*grav, f.Centre
	rise := rg*b.Displaced/f.Mass - grav
	torque := r3.Cross(r3.Sub(r3.Scale(rg, b.Buoyancy), r3.Scale(rg*b.Displaced, centre)), pose.Up)
	about := f.Inertia.Add(outer(centre).Scale(-f.Mass))
	inertia := func(w r3.Vec) r3.Vec { return r3.Sub(r3.Scale(about.XX+about.YY+about.ZZ, w), about.Apply(w)) }
	ip, ir := inertia(b.Pitch), inertia(b.Roll)
	spin := r3.Sub(r3.Scale(0.8, b.Pitch), r3.Scale(1.1, b.Roll))
	torque = r3.Sub(torque, r3.Cross(spin, inertia(spin)))
	m := mat.NewDense(2, 2, []float64{r3.Dot(ip, b.Pitch), r3.Dot(ir, b.Pitch), r3.Dot(ip, b.Roll), r3.Dot(ir, b.Roll)})
	var x mat.VecDense
	if err := x.SolveVec(m, mat.NewVecDense(2, []float64{r3.Dot(torque, b.Pitch), r3.Dot(torque, b.Roll)})); err != nil {
		t.Fatal(err)
	}
	turn := r3.Add(r3.Scale(x.AtVec(0), b.Pitch), r3.Scale(x.AtVec(1), b.Roll))
	lifts := r3.Add(r3.Cross(turn, centre), r3.Cross(spin, r3.Cross(spin, centre))) // of the centre of mass, seen from the origin
	a.c.Motion = &Motion{Linear: r3.Scale(rise-r3.Dot(pose.Up, lifts), pose.Up), Angular: turn, Spin: spin}
	if math.Abs(rise) < 0.1 || r3.Norm(turn) < 0.1 {
		t.Fatalf("accelerations %g, %g: too easy a case", rise, turn)
	}
	got, abaft := a.joints(), upward{}
	for k := range at {
		abaft = abaft.plus(a.loads.sums[k])
		other := abaft.load(pose.Up, at[k])
		near(t, "shear", -other.Shear, got[k].Shear, 1e-11*a.scale)
		near(t, "bending", -other.Bending, got[k].Bending, 1e-11*a.scale)
		near(t, "torsion", -other.Torsion, got[k].Torsion, 1e-11*a.scale)
		any := a.loads.At(at[k], &a.c)
		near(t, "bending of At", any.Bending, got[k].Bending, 1e-11*a.scale)
		near(t, "torsion of At", any.Torsion, got[k].Torsion, 1e-11*a.scale)
	}
}

// TestLastDropInLoads: of hardly any water the moment over the volume is no place, and the load is its weight.
func TestLastDropInLoads(t *testing.T) {
	c := LoadCase{Pose: Upright(0), Motion: &Motion{Linear: r3.Vec{X: 5, Z: 2}, Angular: r3.Vec{Y: 3}, Spin: r3.Vec{X: 1, Y: 2}}}
	for _, volume := range []float64{0, 5e-324, 1e-310, 1e-40, 1e-16} {
		got := c.waterOf(volume, r3.Vec{X: 3 * volume, Y: 1e-19}, 9810)
		if got.force != -9810*volume || got.first != (r3.Vec{X: -9810 * 3 * volume, Y: -9810 * 1e-19}) {
			t.Errorf("%g m³: %+v", volume, got)
		}
	}
}
