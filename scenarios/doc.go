// Package scenarios is the scenario file: its format with units, every fault told at its place, variants of a scenario,
// and the demos that ship with the program. It turns text into a compartment.Spec and a Run, in SI units, and knows
// nothing of terminals.
//
// Read takes a file apart in one go:
//
//	text ──parse──▶ nodes with places ──decode──▶ documents ──convert──▶ Scenario
//
// The documents (the structs named …Doc, one file for each part of the format) are the only description of the format's
// keys: the decoder and the JSON Schema are both made from their tags. A value of a variant is put into the nodes and
// everything after that is done again, so that a variant is checked as strictly as a file.
//
// Lines and columns count from 1, columns in characters (not bytes, not screen cells; a tab is one). A byte order mark
// at the head of a file is not counted: the first character after it stands in column 1.
//
// # What is in it
//
//	text ──Read──▶ Scenario ──Build──▶ compartment.Vessel ──flood.Start──▶ flood.Run
//	                  │  Variant, Set: the same with other values             │
//	                  │  Digest: what was read                                ▼
//	                  └──────────────▶ NewSinkDocument, NewStory, NewTrace ◀─ Result, Sample
//
// # Where it stands
//
// This is scenarios, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package scenarios
