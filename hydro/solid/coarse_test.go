package solid

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// A box in a thousand plates is twelve again: every corner within its faces and edges can go without harm.
func TestCoarseBox(t *testing.T) {
	fine := Box(r3.Vec{X: 5, Y: -1}, r3.Vec{X: 7, Y: 1, Z: 1})
	for range 3 {
		var quarters []Triangle
		for f := range fine.Triangles() {
			ab, bc, ca := middle(f[0], f[1]), middle(f[1], f[2]), middle(f[2], f[0])
			quarters = append(quarters, Triangle{f[0], ab, ca}, Triangle{f[1], bc, ab}, Triangle{f[2], ca, bc}, Triangle{ab, bc, ca})
		}
		var err error
		if fine, err = New(quarters); err != nil {
			t.Fatal(err)
		}
	}
	coarse := fine.Coarse(1e-9, 0x7fffffff)
	if coarse.Len() != 12 {
		t.Errorf("%d plates, want the 12 of a box (closed form)", coarse.Len())
	}
	if v := coarse.Volume(); math.Abs(v-4) > 1e-12 {
		t.Errorf("volume %g, want 4", v)
	}
}

func middle(a, b r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(a, b)) }

// Whatever becomes of the plates the surface stays closed, its corners are old ones, and no point of it is far from the old skin.
func TestCoarseStaysNear(t *testing.T) {
	hull := Wigley(1, 0.1, 0.0625, 0.1, 60, 30)
	for _, within := range []float64{1e-4, 1e-3, 4e-3} {
		coarse := hull.Coarse(within, 0x7fffffff)
		if coarse.Len() >= hull.Len() {
			t.Errorf("within %g m: %d plates of %d are left", within, coarse.Len(), hull.Len())
		}
		var all []Triangle
		worst := 0.0
		for f := range coarse.Triangles() {
			all = append(all, f)
			_, _, off := hull.Nearest(r3.Scale(1.0/3, r3.Add(f[0], r3.Add(f[1], f[2]))))
			worst = math.Max(worst, off)
		}
		if _, err := New(all); err != nil {
			t.Errorf("within %g m: it is not closed: %v", within, err)
		}
		if worst > 3*within { // a merged corner keeps within, the chords between corners add their sag
			t.Errorf("within %g m: a plate's middle is %.2g m off the skin", within, worst)
		}
		if off := math.Abs(coarse.Volume()/hull.Volume() - 1); off > 60*within { // surface × within over volume is 50 × within here
			t.Errorf("within %g m: the volume is %.2g off", within, off)
		}
	}
}

// The limit of plates is met even where that costs more than within.
func TestCoarseMost(t *testing.T) {
	hull := Wigley(1, 0.1, 0.0625, 0.1, 60, 30)
	coarse := hull.Coarse(0, 400)
	if coarse.Len() > 400 || coarse.Len() < 300 {
		t.Errorf("%d plates, want some 400", coarse.Len())
	}
	if off := math.Abs(coarse.Volume()/hull.Volume() - 1); off > 0.02 {
		t.Errorf("the volume of the coarse hull is %.2g off", off)
	}
	if empty := (&Solid{}).Coarse(1, 1); empty.Len() != 0 {
		t.Errorf("an empty solid came to %d plates", empty.Len())
	}
}

// A hull of more plates than are put in order keeps to the same rules.
func TestCoarseOfVeryMany(t *testing.T) {
	hull := Wigley(1, 0.1, 0.0625, 0.1, 160, 80)
	c := newCoarsener(hull)
	c.sweep(1e-8) // 0.1 mm
	if c.left > hull.Len()/2 {
		t.Errorf("%d of %d plates are left after a sweep", c.left, hull.Len())
	}
	var faces [][3]int32
	for i, f := range c.faces {
		if !c.gone[i] {
			faces = append(faces, f)
		}
	}
	swept := assemble(hull.corners, faces)
	if err := checkClosed(swept.corners, swept.faces); err != nil {
		t.Error(err)
	}
	if off := math.Abs(swept.Volume()/hull.Volume() - 1); off > 60*1e-4 { // as above
		t.Errorf("the volume is %.2g off", off)
	}
}
