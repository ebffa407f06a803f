package flood_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Published draining tanks, experiments.md MT-1 to MT-3, in `held` motion over a sink, fresh water with its creep and its
// surface tension (a jet into air loses 2σ/d), with the tabulated coefficient (0.61, no Cd given) and the measured one.

// overSink is fresh water of 20 °C and a hull clamped a metre over the sink.
func overSink(hull compartment.HullSpec, depth float64) compartment.Spec {
	return compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15}, Hull: hull,
		Weights:      []compartment.WeightSpec{{Name: "all", Mass: 1}},
		Compartments: []compartment.CompartmentSpec{{Name: "hold", Starts: &compartment.StartSpec{Depth: &depth}}},
	}
}

// drain is the times, s, at which the depth comes down through the marks (NaN: never).
func drain(t *testing.T, spec compartment.Spec, until float64, marks ...float64) []float64 {
	t.Helper()
	var at, h []float64
	set := flood.Settings{Until: until, Every: until / 4000, Motion: flood.Held, Keel: ptr(1.0), Tolerance: 1e-6,
		Samples: func(s *flood.Sample) { at, h = append(at, s.Time), append(h, s.Spaces[0].Depth) }}
	r, err := mustStart(t, mustBuild(t, spec), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatalf("%v, %+v", err, r.GaveUp)
	}
	times := make([]float64, len(marks))
	for i, m := range marks {
		times[i] = math.NaN()
		for j := 1; j < len(h); j++ {
			if h[j] <= m && h[j-1] > m {
				times[i] = at[j-1] + (at[j]-at[j-1])*(h[j-1]-m)/(h[j-1]-h[j])
				break
			}
		}
	}
	return times
}

// taperedTank is the tank of MT-1: sections of 102.97 cm² at the bottom to 128.95 cm² at 286 mm, linear with height, here as
// rectangles of one length and a breadth that grows; the hole's centre 9 mm above the bottom in the end plate, its axis level.
func taperedTank(cd *float64) compartment.Spec {
	const length, low, high, tall = 0.1, 102.97e-4, 128.95e-4, 0.286
	half := func(z float64) float64 { return (low + (high-low)*z/tall) / length / 2 }
	station := func(x float64) compartment.Station {
		return compartment.Station{X: x, Points: []compartment.StationPoint{{Z: 0, Y: half(0)}, {Z: tall, Y: half(tall)}}}
	}
	s := overSink(compartment.HullSpec{Offsets: &compartment.OffsetsSpec{Stations: []compartment.Station{station(0), station(length)}, Mirror: true}}, 0.255)
	s.Openings = []compartment.OpeningSpec{{Name: "hole", Between: [2]string{"hold", "outside"}, At: r3.Vec{X: length, Z: 0.009},
		Faces: &r3.Vec{X: 1}, Hole: ptr(1.98e-3), Cd: cd}}
	return s
}

// withBottle stands the bottle of MT-1 in the tank: its area at every centimetre as a slab of that height.
func withBottle(s compartment.Spec) compartment.Spec {
	areas := []float64{47.8, 47.8, 47.8, 47.4, 47.4, 47.4, 47.4, 47.4, 47.4, 47.4, 47.4, 47.4, 47.4, 48.2, 47.8, 46.2, 44.3, 42.5,
		39.9, 29.3, 24.6, 20.9, 16.5, 11.5, 10.3, 7.2, 6.2, 6.4, 6.4}
	for i, a := range areas {
		low, high := max(0, float64(i)-0.5)*0.01, min(28.5, float64(i)+0.5)*0.01
		side := math.Sqrt(a) * 0.01
		s.Weights = append(s.Weights, compartment.WeightSpec{Name: fmt.Sprintf("slab-%d", i), Mass: a * 1e-4 * (high - low) * 1000,
			Density: ptr(1000.0), Size: &[3]float64{side, side, high - low}, At: r3.Vec{X: 0.05, Z: 0.5 * (low + high)}})
	}
	return s
}

func TestTaperedTank(t *testing.T) {
	levels := []float64{0.25, 0.22, 0.20, 0.18, 0.16, 0.14, 0.12, 0.10, 0.08, 0.06, 0.05, 0.04}
	first := []float64{37.0, 119.7, 190.4, 238.8, 302.1, 347.1, 423.1, 516.7, 599.5, 703.3, 773.9, 831.0}
	second := []float64{43.5, 124.8, 191.2, 247.7, 313.3, 362.8, 448.7, 529.5, 620.7, 718.2, 786.2, 853.9}
	bottle := []float64{39.6, 121.5, 172.9, 219.8, 262.7, 292.6, 337.9, 393.7, 443.2, 505.2, 545.4, 580.6}
	measured := []float64{0.5 * (831.0 - 37.0 + 853.9 - 43.5), 580.6 - 39.6} // 25 to 4 cm: both runs' mean 802.2 s, 541.0 s
	for _, c := range []struct {
		name           string
		cd, tension    *float64
		plain, crowded float64 // allowed by experiments.md; 0: told only
	}{
		// The source found its C_d by the law without the jet's own surface; with that and 2σ/d the same loss counts twice.
		{"measured C_d 0.657, no surface tension", ptr(0.657), ptr(0.0), 0.03, 0.05},
		{"tabulated C_d, no surface tension", nil, ptr(0.0), 0.10, 0.10},
		{"measured C_d 0.657, jet losing 2σ/d", ptr(0.657), nil, 0, 0},
		{"tabulated C_d, jet losing 2σ/d", nil, nil, 0, 0},
	} {
		plain := taperedTank(c.cd)
		plain.Water.SurfaceTension = c.tension
		a, b := drain(t, plain, 1300, levels...), drain(t, withBottle(plain), 1300, levels...)
		t.Logf("MT-1, %s; s from 25 cm: computed, first run, second; with the bottle computed, measured", c.name)
		for i, h := range levels {
			t.Logf("%5.0f cm %7.1f %7.1f %7.1f   %7.1f %7.1f", 100*h, a[i]-a[0], first[i]-first[0], second[i]-second[0], b[i]-b[0], bottle[i]-bottle[0])
		}
		last := len(levels) - 1
		for i, got := range []float64{a[last] - a[0], b[last] - b[0]} {
			off, allowed := got/measured[i]-1, []float64{c.plain, c.crowded}[i]
			t.Logf("25 to 4 cm: %.1f s, measured %.1f (%+.1f %%)", got, measured[i], 100*off)
			if allowed > 0 && !(math.Abs(off) <= allowed) {
				t.Errorf("MT-1, %s: 25 to 4 cm in %.1f s, measured %.1f: %+.1f %%, allowed %g %%", c.name, got, measured[i], 100*off, 100*allowed)
			}
		}
	}
}

