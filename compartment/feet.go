package compartment

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"
)

// feet are found when they are first asked for.
type feet struct {
	once  sync.Once
	found []r3.Vec
}

// feetSought is for how many up directions, evenly spread, the lowest corner is sought: 6° apart, which a bilge of a radius of
// 50 mm undercuts by less than 0.1 mm between them.
const feetSought = 1000

// Feet are corners of the form on which the body may stand: the lowest for one or another up direction. Read only.
func (b *Body) Feet() []r3.Vec {
	b.feet.once.Do(func() { b.feet.found = findFeet(b) })
	return b.feet.found
}

func findFeet(b *Body) (found []r3.Vec) {
	var corners []r3.Vec
	seen := map[r3.Vec]bool{}
	for t := range b.Form.Triangles() {
		for _, x := range t {
			if !seen[x] {
				seen[x] = true
				corners = append(corners, x)
			}
		}
	}
	clear(seen)
	for _, n := range evenly(feetSought) {
		low, at := math.Inf(1), r3.Vec{}
		for _, x := range corners {
			if h := r3.Dot(n, x); h < low {
				low, at = h, x
			}
		}
		if !seen[at] {
			seen[at] = true
			found = append(found, at)
		}
	}
	return found
}

// evenly are directions spread over the sphere, on a spiral that turns by the golden angle.
func evenly(n int) (all []r3.Vec) {
	golden := math.Pi * (3 - math.Sqrt(5))
	for i := range n {
		z := 1 - (2*float64(i)+1)/float64(n)
		sin, cos := math.Sincos(golden * float64(i))
		across := math.Sqrt(1 - z*z)
		all = append(all, r3.Vec{X: across * cos, Y: across * sin, Z: z})
	}
	return all
}
