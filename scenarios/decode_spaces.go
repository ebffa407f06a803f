package scenarios

import "github.com/byhead/byhead/compartment"

// bulkheadDoc is an item of `bulkheads:`.
type bulkheadDoc struct {
	body
	Name *name                 `yaml:"name" jsonschema:"required"`
	At   *measure[coordinate]  `yaml:"at" jsonschema:"required" jsonschema_description:"Its place along x."`
	Top  *measure[coordinate]  `yaml:"top" jsonschema_description:"Height of its upper edge above the keel line. Default: up to the deck."`
	Cd   *measure[coefficient] `yaml:"cd" jsonschema_description:"Fixes the coefficient of its edge."`
}

func (b *bulkheadDoc) noun() string { return "a bulkhead" }

func (b *bulkheadDoc) spec() compartment.BulkheadSpec {
	return compartment.BulkheadSpec{Name: b.Name.text(), At: b.At.must(), Top: b.Top.si(), Cd: b.Cd.si()}
}

// compartmentDoc is an item of `compartments:`; a name alone is one as well.
type compartmentDoc struct {
	body
	Name         *name                  `yaml:"name" jsonschema:"required"`
	Airtight     *yes                   `yaml:"airtight" jsonschema_description:"Air leaves through listed openings only. Default: it comes and goes freely."`
	Permeability *measure[permeability] `yaml:"permeability" jsonschema_description:"The share of the room that water can fill. Default: 1."`
	Starts       *measure[starting]     `yaml:"starts" jsonschema_description:"Water aboard at the start: a volume, a depth or a share. Default: dry."`
	X            *span                  `yaml:"x" jsonschema_description:"With y and z: a box cut from the hull."`
	Y            *span                  `yaml:"y"`
	Z            *span                  `yaml:"z"`
}

func (c *compartmentDoc) noun() string { return "a compartment" }

func (c *compartmentDoc) short(d *decoder, n *node) {
	c.Name = new(name)
	c.Name.decode(d, n, n)
}

func (c *compartmentDoc) check(d *decoder) {
	given := btoi(c.has("x")) + btoi(c.has("y")) + btoi(c.has("z"))
	if given == 1 || given == 2 {
		d.fault(c.node, "the compartment has "+counted(given)+" of x, y and z", "all three for a box cut from the hull, none for a space between bulkheads")
		return
	}
}

func (c *compartmentDoc) spec() compartment.CompartmentSpec {
	return compartment.CompartmentSpec{
		Name:         c.Name.text(),
		Airtight:     c.Airtight != nil && bool(*c.Airtight),
		Permeability: c.Permeability.si(),
		Starts:       startSpec(c.Starts),
		X:            c.X.pair(),
		Y:            c.Y.pair(),
		Z:            c.Z.pair(),
	}
}

func startSpec(m *measure[starting]) *compartment.StartSpec {
	if m == nil {
		return nil
	}
	switch m.Unit.Kind {
	case Volume, Plain: // Plain: what was written is no quantity, and was told
		return &compartment.StartSpec{Volume: &m.Value}
	case Length:
		return &compartment.StartSpec{Depth: &m.Value}
	}
	return &compartment.StartSpec{Share: &m.Value}
}

// weightDoc is an item of `weights:`.
type weightDoc struct {
	body
	Name    *name             `yaml:"name" jsonschema:"required"`
	Mass    *measure[mass]    `yaml:"mass" jsonschema:"required"`
	At      *point            `yaml:"at" jsonschema:"required" jsonschema_description:"Its centre."`
	Over    *span             `yaml:"over" jsonschema_description:"The mass is spread from here to there along x."`
	Size    *size             `yaml:"size" jsonschema_description:"[length, breadth, height] about its centre."`
	Density *measure[density] `yaml:"density" jsonschema_description:"Makes it a solid that takes up room. Default: no volume."`
	Later   *yes              `yaml:"later" jsonschema_description:"Not aboard yet; a run takes it aboard."`
}

func (w *weightDoc) noun() string { return "a weight" }

func (w *weightDoc) spec() compartment.WeightSpec {
	spec := compartment.WeightSpec{
		Name: w.Name.text(), Mass: w.Mass.must(), At: w.At.vec(), Over: w.Over.pair(), Density: w.Density.si(),
		Later: w.Later != nil && bool(*w.Later),
	}
	if w.Size != nil {
		s := [3]float64(*w.Size)
		spec.Size = &s
	}
	return spec
}

// markDoc is an item of `marks:`.
type markDoc struct {
	body
	Name *name  `yaml:"name" jsonschema:"required"`
	At   *point `yaml:"at" jsonschema:"required"`
}

func (m *markDoc) noun() string { return "a mark" }

func (m *markDoc) spec() compartment.MarkSpec {
	return compartment.MarkSpec{Name: m.Name.text(), At: m.At.vec()}
}
