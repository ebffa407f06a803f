// Package flood steps a compartmented vessel's flooding through time.
//
// Start puts a built vessel afloat; Steps advances it and hands out every step as it comes; Finish runs it to its end.
// One run belongs to one goroutine, any number of runs may share a Vessel. Same input, same bits.
//
//	run, err := flood.Start(vessel, flood.Settings{})
//	for step, err := range run.Steps(ctx) { … }
//	result := run.Result()
//
// # What is in it
//
//	Vessel, Settings ──Start──▶ Run ──Steps──▶ Step, Step, Step … with their Events
//	                             │  └─Samples─▶ Sample, Sample …
//	                             ├─▶ Result      fate, events, margins, warnings, balances
//	                             ├─▶ FloatTest   how it would lie with the water aboard
//	                             ├─▶ Change      go on with another value
//	                             └─▶ Save ──Resume──▶ Run
//
// # Where it stands
//
// This is flood, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package flood
