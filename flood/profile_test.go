package flood

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestProfileAgainstDense solves random networks' matrices by gonum's pivoted dense factors too.
func TestProfileAgainstDense(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for trial := range 200 {
		n := 1 + rng.IntN(40)
		var pairs [][2]int
		for range rng.IntN(3 * n) {
			if i, j := rng.IntN(n), rng.IntN(n); i != j {
				pairs = append(pairs, [2]int{i, j})
			}
		}
		p, dense := newProfile(n, pairs), mat.NewDense(n, n, nil)
		p.clear()
		put := func(i, j int, v float64) { p.add(i, j, v); dense.Set(i, j, dense.At(i, j)+v) }
		for i := range n {
			put(i, i, 1)
		}
		for _, q := range pairs { // a flow that follows the two heads, over eight decades
			c, d := math.Pow(10, 8*rng.Float64()-4), math.Pow(10, 8*rng.Float64()-4)
			put(q[0], q[0], c)
			put(q[1], q[0], -c)
			put(q[0], q[1], -d)
			put(q[1], q[1], d)
		}
		x, b := make([]float64, n), mat.NewVecDense(n, nil)
		for i := range x {
			x[i] = rng.NormFloat64()
			b.SetVec(i, x[i])
		}
		var want mat.VecDense
		if err := want.SolveVec(dense, b); err != nil {
			continue // gonum calls it badly conditioned
		}
		p.factor()
		p.solve(x)
		for i := range x {
			if math.Abs(x[i]-want.AtVec(i)) > 1e-9*(1+mat.Norm(&want, math.Inf(1))) {
				t.Fatalf("trial %d, n %d: x[%d] = %g, dense %g", trial, n, i, x[i], want.AtVec(i))
			}
		}
	}
}
