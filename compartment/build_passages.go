package compartment

import (
	"math"
	"reflect"
	"slices"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// pumpMouth is the diameter, m, of the figure that stands for where a pump draws.
const pumpMouth = 1e-3

// ground is what all passages stand on: as long as it is the same, an unchanged opening is the same passage.
type ground struct {
	rooms    *rooms
	walls    *walls
	sections *sections
	fluids   fluids
	angle    float64
}

// makePassages makes the listed openings, then the gaps over low bulkheads. An opening with a fault of its own is left out:
// the places of the others are judged all the same.
func (b *builder) makePassages() {
	b.made.ground = ground{b.made.rooms, b.made.walls, b.made.sections, b.made.fluids, b.contactAngle(nil)}
	if b.made.rooms == nil {
		return
	}
	b.made.joints = b.spec.Joints
	stands := b.made.ground == b.old.ground && reflect.DeepEqual(b.old.joints, b.made.joints)
	for i := range b.spec.Openings {
		o, path := &b.spec.Openings[i], b.paths.openings[i]
		switch {
		case b.broken(path):
		case stands && i < len(b.old.passages) && reflect.DeepEqual(b.old.passages[i].Listed, o):
			b.made.passages = append(b.made.passages, b.old.passages[i])
		default:
			if p := b.opening(path, o); p != nil {
				b.made.passages = append(b.made.passages, p)
			}
		}
	}
	for i := range b.spec.Bulkheads {
		if w := b.made.walls; !w.closed[i] && len(w.gaps[i]) > 0 {
			b.made.passages = append(b.made.passages, b.gap(i))
		}
	}
}

// opening makes one listed opening.
func (b *builder) opening(path string, o *OpeningSpec) *Passage {
	p := &Passage{
		Name: o.Name, Listed: o, Bulkhead: -1, Joint: -1, Angle: b.contactAngle(o),
		From: b.made.rooms.named(o.Between[0]), To: b.made.rooms.named(o.Between[1]),
	}
	normal, ok := b.place(path, o, p)
	if !ok {
		return nil
	}
	if o.Flow == nil && o.Area == nil {
		p.overhang = b.overhang(o, p, normal)
	}
	if o.Faces != nil {
		normal = r3.Unit(*o.Faces)
	}
	along := lengthwise(normal)
	if o.Along != nil {
		along = *o.Along
		if b.across(path, along, normal); b.broken(path) {
			return nil
		}
	}
	p.Figure, p.Law = b.figure(o, r3.Add(o.At, r3.Scale(o.Rises, normal)), normal, along)
	if o.Flow != nil {
		p.Pump = *o.Flow
	}
	p.Law = p.Law.WithContactAngle(p.Angle)
	return p
}

// lengthwise is the direction of a length where none is given: x, and y on a plate whose normal is x or within 25° of it,
// such as a raked transom, where a length along x would stand upright.
func lengthwise(normal r3.Vec) r3.Vec {
	if math.Abs(normal.X) > 0.9 {
		return r3.Vec{Y: 1}
	}
	return r3.Vec{X: 1}
}

// named is the index of a space, Outside for any other name.
func (r *rooms) named(name string) int { return slices.Index(r.names, name) }

func (b *builder) contactAngle(o *OpeningSpec) float64 {
	switch {
	case o != nil && o.ContactAngle != nil:
		return *o.ContactAngle
	case b.spec.Hull.ContactAngle != nil:
		return *b.spec.Hull.ContactAngle
	}
	return hydro.ContactAngle
}

// figure is the open area and its law.
func (b *builder) figure(o *OpeningSpec, at, normal, along r3.Vec) (*hydro.Figure, hydro.Orifice) {
	cd, w, a := math.NaN(), b.made.fluids.water, b.made.fluids.air
	if o.Cd != nil {
		cd = *o.Cd
	}
	rim := hydro.Rim(o.Edge)
	rectangle := func(length, width float64) (*hydro.Figure, hydro.Orifice) {
		return hydro.Rectangle(at, normal, along, length, width), hydro.SlotLaw(length, width, o.Wall, rim, cd, w, a)
	}
	diameter := pumpMouth
	switch {
	case o.Slot != nil:
		return rectangle(o.Slot.Length, o.Slot.Width)
	case o.Door != nil:
		return rectangle(o.Door.Length, o.Door.Height)
	case o.Hole != nil:
		diameter = *o.Hole
	case o.Area != nil:
		diameter = math.Sqrt(4 * *o.Area / math.Pi)
	}
	return hydro.Circle(at, normal, diameter), hydro.HoleLaw(diameter, o.Wall, rim, cd, w, a)
}

// gap makes the passage over a low bulkhead, from the space abaft it to the one before it.
func (b *builder) gap(i int) *Passage {
	w, rooms, spec := b.made.walls, b.made.rooms, &b.spec.Bulkheads[i]
	cd := math.NaN()
	if spec.Cd != nil {
		cd = *spec.Cd
	}
	return &Passage{
		Name: spec.Name, From: rooms.transverse[i], To: rooms.transverse[i+1],
		Figure:   hydro.Edge(w.gaps[i], w.plates[i], r3.Vec{X: 1}),
		Law:      hydro.EdgeLaw(areaOf(w.gaps[i]), cd, b.made.fluids.water, b.made.fluids.air),
		Bulkhead: i, Joint: -1, Angle: b.contactAngle(nil),
		plate: r3.Vec{X: spec.At}, across: 1,
	}
}
