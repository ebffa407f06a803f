package compartment

import "testing"

// BenchmarkLoads: what a run pays at every step for its joints, and once for the curve.
func BenchmarkLoads(b *testing.B) {
	spec := laden(1, [3]float64{4, 0.1, 0.9}, [3]float64{1, 0.6, 0.8})
	spec.Hull = HullSpec{Wigley: &WigleySpec{Length: 1, Breadth: 0.2, Draft: 0.09, Depth: 0.15}}
	spec.Bulkheads = []BulkheadSpec{{Name: "B1", At: 0.3}, {Name: "B2", At: 0.5}, {Name: "B3", At: 0.7}}
	spec.Compartments = []CompartmentSpec{{Name: "a"}, {Name: "b"}, {Name: "c"}, {Name: "d"}}
	a := newLoaded(b, jointsAt(spec, 0.31, 0.5, 0.65), []float64{1e-4, 3e-4, 1e-4, 2e-4})
	out := make([]Load, 3)
	b.Run("joints", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			a.loads.AtJoints(&a.c, out)
		}
	})
	b.Run("curve", func(b *testing.B) {
		for b.Loop() {
			a.loads.Curve(&a.c)
		}
	})
	b.Run("make", func(b *testing.B) {
		for b.Loop() {
			a.NewLoads(a.Whole, true)
		}
	})
	b.Run("balance", func(b *testing.B) { // for comparison: one balance of the hull and its waters
		var bal Balance
		water := []float64{1e-4, 3e-4, 1e-4, 2e-4}
		for b.Loop() {
			a.floater.Balance(a.c.Pose, water, &bal)
		}
	})
}
