package plan

import (
	"math"
	"math/rand/v2"
	"testing"
)

// small is a random programme of three whole variables, up to three each, with a soft equation: |a·x − b| at a price.
func small(rnd *rand.Rand) *programme {
	p := &programme{}
	for range 3 {
		i := p.column(rnd.Float64(), 0, 3)
		p.step[i] = 1
	}
	for range 2 {
		p.column(2+rnd.Float64(), 0, math.Inf(1))
	}
	row := p.row(1 + 8*rnd.Float64())
	for i := range 3 {
		row[i] = 0.5 + 2*rnd.Float64()
	}
	row[3], row[4] = 1, -1
	return p
}

// brute tries all of them.
func brute(p *programme) float64 {
	best := math.Inf(1)
	for n := range 64 {
		x := []float64{float64(n % 4), float64(n / 4 % 4), float64(n / 16)}
		off, cost := p.rhs[0], 0.0
		for i, v := range x {
			off -= p.rows[0][i] * v
			cost += p.cost[i] * v
		}
		best = min(best, cost+p.cost[3]*max(0, off)+p.cost[4]*max(0, -off))
	}
	return best
}

func TestBranchAndBoundAgainstAll(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 1))
	for k := range 150 {
		p := small(rnd)
		want := brute(p)
		b, err := p.wholly(t.Context(), 1e-9, 1000)
		if err != nil || b.best == nil || b.cut {
			t.Fatalf("case %d: %v, %+v", k, err, b)
		}
		if math.Abs(b.cost-want) > 1e-7 {
			t.Errorf("case %d: %.9f, by trying all %.9f", k, b.cost, want)
		}
		for i := range 3 {
			if b.best[i] != math.Round(b.best[i]) || b.best[i] > 3 {
				t.Errorf("case %d: %v is not whole, or too many", k, b.best)
			}
		}
	}
}

// Least 2x + 3y with x + y ≥ 4, x ≤ 3: 9 at (3, 1).
func TestProgrammeByHand(t *testing.T) {
	p := &programme{}
	x, y, spare := p.column(2, 0, 3), p.column(3, 0, math.Inf(1)), p.column(0, 0, math.Inf(1))
	row := p.row(4)
	row[x], row[y], row[spare] = 1, 1, -1
	got, ok, err := p.solve()
	if err != nil || !ok || math.Abs(got[x]-3) > 1e-8 || math.Abs(got[y]-1) > 1e-8 {
		t.Errorf("%v %v %v", got, ok, err)
	}
	p.lower[y] = 2
	if got, ok, err = p.solve(); err != nil || !ok || math.Abs(got[x]-2) > 1e-8 || math.Abs(got[y]-2) > 1e-8 {
		t.Errorf("with y ≥ 2: %v %v %v", got, ok, err)
	}
	p.upper[y] = 2.5
	p.rhs[0] = 9
	if _, ok, err = p.solve(); ok || err != nil {
		t.Errorf("9 cannot be had: %v %v", ok, err)
	}
}

// What would send the simplex round for ever, or make it panic, is refused or taken out.
func TestProgrammeGuards(t *testing.T) {
	p := &programme{}
	x := p.column(1, 0, math.Inf(1))
	p.row(math.NaN())[x] = 1
	if _, _, err := p.solve(); err == nil {
		t.Error("NaN: no error")
	}
	p = &programme{}
	x = p.column(1, 0, math.Inf(1))
	p.column(1, 0.5, math.Inf(1)) // stands in no row
	for range 3 {                 // the same equation three times over, more rows than columns
		p.row(2)[x] = 1
	}
	got, ok, err := p.solve()
	if err != nil || !ok || math.Abs(got[0]-2) > 1e-8 || got[1] != 0.5 {
		t.Errorf("%v %v %v", got, ok, err)
	}
}
