package compartment

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// SpaceHold is the water that a space takes up to a plane, m³.
type SpaceHold struct {
	Name   string
	Volume float64
}

// InWater is how a body floats in a kind of water at the vessel's temperature. Lengths in m, angles in rad, NaN where it
// does not float.
type InWater struct {
	Kind                WaterKind
	Density             float64 // kg/m³
	Floats              bool
	DraftFore, DraftAft float64
	Trim, Heel          float64
	Marks               []float64 // depth of each of Vessel.Marks below the sea
}

// filledTo is what can be tried with a jug on the bench: the volume of the outer form below a plane (what the body
// displaces when the sea stands there), and the water that each space takes up to it, solids, plates and permeability
// reckoned off, m³.
func (b *Body) filledTo(p Pose) (form float64, spaces []SpaceHold) {
	plane := planeAt(p.Up, p.Sea)
	for _, s := range b.Spaces {
		spaces = append(spaces, SpaceHold{s.Name, s.Fraction * s.Room.Below(plane).Volume})
	}
	return b.Form.Below(plane).Volume, spaces
}

// inWaters floats a body in fresh water and in sea water. The floodwater is of the same kind as the sea.
func (v *Vessel) inWaters(f *Floater, seek func(*Floater) Rest) []InWater {
	var all []InWater
	for _, kind := range [2]WaterKind{Fresh, Sea} {
		w, err := waterOf(kind, v.Spec.Water.Temperature)
		if err != nil {
			continue // Build has taken the temperature: out of reach, and there is no such water
		}
		all = append(all, v.inWater(kind, w.Density, f, seek))
	}
	return all
}

func waterOf(kind WaterKind, temperature float64) (hydro.Water, error) {
	if kind == Sea {
		return hydro.SeaWater(temperature)
	}
	return hydro.FreshWater(temperature)
}

// inWater floats a body in water of a density.
func (v *Vessel) inWater(kind WaterKind, density float64, f *Floater, seek func(*Floater) Rest) InWater {
	g := *f
	g.Density = density
	g.surfaces = make([]Surface, len(f.surfaces))
	for i := range g.surfaces {
		g.surfaces[i].Level = nan
	}
	w := InWater{Kind: kind, Density: density, DraftFore: nan, DraftAft: nan, Trim: nan, Heel: nan}
	rest := seek(&g)
	w.Floats = rest.Stable
	if w.Floats {
		w.DraftFore, w.DraftAft = g.Body.Drafts(rest.Pose)
		w.Trim, w.Heel = rest.Pose.Trim(), rest.Pose.Heel()
	}
	for _, m := range v.Marks {
		depth := nan
		if w.Floats {
			depth = -rest.Pose.Height(m.At)
		}
		w.Marks = append(w.Marks, depth)
	}
	return w
}

// Laid is the vessel with a mass laid on it for a trial, kg, at a place: a point weight without volume, aboard now. It
// fails with Faults where the mass is absurd or the place off the hull.
func (v *Vessel) Laid(mass float64, at r3.Vec) (*Vessel, error) {
	if !(mass > 0) || math.IsInf(mass, 0) {
		return nil, Faults{{Path: "weights", What: fmt.Sprintf("a mass of %g kg cannot be laid on", mass), Want: "a mass above zero"}}
	}
	if lo, hi := v.Whole.Form.Bounds(); !(at.X >= lo.X && at.X <= hi.X && at.Y >= lo.Y && at.Y <= hi.Y) {
		return nil, Faults{{Path: "weights", What: fmt.Sprintf("what is laid at x %.4g m, y %.4g m lies off the hull", at.X, at.Y),
			Want: fmt.Sprintf("x from %.4g to %.4g m, y from %.4g to %.4g m", lo.X, hi.X, lo.Y, hi.Y)}}
	}
	spec := v.Spec
	spec.Weights = append(spec.Weights[:len(spec.Weights):len(spec.Weights)], WeightSpec{Name: v.freeName("laid"), Mass: mass, At: at})
	return build(spec, v.made)
}

// freeName is a name that no part of the vessel has: the word with the first number that is free.
func (v *Vessel) freeName(word string) string {
	taken := map[string]bool{}
	for i := range v.Spec.Weights {
		taken[v.Spec.Weights[i].Name] = true
	}
	for k := 1; ; k++ {
		if name := fmt.Sprintf("%s-%d", word, k); !taken[name] {
			return name
		}
	}
}
