package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/byhead/byhead/compartment"
)

// LogKind is what a row of a log tells.
type LogKind string

// The kinds of row.
const (
	LogMark  LogKind = "mark"  // depth of a mark below the sea
	LogDepth LogKind = "depth" // of the water in a compartment
	LogEvent LogKind = "event" // its name is EVENT:NAME; it has no value
	LogShift LogKind = "shift" // a weight lies so far to port of its listed place
	LogHeel  LogKind = "heel"
	LogTrim  LogKind = "trim"
)

// LogRow is one row of a log, in SI units.
type LogRow struct {
	Time         *float64 // s; nil: the row has none, as in a float test
	Kind         LogKind
	Name         string
	Value        float64 // NaN of an event
	Sigma        float64 // standard deviation of Value, of an event that of its time; NaN: not given
	Line, Column int     // where the row's kind stands
}

// LogHeader is the first line of a log.
const LogHeader = "time_s,kind,name,value,unit,sigma"

const (
	mostLogRows   = 1e6
	mostLogFaults = 50 // a log of the wrong sort would else tell every line
)

// logReader reads a log.
type logReader struct {
	spec   *compartment.Spec
	rows   []LogRow
	faults Faults
}

// cell is one cell of a row: its text without blanks and quotes, and its column.
type cell struct {
	text   string
	column int
}

// ReadLog reads a log or the readings of a float test: CSV with the header time_s,kind,name,value,unit,sigma, whose names
// are those of the scenario. name is the file's as the user typed it. Rows that nobody filled in (of an event no time and no
// sigma, of a reading no value and no sigma), as a printed log has them, are left out. The error is of type Faults and tells
// all that is wrong, up to 50 places.
func (s *Scenario) ReadLog(name string, data []byte) ([]LogRow, error) {
	r := logReader{spec: &s.Spec}
	text, faults := data, Faults(nil)
	if len(data) > mostFileBytes {
		faults = Faults{{Line: 1, Column: 1, What: tooLarge(len(data)).Error(), Want: fmt.Sprintf("at most %d MB", mostFileBytes>>20)}}
	} else {
		text, faults = checkRunes(data)
	}
	if len(faults) > 0 {
		return nil, faults.in(name)
	}
	r.read(string(text))
	if len(r.faults) > 0 {
		return nil, r.faults.in(name)
	}
	return r.rows, nil
}

func (r *logReader) fault(line, column int, what, want string) {
	r.faults = append(r.faults, Fault{Line: line, Column: column, What: what, Want: want})
}

func (r *logReader) read(text string) {
	header, number := false, 0
	for line := range strings.Lines(text) {
		number++
		line = strings.TrimRight(line, "\r\n")
		switch {
		case strings.Trim(line, " \t,") == "":
		case !header:
			header = true
			r.header(number, line)
		case len(r.rows) >= mostLogRows:
			r.fault(number, 1, "the log has more than a million rows", "fewer rows")
			return
		default:
			r.row(number, split(line))
		}
		if len(r.faults) >= mostLogFaults {
			return
		}
	}
	if !header {
		r.fault(1, 1, "the log is empty", "begin with the header "+LogHeader)
	}
}

func (r *logReader) header(line int, text string) {
	var names []string
	for _, f := range split(text) {
		names = append(names, f.text)
	}
	if got := strings.Join(names, ","); got != LogHeader {
		r.fault(line, 1, "the header is "+quote(got), "it has to be "+LogHeader)
	}
}

// split takes a row apart. Cells may stand in quotes, as some spreadsheets write them; none holds a comma.
func split(line string) (fields []cell) {
	column := 1
	for part := range strings.SplitSeq(line, ",") {
		text := strings.TrimSpace(part)
		before := strings.Index(part, text)
		if len(text) >= 2 && text[0] == '"' && text[len(text)-1] == '"' {
			text = strings.TrimSpace(text[1 : len(text)-1])
		}
		fields = append(fields, cell{text, column + utf8.RuneCountInString(part[:before])})
		column += utf8.RuneCountInString(part) + 1
	}
	return fields
}

// row reads one row: time, kind, name, then the value by its kind.
func (r *logReader) row(line int, f []cell) {
	if len(f) != 6 {
		r.fault(line, 1, fmt.Sprintf("the row has %d columns", len(f)), "six: "+LogHeader)
		return
	}
	row := LogRow{Kind: LogKind(f[1].text), Name: f[2].text, Value: math.NaN(), Sigma: math.NaN(), Line: line, Column: f[1].column}
	before := len(r.faults)
	if f[0].text != "" {
		if time, ok := r.number(line, f[0], "a time in seconds, such as 12.5, or nothing"); ok {
			row.Time = &time
			if time < 0 || time > kindFacts[Time].high {
				r.fault(line, f[0].column, "the time "+quote(f[0].text)+" is out of reach", "seconds since the start, from 0 on")
			}
		}
	}
	if !r.name(line, f[1], f[2]) || row.unfilled(f) && len(r.faults) == before {
		return
	}
	if row.Kind == LogEvent {
		if f[3].text != "" {
			r.fault(line, f[3].column, "an event has no value", "leave it empty")
		}
		row.Sigma = r.timeSigma(line, f)
	} else {
		kind := Length
		if row.Kind == LogHeel || row.Kind == LogTrim {
			kind = Angle
		}
		row.Value, row.Sigma = r.value(line, f, kind)
	}
	if len(r.faults) == before {
		r.rows = append(r.rows, row)
	}
}

