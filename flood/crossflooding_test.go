package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// crossFlooded is two tanks of 200 × 100 mm side by side under water: the damaged one full and open to the sea by a breach, the
// other with 20 mm of water, joined to it by a duct in the bottom corner of the wall; with an air pipe or open above.
func crossFlooded(depth, duct, breach, pipe float64) compartment.Spec {
	s := bargeSpec()
	s.Hull.Box = &compartment.BoxSpec{Length: 0.4, Breadth: 0.1, Depth: depth}
	s.Weights[0].At.X, s.Weights[0].Mass = 0.2, 1
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "wall", At: 0.2}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "damaged", Airtight: true, Starts: &compartment.StartSpec{Share: ptr(1.0)}},
		{Name: "equalizing", Starts: &compartment.StartSpec{Share: ptr(0.02 / depth)}, Airtight: pipe > 0}}
	s.Openings = []compartment.OpeningSpec{bored("breach", "outside", "damaged", r3.Vec{X: 0.1}, r3.Vec{Z: -1}, breach),
		bored("duct", "damaged", "equalizing", r3.Vec{X: 0.2, Z: 0.0051}, r3.Vec{X: 1}, duct)}
	if pipe > 0 {
		o := bored("pipe", "equalizing", "outside", r3.Vec{X: 0.3, Z: depth}, r3.Vec{Z: 1}, pipe)
		o.Rises = 1
		s.Openings = append(s.Openings, o)
	}
	return s
}

// crossTime is T_f of IMO resolution MSC.362(92), section 2 (its form from memory, sections 2.3 to 2.7 of the resolution before it,
// MSC.245(83), read at imorules.com):
//
//	T_f = 2W_f/(S·F) · (1 − √(h_f/H₀))/√(2gH₀) · 1/(1 − h_f/H₀),  F = 1/√(Σk)
//
// W_f the volume that crosses, S the duct, H₀ and h_f the heads of water before and after.
func crossTime(volume, area, k, before, after float64) float64 {
	return 2 * volume / (area / math.Sqrt(k)) * (1 - math.Sqrt(after/before)) / math.Sqrt(2*hydro.Gravity*before) / (1 - after/before)
}

// The cross-flooding method of IMO resolution MSC.362(92) is a quadrature with a constant F, exact in upright tanks. The breach and
// the duct are successive devices (2.5): Σk = k₁ + k₂·S₁²/S₂². Where the air pipe is under a tenth of the duct its back pressure
// counts, by k_e = k_w + k_a·(ρ_a/ρ_w)·(S_w/S_a)² (its section 4, from memory). k is 1/C_d² here. The method knows no air that is
// pressed together: with 20 mm of head and little room over the water that takes 2e-4 of the time, hence a quarter of the size.
func TestCrossFloodingOfIMO(t *testing.T) {
	const duct, breach = 0.010, 0.012
	kw := (1 + math.Pow(duct/breach, 4)) / (0.61 * 0.61)
	for _, c := range []struct {
		name                string
		scale, depth        float64
		sea, from, to, pipe float64
		least, most         float64 // of the pipe's share in Σk
		allowed             float64
	}{
		{"open above", 1, 0.15, 0.12, 0.03, 0.11, 0, 0, 0, 1e-4},
		{"air pipe of a third of the duct", 1, 0.15, 0.12, 0.03, 0.11, duct / math.Sqrt(3), 1e-3, 0.02, 1e-4},
		{"restricted air pipe, 4 % of the duct", 0.25, 0.048, 0.05, 0.03, 0.045, duct * 0.2, 0.2, 0.5, 1e-4},
	} {
		v := withoutCreep(mustBuild(t, scaled(crossFlooded(c.depth, duct, breach, c.pipe), c.scale)), c.scale)
		pace := math.Sqrt(c.scale) // seconds of the run in a second of the full size
		for _, p := range v.Passages {
			p.Law.AirCreep = hydro.MinimumCreep(p.Law.AirJet * v.Air.Density)
		}
		k := kw
		if c.pipe > 0 {
			k += v.Air.Density / 1000 * math.Pow(duct/c.pipe, 4) / (0.61 * 0.61)
		}
		if share := 1 - kw/k; !(share >= c.least && share <= c.most) {
			t.Errorf("%s: the pipe is %g of Σk", c.name, share)
		}
		var at, h []float64
		r, err := mustStart(t, v, flood.Settings{Motion: flood.Held, Keel: ptr(-c.sea * c.scale), Until: 150 * pace, Every: 0.02 * pace, Tolerance: 1e-8,
			Samples: func(s *flood.Sample) { at, h = append(at, s.Time/pace), append(h, s.Spaces[1].Depth/c.scale) }}).Finish(t.Context())
		if err != nil || r.GaveUp != nil {
			t.Fatal(c.name, err, r.GaveUp)
		}
		cross := func(mark float64) float64 {
			i := slices.IndexFunc(h, func(x float64) bool { return x >= mark })
			if i < 1 {
				t.Fatalf("%s: the level never reaches %g m: %g", c.name, mark, h[len(h)-1])
			}
			return at[i-1] + (at[i]-at[i-1])*(mark-h[i-1])/(h[i]-h[i-1])
		}
		got := cross(c.to) - cross(c.from)
		want := crossTime(0.2*0.1*(c.to-c.from), disc(duct), k, c.sea-c.from, c.sea-c.to)
		t.Logf("%s: Σk %.4f (%.4f of water), %.5f s, MSC.362(92) %.5f (%+.1e)", c.name, k, kw, got, want, got/want-1)
		if !(math.Abs(got/want-1) < c.allowed) {
			t.Errorf("%s: %g s, the resolution has %g: %+.1e", c.name, got, want, got/want-1)
		}
	}
}
