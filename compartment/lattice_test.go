package compartment

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A point lies in a region exactly where the loops wind around it often enough, and the region's own loops wind around it once or
// not at all. The winding is counted here by the angle that the loop turns through, another way than the lattice's.
func TestRegionIsWhereLoopsWind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := int64(rapid.SampledFrom([]int{6, 40, 1000, 200_000_000}).Draw(t, "reach")) // few places: many coincidences
		place := func(name string) spot {
			return spot{rapid.Int64Range(-reach, reach).Draw(t, name), rapid.Int64Range(-reach, reach).Draw(t, name)}
		}
		var loops [][]spot
		for range rapid.IntRange(1, 3).Draw(t, "loops") {
			var loop []spot
			for range rapid.IntRange(3, 12).Draw(t, "corners") {
				loop = append(loop, place("corner"))
			}
			loops = append(loops, loop)
		}
		least := rapid.IntRange(1, 2).Draw(t, "least")
		got, err := region(loops, least)
		if err != nil {
			t.Fatal(err)
		}
		for range 10 {
			u := float64(rapid.Int64Range(-reach, reach).Draw(t, "u")) + 0.37
			v := float64(rapid.Int64Range(-reach, reach).Draw(t, "v")) + 0.41
			if nearestSide(loops, u, v) < 3 { // crossings are rounded to whole steps
				continue
			}
			want := 0
			if windsAround(loops, u, v) >= least {
				want = 1
			}
			if in := windsAround(got, u, v); in != want {
				t.Fatalf("at %g, %g: %d, want %d; loops %v gave %v", u, v, in, want, loops, got)
			}
		}
	})
}

func windsAround(loops [][]spot, u, v float64) int {
	angle := 0.0
	for _, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			au, av, bu, bv := float64(a.u)-u, float64(a.v)-v, float64(b.u)-u, float64(b.v)-v
			angle += math.Atan2(au*bv-av*bu, au*bu+av*bv)
		}
	}
	return int(math.Round(angle / (2 * math.Pi)))
}

func nearestSide(loops [][]spot, u, v float64) float64 {
	least := math.Inf(1)
	for _, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			du, dv := float64(b.u-a.u), float64(b.v-a.v)
			t := 0.0
			if l := du*du + dv*dv; l > 0 {
				t = min(1, max(0, ((u-float64(a.u))*du+(v-float64(a.v))*dv)/l))
			}
			least = min(least, math.Hypot(u-float64(a.u)-t*du, v-float64(a.v)-t*dv))
		}
	}
	return least
}

// Parts that touch in one point are loops of their own, so that each can be cut out.
func TestTouchingPartsAreApart(t *testing.T) {
	got, err := region([][]spot{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{10, 10}, {20, 10}, {20, 20}, {10, 20}}}, 1)
	if err != nil || len(got) != 2 || len(got[0]) != 4 || len(got[1]) != 4 {
		t.Errorf("%v, %v", got, err)
	}
}
