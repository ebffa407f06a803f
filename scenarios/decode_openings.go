package scenarios

import (
	"reflect"

	"github.com/byhead/byhead/compartment"
)

// openingDoc is an item of `openings:`.
type openingDoc struct {
	body
	Name         *name                  `yaml:"name" jsonschema:"required"`
	Between      *names                 `yaml:"between" jsonschema:"required" jsonschema_description:"Two spaces, or a space and outside; flow counts as positive from the first to the second."`
	At           *point                 `yaml:"at" jsonschema:"required" jsonschema_description:"The centre of the figure, on the plate; with rises, its foot."`
	Hole         *measure[extent]       `yaml:"hole" jsonschema:"oneof_required=hole" jsonschema_description:"The diameter of a round hole."`
	Slot         *sides[lengthWidth]    `yaml:"slot" jsonschema:"oneof_required=slot" jsonschema_description:"LENGTH x WIDTH of a slit."`
	Door         *sides[lengthHeight]   `yaml:"door" jsonschema:"oneof_required=door" jsonschema_description:"LENGTH x HEIGHT of a doorway."`
	Area         *measure[area]         `yaml:"area" jsonschema:"oneof_required=area" jsonschema_description:"Of a circle."`
	Flow         *measure[flow]         `yaml:"flow" jsonschema:"oneof_required=flow" jsonschema_description:"Of a pump, from the first space to the second, until its source is dry."`
	Along        *direction[axes]       `yaml:"along" jsonschema_description:"The direction of its length: x, y, z or [a, b, c]."`
	Faces        *direction[facings]    `yaml:"faces" jsonschema_description:"Its outward normal. Default: that of the nearest plate."`
	Wall         *measure[distance]     `yaml:"wall" jsonschema_description:"Thickness of the plate. Default: 0 mm."`
	Rises        *measure[distance]     `yaml:"rises" jsonschema_description:"The mouth stands that far off the plate (coaming, funnel, trunk)."`
	Edge         *word[edges]           `yaml:"edge" jsonschema_description:"How the rim is made. Default: sharp."`
	Cd           *measure[coefficient]  `yaml:"cd" jsonschema_description:"Fixes the discharge coefficient, for water and air."`
	ContactAngle *measure[contactAngle] `yaml:"contact_angle" jsonschema_description:"Of water on the rim. Default: the hull's."`
	Opens        *conditions            `yaml:"opens" jsonschema_description:"What opens it, any one of several. Default: open from the start."`
	Shuts        *conditions            `yaml:"shuts" jsonschema_description:"What shuts it, any one of several. Default: nothing."`
}

func (o *openingDoc) noun() string { return "an opening" }

type edges struct{}

func (edges) words() []string {
	return []string{string(compartment.Sharp), string(compartment.Rounded), string(compartment.Tube)}
}

func (o *openingDoc) spec() compartment.OpeningSpec {
	spec := compartment.OpeningSpec{
		Name: o.Name.text(), Between: o.Between.pair(), At: o.At.vec(),
		Hole: o.Hole.si(), Area: o.Area.si(), Flow: o.Flow.si(),
		Along: o.Along.vec(), Faces: o.Faces.vec(), Wall: o.Wall.or(0), Rises: o.Rises.or(0),
		Edge: compartment.EdgeKind(o.Edge.or("")), Cd: o.Cd.si(), ContactAngle: o.ContactAngle.si(),
		Opens: o.Opens.spec(), Shuts: o.Shuts.spec(),
	}
	if o.Slot != nil {
		spec.Slot = &compartment.SlotSpec{Length: o.Slot.First, Width: o.Slot.Second}
	}
	if o.Door != nil {
		spec.Door = &compartment.DoorSpec{Length: o.Door.First, Height: o.Door.Second}
	}
	return spec
}

// conditionDoc is what opens or shuts an opening: one or more of these.
type conditionDoc struct {
	body
	Time  *measure[instant] `yaml:"time" jsonschema:"anyof_required=time" jsonschema_description:"So long after the start."`
	Joint *reference        `yaml:"joint" jsonschema:"anyof_required=joint" jsonschema_description:"When that joint has parted."`
	Trim  *measure[angle]   `yaml:"trim" jsonschema:"anyof_required=trim" jsonschema_description:"8 deg is reached from below, -8 deg from above; by the head is positive."`
	Wet   *measure[instant] `yaml:"wet" jsonschema:"anyof_required=wet" jsonschema_description:"Its centre has been under the sea surface so long in one go."`
}

func (c *conditionDoc) noun() string { return "a condition" }

func (c *conditionDoc) spec() (list []compartment.Condition) {
	if c.Time != nil {
		list = append(list, compartment.Condition{Time: c.Time.si()})
	}
	if c.Joint != nil {
		joint := string(*c.Joint)
		list = append(list, compartment.Condition{Joint: &joint})
	}
	if c.Trim != nil {
		list = append(list, compartment.Condition{Trim: c.Trim.si()})
	}
	if c.Wet != nil {
		list = append(list, compartment.Condition{Wet: c.Wet.si()})
	}
	return list
}

// conditions is one condition or a list of them.
type conditions []conditionDoc

func (c *conditions) decode(d *decoder, n, key *node) {
	if n.kind == sequenceNode {
		d.list(reflect.ValueOf(c).Elem(), n)
		return
	}
	*c = make(conditions, 1)
	d.into(reflect.ValueOf(&(*c)[0]).Elem(), n, key)
}

func (c *conditions) shape() shape {
	return shape{docs: []docSpec{{doc: conditionDoc{}}, {doc: conditionDoc{}, list: true}}, example: "{time: 5 s}"}
}

func (c *conditions) spec() (list []compartment.Condition) {
	if c == nil {
		return nil
	}
	for i := range *c {
		list = append(list, (*c)[i].spec()...)
	}
	return list
}
