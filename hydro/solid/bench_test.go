package solid

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// benchHull is a Wigley hull with deck of about n triangles.
func benchHull(n int) *Solid {
	nz := max(2, int(math.Round(math.Sqrt(float64(n)/20))))
	return Wigley(1.2, 0.18, 0.075, 0.11, n*10/(56*nz+20), nz)
}

// randomPlanes cut the solid: random directions, and offsets between the ends of its reach.
func randomPlanes(s *Solid, n int, seed uint64) []Plane {
	rnd := rand.New(rand.NewPCG(seed, 1))
	planes := make([]Plane, n)
	for i := range planes {
		dir := randomUnit(rnd)
		low, high := s.Reach(dir)
		planes[i] = Plane{N: dir, D: low + (0.02+0.96*rnd.Float64())*(high-low)}
	}
	return planes
}

func randomUnit(rnd *rand.Rand) r3.Vec {
	for {
		v := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		if l := r3.Norm(v); l > 0.1 {
			return r3.Scale(1/l, v)
		}
	}
}

// BenchmarkBelow measures, at the same 64 planes: plain, the loop over all triangles; tree, the query; cut, that loop over the
// crossed triangles alone, gathered beforehand, which no method can do without; kernel, the query's own arithmetic over
// leaves that hold the crossed triangles alone: what the tree costs over and above it.
func BenchmarkBelow(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000, 1_000_000} {
		s := benchHull(n)
		tris := slices.Collect(s.Triangles())
		planes := randomPlanes(s, 64, 7)
		cuts, trees, crossed := crossedOnly(s, tris, planes)
		run := func(name string, visited float64, f func(i int)) {
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				b.ReportAllocs()
				for i := 0; b.Loop(); i++ {
					f(i % 64)
				}
				b.ReportMetric(visited, "visited/op")
			})
		}
		run("plain", float64(len(tris)), func(i int) { plainBelow(tris, planes[i], s.centre) })
		run("tree", visitedMean(s, planes), func(i int) { s.Below(planes[i]) })
		run("cut", crossed, func(i int) { plainBelow(cuts[i], planes[i], s.centre) })
		run("kernel", crossed, func(i int) {
			var q query
			q.aim(planes[i].N, planes[i].D-r3.Dot(planes[i].N, s.centre))
			for l := range trees[i].leaves {
				q.leaf(&trees[i], int32(l))
			}
		})
	}
}

// crossedOnly gathers for each plane the triangles it crosses, as a list and in leaves, and their mean number.
func crossedOnly(s *Solid, tris []Triangle, planes []Plane) (cuts [][]Triangle, trees []tree, mean float64) {
	for _, p := range planes {
		c := cutOnly(tris, p)
		corners, faces, err := weld(c)
		if err != nil {
			panic(err) // the hull's corners are finite
		}
		cuts, trees = append(cuts, c), append(trees, grow(corners, faces, s.centre, s.size))
		mean += float64(len(c)) / float64(len(planes))
	}
	return cuts, trees, mean
}

func visitedMean(s *Solid, planes []Plane) float64 {
	total := 0
	for _, p := range planes {
		var q query
		q.aim(p.N, p.D-r3.Dot(p.N, s.centre))
		s.tree.collect(&q)
		total += q.visited
	}
	return float64(total) / float64(len(planes))
}

// BenchmarkOffset measures the inverse, cold and from the plane of a volume one thousandth off.
func BenchmarkOffset(b *testing.B) {
	for _, n := range []int{100, 1_000, 10_000} {
		s := benchHull(n)
		planes := randomPlanes(s, 64, 7)
		volumes := make([]float64, len(planes))
		for i, p := range planes {
			volumes[i] = s.Below(p).Volume
		}
		run := func(name string, factor, near float64) {
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				b.ReportAllocs()
				queries := 0
				for i := 0; b.Loop(); i++ {
					p := planes[i%64]
					_, _, q := s.Offset(p.N, factor*volumes[i%64], p.D+near)
					queries += q
				}
				b.ReportMetric(float64(queries)/float64(b.N), "queries/op")
			})
		}
		run("cold", 1, math.NaN())
		run("warm", 1.001, 0)
	}
}

func BenchmarkReach(b *testing.B) {
	s := benchHull(10_000)
	planes := randomPlanes(s, 64, 7)
	for i := 0; b.Loop(); i++ {
		s.Reach(planes[i%64].N)
	}
}
