package compartment

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode"
)

// With is the vessel with one value of its description replaced, in SI units; what the value does not touch is shared with
// the old one: a changed opening costs nothing but that opening, a bulkhead's top its gap, its place the spaces, and only
// hull.offsets, hull.mesh, hull.box and hull.wigley the hull itself. Paths are those of a scenario, such as bulkheads.B4.top,
// openings.cut-1.slot.width, weights.lead.at.z, hull.shell.mass, water.temperature. It fails with Faults where there is no
// such value, or the vessel cannot be built with it.
func (v *Vessel) With(path string, value float64) (*Vessel, error) {
	spec := v.Spec
	if err := spec.set(path, value); err != nil {
		return nil, err
	}
	return build(spec, v.made)
}

// Value is the value at a path, in SI units. A value that With can set but the description does not give is an error.
func (s *Spec) Value(path string) (float64, error) {
	at, err := s.find(path)
	if err != nil {
		return 0, err
	}
	if at.Kind() == reflect.Pointer {
		return 0, Faults{{Path: path, What: "the value is not given", Want: "a value to start from"}}
	}
	return at.Float(), nil
}

// Paths are all values that the description gives and that have a path, in its order.
func (s *Spec) Paths() []string {
	var all []string
	collect(reflect.ValueOf(*s), "", false, &all)
	return all
}

// optional are the members that With may set where the description does not give them: those without which there is a
// default, and that exclude no other.
func optional(word string) bool {
	switch word {
	case "cd", "top", "permeability", "contact_angle", "density", "depth", "surface_tension", "hogging", "sagging", "shear", "hinge":
		return true
	}
	return false
}

// set replaces the value at a path in s, which shares nothing along the path with what it was copied from.
func (s *Spec) set(path string, value float64) error {
	if _, err := s.find(path); err != nil {
		return err
	}
	at := reflect.ValueOf(s).Elem()
	for _, word := range strings.Split(path, ".") {
		at, _ = descend(own(at), word)
	}
	at = own(at)
	if at.Type() == reflect.TypeFor[StartSpec]() {
		at = own(at.Field(onlyGiven(at)))
	}
	at.SetFloat(value)
	return nil
}

// own makes what a pointer or a slice leads to a copy of its own, and returns it; an empty pointer gets something to lead to.
func own(at reflect.Value) reflect.Value {
	switch at.Kind() {
	case reflect.Pointer:
		copied := reflect.New(at.Type().Elem())
		if !at.IsNil() {
			copied.Elem().Set(at.Elem())
		}
		at.Set(copied)
		return copied.Elem()
	case reflect.Slice:
		copied := reflect.MakeSlice(at.Type(), at.Len(), at.Len())
		reflect.Copy(copied, at)
		at.Set(copied)
	}
	return at
}

// find goes down a path to a number, or to the empty place of an optional one.
func (s *Spec) find(path string) (reflect.Value, error) {
	at := reflect.ValueOf(*s)
	words := strings.Split(path, ".")
	for i, word := range words {
		next, ok := descend(through(at), word)
		if !ok {
			return at, s.noSuch(path)
		}
		at = next
		if at.Kind() == reflect.Pointer && at.IsNil() {
			if i == len(words)-1 && at.Type() == reflect.TypeFor[*float64]() && optional(word) {
				return at, nil
			}
			return at, s.noSuch(path)
		}
	}
	at = through(at)
	if at.Type() == reflect.TypeFor[StartSpec]() {
		if i := onlyGiven(at); i >= 0 {
			at = at.Field(i).Elem()
		}
	}
	if at.Kind() != reflect.Float64 {
		return at, s.noSuch(path)
	}
	return at, nil
}

// through is what a pointer leads to, or the value itself.
func through(at reflect.Value) reflect.Value {
	if at.Kind() == reflect.Pointer {
		return at.Elem()
	}
	return at
}

// onlyGiven is the member of a start that is given: the path compartments.NAME.starts means that, whichever it is; −1 where
// it is not one.
func onlyGiven(start reflect.Value) int {
	found := -1
	for i := range start.NumField() {
		if start.Field(i).IsNil() {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = i
	}
	return found
}

func (s *Spec) noSuch(path string) error {
	var known []string
	collect(reflect.ValueOf(*s), "", true, &known)
	want := ""
	if near := Nearest(path, known); near != "" {
		want = fmt.Sprintf("did you mean %s?", near)
	}
	return Faults{{Path: path, What: fmt.Sprintf("there is no value %q", path), Want: want}}
}

// descend is the member of a struct, the item of a list by its name or index, or the coordinate of a vector that a word names.
func descend(at reflect.Value, word string) (reflect.Value, bool) {
	switch at.Kind() {
	case reflect.Struct:
		for i := range at.NumField() {
			if key(at.Type().Field(i).Name) == word {
				return at.Field(i), true
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range at.Len() {
			if itemName(at.Index(i), i) == word {
				return at.Index(i), true
			}
		}
		if i, err := strconv.Atoi(word); err == nil && i >= 0 && i < at.Len() && strconv.Itoa(i) == word {
			return at.Index(i), true
		}
		if at.Kind() == reflect.Slice && at.Len() == 1 && at.Index(0).Type() == reflect.TypeFor[Condition]() {
			return descend(at.Index(0), word) // a single condition needs no index
		}
	}
	return at, false
}

// itemName is what an item of a list is called in a path: its name, else its index.
func itemName(item reflect.Value, i int) string {
	if item.Kind() == reflect.Struct {
		if name := item.FieldByName("Name"); name.IsValid() && name.Kind() == reflect.String && name.Len() > 0 {
			return name.String()
		}
	}
	return strconv.Itoa(i)
}

// key is a member's name as a path has it: ContactAngle is contact_angle.
func key(field string) string {
	var out strings.Builder
	for i, r := range field {
		if unicode.IsUpper(r) && i > 0 {
			out.WriteByte('_')
		}
		out.WriteRune(unicode.ToLower(r))
	}
	return out.String()
}

// tabled tells the parts of a description that are tables or plates, not values.
func tabled(path string) bool { return path == "hull.offsets" || path == "hull.mesh" }

// collect appends the paths of all numbers in a value; empty: those of optional ones that are not given too.
func collect(at reflect.Value, path string, empty bool, all *[]string) {
	join := func(word string) string { return strings.TrimPrefix(path+"."+word, ".") }
	switch at.Kind() {
	case reflect.Pointer:
		switch {
		case at.Type() == reflect.TypeFor[*StartSpec]():
			if !at.IsNil() && onlyGiven(at.Elem()) >= 0 {
				*all = append(*all, path)
			}
		case !at.IsNil():
			collect(at.Elem(), path, empty, all)
		case empty && at.Type() == reflect.TypeFor[*float64]() && optional(path[strings.LastIndexByte(path, '.')+1:]):
			*all = append(*all, path)
		}
	case reflect.Float64:
		*all = append(*all, path)
	case reflect.Struct:
		for i := range at.NumField() {
			if p := join(key(at.Type().Field(i).Name)); !tabled(p) {
				collect(at.Field(i), p, empty, all)
			}
		}
	case reflect.Slice, reflect.Array:
		if at.Type() == reflect.TypeFor[[]Condition]() && at.Len() == 1 {
			collect(at.Index(0), path, empty, all)
			return
		}
		for i := range at.Len() {
			collect(at.Index(i), join(itemName(at.Index(i), i)), empty, all)
		}
	}
}
