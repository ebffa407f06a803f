package compartment

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// cup is a box section without a volume of its own that one airtight space fills, its mouth at x = 0; m and kg.
func cup(length, breadth, depth, mass, at float64) Spec {
	return Spec{
		Water:        WaterSpec{Kind: Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:         HullSpec{Box: &BoxSpec{Length: length, Breadth: breadth, Depth: depth}},
		Weights:      []WeightSpec{{Name: "all", Mass: mass, At: r3.Vec{X: at, Z: depth / 2}, Size: &[3]float64{0.1, 0.1, 0.1}}},
		Compartments: []CompartmentSpec{{Name: "bell", Airtight: true}},
	}
}

// TestCupOnItsAir: a box on end, mouth down, in equilibrium on trapped air: closed form. What it weighs is borne by the slab
// between the sea and the level inside, m/(ρA) thick, which is the air's gauge pressure as a head; Boyle's law (a + q)·A·(L − h) =
// a·(air), a one atmosphere as a head, gives the level h over the mouth, and the draft is h + q.
func TestCupOnItsAir(t *testing.T) {
	const length, breadth, depth, mass = 0.5, 0.2, 0.15, 2.0
	for _, share := range []float64{0.3, 0.7, 0.95} {
		v := mustBuild(t, cup(length, breadth, depth, mass, 0.05))
		f := NewFloater(v.Whole, 1000, false)
		air := share * length * breadth * depth
		f.Bell(0, air)
		rest := f.Settle(Pose{Up: r3.Vec{X: 1}, Sea: 0.4}, []float64{air}, FallStride, nil)
		var b Balance
		f.Balance(rest.Pose, []float64{air}, &b)
		s := &f.Surfaces()[0]
		q := mass / (1000 * breadth * depth)
		a := 101325 / (1000 * 9.80665)
		h := length - a*share*length/(a+q)
		near(t, "up", rest.Pose.Up.X, 1, 1e-12)
		near(t, "level", s.Level, h, 1e-12)
		near(t, "gauge", s.Gauge, q, 1e-12)
		near(t, "draft", rest.Pose.Sea, h+q, 1e-12)
		near(t, "water", s.Volume, h*breadth*depth, 1e-14)
		if !rest.Stable {
			t.Errorf("%g: %+v", share, rest)
		}
		// its stiffness in heave: the level follows the sea by 1/(1 + k S), kS = (a + q)/(L − h)
		k := (a + q) / (length - h)
		near(t, "heave", b.Hessian[2][2], breadth*depth*(1-1/(1+k)), 1e-12)
	}
}

// TestCupSinks: heavier, there is a depth of no return, where the top is d* under: with all of it under water the air bears less
// the deeper it is, so that from the first moment under water it goes down.
func TestCupSinks(t *testing.T) {
	v := mustBuild(t, cup(0.5, 0.2, 0.15, 14.9, 0.1))
	f := NewFloater(v.Whole, 1000, false)
	air := 0.5 * 0.2 * 0.15
	f.Bell(0, air)
	if rest := f.Settle(Pose{Up: r3.Vec{X: 1}, Sea: 0.4}, []float64{air}, FallStride, nil); rest.Stable || !rest.Sunk {
		t.Errorf("%+v", rest) // 15 kg at one atmosphere; under 0.5 m of water 15·a/(a + q) = 14.3
	}
	f.Bell(0, air)
	g := NewFloater(v.Whole, 1000, false)
	g.Reload(14, r3.Vec{X: 0.1, Z: 0.075})
	g.Bell(0, air)
	if rest := g.Settle(Pose{Up: r3.Vec{X: 1}, Sea: 0.4}, []float64{air}, FallStride, nil); !rest.Stable || rest.Sunk {
		t.Errorf("%+v", rest)
	}
}

// TestHardlyAnyAirInACorner: of air that is rounding, under the highest corner of a tilted box, level and gauge are still numbers.
func TestHardlyAnyAirInACorner(t *testing.T) {
	v := mustBuild(t, cup(0.5, 0.2, 0.15, 2, 0.05))
	for _, air := range []float64{1e-25, 5e-20, 1e-18, 1e-15} {
		for _, up := range []r3.Vec{{X: 1, Y: 0.3, Z: 0.2}, {X: 0.4, Y: -0.6, Z: 0.7}} {
			f := NewFloater(v.Whole, 1000, false)
			f.Bell(0, air)
			f.LetIn(Pose{Up: r3.Unit(up), Sea: 0.7})
			s := &f.Surfaces()[0]
			high := r3.Dot(r3.Unit(up), r3.Vec{X: 0.5, Y: math.Copysign(0.1, up.Y), Z: 0.15})
			if !(s.Level > high-0.01 && s.Level <= high+1e-12) || !(math.Abs(s.Gauge-(0.7-s.Level)) < 1e-9) || !(s.Yield >= 0 && s.Yield <= 1) || !(s.Volume <= 0.015*(1+1e-12)) {
				t.Errorf("%g m³, up %v: %+v, the corner at %g", air, up, *s, high)
			}
		}
	}
}

// TestBellDerivatives: the gradient and the Hessian of a hull with diving bells are those of the energy, by differences of it in
// random poses.
func TestBellDerivatives(t *testing.T) {
	spec := barge()
	spec.Hull, spec.Openings, spec.Marks = HullSpec{Offsets: ship()}, nil, nil
	spec.Weights[3].At.Z = -0.03
	v := mustBuild(t, spec)
	r := rand.New(rand.NewPCG(6, 7))
	for trial := range 40 {
		f := NewFloater(v.Whole, v.Water.Density, true)
		water := []float64{1e-4, 2e-4, 1e-5, 3e-4}
		i := trial % 4
		water[i] = v.Spaces[i].Capacity() * (0.1 + r.Float64())
		f.Bell(i, water[i])
		f.Open((trial/4)%4, (trial/4)%4 != i)
		up := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
		low, high := v.Whole.Form.Reach(up)
		if (trial/4)%4 == i {
			f.Bell(i, water[i])
		}
		var b, moved Balance
		p := Pose{Up: up, Sea: low + (high-low)*(0.3+0.9*r.Float64())}
		f.Balance(p, water, &b)
		s := f.Surfaces()[i]
		a := 101325 / (v.Water.Density * 9.80665)
		room := v.Spaces[i].Capacity() - s.Volume
		if s.Volume == 0 { // the air that is on its way out, under the room
			room *= 1 + (s.Low-s.Level)/(s.High-s.Low)
		}
		near(t, "Boyle", (a+s.Gauge)*room, a*water[i], 1e-13)
		near(t, "balance", s.Gauge, p.Sea-s.Level, 1e-13)
		energy := func(step [3]float64) float64 {
			f.Balance(p.Turned(b.Pitch, b.Roll, step[0], step[1], step[2]), water, &moved)
			return moved.Energy
		}
		const h = 2e-4
		for i := range 3 {
			for k := range 3 {
				sum := 0.0
				for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
					var step [3]float64
					step[i] += s[0] * h / 2
					step[k] += s[1] * h / 2
					sum += s[0] * s[1] * energy(step)
				}
				near(t, "second derivative", sum/h/h, b.Hessian[i][k], 5e-6)
			}
			var fore, back [3]float64
			fore[i], back[i] = h, -h
			near(t, "first derivative", (energy(fore)-energy(back))/2/h, b.Gradient[i], 1e-8)
		}
		if t.Failed() {
			t.Fatalf("trial %d, space %d: %+v", trial, i, s)
		}
	}
}

// TestBellAllocatesNothing, and shut again it is a space as before.
func TestBellAllocatesNothing(t *testing.T) {
	v := mustBuild(t, barge())
	f := NewFloater(v.Whole, v.Water.Density, true)
	water := []float64{1e-4, 2e-4, 1e-5, 3e-4}
	var before, during, after Balance
	p := Pose{Up: Inclined(0.1, 0.05), Sea: 0.06}
	f.Balance(p, water, &before)
	f.Bell(3, 3e-4)
	if n := testing.AllocsPerRun(20, func() { f.Balance(p, water, &during) }); n > 0 {
		t.Errorf("%g allocations a call", n)
	}
	f.Open(3, false)
	f.Balance(p, water, &after)
	if math.Abs(after.Energy-before.Energy) > 1e-15 || during.Energy == before.Energy {
		t.Errorf("%g, %g, %g", before.Energy, during.Energy, after.Energy)
	}
}
