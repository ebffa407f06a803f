package compartment

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// formSurround is the surround of a bare form in water of 1000 kg/m³.
func formSurround(form *solid.Solid) *Surround {
	v := &Vessel{Water: hydro.Water{Density: 1000, Viscosity: 1e-3}, rows: newRows()}
	return v.NewSurround(&Body{Form: form}, DocumentedMotion)
}

// surroundHulls are hulls of many kinds, with pieces after a parting.
func surroundHulls(t testing.TB) map[string]*Surround {
	hulls := map[string]*Surround{
		"box":    formSurround(mustBox()),
		"wigley": formSurround(solid.Wigley(1.2, 0.18, 0.075, 0.11, 40, 12)),
		"far":    formSurround(solid.Box(r3.Vec{X: 18, Y: 10, Z: -9}, r3.Vec{X: 18.9, Y: 10.1, Z: -8.8})),
		"plank":  formSurround(solid.Box(r3.Vec{Y: -0.2}, r3.Vec{X: 1, Y: 0.2, Z: 0.01})),
		"twins":  formSurround(solid.Sum(solid.Box(r3.Vec{Y: -0.3}, r3.Vec{X: 1, Y: -0.2, Z: 0.15}), solid.Box(r3.Vec{X: 0.5, Y: 0.2}, r3.Vec{X: 1.3, Y: 0.3, Z: 0.1}))),
	}
	spec := barge()
	spec.Hull = HullSpec{Offsets: ship(), Shell: spec.Hull.Shell}
	spec.Bulkheads, spec.Compartments, spec.Openings, spec.Weights = nil, nil, nil, nil
	v := mustBuild(t, spec)
	hulls["ship"] = v.NewSurround(v.Whole, DocumentedMotion)
	for _, b := range v.Parted([]bool{true}).Bodies {
		hulls[b.Name] = v.NewSurround(b, DocumentedMotion)
	}
	return hulls
}

// randomPose is a pose that wets some of a form; now and then an exact one.
func randomPose(rnd *rand.Rand, form *surroundGrid) Pose {
	up := r3.Unit(r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()})
	switch rnd.IntN(6) {
	case 0:
		up = r3.Vec{X: 1 - 2*float64(rnd.IntN(2))}
	case 1:
		up = r3.Vec{Z: 1 - 2*float64(rnd.IntN(2))}
	case 2:
		up = r3.Vec{Y: 1}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i := range form.strips {
		h := r3.Dot(up, form.strips[i].middle)
		low, high = min(low, h), max(high, h)
	}
	size := high - low + 0.3
	return Pose{Up: up, Sea: low - 0.2*size + 1.4*size*rnd.Float64()}
}

// TestAddedChange: the derivatives against central differences, the tensor's own smoothness with it.
func TestAddedChange(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	hulls := surroundHulls(t)
	for _, name := range slices.Sorted(maps.Keys(hulls)) {
		s := hulls[name]
		s.Immerse(Upright(100))
		deep := tensorSize(s.Added())
		for range 60 {
			p := randomPose(rnd, s.grid)
			s.Immerse(p)
			size := tensorSize(s.Added())
			pitch, roll := Tangents(p.Up)
			var change [3][6][6]float64
			for k := range 3 {
				change[k] = *s.AddedChange(k)
			}
			for k := range 3 {
				const h = 2e-6
				var step [2][3]float64
				step[0][k], step[1][k] = h, -h
				var ends [2][6][6]float64
				for i := range ends {
					s.Immerse(p.Turned(pitch, roll, step[i][0], step[i][1], step[i][2]))
					ends[i] = *s.Added()
				}
				for i := range 6 {
					for j := range 6 {
						want := (ends[0][i][j] - ends[1][i][j]) / (2 * h)
						scale := math.Sqrt(size[i]*size[j]) + math.Abs(want) + 1e-5*math.Sqrt(deep[i]*deep[j])
						if d := math.Abs(want - change[k][i][j]); !(d <= 1e-4*scale) {
							t.Fatalf("%s, up %v, sea %g: change %d of %d %d is %g, by differences %g", name, p.Up, p.Sea, k, i, j, change[k][i][j], want)
						}
					}
				}
			}
		}
	}
}

func tensorSize(m *[6][6]float64) (d [6]float64) {
	for i := range d {
		d[i] = m[i][i]
	}
	return d
}

// TestAddedPositive: the tensor is symmetric and positive semidefinite in any pose, and so is the loss of damping.
func TestAddedPositive(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 7))
	hulls := surroundHulls(t)
	for _, name := range slices.Sorted(maps.Keys(hulls)) {
		s := hulls[name]
		for range 300 {
			p := randomPose(rnd, s.grid)
			s.Immerse(p)
			if low, ok := leastEigen(s.Added()); !ok {
				t.Fatalf("%s, up %v, sea %g: least eigenvalue %g of %v", name, p.Up, p.Sea, low, s.Added())
			}
			var v, force [6]float64
			for i := range v {
				v[i] = rnd.NormFloat64() * math.Pow(10, 2*rnd.Float64()-3)
			}
			var rate [6][6]float64
			s.Damp(v, &force, &rate)
			power := 0.0
			for i := range v {
				power += v[i] * force[i]
				for k := range 6 {
					rate[i][k] = -rate[i][k]
				}
			}
			if !(power <= 0) {
				t.Fatalf("%s: damping gives power %g", name, power)
			}
			if low, ok := leastEigen(&rate); !ok {
				t.Fatalf("%s: least eigenvalue of damping %g", name, low)
			}
			checkDampSlope(t, name, s, v, &rate)
		}
	}
}

