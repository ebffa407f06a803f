package compartment

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// bilged is a box in water of 1000 kg/m³ with one part open to the sea: lengths in m, afloat at a draft with its centre of
// mass at a height over the keel line, amidships.
type bilged struct {
	length, breadth, depth, draft, kg float64
	from, to                          float64     // of the open part, along x
	y, z                              *[2]float64 // of it across; nil: all
	permeability                      float64
}

func (c *bilged) spec() Spec {
	s := Spec{
		Water:   WaterSpec{Kind: Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:    HullSpec{Box: &BoxSpec{Length: c.length, Breadth: c.breadth, Depth: c.depth}},
		Weights: []WeightSpec{{Name: "all", Mass: 1000 * c.length * c.breadth * c.draft, At: r3.Vec{X: c.length / 2, Z: c.kg}}},
	}
	y, z := [2]float64{-c.breadth, c.breadth}, [2]float64{-1, 2 * c.depth}
	if c.y != nil {
		y = *c.y
	}
	if c.z != nil {
		z = *c.z
	}
	s.Compartments = []CompartmentSpec{{Name: "rest"}, {Name: "bilged", X: &[2]float64{c.from, c.to}, Y: &y, Z: &z, Permeability: &c.permeability}}
	return s
}

// rests lets it rest with the part open to the sea, from upright, and checks that the other way of counting agrees: the
// water that the part then holds, as a weight aboard (added weight, textbooks' second method), leaves no force and no moment
// in the same pose, and stands level with the sea.
func (c *bilged) rests(t *testing.T, name string) (*Floater, Rest, Balance) {
	t.Helper()
	v := mustBuild(t, c.spec())
	f := NewFloater(v.Whole, v.Water.Density, false)
	f.Open(1, true)
	water := []float64{0, nan}
	rest := f.Settle(Upright(c.draft), water, FallStride, nil)
	if !rest.Stable {
		t.Fatalf("%s: no rest", name)
	}
	var b Balance
	f.Balance(rest.Pose, water, &b)
	near(t, name+": level", f.Surfaces()[1].Level, math.Min(rest.Pose.Sea, f.Surfaces()[1].High), 1e-12)
	g := NewFloater(v.Whole, v.Water.Density, false)
	var added Balance
	g.Balance(rest.Pose, []float64{0, f.Surfaces()[1].Volume}, &added)
	scale := added.Load * c.length
	for k, r := range added.Gradient {
		near(t, name+": residual by added weight", r/scale, 0, 1e-11)
		near(t, name+": residual by lost buoyancy", b.Gradient[k]/scale, 0, 1e-11)
	}
	return f, rest, b
}

// TestBilgedMidships: parallel sinkage d' = d L/(L − μ l) and, in ST-01 and ST-04, KM of the lost waterplane. ST-01: Derrett &
// Barrass, Ship Stability for Masters and Mates, 5th ed. p. 206 ex. 2, printed 5.77 m, with KM 11.2046 worked out by a second
// hand; ST-02 to ST-04: its ex. 22.1, 22.3, 22.4; ST-05: stability problems, set no. 2. Of ST-02 and ST-03 the (L − μl) form.
func TestBilgedMidships(t *testing.T) {
	for _, c := range []struct {
		name       string
		box        bilged
		draft      float64
		within     float64
		gm, gmNear float64 // NaN: not given
	}{
		{"ST-01", bilged{length: 150, breadth: 24, depth: 12, draft: 5, kg: 11.2, from: 65, to: 85, permeability: 1}, 5.7692, 5e-5, 0.0046, 5e-5},
		{"ST-02", bilged{length: 100, breadth: 15, depth: 10, draft: 5, kg: 4, from: 45, to: 55, permeability: 0.25}, 5.1282, 5e-5, nan, 0},
		{"ST-03", bilged{length: 60, breadth: 15, depth: 8, draft: 3, kg: 3, from: 24, to: 36, permeability: 0.3489}, 3 * 60 / (60 - 0.3489*12), 1e-9, nan, 0},
		{"ST-04", bilged{length: 40, breadth: 6, depth: 5, draft: 2, kg: 1 + 1.5 - 0.6, from: 15, to: 25, permeability: 1}, 2 * 40 / 30., 1e-9, 0.55833, 5e-6},
		{"ST-05", bilged{length: 150, breadth: 20, depth: 12, draft: 5, kg: 5, from: 67.5, to: 82.5, permeability: 1. / 6}, 5.085, 5e-4, nan, 0},
	} {
		box := c.box.scaled(0.1) // models go up to 20 m
		f, rest, b := box.rests(t, c.name)
		fore, aft := f.Body.Drafts(rest.Pose)
		near(t, c.name+": draft", 10*(fore+aft)/2, c.draft, c.within)
		near(t, c.name+": level", fore, aft, 1e-10)
		if !math.IsNaN(c.gm) {
			gm, _ := f.Metacentric(&b)
			near(t, c.name+": GM", 10*gm, c.gm, c.gmNear)
			near(t, c.name+": stiffness in roll is GM × displacement", b.Hessian[1][1]/b.Displaced, gm, 1e-10)
		}
	}
}

// scaled is the case in another size.
func (c bilged) scaled(s float64) *bilged {
	for _, x := range []*float64{&c.length, &c.breadth, &c.depth, &c.draft, &c.kg, &c.from, &c.to} {
		*x *= s
	}
	for _, r := range []**[2]float64{&c.y, &c.z} {
		if *r != nil {
			*r = &[2]float64{(*r)[0] * s, (*r)[1] * s}
		}
	}
	return &c
}

// TestBilgedEnds: exact rests. ST-09 (after Derrett ex. 22.12), computed by a second hand: an end compartment, topped, with
// permeability: drafts 4.8592 aft, 5.3049 m fore. ST-10 (Derrett ch. 21), open to the deck: with the draft T35 + s(x − 35) over
// the 70 m that are left, volume gives T35 = 4.5·75/70, and B over G s(70³/12/337.5 + z_B − KG) = 2.5 with
// z_B = (70 T35² + s²70³/12)/675, a cubic (the row's own 3.7912 and 5.9983 m do not meet the volume). ST-11: a wing tank of a
// model, 9.4640° and 0.086167 m on the centreline. Drafts of ends are read along them.
func TestBilgedEnds(t *testing.T) {
	const mean, third = 4.5 * 75 / 70, 70. * 70 * 70 / 12
	s := 0.0
	for range 50 {
		s = 2.5 / (third/337.5 + (70*mean*mean+s*s*third)/675 - 2.25)
	}
	for _, c := range []struct {
		name              string
		box               bilged
		aft, fore, within float64
	}{
		{"ST-09", bilged{length: 64, breadth: 10, depth: 6, draft: 5, kg: 2.5, from: 58, to: 65, z: &[2]float64{0, 3.5}, permeability: 0.25},
			4.8592, 5.3049, 5e-5},
		{"ST-10", bilged{length: 75, breadth: 10, depth: 6, draft: 4.5, kg: 2.25, from: 70, to: 76, permeability: 1}, mean - 35*s, mean + 40*s, 1e-9},
	} {
		f, rest, _ := c.box.scaled(0.1).rests(t, c.name)
		fore, aft := f.Body.Drafts(rest.Pose)
		cos := math.Cos(rest.Pose.Trim())
		near(t, c.name+": aft", 10*aft/cos, c.aft, c.within)
		near(t, c.name+": fore", 10*fore/cos, c.fore, c.within)
	}
	wing := bilged{length: 1, breadth: 0.2, depth: 0.15, draft: 0.08, kg: 0.05, from: 0.375, to: 0.625, y: &[2]float64{-0.1, -0.05}, permeability: 1}
	f, rest, _ := wing.rests(t, "ST-11")
	near(t, "ST-11: heel", rest.Pose.Heel()/degree, 9.4640, 5e-5)
	fore, aft := f.Body.Drafts(rest.Pose)
	near(t, "ST-11: draft", (fore+aft)/2/math.Cos(rest.Pose.Heel()), 0.086167, 5e-7)
}

// TestOpenDerivatives: with spaces open to the sea the gradient and the Hessian are those of the energy, by differences of
// it in random poses of a hull with open and closed, full and part-full spaces; and energy and gradient are those of the same
// hull with the water of the open spaces counted as weight aboard, since it stands at sea level: ∫(d − n·x) dV is one and the same.
func TestOpenDerivatives(t *testing.T) {
	spec := barge()
	spec.Hull, spec.Openings, spec.Marks = HullSpec{Offsets: ship()}, nil, nil
	spec.Weights[3].At.Z = -0.03
	v := mustBuild(t, spec)
	r := rand.New(rand.NewPCG(6, 5))
	for trial := range 40 {
		f := NewFloater(v.Whole, v.Water.Density, true)
		water := []float64{1e-4, 2e-4, 1e-5, 3e-4}
		f.Open(trial%4, true)
		f.Open((trial/4)%4, true)
		up := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
		low, high := v.Whole.Form.Reach(up)
		var b, moved Balance
		p := Pose{Up: up, Sea: low + (high-low)*(0.2+0.6*r.Float64())}
		f.Balance(p, water, &b)
		g := NewFloater(v.Whole, v.Water.Density, true)
		g.Levels(p.Up, water)
		for i := range water {
			if f.isOpen(i) {
				g.Fill(i, p.Up, p.Sea)
			}
		}
		g.Weigh(p, &moved)
		near(t, "energy by added weight", moved.Energy, b.Energy, 1e-16)
		for i, x := range moved.Gradient {
			near(t, "gradient by added weight", x, b.Gradient[i], 1e-14)
		}
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
				near(t, "second derivative", sum/h/h, b.Hessian[i][k], 2e-6)
			}
			var fore, back [3]float64
			fore[i], back[i] = h, -h
			near(t, "first derivative", (energy(fore)-energy(back))/2/h, b.Gradient[i], 1e-8)
		}
		if t.Failed() {
			t.Fatalf("trial %d", trial)
		}
	}
}

