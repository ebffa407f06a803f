package solid

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestReadOffsets(t *testing.T) {
	in := "\ufeffx,z,y\r\n0,10,4\r\n0, 95 ,70\n\n150.5,4,0\n150.5,9e1,85\n"
	stations, places, err := ReadOffsets(strings.NewReader(in), 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	want := []Station{{0, []StationPoint{{0.01, 0.004}, {0.095, 0.07}}}, {0.1505, []StationPoint{{0.004, 0}, {0.09, 0.085}}}}
	if d := cmp.Diff(want, stations); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]Place{{2, 1}, {3, 1}, {5, 1}, {6, 1}}, places); d != "" {
		t.Error(d)
	}
}

// TestReadOffsetsFaults: all of a table at once, each at its line and column.
func TestReadOffsetsFaults(t *testing.T) {
	for _, c := range []struct{ in, want, reason string }{
		{"", "1:1: the table is empty; begin with the header x,z,y", "empty"},
		{"x,y,z\n0,0,0\n", `1:1: the header is "x,y,z"; it has to be x,z,y`, "another header"},
		{"x,z,y\n0,0,0\n0,1,1\n", "1:1: stations in the table: 1; a hull needs two or more", "one station"},
		{"x,z,y\n0,0,0\n0,1,1,\n0,,Inf\n1,\"2\",0x1p3\n1,1e400,21000\n", `3:1: 4 columns; a row has three: x,z,y
4:3: z is missing; give a plain number such as 12.5
4:4: y is "Inf", not a finite number; give a plain number such as 12.5
5:3: z is "\"2\"", not a finite number; give a plain number such as 12.5
5:7: y is "0x1p3", not a finite number; give a plain number such as 12.5
6:3: z is "1e400", more than 20 m; coordinates go to 20 m; is the unit right?
6:9: y is "21000", more than 20 m; coordinates go to 20 m; is the unit right?`, "numbers"},
		{"x,z,y\n100,0,0\n0,1,1\n100,2,1\n", "3:1: station x 0 m comes after 0.1 m; give stations from aft forward, the rows of one x together", "order of stations"},
		{"x,z,y\n0,5,0\n0,1,1\n100,2,1\n100,2,1\n", `3:1: z 0.001 m is below the point before; give the points of a station from the keel up to the deck edge
5:1: the same point twice; leave one out`, "order of points"},
		{"x,z,y\n0,ä\xff,0\n", "2:4: bytes that are not UTF-8; save the table as UTF-8 text", "no text"},
		{"x,z,y\n0,ä,+-1\n", `2:3: z is "ä", not a finite number; give a plain number such as 12.5
2:5: y is "+-1", not a finite number; give a plain number such as 12.5`, "columns are counted in characters"},
	} {
		_, _, err := ReadOffsets(strings.NewReader(c.in), 1e-3)
		if err == nil {
			t.Errorf("%s passes", c.reason)
		} else if d := cmp.Diff(c.want, err.Error()); d != "" {
			t.Errorf("%s: %s", c.reason, d)
		}
	}
	if _, _, err := ReadOffsets(strings.NewReader("x,z,y\n0,9,1\n0,1,-1\n1,9,1\n1,1,-1\n"), 1e-3); err != nil {
		t.Errorf("a signed table of closed curves: %v", err)
	}
	many := strings.Repeat("?\n", 1e6)
	if _, _, err := ReadOffsets(strings.NewReader(many), 1e-3); err == nil || len(err.(Faults)) > faultMax {
		t.Error("a million faults are not told one by one")
	}
}
