package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// scaled is a spec with every length times k: volumes and masses go with k³ (Froude's rule, references.md MO-14).
func scaled(s compartment.Spec, k float64) compartment.Spec {
	s.Hull.Box = &compartment.BoxSpec{Length: k * s.Hull.Box.Length, Breadth: k * s.Hull.Box.Breadth, Depth: k * s.Hull.Box.Depth}
	s.Weights = append([]compartment.WeightSpec(nil), s.Weights...)
	for i := range s.Weights {
		s.Weights[i].Mass *= k * k * k
		s.Weights[i].At = r3.Scale(k, s.Weights[i].At)
	}
	s.Bulkheads = append([]compartment.BulkheadSpec(nil), s.Bulkheads...)
	for i, b := range s.Bulkheads {
		s.Bulkheads[i].At *= k
		if b.Top != nil {
			s.Bulkheads[i].Top = ptr(k * *b.Top)
		}
	}
	s.Compartments = append([]compartment.CompartmentSpec(nil), s.Compartments...)
	for i, c := range s.Compartments {
		if c.X != nil {
			s.Compartments[i].X = &[2]float64{k * c.X[0], k * c.X[1]}
			s.Compartments[i].Y = &[2]float64{k * c.Y[0], k * c.Y[1]}
			s.Compartments[i].Z = &[2]float64{k * c.Z[0], k * c.Z[1]}
		}
	}
	s.Openings = append([]compartment.OpeningSpec(nil), s.Openings...)
	for i, o := range s.Openings {
		s.Openings[i].At, s.Openings[i].Wall = r3.Scale(k, o.At), k*o.Wall
		if o.Hole != nil {
			s.Openings[i].Hole = ptr(k * *o.Hole)
		}
		if o.Door != nil {
			s.Openings[i].Door = &compartment.DoorSpec{Length: k * o.Door.Length, Height: k * o.Door.Height}
		}
	}
	return s
}

// withoutCreep leaves of the creeping flow only the least that makes the root's slope finite at rest, at every size the same
// share of the flow: what is left of the physics knows no size.
func withoutCreep(v *compartment.Vessel, k float64) *compartment.Vessel {
	for _, p := range v.Passages {
		p.Law.Creep = math.Sqrt(k) * hydro.MinimumCreep(p.Law.Jet)
	}
	return v
}

// shape is a run as numbers without a size: time over √size, angles, offset of the sea over size, water over size³.
func shape(t *testing.T, spec compartment.Spec, k float64) (rows [][]float64, r *flood.Result) {
	run := mustStart(t, withoutCreep(mustBuild(t, scaled(spec, k)), k), flood.Settings{Until: 50 * math.Sqrt(k), Every: 0.5 * math.Sqrt(k)})
	for step, err := range run.Steps(t.Context()) {
		if err != nil {
			t.Fatal(err)
		}
		p := run.Pose(0)
		row := []float64{step.Time / math.Sqrt(k), p.Trim(), p.Heel(), p.Sea / k}
		for _, w := range run.Water() {
			row = append(row, w/(k*k*k))
		}
		rows = append(rows, row)
	}
	return rows, run.Result()
}

// The same vessel at 0.1, 1 and 10 times the size. Tolerances are shares of the vessel's own capacities and lengths, so the
// steps are the same too, up to what rounding makes of them: 1e-9, and of a metre or m³ at size 1.
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		name string
		spec compartment.Spec
	}{{"two wing spaces near the end", cornerSpec()}, {"low bulkhead overtopped", spillSpec()}, {"wing", wingSpec()}} {
		want, r1 := shape(t, c.spec, 1)
		for _, k := range []float64{0.1, 10} {
			got, r := shape(t, c.spec, k)
			if len(got) != len(want) {
				t.Fatalf("%s at size %g: %d steps, %d at size 1", c.name, k, len(got), len(want))
			}
			worst := 0.0
			for i := range want {
				for j := range want[i] {
					worst = max(worst, math.Abs(got[i][j]-want[i][j])/max(1, math.Abs(want[i][j])))
				}
			}
			t.Logf("%s at size %g: %d steps, at most %.2g apart", c.name, k, len(got), worst)
			if worst > 1e-9 {
				t.Errorf("%s at size %g: %.3g apart from size 1", c.name, k, worst)
			}
			if len(r.Events) != len(r1.Events) {
				t.Fatalf("%s at size %g: events %v, at size 1 %v", c.name, k, r.Events, r1.Events)
			}
			for i, e := range r.Events {
				if w := r1.Events[i]; e.Kind != w.Kind || e.Name != w.Name || math.Abs(e.Time/math.Sqrt(k)-w.Time) > 1e-9*w.Time {
					t.Errorf("%s at size %g: event %v, at size 1 %v", c.name, k, e, w)
				}
			}
		}
	}
}
