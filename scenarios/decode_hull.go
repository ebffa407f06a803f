package scenarios

import (
	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// hullDoc is `hull:`. The form is exactly one of the first four.
type hullDoc struct {
	body
	Offsets      *offsetsDoc            `yaml:"offsets" jsonschema:"oneof_required=offsets" jsonschema_description:"A table of offsets."`
	Mesh         *meshDoc               `yaml:"mesh" jsonschema:"oneof_required=mesh" jsonschema_description:"Triangles from an STL file."`
	Box          *boxDoc                `yaml:"box" jsonschema:"oneof_required=box" jsonschema_description:"A box."`
	Wigley       *wigleyDoc             `yaml:"wigley" jsonschema:"oneof_required=wigley" jsonschema_description:"The mathematical hull of parabolas."`
	Mirror       *yes                   `yaml:"mirror" jsonschema_description:"The table of offsets gives one side, the other is its mirror image."`
	Shell        *shellDoc              `yaml:"shell" jsonschema_description:"The mass of the bare hull."`
	ContactAngle *measure[contactAngle] `yaml:"contact_angle" jsonschema_description:"Of water on the plates."`
}

func (h *hullDoc) noun() string { return "the hull" }

// offsetsDoc is `offsets:`, with the table in a file or inline.
type offsetsDoc struct {
	body
	Unit     *unitName    `yaml:"unit" jsonschema:"required" jsonschema_description:"Of every number in the table."`
	File     *filePath    `yaml:"file" jsonschema:"oneof_required=file" jsonschema_description:"A CSV file with the header x,z,y, in the scenario's folder or below."`
	Stations []stationDoc `yaml:"stations" jsonschema:"oneof_required=stations" jsonschema_description:"The table itself, stations from aft forward."`
}

func (o *offsetsDoc) noun() string { return "a table of offsets" }

// stationDoc is one station of an inline table.
type stationDoc struct {
	body
	X      *measure[tableNumber] `yaml:"x" jsonschema:"required" jsonschema_description:"Of the station, a bare number in the table's unit."`
	Points []tablePoint          `yaml:"points" jsonschema:"required" jsonschema_description:"[z, y] from the keel up to the deck edge, bare numbers in the table's unit."`
}

func (s *stationDoc) noun() string { return "a station" }

type tableNumber struct{}

func (tableNumber) rule() rule { return rule{kinds: []Kind{Plain}, example: "190"} }

// tablePoint is [z, y].
type tablePoint [2]float64

func (p *tablePoint) decode(d *decoder, n, key *node) {
	d.quantities(n, key, p[:], tableNumber{}.rule(), "[z, y], height and half-breadth in the table's unit, without units here")
}

func (p *tablePoint) shape() shape { return listShape[tableNumber](2, "[20, 31]") }

// meshDoc is `mesh:`.
type meshDoc struct {
	body
	File *filePath `yaml:"file" jsonschema:"required" jsonschema_description:"An STL file, ASCII or binary, in the scenario's folder or below."`
	Unit *unitName `yaml:"unit" jsonschema:"required" jsonschema_description:"Of every number in the file."`
}

func (m *meshDoc) noun() string { return "a mesh" }

// boxDoc is `box:`.
type boxDoc struct {
	body
	Length  *measure[extent] `yaml:"length" jsonschema:"required"`
	Breadth *measure[extent] `yaml:"breadth" jsonschema:"required"`
	Depth   *measure[extent] `yaml:"depth" jsonschema:"required"`
}

func (b *boxDoc) noun() string { return "a box" }

// wigleyDoc is `wigley:`.
type wigleyDoc struct {
	body
	Length  *measure[extent] `yaml:"length" jsonschema:"required"`
	Breadth *measure[extent] `yaml:"breadth" jsonschema:"required"`
	Draft   *measure[extent] `yaml:"draft" jsonschema:"required" jsonschema_description:"Up to here the sides are parabolas, above it they are upright."`
	Depth   *measure[extent] `yaml:"depth" jsonschema:"required"`
}

func (w *wigleyDoc) noun() string { return "a Wigley hull" }

// shellDoc is `shell:`, weighed or reckoned from its thickness.
type shellDoc struct {
	body
	Mass      *measure[mass]    `yaml:"mass" jsonschema:"oneof_required=mass" jsonschema_description:"As weighed."`
	At        *point            `yaml:"at" jsonschema_description:"Its centre."`
	Over      *span             `yaml:"over" jsonschema_description:"The mass is spread from here to there along x. Default: the hull's length."`
	Density   *measure[density] `yaml:"density" jsonschema_description:"Of the plates, whose volume is then counted."`
	Thickness *measure[extent]  `yaml:"thickness" jsonschema:"oneof_required=thickness" jsonschema_description:"Of the plates: mass, centre and inertia follow from the surface and the density."`
}

func (s *shellDoc) noun() string { return "the shell" }

func (s *shellDoc) check(d *decoder) {
	switch {
	case s.has("mass") && s.has("thickness"): // told as keys that exclude one another
	case s.has("mass") && !s.has("at"):
		d.fault(s.node, `the shell has a mass and no "at"`, "`at: "+"[512 mm, 0 mm, 41 mm]`, its centre")
		return
	case s.has("thickness") && !s.has("density"):
		d.fault(s.node, `the shell has a thickness and no "density"`, "`density: 1050 kg/m3`")
		return
	case s.has("thickness") && (s.has("at") || s.has("over")):
		d.fault(s.later("thickness", "at", "over"), "the shell has a thickness, and a centre or a spread of its own", "either `mass` with `at`, or `thickness` with `density`")
		return
	}
}

func (h *hullDoc) spec(d *decoder, files *folder) compartment.HullSpec {
	spec := compartment.HullSpec{Shell: h.Shell.spec(), ContactAngle: h.ContactAngle.si()}
	mirror := h.Mirror != nil && bool(*h.Mirror)
	switch {
	case h.Offsets != nil:
		spec.Offsets = h.Offsets.spec(d, files, mirror)
	case h.Mesh != nil:
		spec.Mesh = h.Mesh.spec(d, files)
	case h.Box != nil:
		spec.Box = &compartment.BoxSpec{Length: h.Box.Length.must(), Breadth: h.Box.Breadth.must(), Depth: h.Box.Depth.must()}
	case h.Wigley != nil:
		w := h.Wigley
		spec.Wigley = &compartment.WigleySpec{Length: w.Length.must(), Breadth: w.Breadth.must(), Draft: w.Draft.must(), Depth: w.Depth.must()}
	}
	if mirror && h.Offsets == nil {
		files.note("hull.mirror says nothing here: it is for a table of offsets, every other form is taken whole as it stands")
	}
	return spec
}

func (s *shellDoc) spec() compartment.ShellSpec {
	if s == nil {
		return compartment.ShellSpec{}
	}
	spec := compartment.ShellSpec{
		Mass: s.Mass.si(), Over: s.Over.pair(), Density: s.Density.si(), Thickness: s.Thickness.si(),
	}
	if s.At != nil {
		at := s.At.vec()
		spec.At = &at
	}
	return spec
}

// spec gives the table in metres, from its file or from the scenario; an empty one where it could not be read.
func (o *offsetsDoc) spec(d *decoder, files *folder, mirror bool) *compartment.OffsetsSpec {
	if o.File != nil {
		return &compartment.OffsetsSpec{Stations: files.offsets(d, o.File, o.Unit.unit()), Mirror: mirror}
	}
	spec := &compartment.OffsetsSpec{Mirror: mirror}
	for _, s := range o.Stations {
		station := compartment.Station{X: d.scaled(s.node, o.Unit.unit(), s.X.must())}
		for _, p := range s.Points {
			station.Points = append(station.Points, compartment.StationPoint{
				Z: d.scaled(s.node, o.Unit.unit(), p[0]), Y: d.scaled(s.node, o.Unit.unit(), p[1]),
			})
		}
		spec.Stations = append(spec.Stations, station)
	}
	return spec
}

// scaled gives a number of a table in metres, and refuses coordinates past the limit.
func (d *decoder) scaled(n *node, u Unit, number float64) float64 {
	x := u.SI(number)
	if limit := kindFacts[Length].high; x < -limit || x > limit {
		d.fault(n, quote(Quantity{Number: number, Unit: u}.String())+" is past the limit for a coordinate", "at most "+inUnit(limit, u)+" in either direction")
	}
	return x
}

func (m *meshDoc) spec(d *decoder, files *folder) *compartment.MeshSpec {
	spec := &compartment.MeshSpec{Triangles: files.mesh(d, m.File, m.Unit.unit())}
	if m.File != nil {
		spec.Name = m.File.Path
	}
	return spec
}

// vecs is for readability of the mesh's type.
type vecs = [][3]r3.Vec
