package scenarios

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// Trace writes samples as CSV: one header line, then a row a sample, SI units and degrees, every number in the fewest digits
// that read back to the same bits. What does not exist at a time is an empty cell. Give Row to the run as
// flood.Settings.Samples, and call Finish at its end.
type Trace struct {
	out                              *bufio.Writer
	bodies, spaces, joints, passages map[string]int // first column of each
	cells                            []float64      // of the present row; NaN is empty
	line                             []byte
	rows                             int
	err                              error
}

// The columns of each thing, after its name.
func bodyColumns() []string {
	return []string{"sinkage_m", "trim_deg", "heel_deg", "draft_fore_m", "draft_aft_m", "displaced_m3"}
}
func spaceColumns() []string { return []string{"water_m3", "depth_m", "air_pa"} }
func jointColumns() []string {
	return []string{"bending_nm", "shear_n", "torsion_nm", "axial_n", "end_moment_nm"}
}
func passageColumns() []string { return []string{"water_m3_per_s", "air_m3_per_s"} }

// NewTrace lays out the columns of a vessel and writes the header: the time; every body that could occur; every compartment,
// and after one that a joint's plane divides its parts; the joints; the listed openings,
// and after one that a parting makes two these.
func NewTrace(w io.Writer, v *compartment.Vessel) *Trace {
	t := &Trace{out: bufio.NewWriter(w)}
	header := []string{"time_s"}
	add := func(names, columns []string) map[string]int {
		at := map[string]int{}
		for _, name := range names {
			if _, twice := at[name]; twice {
				continue
			}
			at[name] = len(header)
			for _, c := range columns {
				header = append(header, name+"."+c)
			}
		}
		return at
	}
	t.bodies = add(bodyNames(v), bodyColumns())
	t.spaces = add(spacesAndParts(v), spaceColumns())
	t.joints = add(jointNames(v), jointColumns())
	t.passages = add(openingNames(v), passageColumns())
	t.cells = make([]float64, len(header))
	for i, h := range header {
		if i > 0 {
			t.line = append(t.line, ',')
		}
		t.line = append(t.line, h...)
	}
	t.writeLine()
	return t
}

// bodyNames are those of all bodies that could occur: the hull, then every run of neighbouring pieces, by its first piece,
// then by its last.
func bodyNames(v *compartment.Vessel) []string {
	names := []string{"hull"}
	n := len(v.Pieces)
	for first := range n {
		name := ""
		for last := first; last < n; last++ {
			if last > first {
				name += "+"
			}
			name += v.Pieces[last].Name
			if first > 0 || last < n-1 {
				names = append(names, name)
			}
		}
	}
	return names
}

func spacesAndParts(v *compartment.Vessel) (names []string) {
	for i, s := range v.Spaces {
		names = append(names, s.Name)
		if s.Piece >= 0 {
			continue
		}
		for _, p := range v.Pieces {
			for _, part := range p.Spaces {
				if part.Index == i {
					names = append(names, s.Name+"."+p.Name)
				}
			}
		}
	}
	return names
}

func jointNames(v *compartment.Vessel) (names []string) {
	for _, j := range v.Spec.Joints {
		names = append(names, j.Name)
	}
	return names
}

func openingNames(v *compartment.Vessel) (names []string) {
	for i, p := range v.Passages {
		if p.Listed != nil {
			names = append(append(names, p.Name), v.DoubledNames(i)...)
		}
	}
	return names
}

// Row writes a sample. The first error stays, and nothing is written after it.
func (t *Trace) Row(s *flood.Sample) {
	if t.err != nil {
		return
	}
	if t.rows++; t.rows > mostRows {
		t.err = fmt.Errorf("the trace has more than %d rows; a longer `every` or a shorter `until`", mostRows)
		return
	}
	for i := range t.cells {
		t.cells[i] = math.NaN()
	}
	t.cells[0] = s.Time
	for i := range s.Bodies {
		if b := &s.Bodies[i]; b.Present {
			put(t, t.bodies, b.Name, b.Sinkage, inDegrees(b.Trim), inDegrees(b.Heel), b.DraftFore, b.DraftAft, b.Displaced)
		}
	}
	for i := range s.Spaces {
		c := &s.Spaces[i]
		put(t, t.spaces, c.Name, c.Water, c.Depth, c.Air)
	}
	for i := range s.Joints {
		if j := &s.Joints[i]; j.Present {
			put(t, t.joints, j.Name, j.Bending, j.Shear, j.Torsion, j.Axial, j.EndMoment)
		}
	}
	for i := range s.Passages {
		p := &s.Passages[i]
		put(t, t.passages, p.Name, p.Water, p.Air)
	}
	t.writeCells()
}

func inDegrees(rad float64) float64 { return rad * (180 / math.Pi) }

// put sets the columns of a named thing. What has no columns, such as the flow over a bulkhead, is left out.
func put(t *Trace, columns map[string]int, name string, values ...float64) {
	if at, ok := columns[name]; ok {
		copy(t.cells[at:], values)
	}
}

func (t *Trace) writeCells() {
	t.line = t.line[:0]
	for i, x := range t.cells {
		if i > 0 {
			t.line = append(t.line, ',')
		}
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			t.line = strconv.AppendFloat(t.line, x+0, 'g', -1, 64) // −0 + 0 is 0
		}
	}
	t.writeLine()
}

func (t *Trace) writeLine() {
	t.line = append(t.line, '\n')
	_, t.err = t.out.Write(t.line)
	t.line = t.line[:0]
}

// Finish writes what is still held back, and gives the first error of all.
func (t *Trace) Finish() error {
	if t.err != nil {
		return t.err
	}
	return t.out.Flush()
}
