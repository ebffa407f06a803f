package solid

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Place is where a row of a table stands in its file, from 1.
type Place struct{ Line, Column int }

const offsetsHeader = "x,z,y"

// ReadOffsets reads a table of offsets: CSV with the header x,z,y, rows of one x together and from aft forward, the rows
// of a station from the keel up (where no y is negative; a signed table holds closed curves). unit is the length of the
// table's unit in metres. The places are those of the rows, in the order of the stations and their points. UTF-8, a byte
// order mark and empty lines are taken. The error is of type Faults and tells all that is wrong, or is the reader's own.
func ReadOffsets(r io.Reader, unit float64) ([]Station, []Place, error) {
	data, err := io.ReadAll(io.LimitReader(r, fileMax+1))
	if err != nil {
		return nil, nil, err
	}
	if len(data) > fileMax {
		return nil, nil, tooBig()
	}
	t := offsetsReader{unit: unit}
	t.read(bytes.TrimPrefix(data, []byte("\ufeff")))
	if len(t.faults) == 0 {
		t.checkOrder()
	}
	if len(t.faults) > 0 {
		return nil, nil, t.faults
	}
	return t.stations, t.places, nil
}

type offsetsReader struct {
	unit     float64
	stations []Station
	places   []Place
	signed   bool
	faults   Faults
}

func (t *offsetsReader) read(data []byte) {
	header := false
	for line := 1; len(data) > 0 && len(t.faults) < faultMax; line++ {
		var row []byte
		row, data, _ = bytes.Cut(data, []byte("\n"))
		text := strings.TrimSuffix(string(row), "\r")
		switch {
		case !t.checkText(line, text) || strings.TrimSpace(text) == "":
		case !header:
			header = true
			t.header(line, text)
		default:
			t.row(line, text)
		}
	}
	switch {
	case !header && len(t.faults) == 0:
		t.faults.add(1, 1, "the table is empty", "begin with the header "+offsetsHeader)
	case header && len(t.faults) == 0 && len(t.stations) < 2:
		t.faults.add(1, 1, fmt.Sprintf("stations in the table: %d", len(t.stations)), "a hull needs two or more")
	}
}

// checkText finds bytes that are no text, so that they are told as such and not as a bad number.
func (t *offsetsReader) checkText(line int, text string) bool {
	for i, r := range text {
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd") {
			t.faults.add(line, column(text, i), "bytes that are not UTF-8", "save the table as UTF-8 text")
			return false
		}
	}
	return true
}

// column counts characters up to a byte of a line, from 1.
func column(text string, at int) int { return utf8.RuneCountInString(text[:at]) + 1 }

func (t *offsetsReader) header(line int, text string) {
	names := strings.Split(text, ",")
	for i := range names {
		names[i] = strings.TrimSpace(names[i])
	}
	if got := strings.Join(names, ","); got != offsetsHeader {
		t.faults.add(line, 1, fmt.Sprintf("the header is %s", shown(got)), "it has to be "+offsetsHeader)
	}
}

// row takes one line of the table.
func (t *offsetsReader) row(line int, text string) {
	fields := strings.Split(text, ",")
	if len(fields) != 3 {
		t.faults.add(line, 1, fmt.Sprintf("%d columns", len(fields)), "a row has three: "+offsetsHeader)
		return
	}
	var value [3]float64
	at, ok := 0, true
	for k, f := range fields {
		number := strings.TrimSpace(f)
		first := at + strings.Index(f, number)
		v, what, want := parseCoordinate(number, t.unit)
		if what != "" {
			t.faults.add(line, column(text, first), "xzy"[k:k+1]+" "+what, want)
			ok = false
		}
		value[k] = v
		at += len(f) + 1
	}
	if ok {
		t.put(line, value)
	}
}

// put adds a row to its station.
func (t *offsetsReader) put(line int, v [3]float64) {
	last := len(t.stations) - 1
	if last < 0 || t.stations[last].X != v[0] {
		if last >= 0 && v[0] < t.stations[last].X {
			t.faults.add(line, 1, fmt.Sprintf("station x %.6g m comes after %.6g m", v[0], t.stations[last].X),
				"give stations from aft forward, the rows of one x together")
			return
		}
		t.stations = append(t.stations, Station{X: v[0]})
		last++
	}
	s := &t.stations[last]
	s.Points = append(s.Points, StationPoint{Z: v[1], Y: v[2]})
	t.places = append(t.places, Place{line, 1})
	t.signed = t.signed || v[2] < 0
}

// checkOrder looks at the points of each station once the whole table is known.
func (t *offsetsReader) checkOrder() {
	row := 0
	for _, s := range t.stations {
		for j, p := range s.Points {
			switch {
			case j == 0:
			case p == s.Points[j-1]:
				t.faults.add(t.places[row].Line, 1, "the same point twice", "leave one out")
			case !t.signed && p.Z < s.Points[j-1].Z:
				t.faults.add(t.places[row].Line, 1, fmt.Sprintf("z %.6g m is below the point before", p.Z),
					"give the points of a station from the keel up to the deck edge")
			}
			row++
		}
	}
}

// parseCoordinate reads a plain decimal number and takes it to metres; what is empty where all is well.
func parseCoordinate(text string, unit float64) (v float64, what, want string) {
	const number = "give a plain number such as 12.5"
	switch {
	case text == "":
		return 0, "is missing", number
	case strings.Trim(text, "+-.0123456789eE") != "":
		return 0, fmt.Sprintf("is %s, not a finite number", shown(text)), number
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil && !math.IsInf(v, 0) {
		return 0, fmt.Sprintf("is %s, not a finite number", shown(text)), number
	}
	v *= unit
	if !(math.Abs(v) <= coordinateMax) {
		return 0, fmt.Sprintf("is %s, more than 20 m", shown(text)), "coordinates go to 20 m; is the unit right?"
	}
	return v, "", ""
}

// shown quotes a piece of a file, cut short.
func shown(text string) string {
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "…"
	}
	return strconv.Quote(text)
}
