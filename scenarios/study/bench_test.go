package study_test

import (
	"bytes"
	"encoding/binary"
	"testing"
	"testing/fstest"
	"time"

	"github.com/byhead/byhead/scenarios"
	"github.com/byhead/byhead/scenarios/study"
)

// latticeBox is a box of 1000 × 200 × 150 as binary STL, each face of n × n × 2 triangles.
func latticeBox(n int) []byte {
	var body bytes.Buffer
	size := [3]float32{1000, 200, 150}
	count := uint32(0)
	put := func(corners ...[3]float32) {
		count++
		binary.Write(&body, binary.LittleEndian, [3]float32{})
		for _, c := range corners {
			binary.Write(&body, binary.LittleEndian, c)
		}
		binary.Write(&body, binary.LittleEndian, uint16(0))
	}
	for axis := range 3 {
		for side := range 2 {
			at := func(i, j int) (c [3]float32) {
				c[axis] = float32(side) * size[axis]
				c[(axis+1)%3] = size[(axis+1)%3] * float32(i) / float32(n)
				c[(axis+2)%3] = size[(axis+2)%3] * float32(j) / float32(n)
				c[1] -= size[1] / 2
				return c
			}
			for i := range n {
				for j := range n {
					a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
					if side == 0 {
						b, d = d, b
					}
					put(a, b, c)
					put(a, c, d)
				}
			}
		}
	}
	head := make([]byte, 84)
	binary.LittleEndian.PutUint32(head[80:], count)
	return append(head, body.Bytes()...)
}

// BenchmarkDraws is what a run costs before it starts, for a hull of 99,372 triangles: its vessel, by Vessel.WithAll. `built-ms`
// is what building it from nothing costs, which a study does once; every vessel stands on the same tree.
func BenchmarkDraws(b *testing.B) {
	text := bytes.ReplaceAll([]byte(clamped), []byte("  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}"), []byte("  mesh: {file: box.stl, unit: mm}"))
	s, err := scenarios.Read(fstest.MapFS{"box.stl": {Data: latticeBox(91)}}, "box.yaml", text)
	if err != nil {
		b.Fatal(err)
	}
	began := time.Now()
	m, err := study.NewModel(s)
	if err != nil {
		b.Fatal(err)
	}
	built := time.Since(began)
	const runs = 10_000
	d, err := study.NewDesign(m, study.LatinHypercube, runs, 1)
	if err != nil {
		b.Fatal(err)
	}
	run := 0
	for b.Loop() {
		drawn, _, _, err := d.Model(m, run%runs)
		if err != nil {
			b.Fatal(err)
		}
		if drawn.Vessel.Whole.Form != m.Vessel.Whole.Form {
			b.Fatal("the tree was built anew")
		}
		run++
	}
	b.ReportMetric(float64(built.Milliseconds()), "built-ms")
}
