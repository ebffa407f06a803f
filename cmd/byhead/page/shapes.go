package page

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// How fine the pictures are: 1/2000 of the hull is half a pixel on a wide screen.
const (
	pictureShare  = 1.0 / 2000 // of the hull's length, that a drawn plate may be off
	hullPlates    = 1400       // of all pieces together at most, where that is coarser
	roomPlates    = 5000       // of all spaces together
	placesPerSize = 8000       // whole steps of coordinates along the hull
)

// shapes are the pictures' geometry in whole steps.
type shapes struct {
	Step     float64      `json:"k"` // m, of all coordinates here
	Meshes   []mesh       `json:"meshes"`
	Pieces   []pieceOut   `json:"pieces"`
	Spaces   []spaceOut   `json:"spaces"`
	Bodies   []bodyOut    `json:"bodies"`
	Walls    []wallOut    `json:"walls"`
	Openings []openingOut `json:"openings"`
	Joints   []jointOut   `json:"joints"`
	Stations []stationOut `json:"stations"`
	Station  int          `json:"station"` // the one to show first
	known    map[*solid.Solid]int
	form     *solid.Solid
	bare     []*solid.Solid // of each space, with the room that solids take in it
	size     float64
}

type (
	loop []int32 // coordinates of corners one after the other: x, y, z of a figure in space, y, z of one in a section

	mesh struct {
		Corners loop    `json:"c"`
		Faces   []int32 `json:"f"`
	}
	pieceOut struct {
		Name string `json:"name"`
		Mesh int    `json:"mesh"`
	}
	bodyOut struct {
		Name  string `json:"name"`
		First int    `json:"first"`
		Last  int    `json:"last"`
	}
	spaceOut struct {
		Name     string  `json:"name"`
		Mesh     int     `json:"mesh"`
		Piece    int     `json:"piece"`
		Capacity float64 `json:"holds"` // m³ of water
		Airtight bool    `json:"airtight,omitempty"`
		Boxed    bool    `json:"boxed,omitempty"` // its walls are drawn: no bulkhead's picture shows them
	}
	wallOut struct {
		Name  string `json:"name"`
		Piece int    `json:"piece"`
		Loops []loop `json:"loops"`
	}
	openingOut struct {
		Name  string       `json:"name"`
		Piece int          `json:"piece"`
		At    loop         `json:"at"`
		Shut  bool         `json:"shut,omitempty"`  // at the start
		Turns [][2]float64 `json:"turns,omitempty"` // time, 1 open or 0 shut
		Pump  bool         `json:"pump,omitempty"`
		Sea   bool         `json:"sea,omitempty"`
	}
	jointOut struct {
		Name  string `json:"name"`
		Piece int    `json:"piece"` // abaft it
		Loops []loop `json:"loops"`
	}
	stationOut struct {
		X      int32        `json:"x"`
		Piece  int          `json:"piece"`
		Label  string       `json:"label"`
		Hull   []loop       `json:"hull"`
		Spaces []sectionOut `json:"spaces"`
	}
	sectionOut struct {
		Space int    `json:"space"`
		Loops []loop `json:"loops"`
		Bare  []loop `json:"bare"` // with the room that solids take
	}
)

// newShapes takes the geometry of all that occurred in a run.
func newShapes(r *Recorder) *shapes {
	form := r.vessel.Whole.Form
	lo, hi := form.Bounds()
	s := &shapes{
		form: form, known: map[*solid.Solid]int{},
		Spaces: []spaceOut{}, Walls: []wallOut{}, Openings: []openingOut{}, Joints: []jointOut{}, // empty lists, not null
	}
	s.size = max(hi.X-lo.X, hi.Y-lo.Y, hi.Z-lo.Z)
	s.Step = math.Pow(10, math.Ceil(math.Log10(s.size/placesPerSize))) / 2
	for _, p := range r.vessel.Pieces {
		s.Pieces = append(s.Pieces, pieceOut{p.Name, s.mesh(p.Form, hullPlates/len(r.vessel.Pieces))})
	}
	for _, b := range r.bodies {
		s.Bodies = append(s.Bodies, bodyOut{b.Name, b.First, b.Last})
	}
	for i := range r.spaces {
		x := &r.spaces[i]
		bare := r.vessel.Bare(x.Space)
		s.bare = append(s.bare, bare)
		m := s.mesh(bare, max(160, roomPlates/len(r.spaces)))
		s.Spaces = append(s.Spaces, spaceOut{x.Name, m, x.first, x.Capacity(), x.Airtight, boxed(r.vessel, x.Index)})
	}
	s.takeWalls(r.vessel)
	s.takeJoints(r.vessel)
	for i := range r.openings {
		s.Openings = append(s.Openings, s.opening(&r.openings[i]))
	}
	return s
}

