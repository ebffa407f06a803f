package compartment

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// With is the vessel with one value of its description replaced, in SI units; what the value does not touch is shared with
// the old one: a changed opening costs nothing but that opening, a changed bulkhead the spaces, and only hull.offsets,
// hull.mesh, hull.box and hull.wigley the hull itself. Paths are those of a scenario, such as bulkheads.B4.top,
// openings.cut-1.slot.width, weights.lead.at.z, hull.shell.mass, water.temperature. It fails with Faults where there is no
// such value, or the vessel cannot be built with it.
func (v *Vessel) With(path string, value float64) (*Vessel, error) {
	spec := v.Spec
	if err := spec.set(path, value); err != nil {
		return nil, err
	}
	return build(spec, v.made)
}

// Value is the value at a path, in SI units.
func (s *Spec) Value(path string) (float64, error) {
	at, _, err := s.find(path)
	if err != nil {
		return 0, err
	}
	return at.Float(), nil
}

// Paths are all values that have a path, in the order of the description.
func (s *Spec) Paths() []string {
	var all []string
	collect(reflect.ValueOf(*s), "", &all)
	return all
}

// set replaces the value at a path in s, which shares nothing along the path with what it was copied from.
func (s *Spec) set(path string, value float64) error {
	if _, _, err := s.find(path); err != nil {
		return err
	}
	at := reflect.ValueOf(s).Elem()
	for _, word := range strings.Split(path, ".") {
		at = own(at)
		at, _ = descend(at, word)
	}
	own(at).SetFloat(value)
	return nil
}

// own makes what a pointer or a slice leads to a copy of its own, and returns it.
func own(at reflect.Value) reflect.Value {
	switch at.Kind() {
	case reflect.Pointer:
		copied := reflect.New(at.Type().Elem())
		copied.Elem().Set(at.Elem())
		at.Set(copied)
		return copied.Elem()
	case reflect.Slice:
		copied := reflect.MakeSlice(at.Type(), at.Len(), at.Len())
		reflect.Copy(copied, at)
		at.Set(copied)
	}
	return at
}

// find goes down a path to a number.
func (s *Spec) find(path string) (at reflect.Value, words []string, err error) {
	at, words = reflect.ValueOf(*s), strings.Split(path, ".")
	for _, word := range words {
		if at.Kind() == reflect.Pointer {
			at = at.Elem()
		}
		next, ok := descend(at, word)
		if !ok || next.Kind() == reflect.Pointer && next.IsNil() {
			return at, words, s.noSuch(path)
		}
		at = next
	}
	if at.Kind() == reflect.Pointer {
		at = at.Elem()
	}
	if at.Kind() != reflect.Float64 {
		return at, words, s.noSuch(path)
	}
	return at, words, nil
}

func (s *Spec) noSuch(path string) error {
	want := ""
	if near := Nearest(path, s.Paths()); near != "" {
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

// withoutPaths are the parts of a description that are tables or plates, not values.
var withoutPaths = []string{"hull.offsets", "hull.mesh"}

// collect appends the paths of all numbers in a value.
func collect(at reflect.Value, path string, all *[]string) {
	join := func(word string) string { return strings.TrimPrefix(path+"."+word, ".") }
	switch at.Kind() {
	case reflect.Pointer:
		if !at.IsNil() {
			collect(at.Elem(), path, all)
		}
	case reflect.Float64:
		*all = append(*all, path)
	case reflect.Struct:
		for i := range at.NumField() {
			if p := join(key(at.Type().Field(i).Name)); !slices.Contains(withoutPaths, p) {
				collect(at.Field(i), p, all)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range at.Len() {
			collect(at.Index(i), join(itemName(at.Index(i), i)), all)
		}
	}
}
