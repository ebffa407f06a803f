// Package plan works out how to load a vessel, and how it is loaded in truth: the ballast that makes it float as wanted, and
// mass and centre of gravity from a measured float test. It knows of vessels at rest only. SI units, body axes as in package
// compartment, angles in radians.
package plan
