package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// orderCase is a stretch of a run done by fixed steps, which only an event cuts. theory is the order that the method has
// there, atLeast what a straight line through the logarithms must show of it.
type orderCase struct {
	name            string
	spec            compartment.Spec
	begin, end      float64 // s
	event           flood.EventKind
	counts          []int // of steps over the stretch
	theory, atLeast float64
}

// orderCases are smooth stretches and one of each kind of corner. The method is of order 4 and starts anew at an event, so
// that a flow that jumps there costs no order. Over a bulkhead the flow begins like (t − t₀)^1.5: its derivatives are not
// bounded, the first steps behind t₀ err by h·h^1.5 each, and no method of fixed steps does better than order 2.5 there. Where in its step an event falls changes the
// error too, so that a `filled` is seen at many lengths; beyond 18 steps its time is as sharp as rounding lets it be.
func orderCases() []orderCase {
	smooth := midSpec()
	smooth.Openings[0].Hole = ptr(0.03)
	opened := midSpec()
	opened.Openings = append([]compartment.OpeningSpec(nil), smooth.Openings...)
	opened.Openings = append(opened.Openings, bored("late", "mid", "fore", r3.Vec{X: 0.6, Z: 0.045}, r3.Vec{X: 1}, 0.02))
	opened.Openings[1].Opens = []compartment.Condition{{Time: ptr(6.77)}}
	return []orderCase{
		{"smooth", smooth, 5, 8.5, "", []int{4, 8, 16, 32}, 4, 3.7},
		{"opened", opened, 6, 8.5, flood.Opened, []int{4, 8, 16, 32}, 4, 3.7},
		{"overtopped", spillSpec(), 1, 20, flood.Overtopped, []int{16, 32, 64, 128, 256, 512}, 2.5, 2.3},
		{"filled", filledSpec(), 1, 18, flood.Filled, []int{8, 9, 10, 11, 12, 13, 14, 15, 16, 18}, 4, 3},
	}
}

// filledSpec has a tank that fills from the sea and then passes on what enters, through a hole in its top.
func filledSpec() compartment.Spec {
	s := bargeSpec()
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"},
		{Name: "tank", X: &[2]float64{0.4, 0.6}, Y: &[2]float64{-0.05, 0.05}, Z: &[2]float64{0, 0.084}}}
	s.Openings = []compartment.OpeningSpec{bored("bottom", "outside", "tank", r3.Vec{X: 0.5}, r3.Vec{Z: -1}, 0.02),
		bored("on", "tank", "hold", r3.Vec{X: 0.5, Z: 0.084}, r3.Vec{Z: 1}, 0.006)}
	return s
}

// march does the stretch by n fixed steps, having come to it by fine ones.
func (c *orderCase) march(t *testing.T, n int) ([]float64, []flood.Event) {
	t.Helper()
	run := mustStart(t, mustBuild(t, c.spec), flood.Settings{Until: 1000, Tolerance: 1e-11})
	run.SharpEvents()
	to := func(end, h float64) {
		for run.Time() < end*(1-1e-12) {
			g, ok := math.Min(h, end-run.Time()), false
			for halved := 0; !ok; halved++ {
				if _, ok = run.FixedStep(g); !ok && halved > 5 {
					t.Fatalf("%s: no step of %g s at %g s", c.name, g, run.Time())
				}
				g /= 2 // a long step far past a jump may not converge
			}
		}
	}
	to(c.begin, 0.1)
	to(c.end, (c.end-c.begin)/float64(n))
	return run.Water(), run.Result().Events
}

func TestOrder(t *testing.T) {
	for _, c := range orderCases() {
		want, _ := c.march(t, 8*c.counts[len(c.counts)-1])
		var x, y []float64
		for _, n := range c.counts {
			got, events := c.march(t, n)
			off := 0.0
			for i := range got {
				off = max(off, math.Abs(got[i]-want[i]))
			}
			t.Logf("%s: %4d steps, off by %.3g m³", c.name, n, off)
			x, y = append(x, -math.Log(float64(n))), append(y, math.Log(off))
			if c.event != "" && (len(events) != 1 || events[0].Kind != c.event) || c.event == "" && len(events) > 0 {
				t.Errorf("%s by %d steps: events %v", c.name, n, events)
			}
		}
		order := lineSlope(x, y)
		t.Logf("%s: order %.2f, in theory %g", c.name, order, c.theory)
		if !(order >= c.atLeast) {
			t.Errorf("%s: order %.2f, in theory %g, wanted %g at least", c.name, order, c.theory, c.atLeast)
		}
	}
}
