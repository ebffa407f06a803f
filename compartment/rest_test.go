package compartment

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// wigleyBody is a Wigley hull of 1.2 m with a deck, to be loaded.
func wigleyBody() *Body {
	form := solid.Wigley(1.2, 0.18, 0.075, 0.11, 60, 20)
	return &Body{
		Name: "hull", Form: form, KeelFore: r3.Vec{X: 1.2}, KeelMiddle: r3.Vec{X: 0.6},
		Inertia: solid.Moments{},
	}
}

// load puts a mass with the gyradii of a model ship at a place.
func load(b *Body, mass float64, at r3.Vec) *Floater {
	c := *b
	c.Mass, c.Centre = mass, at
	c.Inertia = outer(at).Scale(mass).Add(solid.Moments{XX: mass * 0.09, YY: mass * 0.0036, ZZ: mass * 0.0009})
	return NewFloater(&c, 1000, false)
}

// TestEquilibrium loads a hull at random 64 times and finds its rest, cold from a guessed draft, and again from a
// neighbouring load. Every rest must be a minimum: residuals of nothing, and the energy higher all round.
func TestEquilibrium(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	body := wigleyBody()
	cold, warm := 0, 0
	const trials = 64
	for trial := range trials {
		mass := body.Form.Volume() * 1000 * (0.15 + 0.65*rng.Float64())
		at := r3.Vec{X: 0.6 + 0.1*(rng.Float64()-0.5), Y: 0.02 * (rng.Float64() - 0.5), Z: 0.02 + 0.04*rng.Float64()}
		f := load(body, mass, at)
		rest := f.Settle(Upright(0.11*math.Sqrt(mass/1000/body.Form.Volume())), nil, SearchStride, nil)
		checkMinimum(t, f, rest, trial)
		cold += rest.Queries
		near := load(body, mass*1.002, r3.Add(at, r3.Vec{X: 1e-3, Y: 2e-4}))
		again := near.Settle(rest.Pose, nil, SearchStride, nil)
		checkMinimum(t, near, again, trial)
		warm += again.Queries
	}
	t.Logf("queries: %.2f cold, %.2f warm", float64(cold)/trials, float64(warm)/trials)
	if cold > 6*trials || warm > 3*trials {
		t.Errorf("queries: %.2f cold (at most 6), %.2f warm (at most 3)", float64(cold)/trials, float64(warm)/trials)
	}
}

// checkMinimum holds a rest against its definition.
func checkMinimum(t *testing.T, f *Floater, rest Rest, trial int) {
	t.Helper()
	if !rest.Stable {
		t.Fatalf("trial %d: no rest found", trial)
	}
	var b, c Balance
	f.Balance(rest.Pose, nil, &b)
	scale := b.Load * f.Length()
	for i, g := range b.Gradient {
		if math.Abs(g) > 1e-10*scale {
			t.Errorf("trial %d: residual %d is %g of volume × length", trial, i, g/scale)
		}
	}
	for i := range 12 {
		a := float64(i) * math.Pi / 6
		up := rest.Pose.Turned(b.Pitch, b.Roll, 1e-3*math.Cos(a), 1e-3*math.Sin(a), 0)
		sea, _, _ := f.Body.Form.Offset(up.Up, b.Load, rest.Pose.Sea)
		f.Balance(Pose{Up: up.Up, Sea: sea}, nil, &c)
		if c.Energy <= b.Energy {
			t.Errorf("trial %d: the energy does not rise at %g°", trial, a*180/math.Pi)
		}
	}
}

// TestSymmetryLeft puts a weight so high that upright is no rest: the hull must go to starboard, and by exactly the same
// angle whatever little the stride is.
func TestSymmetryLeft(t *testing.T) {
	body := wigleyBody()
	mass := 4.0
	heel := math.NaN()
	for _, stride := range []float64{SearchStride, 0.1, FallStride} {
		f := load(body, mass, r3.Vec{X: 0.6, Z: 0.0832})
		rest := f.Settle(Upright(0.06), nil, stride, nil)
		if !rest.Stable || rest.Pose.Heel() <= 0.01 {
			t.Fatalf("stride %g: stable %v, heel %g rad; it should rest to starboard", stride, rest.Stable, rest.Pose.Heel())
		}
		if math.Abs(rest.Pose.Heel()-heel) > 1e-9 {
			t.Errorf("stride %g: heel %.12g, with another stride %.12g", stride, rest.Pose.Heel(), heel)
		}
		heel = rest.Pose.Heel()
	}
}
