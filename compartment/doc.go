// Package compartment is the vessel at rest: its hull, the spaces that bulkheads and boxes make of it, the openings
// between them, the weights aboard; how all of it floats, and how firmly. It knows nothing of time.
//
// A Spec is the description, Build checks it whole and makes a Vessel, which never changes afterwards and may be shared by
// goroutines. Body axes: x forward from the after end, y to port, z up from the keel line; SI units; angles in radians.
//
// # What is in it
//
//	Spec ──Build──▶ Vessel ──With──▶ Vessel
//	                   │
//	                   ├─▶ Body, Space, Passage, Bulkhead      what it is made of
//	                   ├─▶ FloatTest ──▶ Floating              how it lies
//	                   ├─▶ NewFloater ──▶ Settle ──▶ Rest      a rest with any water aboard
//	                   ├─▶ NewLoads ──▶ Load, LoadCurve        what a joint bears
//	                   ├─▶ NewSurround                         added mass and damping
//	                   ├─▶ Parted                              what joints leave when they let go
//	                   └─▶ Plates                              outlines of the bulkheads
//
// # Where it stands
//
// This is compartment, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package compartment
