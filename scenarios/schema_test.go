package scenarios

import (
	"bytes"
	"encoding/json"
	"os"
	"reflect"
	"strings"
	"testing"

	generator "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
)

const schemaInDocs = "../docs/scenario.schema.json"

// made is the schema made from the documents' tags and the values' shapes.
func made(t *testing.T) []byte {
	r := &generator.Reflector{
		Anonymous: true, ExpandedStruct: true, RequiredFromJSONSchemaTags: true, FieldNameTag: "yaml",
		Namer:  func(t reflect.Type) string { return strings.TrimSuffix(t.Name(), "Doc") },
		Mapper: mapped,
	}
	s := r.Reflect(fileDoc{})
	s.Title = "Byhead scenario"
	for _, part := range []any{conditionDoc{}, densityDoc{}, pieceDoc{}} {
		for name, def := range r.Reflect(part).Definitions {
			s.Definitions[name] = def
		}
		name := r.Namer(reflect.TypeOf(part))
		def := r.Reflect(part)
		def.Definitions, def.Version = nil, ""
		s.Definitions[name] = def
	}
	short := shapeSchema(new(name).shape())
	s.Definitions["compartment"] = &generator.Schema{AnyOf: []*generator.Schema{short, s.Definitions["compartment"]}}
	out, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(out, '\n')
}

func mapped(t reflect.Type) *generator.Schema {
	if v, ok := reflect.New(t).Interface().(value); ok {
		return shapeSchema(v.shape())
	}
	return nil
}

// shapeSchema is the schema of a value. Where a value may be written in several ways it is any of them.
func shapeSchema(s shape) *generator.Schema {
	var ways []*generator.Schema
	add := func(w *generator.Schema) { ways = append(ways, w) }
	if s.number != nil {
		add(numberSchema(s.number))
	}
	if len(s.words) > 0 {
		add(&generator.Schema{Enum: anys(s.words)})
	}
	if s.pattern != "" {
		// a name of digits, and a title of one number, are numbers to YAML
		add(&generator.Schema{Extras: map[string]any{"type": []string{"string", "number"}}, Pattern: s.pattern})
	}
	if s.bool {
		add(&generator.Schema{Type: "boolean"})
	}
	if s.any {
		add(&generator.Schema{Type: "object"})
	}
	if len(s.fields) > 0 {
		for _, w := range sidesSchemas(s) {
			add(w)
		}
	} else if s.items != nil {
		n := uint64(s.count)
		add(&generator.Schema{Type: "array", Items: shapeSchema(*s.items), MinItems: &n, MaxItems: &n})
	}
	for _, d := range s.docs {
		ref := &generator.Schema{Ref: "#/$defs/" + strings.TrimSuffix(reflect.TypeOf(d.doc).Name(), "Doc")}
		if d.list {
			ref = &generator.Schema{Type: "array", Items: ref}
		}
		add(ref)
	}
	out := &generator.Schema{AnyOf: ways}
	if len(ways) == 1 {
		out = ways[0]
	}
	if len(s.not) > 0 {
		out.Not = &generator.Schema{Enum: anys(s.not)}
	}
	if s.example != "" && s.number != nil {
		out.Examples = []any{s.example}
	}
	return out
}

// sidesSchemas are the two ways of a rectangle: `24 mm x 1.2 mm`, and its sides by name.
func sidesSchemas(s shape) []*generator.Schema {
	side := strings.Trim(quantityPattern(s.items.number), "^$")
	m := &generator.Schema{Type: "object", Properties: generator.NewProperties(), Required: s.fields, AdditionalProperties: generator.FalseSchema}
	for _, f := range s.fields {
		m.Properties.Set(f, shapeSchema(*s.items))
	}
	return []*generator.Schema{{Type: "string", Pattern: "^" + side + "[x×]" + side + "$"}, m}
}

func numberSchema(r *rule) *generator.Schema {
	s := &generator.Schema{Type: "string", Pattern: quantityPattern(r)}
	for _, k := range r.kinds {
		if k != Plain {
			continue
		}
		s.Type, s.Extras = "", map[string]any{"type": []string{"string", "number"}}
		if r.high > r.low || r.low != 0 {
			low := json.Number(Quantity{Number: r.low}.String())
			if r.above {
				s.ExclusiveMinimum = low
			} else {
				s.Minimum = low
			}
			s.Maximum = json.Number(Quantity{Number: r.high}.String())
		}
	}
	return s
}

// quantityPattern is the form of a quantity's text. What is more than an upper limit, or no more than nothing, is left to
// the reader.
func quantityPattern(r *rule) string {
	sign := `[-+]?`
	if r.low == 0 && r.high > 0 {
		sign = `\+?`
	}
	var units []string
	optional := ""
	for _, k := range r.kinds {
		if k == Plain {
			optional = "?"
			continue
		}
		for _, u := range unitNames(k) {
			units = append(units, strings.ReplaceAll(u, ".", `\.`))
		}
	}
	const number = `(([0-9]+ +)?[0-9]+/[0-9]+|([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]{1,3})?)`
	if len(units) == 0 {
		return "^ *" + sign + number + " *$"
	}
	return "^ *" + sign + number + " *(" + strings.Join(units, "|") + ")" + optional + " *$"
}

func anys(words []string) []any {
	out := make([]any, len(words))
	for i, w := range words {
		out[i] = w
	}
	return out
}

// TestSchemaIsOfTheDecoder: the schema that the program prints is made from the decoder's structs, and docs/ has the same.
func TestSchemaIsOfTheDecoder(t *testing.T) {
	want := made(t)
	if *update {
		for _, path := range []string{"schema.json", schemaInDocs} {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return
	}
	if !bytes.Equal(Schema(), want) {
		t.Error("schema.json is not what the decoder's structs make (go test ./scenarios -run Schema -update)")
	}
	docs, err := os.ReadFile(schemaInDocs)
	if err != nil || !bytes.Equal(docs, want) {
		t.Errorf("%s is not what the decoder's structs make: %v", schemaInDocs, err)
	}
}

func compiled(t *testing.T) *jsonschema.Schema {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("scenario.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("scenario.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// obeys validates a scenario as an editor does: by what YAML makes of it.
func obeys(t *testing.T, s *jsonschema.Schema, text []byte) error {
	var v any
	if err := yaml.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	asJSON, err := json.Marshal(v)
	if err != nil {
		return err // JSON has no NaN
	}
	v, err = jsonschema.UnmarshalJSON(bytes.NewReader(asJSON))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(v)
}

func TestSchemaTakesDemosAndExamples(t *testing.T) {
	s := compiled(t)
	texts := map[string][]byte{}
	for _, name := range DemoNames() {
		_, data, err := OpenDemo(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[DemoPrefix+name] = data
	}
	for _, path := range []string{"testdata/example.yaml", "testdata/every-key.yaml"} {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		texts[path] = data
	}
	for name, text := range texts {
		if err := obeys(t, s, text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSchemaRefusesBrokenFiles: of the broken files those whose fault lies in keys, shapes, words or units; and it takes those
// whose fault only the reader can see, such as a name that does not exist.
func TestSchemaRefusesBrokenFiles(t *testing.T) {
	s := compiled(t)
	for _, group := range [][]brokenCase{brokenKeys, brokenUnits, brokenLists, brokenParts, brokenBuilds, brokenRuns, brokenVariants} {
		for _, c := range group {
			text, _ := marked(c.text)
			if err := obeys(t, s, []byte(text)); (err != nil) != c.schema {
				t.Errorf("%s: refused %v, want %v (%v)\n%s", c.name, err != nil, c.schema, err, text)
			}
		}
	}
}
