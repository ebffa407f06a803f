// Package hydro is the water and the air of a flooding model, and what they do at an opening: fluid properties, discharge
// laws, and the flow through an opening as an integral over its extent in height. It knows nothing of hulls or of time.
//
// Everything is SI. Heights are measured along a unit vector that points up, given in body axes, from the body's origin:
// the height of a point x is up·x. Pressures are gauge, above one standard atmosphere.
//
// # What is in it
//
//	Water, Air ──▶ Orifice ◀── HoleLaw, SlotLaw, EdgeLaw, FaceLaw
//	                  │
//	Figure ──▶ View ──┤   what the opening is, as it lies in the present attitude
//	Side, Side ───────┤   what stands on its two sides
//	                  ▼
//	     Flow (Water), AirFlow (Air), Exchange
//
// # Where it stands
//
// This is hydro, one of the rooms of the house, each a package. Imports run along the arrows, never the other way; under a room stand
// the packages that belong to it.
//
//	          files, words           time             at rest          water and air
//	         ┌───────────┐        ┌───────┐       ┌─────────────┐        ┌───────┐
//	cmd ───▶ │ scenarios │ ─────▶ │ flood │ ────▶ │ compartment │ ─────▶ │ hydro │
//	         └───────────┘        └───────┘       └─────────────┘        └───────┘
//	          study  shoot                             plan                solid
package hydro

// Gravity is the standard acceleration of free fall, m/s² (3rd CGPM, 1901).
const Gravity = 9.80665

// Atmosphere is the standard atmosphere, Pa (10th CGPM, 1954).
const Atmosphere = 101325.0

// gasConstantAir is the specific gas constant of dry air, J/(kg·K), rounded as the scenario format has it (ISO 2533:
// 287.05287).
const gasConstantAir = 287.05

// freezing is 0 °C in kelvin.
const freezing = 273.15
