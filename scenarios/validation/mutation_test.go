package validation

import (
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// mutant is one thing broken in the engine, by the tables and laws that its callers can replace.
type mutant struct {
	what  string
	first string // the row that is tried first
	laws  laws
}

// lavish is an opening's own law, with a fiftieth more.
type lavish struct {
	*compartment.Passage
	water *hydro.Water
	air   *hydro.Air
}

func (g lavish) Water(v *hydro.View, a, b hydro.Side) hydro.Flow {
	f := g.Law.Water(v, g.water, a, b)
	return hydro.Flow{Rate: 1.02 * f.Rate, ByA: 1.02 * f.ByA, ByB: 1.02 * f.ByB, ByAir: 1.02 * f.ByAir}
}

func (g lavish) Air(v *hydro.View, a, b hydro.Side) hydro.AirFlow {
	return g.Law.Air(v, g.water, g.air, a, b)
}

func (g lavish) Resistance() (water, air flood.Resistance) {
	area := g.Figure.Area()
	return flood.Resistance{Linear: g.Law.Creep / area, Quadratic: g.Law.Jet / area / area},
		flood.Resistance{Linear: g.Law.AirCreep / area, Quadratic: g.Law.AirJet * g.air.Density / area / area}
}

func changeSpaces(change func(*compartment.CompartmentSpec)) laws {
	return laws{spec: func(s *compartment.Spec) {
		for i := range s.Compartments {
			change(&s.Compartments[i])
		}
	}}
}

func changeWeights(change func(*compartment.WeightSpec)) laws {
	return laws{spec: func(s *compartment.Spec) {
		s.Weights = append([]compartment.WeightSpec(nil), s.Weights...)
		for i := range s.Weights {
			change(&s.Weights[i])
		}
	}}
}

func orifices(change func(*hydro.Orifice)) laws { return laws{orifice: change} }

// centres moves the centre of all mass; its gyradii stay.
func centres(to func(r3.Vec) r3.Vec) laws {
	outer := func(x r3.Vec) solid.Moments {
		return solid.Moments{XX: x.X * x.X, YY: x.Y * x.Y, ZZ: x.Z * x.Z, XY: x.X * x.Y, XZ: x.X * x.Z, YZ: x.Y * x.Z}
	}
	return laws{vessel: func(v *compartment.Vessel) {
		b := v.Whole
		was := b.Centre
		b.Centre = to(was)
		b.Inertia = b.Inertia.Add(outer(b.Centre).Scale(b.Mass)).Add(outer(was).Scale(-b.Mass))
	}}
}

func mutants() []mutant {
	motion := func(f compartment.MotionFactors) laws { return laws{motion: &f} }
	return []mutant{
		{"coefficient: C_d of every opening 2 % more", "DI-21", orifices(func(o *hydro.Orifice) { o.Jet /= 1.02 * 1.02 })},
		{"term left out: creeping flow", "DI-52", orifices(func(o *hydro.Orifice) { o.Creep = hydro.MinimumCreep(o.Jet) })},
		{"coefficient: a bubble with one curvature", "AI-11", orifices(func(o *hydro.Orifice) { o.Bubbling /= 2 })},
		{"coefficient: air's jet by C_d instead of its square", "DI-08", orifices(func(o *hydro.Orifice) { o.AirJet *= 0.61 })},
		{"term left out: the head's part in the coefficient of a weir", "DI-40", orifices(func(o *hydro.Orifice) {
			if o.Weir {
				o.Weir, o.Jet = false, o.Jet/(0.602*0.602)
			}
		})},
		{"coefficient: the width by which a flat hole gulps, its radius", "MT-10", orifices(func(o *hydro.Orifice) { o.Width /= 2 })},
		{"law: an opening's own that passes 2 % more", "EM-01", laws{own: func(v *compartment.Vessel, p *compartment.Passage) flood.Law { return lavish{p, &v.Water, &v.Air} }}},
		{"coefficient: water 0.01 % heavier", "FL-01", laws{water: func(w *hydro.Water) { w.Density *= 1.0001 }}},
		{"coefficient: surface tension 0.1 % more", "FL-11", laws{water: func(w *hydro.Water) { w.SurfaceTension *= 1.001 }}},
		{"coefficient: air's viscosity 0.1 % more", "FL-22", laws{air: func(a *hydro.Air) { a.Viscosity *= 1.001 }}},
		{"sign: y to starboard", "ST-51", centres(func(c r3.Vec) r3.Vec { c.Y *= -1; return c })},
		{"lever: the centre of mass 1 % higher", "ST-23", centres(func(c r3.Vec) r3.Vec { c.Z *= 1.01; return c })},
		{"sign: pumps pump out", "EM-18", laws{vessel: func(v *compartment.Vessel) {
			for _, p := range v.Passages {
				p.Pump *= -1
			}
		}}},
		{"term left out: permeability", "ST-02", changeSpaces(func(c *compartment.CompartmentSpec) { c.Permeability = nil })},
		{"term left out: trapped air", "AI-06", changeSpaces(func(c *compartment.CompartmentSpec) { c.Airtight = false })},
		{"term left out: how far weights are spread", "BE-04a", changeWeights(func(w *compartment.WeightSpec) { w.Over = nil })},
		{"coefficient: the inertia of weights about their centres 4 % more", "MO-04", changeWeights(func(w *compartment.WeightSpec) {
			if w.Size != nil {
				w.Size = &[3]float64{1.02 * w.Size[0], 1.02 * w.Size[1], 1.02 * w.Size[2]}
			}
		})},
		{"coefficient: added mass 10 % more", "MO-06", motion(compartment.MotionFactors{AddedMass: 1.1, LinearDamping: 1, QuadraticDamping: 1})},
		{"coefficient: drag 20 % more", "MO-08a", motion(compartment.MotionFactors{AddedMass: 1, LinearDamping: 1, QuadraticDamping: 1.2})},
		{"coefficient: waves take 20 % more", "WA-04", motion(compartment.MotionFactors{AddedMass: 1, LinearDamping: 1.2, QuadraticDamping: 1})},
		{"coefficient: waves take 20 % less", "WA-01", motion(compartment.MotionFactors{AddedMass: 1, LinearDamping: 0.8, QuadraticDamping: 1})},
	}
}

// Whatever is broken, some row of the page shows it: by a number that is further off than its source allows, not by a failure.
func TestMutantsDoNotSurvive(t *testing.T) {
	var rows []*check
	for _, g := range chapters() {
		for i := range g.checks {
			rows = append(rows, &g.checks[i])
		}
	}
	all := mutants()
	if len(all) < 10 {
		t.Errorf("only %d mutants", len(all))
	}
	for _, m := range all {
		if by := killedBy(&m, rows); by == nil {
			t.Errorf("it survives: %s", m.what)
		} else {
			t.Logf("%s: %v", m.what, by)
		}
	}
}

// killedBy is the first row that shows a mutant: the one that is tried first, then all others in order.
func killedBy(m *mutant, rows []*check) *outcome {
	for _, firstOnly := range []bool{true, false} {
		for _, c := range rows {
			if (c.id == m.first) != firstOnly {
				continue
			}
			if o := c.do(&m.laws); o.err == nil && !o.passes() {
				return &o
			}
		}
	}
	return nil
}
