package scenarios

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
)

// loggedScenario has one of everything that a log can name.
func loggedScenario() *Scenario {
	s := testScenario()
	s.Spec = compartment.Spec{
		Marks:        []compartment.MarkSpec{{Name: "M-fore"}, {Name: "M-aft"}},
		Compartments: []compartment.CompartmentSpec{{Name: "forepeak"}, {Name: "hold-2"}},
		Weights:      []compartment.WeightSpec{{Name: "lead", Mass: 1}, {Name: "funnel", Mass: 0.1, Later: true}},
	}
	return s
}

func TestReadLog(t *testing.T) {
	text := "\ufefftime_s, kind,name,value,unit,sigma\r\n" +
		",mark,M-fore,71.5,mm,0.5\r\n" +
		",,,,,\r\n" +
		"12.5,depth,forepeak,2 1/2,in,\n" +
		"\"13\",\"event\",filled:forepeak,,,\n" +
		",shift,lead,-40,mm,\n" +
		",heel,,3.2,deg,0.1\n" +
		",trim,,-0.4,deg,"
	rows, err := loggedScenario().ReadLog("x.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	deg := math.Pi / 180
	want := []LogRow{
		{Kind: LogMark, Name: "M-fore", Value: 0.0715, Sigma: 0.0005, Line: 2},
		{Kind: LogDepth, Name: "forepeak", Value: 0.0635, Sigma: math.NaN(), Line: 4},
		{Kind: LogEvent, Name: "filled:forepeak", Value: math.NaN(), Sigma: math.NaN(), Line: 5},
		{Kind: LogShift, Name: "lead", Value: -0.04, Sigma: math.NaN(), Line: 6},
		{Kind: LogHeel, Value: 3.2 * deg, Sigma: 0.1 * deg, Line: 7},
		{Kind: LogTrim, Value: -0.4 * deg, Sigma: math.NaN(), Line: 8},
	}
	same := func(a, b float64) bool { return math.Abs(a-b) < 1e-15 || math.IsNaN(a) && math.IsNaN(b) }
	if len(rows) != len(want) {
		t.Fatalf("%d rows, want %d", len(rows), len(want))
	}
	for i, w := range want {
		r := rows[i]
		if r.Kind != w.Kind || r.Name != w.Name || !same(r.Value, w.Value) || !same(r.Sigma, w.Sigma) || r.Line != w.Line {
			t.Errorf("row %d is %+v, want %+v", i, r, w)
		}
	}
	if rows[0].Time != nil || *rows[1].Time != 12.5 || *rows[2].Time != 13 {
		t.Error("the times are wrong")
	}
}

// TestLogFaults: each fault at its line and column, all in one go.
func TestLogFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                           "x.csv:1:1: the log is empty",
		"time,kind":                  "x.csv:1:1: the header is",
		"H\n,mark,M-fore,71.5,mm":    "x.csv:2:1: the row has 5 columns",
		"H\n,mrak,M-fore,71.5,mm,":   `x.csv:2:2: "mrak" is not a kind of row; did you mean "mark"?`,
		"H\n,mark,M-for,71.5,mm,":    `x.csv:2:7: there is no mark "M-for"; did you mean "M-fore"?`,
		"H\n,shift,coin,71.5,mm,":    `x.csv:2:8: there is no weight "coin"; the name of a weight of the scenario: lead or funnel`,
		"H\n,depth,engine,71.5,mm,":  `x.csv:2:8: there is no compartment "engine"`,
		"H\n,event,filled,,,":        "x.csv:2:8: \"filled\" is not an event",
		"H\n,event,filled:a,1,,":     "x.csv:2:17: an event has no value",
		"H\n\n,mark,M-fore,,mm,1":    "x.csv:3:14: there is no value",
		"H\n,mark,M-fore,71.5,,":     "x.csv:2:19: there is no unit; a length",
		"H\n,mark,M-fore,71.5,deg,":  "x.csv:2:19: \"71.5 deg\" is an angle; a length",
		"H\n,heel,,3,mm,":            "x.csv:2:10: \"3 mm\" is a length; an angle",
		"H\n,mark,M-fore,71.5,mn,":   "x.csv:2:19: \"mn\" in \"71.5 mn\" is not a known unit",
		"H\n,mark,M-fore,71 mm,mm,":  "x.csv:2:14: \"71 mm\" is not a plain number",
		"H\n,mark,M-fore,NaN,mm,":    "x.csv:2:14: \"NaN\" is not a plain number",
		"H\n,mark,M-fore,1e999,mm,":  "x.csv:2:14: \"1e999\" is not a plain number",
		"H\n,mark,M-fore,50,m,":      "x.csv:2:17: \"50 m\" is absurd",
		"H\n,mark,M-fore,5,mm,0":     "x.csv:2:19: a standard deviation of \"0\"",
		"H\n,mark,M-fore,5,mm,x":     "x.csv:2:19: \"x\" is not a plain number",
		"H\nsoon,heel,,,deg,":        "x.csv:2:1: \"soon\" is not a plain number",
		"H\n,mark,M-for,,mm,":        "x.csv:2:7: there is no mark \"M-for\"",
		"H\nsoon,heel,,5,deg,":       "x.csv:2:1: \"soon\" is not a plain number",
		"H\n-1,heel,,5,deg,":         "x.csv:2:1: the time \"-1\" is out of reach",
		"H\n,mark,M-fore,\xff,mm,":   "x.csv:2:14: the byte 0xFF here is not UTF-8",
		"H\n,heel,,5,°,\n,heel,,x,,": "x.csv:2:10: \"°\" is not how the unit is written in \"5 °\"; write deg\nx.csv:3:8: \"x\" is not a plain number",
	} {
		_, err := loggedScenario().ReadLog("x.csv", []byte(strings.Replace(text, "H", LogHeader, 1)))
		var faults Faults
		if !errors.As(err, &faults) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q:\n got %v\nwant %s", text, err, want)
		}
	}
	long := LogHeader + strings.Repeat("\nx", 1000)
	if _, err := loggedScenario().ReadLog("x.csv", []byte(long)); strings.Count(err.Error(), "\n") != mostLogFaults-1 {
		t.Error("a log of the wrong sort is told without end")
	}
}

