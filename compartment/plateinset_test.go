package compartment

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// Of any figure, with holes, waists, spikes and parts that touch, what is left within a shell of one thickness all round is what lies
// that far from its outline: judged here point by point, by distance.
func TestInsetIsWhatLiesAsFarFromTheOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grid := int64(rapid.SampledFrom([]int{1, 10_000, 50_000}).Draw(t, "grid")) // coarse grids: right angles, equal distances
		const reach = 500_000                                                      // 50 mm
		var loops [][]spot
		for range rapid.IntRange(1, 3).Draw(t, "loops") {
			var loop []spot
			for range rapid.IntRange(3, 9).Draw(t, "corners") {
				loop = append(loop, spot{rapid.Int64Range(-reach/grid, reach/grid).Draw(t, "u") * grid, rapid.Int64Range(-reach/grid, reach/grid).Draw(t, "v") * grid})
			}
			loops = append(loops, loop)
		}
		figure, err := region(loops, 1)
		if err != nil {
			t.Fatal(err)
		}
		thickness := float64(rapid.SampledFrom([]int{1, 5, 10}).Draw(t, "thickness")) * 1e-3
		var moved [][]spot
		for _, loop := range figure {
			moved = append(moved, movedIn(evenSides(loop, thickness)))
		}
		got, err := region(moved, 1)
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			u := float64(rapid.Int64Range(-reach, reach).Draw(t, "at u")) + 0.37
			v := float64(rapid.Int64Range(-reach, reach).Draw(t, "at v")) + 0.41
			off := nearestSide(figure, u, v)*latticeStep - thickness
			if -5e-6 < off && off < 5e-6 { // the chords of round corners leave out a millionth of a metre, crossings are rounded
				continue
			}
			want := 0
			if off > 0 && windsAround(figure, u, v) == 1 {
				want = 1
			}
			if in := windsAround(got, u, v); in != want {
				t.Fatalf("at %g, %g, %g m beyond the thickness: %d, want %d; figure %v", u, v, off, in, want, figure)
			}
		}
	})
}

// evenSides are the sides of a loop with the same inset everywhere.
func evenSides(loop []spot, thickness float64) []side {
	sides := make([]side, len(loop))
	for i, s := range loop {
		p, q := s.vec(), loop[(i+1)%len(loop)].vec()
		d := r2.Unit(r2.Sub(q, p))
		sides[i] = side{from: p, to: q, inward: r2.Vec{X: -d.Y, Y: d.X}, depth: [2]float64{thickness, thickness}}
	}
	return sides
}
