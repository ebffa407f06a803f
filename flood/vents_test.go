package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// vented is a bell 600 mm under with a mouth in its bottom and a vent of 4 mm in its top at the end of a pipe of 700 mm.
func vented(rises float64) compartment.Spec {
	s := bellSpec(0.2, 0.15, 0.15, 0.03, 1000)
	s.Water.SurfaceTension = ptr(0.0)
	vent := bored("vent", "bell", "outside", r3.Vec{X: 0.1, Z: 0.15}, r3.Vec{Z: 1}, 0.004)
	vent.Rises = rises
	s.Openings = append(s.Openings, vent)
	return s
}

// A vent that opens at 20 s and shuts at 22 s lets that much air go, and no more: before and after the bell stands by Boyle's law
// with the air that it has. What went is the integral of the flow through the vent, as sampled.
func TestVentOpensAndShutsByTime(t *testing.T) {
	const depth, height, area, weight = 0.6, 0.15, 0.2 * 0.15, 1000 * 9.80665
	s := vented(0.7)
	s.Openings[1].Opens, s.Openings[1].Shuts = []compartment.Condition{{Time: ptr(20.0)}}, []compartment.Condition{{Time: ptr(22.0)}}
	level := func(n float64) float64 { // n: the air as a height at one atmosphere
		k := 101325/weight + depth
		p, q := k+height, k*height-101325*n/weight
		return p/2 - math.Sqrt(p*p/4-q)
	}
	var times, gone []float64
	var before, after flood.SpaceSample
	run := mustStart(t, mustBuild(t, s), flood.Settings{Motion: flood.Held, Keel: ptr(-depth), Until: 40, Every: 0.002, Tolerance: 1e-8,
		Samples: func(s *flood.Sample) {
			switch {
			case s.Time < 20:
				before = s.Spaces[0]
			case s.Time <= 22 && s.Passages[1].Air > 0: // at 20 the row after the event, at 22 the one before it
				times, gone = append(times, s.Time), append(gone, s.Passages[1].Air*(1+s.Spaces[0].Air/101325)) // m³/s at one atmosphere
			case s.Time > 22:
				after = s.Spaces[0]
				if s.Passages[1].Air != 0 {
					t.Errorf("%g m³/s pass the shut vent at %g s", s.Passages[1].Air, s.Time)
				}
			}
		}})
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	sum := 0.0
	for i := 1; i < len(times); i++ {
		sum += (times[i] - times[i-1]) * (gone[i] + gone[i-1]) / 2
	}
	want, end := level(height), level(height-sum/area)
	t.Logf("before %.9f (%.9f), after %.6f (%.6f), %.4g m³ gone; %v", before.Depth, want, after.Depth, end, sum, r.Events)
	if math.Abs(before.Depth-want) > 1e-6*want || math.Abs(after.Depth-end) > 1e-3*(end-want) || !(end-want > 0.005) {
		t.Errorf("level %.9f before and %.7f after, by Boyle's law %.9f and %.7f", before.Depth, after.Depth, want, end)
	}
	for i, kind := range []flood.EventKind{flood.Opened, flood.Shut} {
		if e := eventsOf(r, "vent")[i]; e.Kind != kind || e.Name != "vent" || e.Time != 20+2*float64(i) {
			t.Errorf("event %v; %s at %d s expected", e, kind, 20+2*i)
		}
	}
}

// A vent whose mouth is under water from the start opens after 7 s of it, and lets the air bubble out until none is left; one that
// shuts after 7 s wet keeps what is left then.
func TestVentByWet(t *testing.T) {
	for _, shuts := range []bool{false, true} {
		s := vented(0)
		wet := []compartment.Condition{{Wet: ptr(7.0)}}
		if shuts {
			s.Openings[1].Shuts = wet
		} else {
			s.Openings[1].Opens = wet
		}
		r, last := heldUnder(t, s, 0.6, 300, 1e-6)
		e := eventsOf(r, "vent")[0]
		t.Logf("shuts %v: %v; at the end %+v", shuts, r.Events, last["bell"])
		if e.Name != "vent" || math.Abs(e.Time-7) > 1e-9 || (e.Kind == flood.Shut) != shuts {
			t.Errorf("shuts %v: %v, the vent after 7 s under water expected", shuts, e)
		}
		ofBell := eventsOf(r, "bell") // filled, air-lost
		if shuts == last["bell"].Full || shuts != (len(ofBell) == 0) || !shuts && (len(ofBell) != 2 || ofBell[1].Kind != flood.AirLost) {
			t.Errorf("shuts %v: %+v, %v", shuts, last["bell"], ofBell)
		}
	}
}

// A hull that goes down by the head opens the vent of an airtight space in her bow at a trim of 2°: until then the space's water
// stands still under its air, then it fills.
func TestVentByTrim(t *testing.T) {
	s := bargeSpec()
	s.Weights[0].Mass = 10
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.7}, {Name: "B2", At: 0.9}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "mid"}, {Name: "bow", Airtight: true}}
	vent := bored("vent", "bow", "outside", r3.Vec{X: 0.95, Z: 0.15}, r3.Vec{Z: 1}, 0.003)
	vent.Opens = []compartment.Condition{{Trim: ptr(2 * math.Pi / 180)}}
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "mid", r3.Vec{X: 0.8}, r3.Vec{Z: -1}, 0.008),
		bored("hole", "outside", "bow", r3.Vec{X: 0.95}, r3.Vec{Z: -1}, 0.01), vent}
	var trim, most, opened float64
	run := mustStart(t, mustBuild(t, s), flood.Settings{Until: 300, Every: 0.1, Samples: func(s *flood.Sample) {
		trim = s.Bodies[0].Trim
		if opened == 0 && s.Passages[2].Air > 0 {
			opened = trim
		}
		if opened == 0 {
			most = math.Max(most, s.Spaces[2].Depth)
		}
	}})
	r, err := run.Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatal(err, r.GaveUp)
	}
	t.Logf("opened at %.4f°, %.1f mm in the bow until then; %v, trim at the end %.2f°", opened*180/math.Pi, 1e3*most, r.Events, trim*180/math.Pi)
	if math.Abs(opened*180/math.Pi-2) > 1e-3 || most > 0.005 || !(trim > opened) || len(r.Events) == 0 || r.Events[0].Kind != flood.Opened {
		t.Errorf("the vent opens at %g° with %g m in the bow; 2° expected, and a millimetre; %v", opened*180/math.Pi, most, r.Events)
	}
}

// eventsOf are the events of one thing.
func eventsOf(r *flood.Result, name string) (events []flood.Event) {
	for _, e := range r.Events {
		if e.Name == name {
			events = append(events, e)
		}
	}
	return events
}
