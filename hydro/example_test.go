package hydro_test

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// What runs through a hole of 20 mm in a thin side, its centre 100 mm under water outside, nothing behind it.
func ExampleHoleLaw() {
	water, err := hydro.FreshWater(293.15)
	if err != nil {
		fmt.Println(err)
		return
	}
	law := hydro.HoleLaw(0.02, 0.001, hydro.Sharp, math.NaN(), water, hydro.NewAir(293.15))
	var view hydro.View
	hydro.Circle(r3.Vec{}, r3.Vec{Y: 1}, 0.02).View(r3.Vec{Z: 1}, &view)
	sea := hydro.Side{Surface: 0.1, Head: 0.1}
	hold := hydro.Side{Surface: math.Inf(-1), Head: math.Inf(-1)}
	flow := law.Water(&view, &water, sea, hold)
	fmt.Printf("%.2f l/s, by C_d A √(2gh) %.2f l/s\n", 1000*flow.Rate, 1000*0.61*math.Pi/4*0.02*0.02*math.Sqrt(2*hydro.Gravity*0.1))
	// Output: 0.27 l/s, by C_d A √(2gh) 0.27 l/s
}
