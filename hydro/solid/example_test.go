package solid_test

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// A box of 1 m by 0.2 m that displaces 10 l, upright and heeled.
func ExampleSolid_Offset() {
	box := solid.Box(r3.Vec{Y: -0.1}, r3.Vec{X: 1, Y: 0.1, Z: 0.15})
	for _, heel := range []float64{0, 20 * math.Pi / 180} {
		up := r3.Vec{Y: math.Sin(heel), Z: math.Cos(heel)}
		d, below, _ := box.Offset(up, 0.010, math.NaN())
		fmt.Printf("plane %.2f mm over the keel, cut %.4f m², centre of buoyancy %.2f mm to port\n",
			d/up.Z*1e3, below.Area, below.Moment.Y/below.Volume*1e3)
	}
	// Output:
	// plane 50.00 mm over the keel, cut 0.2000 m², centre of buoyancy 0.00 mm to port
	// plane 50.00 mm over the keel, cut 0.2128 m², centre of buoyancy -24.26 mm to port
}
