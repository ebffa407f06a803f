package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
)

// swinging is the closed barge of bargeSpec with its mass spread so that its gyradii about the centre of mass are given.
func swinging(roll, pitch float64) compartment.Spec {
	s := bargeSpec()
	height := 0.02
	long, broad := math.Sqrt(12*pitch*pitch-height*height), math.Sqrt(12*roll*roll-height*height)
	s.Weights[0].Size = &[3]float64{long, broad, height}
	return s
}

// swing is what a body let go from out of its rest did.
type swing struct {
	period      float64 // s, mean of all whole ones
	first, last float64 // greatest excursion in the first whole period and in the last
	periods     int
	start, end  float64 // energy over ρg, m⁴
	gained      float64 // the most by which the energy ever rose from one step to the next
	queries     int
}

// letSwing displaces a vessel's hull along pitch, roll (rad) and heave (m), lets it go, and follows one coordinate of its pose.
func letSwing(t *testing.T, spec compartment.Spec, set flood.Settings, away [3]float64, coordinate func(compartment.Pose) float64) (w swing) {
	t.Helper()
	set.Motion = flood.Free
	v := mustBuild(t, spec)
	run := mustStart(t, v, set)
	rest := coordinate(run.Pose(0))
	energy := func() float64 { u, k := run.Energies(0); return u + k }
	calm, _ := run.Energies(0)
	run.Displace(0, away[0], away[1], away[2])
	w.start = energy() - calm
	before, x0, t0 := w.start, coordinate(run.Pose(0))-rest, 0.0
	var crossings, peaks []float64
	peak := math.Abs(x0)
	for run.Result().Ended == flood.Running {
		run.Step()
		for i := range 4 {
			peak = math.Max(peak, math.Abs(coordinate(run.PoseBetween(0, float64(i)/4))-rest))
		}
		x1, t1 := coordinate(run.Pose(0))-rest, run.Time()
		if x0 < 0 && x1 >= 0 {
			crossings = append(crossings, zeroBetween(run, coordinate, rest, t0, t1))
			peaks = append(peaks, peak)
			peak = 0
		}
		peak = math.Max(peak, math.Abs(x1))
		x0, t0 = x1, t1
		e := energy() - calm
		w.gained, before = math.Max(w.gained, e-before), e
	}
	res := run.Result()
	w.periods = len(crossings) - 1
	w.period = (crossings[w.periods] - crossings[0]) / float64(w.periods)
	w.first, w.last, w.end, w.queries = peaks[1], peaks[w.periods], before, res.Stats.HullQueries
	return w
}

// zeroBetween is when the coordinate passed its rest in the last step.
func zeroBetween(run *flood.Run, coordinate func(compartment.Pose) float64, rest, t0, t1 float64) float64 {
	a, b := 0.0, 1.0
	for range 50 {
		m := (a + b) / 2
		if coordinate(run.PoseBetween(0, m)) < rest {
			a = m
		} else {
			b = m
		}
	}
	return t0 + a*(t1-t0)
}

func heave(p compartment.Pose) float64 { return p.Sea }

// undamped are swings of closed boxes at small amplitude without any damping: from where they are let go, and with which added mass; the
// period is in s, NaN: TestPeriodsWithAddedMass has it, or no closed form does.
var undamped = []struct {
	name       string
	added      float64
	spec       compartment.Spec
	away       [3]float64
	coordinate func(compartment.Pose) float64
	want       float64
}{
	{"heave", 0, swinging(0.07, 0.25), [3]float64{0, 0, 0.005}, heave, 0.56750},
	{"pitch", 0, swinging(0.07, 0.25), [3]float64{0.005, 0, 0}, compartment.Pose.Trim, 0.49384},
	{"roll", 0, swinging(0.07, 0.25), [3]float64{0, 0.02, 0}, compartment.Pose.Heel, boxRoll},
	{"far roll", 0, swinging(0.07, 0.25), [3]float64{0, 0.1, 0}, compartment.Pose.Heel, math.NaN()},
	{"heave", 1, handBox(), [3]float64{0, 0, 0.005}, heave, math.NaN()},
	{"pitch", 1, handBox(), [3]float64{0.005, 0, 0}, compartment.Pose.Trim, math.NaN()},
	{"roll", 1, handBox(), [3]float64{0, 0.02, 0}, compartment.Pose.Heel, math.NaN()},
}

