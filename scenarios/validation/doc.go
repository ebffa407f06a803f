// Package validation holds the engine against the outside: its tests reckon every row of docs/validation.md and
// docs/experiments.md, fail where one is off by more than its source allows, and write the pages with -update. It has
// nothing to import.
package validation
