package study

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// Record is one run of a spread, a line of NDJSON. Numbers are written with all their digits, so that what is read is what was
// written to the bit.
type Record struct {
	Identity
	Run     int                `json:"run"`               // from 0
	Redrawn int                `json:"redrawn,omitempty"` // values that were out of range and drawn again
	Values  map[string]float64 `json:"values"`            // SI
	Result  map[string]any     `json:"result"`            // see Outcome: numbers, texts, true and false; fate is null where the run gave up
}

// Identity tells studies apart: records of two of them do not mix.
type Identity struct {
	Version     string `json:"version"`
	InputDigest string `json:"input_digest"`
	Sampling    string `json:"sampling"`
	Seed        uint64 `json:"seed"`
	Of          int    `json:"of"` // runs of the whole study
}

func newRecord(id Identity, run, redrawn int, values []Value, o *Outcome) *Record {
	r := &Record{Identity: id, Run: run, Redrawn: redrawn, Values: map[string]float64{}, Result: map[string]any{}}
	for _, v := range values {
		r.Values[v.Path] = v.Value
	}
	if o.Fate == flood.NoFate {
		r.Result["fate"] = nil
	}
	for i := range o.Results {
		if x := plain(&o.Results[i]); x != nil {
			if n, ok := x.(*float64); ok {
				if n == nil {
					continue
				}
				x = *n
			}
			r.Result[o.Results[i].Path] = x
		}
	}
	return r
}

// Line is the record as a line of its own. The same record gives the same bytes.
func (r *Record) Line() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(r)
	return b.Bytes(), err
}

// check refuses what no study has written.
func (r *Record) check() error {
	switch {
	case r.Of < 1 || r.Of > mostRuns:
		return fmt.Errorf("it belongs to %d runs; 1 to %d", r.Of, mostRuns)
	case r.Run < 0 || r.Run >= r.Of:
		return fmt.Errorf("it is run %d of %d; from 0 to %d", r.Run, r.Of, r.Of-1)
	case len(r.Values) == 0 || r.Result == nil:
		return fmt.Errorf("it lacks values or result; a line as spread --records writes it")
	}
	return nil
}

// mostLine is the length of the longest line that is read: some thousand times that of a usual one.
const mostLine = 16 << 20

// RecordReader reads records line by line.
type RecordReader struct {
	in    *lineReader
	Name  string // of the file, for faults
	Whole int64  // bytes of all the lines that were read whole, line ends included
}

// NewRecordReader reads from r; name is the file's as the user typed it.
func NewRecordReader(name string, r io.Reader) *RecordReader {
	return &RecordReader{in: newLineReader(r), Name: name}
}

// Next is the next record. The error is io.EOF after the last one; ErrTorn where the file ends within a line, as a process that
// was killed leaves it; or scenarios.Faults where a line is no record.
func (r *RecordReader) Next() (*Record, error) {
	line, err := r.in.next()
	if errors.Is(err, ErrTorn) && !begins(line) {
		err = r.fault("this line is no record", "a line of a file that `spread --records` wrote")
	}
	if err != nil {
		return nil, err
	}
	record := &Record{}
	d := json.NewDecoder(bytes.NewReader(line))
	d.DisallowUnknownFields()
	err = d.Decode(record)
	if err == nil && len(bytes.TrimSpace(line[d.InputOffset():])) > 0 {
		err = fmt.Errorf("something follows it")
	}
	if err == nil {
		err = record.check()
	}
	if err != nil {
		return nil, r.fault("this line is no record ("+err.Error()+")", "a line of a file that `spread --records` wrote")
	}
	r.Whole += int64(len(line))
	return record, nil
}

// begins tells whether a torn line may be the beginning of a record: nothing else is ever cut off a file.
func begins(line []byte) bool {
	const head = `{"version":`
	n := min(len(line), len(head))
	return string(line[:n]) == head[:n]
}

// fault is what is wrong at the line that was read last.
func (r *RecordReader) fault(what, want string) error {
	return scenarios.Faults{{File: r.Name, Line: r.in.line, Column: 1, What: what, Want: want}}
}

// number is a number among results, NaN for what is none.
func number(x any) float64 {
	if n, ok := x.(float64); ok {
		return n
	}
	return math.NaN()
}

// Fault is a fault of the file that is read, at the line that was read last.
func (r *RecordReader) Fault(err error, want string) error { return r.fault(err.Error(), want) }