// place is a point in whole steps.
func (s *shapes) place(p r3.Vec) [3]int32 {
	in := func(x float64) int32 { return int32(math.Round(x / s.Step)) }
	return [3]int32{in(p.X), in(p.Y), in(p.Z)}
}

// mesh is the number of a solid's mesh in the list. Plates that rounding has made nothing are left out.
func (s *shapes) mesh(x *solid.Solid, most int) int {
	if k, ok := s.known[x]; ok {
		return k
	}
	var m mesh
	number := map[[3]int32]int32{}
	for f := range x.Coarse(pictureShare*s.size, most).Triangles() {
		var face [3]int32
		for i, p := range f {
			at := s.place(p)
			n, ok := number[at]
			if !ok {
				n = int32(len(number))
				number[at] = n
				m.Corners = append(m.Corners, at[:]...)
			}
			face[i] = n
		}
		if face[0] != face[1] && face[1] != face[2] && face[2] != face[0] {
			m.Faces = append(m.Faces, face[:]...)
		}
	}
	s.known[x] = len(s.Meshes)
	s.Meshes = append(s.Meshes, m)
	return len(s.Meshes) - 1
}

// figure is an outline without the corners that lie on the line between their neighbours, or within the pictures' fineness of it.
func (s *shapes) figure(o solid.Outline) []loop {
	loops := []loop{}
	for _, l := range o {
		var out loop
		for _, p := range thinnedLoop(l, pictureShare*s.size/2) {
			at := s.place(p)
			out = append(out, at[:]...)
		}
		if len(out) >= 9 {
			loops = append(loops, out)
		}
	}
	return loops
}

func (s *shapes) takeWalls(v *compartment.Vessel) {
	for _, b := range v.Bulkheads {
		loops := s.figure(b.Plate)
		first, last := piecesAt(v, b.Spec.At)
		for k := range v.Spec.Joints {
			if j := &v.Spec.Joints[k]; first == k && last == k+1 {
				switch j.Keeps {
				case compartment.KeepAfter:
					last = k
				case compartment.KeepForward:
					first = k + 1
				}
				break
			}
		}
		for k := first; k <= last; k++ {
			s.Walls = append(s.Walls, wallOut{b.Spec.Name, k, loops})
		}
	}
}

// piecesAt are the pieces at a station: two where it lies in a joint's plane.
func piecesAt(v *compartment.Vessel, x float64) (first, last int) {
	const near = 0.5e-3 // m: how near a bulkhead has to stand to be in the plane, as the format has it
	for k := range v.Spec.Joints {
		switch at := v.Spec.Joints[k].At; {
		case math.Abs(at-x) <= near:
			return k, k + 1
		case x > at:
			first = k + 1
		}
	}
	return first, first
}

func (s *shapes) takeJoints(v *compartment.Vessel) {
	for k := range v.Spec.Joints {
		j := &v.Spec.Joints[k]
		s.Joints = append(s.Joints, jointOut{j.Name, k, s.figure(s.form.Section(solid.Plane{N: r3.Vec{X: 1}, D: j.At}))})
	}
}

func (s *shapes) opening(x *openingShape) openingOut {
	at := s.place(x.At)
	out := openingOut{Name: x.name, Piece: x.piece, At: at[:], Pump: x.Flow != nil}
	out.Sea = x.Between[0] == outside || x.Between[1] == outside
	out.Shut = x.shut
	return out
}

func boxed(v *compartment.Vessel, index int) bool {
	return index < len(v.Spec.Compartments) && v.Spec.Compartments[index].X != nil
}

// outside is how the format calls what is not a space.
const outside = "outside"
