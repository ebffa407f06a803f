// Package shoot computes what is wanted at the water on the day of filming: the order of events at model and at full size, the
// camera's speed for the scale, the depth of water and the clear room that it takes, the lines and the pull that bring every
// section up again, and the log to fill in.
//
// New runs a scenario once and gives a Plan, in SI units and radians. Plan.Page puts it into words, as blocks that text, HTML and
// paper show alike; Plan.Log is the log as CSV, which study.Readings and Scenario.Readings take once it is filled in.
//
// Rules of thumb that have no source are constants with a name here, and the page says that they are ours.
//
// # What is in it
//
//	Scenario, Vessel ──New──▶ Plan ──┬─▶ Page      in words, block by block
//	                                 ├─▶ Document  for other programs
//	                                 └─▶ Log       to fill in at the water
//
// # Where it stands
//
// This is shoot, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package shoot
