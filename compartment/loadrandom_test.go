package compartment

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

var loadTrials = flag.Int("loadtrials", 25, "how many random hulls TestLoadsOfRandomHulls loads")

// sound draws descriptions that mostly can be built: hulls, walls, boxes, weights of all kinds, one to three joints.
type sound struct{ *rand.Rand }

func (r sound) between(a, b float64) float64 { return a + (b-a)*r.Float64() }

func (r sound) spec() Spec {
	s := Spec{Water: WaterSpec{Kind: Sea, Temperature: 288}, Hull: HullSpec{Box: &BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.12}}}
	if r.IntN(2) == 0 {
		s.Hull = HullSpec{Offsets: ship()}
	}
	switch r.IntN(3) {
	case 0:
		s.Hull.Shell = ShellSpec{Thickness: ptr(r.between(5e-4, 2e-3)), Density: ptr(1000.0)}
	case 1:
		s.Hull.Shell = ShellSpec{Mass: ptr(r.between(0.3, 1)), At: &r3.Vec{X: r.between(0.4, 0.6), Z: 0.04}, Density: ptr(1100.0)}
	}
	if r.IntN(3) > 0 {
		s.Compartments = []CompartmentSpec{{Name: "w0", Permeability: ptr(r.between(0.5, 1))}}
		for at := r.between(0.1, 0.4); at < 0.9 && r.IntN(4) > 0; at += r.between(0.1, 0.4) {
			name := "w" + string(rune('0'+len(s.Compartments)))
			s.Bulkheads = append(s.Bulkheads, BulkheadSpec{Name: "B" + name, At: at})
			s.Compartments = append(s.Compartments, CompartmentSpec{Name: name})
		}
		if r.IntN(2) == 0 {
			x := r.between(0.3, 0.6)
			s.Compartments = append(s.Compartments, CompartmentSpec{Name: "box", X: &[2]float64{x, x + 0.2}, Y: &[2]float64{0, 0.05}, Z: &[2]float64{0.01, 0.06}})
		}
	}
	for k := range 2 + r.IntN(3) {
		w := WeightSpec{Name: "m" + string(rune('0'+k)), Mass: r.between(0.1, 0.5), At: r3.Vec{X: r.between(0.1, 0.9), Y: r.between(-0.01, 0.01), Z: r.between(0, 0.05)}}
		switch r.IntN(4) {
		case 0:
			w.Size = &[3]float64{r.between(0.01, 0.2), 0.03, 0.01}
		case 1:
			w.Over = &[2]float64{w.At.X - 0.1, w.At.X + r.between(0.06, 0.2)}
		}
		if r.IntN(3) == 0 && w.Size != nil {
			w.Density = ptr(8000.0)
		}
		s.Weights = append(s.Weights, w)
	}
	at := r.between(0.15, 0.4)
	if len(s.Bulkheads) > 0 && r.IntN(3) == 0 { // in a bulkhead's plane
		at = s.Bulkheads[0].At
	}
	var joints []float64
	for n := 1 + r.IntN(3); n > 0 && at < 0.9; n-- {
		joints = append(joints, at)
		at += r.between(0.05, 0.3)
	}
	return jointsAt(s, joints...)
}

// TestLoadsOfRandomHulls: at rest the loads from both sides agree to 1e-9; in any pose and with any water, those at the joints
// (sums over pieces) are those at the same places by the other way (masses along their lines, wet parts asked from x on); a
// hull cut at one more place bears there what it bore uncut; the curve starts and ends with nothing at rest.
func TestLoadsOfRandomHulls(t *testing.T) {
	r, agreed := sound{rand.New(rand.NewPCG(6, 25))}, 0
	for trial := range *loadTrials {
		spec := r.spec()
		v, err := Build(spec)
		if err != nil || nearlyInPlane(&spec, spec.Joints) {
			continue
		}
		f := NewFloater(v.Whole, v.Water.Density, true)
		water := make([]float64, len(v.Spaces))
		for i, s := range v.Spaces {
			water[i] = s.Capacity() * max(0, r.between(-0.3, 0.4))
			if r.IntN(10) == 0 {
				water[i] = s.Capacity()
			}
		}
		up := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
		low, high := v.Whole.Form.Reach(up)
		a := posed(v, f, Pose{Up: up, Sea: r.between(low, high)}, water)
		for k, load := range a.joints() {
			sameLoads(t, trial, a, "At", a.loads.At(v.Spec.Joints[k].At, &a.c), load)
		}
		x := r.between(0.05, 0.95)
		if more, err := Build(withJoint(v.Spec, x)); err == nil && !nearlyInPlane(&spec, more.Spec.Joints) {
			b := posed(more, NewFloater(more.Whole, more.Water.Density, true), a.c.Pose, water)
			for k, j := range more.Spec.Joints {
				sameLoads(t, trial, b, "one more joint", a.loads.At(j.At, &a.c), b.joints()[k])
			}
		}
		if f.Room(water) <= 0 {
			continue
		}
		rest := f.Settle(a.c.Pose, water, FallStride, nil)
		if !rest.Stable {
			continue
		}
		agreed++
		a = posed(v, f, rest.Pose, water)
		sides(t, trial, a)
		if t.Failed() {
			t.Fatalf("trial %d", trial)
		}
	}
	t.Logf("%d of %d found a rest", agreed, *loadTrials)
	if agreed < *loadTrials/3 {
		t.Errorf("only %d of %d hulls were compared at rest", agreed, *loadTrials)
	}
}