// boxRoll is MO-04 in roll, 2πk/√(g GM), of the box of MO-01.
var boxRoll = 2 * math.Pi * 0.07 / math.Sqrt(hydro.Gravity*(0.04+0.2*0.2/(12*0.08)-0.05))

// TestUndampedSwings: MO-01 and MO-04 of references.md, 2π√(d/g) and 2πk/√(g GM), without added mass; and with any, fifty periods on, the
// amplitude is that of the first to 1 % and the energy to a millionth.
func TestUndampedSwings(t *testing.T) {
	tooLongUnderRace(t)
	if exact := 2 * math.Pi * 0.25 / math.Sqrt(hydro.Gravity*(0.04+1/(12*0.08)-0.05)); math.Abs(exact-0.49384) > 6e-6 {
		t.Fatalf("MO-04 is of another box: %g s", exact)
	}
	none := 0.0
	for _, c := range undamped {
		w := letSwing(t, c.spec, flood.Settings{Until: 50.5 * 1.12, AddedMass: &c.added, LinearDamping: &none, QuadraticDamping: &none}, c.away, c.coordinate)
		t.Logf("%s, %g of the added mass: %d periods of %.5f s (%.5f), excursion %.4g then %.4g, energy %+.2g of itself, %d queries",
			c.name, c.added, w.periods, w.period, c.want, w.first, w.last, w.end/w.start-1, w.queries)
		if w.periods < 50 {
			t.Errorf("%s: %d periods", c.name, w.periods)
		}
		if !math.IsNaN(c.want) && !(math.Abs(w.period/c.want-1) <= 2e-4) {
			t.Errorf("%s: period %g s, want %g", c.name, w.period, c.want)
		}
		if !(math.Abs(w.last/w.first-1) <= 0.01) {
			t.Errorf("%s: excursion %g, %g in the first period", c.name, w.last, w.first)
		}
		if off := math.Abs(w.end/w.start - 1); !(off <= 1e-6) {
			t.Errorf("%s, %g of the added mass: the energy changed by %g of itself in %d periods", c.name, c.added, off, w.periods)
		}
	}
}

// handBox is the box that docs/motion.md works out by hand.
func handBox() compartment.Spec {
	spec := swinging(0.07, 0.26)
	spec.Weights[0].At.Z = 0.06
	return spec
}

// TestPeriodsWithAddedMass: the box that docs/motion.md works out by hand, from 2π √((m + added)/stiffness): heave 0.860 s, roll
// 1.106 s, pitch 0.790 s.
func TestPeriodsWithAddedMass(t *testing.T) {
	none := 0.0
	for name, c := range map[string]struct {
		away       [3]float64
		coordinate func(compartment.Pose) float64
		want       float64
	}{
		"heave": {[3]float64{0, 0, 0.002}, heave, 0.860},
		"pitch": {[3]float64{0.003, 0, 0}, compartment.Pose.Trim, 0.790},
		"roll":  {[3]float64{0, 0.01, 0}, compartment.Pose.Heel, 1.106},
	} {
		w := letSwing(t, handBox(), flood.Settings{Until: 8, LinearDamping: &none, QuadraticDamping: &none}, c.away, c.coordinate)
		t.Logf("%s: %d periods of %.4f s, by hand %.3f", name, w.periods, w.period, c.want)
		if math.Abs(w.period/c.want-1) > 0.01 {
			t.Errorf("%s: period %g s, want %g", name, w.period, c.want)
		}
	}
}

