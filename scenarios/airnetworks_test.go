package scenarios_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// airNetwork is what general-purpose integrators make of a network of tanks with trapped air: see testdata/airnetworks/README.md.
type airNetwork struct {
	Times []float64 `json:"times_s"`
	Tanks []struct {
		Name     string
		Capacity float64   `json:"capacity_m3"`
		Depth    []float64 `json:"depth_m"`
		Water    []float64 `json:"water_m3"`
		Air      []float64 `json:"air_pa"`
	}
	Openings []struct {
		Name  string
		Water []float64 `json:"water_m3_per_s"`
		Air   []float64 `json:"air_kg_per_s"`
	}
}

// Two networks with the openings of the scenario format, against SciPy's Radau at a relative tolerance of 1e-10: levels and
// pressures at ten times to 1e-5, of the level and of the largest pressure of the run.
func TestAirNetworksAgainstSciPy(t *testing.T) {
	for _, name := range []string{"five", "twenty"} {
		dir := "../testdata/airnetworks"
		text, err := os.ReadFile(dir + "/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		var want airNetwork
		if data, err := os.ReadFile(dir + "/" + name + ".json"); err != nil {
			t.Fatal(err)
		} else if err := json.Unmarshal(data, &want); err != nil {
			t.Fatal(err)
		}
		sc, err := scenarios.Read(os.DirFS(dir), name+".yaml", text)
		if err != nil {
			t.Fatal(err)
		}
		v, err := compartment.Build(sc.Spec)
		if err != nil {
			t.Fatal(err)
		}
		compareAirNetwork(t, name, v, sc.Run.Settings(), &want)
	}
}

func compareAirNetwork(t *testing.T, name string, v *compartment.Vessel, set flood.Settings, want *airNetwork) {
	worstLevel, worstPressure, worstWater, worstAir, most := 0.0, 0.0, 0.0, 0.0, 0.0
	for _, tank := range want.Tanks {
		for _, p := range tank.Air {
			most = math.Max(most, math.Abs(p))
		}
	}
	k := 0
	set.Tolerance, set.Every = 1e-8, want.Times[1]
	set.Samples = func(s *flood.Sample) {
		if k >= len(want.Times) || s.Time < want.Times[k]-1e-9 || s.Event {
			return
		}
		for i, tank := range want.Tanks {
			got := s.Spaces[i]
			if got.Name != tank.Name {
				t.Fatalf("%s is tank %d, not %s", got.Name, i, tank.Name)
			}
			if k > 0 {
				worstLevel = math.Max(worstLevel, math.Abs(got.Depth-tank.Depth[k])/math.Max(tank.Depth[k], 1e-3))
			}
			worstPressure = math.Max(worstPressure, math.Abs(got.Air-tank.Air[k])/most)
		}
		for j, o := range want.Openings {
			worstWater = math.Max(worstWater, math.Abs(s.Passages[j].Water-o.Water[k]))
			worstAir = math.Max(worstAir, math.Abs(s.Passages[j].Air*1.2-o.Air[k]))
		}
		k++
	}
	run, err := flood.Start(v, set)
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil || k != len(want.Times) {
		t.Fatalf("%s: %v, %+v, %d of %d times", name, err, r.GaveUp, k, len(want.Times))
	}
	t.Logf("%s: level within %.1e, pressure %.1e of %.0f Pa, water %.1e m³/s, air %.1e kg/s; %d steps", name, worstLevel, worstPressure, most, worstWater, worstAir, r.Stats.Steps)
	if worstLevel > 1e-5 || worstPressure > 1e-5 {
		t.Errorf("%s: level off by %.1e, pressure by %.1e", name, worstLevel, worstPressure)
	}
}