// checkDampSlope compares the slope (negated) with differences.
func checkDampSlope(t *testing.T, name string, s *Surround, v [6]float64, rate *[6][6]float64) {
	t.Helper()
	for k := range 6 {
		const h = 1e-7
		var ends [2][6]float64
		for i := range ends {
			u := v
			u[k] += h * float64(1-2*i)
			var none [6][6]float64
			s.Damp(u, &ends[i], &none)
		}
		for i := range 6 {
			want := -(ends[0][i] - ends[1][i]) / (2 * h)
			if !(math.Abs(want-rate[i][k]) <= 1e-4*(math.Abs(want)+math.Sqrt(rate[i][i]*rate[k][k]))+1e-7) {
				t.Fatalf("%s: slope %d %d %g, by differences %g", name, i, k, rate[i][k], want)
			}
		}
	}
}

// leastEigen is the least eigenvalue of a tensor whose rows and columns are first divided by the roots of its diagonal.
func leastEigen(m *[6][6]float64) (least float64, ok bool) {
	a := mat.NewSymDense(6, nil)
	for i := range 6 {
		for k := i; k < 6; k++ {
			if m[i][k] != m[k][i] || math.IsNaN(m[i][k]) {
				return math.NaN(), false
			}
			if m[i][i] > 0 && m[k][k] > 0 {
				a.SetSym(i, k, m[i][k]/math.Sqrt(m[i][i]*m[k][k]))
			} else if m[i][k] != 0 {
				return math.NaN(), false
			}
		}
	}
	var e mat.EigenSym
	if !e.Factorize(a, false) {
		return math.NaN(), false
	}
	least = e.Values(nil)[0]
	return least, least > -1e-11
}

// BenchmarkSurround: what a pose costs, and beside it a plane query of the same hull of 4,900 triangles.
func BenchmarkSurround(b *testing.B) {
	form := solid.Wigley(1.2, 0.18, 0.075, 0.11, 57, 14)
	s := formSurround(form)
	for name, p := range map[string]Pose{"even": Upright(0.07), "trimmed": {Inclined(0.1, 0.3), 0.04}, "on-end": {Inclined(0.1, 1.3), -0.4}} {
		b.Run("query/"+name, func(b *testing.B) {
			for b.Loop() {
				form.Below(planeAt(p.Up, p.Sea))
			}
		})
		b.Run("immerse/"+name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Immerse(p)
			}
		})
		b.Run("damp/"+name, func(b *testing.B) {
			var force [6]float64
			var slope [6][6]float64
			for b.Loop() {
				s.Damp([6]float64{0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, &force, &slope)
			}
		})
	}
}

// TestSurroundAllocates: nothing, once it is made.
func TestSurroundAllocates(t *testing.T) {
	s := formSurround(mustBox())
	var force [6]float64
	var slope [6][6]float64
	if n := testing.AllocsPerRun(20, func() {
		s.Immerse(Pose{Inclined(0.2, 0.4), 0.03})
		s.Added()
		s.AddedChange(1)
		s.Damp([6]float64{1, 2, 3, 4, 5, 6}, &force, &slope)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// TestDampingOfBoxes: without friction none of the linear part far under water, none at all out of it; roll by the corners of the section.
func TestDampingOfBoxes(t *testing.T) {
	s := inWater(mustBox(), 0)
	loss := func(v [6]float64) (power float64) {
		var force [6]float64
		var slope [6][6]float64
		s.Damp(v, &force, &slope)
		for i := range v {
			power -= v[i] * force[i]
		}
		return power
	}
	s.Immerse(Upright(-1))
	near(t, "in the air", loss([6]float64{1, 1, 1, 1, 1, 1}), 0, 0)
	s.Immerse(Upright(3))
	near(t, "deep: a power of the third order", loss([6]float64{0, 0, 2e-3})/loss([6]float64{0, 0, 1e-3}), 8, 1e-9)
	s.Immerse(Upright(0.08))
	near(t, "floating: of the second at small speed", loss([6]float64{0, 0, 2e-9})/loss([6]float64{0, 0, 1e-9}), 4, 1e-3)
	// ITTC 7.5-02-07-04.5 as in motioncoefficients.go: 0.75 ρ r⁴ per metre, r² = 0.1² + 0.08². The wet part's centroid moves
	// sideways besides, 40 mm from the axis: ½ρ 1.9 · 0.08 · 0.04³ = 2.4 % of it, less for the finite length.
	roll := 0.75 * 1000 * math.Pow(0.1*0.1+0.08*0.08, 2)
	near(t, "roll at 100 rad/s over that of the corners", loss([6]float64{3: 100})/1e6/roll, 1.03, 0.03)
}
