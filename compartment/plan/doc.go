// Package plan works out how to load a vessel, and how it is loaded in truth: the ballast that makes it float as wanted, and
// mass and centre of gravity from a measured float test. It knows of vessels at rest only. SI units, body axes as in package
// compartment, angles in radians.
//
// # What is in it
//
//	Spec, Wish, Place ──Ballast──▶ BallastPlan: pieces, and how it floats with them; or what cannot be had, and why
//	Vessel, Reading ──Measure────▶ Measured: mass and centre as they are, and which weight may be wrong
//
// # Where it stands
//
// This is plan, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package plan
