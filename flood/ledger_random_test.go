package flood_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// laidOut loads a barge at random and parts it into two to eight spaces, one wall in so many with water over its top; at are the
// ends of the spaces.
func laidOut(rng *rand.Rand, s *compartment.Spec, lowIn int) (at []float64) {
	n := 2 + rng.IntN(7)
	s.Weights[0].Mass = 10 + 8*rng.Float64()
	s.Weights[0].At.X = 0.5 + 0.03*rng.NormFloat64()
	s.Weights[0].At.Y = 0.003 * rng.NormFloat64()
	at = []float64{0}
	for i := 1; i < n; i++ {
		at = append(at, (float64(i)+0.3*(rng.Float64()-0.5))/float64(n))
		b := compartment.BulkheadSpec{Name: fmt.Sprintf("B%d", i), At: at[i]}
		if rng.IntN(lowIn) == 0 {
			b.Top = ptr(0.03 + 0.09*rng.Float64())
		}
		s.Bulkheads = append(s.Bulkheads, b)
	}
	return append(at, 1)
}

// randomBarge is a box with two to eight spaces in a row and random ways between them: holes and doors in the walls, low
// bulkheads, holes in the bottom, the sides and the deck, pumps; some open or shut by the clock, by trim, or once wet.
func randomBarge(seed uint64) compartment.Spec {
	rng := rand.New(rand.NewPCG(seed, 7))
	s := bargeSpec()
	at := laidOut(rng, &s, 3)
	n := len(at) - 1
	for i := range n {
		c := compartment.CompartmentSpec{Name: fmt.Sprintf("C%d", i), Permeability: ptr(0.6 + 0.4*rng.Float64())}
		if rng.IntN(4) == 0 {
			c.Starts = &compartment.StartSpec{Share: ptr(0.3 * rng.Float64())}
		}
		s.Compartments = append(s.Compartments, c)
	}
	for k := range 1 + rng.IntN(n) {
		s.Openings = append(s.Openings, randomSeaWay(rng, fmt.Sprintf("sea-%d", k), at, s.Compartments))
	}
	for i := 1; i < n; i++ {
		if s.Bulkheads[i-1].Top == nil && rng.IntN(3) > 0 {
			s.Openings = append(s.Openings, randomWallWay(rng, i, at[i]))
		}
	}
	if rng.IntN(2) == 0 {
		s.Openings = append(s.Openings, randomPump(rng, at))
	}
	return s
}

// randomPump pumps out of a space, or in.
func randomPump(rng *rand.Rand, at []float64) compartment.OpeningSpec {
	i := rng.IntN(len(at) - 1)
	p := compartment.OpeningSpec{Name: "pump", Between: [2]string{fmt.Sprintf("C%d", i), "outside"}, Flow: ptr(1e-4 * rng.Float64()),
		At: r3.Vec{X: (at[i] + at[i+1]) / 2, Z: 0.15}, Faces: &r3.Vec{Z: 1}}
	if rng.IntN(3) == 0 {
		p.Between = [2]string{"outside", p.Between[0]}
	}
	return p
}

// randomSeaWay is a hole in the bottom, a side or the deck.
func randomSeaWay(rng *rand.Rand, name string, at []float64, spaces []compartment.CompartmentSpec) compartment.OpeningSpec {
	i := rng.IntN(len(spaces))
	x := at[i] + (0.2+0.6*rng.Float64())*(at[i+1]-at[i])
	d := 0.004 + 0.02*rng.Float64()
	var o compartment.OpeningSpec
	switch rng.IntN(3) {
	case 0:
		o = bored(name, "outside", spaces[i].Name, r3.Vec{X: x, Y: 0.1 * (rng.Float64() - 0.5)}, r3.Vec{Z: -1}, d)
	case 1:
		y := math.Copysign(0.1, rng.Float64()-0.5)
		o = bored(name, "outside", spaces[i].Name, r3.Vec{X: x, Y: y, Z: 0.02 + 0.11*rng.Float64()}, r3.Vec{Y: y}, d)
	default:
		o = bored(name, spaces[i].Name, "outside", r3.Vec{X: x, Y: 0.1 * (rng.Float64() - 0.5), Z: 0.15}, r3.Vec{Z: 1}, d)
	}
	return timed(rng, o)
}

