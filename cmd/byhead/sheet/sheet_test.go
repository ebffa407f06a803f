package sheet

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

func square(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// Tiles cover the drawing, neighbours share ten mm, and every cross in reach lies whole on all the tiles that meet there.
func TestTilesCoverAndShareCrosses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := r2.Vec{X: rapid.Float64Range(100, 250).Draw(t, "w"), Y: rapid.Float64Range(100, 250).Draw(t, "h")}
		lo := r2.Vec{X: rapid.Float64Range(-500, 500).Draw(t, "x"), Y: rapid.Float64Range(-500, 500).Draw(t, "y")}
		hi := r2.Add(lo, r2.Vec{X: rapid.Float64Range(1, 900).Draw(t, "l"), Y: rapid.Float64Range(1, 900).Draw(t, "b")})
		tl := tile(r2.Box{Min: lo, Max: hi}, size)
		first, last := tl.corner(0, tl.rows-1), r2.Add(tl.corner(tl.cols-1, 0), size)
		if first.X > lo.X-0.99 || first.Y > lo.Y-0.99 || last.X < hi.X+0.99 || last.Y < hi.Y+0.99 {
			t.Fatalf("%v to %v is not covered by %v to %v", lo, hi, first, last)
		}
		for c := 1; c < tl.cols; c++ {
			if share := tl.corner(c-1, 0).X + size.X - tl.corner(c, 0).X; math.Abs(share-10) > 1e-9 {
				t.Fatalf("columns share %g mm", share)
			}
		}
		for r := 1; r < tl.rows; r++ {
			if share := tl.corner(0, r).Y + size.Y - tl.corner(0, r-1).Y; math.Abs(share-10) > 1e-9 {
				t.Fatalf("rows share %g mm", share)
			}
		}
		_, crosses := tl.seams()
		for i := 0; i < len(crosses); i += 2 {
			m := r2.Scale(0.5, r2.Add(crosses[i].Points[0], crosses[i].Points[1]))
			whole := 0
			for row := range tl.rows {
				for col := range tl.cols {
					a := tl.corner(col, row)
					b := r2.Add(a, size)
					if m.X-4 >= a.X && m.X+4 <= b.X && m.Y-4 >= a.Y && m.Y+4 <= b.Y {
						whole++
					}
				}
			}
			if whole < 2 {
				t.Fatalf("the cross at %v is whole on %d tiles", m, whole)
			}
		}
	})
}

// A drawing of one tile has no key and one page; a large one has a page for each tile that shows something, the middle of a frame shows nothing.
func TestPagesOfTiles(t *testing.T) {
	small, large := Drawing{Title: "small"}, Drawing{Title: "large"}
	small.Loop(Cut, square(0, 0, 100, 80))
	large.Loop(Cut, square(0, 0, 700, 900))
	doc := Document{Paper: A4, Title: "test", Opened: Opening{Title: "list", Lines: make([]string, 60)}}
	for _, c := range []struct {
		drawings []Drawing
		pages    int
	}{{[]Drawing{small}, 3}, {[]Drawing{small, large}, 17}} { // two of the list; 3 x 6 lying tiles, four of them with nothing on
		pdf, skipped, err := doc.PDF(c.drawings)
		if got := bytes.Count(pdf, []byte("/Type /Page\n")); err != nil || len(skipped) > 0 || got != c.pages {
			t.Errorf("%d drawings: %d pages, want %d; skipped %v, %v", len(c.drawings), got, c.pages, skipped, err)
		}
	}
	huge := Drawing{Title: "huge"}
	huge.Loop(Cut, square(0, 0, 5000, 5000))
	if _, skipped, err := doc.PDF([]Drawing{huge, small}); err != nil || fmt.Sprint(skipped) != "[huge]" {
		t.Errorf("skipped %v, %v", skipped, err)
	}
}

// The viewer is asked not to scale, by a catalogue that the file's last table leads to, with the table before still there.
func TestPrintScalingIsOff(t *testing.T) {
	d := Drawing{Title: "plate"}
	d.Loop(Cut, square(0, 0, 100, 80))
	pdf, _, err := (&Document{Paper: Letter, Title: "test", Opened: Opening{Title: "list", Lines: []string{"one"}}}).PDF([]Drawing{d})
	if err != nil {
		t.Fatal(err)
	}
	ends := startXref.FindAllSubmatch(pdf, -1)
	if len(ends) != 2 {
		t.Fatalf("%d tables", len(ends))
	}
	for i, e := range ends {
		at, err := strconv.Atoi(string(e[1]))
		if err != nil || !bytes.HasPrefix(pdf[at:], []byte("xref\n")) {
			t.Errorf("table %d is not at %s", i, e[1])
		}
	}
	last, err := strconv.Atoi(string(ends[1][1]))
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`^xref\n(\d+) 1\n(\d{10}) 00000 n \ntrailer\n<<\n/Size \d+\n/Root (\d+) 0 R\n/Info \d+ 0 R\n/Prev ` + string(ends[0][1])).FindSubmatch(pdf[last:])
	if m == nil || string(m[1]) != string(m[3]) {
		t.Fatalf("the last table is %q", pdf[last:])
	}
	catalog, err := strconv.Atoi(string(m[2]))
	if err != nil || !bytes.HasPrefix(pdf[catalog:], fmt.Appendf(nil, "%s 0 obj\n", m[1])) || !bytes.Contains(pdf[catalog:], []byte("/PrintScaling /None")) {
		t.Errorf("the catalogue is %q", pdf[catalog:])
	}
	if _, err := withoutScaling([]byte("no PDF")); err == nil {
		t.Error("no fault in what is no PDF")
	}
}

// Every letter that a name or a quantity is written with has a glyph; what has none is a box, and accents are left out.
func TestLettersOfStrokes(t *testing.T) {
	for r := '!'; r <= '~'; r++ {
		if _, ok := strokes[r]; !ok && !strings.ContainsRune("$@\\^`{|}~", r) {
			t.Errorf("no glyph for %q", r)
		}
	}
	for r, glyph := range strokes {
		for stroke := range strings.SplitSeq(glyph, "|") {
			for p := range strings.FieldsSeq(stroke) {
				if len(p) != 2 || p[0] < '0' || p[0] > '4' || p[1] < '0' || p[1] > '8' {
					t.Errorf("%q has a point %q", r, p)
				}
			}
		}
	}
	box := written(&Text{Text: "κ", Size: 6})
	if len(box) != 1 || len(box[0].Points) != 5 {
		t.Errorf("no box: %v", box)
	}
	if a, b := len(written(&Text{Text: "Ü", Size: 6})), len(written(&Text{Text: "U", Size: 6})); a != b {
		t.Errorf("%d strokes, want %d", a, b)
	}
}
