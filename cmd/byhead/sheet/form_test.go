package sheet

import (
	"bytes"
	"fmt"
	"testing"
)

// TestFormPages: little goes on one page in the largest letters, more in smaller ones, and what takes several pages is in letters that
// can be read, none of it lost.
func TestFormPages(t *testing.T) {
	form := func(rows int) *Form {
		p := FormPart{Title: "Rows", Head: []string{"", "", "what", "really"}, Shares: []float64{1, 1, 6, 2}, Box: 1, Blank: 3, Large: true}
		for i := range rows {
			p.Rows = append(p.Rows, []string{fmt.Sprint(i), "", fmt.Sprintf("row %d", i), ""})
		}
		return &Form{Paper: A4, Title: "A form", Lines: []string{"One line."}, Foot: "foot", Parts: []FormPart{p, {Title: "Care", Box: -1, Blank: -1, Lines: []string{"Be careful."}, Framed: true}}}
	}
	for _, c := range []struct {
		rows, pages int
		least, most float64
	}{{5, 1, largestLetters - 0.01, largestLetters}, {34, 1, smallestLetters - 0.01, largestLetters - 0.05}, {120, 4, turnedLetters, turnedLetters}} {
		_, pages, letters, err := form(c.rows).PDF()
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d rows: %d pages in letters of %.1f mm", c.rows, pages, letters)
		if pages != c.pages || letters < c.least || letters > c.most {
			t.Errorf("%d rows: %d pages in letters of %g mm", c.rows, pages, letters)
		}
	}
	one, _, _, err := form(10).PDF()
	two, _, _, again := form(10).PDF()
	if err != nil || again != nil || !bytes.Equal(one, two) {
		t.Error("the same form gives other bytes")
	}
}

// TestFormPair: parts side by side take less than one above the other.
func TestFormPair(t *testing.T) {
	form := func(beside bool) *Form {
		part := FormPart{Title: "A part", Box: -1, Blank: -1, Ticked: true}
		for i := range 18 {
			part.Lines = append(part.Lines, fmt.Sprintf("line %d", i))
		}
		other := part
		other.Beside = beside
		return &Form{Paper: Letter, Title: "A form", Parts: []FormPart{part, other, part}}
	}
	_, _, pair, err := form(true).PDF()
	_, _, alone, again := form(false).PDF()
	if err != nil || again != nil || !(pair > alone) {
		t.Errorf("letters of %g mm side by side, %g mm without; %v, %v", pair, alone, err, again)
	}
}

// TestWrapKeepsToTheRoom: no line is wider than there is room, and no word is lost but of one that is alone too wide.
func TestWrapKeepsToTheRoom(t *testing.T) {
	d := Document{Paper: A4}
	w := &formWriter{writer: d.newWriter()}
	lines := w.wrap("one two three four five Donaudampfschifffahrtsgesellschaftskapitän six", "", 4, 20)
	for _, line := range lines {
		w.font("", 4)
		if width := w.pdf.GetStringWidth(w.letters(line)); width > 20 {
			t.Errorf("%q is %g mm wide", line, width)
		}
	}
	if len(lines) < 4 || lines[len(lines)-1] != "six" || w.wrap("", "", 4, 20) != nil {
		t.Errorf("%q", lines)
	}
}