const endB, endH, endMass = 0.2, 0.15, 16.0

// standsOnEnd is the barge with its mass at its after end, and its added mass along x by hand.
func standsOnEnd() (spec compartment.Spec, added float64) {
	spec = bargeSpec()
	spec.Weights[0].At.X, spec.Weights[0].At.Z = 0.12, 0.075
	spec.Weights[0].Size = &[3]float64{0.1, 0.15, 0.1}
	deep := endMass / (1000 * endB * endH)
	l := 2 * deep / math.Sqrt(endB*endH)
	e := math.Sqrt(1 - 1/(l*l))
	n := (1 - e*e) / (e * e) * (math.Atanh(e)/e - 1)
	return spec, 1000 * endB * endH * (n/(1-n)*deep + 0.4*math.Sqrt(endB*endH)*l/(l+3.4))
}

// TestHeaveOnEnd: the same box on its after end, which its mass holds down: 2π √((m + added)/(ρ g B H)), with the added mass along x
// of docs/motion.md, ρBH (k₁D + 0.4 √(BH) λ/(λ + 3.4)), λ = 2D/√(BH), k₁ of a spheroid (Lamb §114).
func TestHeaveOnEnd(t *testing.T) {
	none := 0.0
	spec, added := standsOnEnd()
	want := 2 * math.Pi * math.Sqrt((endMass+added)/(1000*hydro.Gravity*endB*endH))
	w := letSwing(t, spec, flood.Settings{Until: 12, LinearDamping: &none, QuadraticDamping: &none}, [3]float64{0, 0, 0.004}, heave)
	t.Logf("%d periods of %.4f s, by hand %.4f (%.4f without added mass)", w.periods, w.period, want, 2*math.Pi*math.Sqrt(endMass/(1000*endB*endH*hydro.Gravity)))
	if math.Abs(w.period/want-1) > 0.01 {
		t.Errorf("period %g s, want %g", w.period, want)
	}
}

// TestDampingOnEnd: what is left of a small heave on end falls as e^(−(c + b)t/2(m + added)): c by the plate that swings in its own plane,
// ρ√(νω/2) for each square metre of skin, 2π √((B² + H²)/6) round the section; b by the waves, ½ρkω(BH)² e^(−2kD) shade², k the wave
// number BH/(BHD + added/ρ), shade 1/(1 + k added/ρBH)/(1 + k²BH/4π)^¾ (docs/motion.md).
func TestDampingOnEnd(t *testing.T) {
	none := 0.0
	spec, added := standsOnEnd()
	v := mustBuild(t, spec)
	const plane = endB * endH
	deep := endMass / (1000 * plane)
	c := math.Sqrt(v.Water.Density*v.Water.Viscosity*math.Sqrt(hydro.Gravity/math.Cbrt(1*endB*endH))/2) * 2 * math.Pi * math.Sqrt((endB*endB+endH*endH)/6) * deep
	k := plane / (plane*deep + added/1000)
	shade := 1 / (1 + k*added/(1000*plane)) / math.Pow(1+k*k*plane/(4*math.Pi), 0.75)
	b := 500 * k * math.Sqrt(hydro.Gravity*k) * plane * plane * math.Exp(-2*k*deep) * shade * shade
	w := letSwing(t, spec, flood.Settings{Until: 40, QuadraticDamping: &none}, [3]float64{0, 0, 0.002}, heave)
	got := math.Log(w.first/w.last) / (w.period * float64(w.periods-1))
	want := (c + b) / (2 * (endMass + added))
	t.Logf("%d periods, %.3f mm then %.3f: it falls by %.5f of itself in a second, by hand %.5f, of it %.0f %% by waves", w.periods, 1e3*w.first, 1e3*w.last, got, want, 100*b/(b+c))
	if math.Abs(got/want-1) > 0.03 {
		t.Errorf("it falls by %g of itself in a second, want %g", got, want)
	}
}
