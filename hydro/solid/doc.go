// Package solid holds closed solids bounded by triangles and their integrals below a plane: volume, moments, the area of
// the cut and its moments, the plane that cuts off a given volume, the part below a plane, the outline of a section.
//
// A Solid is a cycle of oriented triangles: every edge is run through as often one way as the other. It may be
// non-convex, in several pieces, and have voids in it (a reversed cycle takes room away). A Solid never changes once it is
// made, and any number of goroutines may share it.
//
// Lengths are in metres wherever the package names a unit (the readers and their limits); all else is in whatever unit the
// corners have, areas in its square and volumes in its cube. A plane that is not a number gives integrals that are not
// numbers; nothing here panics on data.
//
// An empty solid (from Clip, or New without triangles) has volume 0 and no triangles, and every method works on it: its
// bounds and reaches are 0, the nearest plate is infinitely far.
//
// # What is in it
//
//	ReadSTL ──▶ Mesh ────────────┐           ┌──▶ Below, Offset   integrals below a plane, and the plane for a volume
//	ReadOffsets ──▶ Stations ────┼─▶ Solid ──┼──▶ Clip, ClipBox   the part below it, or in a box
//	Box, Wigley, New, Sum ───────┘           └──▶ Section         the outline of a cut
//
// # Where it stands
//
// This is solid, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package solid
