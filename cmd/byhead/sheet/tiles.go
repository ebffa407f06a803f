package sheet

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// overlap is how much of a drawing two neighbouring tiles both show, mm.
const overlap = 10.0

// clearOfEdge is how far a drawing keeps from the edge of its tiles, so that no line at it is cut in half, mm.
const clearOfEdge = 1.0

// tiling lays a drawing on rows and columns of tiles. What takes one is in its middle; what takes more begins at the left, or
// above, so that no seam goes through the middle, where the name stands, if it can be helped.
type tiling struct {
	size       r2.Vec // of a tile
	cols, rows int
	from       r2.Vec // lower left corner of the tile in the first column and the last row
}

func tile(box r2.Box, size r2.Vec) tiling {
	lo, hi := r2.Sub(box.Min, r2.Vec{X: clearOfEdge, Y: clearOfEdge}), r2.Add(box.Max, r2.Vec{X: clearOfEdge, Y: clearOfEdge})
	count := func(length, tile float64) int {
		return max(1, int(math.Ceil((length-overlap)/(tile-overlap)-1e-9)))
	}
	t := tiling{size: size, cols: count(hi.X-lo.X, size.X), rows: count(hi.Y-lo.Y, size.Y)}
	t.from.X, t.from.Y = lo.X, hi.Y-size.Y-float64(t.rows-1)*(size.Y-overlap)
	if t.cols == 1 {
		t.from.X = (lo.X + hi.X - size.X) / 2
	}
	if t.rows == 1 {
		t.from.Y = (lo.Y + hi.Y - size.Y) / 2
	}
	return t
}

// name is a tile's: rows are letters from above, columns numbers from the left.
func (t *tiling) name(col, row int) string { return fmt.Sprintf("%s%d", rowName(row), col+1) }

func rowName(row int) string {
	name := string(rune('A' + row%26))
	if row >= 26 {
		return rowName(row/26-1) + name
	}
	return name
}

// corner is the lower left corner of a tile in the drawing.
func (t *tiling) corner(col, row int) r2.Vec {
	return r2.Add(t.from, r2.Vec{X: float64(col) * (t.size.X - overlap), Y: float64(t.rows-1-row) * (t.size.Y - overlap)})
}

// shows tells whether anything of a drawing lies on a tile.
func (t *tiling) shows(d *Drawing, col, row int) bool {
	lo := t.corner(col, row)
	hi := r2.Add(lo, t.size)
	for i := range d.Paths {
		p := &d.Paths[i]
		for k, a := range p.Points {
			if k+1 == len(p.Points) && !p.Closed {
				break
			}
			if CrossesBox(a, p.Points[(k+1)%len(p.Points)], lo, hi) {
				return true
			}
		}
	}
	for i := range d.Texts {
		if m := d.Texts[i].Middle; m.X > lo.X && m.X < hi.X && m.Y > lo.Y && m.Y < hi.Y {
			return true
		}
	}
	return false
}

// CrossesBox tells whether a straight line has a point in a box (Liang and Barsky's way of clipping).
func CrossesBox(a, b, lo, hi r2.Vec) bool {
	from, to := 0.0, 1.0
	for _, c := range [4][2]float64{{a.X - b.X, a.X - lo.X}, {b.X - a.X, hi.X - a.X}, {a.Y - b.Y, a.Y - lo.Y}, {b.Y - a.Y, hi.Y - a.Y}} {
		switch p, q := c[0], c[1]; {
		case p == 0 && q < 0:
			return false
		case p < 0:
			from = max(from, q/p)
		case p > 0:
			to = min(to, q/p)
		}
	}
	return from <= to
}

// seams are the lines in the middle of the overlaps, along which tiles are glued, and the crosses on them: each lies on all
// tiles that meet there, so that cross comes on cross.
func (t *tiling) seams() (lines, crosses []Path) {
	whole := r2.Add(t.corner(t.cols-1, 0), t.size)
	line := func(out *[]Path, a, b r2.Vec) { *out = append(*out, Path{Pen: Mark, Points: []r2.Vec{a, b}}) }
	cross := func(m r2.Vec) {
		line(&crosses, r2.Sub(m, r2.Vec{X: 4}), r2.Add(m, r2.Vec{X: 4}))
		line(&crosses, r2.Sub(m, r2.Vec{Y: 4}), r2.Add(m, r2.Vec{Y: 4}))
	}
	for c := 1; c < t.cols; c++ {
		x := t.corner(c, 0).X + overlap/2
		line(&lines, r2.Vec{X: x, Y: t.from.Y}, r2.Vec{X: x, Y: whole.Y})
		for r := range t.rows {
			for _, share := range [3]float64{0.1, 0.5, 0.9} {
				cross(r2.Vec{X: x, Y: t.corner(c, r).Y + share*t.size.Y})
			}
		}
	}
	for r := 1; r < t.rows; r++ {
		y := t.corner(0, r).Y + t.size.Y - overlap/2
		line(&lines, r2.Vec{X: t.from.X, Y: y}, r2.Vec{X: whole.X, Y: y})
		for c := range t.cols {
			for _, share := range [3]float64{0.1, 0.5, 0.9} {
				cross(r2.Vec{X: t.corner(c, r).X + share*t.size.X, Y: y})
			}
		}
	}
	return lines, crosses
}