// Rows as they were printed are no readings; those of a flood test are passed over by a float test that has its own.
func TestPrintedLogPartlyFilledIn(t *testing.T) {
	s := loggedScenario()
	rows, err := s.ReadLog("x.csv", []byte(LogHeader+"\n,mark,M-fore,,mm,\n,heel,,1,deg,\n,event,filled:forepeak,,,\n30,depth,forepeak,,mm,\n30,trim,,2,deg,\n,shift,lead,,mm,\n,heel,,,deg,"))
	if err != nil || len(rows) != 2 {
		t.Fatalf("%+v, %v", rows, err)
	}
	readings, err := s.Readings("x.csv", rows)
	if err != nil || len(readings) != 1 || readings[0].Kind != plan.ReadingKind(LogHeel) {
		t.Fatalf("%+v, %v", readings, err)
	}
}

func TestReadingsOfAFloatTest(t *testing.T) {
	s := loggedScenario()
	for text, want := range map[string]string{
		",mark,M-fore,,mm,":                    "x.csv:1:1: nothing was read off",
		"5,heel,,1,deg,\n,shift,lead,1,mm,":    "x.csv:2:3: a time in a float test",
		"5,heel,,1,deg,":                       "x.csv:2:3: a time in a float test",
		",depth,forepeak,1,mm,\n,heel,,1,deg,": "x.csv:2:2: \"depth\" in a float test; mark, shift, heel or trim",
		",shift,funnel,1,mm,\n,heel,,1,deg,":   "x.csv:2:2: the weight \"funnel\" comes later",
		",shift,lead,1,mm,":                    "x.csv:1:1: nothing was read off",
	} {
		rows, err := s.ReadLog("x.csv", []byte(LogHeader+"\n"+text))
		if err != nil {
			t.Fatal(err)
		}
		if _, err = s.Readings("x.csv", rows); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

func FuzzReadLog(f *testing.F) {
	f.Add([]byte(LogHeader + "\n,mark,M-fore,71.5,mm,0.5\n"))
	f.Add([]byte(LogHeader + "\n1,event,filled:forepeak,,,\n,heel,,1/2,deg,"))
	s := loggedScenario()
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := s.ReadLog("x.csv", data)
		var faults Faults
		if err != nil && (!errors.As(err, &faults) || len(faults) == 0 || faults[0].Line < 1 || faults[0].Column < 1) {
			t.Fatalf("a fault without a place: %v", err)
		}
		for _, r := range rows {
			if r.Kind != LogEvent && math.IsNaN(r.Value) || r.Sigma <= 0 {
				t.Fatalf("a row of no use: %+v", r)
			}
		}
	})
}
