package hydro

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// section is the gap over a bulkhead in a round-bilged hull, of n corners.
func section(n int) *Figure {
	gap := make([]r3.Vec, n)
	for i := range gap {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		gap[i] = r3.Vec{Y: 0.1 * c, Z: 0.07 + 0.02*s}
	}
	return Edge([][]r3.Vec{gap}, [][]r3.Vec{{{}}}, r3.Vec{X: 1})
}

func BenchmarkOpening(b *testing.B) {
	hole, holeLaw := Circle(r3.Vec{Z: 0.07}, r3.Vec{X: 1}, 0.04), HoleLaw(0.04, 1e-3, Sharp, math.NaN(), still, NewAir(291))
	slot, slotLaw := Rectangle(r3.Vec{Z: 0.07}, r3.Vec{X: 1}, r3.Vec{Y: 1}, 0.04, 0.03), SlotLaw(0.04, 0.03, 1e-3, Sharp, math.NaN(), still, NewAir(291))
	gap, edgeLaw := section(40), EdgeLaw(section(40).Area(), math.NaN(), still, NewAir(291))
	up := r3.Unit(r3.Vec{X: 0.02, Y: 0.03, Z: 1})
	for _, c := range []struct {
		name string
		f    *Figure
		o    Orifice
	}{{"hole", hole, holeLaw}, {"slot", slot, slotLaw}, {"edge40", gap, edgeLaw}} {
		var v View
		b.Run(c.name+"/view", func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				c.f.View(up, &v)
			}
		})
		b.Run(c.name+"/half-drowned", func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				c.o.Water(&v, &still, level(0.09), level(0.07))
			}
		})
		b.Run(c.name+"/drowned", func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				c.o.Water(&v, &still, level(0.2), level(0.19))
			}
		})
	}
}
