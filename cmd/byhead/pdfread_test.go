package main

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// pdfPage is what a page's own numbers say, in mm from its lower left corner.
type pdfPage struct {
	size  r2.Vec
	clip  [2]r2.Vec // the one rectangle that the drawing is clipped to; zero: none
	paths []pdfPath
	text  string // all of its writing, a line each
}

// pdfPath is a path that is drawn; over is whether the clip was on.
type pdfPath struct {
	points []r2.Vec
	closed bool
	over   bool
}

var (
	pageObject = regexp.MustCompile(`(?s)<</Type /Page\n.*?/Contents (\d+) 0 R>>`)
	mediaBox   = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)
	shown      = regexp.MustCompile(`\((.*)\) Tj`)
)

// readPDF reads the pages of a PDF of ours back.
func readPDF(t testing.TB, path string) (pages []pdfPage) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	standard := mediaBox.FindSubmatch(data[bytes.Index(data, []byte("/Type /Pages")):])
	for _, m := range pageObject.FindAllSubmatch(data, -1) {
		box := mediaBox.FindSubmatch(m[0])
		if box == nil {
			box = standard
		}
		page := pdfPage{size: r2.Vec{X: millimetres(t, string(box[1])), Y: millimetres(t, string(box[2]))}}
		page.read(t, contents(t, data, string(m[1])))
		pages = append(pages, page)
	}
	return pages
}

func millimetres(t testing.TB, points string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(points, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x * 25.4 / 72 // a point is a 72nd of an inch (ISO 32000-1, 8.3.2.3)
}

// contents is the inflated stream of an object.
func contents(t testing.TB, data []byte, object string) string {
	t.Helper()
	_, rest, _ := bytes.Cut(data, fmt.Appendf(nil, "\n%s 0 obj\n", object))
	_, rest, _ = bytes.Cut(rest, []byte("stream\n"))
	z, err := zlib.NewReader(bytes.NewReader(rest))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// read takes a page's stream apart: paths of m, l, h and S, the clip, the writing.
func (p *pdfPage) read(t testing.TB, stream string) {
	t.Helper()
	var now pdfPath
	for line := range strings.Lines(stream) {
		if m := shown.FindStringSubmatch(line); m != nil {
			p.text += m[1] + "\n"
			continue
		}
		f := strings.Fields(line)
		if len(f) == 0 {
			continue
		}
		at := func(i int) float64 { return millimetres(t, f[i]) }
		switch f[len(f)-1] {
		case "m":
			now = pdfPath{points: []r2.Vec{{X: at(0), Y: at(1)}}, over: p.clip != [2]r2.Vec{}}
		case "l":
			now.points = append(now.points, r2.Vec{X: at(0), Y: at(1)})
		case "h":
			now.closed = true
		case "S":
			p.paths = append(p.paths, now)
		case "n":
			if len(f) > 6 && f[5] == "re" { // q x y w h re W n, h downwards
				f = f[1:]
				p.clip = [2]r2.Vec{{X: at(0), Y: at(1) + at(3)}, {X: at(0) + at(2), Y: at(1)}}
			}
		}
	}
}

// area is that of all closed paths, holes taken off, mm².
func (p *pdfPage) area() (area float64) {
	for _, q := range p.paths {
		if q.closed {
			area += shoelace(q.points)
		}
	}
	return area
}

func shoelace(points []r2.Vec) (area float64) {
	for i, a := range points {
		area += r2.Cross(r2.Sub(a, points[0]), r2.Sub(points[(i+1)%len(points)], points[0])) / 2
	}
	return area
}
