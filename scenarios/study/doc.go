// Package study runs a vessel many times with other values and tells what comes of it: Compare sets layouts side by side, Size
// finds the value that gives a wanted result, Spread says how likely each outcome is when the workshop misses, and Fit takes
// coefficients from a flood test that was timed.
//
// Every run starts from one Model by Vessel.WithAll, so that the tree of the hull is built once, whatever the number of
// runs. Runs go side by side on a pool of workers, and are handed over in their order: the results are the same, to the bit,
// for any number of workers on one build target.
//
// A result is named by its path in the document of a run, such as fate, stern.afloat_alone_s or separation.time_s; see
// Outcome for what this package adds.
//
// # What is in it
//
//	Scenario ──NewModel──▶ Model ──Run──▶ Outcome
//	                         ├──Compare──▶ Comparison
//	                         ├──Size─────▶ Sizing
//	                         ├──NewSpread▶ Spread ──▶ Record, Record … ──Tally──▶ Summary
//	                         └──Fit──────▶ Fitted
//
// # Where it stands
//
// This is study, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package study
