package flood_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// onEnd is an invented hull whose after part stands up on its trapped air once the hull has parted amidships.
func onEnd() compartment.Spec {
	return compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0)},
		Hull:  compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1.2, Breadth: 0.18, Depth: 0.12}},
		Weights: []compartment.WeightSpec{
			{Name: "aft", Mass: 5, At: r3.Vec{X: 0.33, Z: 0.04}, Over: &[2]float64{0, 0.6}},
			{Name: "fore", Mass: 4.6, At: r3.Vec{X: 0.9, Z: 0.035}, Over: &[2]float64{0.6, 1.2}},
		},
		Bulkheads:    []compartment.BulkheadSpec{{Name: "B1", At: 0.25}, {Name: "B2", At: 0.6}, {Name: "B3", At: 0.9, Top: ptr(0.08)}},
		Compartments: []compartment.CompartmentSpec{{Name: "poop", Airtight: true}, {Name: "engine"}, {Name: "hold"}, {Name: "peak"}},
		Openings: []compartment.OpeningSpec{
			bored("cut", "outside", "peak", r3.Vec{X: 1.1, Y: 0.09, Z: 0.02}, r3.Vec{Y: 1}, 0.008),
			bored("tear", "outside", "engine", r3.Vec{X: 0.6, Z: 0.03}, r3.Vec{X: 1}, 0.014),
			bored("limber", "engine", "poop", r3.Vec{X: 0.25, Z: 0.012}, r3.Vec{X: 1}, 0.014),
			bored("pinhole", "poop", "outside", r3.Vec{Z: 0.1}, r3.Vec{X: -1}, 0.0008),
		},
		Joints: []compartment.JointSpec{{Name: "J", At: 0.6, Keeps: compartment.KeepAfter, Sections: [2]string{"stern", "bow"},
			Release: []compartment.Condition{{Trim: ptr(4 * math.Pi / 180)}}}},
	}
}

