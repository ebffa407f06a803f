// Package compartment is the vessel at rest: its hull, the spaces that bulkheads and boxes make of it, the openings
// between them, the weights aboard; how all of it floats, and how firmly. It knows nothing of time.
//
// A Spec is the description, Build checks it whole and makes a Vessel, which never changes afterwards and may be shared by
// goroutines. Body axes: x forward from the after end, y to port, z up from the keel line; SI units; angles in radians.
package compartment
