package validation

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

const experiments = "../../testdata/experiments"

// experiment reads a scenario of testdata/experiments; variant "": the file's own.
func experiment(t *testing.T, name, variant string) *study.Model {
	t.Helper()
	data, err := os.ReadFile(experiments + "/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := scenarios.Read(os.DirFS(experiments), name, data)
	if err == nil && variant != "" {
		s, err = s.Variant(variant)
	}
	if err != nil {
		t.Fatal(err)
	}
	m, err := study.NewModel(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// watched runs a model and shows every sample.
func watched(t *testing.T, m *study.Model, look func(*flood.Sample)) *flood.Result {
	t.Helper()
	set := m.Settings
	set.Samples = look
	run, err := flood.Start(m.Vessel, set)
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	return r
}

// draining is when the level in the first space comes down through marks; NaN: never.
func draining(t *testing.T, m *study.Model, marks ...float64) []float64 {
	t.Helper()
	times, before, at := make([]float64, len(marks)), math.Inf(1), 0.0
	for i := range times {
		times[i] = nan
	}
	watched(t, m, func(s *flood.Sample) {
		h := s.Spaces[0].Depth
		for i, mark := range marks {
			if h <= mark && before > mark {
				times[i] = at + (s.Time-at)*(before-mark)/(before-h)
			}
		}
		before, at = h, s.Time
	})
	return times
}

var (
	tankLevels = []float64{25, 22, 20, 18, 16, 14, 12, 10, 8, 6, 5, 4, 3}
	tankRuns   = [2][]float64{
		{37.0, 119.7, 190.4, 238.8, 302.1, 347.1, 423.1, 516.7, 599.5, 703.3, 773.9, 831.0, 934.4},
		{43.5, 124.8, 191.2, 247.7, 313.3, 362.8, 448.7, 529.5, 620.7, 718.2, 786.2, 853.9, 966.5}}
	bottleRun = []float64{39.6, 121.5, 172.9, 219.8, 262.7, 292.6, 337.9, 393.7, 443.2, 505.2, 545.4, 580.6, 642.6}
)

// taperedTank is MT-1. What the source allows holds for a jet without a surface; the rest is told.
func taperedTank(t *testing.T) string {
	var marks []float64
	for _, h := range tankLevels {
		marks = append(marks, h/100)
	}
	const four = 11 // 4 cm
	variants := []string{"", "measured", "untuned-no-surface", "measured-and-surface"}
	runs := map[string][2][]float64{}
	for _, v := range variants {
		runs[v] = [2][]float64{draining(t, experiment(t, "mt1-tank", v), marks...), draining(t, experiment(t, "mt1-bottle", v), marks...)}
	}
	var b table
	b.head("level, cm", "first run, s", "second run, s", "untuned, s", "measured C_d, s", "with bottle, measured, s", "untuned, s", "measured C_d, s")
	since := func(x []float64, i int) string { return figure(x[i]-x[0], 1) }
	for i, h := range tankLevels {
		b.row(figure(h, 0), since(tankRuns[0], i), since(tankRuns[1], i), since(runs[""][0], i), since(runs["measured"][0], i),
			since(bottleRun, i), since(runs[""][1], i), since(runs["measured"][1], i))
	}
	b.WriteString("\n")
	b.head("from 25 to 4 cm", "tank, s", "off", "with bottle, s", "off")
	mean := (tankRuns[0][four] - tankRuns[0][0] + tankRuns[1][four] - tankRuns[1][0]) / 2
	bottle := bottleRun[four] - bottleRun[0]
	b.row("measured (tank: mean of both)", figure(mean, 1), "", figure(bottle, 1), "")
	for i, name := range []string{"untuned: C_d 0.61, jet loses 2σ/d", "measured C_d 0.657, no surface", "C_d 0.61, no surface", "C_d 0.657, jet loses 2σ/d"} {
		r := runs[variants[i]]
		plain, with := r[0][four]-r[0][0], r[1][four]-r[1][0]
		b.row(name, figure(plain, 1), percent(plain, mean), figure(with, 1), percent(with, bottle))
		switch i {
		case 1:
			within(t, "MT-1, measured C_d", plain, mean, 0.03)
			within(t, "MT-1, measured C_d, with bottle", with, bottle, 0.05)
		case 2:
			within(t, "MT-1, untuned without surface", plain, mean, 0.10)
			within(t, "MT-1, untuned without surface, with bottle", with, bottle, 0.10)
		}
	}
	return b.String()
}

// pipes is MT-2: times to empty, by √h from where a quarter and a sixteenth of the column are left.
func pipes(t *testing.T) string {
	var b table
	b.head("pipe", "measured, s", "ideal law, s", "untuned, s", "off", "measured C_d 0.65, s", "off")
	for i, c := range []struct{ column, measured, ideal, allowed float64 }{{55.25, 13.3, 13.2, 0.10}, {58.6, 50.4, 54.3, 0.15}, {57.4, 3.8, 3.4, 0.12}, {55.7, 13.1, 13.2, 0.10}} {
		name := "mt2-pipe-" + figure(float64(i+1), 0)
		var got [2]float64
		for k, variant := range []string{"", "measured"} {
			x := draining(t, experiment(t, name, variant), 0.01+c.column*0.0254/4, 0.01+c.column*0.0254/16)
			got[k] = 2*x[1] - x[0]
		}
		b.row([]string{"55.25 in, bore 2 in, hole 1/2 in", "58.6 in, 2 in, 1/4 in", "57.4 in, 1 in, 1/2 in", "55.7 in, 1 in, 1/4 in"}[i],
			figure(c.measured, 1), figure(c.ideal, 1), figure(got[0], 1), percent(got[0], c.measured), figure(got[1], 1), percent(got[1], c.measured))
		within(t, name, got[1], c.measured, c.allowed)
	}
	return b.String()
}

// heads is MT-3: seconds for 250 ml.
func heads(t *testing.T) string {
	seconds := []float64{7, 7.5, 8, 8.5, 9, 9.5, 11, 12, 14, 19, 26}
	base := experiment(t, "mt3-heads", "")
	passing := func(head float64, values ...study.Value) float64 {
		m, err := base.With(append(values, study.Value{Path: "compartments.tank.starts.depth", Value: head + 0.05}))
		if err != nil {
			t.Fatal(err)
		}
		q := nan
		watched(t, m, func(s *flood.Sample) {
			if math.IsNaN(q) {
				q = s.Passages[0].Water
			}
		})
		return 250e-6 / q
	}
	var b table
	b.head("head, cm", "measured, s", "untuned, s", "off", "measured C_d 0.83, s", "off")
	for i, want := range seconds {
		head, allowed := 0.01*float64(11-i), 0.07
		if head < 0.025 {
			allowed = 0.12
		}
		plain, measured := passing(head), passing(head, study.Value{Path: "openings.hole.cd", Value: 0.83})
		b.row(figure(100*head, 0), figure(want, 1), figure(plain, 1), percent(plain, want), figure(measured, 1), percent(measured, want))
		within(t, "MT-3 at "+figure(100*head, 0)+" cm", measured, want, allowed)
	}
	return b.String()
}

// sill is MT-6: what stays over a sill, and the closed form of the way there.
func sill(t *testing.T) string {
	m := experiment(t, "mt6-sill", "")
	last := nan
	const edge, width, cd = 0.055, 0.06, 0.61
	watched(t, m, func(s *flood.Sample) {
		last = s.Spaces[0].Depth - edge
	})
	x := draining(t, m, edge+0.02, edge+0.005)
	took := x[1] - x[0]
	closed := 3 * 0.45 * 0.3 / (cd * width * math.Sqrt(2*gravity)) * (1/math.Sqrt(0.005) - 1/math.Sqrt(0.02))
	rise := func(degrees float64) string {
		return figure(1e3*hydro.DryEdgeRise(m.Vessel.Water, degrees*degree), 1)
	}
	var b table
	b.head("", "measured", "ours")
	b.row("stays over the sill, mm", "about 2.5", figure(1e3*last, 1))
	b.row("a dry edge of contact angle 55° holds, mm", "about 2.5", rise(55))
	b.row("a dry edge of contact angle 80° (the default) holds, mm", "about 2.5", rise(80))
	b.row("from 20 to 5 mm over the sill, s (closed form for a width of 60 mm)", "not read; "+figure(closed, 1), figure(took, 1))
	if x := 1e3 * hydro.DryEdgeRise(m.Vessel.Water, 55*degree); math.Abs(x-2.5) > 0.7 {
		t.Errorf("MT-6: a dry edge of 55° holds %g mm, measured 2.5", x)
	}
	// The head that surface tension takes off, σ/w over the weight, is 0.2 mm of 5 to 20: some per cent of the time.
	within(t, "MT-6, on the way", took, closed, 0.05)
	return b.String()
}

// sinkTime is when the hull goes under, and the fate.
func sinkTime(t *testing.T, m *study.Model) (float64, flood.Fate) {
	t.Helper()
	r := watched(t, m, nil)
	return r.Sections[0].Foundered, r.Fate
}

// exponent is the slope of log t over log d.
func exponent(d, times []float64) float64 {
	var sx, sy, sxx, sxy float64
	for i := range d {
		x, y := math.Log(d[i]), math.Log(times[i])
		sx, sy, sxx, sxy = sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	n := float64(len(d))
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

// lids is MT-7: times against diameters, exponents, and which dry lids float.
func lids(t *testing.T) string {
	var b table
	b.head("lid, hole in mm", "measured fit 88.1 d^-2.249, s", "ours, soap, s", "off", "ideal cup (C_d 0.6, no surface, no creep), s", "ours for that, s", "off")
	soap, plain := experiment(t, "mt7-lid", ""), experiment(t, "mt7-lid", "plain")
	ideal := map[float64]float64{2: 12.003, 3: 5.335, 5: 1.920}
	ds, times := []float64{2, 3, 4, 5, 6, 8}, []float64(nil)
	hole := func(m *study.Model, d float64) *study.Model {
		return must(m.With([]study.Value{{Path: "openings.hole.hole", Value: d / 1000}}))
	}
	for _, d := range ds {
		got, fate := sinkTime(t, hole(soap, d))
		if fate != flood.Founders {
			t.Errorf("MT-7: the lid with %g mm %s", d, fate)
		}
		times = append(times, got)
		fit := 88.1 * math.Pow(d, -2.249)
		cells := []string{figure(d, 0), figure(fit, 2), figure(got, 2), percent(got, fit), "", "", ""}
		if want := ideal[d]; want > 0 {
			m := hole(plain, d)
			withoutCreep(m.Vessel)
			own, _ := sinkTime(t, m)
			cells[4], cells[5], cells[6] = figure(want, 3), figure(own, 3), percent(own, want)
			within(t, "MT-7, ideal cup", own, want, 0.005) // its density and g are rounded
		}
		b.row(cells...)
	}
	b.WriteString("\n")
	b.head("", "measured", "ours")
	b.row("exponent of the lids, 2 to 8 mm", "-2.249", figure(exponent(ds, times), 3))
	bowl := experiment(t, "mt7-bowl", "")
	var bowls []float64
	for _, d := range []float64{2, 4, 8, 13} {
		got, _ := sinkTime(t, hole(bowl, d))
		bowls = append(bowls, got)
	}
	e := exponent([]float64{2, 4, 8, 13}, bowls)
	b.row("exponent of bowls, 2 to 13 mm", "-2", figure(e, 3))
	if math.Abs(e+2) > 0.1 {
		t.Errorf("MT-7: bowls go by d^%.3f, measured d^-2", e)
	}
	for _, v := range []struct{ variant, what, measured string }{
		{"dry-clean", "dry lid, clean water, 2 mm", "floats (up to 4 to 7 mm)"}, {"dry-clean-8", "dry lid, clean water, 8 mm", "sinks"},
		{"dry-soap-2", "dry lid, soap, 2 mm", "floats or sinks (the border is 2 to 3 mm)"}, {"dry-soap-4", "dry lid, soap, 4 mm", "sinks"},
	} {
		_, fate := sinkTime(t, experiment(t, "mt7-lid", v.variant))
		b.row(v.what, v.measured, string(fate))
		sinks, floats := strings.HasPrefix(v.measured, "sinks"), strings.HasPrefix(v.measured, "floats (up")
		if sinks && fate != flood.Founders || floats && fate != flood.Floats {
			t.Errorf("MT-7, %s: it %s", v.what, fate)
		}
	}
	return b.String()
}

// tubes is MT-9.
func tubes(t *testing.T) string {
	var b table
	b.head("bore, mm", "measured", "ours")
	for _, c := range []struct{ variant, bore, measured string }{{"", "6", "keeps"}, {"bore-10", "10", "keeps"}, {"bore-12", "12", "keeps or falls"}, {"bore-15", "15", "falls"},
		{"bore-20", "20", "falls"}, {"bore-22", "22", "falls"}, {"bore-30", "30", "falls"}} {
		left := 0.0
		watched(t, experiment(t, "mt9-tube", c.variant), func(s *flood.Sample) { left = s.Spaces[0].Depth })
		ours := "keeps"
		if left < 0.299 {
			ours = "falls"
		}
		b.row(c.bore, c.measured, ours)
		// Between 10 and 21 mm ours keeps what a hand would shake out: said on the page, and in the format's.
		if c.bore != "12" && c.bore != "15" && c.bore != "20" && ours != c.measured {
			t.Errorf("MT-9: a bore of %s mm %s", c.bore, ours)
		}
	}
	return b.String()
}

// bottles is MT-10. The last diameter of the mouth, over which the water runs out ever more slowly, is left off the length.
func bottles(t *testing.T) string {
	var b table
	b.head("bottle", "law (from memory), s", "ours, s", "off")
	for i, c := range []struct{ diameter, length, mouth float64 }{{0.09, 0.3, 0.03}, {0.1, 0.5, 0.025}, {0.05, 0.4, 0.04}} {
		law := 3 * (c.length - c.mouth) / math.Sqrt(gravity*c.diameter) * math.Pow(c.diameter/c.mouth, 2.5)
		got := draining(t, experiment(t, "mt10-bottle-"+figure(float64(i+1), 0), ""), c.mouth)[0]
		b.row(figure(1e3*c.diameter, 0)+" mm across, "+figure(1e3*c.length, 0)+" mm long, mouth "+figure(1e3*c.mouth, 0)+" mm", figure(law, 2), figure(got, 2), percent(got, law))
		within(t, "MT-10", got, law, 0.2)
	}
	return b.String()
}

func TestExperiments(t *testing.T) {
	fillPage(t, "../../docs/experiments.md", map[string]string{
		"MT-1": taperedTank(t), "MT-2": pipes(t), "MT-3": heads(t), "MT-6": sill(t), "MT-7": lids(t), "MT-9": tubes(t), "MT-10": bottles(t),
	})
}
