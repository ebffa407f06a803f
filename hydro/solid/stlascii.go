package solid

import (
	"fmt"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// word is a piece of the text between blanks, and where it stands.
type word struct {
	text         string
	line, column int
}

// asciiReader goes through the words of an ASCII STL file.
type asciiReader struct {
	data         []byte
	at           int
	line, column int
	unit         float64
	next         word // the word not yet used; empty text at the end
	soup         soup
	faults       Faults
}

// parseASCII reads solid … { facet normal … outer loop vertex … ×3 endloop endfacet } … endsolid, any number of times. After
// a fault it goes on at the next facet, so that one reading tells all.
func parseASCII(data []byte, unit float64) (*soup, Faults) {
	a := &asciiReader{data: data, line: 1, column: 1, unit: unit}
	if strings.HasPrefix(string(data[:min(len(data), 3)]), "\ufeff") {
		a.at = 3
	}
	a.advance()
	for a.next.text != "" && len(a.faults) < faultMax {
		if !a.is("solid") {
			a.complain("solid")
			a.resume()
		} else {
			a.skipLine()
		}
		a.facets()
	}
	return &a.soup, a.faults
}

// facets reads up to and with endsolid.
func (a *asciiReader) facets() {
	for len(a.faults) < faultMax {
		switch {
		case a.is("endsolid"):
			a.skipLine()
			return
		case a.is("facet"):
			if !a.facet() {
				a.resume()
			}
		case a.next.text == "":
			a.complain("endsolid")
			return
		default:
			a.complain("facet or endsolid")
			a.resume()
		}
	}
}

// facet reads one; ok is false where its form is broken. A bad number is told and leaves the form whole.
func (a *asciiReader) facet() (ok bool) {
	if len(a.soup.tris) == triangleMax {
		a.faults.add(a.next.line, a.next.column, "more than 2 million triangles", "up to 2 million are taken")
		a.at = len(a.data)
		a.advance()
		return true
	}
	if !a.expect("facet", "normal") {
		return false
	}
	for range 3 { // never used, and often NaN for a triangle without area
		if _, err := strconv.ParseFloat(a.next.text, 64); err != nil && !isRange(err) {
			a.complain("a number")
			return false
		}
		a.advance()
	}
	if !a.expect("outer", "loop") {
		return false
	}
	var t Triangle
	var lines [3]int32
	good := true
	for j := range t {
		lines[j] = int32(a.next.line)
		if !a.expect("vertex") {
			return false
		}
		var v [3]float64
		for k := range v {
			var fine bool
			v[k], fine = a.coordinate("xyz"[k : k+1])
			good = good && fine
		}
		t[j] = r3.Vec{X: v[0], Y: v[1], Z: v[2]}
	}
	if good {
		a.soup.tris = append(a.soup.tris, t)
		a.soup.lines = append(a.soup.lines, lines)
	}
	return a.expect("endloop", "endfacet")
}

func isRange(err error) bool { return strings.HasSuffix(err.Error(), strconv.ErrRange.Error()) }

// coordinate reads a number; where a keyword stands in its place it is left for what follows.
func (a *asciiReader) coordinate(name string) (float64, bool) {
	w := a.next
	v, what, want := parseCoordinate(w.text, a.unit)
	if what != "" {
		a.faults.add(w.line, w.column, name+" "+what, want)
	}
	if w.text != "" && !keyword(w.text) {
		a.advance()
	}
	return v, what == ""
}

func keyword(text string) bool {
	switch strings.ToLower(text) {
	case "solid", "endsolid", "facet", "endfacet", "outer", "endloop", "vertex":
		return true
	}
	return false
}

func (a *asciiReader) is(text string) bool { return strings.EqualFold(a.next.text, text) }

// expect takes the words that have to come next.
func (a *asciiReader) expect(words ...string) bool {
	for _, w := range words {
		if !a.is(w) {
			a.complain(w)
			return false
		}
		a.advance()
	}
	return true
}

func (a *asciiReader) complain(want string) {
	what := "the file ends here"
	if a.next.text != "" {
		what = shown(a.next.text)
	}
	a.faults.add(a.next.line, a.next.column, what, fmt.Sprintf("%s comes here", want))
}

// resume goes on to the next facet or endsolid.
func (a *asciiReader) resume() {
	for a.next.text != "" && !a.is("facet") && !a.is("endsolid") {
		a.advance()
	}
}

// skipLine drops the rest of the line, a name.
func (a *asciiReader) skipLine() {
	for a.line == a.next.line && a.at < len(a.data) {
		a.step()
	}
	a.advance()
}

func (a *asciiReader) step() {
	if a.data[a.at] == '\n' {
		a.line, a.column = a.line+1, 0
	}
	a.at++
	a.column++
}

// advance takes the next word.
func (a *asciiReader) advance() {
	for a.at < len(a.data) && blank(a.data[a.at]) {
		a.step()
	}
	from := a.at
	a.next = word{line: a.line, column: a.column}
	for a.at < len(a.data) && !blank(a.data[a.at]) {
		a.step()
	}
	a.next.text = string(a.data[from:a.at])
}

func blank(c byte) bool {
	return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\v' || c == '\f'
}
