package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"gonum.org/v1/gonum/spatial/r3"
)

// What can be laid can be planned: a random block in each of two places, off the middle line, is floated, its drafts, its heel and
// nearly its GM are wished for, and a plan of the same mass has to be found.
func TestBallastFindsWhatWasLaid(t *testing.T) {
	places := []plan.Place{floor("aft", 0.1, 0.4, -0.08, 0.08), floor("fore", 0.6, 0.9, -0.08, 0.08)}
	tried := 0
	for k := range 12 {
		rnd := rand.New(rand.NewPCG(7, uint64(k)))
		spec := tub()
		spec.Hull.Shell.At = &r3.Vec{X: 0.45 + 0.1*rnd.Float64(), Z: 0.04 + 0.05*rnd.Float64()}
		motor := r3.Vec{X: 0.3 + 0.4*rnd.Float64(), Y: 0.02 * (rnd.Float64() - 0.5), Z: 0.05}
		spec.Weights = []compartment.WeightSpec{{Name: "motor", Mass: 0.1 + rnd.Float64(), At: motor}}
		laid, sum := spec, 0.0
		laid.Weights = append([]compartment.WeightSpec(nil), spec.Weights...)
		for i := range places {
			laid.Weights = append(laid.Weights, laidIn(rnd, &places[i]))
			sum += laid.Weights[1+i].Mass
		}
		v, err := compartment.Build(laid)
		if err != nil {
			t.Fatal(err)
		}
		f := v.FloatTest()[0]
		gm := f.GMTransverse - 1e-4
		if !f.Floats || gm < 2e-3 {
			continue
		}
		tried++
		b := ballast(t, spec, []plan.Wish{{DraftFore: &f.DraftFore, DraftAft: &f.DraftAft, Heel: &f.Heel, GM: &gm}}, places)
		if mass, _ := total(b); !b.Feasible || math.Abs(mass-sum) > 0.2*1000*2e-5 {
			t.Errorf("case %d: %s %+v: %.4f kg, laid %.4f", k, b.Cause, b.Misses, mass, sum)
		}
	}
	if tried < 10 {
		t.Errorf("only %d cases float", tried)
	}
}

// laidIn is a random block of lead on the floor of a place.
func laidIn(rnd *rand.Rand, p *plan.Place) compartment.WeightSpec {
	m := 0.2 + 2.5*rnd.Float64()
	long, across := p.X[1]-p.X[0], p.Y[1]-p.Y[0]
	size := [3]float64{long * (0.4 + 0.6*rnd.Float64()), across * (0.5 + 0.5*rnd.Float64()), 0}
	size[2] = m / p.Density / size[0] / size[1]
	at := r3.Vec{X: p.X[0] + size[0]/2 + (long-size[0])*rnd.Float64(), Y: (across - size[1]) * (rnd.Float64() - 0.5), Z: p.Z[0] + size[2]/2}
	return compartment.WeightSpec{Name: p.Name, Mass: m, At: at, Size: &size, Density: &p.Density}
}

// Coins of 8.5 g are fine enough for any draft of the tub: one more is 0.04 mm, and in the right cell it trims less than that.
func TestBallastInCoinsAtAnyDraft(t *testing.T) {
	two, _ := plan.Coin("2-euro")
	places := []plan.Place{floor("aft", 0.1, 0.4, -0.08, 0.08), floor("fore", 0.6, 0.9, -0.08, 0.08)}
	places[0].Piece, places[1].Piece = &two, &two
	for k := range 9 {
		rnd := rand.New(rand.NewPCG(11, uint64(k)))
		spec := tub()
		if k%2 == 1 { // as many coins to port as to starboard no longer do
			motor := r3.Vec{X: 0.4, Y: 0.01 * rnd.Float64(), Z: 0.05}
			spec.Weights = []compartment.WeightSpec{{Name: "motor", Mass: 0.5, At: motor}}
		}
		fore, aft := 0.035+0.02*rnd.Float64(), 0.035+0.02*rnd.Float64()
		b := ballast(t, spec, []plan.Wish{{DraftFore: &fore, DraftAft: &aft}}, places)
		mass, _ := total(b)
		count := 0
		for i := range b.Entries {
			count += b.Entries[i].Count
		}
		if !b.Feasible || math.Abs(mass-0.0085*float64(count)) > 1e-9 {
			t.Errorf("case %d: %s %+v, %d coins of %.4f kg", k, b.Cause, b.Misses, count, mass)
		}
	}
}
