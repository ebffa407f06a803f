package study

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// Outcome is what a run came to, as a list of results by their paths in the run's document. Items of a list go by their
// names: stern.foundered_s (sections, by name alone), separations.J1.time_s, margins.B4.edge.closest_m. Of the events the
// first of each kind and thing is there, with how the body lay at that moment: events.overtopped.B4.time_s, .trim_deg and
// .heel_deg. What does not apply (null in the document) is not in the list.
type Outcome struct {
	Fate    flood.Fate // "": the run gave up
	GaveUp  *flood.Failure
	Results []Result
}

// Result is one result: a number, unless Text says something.
type Result struct {
	Path   string
	Number float64 // SI and degrees; NaN where it is a text
	Text   string
}

// IsText tells whether it is a text (true and false are), not a number.
func (r *Result) IsText() bool { return r.Text != "" }

// Find is the result at a path; nil where it has none. sections. before a section's name may stand or not, and a margin's
// kind may be left out where its name has but one.
func (o *Outcome) Find(path string) *Result {
	path = strings.TrimPrefix(path, "sections.")
	for i := range o.Results {
		if o.Results[i].Path == path {
			return &o.Results[i]
		}
	}
	words := strings.Split(path, ".")
	if len(words) != 3 || words[0] != "margins" {
		return nil
	}
	var found *Result
	for i := range o.Results {
		r := &o.Results[i]
		if strings.HasPrefix(r.Path, "margins."+words[1]+".") && strings.HasSuffix(r.Path, "."+words[2]) {
			if found != nil {
				return nil
			}
			found = r
		}
	}
	return found
}

// Number is the number at a path, NaN where there is none.
func (o *Outcome) Number(path string) float64 {
	if r := o.Find(path); r != nil && !r.IsText() {
		return r.Number
	}
	return math.NaN()
}

// Text is the text at a path, "" where there is none.
func (o *Outcome) Text(path string) string {
	if r := o.Find(path); r != nil {
		return r.Text
	}
	return ""
}

// moments are the samples at events.
type moments []moment

type moment struct {
	time   float64
	bodies []flood.BodySample
}

func (m *moments) keep(s *flood.Sample) {
	if s.Event {
		*m = append(*m, moment{s.Time, slices.Clone(s.Bodies)})
	}
}

// lay is how a body lay at a time, degrees; ok is false where no sample shows it.
func (m moments) lay(body string, time float64) (trim, heel float64, ok bool) {
	for i := range m {
		if m[i].time != time {
			continue
		}
		for _, b := range m[i].bodies {
			if b.Name == body && b.Present {
				return b.Trim * (180 / math.Pi), b.Heel * (180 / math.Pi), true
			}
		}
	}
	return 0, 0, false
}

// left are the members of the document that are no results.
var left = []string{"format", "title", "version", "input_digest", "warnings", "bending_curve", "events", "first_wetting", "doubt"}

// newOutcome lists the results of a run in the order of its document.
func newOutcome(s *scenarios.Scenario, r *flood.Result, at moments) *Outcome {
	o := &Outcome{Fate: r.Fate, GaveUp: r.GaveUp}
	doc := scenarios.NewSinkDocument(s, r)
	for name, value := range members(reflect.ValueOf(doc)) {
		switch {
		case name == "events":
			o.addEvents(doc.Events, at)
		case !slices.Contains(left, name):
			o.add(name, value)
		}
	}
	return o
}

// members are the members of a document by their names in JSON, those of what it embeds too.
func members(v reflect.Value) func(yield func(string, reflect.Value) bool) {
	for v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	return func(yield func(string, reflect.Value) bool) {
		for i := range v.NumField() {
			f := v.Type().Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if f.Anonymous || name == "" {
				continue // the head
			}
			if !yield(name, v.Field(i)) {
				return
			}
		}
	}
}

// add lists a value of the document.
func (o *Outcome) add(path string, v reflect.Value) {
	for v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	switch v.Kind() {
	case reflect.Float64:
		o.Results = append(o.Results, Result{Path: path, Number: v.Float()})
	case reflect.Int:
		o.Results = append(o.Results, Result{Path: path, Number: float64(v.Int())})
	case reflect.String:
		if v.Len() > 0 {
			o.Results = append(o.Results, Result{Path: path, Number: math.NaN(), Text: v.String()})
		}
	case reflect.Bool:
		o.Results = append(o.Results, Result{Path: path, Number: math.NaN(), Text: fmt.Sprint(v.Bool())})
	case reflect.Struct:
		for name, member := range members(v) {
			o.add(path+"."+name, member)
		}
	case reflect.Slice:
		for i := range v.Len() {
			o.addItem(path, v.Index(i))
		}
	}
}

// addItem lists an item of a list by its name, the members that make the name left out.
func (o *Outcome) addItem(list string, item reflect.Value) {
	if item.Kind() != reflect.Struct {
		return
	}
	name, kind := "", ""
	for member, v := range members(item) {
		switch {
		case member == "name" || member == "joint" && name == "":
			name = v.String()
		case member == "kind":
			kind = v.String()
		}
	}
	path := list + "." + name
	if list == "sections" {
		path = name
	}
	if kind != "" {
		path += "." + kind
	}
	for member, v := range members(item) {
		if member != "name" && member != "joint" && member != "kind" {
			o.add(path+"."+member, v)
		}
	}
}

// addEvents lists the first event of each kind and thing, and how the body lay then.
func (o *Outcome) addEvents(events []scenarios.Happening, at moments) {
	seen := map[string]bool{}
	for _, e := range events {
		path := fmt.Sprintf("events.%s.%s", e.Event, e.Name)
		if e.Time == nil || seen[path] {
			continue
		}
		seen[path] = true
		o.Results = append(o.Results, Result{Path: path + ".time_s", Number: *e.Time})
		body := e.Name
		if e.Section != nil {
			body = *e.Section
		}
		trim, heel, ok := at.lay(body, *e.Time)
		if !ok {
			if trim, heel, ok = at.lay("hull", *e.Time); !ok {
				continue
			}
		}
		o.Results = append(o.Results, Result{Path: path + ".trim_deg", Number: trim}, Result{Path: path + ".heel_deg", Number: heel})
	}
}