// TestOpenAndShut: a space shut again is as it was; opened, weighing allocates nothing; a hull all of whose
// rooms are open to the sea floats by nothing but what the rooms do not take.
func TestOpenAndShut(t *testing.T) {
	v := mustBuild(t, barge())
	f := NewFloater(v.Whole, v.Water.Density, true)
	water := []float64{1e-4, 2e-4, 1e-5, 3e-4}
	var before, during, after Balance
	p := Pose{Up: Inclined(0.1, 0.05), Sea: 0.06}
	f.Balance(p, water, &before)
	f.Open(3, true)
	if n := testing.AllocsPerRun(20, func() { f.Balance(p, water, &during) }); n > 0 {
		t.Errorf("%g allocations a call", n)
	}
	taken := f.Surfaces()[3].Volume
	near(t, "displaced and lost", during.Displaced+during.Lost.Volume, before.Displaced, 1e-15)
	near(t, "water of the open space", taken, during.Lost.Volume, 1e-18)
	near(t, "room", f.Room(water), v.Whole.Form.Volume()+v.Whole.Appendages.Volume()-f.Mass/f.Density-3.1e-4-v.Spaces[3].Capacity(), 1e-14)
	f.Open(3, false)
	f.Balance(p, water, &after)
	near(t, "energy, shut again", after.Energy, before.Energy, 1e-15) // levels are found from near the last ones
	near(t, "displaced, shut again", after.Displaced, before.Displaced, 0)
	if after.Lost.Volume != 0 || f.open != nil {
		t.Error("a space shut again is still lost")
	}
	for i := range v.Spaces {
		f.Open(i, true)
	}
	if rest := f.Settle(p, water, FallStride, nil); rest.Stable {
		t.Error("a hull full of holes floats")
	}
}
