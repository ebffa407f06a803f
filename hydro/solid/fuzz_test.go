package solid

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// FuzzReadSTL: whatever the bytes, no panic, and either faults with places or a surface that New takes and that has a finite
// volume.
func FuzzReadSTL(f *testing.F) {
	box := slices.Collect(Box(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1}).Triangles())
	f.Add(binarySTL(box))
	f.Add(binarySTL(box[:11]))
	f.Add([]byte(asciiSTL(box)))
	f.Add([]byte(asciiSTL(box[:10])))
	f.Add([]byte("\ufeffsolid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid"))
	f.Add([]byte("solid\nfacet\nendsolid\nsolid x\nendsolid"))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ReadSTL(bytes.NewReader(data), int64(len(data)), 1e-3)
		if err != nil {
			checkFaults(t, err)
			return
		}
		s, err := New(m.Triangles)
		if err != nil {
			t.Fatalf("the reader passed what does not close: %v", err)
		}
		if v := s.Below(Plane{r3.Vec{Z: 1}, 0.01}).Volume; math.IsNaN(v) || math.IsNaN(s.Volume()) {
			t.Fatal("not a number")
		}
	})
}

// FuzzReadOffsets: the same for a table, which Stations then takes or refuses.
func FuzzReadOffsets(f *testing.F) {
	f.Add([]byte("x,z,y\n0,0,0\n0,10,5\n100,0,0\n100,10,5\n"))
	f.Add([]byte("\ufeffx,z,y\r\n0,0,3\r\n0,10,5\r\n70,0,0\r\n70,1,1\r\n70,10,5\r\n100,10,0\r\n"))
	f.Add([]byte("x,z,y\n0,0,-1\n0,1,nan\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		stations, places, err := ReadOffsets(bytes.NewReader(data), 1e-3)
		if err != nil {
			checkFaults(t, err)
			return
		}
		rows := 0
		for _, s := range stations {
			rows += len(s.Points)
		}
		if rows != len(places) {
			t.Fatalf("%d points, %d places", rows, len(places))
		}
		for _, mirror := range []bool{true, false} {
			s, _, err := Stations(stations, mirror)
			if err != nil {
				continue
			}
			if _, err := New(slices.Collect(s.Triangles())); err != nil {
				t.Fatalf("mirror %v: %v", mirror, err)
			}
		}
	})
}

func checkFaults(t *testing.T, err error) {
	t.Helper()
	faults, ok := err.(Faults)
	if !ok || len(faults) == 0 || len(faults) > faultMax {
		t.Fatalf("not a list of faults: %v", err)
	}
	for _, x := range faults {
		if (x.Line > 0) != (x.Column > 0) || x.What == "" || x.Want == "" {
			t.Fatalf("a fault without its place or words: %+v", x)
		}
	}
}

// TestLimits: counts that a file only claims cost nothing, and past the limits it ends at once.
func TestLimits(t *testing.T) {
	claim := make([]byte, 84)
	copy(claim[80:], "\xff\xff\xff\xff")
	if n := testing.AllocsPerRun(1, func() {
		if _, err := ReadSTL(bytes.NewReader(claim), 84, 1); err == nil {
			t.Error("a file that claims four thousand million triangles passes")
		}
	}); n > 50 {
		t.Errorf("%g allocations for 84 bytes", n)
	}
	if _, err := ReadSTL(zeros{}, -1, 1); err == nil || !strings.Contains(err.Error(), "64 MB") {
		t.Errorf("an endless file: %v", err)
	}
	missing, err := os.Open(filepath.Join(t.TempDir(), "x"))
	if err == nil {
		t.Fatal("opened what is not there")
	}
	if _, _, err := ReadOffsets(missing, 1); err == nil {
		t.Error("a reader's own error is lost")
	}
}

// zeros is a reader without end.
type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}
