package compartment

import (
	"errors"
	"fmt"
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// A Wigley hull of this many facets along and up has a volume within 1e-4 of the formula's: chords of a parabola in n
// pieces lose 1/n² of what lies under −1 ≤ ξ ≤ 1, and 1/(4n²) of what lies under 0 ≤ ζ ≤ 1.
const (
	wigleyAlong = 160
	wigleyUp    = 72
)

// sectionsAlong is the number of equally spaced sections whose highest points are the deck edge of a hull without a table.
const sectionsAlong = 101

// hullForm is the outer form of the whole.
type hullForm struct {
	from   HullSpec // its pointers tell whether it is the same
	form   *solid.Solid
	lo, hi r3.Vec
	edge   []r3.Vec // deck edge
}

// sameForm tells whether two descriptions lead to the same form: the values behind their pointers never change.
func sameForm(a, b *HullSpec) bool {
	return a.Offsets == b.Offsets && a.Mesh == b.Mesh && a.Box == b.Box && a.Wigley == b.Wigley
}

func (b *builder) makeHull() {
	h := &b.spec.Hull
	if b.old.hull != nil && sameForm(h, &b.old.hull.from) {
		b.made.hull = b.old.hull
		return
	}
	if b.faulty("hull") || b.broken("hull.offsets", "hull.mesh", "hull.box", "hull.wigley") {
		return
	}
	form, edge := b.outerForm(h)
	if form == nil {
		return
	}
	if !(form.Volume() > 0) {
		b.fault("hull", "the hull encloses no volume", "a closed form, its plates facing outward")
		return
	}
	f := &hullForm{from: HullSpec{Offsets: h.Offsets, Mesh: h.Mesh, Box: h.Box, Wigley: h.Wigley}, form: form, edge: edge}
	f.lo, f.hi = form.Bounds()
	if f.edge == nil {
		f.edge = f.spacedEdge(form)
	}
	b.made.hull = f
}

// faulty tells whether the value at exactly this path has a fault.
func (r *report) faulty(path string) bool {
	for i := range r.faults {
		if r.faults[i].Path == path {
			return true
		}
	}
	return false
}

// outerForm makes the solid, and of a table the deck edge.
func (b *builder) outerForm(h *HullSpec) (*solid.Solid, []r3.Vec) {
	switch {
	case h.Box != nil:
		half := h.Box.Breadth / 2
		return solid.Box(r3.Vec{Y: -half}, r3.Vec{X: h.Box.Length, Y: half, Z: h.Box.Depth}), nil
	case h.Wigley != nil:
		w := h.Wigley
		return solid.Wigley(w.Length, w.Breadth, w.Draft, w.Depth, wigleyAlong, wigleyUp), nil
	case h.Mesh != nil:
		return b.meshForm(h.Mesh), nil
	default:
		return b.tableForm(h.Offsets)
	}
}

func (b *builder) meshForm(m *MeshSpec) *solid.Solid {
	tris := make([]solid.Triangle, len(m.Triangles))
	for i := range tris {
		tris[i] = m.Triangles[i]
	}
	form, err := solid.New(tris)
	if err != nil {
		b.fault("hull.mesh", err.Error(), "a surface without holes")
		return nil
	}
	return form
}

func (b *builder) tableForm(o *OffsetsSpec) (*solid.Solid, []r3.Vec) {
	stations := make([]solid.Station, len(o.Stations))
	for i := range stations {
		stations[i].X = o.Stations[i].X
		for _, p := range o.Stations[i].Points {
			stations[i].Points = append(stations[i].Points, solid.StationPoint(p))
		}
	}
	form, table, err := solid.Stations(stations, o.Mirror)
	var faults solid.StationFaults
	switch {
	case errors.As(err, &faults):
		for _, f := range faults {
			path := fmt.Sprintf("hull.offsets.%d", f.Station)
			if f.Point >= 0 {
				path += fmt.Sprintf(".%d", f.Point)
			}
			b.fault(path, f.What, f.Want)
		}
		return nil, nil
	case err != nil:
		b.fault("hull.offsets", err.Error(), "")
		return nil, nil
	}
	var edge []r3.Vec
	for i := range table.X {
		edge = append(edge, table.Port[i], table.Starboard[i])
	}
	return form, edge
}

// spacedEdge is the deck edge at equally spaced sections of a form that is the hull or a piece of it. A box and a Wigley
// hull have theirs by formula; of plates the sections have to be cut.
func (f *hullForm) spacedEdge(form *solid.Solid) []r3.Vec {
	lo, hi := form.Bounds()
	xs := equallySpaced(lo.X, hi.X)
	var half func(x float64) float64
	switch b, w := f.from.Box, f.from.Wigley; {
	case b != nil:
		half = func(float64) float64 { return b.Breadth / 2 }
	case w != nil:
		half = func(x float64) float64 { xi := 2*x/w.Length - 1; return max(0, w.Breadth/2*(1-xi*xi)) }
	default:
		return sectionEdges(form, xs)
	}
	edge := make([]r3.Vec, 0, 2*len(xs))
	for _, x := range xs {
		edge = append(edge, r3.Vec{X: x, Y: half(x), Z: hi.Z}, r3.Vec{X: x, Y: -half(x), Z: hi.Z})
	}
	return edge
}

func equallySpaced(from, to float64) []float64 {
	xs := make([]float64, sectionsAlong)
	for i := range xs {
		xs[i] = from + (to-from)*float64(i)/(sectionsAlong-1)
	}
	return xs
}

// sectionEdges are the highest points of the sections of a form at each x, port and starboard. A section at an end is taken
// a millionth of the length inside, where there is something to cut; where that is next to nothing, the hull comes to a
// point, and the form's own corners there take its place.
func sectionEdges(form *solid.Solid, xs []float64) []r3.Vec {
	lo, hi := form.Bounds()
	inset := 1e-6 * (hi.X - lo.X)
	edge := make([]r3.Vec, 0, 2*len(xs))
	for _, x := range xs {
		at := min(max(x, lo.X+inset), hi.X-inset)
		outline := form.Section(solid.Plane{N: r3.Vec{X: 1}, D: at})
		if len(outline) == 0 {
			outline = solid.Outline{cornersNear(form, x, inset)}
		}
		for _, side := range [2]float64{1, -1} {
			if p, ok := highest(outline, side); ok {
				p.X = x
				edge = append(edge, p)
			}
		}
	}
	return edge
}

// cornersNear are the corners of a form's plates at a place along it.
func cornersNear(form *solid.Solid, x, within float64) (corners []r3.Vec) {
	for t := range form.Triangles() {
		for _, v := range t {
			if math.Abs(v.X-x) <= within {
				corners = append(corners, v)
			}
		}
	}
	return corners
}

// highest is the highest point of a section on one side of the middle plane (side·y ≥ 0), the outermost of several.
func highest(outline solid.Outline, side float64) (best r3.Vec, found bool) {
	const level = 1e-9 // m: heights that near are one height, where two corners of a flat deck differ by rounding
	try := func(p r3.Vec) {
		higher := p.Z - best.Z
		if !found || higher > level || higher > -level && side*p.Y > side*best.Y {
			best, found = p, true
		}
	}
	for _, loop := range outline {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			if side*p.Y >= 0 {
				try(p)
			}
			if p.Y*q.Y < 0 { // the side's curve ends where it crosses the middle plane
				try(r3.Vec{X: p.X, Z: p.Z + (q.Z-p.Z)*p.Y/(p.Y-q.Y)})
			}
		}
	}
	return best, found
}

// pieceEdge is the deck edge of a piece of the whole between two planes: of a table the whole's points in it and the corners
// of its cut ends, else equally spaced sections of its own.
func (f *hullForm) pieceEdge(form *solid.Solid, from, to float64) []r3.Vec {
	if f.from.Offsets == nil {
		return f.spacedEdge(form)
	}
	var edge []r3.Vec
	for _, p := range f.edge {
		if p.X > from && p.X < to {
			edge = append(edge, p)
		}
	}
	for _, end := range [2]float64{from, to} {
		if !math.IsInf(end, 0) {
			edge = append(edge, sectionEdges(form, []float64{end})...)
		}
	}
	return edge
}