// MT-2: upright pipes with a hole near the foot, from full to the hole. The source gives the column over the hole's lower edge
// and a time "to empty", of which the last centimetre is not told: the ideal law beside it runs to nothing, and so does the
// extrapolation of √h here, from where a quarter and a sixteenth of the column are left.
func TestPipes(t *testing.T) {
	const inch = 0.0254
	for _, c := range []struct {
		column, bore, hole, measured, ideal, allowed float64
	}{{55.25, 2, 0.5, 13.3, 13.2, 0.10}, {58.6, 2, 0.25, 50.4, 54.3, 0.15}, {57.4, 1, 0.5, 3.8, 3.4, 0.10}, {55.7, 1, 0.25, 13.1, 13.2, 0.10}} {
		var got [2]float64
		for i, cd := range []*float64{nil, ptr(0.65)} {
			side := c.bore * inch * math.Sqrt(math.Pi) / 2 // a square pipe of the same area
			under := 0.01                                  // from the foot to the hole's lower edge
			s := overSink(compartment.HullSpec{Box: &compartment.BoxSpec{Length: side, Breadth: side, Depth: 1.6}}, c.column*inch+under)
			s.Openings = []compartment.OpeningSpec{{Name: "hole", Between: [2]string{"hold", "outside"},
				At: r3.Vec{X: side, Z: under + c.hole*inch/2}, Faces: &r3.Vec{X: 1}, Hole: ptr(c.hole * inch), Cd: cd}}
			x := drain(t, s, 2*c.ideal, under+c.column*inch/4, under+c.column*inch/16)
			got[i] = x[1] + (x[1] - x[0]) // √h falls by as much again
		}
		off := got[1]/c.measured - 1
		t.Logf("MT-2, %g in pipe, %g in hole: tabulated C_d %.2f s, C_d 0.65 %.2f s, ideal law %.1f s, measured %.1f s (%+.1f %%)",
			c.bore, c.hole, got[0], got[1], c.ideal, c.measured, 100*off)
		if c.measured == 3.8 {
			// Without the water's inertia a quasi-steady engine is 6 to 12 % too quick here, says the row itself.
			if !(off >= -0.12 && off <= 0) {
				t.Errorf("MT-2, third pipe: %+.1f %%, 6 to 12 %% too quick expected", 100*off)
			}
			continue
		}
		if !(math.Abs(off) <= c.allowed) {
			t.Errorf("MT-2, %g in pipe, %g in hole: %.2f s, measured %.1f", c.bore, c.hole, got[1], c.measured)
		}
	}
}

// MT-3: 250 ml through a 6 mm hole at steady heads: the flow at the start of a run, with the measured C_d 0.83 (7 %, under
// 25 mm 12 %) and with the tabulated 0.61, which is for a sharp hole, as this one is not.
func TestSteadyHeads(t *testing.T) {
	seconds := []float64{7, 7.5, 8, 8.5, 9, 9.5, 11, 12, 14, 19, 26}
	flow := func(head float64, cd *float64) float64 {
		s := overSink(compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1, Breadth: 1, Depth: 0.3}}, head+0.05)
		s.Openings = []compartment.OpeningSpec{{Name: "hole", Between: [2]string{"hold", "outside"}, At: r3.Vec{X: 1, Z: 0.05},
			Faces: &r3.Vec{X: 1}, Hole: ptr(0.006), Cd: cd}}
		var q float64
		set := flood.Settings{Until: 0.1, Motion: flood.Held, Keel: ptr(1.0), Samples: func(s *flood.Sample) {
			if s.Time == 0 {
				q = s.Passages[0].Water
			}
		}}
		if _, err := mustStart(t, mustBuild(t, s), set).Finish(t.Context()); err != nil {
			t.Fatal(err)
		}
		return q
	}
	for i, want := range seconds {
		head := 0.01 * float64(11-i)
		tabulated, measured := 250e-6/flow(head, nil), 250e-6/flow(head, ptr(0.83))
		off, allowed := measured/want-1, 0.07
		if head < 0.025 {
			allowed = 0.12
		}
		t.Logf("MT-3, %2.0f cm: tabulated C_d %.2f s, C_d 0.83 %.2f s, measured %.1f s (%+.1f %%)", 100*head, tabulated, measured, want, 100*off)
		if !(math.Abs(off) <= allowed) {
			t.Errorf("MT-3, %g cm: %.2f s, measured %.1f: %+.1f %%, allowed %g %%", 100*head, measured, want, 100*off, 100*allowed)
		}
	}
}
