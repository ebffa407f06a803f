package compartment

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// onPlate is how far from the plate the centre of an opening may be given, m; or half its own height.
const onPlate = 5e-3

// pumpMouth is the diameter, m, of the figure that stands for where a pump draws.
const pumpMouth = 1e-3

// makePassages makes the listed openings, then the gaps over low bulkheads.
func (b *builder) makePassages() []*Passage {
	if b.made.spaces == nil || b.made.sections == nil || b.broken("openings") {
		return nil
	}
	var all []*Passage
	for i := range b.spec.Openings {
		if p := b.opening(b.paths.openings[i], &b.spec.Openings[i]); p != nil {
			all = append(all, p)
		}
	}
	for i := range b.spec.Bulkheads {
		if w := b.made.walls; !w.closed[i] && len(w.gaps[i]) > 0 {
			all = append(all, b.gap(i))
		}
	}
	return all
}

// opening makes one listed opening.
func (b *builder) opening(path string, o *OpeningSpec) *Passage {
	p := &Passage{
		Name: o.Name, Listed: o, Bulkhead: -1, Joint: -1, Angle: b.contactAngle(o),
		From: b.spaceNamed(o.Between[0]), To: b.spaceNamed(o.Between[1]),
	}
	normal, ok := b.place(path, o, p)
	if !ok {
		return nil
	}
	if o.Faces != nil {
		normal = r3.Unit(*o.Faces)
	}
	along := r3.Vec{X: 1}
	if math.Abs(normal.X) > 0.9 {
		along = r3.Vec{Y: 1}
	}
	if o.Along != nil {
		along = *o.Along
		if r3.Norm(r3.Cross(r3.Unit(along), normal)) < 1e-3 {
			b.fault(path+".along", "its length stands at right angles to the plate", "a direction in the plate")
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

// spaceNamed is the index of a space; the names have been checked.
func (b *builder) spaceNamed(name string) int {
	for i, s := range b.made.spaces {
		if s.Name == name {
			return i
		}
	}
	return Outside
}

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

// span is the greatest measure of an opening, m.
func (o *OpeningSpec) span() float64 {
	switch {
	case o.Hole != nil:
		return *o.Hole
	case o.Slot != nil:
		return max(o.Slot.Length, o.Slot.Width)
	case o.Door != nil:
		return max(o.Door.Length, o.Door.Height)
	case o.Area != nil:
		return math.Sqrt(4 * *o.Area / math.Pi)
	}
	return pumpMouth
}

// place finds the plate that an opening is in, and whether its two spaces lie on the two sides of it there.
func (b *builder) place(path string, o *OpeningSpec, p *Passage) (normal r3.Vec, ok bool) {
	if o.Between[0] == outside || o.Between[1] == outside {
		return b.placeInHull(path, o, p)
	}
	return b.placeInWall(path, o, p)
}

// reach is how far from its plate an opening may be given.
func (o *OpeningSpec) reach() float64 { return math.Max(onPlate, o.span()/2) }

// placeInHull places an opening between a space and the outside: on the hull, or in a joint's plane, where it stays shut
// until the parting.
func (b *builder) placeInHull(path string, o *OpeningSpec, p *Passage) (normal r3.Vec, ok bool) {
	inner := max(p.From, p.To)
	form := b.made.hull.form
	point, normal, distance := form.Nearest(o.At)
	if distance > o.reach() {
		if k := b.jointAt(o.At.X); k >= 0 && form.Inside(o.At) {
			p.Joint = k
			return b.placeInJoint(path, o, inner)
		}
		b.fault(path+".at", fmt.Sprintf("it lies %s from the nearest plate of the hull", metres(distance)),
			"a place on the hull, such as ["+coordinates(point)+"]")
		return normal, false
	}
	if !b.behind(o, point, normal, inner) {
		there := b.made.rooms.spaceAt(r3.Add(point, r3.Scale(-1e-4, normal)))
		b.fault(path+".at", fmt.Sprintf("the hull there belongs to %s, not to %s", b.made.spaces[there].Name, b.made.spaces[inner].Name),
			"a place on that compartment's part of the hull")
		return normal, false
	}
	return normal, true
}

// behind tells whether some of an opening at a plate lies before a space.
func (b *builder) behind(o *OpeningSpec, point, normal r3.Vec, space int) bool {
	half := o.span() / 2
	for _, d := range [7]r3.Vec{{}, {X: half}, {X: -half}, {Y: half}, {Y: -half}, {Z: half}, {Z: -half}} {
		d = r3.Sub(d, r3.Scale(r3.Dot(d, normal), normal))
		for _, depth := range [3]float64{1e-6, 1e-4, 2e-3} {
			x := r3.Add(r3.Add(point, d), r3.Scale(-depth, normal))
			if b.made.rooms.spaceAt(x) == space {
				return true
			}
		}
	}
	return false
}

// jointAt is the joint in whose plane x lies, −1: none.
func (b *builder) jointAt(x float64) int {
	for k := range b.spec.Joints {
		if math.Abs(b.spec.Joints[k].At-x) <= joined {
			return k
		}
	}
	return -1
}

// placeInJoint places an opening that the parting will lay open: its normal is along x, away from its space.
func (b *builder) placeInJoint(path string, o *OpeningSpec, inner int) (normal r3.Vec, ok bool) {
	step := r3.Vec{X: 2 * joined}
	switch rooms := b.made.rooms; inner {
	case rooms.spaceAt(r3.Sub(o.At, step)):
		return r3.Vec{X: 1}, true
	case rooms.spaceAt(r3.Add(o.At, step)):
		return r3.Vec{X: -1}, true
	}
	b.fault(path+".at", fmt.Sprintf("%s does not reach this place in the joint's plane", b.made.spaces[inner].Name),
		"a place where the joint cuts that compartment")
	return normal, false
}

// placeInWall places an opening between two spaces: in the bulkhead or the side of a box that parts them there, the one
// nearest to the place given.
func (b *builder) placeInWall(path string, o *OpeningSpec, p *Passage) (normal r3.Vec, ok bool) {
	best := math.Inf(1)
	try := func(n r3.Vec, offset float64) {
		distance := math.Abs(r3.Dot(n, o.At) - offset)
		if distance >= best || distance > o.reach() {
			return
		}
		on := r3.Add(o.At, r3.Scale(offset-r3.Dot(n, o.At), n))
		if b.parts(o, on, n, p.From, p.To) {
			best, normal = distance, n
		}
	}
	for _, at := range b.made.rooms.at {
		try(r3.Vec{X: 1}, at)
	}
	for i := range b.made.rooms.boxes {
		if c := &b.made.rooms.boxes[i]; c.given && (i == p.From || i == p.To) {
			try(r3.Vec{X: 1}, c.hi.X)
			try(r3.Vec{X: -1}, -c.lo.X)
			try(r3.Vec{Y: 1}, c.hi.Y)
			try(r3.Vec{Y: -1}, -c.lo.Y)
			try(r3.Vec{Z: 1}, c.hi.Z)
			try(r3.Vec{Z: -1}, -c.lo.Z)
		}
	}
	if math.IsInf(best, 1) {
		b.fault(path+".at", fmt.Sprintf("no wall between %s and %s within %s of it", o.Between[0], o.Between[1], metres(o.reach())),
			"a place on the wall that parts the two")
		return normal, false
	}
	return normal, true
}

// parts tells whether a wall has the two spaces on its two sides, at the middle of an opening or somewhere in its extent.
func (b *builder) parts(o *OpeningSpec, on, n r3.Vec, from, to int) bool {
	half, rooms := o.span()/2, b.made.rooms
	for _, d := range [7]r3.Vec{{}, {X: half}, {X: -half}, {Y: half}, {Y: -half}, {Z: half}, {Z: -half}} {
		d = r3.Sub(d, r3.Scale(r3.Dot(d, n), n))
		x := r3.Add(on, d)
		if !b.made.hull.form.Inside(x) {
			continue
		}
		front, back := rooms.spaceAt(r3.Add(x, r3.Scale(1e-6, n))), rooms.spaceAt(r3.Sub(x, r3.Scale(1e-6, n)))
		if front == to && back == from || front == from && back == to {
			return true
		}
	}
	return false
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
	}
}

// coordinates writes a point for people.
func coordinates(x r3.Vec) string {
	return fmt.Sprintf("%s, %s, %s", metres(x.X), metres(x.Y), metres(x.Z))
}
