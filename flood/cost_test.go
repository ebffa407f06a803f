package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// shipTriangles is about how many triangles the hull of shipSpec has.
const shipTriangles = 5000

// shipSpec is a hull of ship shape with six spaces: offsets of a parabolic form with a flat bottom, flare and sheer, cut open
// forward, low bulkheads that the water goes over one after the other.
func shipSpec() compartment.Spec {
	s := bargeSpec()
	s.Hull = compartment.HullSpec{Offsets: &compartment.OffsetsSpec{Mirror: true}}
	const stations, points = 51, 13
	for i := range stations {
		x := float64(i) / (stations - 1)
		full := 1 - math.Pow(2*x-1, 4)*0.97
		deck := 0.1 + 0.03*math.Pow(2*x-1, 2)
		st := compartment.Station{X: x}
		for k := range points {
			z := float64(k) / (points - 1)
			st.Points = append(st.Points, compartment.StationPoint{Z: z * deck, Y: 0.07 * full * (0.7 + 0.3*z)})
		}
		s.Hull.Offsets.Stations = append(s.Hull.Offsets.Stations, st)
	}
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: 5.2, At: r3.Vec{X: 0.497, Z: 0.045}}}
	s.Compartments = nil
	for i, top := range []float64{0.09, 0.075, 0.07, 0.07, 0.075} {
		s.Bulkheads = append(s.Bulkheads, compartment.BulkheadSpec{Name: "B" + string('1'+rune(i)), At: float64(i+1) / 6, Top: ptr(top)})
	}
	for i := range 6 {
		s.Compartments = append(s.Compartments, compartment.CompartmentSpec{Name: "C" + string('1'+rune(i)), Permeability: ptr(0.9)})
	}
	s.Openings = []compartment.OpeningSpec{bored("cut-1", "outside", "C6", r3.Vec{X: 0.9, Z: 0.0}, r3.Vec{Z: -1}, 0.0044),
		bored("cut-2", "outside", "C5", r3.Vec{X: 0.75, Z: 0.0}, r3.Vec{Z: -1}, 0.0044)}
	return s
}

// Four simulated minutes of six spaces in a hull of about 5,000 triangles take at most 10,000 plane queries of the hull; 6,000
// are aimed for (issue 3). Samples every half second are on, each of which asks once or twice.
func TestCostOfFourMinutes(t *testing.T) {
	v := mustBuild(t, shipSpec())
	if n := v.Whole.Form.Len(); n < shipTriangles*9/10 || n > shipTriangles*12/10 {
		t.Fatalf("%d triangles", n)
	}
	samples := 0
	run := mustStart(t, v, flood.Settings{Until: 240, Every: 0.5, Samples: func(*flood.Sample) { samples++ }})
	r, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	s := r.Stats
	t.Logf("%.0f s, %d events, %s: %d steps, %d rejected, %d iterations, %d pose solves, %d hull queries, %d of spaces, %d samples",
		r.Duration, len(r.Events), r.Fate, s.Steps, s.Rejected, s.Iterations, s.PoseSolves, s.HullQueries, s.SpaceQueries, samples)
	if r.Duration < 200 || len(r.Events) < 3 || samples < 400 {
		t.Errorf("the case shows too little: %.0f s, %v, %d samples", r.Duration, r.Events, samples)
	}
	if s.HullQueries > 6000 {
		t.Errorf("%d queries of the hull, 6000 aimed for, 10000 allowed", s.HullQueries)
	}
}
