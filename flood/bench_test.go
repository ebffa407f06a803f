package flood_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// BenchmarkFourMinutes runs the ship of TestCostOfFourMinutes. The shares of time are counts of calls times what one such
// call takes when it is made again and again: the engine itself measures no times.
func BenchmarkFourMinutes(b *testing.B) {
	v := mustBuild(b, shipSpec())
	var s flood.Stats
	for b.Loop() {
		run := mustStart(b, v, flood.Settings{Until: 240, Samples: func(*flood.Sample) {}})
		r, err := run.Finish(b.Context())
		if err != nil {
			b.Fatal(err)
		}
		s = r.Stats
	}
	whole := b.Elapsed().Seconds() / float64(b.N)
	report := func(name string, n int) { b.ReportMetric(float64(n), name) }
	report("steps", s.Steps)
	report("rejected", s.Rejected)
	report("iterations", s.Iterations)
	report("pose-solves", s.PoseSolves)
	report("hull-queries", s.HullQueries)
	report("space-queries", s.SpaceQueries)
	hull, room, flow := callTimes(v)
	geometry := (float64(s.HullQueries)*hull + float64(s.SpaceQueries)*room) / whole
	flows := float64(s.FlowEvaluations) * flow / whole
	linear := float64(s.Iterations) * eliminationTime(b, v) / whole
	b.ReportMetric(100*geometry, "%geometry")
	b.ReportMetric(100*flows, "%flow")
	b.ReportMetric(100*linear, "%linear-algebra")
	b.ReportMetric(100*(1-geometry-flows-linear), "%rest")
}

// eliminationTime is what filling, factoring and solving the equations of one iteration takes in the middle of a run, s.
func eliminationTime(b *testing.B, v *compartment.Vessel) float64 {
	run := mustStart(b, v, flood.Settings{Until: 240})
	for range run.Steps(b.Context()) {
		if run.Time() > 60 {
			break
		}
	}
	const calls = 3000
	start := time.Now()
	for range calls {
		if !run.Eliminate() {
			b.Fatal("the equations have no solution")
		}
	}
	return time.Since(start).Seconds() / calls
}

// callTimes are what a query of the hull, one of a space, and an opening's flow take, s.
func callTimes(v *compartment.Vessel) (hull, room, flow float64) {
	const calls = 3000
	each := func(call func(i int)) float64 {
		start := time.Now()
		for i := range calls {
			call(i)
		}
		return time.Since(start).Seconds() / calls
	}
	plane := func(i int) solid.Plane {
		trim := 0.1 * math.Sin(float64(i))
		return solid.Plane{N: r3.Vec{X: -math.Sin(trim), Z: math.Cos(trim)}, D: 0.03 + 0.03*math.Abs(math.Cos(float64(i)))}
	}
	hull = each(func(i int) { v.Whole.Form.Below(plane(i)) })
	room = each(func(i int) { v.Spaces[i%len(v.Spaces)].Room.Below(plane(i)) })
	var view hydro.View
	p := v.Passages[0]
	p.Figure.View(r3.Vec{Z: 1}, &view)
	flow = each(func(i int) {
		a := 0.05 + 0.01*math.Sin(float64(i))
		p.Law.Water(&view, &v.Water, hydro.Side{Surface: a, Head: a}, hydro.Side{Surface: 0.02, Head: 0.02})
	})
	return hull, room, flow
}

// rowSpec is a long barge of n spaces in a row and about 3.3 n openings, held or afloat: holes to the sea in every tenth, two
// holes and, over a low bulkhead, an edge between neighbours.
func rowSpec(n int) compartment.Spec {
	s := bargeSpec()
	long := float64(n) / 30
	s.Hull.Box = &compartment.BoxSpec{Length: long, Breadth: 0.2, Depth: 0.15}
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: 14 * long, At: r3.Vec{X: long / 2, Z: 0.05}}}
	for i := range n {
		s.Compartments = append(s.Compartments, compartment.CompartmentSpec{Name: fmt.Sprintf("C%d", i)})
		x := (float64(i) + 0.5) / 30
		if i%3 == 0 {
			s.Openings = append(s.Openings, bored(fmt.Sprintf("sea-%d", i), "outside", fmt.Sprintf("C%d", i), r3.Vec{X: x}, r3.Vec{Z: -1}, 0.002))
		}
		if i == n-1 {
			continue
		}
		x = float64(i+1) / 30
		s.Bulkheads = append(s.Bulkheads, compartment.BulkheadSpec{Name: fmt.Sprintf("B%d", i), At: x, Top: ptr(0.1)})
		for k, z := range []float64{0.02, 0.06} {
			s.Openings = append(s.Openings, bored(fmt.Sprintf("way-%d-%d", i, k), fmt.Sprintf("C%d", i), fmt.Sprintf("C%d", i+1), r3.Vec{X: x, Z: z}, r3.Vec{X: 1}, 0.003))
		}
	}
	return s
}

// BenchmarkSpaces shows how time grows with the number of spaces: a minute of a barge of n spaces with 10/3 n openings.
func BenchmarkSpaces(b *testing.B) {
	for _, n := range []int{3, 30, 100, 300} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			v := mustBuild(b, rowSpec(n))
			var r *flood.Result
			for b.Loop() {
				run := mustStart(b, v, flood.Settings{Until: 60})
				var err error
				if r, err = run.Finish(b.Context()); err != nil || r.GaveUp != nil {
					b.Fatal(err, r.GaveUp)
				}
			}
			b.ReportMetric(float64(len(v.Passages)), "openings")
			b.ReportMetric(float64(r.Stats.Steps), "steps")
			b.ReportMetric(float64(r.Stats.Iterations), "iterations")
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/float64(r.Stats.Iterations)*1e6, "µs/iteration")
		})
	}
}

// Three hundred spaces with a thousand openings run through, and their water closes.
func TestManySpaces(t *testing.T) {
	tooLongUnderRace(t)
	v := mustBuild(t, rowSpec(300))
	r, err := mustStart(t, v, flood.Settings{Until: 60}).Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d openings, %d steps, %s, balance %.3g of %.3g m³", len(v.Passages), r.Stats.Steps, r.Ended, r.WaterBalance, r.WaterCrossed)
	if len(v.Passages) < 990 || r.GaveUp != nil || r.WaterCrossed == 0 || math.Abs(r.WaterBalance) > 1e-12*r.WaterCrossed {
		t.Errorf("%d openings, %+v, balance %g of %g m³", len(v.Passages), r.GaveUp, r.WaterBalance, r.WaterCrossed)
	}
}
