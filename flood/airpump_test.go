package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// A pump into a closed airtight space presses its air until that holds it: between one and two lengths of the hull over the brim,
// by Boyle's law some tenth of the room at a length of a metre. A pump out of a closed full one draws until it is held as well.
func TestPumpAndClosedAir(t *testing.T) {
	for _, starts := range []float64{0, 1} {
		s := bargeSpec()
		s.Weights[0].Mass = 8
		s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.3}}
		s.Compartments = []compartment.CompartmentSpec{{Name: "stern", Airtight: true, Starts: &compartment.StartSpec{Share: &starts}}, {Name: "fore"}}
		pump := compartment.OpeningSpec{Name: "pump", Between: [2]string{"outside", "stern"}, At: r3.Vec{X: 0.1, Z: 0.15}, Faces: &r3.Vec{Z: 1}, Flow: ptr(2e-5)}
		if starts == 1 {
			pump.Between = [2]string{"stern", "outside"}
		}
		s.Openings = []compartment.OpeningSpec{pump}
		run := mustStart(t, mustBuild(t, s), flood.Settings{Motion: flood.Held, Keel: ptr(-0.05)})
		r, err := run.Finish(t.Context())
		if err != nil || r.GaveUp != nil {
			t.Fatalf("starts %v: %v, %+v", starts, err, r.GaveUp)
		}
		fill := run.Water()[0] / 0.009
		if low, high := 1.0*9806.65/(101325+9806.65), 2.15*9806.65/(101325+2.15*9806.65); starts == 0 && !(fill > low && fill < high) {
			t.Errorf("filled to %.4f, by Boyle %.4f to %.4f", fill, low, high)
		}
		if starts == 1 && math.Abs(fill-1) > 2e-6 {
			t.Errorf("%.7f of it is left: nothing can take its place", fill)
		}
	}
}
