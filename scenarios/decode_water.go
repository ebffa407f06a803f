package scenarios

import "github.com/byhead/byhead/compartment"

// waterDoc is `water:`.
type waterDoc struct {
	body
	Kind           *word[waterKinds]     `yaml:"kind" jsonschema_description:"fresh, or sea of 35 g/kg. Default: fresh."`
	Temperature    *measure[temperature] `yaml:"temperature" jsonschema_description:"Default: 15 C."`
	Depth          *measure[extent]      `yaml:"depth" jsonschema_description:"Of the pool. Default: bottomless."`
	Density        *measure[density]     `yaml:"density" jsonschema_description:"In place of that which follows from kind and temperature."`
	SurfaceTension *measure[tension]     `yaml:"surface_tension" jsonschema_description:"In place of that which follows from kind and temperature; 35 mN/m for a soapy pool, 0 mN/m switches menisci off."`
}

func (w *waterDoc) noun() string { return "the water" }

type waterKinds struct{}

func (waterKinds) words() []string {
	return []string{string(compartment.Fresh), string(compartment.Sea)}
}

// defaultTemperature of the water, 15 °C.
const defaultTemperature = 288.15

func (w *waterDoc) spec() compartment.WaterSpec {
	if w == nil {
		w = &waterDoc{}
	}
	return compartment.WaterSpec{
		Kind:           compartment.WaterKind(w.Kind.or(string(compartment.Fresh))),
		Temperature:    w.Temperature.or(defaultTemperature),
		Depth:          w.Depth.si(),
		Density:        w.Density.si(),
		SurfaceTension: w.SurfaceTension.si(),
	}
}
