package validation

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// history is a whole run of a box by the second method of the tests of flood, which writes the file.
type history struct {
	Name     string           `json:"name"`
	Spec     compartment.Spec `json:"spec"`
	Instants []struct {
		Time  float64   `json:"time_s"`
		Trim  float64   `json:"trim_rad"`
		Heel  float64   `json:"heel_rad"`
		Sea   float64   `json:"sea_m"`
		Water []float64 `json:"water_m3"`
	} `json:"instants"`
}

// state is how a hull lies and what it holds: the sea over the keel line in mm, trim and heel in degrees, the water in ml.
func state(sea, trim, heel float64, water []float64) []float64 {
	sum := 0.0
	for _, w := range water {
		sum += w
	}
	return []float64{1e3 * sea, trim / degree, heel / degree, 1e6 * sum}
}

// secondChecks are the rows of whole runs against the second method.
func secondChecks() (all []check) {
	data := must(os.ReadFile("../../testdata/secondmethod/histories.json"))
	var stored []history
	if err := json.Unmarshal(data, &stored); err != nil {
		panic(err)
	}
	for i, h := range stored {
		var want, times []string
		for _, at := range h.Instants {
			want = append(want, printf("%.3f", state(at.Sea, at.Trim, at.Heel, at.Water)...))
			times = append(times, fmt.Sprintf("%g", at.Time))
		}
		all = append(all, check{
			fmt.Sprintf("TI-%02d", i+1), fmt.Sprintf("whole run, %s: sea over the keel line, trim, heel, water aboard at %s s", h.Name, strings.Join(times, ", ")),
			"flood/boxref_test.go: box integrals by Gauss's rule, Dormand & Prince's pair; flood/boxbarge_test.go compares every step", second,
			strings.ReplaceAll(strings.Join(want, " / "), "-0.000", "0.000"), "mm, °, °, ml", plain(0.005), "a millionth of the largest space is 0.008 ml", h.run,
		})
	}
	return all
}

// run is the engine's history at the same instants.
func (h history) run(l *laws) (out []float64) {
	next := 0
	set := flood.Settings{Until: h.Instants[len(h.Instants)-1].Time, Every: 5, Tolerance: 1e-8, Samples: func(s *flood.Sample) {
		if next == len(h.Instants) || s.Event || math.Abs(s.Time-h.Instants[next].Time) > 1e-9 {
			return
		}
		var water []float64
		for _, x := range s.Spaces {
			water = append(water, x.Water)
		}
		out = append(out, state(s.Bodies[0].Pose.Sea, s.Bodies[0].Trim, s.Bodies[0].Heel, water)...)
		next++
	}}
	run := l.start(l.build(h.Spec), set)
	for run.Result().Ended == flood.Running {
		run.Step()
	}
	return out
}
