package solid

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mesh is a closed surface as read from a file, and what had to be done to it.
type Mesh struct {
	Triangles []Triangle // in m; New takes them as they are
	Caps      []Cap      // flat open loops that were closed
	Bodies    int        // surfaces that hang together
	Turned    int        // of those, inside out in the file and turned
	Voids     int        // of those, inside another and facing inward: room taken away
}

// Cap is a plane plate that closes a flat open loop.
type Cap struct {
	Centre  r3.Vec // mean of its corners
	Normal  r3.Vec // outward
	Area    float64
	Corners int
	Line    int // of the loop's first corner in the file; 0 in a binary one
}

// ReadSTL reads a surface in STL, ASCII or binary; it is binary where its length is 84 + 50 n with n its count. size is
// the file's length where it is known, else negative. unit is the length of the file's unit in metres.
//
// Corners nearer to each other than four roundings of single precision at the largest coordinate become one; triangles
// that vanish thereby are left out. Open loops whose corners lie in one plane within 0.1 mm are closed. The file may hold
// several closed bodies: one that is inside out is turned, unless it lies inside another; then it is a void. The normals in
// the file are not used. The error is of type Faults and tells all that is wrong, or is the reader's own.
func ReadSTL(r io.Reader, size int64, unit float64) (*Mesh, error) {
	if size > fileMax {
		return nil, tooBig()
	}
	data, err := io.ReadAll(io.LimitReader(r, fileMax+1))
	if err != nil {
		return nil, err
	}
	if len(data) > fileMax {
		return nil, tooBig()
	}
	soup, faults := parseSTL(data, unit)
	if len(faults) == 0 && len(soup.tris) == 0 {
		faults.add(1, 1, "no triangles", "give a closed surface")
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return soup.mend()
}

// soup is the triangles of a file, with the line of each corner (none in a binary file).
type soup struct {
	tris  []Triangle
	lines [][3]int32
}

func parseSTL(data []byte, unit float64) (*soup, Faults) {
	const header, record = 84, 50
	if len(data) >= header {
		n := int64(binary.LittleEndian.Uint32(data[80:]))
		if header+record*n == int64(len(data)) {
			return parseBinary(data[header:], int(n), unit)
		}
	}
	start := strings.TrimLeft(strings.TrimPrefix(string(data[:min(len(data), 512)]), "\ufeff"), " \t\r\n")
	if len(start) >= 5 && strings.EqualFold(start[:5], "solid") {
		return parseASCII(data, unit)
	}
	var faults Faults
	if len(data) < header || start == "" {
		faults.add(1, 1, "not an STL file", "give STL, ASCII (it begins with solid) or binary")
		return nil, faults
	}
	n := int64(binary.LittleEndian.Uint32(data[80:]))
	faults.add(1, 1, fmt.Sprintf("binary STL of %d bytes that counts %d triangles", len(data), n),
		fmt.Sprintf("that many take %d bytes; the file is cut short or damaged", header+record*n))
	return nil, faults
}

func parseBinary(data []byte, n int, unit float64) (*soup, Faults) {
	var faults Faults
	if n > triangleMax {
		faults.add(0, 0, fmt.Sprintf("%d triangles", n), "up to 2 million are taken")
		return nil, faults
	}
	s := &soup{tris: make([]Triangle, n)}
	for i := range s.tris {
		record := data[50*i:][:50]
		for j := range 3 {
			var v [3]float64
			for k := range v {
				v[k] = unit * float64(math.Float32frombits(binary.LittleEndian.Uint32(record[12+12*j+4*k:])))
				if !(math.Abs(v[k]) <= coordinateMax) {
					faults.add(0, 0, fmt.Sprintf("triangle %d, corner %d: %s is %g m", i+1, j+1, "xyz"[k:k+1], v[k]),
						"coordinates are finite and go to 20 m; is the unit right?")
				}
			}
			s.tris[i][j] = r3.Vec{X: v[0], Y: v[1], Z: v[2]}
		}
	}
	return s, faults
}
