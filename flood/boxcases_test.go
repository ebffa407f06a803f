package flood_test

import (
	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

func ptr[T any](x T) *T { return &x }

// bargeSpec is a 1 × 0.2 × 0.15 m box drawing 0.08 m in water of 1000 kg/m³ at 15 °C without surface tension, its centre of
// mass 0.05 m over the keel line: the model of references.md ST-11.
func bargeSpec() compartment.Spec {
	return compartment.Spec{
		Water:   compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0), SurfaceTension: ptr(0.0)},
		Hull:    compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15}},
		Weights: []compartment.WeightSpec{{Name: "all", Mass: 16, At: r3.Vec{X: 0.5, Z: 0.05}}},
	}
}

// bored is a sharp hole of a fixed coefficient.
func bored(name, from, to string, at, faces r3.Vec, diameter float64) compartment.OpeningSpec {
	return compartment.OpeningSpec{Name: name, Between: [2]string{from, to}, At: at, Faces: &faces, Hole: &diameter, Cd: ptr(0.61)}
}

func midSpec() compartment.Spec {
	s := bargeSpec()
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.4}, {Name: "B2", At: 0.6}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "mid", Permeability: ptr(0.85)}, {Name: "fore"}}
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "mid", r3.Vec{X: 0.5, Y: 0.1, Z: 0.03}, r3.Vec{Y: 1}, 0.012)}
	return s
}

func endSpec() compartment.Spec {
	s := bargeSpec()
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.85}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "main"}, {Name: "fore"}}
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "fore", r3.Vec{X: 1, Z: 0.03}, r3.Vec{X: 1}, 0.01)}
	return s
}

func wingSpec() compartment.Spec {
	s := bargeSpec()
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"},
		{Name: "wing", X: &[2]float64{0.375, 0.625}, Y: &[2]float64{-0.1, -0.05}, Z: &[2]float64{0, 0.15}}}
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "wing", r3.Vec{X: 0.5, Y: -0.1, Z: 0.03}, r3.Vec{Y: -1}, 0.008)}
	return s
}

// cornerSpec trims and heels at once: a wing space near the fore end, and a second one behind it through a door.
func cornerSpec() compartment.Spec {
	s := bargeSpec()
	y, z := &[2]float64{0.04, 0.1}, &[2]float64{0, 0.15}
	s.Compartments = []compartment.CompartmentSpec{
		{Name: "wing-aft", X: &[2]float64{0.6, 0.75}, Y: y, Z: z, Permeability: ptr(0.9)}, {Name: "hold"},
		{Name: "wing-fore", X: &[2]float64{0.75, 0.95}, Y: y, Z: z}}
	s.Openings = []compartment.OpeningSpec{
		bored("cut", "outside", "wing-fore", r3.Vec{X: 0.9, Y: 0.1, Z: 0.02}, r3.Vec{Y: 1}, 0.008),
		{Name: "door", Between: [2]string{"wing-fore", "wing-aft"}, At: r3.Vec{X: 0.75, Y: 0.07, Z: 0.025}, Faces: &r3.Vec{X: -1},
			Along: &r3.Vec{Y: 1}, Door: &compartment.DoorSpec{Length: 0.01, Height: 0.03}, Cd: ptr(0.65)}}
	return s
}

// spillSpec has a low bulkhead that the water comes over.
func spillSpec() compartment.Spec {
	s := bargeSpec()
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.5}, {Name: "B2", At: 0.6, Top: ptr(0.06)}, {Name: "B3", At: 0.7}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "behind"}, {Name: "holed"}, {Name: "fore"}}
	s.Openings = []compartment.OpeningSpec{bored("cut", "outside", "holed", r3.Vec{X: 0.65, Y: 0.1, Z: 0.03}, r3.Vec{Y: 1}, 0.015)}
	return s
}
