package solid

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

func asciiSTL(tris []Triangle) string {
	var b strings.Builder
	b.WriteString("solid made here\n")
	for _, t := range tris {
		b.WriteString("facet normal 0 0 nan\n outer loop\n")
		for _, c := range t {
			fmt.Fprintf(&b, "  vertex %.9g %.9g %.9g\n", c.X, c.Y, c.Z)
		}
		b.WriteString(" endloop\nendfacet\n")
	}
	return b.String() + "endsolid made here\n"
}

func binarySTL(tris []Triangle) []byte {
	b := make([]byte, 80, 84+50*len(tris))
	copy(b, "solid as some binary files begin")
	b = binary.LittleEndian.AppendUint32(b, uint32(len(tris)))
	for _, t := range tris {
		b = append(b, make([]byte, 12)...)
		for _, c := range t {
			for _, x := range [3]float64{c.X, c.Y, c.Z} {
				b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
			}
		}
		b = append(b, 0, 0)
	}
	return b
}

func readBoth(t *testing.T, tris []Triangle) (ascii, bin *Mesh) {
	t.Helper()
	a, err := ReadSTL(strings.NewReader(asciiSTL(tris)), -1, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	data := binarySTL(tris)
	b, err := ReadSTL(bytes.NewReader(data), int64(len(data)), 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	return a, b
}

// TestSTLBothWays: a hull in mm, written and read in both forms, keeps its form to single precision.
func TestSTLBothWays(t *testing.T) {
	hull := Wigley(1200, 180, 75, 110, 24, 12)
	a, b := readBoth(t, slices.Collect(hull.Triangles()))
	for _, m := range []*Mesh{a, b} {
		s, err := New(m.Triangles)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "volume", s.Volume(), hull.Volume()*1e-9, 1e-6, s.Volume())
		if m.Bodies != 1 || m.Turned != 0 || m.Voids != 0 || len(m.Caps) != 0 {
			t.Errorf("a sound hull: %d bodies, %d turned, %d voids, %d caps", m.Bodies, m.Turned, m.Voids, len(m.Caps))
		}
	}
}

// TestSTLBodies: several bodies, inside out or void.
func TestSTLBodies(t *testing.T) {
	outer := Box(r3.Vec{}, r3.Vec{X: 400, Y: 300, Z: 200})
	inner := Box(r3.Vec{X: 100, Y: 100, Z: 100}, r3.Vec{X: 200, Y: 200, Z: 150})
	apart := Box(r3.Vec{X: 500}, r3.Vec{X: 600, Y: 100, Z: 100})
	for _, c := range []struct {
		s                     *Solid
		bodies, turned, voids int
		litres                float64
		reason                string
	}{
		{outer, 1, 0, 0, 24, "one"},
		{outer.Reversed(), 1, 1, 0, 24, "inside out"},
		{Sum(outer, apart), 2, 0, 0, 25, "two"},
		{Sum(outer, apart.Reversed()), 2, 1, 0, 25, "one of two inside out"},
		{Sum(outer, inner.Reversed()), 2, 0, 1, 23.5, "a void"},
		{Sum(outer.Reversed(), inner), 2, 2, 1, 23.5, "all inside out, with a void"},
	} {
		a, b := readBoth(t, slices.Collect(c.s.Triangles()))
		for _, m := range []*Mesh{a, b} {
			s, err := New(m.Triangles)
			if err != nil {
				t.Fatal(err)
			}
			near(t, c.reason, s.Volume()*1e3, c.litres, 1e-6, 24)
			if m.Bodies != c.bodies || m.Turned != c.turned || m.Voids != c.voids {
				t.Errorf("%s: %d bodies, %d turned, %d voids", c.reason, m.Bodies, m.Turned, m.Voids)
			}
		}
	}
}

// TestSTLCaps: a hull without its deck is closed by a plane and told; corners off it by half the tolerance still are.
func TestSTLCaps(t *testing.T) {
	var open []Triangle
	for tri := range Wigley(1200, 180, 75, 110, 24, 12).Triangles() {
		if tri[0].Z < 110 || tri[1].Z < 110 || tri[2].Z < 110 {
			for i := range tri {
				if tri[i].Z == 110 && tri[i].X == 600 {
					tri[i].Z += 0.05
				}
			}
			open = append(open, tri)
		}
	}
	a, b := readBoth(t, open)
	for _, m := range []*Mesh{a, b} {
		if len(m.Caps) != 1 {
			t.Fatalf("%d caps", len(m.Caps))
		}
		c := m.Caps[0]
		if c.Corners != 48 || (c.Line > 0) != (m == a) {
			t.Errorf("cap of %d corners, line %d", c.Corners, c.Line)
		}
		near(t, "area", c.Area, 2./3*1.2*0.18, 3e-3, 0.144)
		nearVec(t, "normal", c.Normal, r3.Vec{Z: 1}, 1e-3, 1)
		near(t, "height", c.Centre.Z, 0.11, 1e-4, 1)
		if _, err := New(m.Triangles); err != nil {
			t.Error(err)
		}
	}
}

// TestSTLHoles: one that is not flat is told, at the line of its first corner or by coordinates.
func TestSTLHoles(t *testing.T) {
	tris := slices.Collect(Box(r3.Vec{}, r3.Vec{X: 400, Y: 300, Z: 200}).Triangles())
	// Two plates that share an edge but lie in different faces leave a hole around the corner.
	i := slices.IndexFunc(tris, func(t Triangle) bool { return t[0].Z+t[1].Z+t[2].Z == 600 })
	j := slices.IndexFunc(tris, func(u Triangle) bool {
		shared := 0
		for _, c := range u {
			if slices.Contains(tris[i][:], c) {
				shared++
			}
		}
		return shared == 2 && u[0].Z+u[1].Z+u[2].Z < 600
	})
	tris = slices.Delete(tris, max(i, j), max(i, j)+1)
	tris = slices.Delete(tris, min(i, j), min(i, j)+1)
	_, err := ReadSTL(strings.NewReader(asciiSTL(tris)), -1, 1e-3)
	faults, ok := err.(Faults)
	if !ok || len(faults) != 1 || faults[0].Line < 4 || faults[0].Column != 1 {
		t.Errorf("ASCII: %v", err)
	}
	_, err = ReadSTL(bytes.NewReader(binarySTL(tris)), -1, 1e-3)
	if err == nil || !strings.Contains(err.Error(), "a hole of 4 edges in the surface at (") {
		t.Errorf("binary: %v", err)
	}
}

// TestSTLWelds corners that differ in the last digits of single precision.
func TestSTLWelds(t *testing.T) {
	tris := slices.Collect(Box(r3.Vec{X: 1}, r3.Vec{X: 2, Y: 1, Z: 1}).Triangles())
	for i := range tris {
		for j := range tris[i] {
			tris[i][j].X *= 1 + 1e-7*float64(i%3-1)
		}
	}
	m, err := ReadSTL(strings.NewReader(asciiSTL(tris)), -1, 1)
	if err != nil {
		t.Fatal(err)
	}
	if s, err := New(m.Triangles); err != nil || len(m.Caps) > 0 || len(s.corners) != 8 {
		t.Errorf("%d caps, error %v", len(m.Caps), err)
	}
}

// TestSTLFaults: every fault of a text at its place; binary ones without.
func TestSTLFaults(t *testing.T) {
	bad := "solid\nfacet normal 0 0 1\n outer loop\n  vertex 0 x 0\n  vertex 1 0\n  vertex 0 1 0\n endloop\nendfacet\n" +
		"facet normal 0 0 1\n outer lop\nfacet normal 0 0 1\n outer loop\n vertex 0 0 30\n vertex 0 0 nan\n vertex 0 0 0\n endloop\nendfacet\n"
	for _, c := range []struct{ in, want, reason string }{
		{"", "1:1: not an STL file; give STL, ASCII (it begins with solid) or binary", "empty"},
		{"solid x\nendsolid x\n", "1:1: no triangles; give a closed surface", "nothing in it"},
		{"PK" + strings.Repeat("\x00", 90), "1:1: binary STL of 92 bytes that counts 0 triangles; that many take 84 bytes; the file is cut short or damaged", "another file"},
		{bad, `4:12: y is "x", not a finite number; give a plain number such as 12.5
6:3: z is "vertex", not a finite number; give a plain number such as 12.5
10:8: "lop"; loop comes here
13:13: z is "30", more than 20 m; coordinates go to 20 m; is the unit right?
14:13: z is "nan", not a finite number; give a plain number such as 12.5
18:1: the file ends here; endsolid comes here`, "a text with faults"},
	} {
		_, err := ReadSTL(strings.NewReader(c.in), -1, 1)
		if err == nil {
			t.Errorf("%s passes", c.reason)
		} else if d := cmp.Diff(c.want, err.Error()); d != "" {
			t.Errorf("%s: %s", c.reason, d)
		}
	}
	tris := slices.Collect(Box(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1}).Triangles())
	tris[4][1].Y = math.NaN()
	if _, err := ReadSTL(bytes.NewReader(binarySTL(tris)), -1, 1); err == nil || !strings.HasPrefix(err.Error(), "triangle 5, corner 2: y is NaN m") {
		t.Errorf("NaN in a binary file: %v", err)
	}
	if _, err := ReadSTL(strings.NewReader(""), fileMax+1, 1); err == nil {
		t.Error("a file past the limit passes")
	}
}
