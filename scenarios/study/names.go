package study

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// eventKinds are the events that a document can have.
var eventKinds = []flood.EventKind{flood.Overtopped, flood.Filled, flood.AirLost, flood.Opened, flood.Shut, flood.BrokeThrough, flood.Parted,
	flood.DeckEdgeUnder, flood.Capsized, flood.PastVertical, flood.Foundered, flood.TouchedBottom, flood.SettledDown}

// CheckResult tells whether a run of a vessel can have a result of this name. The error says what is wrong, a semicolon, and
// what would be right.
func CheckResult(v *compartment.Vessel, path string) error {
	known := ResultNames(v)
	plain := strings.TrimPrefix(path, "sections.")
	if slices.Contains(known, plain) {
		return nil
	}
	words := strings.Split(plain, ".")
	if len(words) == 3 && words[0] == "margins" && slices.ContainsFunc(known, func(k string) bool {
		return strings.HasPrefix(k, "margins."+words[1]+".") && strings.HasSuffix(k, "."+words[2])
	}) {
		return nil
	}
	want := "a path into the document of sink, such as fate, duration_s or hull.foundered_s"
	if near := compartment.Nearest(plain, known); near != "" {
		want = "did you mean " + near + "? " + want
	}
	return fmt.Errorf("a run has no result %q; %s", path, want)
}

// ResultNames are all results that runs of a vessel can have.
func ResultNames(v *compartment.Vessel) (names []string) {
	doc := reflect.TypeFor[scenarios.SinkDocument]()
	list := func(prefix string, t reflect.Type, without ...string) {
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if f.Anonymous || slices.Contains(without, name) || slices.Contains(left, name) {
				continue
			}
			member := f.Type
			for member.Kind() == reflect.Pointer {
				member = member.Elem()
			}
			if member.Kind() != reflect.Struct && member.Kind() != reflect.Slice {
				names = append(names, prefix+name)
			}
		}
	}
	list("", doc)
	list("separation.", reflect.TypeFor[scenarios.Separation]())
	list("gave_up.", reflect.TypeFor[scenarios.GaveUp]())
	for _, j := range v.Spec.Joints {
		list("separations."+j.Name+".", reflect.TypeFor[scenarios.Separation](), "joint")
	}
	bodies := bodyNames(v)
	for _, b := range bodies {
		list(b+".", reflect.TypeFor[scenarios.Section](), "name")
		names = append(names, "earlier."+b+".parted_s")
	}
	return append(append(names, marginNames(v, bodies)...), eventNames(v, bodies)...)
}

// bodyNames are the bodies that can be afloat: the hull, then by their first piece, then by their last.
func bodyNames(v *compartment.Vessel) []string {
	names := []string{"hull"}
	for i := range v.Pieces {
		for k := i; k < len(v.Pieces); k++ {
			if i == 0 && k == len(v.Pieces)-1 {
				continue // the hull
			}
			var parts []string
			for _, p := range v.Pieces[i : k+1] {
				parts = append(parts, p.Name)
			}
			names = append(names, strings.Join(parts, "+"))
		}
	}
	return names
}

func marginNames(v *compartment.Vessel, bodies []string) (names []string) {
	add := func(name string, kind flood.MarginKind) {
		for _, member := range []string{"closest_m", "time_s"} {
			names = append(names, fmt.Sprintf("margins.%s.%s.%s", name, kind, member))
		}
	}
	for _, p := range v.Passages {
		if p.Bulkhead >= 0 {
			add(p.Name, flood.MarginEdge)
		}
		add(p.Name, flood.MarginMeniscus)
	}
	for _, b := range bodies {
		add(b, flood.MarginDeck)
		add(b, flood.MarginGM)
	}
	return names
}

func eventNames(v *compartment.Vessel, bodies []string) (names []string) {
	things := map[flood.EventKind][]string{}
	add := func(name string, kinds ...flood.EventKind) {
		for _, k := range kinds {
			things[k] = append(things[k], name)
		}
	}
	for _, b := range v.Bulkheads {
		add(b.Spec.Name, flood.Overtopped, flood.BrokeThrough)
	}
	for _, s := range v.Spaces {
		add(s.Name, flood.Filled, flood.AirLost)
		for _, b := range bodies[1:] { // what a parting divides goes by the bodies that its parts lie in
			add(s.Name+"."+b, flood.Filled, flood.AirLost)
		}
	}
	for _, p := range v.Passages {
		if p.Bulkhead < 0 {
			add(p.Name, flood.Opened, flood.Shut, flood.BrokeThrough)
		}
		for _, piece := range v.Pieces {
			if len(v.Pieces) > 1 { // and what it makes two, by the pieces that keep it
				add(p.Name+"."+piece.Name, flood.Opened, flood.Shut, flood.BrokeThrough)
			}
		}
	}
	for _, j := range v.Spec.Joints {
		add(j.Name, flood.Parted)
	}
	for _, b := range bodies {
		add(b, flood.DeckEdgeUnder, flood.Capsized, flood.PastVertical, flood.Foundered, flood.TouchedBottom, flood.SettledDown)
	}
	for _, k := range eventKinds {
		for _, name := range things[k] {
			for _, member := range []string{"time_s", "trim_deg", "heel_deg"} {
				names = append(names, fmt.Sprintf("events.%s.%s.%s", k, name, member))
			}
		}
	}
	return names
}

// ResultKind is what a result of this name measures, by its ending.
func ResultKind(path string) scenarios.Kind {
	for ending, kind := range map[string]scenarios.Kind{
		"_s": scenarios.Time, "_deg": scenarios.Angle, "_m": scenarios.Length, "_m3": scenarios.Volume, "_kg": scenarios.Mass,
		"_nm": scenarios.Moment, "_n": scenarios.Force,
	} {
		if strings.HasSuffix(path, ending) {
			return kind
		}
	}
	return scenarios.Plain
}
