package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// sinkTables are the files that a run writes; nil where one is not asked for.
type sinkTables struct {
	trace, curve         *pending
	traceName, curveName string
	rows                 *scenarios.Trace
}

// beginTables opens what is asked for, or nothing.
func (a *app) beginTables(in *input, f sinkFlags) (*sinkTables, error) {
	t := &sinkTables{traceName: f.trace, curveName: f.curve}
	var err error
	if t.trace, err = a.beginTable("trace", f.trace, "time_s,"); err != nil {
		return nil, err
	}
	if t.curve, err = a.beginTable("curve", f.curve, scenarios.CurveHeader); err != nil {
		t.discard()
		return nil, err
	}
	if t.trace != nil {
		t.rows = scenarios.NewTrace(t.trace, in.vessel)
	}
	return t, nil
}

// sampling gives the samples to the story, and to the trace where there is one.
func (t *sinkTables) sampling(story *scenarios.Story) func(*flood.Sample) {
	if t.rows == nil {
		return story.Sample
	}
	return func(s *flood.Sample) { story.Sample(s); t.rows.Row(s) }
}

// end puts the tables whole in their places; of one that cannot be written nothing is left, and the first error is told.
func (t *sinkTables) end(r *flood.Result) (failed error) {
	if t.trace != nil {
		failed = t.trace.end("trace", t.traceName, t.rows.Finish())
	}
	if t.curve != nil {
		if err := t.curve.end("curve", t.curveName, scenarios.WriteCurve(t.curve, r.Curve)); failed == nil {
			failed = err
		}
	}
	return failed
}

// discard leaves everything as it was.
func (t *sinkTables) discard() {
	for _, p := range [2]*pending{t.trace, t.curve} {
		if p != nil {
			p.Discard()
		}
	}
}

// beginTable opens a table, nil where none is asked for. A file that is there and is no such table is not written over: a
// scenario's table of offsets is a .csv too.
func (a *app) beginTable(what, name, head string) (*pending, error) {
	if name == "" {
		return nil, nil
	}
	path := a.path(name)
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() && info.Size() > 0 {
		if !beginsWith(path, head) {
			return nil, fmt.Errorf("%s exists and is not a %s; another name, or move it away", name, what)
		}
	}
	p, err := begin(path)
	if err != nil {
		return nil, unwritable(what, name, err)
	}
	return p, nil
}

func beginsWith(path, text string) bool {
	file, err := os.Open(path)
	if err != nil {
		return false
	}
	defer file.Close()
	head := make([]byte, len(text))
	n, _ := file.Read(head)
	return string(head[:n]) == text
}

// end puts a table in its place where it has been written, else leaves nothing.
func (p *pending) end(what, name string, err error) error {
	if err != nil {
		p.Discard()
		return unwritable(what, name, err)
	}
	if err := p.Commit(); err != nil {
		return unwritable(what, name, err)
	}
	return nil
}

func unwritable(what, name string, err error) error {
	return fmt.Errorf("the %s %s cannot be written: %w", what, name, errors.New(plain(err)))
}
