package solid

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Station is one transverse section of a hull at X.
//
// With mirror, Points are one side's curve from the keel up to the deck edge, Y ≥ 0 the half-breadth; the deck is flat
// across from edge to edge, a first point with Y > 0 is a flat bottom, and a single point is where the hull comes to a
// point or an edge. Without mirror, Points are the whole section as a closed curve with signed Y (port positive), from the
// keel up one side, over the deck and down the other; the last point joins the first.
type Station struct {
	X      float64
	Points []StationPoint
}

// StationPoint is a height and the half-breadth there.
type StationPoint struct{ Z, Y float64 }

// Table is what a hull of stations knows beside its solid: the deck edges.
type Table struct {
	X               []float64 // of each station
	Port, Starboard []r3.Vec  // highest point of each station's curve on each side
}

// StationFault is one thing wrong with a station (counted from 0), and with its point Point, or −1 for all of it.
type StationFault struct {
	Station, Point int
	What, Want     string
}

// StationFaults are all faults of a list of stations, in its order. It is the error of Stations.
type StationFaults []StationFault

func (f StationFaults) Error() string {
	lines := make([]string, len(f))
	for i, x := range f {
		at := fmt.Sprintf("station %d", x.Station+1)
		if x.Point >= 0 {
			at += fmt.Sprintf(", point %d", x.Point+1)
		}
		lines[i] = at + ": " + x.What + "; " + x.Want
	}
	return strings.Join(lines, "\n")
}

// Stations builds the hull of a table of offsets: stations by ascending X, joined by four-cornered bilinear patches and
// closed at both ends by planes. Stations with equal numbers of points are matched point by point, others by the fraction
// of girth. The error is of type StationFaults.
//
// Each patch is laid as four triangles that meet in its middle, which has exactly the bilinear patch's volume: on the patch
// z = uv the four mean heights are 1/12, 1/12, 5/12, 5/12, together 1/4 = ∫∫uv, and every twisted patch is that one after an
// affine change. Twisted patches are divided along x besides, until the room between them and their triangles, without
// regard to sign, is under 1e-4 of the hull.
func Stations(st []Station, mirror bool) (*Solid, *Table, error) {
	if faults := checkStations(st, mirror); len(faults) > 0 {
		return nil, nil, faults
	}
	l := newLoft(st, mirror)
	if l.plates() > triangleMax {
		return nil, nil, StationFaults{{0, -1, fmt.Sprintf("%d patches between the stations", l.patches), "give fewer points; up to 2 million triangles are laid"}}
	}
	var tris []Triangle
	for i := 0; i+1 < len(l.curves); i++ {
		tris = l.strip(tris, i)
	}
	if mirror {
		tris = append(tris, mirrored(tris)...)
		tris = l.decks(tris)
	}
	tris = l.ends(tris)
	s := closed(tris)
	if s.volume < 0 && !mirror { // the curves ran the other way round
		s = s.Reversed()
	}
	if !(s.volume > 1e-12*s.size*s.size*s.size) {
		return nil, nil, StationFaults{{0, -1, "the stations enclose no room", "give sections that have an area"}}
	}
	return s, newTable(st, mirror), nil
}

func checkStations(st []Station, mirror bool) (faults StationFaults) {
	fault := func(i, j int, what, want string) {
		faults = append(faults, StationFault{i, j, what, want})
	}
	if len(st) < 2 {
		fault(0, -1, fmt.Sprintf("%d stations", len(st)), "a hull needs two or more")
	}
	for i, s := range st {
		if !(math.Abs(s.X) <= coordinateMax) {
			fault(i, -1, fmt.Sprintf("x is %g m", s.X), "coordinates go to 20 m")
		}
		if i > 0 && !(s.X > st[i-1].X) {
			fault(i, -1, fmt.Sprintf("x %g m is not forward of the station before", s.X), "give stations from aft forward, each x once")
		}
		if len(s.Points) == 0 {
			fault(i, -1, "no points", "give one or more")
		}
		if !mirror && len(s.Points) == 2 {
			fault(i, -1, "two points", "a closed curve has three or more, or one where it comes to a point")
		}
		for j, p := range s.Points {
			if !(math.Abs(p.Z) <= coordinateMax) || !(math.Abs(p.Y) <= coordinateMax) {
				fault(i, j, fmt.Sprintf("(z, y) is (%g, %g) m", p.Z, p.Y), "coordinates go to 20 m")
			}
			if mirror && p.Y < 0 {
				fault(i, j, fmt.Sprintf("y %g m is negative", p.Y), "one side is given as half-breadths, 0 or more")
			}
			if mirror && j > 0 && p.Z < s.Points[j-1].Z {
				fault(i, j, fmt.Sprintf("z %g m is below the point before", p.Z), "give points from the keel up to the deck edge")
			}
			if j > 0 && p == s.Points[j-1] {
				fault(i, j, "the same point twice", "leave one out")
			}
		}
	}
	return faults
}

// coordinateMax is the contract's limit for any coordinate, in m.
const coordinateMax = 20

func newTable(st []Station, mirror bool) *Table {
	t := &Table{}
	for _, s := range st {
		t.X = append(t.X, s.X)
		port, starboard := s.highest(1), s.highest(-1)
		if mirror {
			starboard = r3.Vec{X: s.X, Y: 0 - port.Y, Z: port.Z}
		}
		t.Port, t.Starboard = append(t.Port, port), append(t.Starboard, starboard)
	}
	return t
}

// highest is the highest point on one side, of equal ones the outermost; the highest of all where that side has none.
func (s Station) highest(side float64) r3.Vec {
	better := func(a, b StationPoint) int {
		return cmp.Or(cmp.Compare(a.Z, b.Z), cmp.Compare(side*a.Y, side*b.Y))
	}
	var own []StationPoint
	for _, p := range s.Points {
		if side*p.Y >= 0 {
			own = append(own, p)
		}
	}
	if len(own) == 0 {
		own = s.Points
	}
	p := slices.MaxFunc(own, better)
	return r3.Vec{X: s.X, Y: p.Y, Z: p.Z}
}