// The stern stands up and hangs on the air in its poop: with no way for that to leave it stays, and what it displaces weighs as
// much as it: the air's slab between the sea and the level inside is m/(ρA) thick, less what the shell, here without a volume, adds.
func TestSternHangsOnItsAir(t *testing.T) {
	spec := onEnd()
	spec.Openings = spec.Openings[:3]
	var last flood.Sample
	set := flood.Settings{Until: 3000, Samples: func(s *flood.Sample) {
		last = flood.Sample{Time: s.Time, Bodies: append([]flood.BodySample(nil), s.Bodies...), Spaces: append([]flood.SpaceSample(nil), s.Spaces...)}
	}}
	r, err := mustStart(t, mustBuild(t, spec), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil || len(r.Separations) != 1 || r.Separations[0].Cause != "trim" {
		t.Fatalf("%v, %+v", err, r)
	}
	stern, poop := last.Bodies[0], last.Spaces[0]
	if stern.Name != "stern" || poop.Name != "poop" || r.Sections[0].Fate != flood.Floats || math.Abs(stern.Trim) < 1 {
		t.Fatalf("%+v, %+v, %+v", stern, poop, r.Sections[0])
	}
	// engine and poop below the air's level are flooded; what is dry under water carries 5 kg at the air's pressure
	if want := 5 / (1000 * 0.18 * 0.12) * 1000 * 9.80665; math.Abs(poop.Air-want) > 0.02*want {
		t.Errorf("air at %.2f Pa, the slab that carries 5 kg has %.2f", poop.Air, want)
	}
}

// With the pinhole the air leaves and it goes, and the balances close over the parting.
func TestSternGoesByItsPinhole(t *testing.T) {
	r, err := mustStart(t, mustBuild(t, onEnd()), flood.Settings{Until: 3000}).Finish(t.Context())
	if err != nil || r.GaveUp != nil || r.Fate != flood.Founders || r.Ended != flood.EndedFoundered {
		t.Fatalf("%v, %+v", err, r)
	}
	if s := r.Sections[0]; s.Steepest < 75*math.Pi/180 || !(s.AfloatAlone > 10) {
		t.Errorf("%+v", s)
	}
	if math.Abs(r.WaterBalance) > 1e-12*r.WaterCrossed || math.Abs(r.AirBalance) > 1e-12*r.AirCrossed {
		t.Errorf("water %g of %g, air %g of %g", r.WaterBalance, r.WaterCrossed, r.AirBalance, r.AirCrossed)
	}
}

func TestResumeOverAParting(t *testing.T) {
	v := mustBuild(t, onEnd())
	var whole, parts trail
	set := flood.Settings{Until: 400, Every: 0.7, Samples: whole.sample}
	run := mustStart(t, v, set)
	for run.Result().Ended == flood.Running {
		whole.step(run, run.Step())
	}
	set.Samples = parts.sample
	n := 0
	again, _ := interrupted(t, v, set, &parts, func(int) bool { n++; return n%7 == 0 })
	if at := firstDifference(whole.bits, parts.bits); at >= 0 || len(again.Result().Separations) != 1 {
		t.Errorf("differs from number %d of %d on; %+v", at, len(whole.bits), again.Result().Separations)
	}
}

// randomJoints gives a random barge one to three joints, at bulkheads or between them.
func randomJoints(seed uint64) compartment.Spec {
	s := randomBarge(seed)
	if seed%2 == 0 {
		s = randomAir(seed)
	}
	rng := rand.New(rand.NewPCG(seed, 3))
	at := 0.1
	for k := range 1 + rng.IntN(3) {
		if at += 0.1 + 0.2*rng.Float64(); at > 0.9 {
			break
		}
		j := compartment.JointSpec{Name: fmt.Sprintf("J%d", k), At: at, Sections: [2]string{fmt.Sprintf("P%d", k), fmt.Sprintf("P%d", k+1)},
			Keeps: []compartment.KeepKind{compartment.KeepAfter, compartment.KeepForward, compartment.KeepBoth}[rng.IntN(3)]}
		if b := rng.IntN(len(s.Bulkheads)); rng.IntN(2) == 0 && s.Bulkheads[b].At > at {
			at = s.Bulkheads[b].At
			j.At = at
		}
		switch rng.IntN(3) {
		case 0:
			j.Release = []compartment.Condition{{Time: ptr(100 * rng.Float64())}}
		case 1:
			j.Holds.Hogging, j.Holds.Sagging = ptr(0.5*rng.Float64()), ptr(0.5*rng.Float64())
		default:
			j.Release = []compartment.Condition{{Trim: ptr(0.05 * rng.NormFloat64())}, {Wet: ptr(30 * rng.Float64())}}
		}
		s.Joints = append(s.Joints, j)
	}
	// masses spread along, so that no piece is without
	s.Weights[0].Over = &[2]float64{0, 1}
	s.Weights[0].At.X = 0.5
	return s
}

// stepsOf runs to the end, or until there are more steps than there may be.
func stepsOf(t *testing.T, seed uint64, run *flood.Run, most int) (steps int) {
	t.Helper()
	for range run.Steps(t.Context()) {
		if steps++; steps > most {
			t.Errorf("seed %d: %d steps", seed, steps)
			break
		}
	}
	return steps
}

func TestRandomPartings(t *testing.T) {
	parted, ends, gaveUp := 0, map[string]int{}, 0
	for seed := range uint64(40) {
		v := buildable(t, randomJoints(seed))
		run := mustStart(t, v, flood.Settings{})
		stepsOf(t, seed, run, 5000)
		r := run.Result()
		parted += len(r.Separations)
		ends[string(r.Ended)+" "+string(r.Fate)]++
		if r.GaveUp != nil {
			gaveUp++
			t.Logf("seed %d: %+v", seed, *r.GaveUp)
		}
		keepsAccounts(t, fmt.Sprintf("seed %d", seed), v, r)
	}
	if parted < 40 || gaveUp > 0 {
		t.Errorf("%d partings, %d gave up", parted, gaveUp)
	}
	t.Log(parted, ends, gaveUp)
}

// A bell that lost its air beside a space with air of its own, when another joint parted: the guess of a stage took it for full of air,
// in which the hull stood in no rest.
func TestBellWithoutAirOverAParting(t *testing.T) {
	r, err := mustStart(t, buildable(t, randomJoints(216)), flood.Settings{}).Finish(t.Context())
	if err != nil || r.GaveUp != nil || len(r.Separations) != 2 || r.Stats.Steps > 500 {
		t.Errorf("%v: %d steps, %d partings, %+v", err, r.Stats.Steps, len(r.Separations), r.GaveUp)
	}
}

// What a builder has to know of a joint, and of a pool, is told.
func TestJointWarnings(t *testing.T) {
	tells := func(name string, spec compartment.Spec, kind flood.WarningKind, about string) {
		t.Helper()
		r, err := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 1000}).Finish(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range r.Warnings {
			if w.Kind == kind && w.Name == about {
				return
			}
		}
		t.Errorf("%s: %+v", name, r.Warnings)
	}
	weak := onEnd()
	weak.Joints[0].Release, weak.Joints[0].Holds.Hogging, weak.Joints[0].Holds.Sagging = nil, ptr(1e-6), ptr(1e-6)
	tells("weak", weak, flood.PartsAtStart, "J")
	strong := onEnd()
	strong.Joints[0].Release, strong.Joints[0].Holds.Hogging, strong.Joints[0].Holds.Sagging = nil, ptr(1e3), ptr(1e3)
	tells("strong", strong, flood.NeverParts, "J")
	shallow := onEnd()
	shallow.Water.Depth = ptr(0.4)
	tells("shallow", shallow, flood.TooShallow, "stern")
	crank := onEnd()
	crank.Weights[0].At.Z, crank.Weights[1].At.Z = 0.13, 0.01 // the stern's KM is 82 mm, the whole's KG 73 mm
	crank.Joints[0].Release = []compartment.Condition{{Time: ptr(5.0)}}
	tells("crank", crank, flood.RollsOver, "stern")
}

