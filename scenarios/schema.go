package scenarios

import (
	_ "embed" // the schema
	"slices"
)

// schema.json is made by the tests (go test ./scenarios -run Schema -update) from the structs that the decoder reads by.
//
//go:embed schema.json
var schema []byte

// Schema is the JSON Schema of the scenario file, for editors; docs/scenario.schema.json is the same.
func Schema() []byte { return slices.Clone(schema) }
