package compartment

import (
	"errors"
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// wild draws numbers as a careless hand writes them: mostly sensible, now and then nothing that can be.
type wild struct{ *rand.Rand }

func (w wild) number(scale float64) float64 {
	switch w.IntN(400) {
	case 0:
		return math.NaN()
	case 1:
		return math.Inf(1 - 2*w.IntN(2))
	case 2:
		return 0
	case 3:
		return -scale * w.Float64()
	case 4:
		return 1e300
	case 5:
		return 5e-324
	case 6:
		return 1e-9 * scale
	}
	return scale * w.Float64()
}

func (w wild) maybe(scale float64) *float64 {
	if w.IntN(3) > 0 {
		return nil
	}
	return ptr(w.number(scale))
}

func (w wild) span(scale float64) *[2]float64 {
	a := w.number(scale)
	return &[2]float64{a, a + w.number(scale)}
}

func (w wild) point() r3.Vec {
	return r3.Vec{X: w.number(1), Y: w.number(0.3) - 0.15, Z: w.number(0.2)}
}

func (w wild) name() string {
	if w.IntN(60) > 0 {
		return string(rune('a' + w.IntN(26)))
	}
	names := []string{"outside", "hull", "", "a b", "ä-1", "\xff"}
	return names[w.IntN(len(names))]
}

func (w wild) hull() HullSpec {
	h := HullSpec{ContactAngle: w.maybe(3)}
	switch w.IntN(40) {
	case 0:
		h.Offsets = ship()
		st := &h.Offsets.Stations[w.IntN(5)]
		st.X = w.number(1)
		st.Points[0] = StationPoint{Z: w.number(0.1), Y: w.number(0.1)}
		h.Offsets.Mirror = w.IntN(2) == 0
	case 1:
		h.Mesh = openMesh()
		if w.IntN(2) == 0 {
			h.Mesh.Triangles[0][0] = w.point()
		}
	case 2:
	default:
		h.Box = &BoxSpec{Length: w.number(1) + 0.5, Breadth: 0.3, Depth: w.number(0.2)}
	}
	switch w.IntN(8) {
	case 0:
		h.Shell = ShellSpec{Mass: w.maybe(1), Thickness: w.maybe(1e-3), Density: w.maybe(2000)}
	case 1:
		h.Shell = ShellSpec{Mass: ptr(1.0), At: ptr(w.point()), Over: w.span(1)}
	case 2, 3:
		h.Shell = ShellSpec{Thickness: ptr(w.number(2e-3)), Density: ptr(w.number(2000))}
	default:
		h.Shell = ShellSpec{Mass: ptr(w.number(1)), At: &r3.Vec{X: 0.5, Z: w.number(0.1)}, Density: w.maybe(2000)}
	}
	return h
}

func (w wild) condition() []Condition {
	if w.IntN(4) > 0 {
		return nil
	}
	return []Condition{{Time: w.maybe(10), Joint: ptr(w.name()), Trim: w.maybe(1)}, {Wet: w.maybe(9)}}[w.IntN(2):]
}

// space is the name of one of a description's spaces, now and then of none.
func (w wild) space(s *Spec) string {
	known := spaceNames(s)
	if len(known) == 0 || w.IntN(20) == 0 {
		return w.name()
	}
	return known[w.IntN(len(known))]
}

func (w wild) opening(s *Spec) OpeningSpec {
	o := OpeningSpec{Name: w.name(), Between: [2]string{w.space(s), w.space(s)}, At: w.point(), Wall: w.number(0.01), Rises: w.number(0.01), Cd: w.maybe(1)}
	if w.IntN(2) == 0 {
		o.Between[0], o.At.Y = outside, 0.15
	}
	switch w.IntN(5) {
	case 0:
		o.Hole = ptr(w.number(0.02))
	case 1:
		o.Slot = &SlotSpec{w.number(0.03), w.number(0.002)}
	case 2:
		o.Door = &DoorSpec{w.number(0.03), w.number(0.05)}
	case 3:
		o.Flow = ptr(w.number(1e-4))
	}
	if w.IntN(4) == 0 {
		o.Along, o.Faces = ptr(w.point()), ptr(w.point())
	}
	o.Opens, o.Shuts = w.condition(), w.condition()
	return o
}

func (w wild) spec() Spec {
	s := Spec{Water: WaterSpec{Temperature: 288 + w.number(1), Depth: w.maybe(2), SurfaceTension: w.maybe(0.07)}, Hull: w.hull()}
	at := 0.0
	for range w.IntN(3) {
		at += w.number(0.5)
		s.Bulkheads = append(s.Bulkheads, BulkheadSpec{Name: w.name(), At: at, Top: w.maybe(0.2), Cd: w.maybe(1)})
		s.Compartments = append(s.Compartments, CompartmentSpec{Name: w.name(), Permeability: w.maybe(1)})
	}
	if len(s.Bulkheads) > 0 {
		s.Compartments = append(s.Compartments, CompartmentSpec{Name: w.name()})
	}
	for range max(0, w.IntN(4)-2) {
		c := CompartmentSpec{Name: w.name()}
		if w.IntN(6) > 0 {
			c.X, c.Y, c.Z = w.span(1), w.span(0.1), w.span(0.1)
		}
		if w.IntN(3) == 0 {
			c.Starts = &StartSpec{Volume: w.maybe(1e-3), Depth: w.maybe(0.1), Share: w.maybe(1)}
		}
		s.Compartments = append(s.Compartments, c)
	}
	for range w.IntN(4) {
		weight := WeightSpec{Name: w.name(), Mass: w.number(1), At: w.point(), Density: w.maybe(1e4), Later: w.IntN(4) == 0}
		if w.IntN(2) > 0 && weight.Density == nil {
			weight.Size = &[3]float64{w.number(0.2), w.number(0.1), w.number(0.02)}
		}
		if w.IntN(4) == 0 {
			weight.Over = &[2]float64{weight.At.X - 0.1, weight.At.X + 0.06 + w.number(0.1)}
		}
		s.Weights = append(s.Weights, weight)
	}
	for range w.IntN(3) {
		s.Openings = append(s.Openings, w.opening(&s))
	}
	for range w.IntN(2) {
		s.Joints = append(s.Joints, JointSpec{Name: w.name(), At: w.number(1), Sections: [2]string{w.name(), w.name()},
			Keeps: [3]KeepKind{"", KeepAfter, KeepForward}[w.IntN(3)], Hinge: w.maybe(0.1), Release: w.condition()})
	}
	return s
}

var trials = flag.Int("trials", 2500, "how many wild descriptions TestRandomSpecs builds")

// TestRandomSpecs: wild descriptions are either built whole, every number finite and every room right, or
// refused with faults that say what and what instead. None may panic.
func TestRandomSpecs(t *testing.T) {
	w := wild{rand.New(rand.NewPCG(3, 1))}
	built := 0
	for trial := range *trials {
		v, err := Build(w.spec())
		if err == nil {
			built++
			checkWhole(t, trial, v)
			continue
		}
		var faults Faults
		if !errors.As(err, &faults) || len(faults) == 0 {
			t.Fatalf("trial %d: %v", trial, err)
		}
		for _, f := range faults {
			if f.Path == "" || f.What == "" {
				t.Fatalf("trial %d: an empty fault in %v", trial, err)
			}
		}
	}
	t.Logf("%d of %d were built", built, *trials)
	if built < *trials/20 {
		t.Errorf("only %d of %d were built: the trials show too little", built, *trials)
	}
}

// checkWhole checks what must hold of every vessel.
func checkWhole(t *testing.T, trial int, v *Vessel) {
	rooms := 0.0
	for _, s := range v.Spaces {
		rooms += s.Room.Volume()
		if !(s.Capacity() > 0) || !(s.Fraction > 0 && s.Fraction <= 1) {
			t.Fatalf("trial %d: space %s holds %g, fraction %g", trial, s.Name, s.Capacity(), s.Fraction)
		}
	}
	if form := v.Whole.Form.Volume(); rooms > form*(1+1e-9) {
		t.Fatalf("trial %d: rooms of %g in a hull of %g", trial, rooms, form)
	}
	mass := 0.0
	for _, p := range v.Pieces {
		mass += p.Mass
	}
	i := v.Whole.Inertia
	if math.Abs(mass-v.Whole.Mass) > 1e-12*v.Whole.Mass || !(i.XX+i.YY+i.ZZ >= r3.Norm2(v.Whole.Centre)*v.Whole.Mass*(1-1e-12)) {
		t.Fatalf("trial %d: mass %g in pieces of %g, inertia %v", trial, v.Whole.Mass, mass, i)
	}
	for _, p := range v.Passages {
		if !(p.Figure.Area() > 0) || !(p.Law.Jet > 0) || math.Abs(r3.Norm(p.Figure.Normal())-1) > 1e-12 {
			t.Fatalf("trial %d: passage %s: area %g, law %+v", trial, p.Name, p.Figure.Area(), p.Law)
		}
	}
}
