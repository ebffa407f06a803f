package solid

import (
	"fmt"
	"iter"

	"gonum.org/v1/gonum/spatial/r3"
)

// Triangle is a plate by its three corners; by the right hand its normal points outward.
type Triangle [3]r3.Vec

// Plane divides space: below it is N·x < D. N is a unit vector.
type Plane struct {
	N r3.Vec
	D float64
}

// Solid is a closed, oriented set of triangles with a tree over it that answers queries by planes. It never changes.
type Solid struct {
	corners  []r3.Vec   // each once
	faces    [][3]int32 // by index into corners, in the order of the tree's leaves
	tree     tree
	lo, hi   r3.Vec
	centre   r3.Vec // of the bounds; the tree's coordinates are taken from it, so that bodies far out lose no digits
	half     r3.Vec // half the extent
	size     float64
	volume   float64
	moment   r3.Vec // about the origin, as all that follows
	second   Moments
	surface  float64
	skin     r3.Vec // ∫ x dA over the skin
	skinTwos Moments
}

// OpenError tells that a set of triangles does not close: some edge is not run through as often one way as the other.
type OpenError struct {
	From, To r3.Vec // the ends of the first such edge
	Edges    int    // how many there are
}

func (e *OpenError) Error() string {
	return fmt.Sprintf("the surface has a hole at the edge from (%.6g, %.6g, %.6g) to (%.6g, %.6g, %.6g), %d open edges in all",
		e.From.X, e.From.Y, e.From.Z, e.To.X, e.To.Y, e.To.Z, e.Edges)
}

// CornerError tells that a corner of a triangle is not a finite number.
type CornerError struct{ Triangle, Corner int }

func (e *CornerError) Error() string {
	return fmt.Sprintf("triangle %d, corner %d is not finite", e.Triangle, e.Corner)
}

// New makes a solid of triangles. Corners are one and the same only where their coordinates are equal. Triangles with two
// equal corners are left out. The error is a *CornerError or an *OpenError. A surface that is inside out has a negative
// volume and is taken as it is; no triangles at all make an empty solid.
func New(tris []Triangle) (*Solid, error) {
	corners, faces, err := weld(tris)
	if err != nil {
		return nil, err
	}
	if err := checkClosed(corners, faces); err != nil {
		return nil, err
	}
	return assemble(corners, faces), nil
}

// assemble builds the solid of a cycle that is known to be closed.
func assemble(corners []r3.Vec, faces [][3]int32) *Solid {
	s := &Solid{corners: corners, faces: faces}
	if len(faces) == 0 {
		s.corners, s.faces = nil, nil
		return s
	}
	s.measureBounds()
	s.tree = grow(s.corners, s.faces, s.centre, s.size)
	s.measureVolume()
	s.measureSkin()
	return s
}

func (s *Solid) measureBounds() {
	first := s.corners[s.faces[0][0]]
	s.lo, s.hi = first, first
	for _, f := range s.faces {
		for _, c := range f {
			s.lo, s.hi = least(s.lo, s.corners[c]), greatest(s.hi, s.corners[c])
		}
	}
	s.half = r3.Scale(0.5, r3.Sub(s.hi, s.lo))
	s.centre = r3.Add(s.lo, s.half)
	s.size = 2 * r3.Norm(s.half)
}

// measureVolume sums signed tetrahedra with their apex in the centre of the bounds. The second moment of a tetrahedron
// with one corner in the origin is V/20 (s sᵀ + Σ c cᵀ) with s the sum of its corners c (closed form).
func (s *Solid) measureVolume() {
	var vol float64
	var first r3.Vec
	var second Moments
	for _, f := range s.faces {
		a, b, c := s.about(f)
		v := r3.Dot(a, r3.Cross(b, c)) / 6
		sum := r3.Add(a, r3.Add(b, c))
		vol += v
		first = r3.Add(first, r3.Scale(v/4, sum))
		second = second.Add(outer(sum).Add(outer(a)).Add(outer(b)).Add(outer(c)).Scale(v / 20))
	}
	s.volume = vol
	s.moment = r3.Add(first, r3.Scale(vol, s.centre))
	s.second = second.moved(s.centre, vol, first)
}

// measureSkin sums over the plates as thin sheets: ∫ x xᵀ dA of a triangle is A/12 (s sᵀ + Σ c cᵀ) (closed form).
func (s *Solid) measureSkin() {
	var area float64
	var first r3.Vec
	var second Moments
	for _, f := range s.faces {
		a, b, c := s.about(f)
		w := r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
		sum := r3.Add(a, r3.Add(b, c))
		area += w
		first = r3.Add(first, r3.Scale(w/3, sum))
		second = second.Add(outer(sum).Add(outer(a)).Add(outer(b)).Add(outer(c)).Scale(w / 12))
	}
	s.surface = area
	s.skin = r3.Add(first, r3.Scale(area, s.centre))
	s.skinTwos = second.moved(s.centre, area, first)
}

// about gives the corners of a face as seen from the centre.
func (s *Solid) about(f [3]int32) (a, b, c r3.Vec) {
	return r3.Sub(s.corners[f[0]], s.centre), r3.Sub(s.corners[f[1]], s.centre), r3.Sub(s.corners[f[2]], s.centre)
}

// triangle gives a face by its corners.
func (s *Solid) triangle(f [3]int32) Triangle {
	return Triangle{s.corners[f[0]], s.corners[f[1]], s.corners[f[2]]}
}

// Volume of the whole; negative for a solid that is inside out.
func (s *Solid) Volume() float64 { return s.volume }

// Centroid of the volume; the centre of the bounds where the volume is 0.
func (s *Solid) Centroid() r3.Vec {
	if s.volume == 0 {
		return s.centre
	}
	return r3.Scale(1/s.volume, s.moment)
}

// Second is ∫ x xᵀ dV over the whole, about the origin.
func (s *Solid) Second() Moments { return s.second }

// Surface is the area of the skin, caps included.
func (s *Solid) Surface() float64 { return s.surface }

// SurfaceCentroid is the centroid of the skin as a uniform sheet.
func (s *Solid) SurfaceCentroid() r3.Vec {
	if s.surface == 0 {
		return s.centre
	}
	return r3.Scale(1/s.surface, s.skin)
}

// SurfaceSecond is ∫ x xᵀ dA over the skin, about the origin.
func (s *Solid) SurfaceSecond() Moments { return s.skinTwos }

// Bounds are the least and greatest coordinates; both 0 for an empty solid.
func (s *Solid) Bounds() (lo, hi r3.Vec) { return s.lo, s.hi }

// Len is the number of triangles.
func (s *Solid) Len() int { return len(s.faces) }

// Triangles gives every triangle once, in an order of the tree's own.
func (s *Solid) Triangles() iter.Seq[Triangle] {
	return func(yield func(Triangle) bool) {
		for _, f := range s.faces {
			if !yield(s.triangle(f)) {
				return
			}
		}
	}
}

func least(a, b r3.Vec) r3.Vec {
	return r3.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)}
}

func greatest(a, b r3.Vec) r3.Vec {
	return r3.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)}
}

func finite(v r3.Vec) bool {
	// x − x is 0 for every number but NaN and ±Inf.
	return v.X-v.X == 0 && v.Y-v.Y == 0 && v.Z-v.Z == 0
}