// unfilled tells whether a row stands in the log as it was printed: nothing was read off.
func (row *LogRow) unfilled(f []cell) bool {
	if row.Kind == LogEvent {
		return f[0].text == "" && f[3].text == "" && f[5].text == ""
	}
	return f[3].text == "" && f[5].text == ""
}

// number reads a plain number.
func (r *logReader) number(line int, f cell, want string) (float64, bool) {
	x, rest, ok := readNumber(f.text)
	if ok && strings.TrimSpace(rest) == "" {
		if value, _ := x.Float64(); !math.IsInf(value, 0) {
			return value, true
		}
	}
	r.fault(line, f.column, quote(f.text)+" is not a plain number", want)
	return 0, false
}

// value reads value, unit and sigma of a row.
func (r *logReader) value(line int, f []cell, kind Kind) (value, sigma float64) {
	value, sigma = math.NaN(), math.NaN()
	const plain = "a plain number, such as 71.5; its unit stands in a column of its own"
	if f[3].text == "" {
		r.fault(line, f[3].column, "there is no value", "what was read, or no row")
		return value, sigma
	}
	if _, ok := r.number(line, f[3], plain); !ok {
		return value, sigma
	}
	if f[4].text == "" {
		r.fault(line, f[4].column, "there is no unit", due([]Kind{kind}))
		return value, sigma
	}
	q, t := readQuantity(f[3].text+" "+f[4].text, []Kind{kind})
	if t != nil {
		r.fault(line, f[4].column, t.what, t.want)
		return value, sigma
	}
	value = q.Value
	if f[5].text == "" {
		return value, sigma
	}
	if _, ok := r.number(line, f[5], plain); !ok {
		return value, sigma
	}
	if q, t = readQuantity(f[5].text+" "+f[4].text, []Kind{kind}); t != nil {
		r.fault(line, f[5].column, t.what, t.want)
	} else if sigma = q.Value; !(sigma > 0) {
		r.fault(line, f[5].column, "a standard deviation of "+quote(f[5].text), "more than 0, or nothing where it is not known")
	}
	return value, sigma
}

// timeSigma reads the sigma of an event, which is one of its time.
func (r *logReader) timeSigma(line int, f []cell) float64 {
	if f[4].text != "" && f[4].text != "s" {
		r.fault(line, f[4].column, quote(f[4].text)+" is not the unit of an event's sigma", "s, or nothing")
	}
	if f[5].text == "" {
		return math.NaN()
	}
	sigma, ok := r.number(line, f[5], "a plain number of seconds, such as 0.2")
	if ok && !(sigma > 0) {
		r.fault(line, f[5].column, "a standard deviation of "+quote(f[5].text), "more than 0, or nothing where it is not known")
	}
	return sigma
}

// name checks kind and name against the scenario.
func (r *logReader) name(line int, kind, name cell) bool {
	kinds := []string{string(LogMark), string(LogDepth), string(LogEvent), string(LogShift), string(LogHeel), string(LogTrim)}
	if !slices.Contains(kinds, kind.text) {
		r.fault(line, kind.column, quote(kind.text)+" is not a kind of row", meant(kind.text, kinds)+either(kinds))
		return false
	}
	var known []string
	what := ""
	switch LogKind(kind.text) {
	case LogMark:
		what = "mark"
		for _, m := range r.spec.Marks {
			known = append(known, m.Name)
		}
	case LogDepth:
		what = "compartment"
		for _, c := range r.spec.Compartments {
			known = append(known, c.Name)
		}
		if len(known) == 0 {
			known = []string{"hold"}
		}
	case LogShift:
		what = "weight"
		for i := range r.spec.Weights {
			known = append(known, r.spec.Weights[i].Name)
		}
	case LogEvent:
		if event, of, ok := strings.Cut(name.text, ":"); !ok || event == "" || of == "" {
			r.fault(line, name.column, quote(name.text)+" is not an event", "its kind and what it is about, such as filled:forepeak")
			return false
		}
		return true
	default:
		return true
	}
	if slices.Contains(known, name.text) {
		return true
	}
	want := "the scenario has none: add it there"
	if len(known) > 0 {
		want = meant(name.text, known) + "the name of " + article(what) + " of the scenario: " + either(known[:min(len(known), 12)])
	}
	r.fault(line, name.column, fmt.Sprintf("there is no %s %s", what, quote(name.text)), want)
	return false
}
