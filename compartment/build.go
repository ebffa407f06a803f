package compartment

import (
	"fmt"
	"math"
	"strconv"

	"github.com/byhead/byhead/hydro"
)

// Build makes a vessel of a description, or returns Faults: everything that is wrong with it at once.
//
// It goes by stages, each made from the description and the stages before it: hull, walls, rooms, solids, shell, spaces,
// sections, masses, passages. A stage whose input is at fault is left out, and those that need it too. Vessel.With runs the
// same stages and takes over what a changed value leaves alone.
func Build(spec Spec) (*Vessel, error) { return build(spec, &made{}) }

// made holds what the stages have produced, for With to take over; nil what has not been made.
type made struct {
	hull     *hullForm
	walls    *walls
	rooms    *rooms
	solids   *solids
	skins    *skins
	spaces   []*Space
	sections *sections
	fluids   fluids
	ground   ground
	joints   []JointSpec
	passages []*Passage
}

// fluids is what the laws of openings are made for.
type fluids struct {
	water hydro.Water
	air   hydro.Air
}

// builder is one run through the stages. Old is what another vessel's run has produced; it may be taken over, never changed.
type builder struct {
	report
	spec  *Spec
	old   *made
	made  *made
	notes []Note
}

func (b *builder) note(path, format string, values ...any) {
	b.notes = append(b.notes, Note{Path: path, Text: fmt.Sprintf(format, values...)})
}

func build(spec Spec, old *made) (*Vessel, error) {
	b := &builder{spec: &spec, old: old, made: &made{}}
	b.validate(b.spec)
	b.makeFluids()
	b.makeHull()
	b.makeWalls()
	b.makeRooms()
	b.makeSolids()
	b.makeSkins()
	b.makeSpaces()
	b.makeSections()
	bodies := b.makeBodies()
	b.makePassages()
	if len(b.faults) > 0 {
		return nil, b.faults
	}
	b.tellVolumeless()
	b.tellOverhangs()
	return b.vessel(bodies), nil
}

// vessel puts the products together.
func (b *builder) vessel(bodies bodies) *Vessel {
	v := &Vessel{
		Spec:      *b.spec,
		Water:     b.made.fluids.water,
		Air:       b.made.fluids.air,
		Depth:     math.Inf(1),
		Whole:     bodies.whole,
		Pieces:    bodies.pieces,
		Spaces:    b.made.spaces,
		Passages:  b.made.passages,
		Bulkheads: b.made.walls.bulkheads(b.spec, b.made.passages),
		Marks:     b.spec.Marks,
		Notes:     b.notes,
		made:      b.made,
		rows:      newRows(),
	}
	if b.spec.Water.Depth != nil {
		v.Depth = *b.spec.Water.Depth
	}
	return v
}

// makeFluids takes the formulae's water at the temperature given, then the replaced values.
func (b *builder) makeFluids() {
	w := &b.spec.Water
	if b.broken("water") {
		return
	}
	formula := hydro.FreshWater
	if w.Kind == Sea {
		formula = hydro.SeaWater
	}
	water, err := formula(w.Temperature)
	if err != nil {
		b.fault("water.temperature", err.Error(), "")
		return
	}
	if w.Density != nil {
		water.Density = *w.Density
	}
	if w.SurfaceTension != nil {
		water.SurfaceTension = *w.SurfaceTension
	}
	b.made.fluids = fluids{water: water, air: hydro.NewAir(w.Temperature)}
}

// tellVolumeless tells how many grams have no volume, as check, float and sink have to.
func (b *builder) tellVolumeless() {
	sum := 0.0
	for i := range b.spec.Weights {
		if w := &b.spec.Weights[i]; w.Density == nil {
			sum += w.Mass
		}
	}
	if sum > 0 {
		b.note("weights", "%s g of weights without density were treated as having no volume", grams(sum))
	}
	if s := &b.spec.Hull.Shell; s.Mass != nil && s.Density == nil {
		b.note("hull.shell", "%s g of shell without density were treated as having no volume", grams(*s.Mass))
	}
}

// grams writes a mass for people, without exponents: to the milligram below a kilogram, else to a tenth of a gram.
func grams(kg float64) string {
	scale := 10.0
	if kg < 1 {
		scale = 1000
	}
	return strconv.FormatFloat(math.Round(1000*kg*scale)/scale, 'f', -1, 64)
}
