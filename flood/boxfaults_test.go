package flood_test

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Whoever looks on changes nothing: the same run with and without samples ends with the same bits, in free motion and over a parting too.
func TestSamplesChangeNothing(t *testing.T) {
	specs := map[string]compartment.Spec{"corner": cornerSpec(), "spill": spillSpec(), "loll": lollTrunk.spec(), "free": randomScenario(66)}
	for name, spec := range specs {
		v := buildable(t, spec)
		end := func(set flood.Settings) *flood.Run {
			if set.Until = 60; name == "free" {
				set.Until, set.Motion = 8, flood.Free
			}
			run := mustStart(t, v, set)
			if _, err := run.Finish(t.Context()); err != nil {
				t.Fatal(err)
			}
			return run
		}
		want := end(flood.Settings{})
		for _, every := range []float64{0.5, 0.05, 7} {
			got := end(flood.Settings{Every: every, Samples: func(*flood.Sample) {}})
			if water := got.Water(); !slices.Equal(water, want.Water()) {
				t.Errorf("%s: water %.17g, with samples every %g s %.17g", name, want.Water(), every, water)
			}
			for k := range got.Result().Sections {
				if got.Pose(k) != want.Pose(k) {
					t.Errorf("%s: pose %v, with samples every %g s %v", name, want.Pose(k), every, got.Pose(k))
				}
			}
		}
	}
}

// A bowl that empties by a hole at its pole, the sea's surface at the hole: the hull stays where it is held, no stage takes more water than there is, none comes
// back, and the balance closes to 1e-12 of what crossed (issue 3).
func TestBowlStaysEmpty(t *testing.T) {
	for _, facets := range []int{24, 60} {
		k := tankOf(1, 1, foot).toSea()
		k.spec.Hull = compartment.HullSpec{Mesh: &compartment.MeshSpec{Name: "bowl", Triangles: turned(bowl(5*foot, 0), facets)}}
		k.spec.Weights[0].At = r3.Vec{}
		k.spec.Openings = []compartment.OpeningSpec{bored("hole", "hold", "outside", r3.Vec{}, r3.Vec{Z: -1}, foot/4)}
		run := mustStart(t, mustBuild(t, k.spec), flood.Settings{Until: 600, Motion: flood.Held, Keel: &k.keel})
		least, last, rise := math.Inf(1), math.Inf(1), 0.0
		for _, err := range run.Steps(t.Context()) {
			if err != nil {
				t.Fatal(err)
			}
			w := run.Water()[0]
			least, rise, last = min(least, w), max(rise, w-last), w
		}
		r := run.Result()
		if sea := run.Pose(0).Sea; math.Abs(sea-1e-8) > 1e-12 {
			t.Errorf("%d facets round: the hull is held, its sea at 1e-8 m over the keel line, and ends at %g", facets, sea)
		}
		t.Logf("%d facets round: least %.3g m³, most gained in a step %.3g, ends with %.3g, balance %.3g of %.3g m³", facets, least, rise, last, r.WaterBalance, r.WaterCrossed)
		if least < -1e-12 || rise > 1e-9 || math.Abs(r.WaterBalance) > 1e-12*r.WaterCrossed {
			t.Errorf("%d facets round: least %g m³, gained %g, balance %g of %g m³", facets, least, rise, r.WaterBalance, r.WaterCrossed)
		}
	}
}
