package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"gonum.org/v1/gonum/spatial/r3"
)

// usualSigma is the standard deviation of a reading whose row gives none: a steel rule at the waterline, a dipstick, a clock
// stopped by hand at a video, a bubble or a phone for the angles. Guesses; what the residuals show replaces them.
var usualSigma = map[scenarios.LogKind]float64{
	scenarios.LogMark: 0.5e-3, scenarios.LogDepth: 1e-3, scenarios.LogEvent: 0.2,
	scenarios.LogHeel: 0.1 * math.Pi / 180, scenarios.LogTrim: 0.1 * math.Pi / 180,
}

// Reading is a row of a flood test's log.
type Reading struct {
	scenarios.LogRow
	Given bool // the row gives its sigma
}

// Readings takes the rows of a log as a timed flood test. Rows of a float test (no time; no event, no depth) are left out, as long
// as others have a time. name is the file's; the error is of type scenarios.Faults, where a row is of another sort.
func Readings(m *Model, name string, rows []scenarios.LogRow) ([]Reading, error) {
	var faults scenarios.Faults
	var out []Reading
	both := slices.ContainsFunc(rows, func(row scenarios.LogRow) bool { return row.Time != nil })
	for _, row := range rows {
		if both && row.Time == nil && row.Kind != scenarios.LogEvent && row.Kind != scenarios.LogDepth {
			continue
		}
		fault := func(what, want string) {
			faults = append(faults, scenarios.Fault{File: name, Line: row.Line, Column: row.Column, What: what, Want: want})
		}
		switch {
		case row.Kind == scenarios.LogShift:
			fault("a weight that is moved, in a flood test", "mark, depth, event, heel or trim; `float --measured` takes a shift")
		case row.Time == nil:
			fault("a row without a time, in a flood test", "time_s, in seconds since the start of the run")
		case row.Kind == scenarios.LogEvent:
			event := fmt.Sprintf("events.%s.time_s", strings.Replace(row.Name, ":", ".", 1))
			if err := CheckResult(m.Vessel, event); err != nil {
				what, want, _ := strings.Cut(err.Error(), "; ")
				fault(what, want)
			}
		}
		r := Reading{row, !math.IsNaN(row.Sigma)}
		if !r.Given {
			r.Sigma = usualSigma[row.Kind]
		}
		out = append(out, r)
	}
	if len(rows) == 0 {
		faults = append(faults, scenarios.Fault{File: name, Line: 1, Column: 1, What: "nothing was read off", Want: "rows with a time, of the kinds mark, depth, event, heel or trim"})
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return out, nil
}

// Value is what was read: the time of an event, else the row's value.
func (r *Reading) value() float64 {
	if r.Kind == scenarios.LogEvent {
		return *r.Time
	}
	return r.LogRow.Value
}

// predictor foretells the readings of a log. It may be shared by goroutines.
type predictor struct {
	readings []Reading
	every    float64 // s between samples: such that every reading has one, else close enough to go straight between
	until    float64
}

const mostSamples = 2000 // of a run, for readings

func newPredictor(m *Model, readings []Reading) *predictor {
	p := &predictor{readings: readings, until: m.Settings.Until}
	last, step := 0.0, 0.0
	for i := range readings {
		r := &readings[i]
		last = math.Max(last, *r.Time)
		if r.Kind != scenarios.LogEvent {
			step = divisor(step, math.Round(*r.Time*1000))
		}
	}
	p.until = math.Max(1.1*last, math.Min(p.until, 2*last)) // what a run twice as slow would do is of no use
	if !(p.until > 0) {
		p.until = m.Settings.Until
	}
	p.every = step / 1000
	if !(p.every > 0) || p.until/p.every > mostSamples {
		p.every = p.until / mostSamples
	}
	return p
}

// divisor is the greatest common divisor of whole numbers.
func divisor(a, b float64) float64 {
	for b != 0 {
		a, b = b, math.Mod(a, b)
	}
	return a
}

// predict runs a model and gives what should have been read. After the end of the run things stay as they were at it; an event
// that does not happen is put at the end of the time that the run had. seen tells which readings the run has.
func (p *predictor) predict(ctx context.Context, m *Model) (values []float64, seen []bool, err error) {
	settings := m.Settings
	settings.Until, settings.Every, settings.Tolerance = p.until, p.every, math.Min(settings.Tolerance, 1e-6)
	track := &track{of: m, readings: p.readings, values: make([]float64, len(p.readings)), before: make([]float64, len(p.readings))}
	settings.Samples = track.sample
	run, err := flood.Start(m.Vessel, settings)
	if err != nil {
		return nil, nil, err
	}
	result, err := run.Finish(ctx)
	if err != nil {
		return nil, nil, err
	}
	if result.GaveUp != nil {
		return nil, nil, nil
	}
	seen = make([]bool, len(p.readings))
	for i := range p.readings {
		r := &p.readings[i]
		if r.Kind != scenarios.LogEvent {
			seen[i] = !math.IsNaN(track.values[i])
			continue
		}
		track.values[i] = p.until
		for _, e := range result.Events {
			if string(e.Kind)+":"+e.Name == r.Name {
				track.values[i], seen[i] = e.Time, true
				break
			}
		}
	}
	return track.values, seen, nil
}

// track follows the readings through the samples of a run, straight between two of them.
type track struct {
	of             *Model
	readings       []Reading
	values, before []float64
	time           float64
	begun          bool
}

func (t *track) sample(s *flood.Sample) {
	for i := range t.readings {
		r := &t.readings[i]
		if r.Kind == scenarios.LogEvent || t.begun && t.time >= *r.Time {
			continue
		}
		now := t.read(r, s)
		t.values[i] = now
		if at := *r.Time; t.begun && s.Time > at {
			t.values[i] = t.before[i] + (now-t.before[i])*(at-t.time)/(s.Time-t.time)
		}
		t.before[i] = now
	}
	t.time, t.begun = s.Time, true
}

// read is what a reading would have been at a sample; NaN where its body or compartment is not there.
func (t *track) read(r *Reading, s *flood.Sample) float64 {
	if r.Kind == scenarios.LogDepth {
		for i := range s.Spaces {
			if s.Spaces[i].Name == r.Name {
				return s.Spaces[i].Depth
			}
		}
		return math.NaN()
	}
	at := r3.Vec{}
	if r.Kind == scenarios.LogMark {
		i := slices.IndexFunc(t.of.Vessel.Marks, func(m compartment.MarkSpec) bool { return m.Name == r.Name })
		at = t.of.Vessel.Marks[i].At
	}
	b := t.bodyAt(s, at, r.Kind == scenarios.LogMark)
	switch {
	case b == nil:
		return math.NaN()
	case r.Kind == scenarios.LogTrim:
		return b.Trim
	case r.Kind == scenarios.LogHeel:
		return b.Heel
	}
	return t.depthOf(b, at)
}

// bodyAt is the body that is there and holds a point; of angles the first that is there.
func (t *track) bodyAt(s *flood.Sample, at r3.Vec, point bool) *flood.BodySample {
	piece := 0
	for k, j := range t.of.Vessel.Spec.Joints {
		if at.X > j.At {
			piece = k + 1
		}
	}
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if b.Present && (!point || b.Name == "hull" || slices.Contains(strings.Split(b.Name, "+"), t.of.Vessel.Pieces[piece].Name)) {
			return b
		}
	}
	return nil
}

// depthOf is how deep a point of a body lies under the sea: with u the direction up in the body's axes, the depth of the keel
// line's after end and the point's height over it.
func (t *track) depthOf(b *flood.BodySample, at r3.Vec) float64 {
	up := r3.Vec{X: -math.Sin(b.Trim), Y: math.Cos(b.Trim) * math.Sin(b.Heel), Z: math.Cos(b.Trim) * math.Cos(b.Heel)}
	keel := t.of.Vessel.Whole.KeelAft
	for _, p := range t.of.Vessel.Pieces {
		if b.Name == p.Name || strings.HasPrefix(b.Name, p.Name+"+") {
			keel = p.KeelAft
			break
		}
	}
	return b.DraftAft - r3.Dot(up, r3.Sub(at, keel))
}