// randomWallWay is a hole or a door in the wall between two neighbours.
func randomWallWay(rng *rand.Rand, i int, x float64) compartment.OpeningSpec {
	from, to := fmt.Sprintf("C%d", i-1), fmt.Sprintf("C%d", i)
	if rng.IntN(2) == 0 {
		from, to = to, from
	}
	at := r3.Vec{X: x, Y: 0.1 * (rng.Float64() - 0.5), Z: 0.02 + 0.1*rng.Float64()}
	o := bored("way-"+to+from, from, to, at, r3.Vec{X: 1}, 0.003+0.02*rng.Float64())
	if rng.IntN(2) == 0 {
		o.Hole, o.Along = nil, &r3.Vec{Y: 1}
		o.Door = &compartment.DoorSpec{Length: 0.01 + 0.05*rng.Float64(), Height: 0.01 + 0.02*rng.Float64()}
	}
	return timed(rng, o)
}

// timed lets some openings open or shut later.
func timed(rng *rand.Rand, o compartment.OpeningSpec) compartment.OpeningSpec {
	switch rng.IntN(6) {
	case 0:
		o.Opens = []compartment.Condition{{Time: ptr(60 * rng.Float64())}}
	case 1:
		o.Shuts = []compartment.Condition{{Time: ptr(60 * rng.Float64())}}
	case 2:
		o.Opens = []compartment.Condition{{Trim: ptr(0.03 * rng.NormFloat64())}, {Time: ptr(100.0)}}
	case 3:
		o.Opens = []compartment.Condition{{Wet: ptr(10 * rng.Float64())}}
	}
	return o
}

func TestLedgerRandomNetworks(t *testing.T) {
	tooLongUnderRace(t)
	ends := map[string]int{}
	for seed := range uint64(60) {
		v := mustBuild(t, randomBarge(seed))
		for _, motion := range []flood.Motion{flood.Settled, flood.Held} {
			name := fmt.Sprintf("seed %d, %s", seed, motion)
			run := mustStart(t, v, flood.Settings{Motion: motion})
			if !keepsWithinBounds(t, name, run, v) {
				continue
			}
			r := run.Result()
			ends[string(motion)+" "+string(r.Ended)]++
			if r.GaveUp != nil {
				t.Errorf("%s: gave up: %+v", name, *r.GaveUp)
			}
			if !(math.Abs(r.WaterBalance) <= 1e-12*r.WaterCrossed) {
				t.Errorf("%s: balance %g m³ of %g that crossed", name, r.WaterBalance, r.WaterCrossed)
			}
		}
	}
	t.Log(ends)
}

// mostSteps a random network may take: far above any that was seen, so that one that creeps is told.
const mostSteps = 20000

// keepsWithinBounds runs to the end and tells of any water that is no number, negative, or more than there is room for.
func keepsWithinBounds(t *testing.T, name string, run *flood.Run, v *compartment.Vessel) bool {
	t.Helper()
	steps := 0
	for step, err := range run.Steps(t.Context()) {
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range run.Water() {
			if capacity := v.Spaces[i].Capacity(); !(w >= -1e-12*capacity && w <= capacity*(1+1e-9)) {
				t.Errorf("%s: %.4f s, %s holds %g of %g m³ after %d steps", name, step.Time, v.Spaces[i].Name, w, capacity, steps)
				return false
			}
		}
		if steps++; steps > mostSteps {
			t.Errorf("%s: %d steps, and only at %.6f s, limit %v", name, steps, step.Time, step.Limit)
			return false
		}
	}
	return true
}
