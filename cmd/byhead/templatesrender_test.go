package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// rendered is a page as a printer would see it, in grey.
type rendered struct {
	wide, high int
	grey       []byte
}

const dotsPerMillimetre = 10 // 254 to the inch

// render draws one page of a PDF with pdftoppm (Debian: poppler-utils), where that is.
func render(t *testing.T, pdf string, page int) (r rendered) {
	t.Helper()
	program, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm (Debian: poppler-utils) is not here: the page is read back from its numbers only")
	}
	out := filepath.Join(t.TempDir(), "page")
	n := fmt.Sprint(page)
	if text, err := exec.Command(program, "-gray", "-aa", "no", "-aaVector", "no", "-r", fmt.Sprint(25.4*dotsPerMillimetre), "-f", n, "-l", n, "-singlefile", pdf, out).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, text)
	}
	data, err := os.ReadFile(out + ".pgm")
	if err != nil {
		t.Fatal(err)
	}
	in := bufio.NewReader(bytes.NewReader(data))
	var most int
	if _, err := fmt.Fscanf(in, "P5\n%d %d\n%d\n", &r.wide, &r.high, &most); err != nil || most != 255 {
		t.Fatalf("a picture of another kind: %v, %d", err, most)
	}
	if r.grey, err = io.ReadAll(in); err != nil || len(r.grey) != r.wide*r.high {
		t.Fatalf("%d of %d dots, %v", len(r.grey), r.wide*r.high, err)
	}
	return r
}

// at tells whether a dot is dark; x from the left, y from below, in dots.
func (r *rendered) at(x, y int) bool {
	return x >= 0 && y >= 0 && x < r.wide && y < r.high && r.grey[(r.high-1-y)*r.wide+x] < 128
}

// longest is the longest unbroken dark line, in mm, along rows (or columns) near a place in mm.
func (r *rendered) longest(across bool, from, to float64) float64 {
	best, length := 0, r.high
	if across {
		length = r.wide
	}
	for k := int(from * dotsPerMillimetre); k <= int(to*dotsPerMillimetre); k++ {
		for i, run := 0, 0; i < length; i++ {
			dark := r.at(k, i)
			if across {
				dark = r.at(i, k)
			}
			if run++; !dark {
				run = 0
			}
			best = max(best, run)
		}
	}
	return float64(best) / dotsPerMillimetre
}

// enclosed is the area, in mm², of all in a window that cannot be reached from its lower left corner without crossing a line,
// the lines with it.
func (r *rendered) enclosed(lo, hi r2.Vec) float64 {
	x0, y0 := int(lo.X*dotsPerMillimetre), int(lo.Y*dotsPerMillimetre)
	wide, high := int((hi.X-lo.X)*dotsPerMillimetre), int((hi.Y-lo.Y)*dotsPerMillimetre)
	seen := make([]bool, wide*high)
	open, count := [][2]int{{0, 0}}, 0
	for len(open) > 0 {
		x, y := open[len(open)-1][0], open[len(open)-1][1]
		open = open[:len(open)-1]
		if x < 0 || y < 0 || x >= wide || y >= high || seen[y*wide+x] || r.at(x0+x, y0+y) {
			continue
		}
		seen[y*wide+x] = true
		count++
		open = append(open, [2]int{x + 1, y}, [2]int{x - 1, y}, [2]int{x, y + 1}, [2]int{x, y - 1})
	}
	return float64(wide*high-count) / dotsPerMillimetre / dotsPerMillimetre
}

// As rendered: the bars are 100 mm and 4 in long both ways, and what a plate's outline encloses is as large as it should be.
func TestRenderedPageMeasuresTrue(t *testing.T) {
	o, _, pages := drawn(t, lighter)
	r := render(t, filepath.Join(o.dir, "out", pdfName), 2)
	left, below := (210-190)/2+9.0, (297-255)/2+9.0
	const dot = 1.5 / dotsPerMillimetre
	for _, bar := range []struct {
		across   bool
		from, to float64
		want     float64
	}{
		{true, below - 2, below - 1.2, 100}, {true, below - 5.8, below - 5, 101.6},
		{false, left - 2, left - 1.2, 100}, {false, left - 5.8, left - 5, 101.6},
	} {
		got := r.longest(bar.across, bar.from, bar.to)
		t.Logf("bar of %g mm, across %v: %.1f mm as rendered", bar.want, bar.across, got)
		if !(math.Abs(got-bar.want) <= dot+0.1) { // a line's end reaches half its width further
			t.Errorf("bar of %g mm, across %v: %.2f mm as rendered", bar.want, bar.across, got)
		}
	}
	i := slices.IndexFunc(pages[0].paths, func(q pdfPath) bool { return q.closed })
	lo, hi := pages[0].paths[i].points[0], pages[0].paths[i].points[0]
	for _, q := range pages[0].paths[i].points {
		lo, hi = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	about := r2.Vec{X: 1, Y: 1}
	const line = 0.25 // mm: half of it lies outside, all round
	got, want := r.enclosed(r2.Sub(lo, about), r2.Add(hi, about))-2*(146+78)*line/2, 146*78.0
	t.Logf("plate of %g mm2: %.1f mm2 as rendered, %+.3f %%", want, got, 100*(got/want-1))
	if !(math.Abs(got/want-1) <= 3e-3) { // a dot all round is 4e-3
		t.Errorf("plate of %g mm2: %.1f mm2 as rendered", want, got)
	}
}
