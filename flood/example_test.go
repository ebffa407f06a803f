package flood_test

import (
	"context"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// exampleTub is a tub of 1 m × 200 mm × 150 mm and 12 kg, holed in its fore end, with a low bulkhead.
func exampleTub() *compartment.Vessel {
	mass, place, top, hole := 12.0, r3.Vec{X: 0.5, Z: 0.03}, 0.08, 0.02
	vessel, err := compartment.Build(compartment.Spec{
		Water: compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 293.15},
		Hull: compartment.HullSpec{
			Box:   &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15},
			Shell: compartment.ShellSpec{Mass: &mass, At: &place},
		},
		Bulkheads:    []compartment.BulkheadSpec{{Name: "B1", At: 0.85, Top: &top}},
		Compartments: []compartment.CompartmentSpec{{Name: "aft"}, {Name: "fore"}},
		Openings: []compartment.OpeningSpec{
			{Name: "cut", Between: [2]string{"outside", "fore"}, At: r3.Vec{X: 1, Z: 0.02}, Hole: &hole, Wall: 0.002},
		},
	})
	if err != nil {
		panic(err) // the description is ours
	}
	return vessel
}

// Run a vessel and range over its time steps.
func Example() {
	run, err := flood.Start(exampleTub(), flood.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for step, err := range run.Steps(context.Background()) {
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, e := range step.Events {
			fmt.Println(e.Kind, e.Name) // and e.Time, s
		}
	}
	result := run.Result()
	fmt.Println("she", result.Fate)
	// Output:
	// overtopped B1
	// deck-edge-under hull
	// filled fore
	// foundered hull
	// she founders
}

// Stop on an event: leave the loop. The run stays where it is, and can be gone on with.
func ExampleRun_Steps() {
	run, err := flood.Start(exampleTub(), flood.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
steps:
	for step, err := range run.Steps(context.Background()) {
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, e := range step.Events {
			if e.Kind == flood.Overtopped {
				fmt.Printf("water over %s after %.0f s, trim %.0f°\n", e.Name, e.Time, run.Pose(0).Trim()*180/math.Pi)
				break steps
			}
		}
	}
	result, err := run.Finish(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("she", result.Fate)
	// Output:
	// water over B1 after 17 s, trim 4°
	// she founders
}

// Change a value and run again. Vessel.With shares what the value does not touch, and the runs may go side by side.
func ExampleStart() {
	vessel := exampleTub()
	for _, top := range []float64{0.08, 0.14} {
		higher, err := vessel.With("bulkheads.B1.top", top)
		if err != nil {
			fmt.Println(err)
			return
		}
		run, err := flood.Start(higher, flood.Settings{})
		if err != nil {
			fmt.Println(err)
			return
		}
		result, err := run.Finish(context.Background())
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("bulkhead %.0f mm high: she %s\n", 1000*top, result.Fate)
	}
	// Output:
	// bulkhead 80 mm high: she founders
	// bulkhead 140 mm high: she floats
}

// Change a value under way: when the water comes over the bulkhead, its top is raised.
func ExampleRun_Change() {
	vessel := exampleTub()
	run, err := flood.Start(vessel, flood.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for step, err := range run.Steps(context.Background()) {
		if err != nil {
			fmt.Println(err)
			return
		}
		if len(step.Events) == 0 || step.Events[0].Kind != flood.Overtopped {
			continue
		}
		higher, err := vessel.With("bulkheads.B1.top", 0.14)
		if err == nil {
			err = run.Change(higher)
		}
		if err != nil {
			fmt.Println(err)
			return
		}
	}
	fmt.Println("she", run.Result().Fate)
	// Output: she floats
}

// Save a run between two steps, and go on from there: another day, or from the same point in several ways.
func ExampleResume() {
	vessel, settings := exampleTub(), flood.Settings{}
	run, err := flood.Start(vessel, settings)
	if err != nil {
		fmt.Println(err)
		return
	}
	for range 10 {
		run.Step()
	}
	data, err := run.Save()
	if err != nil {
		fmt.Println(err)
		return
	}
	again, err := flood.Resume(vessel, settings, data)
	if err != nil {
		fmt.Println(err)
		return
	}
	one, _ := run.Finish(context.Background())
	other, _ := again.Finish(context.Background())
	fmt.Println("the same to the bit:", one.Duration == other.Duration)
	// Output: the same to the bit: true
}

// trace keeps the trim of every sample. A Sample is used again by the next one: copy what you keep.
func trace(settings flood.Settings) (times, trims []float64, err error) {
	settings.Every = 1
	settings.Samples = func(s *flood.Sample) {
		if !s.Event {
			times, trims = append(times, s.Time), append(trims, s.Bodies[0].Trim)
		}
	}
	run, err := flood.Start(exampleTub(), settings)
	if err != nil {
		return nil, nil, err
	}
	_, err = run.Finish(context.Background())
	return times, trims, err
}

// Compare traces with tolerances: here of a run with one that is reckoned a hundred times closer.
func ExampleSettings() {
	times, trims, err := trace(flood.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, closer, err := trace(flood.Settings{Tolerance: flood.DefaultTolerance / 100})
	if err != nil {
		fmt.Println(err)
		return
	}
	const absolute, relative = 1e-4, 1e-3 // rad, and a share of what it should be
	off := 0
	for i := range min(len(trims), len(closer)) {
		if math.Abs(trims[i]-closer[i]) > absolute+relative*math.Abs(closer[i]) {
			off++
			fmt.Printf("%g s: %g rad, want %g\n", times[i], trims[i], closer[i])
		}
	}
	fmt.Println(off, "samples are off")
	// Output: 0 samples are off
}

// Use the engine as a reference for formulas of your own: while the water inside is under the hole, a clamped hull fills by
// Torricelli's law. The engine also counts viscosity and the jet's own surface, which take a hundredth off the flow.
func Example_reference() {
	keel := -0.06 // held level, the keel line 60 mm under the sea
	run, err := flood.Start(exampleTub(), flood.Settings{Motion: flood.Held, Keel: &keel, Until: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := run.Finish(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	mine := 2 * 0.61 * math.Pi / 4 * 0.02 * 0.02 * math.Sqrt(2*9.80665*0.04)
	if math.Abs(result.WaterCrossed-mine) > 0.02*mine {
		fmt.Printf("%g m³, by the formula %g\n", result.WaterCrossed, mine)
	}
	fmt.Println("compared")
	// Output: compared
}

// grille is an opening behind bars that leave a share of it free: an own law made of one of the engine's.
type grille struct {
	hydro.Orifice
	water      hydro.Water
	air        hydro.Air
	area, free float64
}

func (g *grille) Water(v *hydro.View, a, b hydro.Side) hydro.Flow {
	f := g.Orifice.Water(v, &g.water, a, b)
	return hydro.Flow{Rate: g.free * f.Rate, ByA: g.free * f.ByA, ByB: g.free * f.ByB, ByAir: g.free * f.ByAir}
}

func (g *grille) Air(v *hydro.View, a, b hydro.Side) hydro.AirFlow {
	f := g.Orifice.Air(v, &g.water, &g.air, a, b)
	return hydro.AirFlow{Rate: g.free * f.Rate, ByA: g.free * f.ByA, ByB: g.free * f.ByB, ByAirA: g.free * f.ByAirA, ByAirB: g.free * f.ByAirB}
}

func (g *grille) Resistance() (water, air flood.Resistance) {
	through := g.area * g.free // what was a speed over the area is a flow
	water = flood.Resistance{Linear: g.Creep / through, Quadratic: g.Jet / (through * through)}
	air = flood.Resistance{Linear: g.AirCreep / through, Quadratic: g.AirJet * g.air.Density / (through * through)}
	return water, air
}

// Bring an opening law of your own: flow and derivatives, and roughly what drives which flow.
func ExampleLaw() {
	vessel := exampleTub()
	cut := vessel.Passages[0]
	bars := &grille{Orifice: cut.Law, water: vessel.Water, air: vessel.Air, area: cut.Figure.Area(), free: 0.5}
	var filled [2]float64
	for i, laws := range []map[string]flood.Law{nil, {"cut": bars}} {
		keel := -0.06
		run, err := flood.Start(vessel, flood.Settings{Motion: flood.Held, Keel: &keel, Until: 2 * float64(i+1), Laws: laws})
		if err != nil {
			fmt.Println(err)
			return
		}
		result, err := run.Finish(context.Background())
		if err != nil {
			fmt.Println(err)
			return
		}
		filled[i] = result.WaterCrossed
	}
	fmt.Printf("half open and twice as long: %.4f of the water\n", filled[1]/filled[0])
	// Output: half open and twice as long: 1.0000 of the water
}
