package solid

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// coaster is a small hull of our own with everything that stations may have: unequal numbers of points, flat bottom,
// flare, sheer, a stem of one point.
func coaster() []Station {
	return []Station{
		{0, []StationPoint{{0.045, 0.004}, {0.06, 0.05}, {0.095, 0.07}}},
		{0.15, []StationPoint{{0.004, 0}, {0.012, 0.03}, {0.04, 0.075}, {0.09, 0.085}}},
		{0.45, []StationPoint{{0, 0.05}, {0.01, 0.083}, {0.04, 0.09}, {0.085, 0.09}}},
		{0.75, []StationPoint{{0, 0.012}, {0.01, 0.03}, {0.025, 0.05}, {0.06, 0.07}, {0.092, 0.082}}},
		{0.95, []StationPoint{{0.02, 0}, {0.06, 0.015}, {0.105, 0.035}}},
		{1, []StationPoint{{0.112, 0}}},
	}
}

// TestStationsClosedForms: bodies whose volume is known.
func TestStationsClosedForms(t *testing.T) {
	square := []StationPoint{{0, 1}, {2, 1}}
	for _, c := range []struct {
		st     []Station
		volume float64
		reason string
	}{
		{[]Station{{0, square}, {3, square}}, 12, "a box: flat bottom, wall sides, deck, two ends"},
		{[]Station{{0, square}, {3, []StationPoint{{1, 0}}}}, 4, "a pyramid"},
		{[]Station{{0, []StationPoint{{0, 0}, {2, 1}}}, {3, []StationPoint{{0, 0}, {2, 1}}}}, 6, "a wedge with a keel"},
		{[]Station{{0, square}, {3, []StationPoint{{0, 1}, {0.3, 1}, {0.5, 1}, {2, 1}}}}, 12, "unequal numbers of points on one wall"},
		{[]Station{{0, square}, {1, []StationPoint{{0, 1}, {0.7, 1}, {2, 1}}}, {3, []StationPoint{{0, 1}, {0.1, 1}, {0.2, 1}, {1.1, 1}, {2, 1}}}}, 12,
			"a station between two with other numbers of points"},
		{[]Station{{0, []StationPoint{{1, 0}}}, {1, square}, {2, []StationPoint{{1, 0}}}}, 8. / 3, "two pyramids"},
		// Half-breadth at (x, z) is bilinear: from 0 to z on a rectangle of 2 by 3 its integral is 3, both sides 6.
		{[]Station{{0, []StationPoint{{0, 0}, {2, 0}}}, {3, []StationPoint{{0, 0}, {2, 2}}}}, 6, "twisted: y = xz/3"},
		{[]Station{{0, []StationPoint{{0, 0}, {2, 0.5}}}, {3, []StationPoint{{0, 2}, {2, 0.1}}}}, 2 * 2 * 3 * (0 + 0.5 + 2 + 0.1) / 4, "twisted: mean of the corners"},
	} {
		s, _, err := Stations(c.st, true)
		if err != nil {
			t.Errorf("%s: %v", c.reason, err)
			continue
		}
		near(t, c.reason, s.Volume(), c.volume, 1e-13, c.volume)
		if _, err := New(slices.Collect(s.Triangles())); err != nil {
			t.Errorf("%s: %v", c.reason, err)
		}
	}
}

// TestTwistedPatchWithinItself: half the depth of y = xz/3 holds a quarter of the volume; the plates differ there from the
// bilinear patch by less than 1e-4 of the hull.
func TestTwistedPatchWithinItself(t *testing.T) {
	s, _, err := Stations([]Station{{0, []StationPoint{{0, 0}, {2, 0}}}, {3, []StationPoint{{0, 0}, {2, 2}}}}, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, z := range []float64{0.3, 0.5, 1, 1.7} {
		near(t, "below z", s.Below(Plane{r3.Vec{Z: 1}, z}).Volume, 6*z*z/4, 1e-4, 6)
	}
	for _, x := range []float64{0.4, 1, 2.9} {
		near(t, "abaft x", s.Below(Plane{r3.Vec{X: 1}, x}).Volume, 6*x*x/9, 1e-4, 6)
	}
}

// TestStationsUnmirrored: the same hull as closed curves, either way round, has the same form.
func TestStationsUnmirrored(t *testing.T) {
	half := []Station{
		{0, []StationPoint{{0.01, 0.02}, {0.04, 0.06}, {0.09, 0.07}}},
		{0.3, []StationPoint{{0, 0.05}, {0.01, 0.08}, {0.085, 0.09}}},
		{0.8, []StationPoint{{0.02, 0.01}, {0.05, 0.02}, {0.1, 0.05}}},
	}
	mirrored, table, err := Stations(half, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, turned := range []bool{false, true} {
		var whole []Station
		for _, s := range half {
			curve := slices.Clone(s.Points)
			for _, p := range slices.Backward(s.Points) {
				curve = append(curve, StationPoint{p.Z, -p.Y})
			}
			if turned {
				slices.Reverse(curve)
			}
			whole = append(whole, Station{s.X, curve})
		}
		s, wholeTable, err := Stations(whole, false)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "volume", s.Volume(), mirrored.Volume(), 1e-13, mirrored.Volume())
		if _, err := New(slices.Collect(s.Triangles())); err != nil {
			t.Error(err)
		}
		if d := cmp.Diff(table, wholeTable); d != "" {
			t.Errorf("deck edges differ:\n%s", d)
		}
	}
}

func TestDeckEdges(t *testing.T) {
	_, table, err := Stations(coaster(), true)
	if err != nil {
		t.Fatal(err)
	}
	if want := (r3.Vec{X: 0.75, Y: -0.082, Z: 0.092}); table.Starboard[3] != want || table.Port[5] != (r3.Vec{X: 1, Z: 0.112}) {
		t.Errorf("deck edges %v, %v", table.Starboard[3], table.Port[5])
	}
}

func TestStationFaults(t *testing.T) {
	nan := math.NaN()
	_, _, err := Stations([]Station{
		{0, []StationPoint{{0, 0}, {-1, 1}}},
		{0, []StationPoint{{0, -1}, {1, nan}}},
		{2, nil},
		{25, []StationPoint{{1, 1}, {1, 1}}},
	}, true)
	want := []string{
		"station 1, point 2: z -1 m is below the point before; give points from the keel up to the deck edge",
		"station 2: x 0 m is not forward of the station before; give stations from aft forward, each x once",
		"station 2, point 1: y -1 m is negative; one side is given as half-breadths, 0 or more",
		"station 2, point 2: (z, y) is (1, NaN) m; coordinates go to 20 m",
		"station 3: no points; give one or more",
		"station 4: x is 25 m; coordinates go to 20 m",
		"station 4, point 2: the same point twice; leave one out",
	}
	if d := cmp.Diff(strings.Join(want, "\n"), err.Error()); d != "" {
		t.Error(d)
	}
	for _, st := range [][]Station{nil, coaster()[:1], {{0, []StationPoint{{0, 0}, {1, 0}}}, {1, []StationPoint{{0, 0}, {1, 0}}}}} {
		if _, _, err := Stations(st, true); err == nil {
			t.Errorf("%d stations without room pass", len(st))
		}
	}
}