// A release that nothing is left to be released by does not hold back the end.
func TestSpentReleaseLetsRunEnd(t *testing.T) {
	spec := onEnd()
	spec.Openings = spec.Openings[:3]
	spec.Joints[0].Release = append(spec.Joints[0].Release, compartment.Condition{Time: ptr(2500.0)})
	r, err := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 3000}).Finish(t.Context())
	if err != nil || r.Ended != flood.EndedSettled || !(r.Duration < 2000) {
		t.Errorf("%v: %s at %g s", err, r.Ended, r.Duration)
	}
}

// A boxed compartment stands in the list after spaces that a parting leaves in another body; what it had leads to it all the same.
func TestPartedBoxKeepsItsWays(t *testing.T) {
	spec := onEnd()
	spec.Compartments = append(spec.Compartments, compartment.CompartmentSpec{
		Name: "tank", X: &[2]float64{0.3, 0.4}, Y: &[2]float64{0.02, 0.2}, Z: &[2]float64{0, 0.06}, Starts: &compartment.StartSpec{Share: ptr(0.5)}})
	spec.Openings = append(spec.Openings[:2:2], bored("valve", "tank", "engine", r3.Vec{X: 0.35, Y: 0.02, Z: 0.01}, r3.Vec{Y: -1}, 0.01))
	spec.Openings[1].Opens = []compartment.Condition{{Time: ptr(900.0)}} // the engine room stays dry until then
	spec.Openings[2].Opens = []compartment.Condition{{Joint: ptr("J")}}
	spec.Joints[0].Release = []compartment.Condition{{Time: ptr(1.0)}}
	var last map[string]float64
	set := flood.Settings{Until: 200, Samples: func(s *flood.Sample) {
		last = map[string]float64{}
		for _, c := range s.Spaces {
			last[c.Name] = c.Water
		}
	}}
	v := mustBuild(t, spec)
	if _, err := mustStart(t, v, set).Finish(t.Context()); err != nil {
		t.Fatal(err)
	}
	tank := v.Spaces[4].Capacity() / 2
	if got := last["tank"] + last["engine"]; math.Abs(got-tank) > 1e-9*tank || !(last["engine"] > 0.1*tank) {
		t.Errorf("of %g m³ in the tank %g are in the tank and %g in the engine room", tank, last["tank"], last["engine"])
	}
}
