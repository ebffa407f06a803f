package scenarios

import (
	"os"
	"reflect"
	"strings"
	"testing"
)

// TestDocsNameEveryKey: docs/scenario.md has every key of every document, and its first example can be read and built.
func TestDocsNameEveryKey(t *testing.T) {
	data, err := os.ReadFile("../docs/scenario.md")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	seen := 0
	var look func(reflect.Type)
	look = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if v, ok := reflect.New(typ).Interface().(value); ok {
			for _, d := range v.shape().docs {
				look(reflect.TypeOf(d.doc))
			}
			return
		}
		for _, f := range fieldsOf(typ) {
			seen++
			if !strings.Contains(text, "`"+f.key+"`") && !strings.Contains(text, f.key+":") && !strings.Contains(text, f.key+",") && !strings.Contains(text, f.key+"}") {
				t.Errorf("the key %q of %s is not described", f.key, typ.Name())
			}
			look(f.kind)
		}
	}
	look(reflect.TypeFor[fileDoc]())
	if seen < 90 {
		t.Errorf("only %d keys were looked at", seen)
	}
	for _, u := range unitTable {
		if !strings.Contains(text, u.Name) {
			t.Errorf("the unit %s is not described", u.Name)
		}
	}
	block := strings.SplitN(strings.SplitN(text, "```yaml\n", 2)[1], "```", 2)[0]
	s, err := Read(nil, "-", []byte(block))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Build(); err != nil {
		t.Error(err)
	}
}