// nearlyInPlane tells whether a bulkhead stands in a joint's plane by courtesy: within half a millimetre. Its space then
// belongs to one side of the joint, which a cut at the plane does not know.
func nearlyInPlane(s *Spec, joints []JointSpec) bool {
	for _, j := range joints {
		for _, b := range s.Bulkheads {
			if d := math.Abs(j.At - b.At); d > 0 && d <= joined {
				return true
			}
		}
		for _, c := range s.Compartments {
			if c.X != nil && (math.Abs(j.At-c.X[0]) <= joined || math.Abs(j.At-c.X[1]) <= joined) {
				return true
			}
		}
	}
	return false
}

// withJoint is a description with one more joint.
func withJoint(s Spec, x float64) Spec {
	var at []float64
	for _, j := range s.Joints {
		if j.At > x && (len(at) == 0 || at[len(at)-1] < x) {
			at = append(at, x)
		}
		at = append(at, j.At)
	}
	if at[len(at)-1] < x {
		at = append(at, x)
	}
	s.Joints = nil
	return jointsAt(s, at...)
}

func sameLoads(t *testing.T, trial int, a *loaded, how string, got, want Load) {
	t.Helper()
	scale := a.Water.Density * grav * a.Whole.Form.Volume()
	for k, p := range [5][2]float64{{got.Bending, want.Bending}, {got.Shear, want.Shear}, {got.Torsion, want.Torsion},
		{got.Axial, want.Axial}, {got.EndMoment, want.EndMoment}} {
		if !(math.Abs(p[0]-p[1]) <= 1e-10*scale) {
			t.Errorf("trial %d, %s: load %d is %g, want %g (scale %g)", trial, how, k, p[0], p[1], scale)
		}
	}
}

// sides compares the loads from the fore and the after side at rest.
func sides(t *testing.T, trial int, a *loaded) {
	t.Helper()
	got, abaft := a.joints(), upward{}
	for k := range got {
		abaft = abaft.plus(a.loads.sums[k])
		other := abaft.load(a.c.Pose.Up, a.Spec.Joints[k].At)
		for i, p := range [3][2]float64{{-other.Bending, got[k].Bending}, {-other.Shear, got[k].Shear}, {-other.Torsion, got[k].Torsion}} {
			if !(math.Abs(p[0]-p[1]) <= 1e-9*a.scale) { // lengths are 1 m
				t.Errorf("trial %d: load %d at joint %d is %g from abaft and %g from before", trial, i, k, p[0], p[1])
			}
		}
	}
	c := a.loads.Curve(&a.c)
	last := len(c.X) - 1
	for _, i := range [2]int{0, last} {
		x := math.Nextafter(c.X[i], float64(2*i-1)*1e9) // beyond whatever stands in the end
		if load := a.loads.At(x, &a.c); !(math.Abs(load.Bending)+math.Abs(load.Shear) <= 1e-9*a.scale) {
			t.Errorf("trial %d: beyond the end at %g it bends by %g N·m, shears by %g N", trial, c.X[i], load.Bending, load.Shear)
		}
	}
	for i := range c.X {
		if !(math.Abs(c.Bending[i]) <= math.Abs(c.Peak.Value)) || !(math.Abs(c.Shear[i]) <= math.Abs(c.PeakShear.Value)) {
			t.Errorf("trial %d: at %g the curve is past its peaks %v and %v: %g, %g", trial, c.X[i], c.Peak, c.PeakShear, c.Bending[i], c.Shear[i])
		}
	}
}
