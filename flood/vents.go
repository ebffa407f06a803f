package flood

import (
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
)

// vent is what is remembered of an opening that let the air of a space out over the sea.
type vent struct {
	Name   string
	Height float64 // of its centre over the sea at the end of the last step, m
	Time   float64 // s, of that
	Blown  bool    // air has gone out by it while it stood over the sea
	Under  float64 // s since when it has been under; NaN: it is not
	Air    float64 // of its space when it went under, m³ at one atmosphere
	Left   float64 // of it at the end of the last step before its body foundered
}

// vent follows the openings by which trapped air leaves. Where one goes under is found on a straight line between steps: it is for a
// warning.
func (r *Run) vent() {
	for j := range r.ports {
		p := &r.ports[j]
		i := r.ventsSpace(p)
		if i < 0 || !math.IsNaN(r.sections[p.body].foundered) { // in free motion it goes on down
			continue
		}
		v := r.ventOf(p.Name)
		v.Left = r.airIn(i)
		height, out := r.now.pose[p.body].Height(p.centre), r.now.gust[j]
		if p.To != compartment.Outside {
			out = -out
		}
		switch {
		case height >= 0:
			v.Under = math.NaN()
			v.Blown = v.Blown || out > 0
		case v.Blown && math.IsNaN(v.Under):
			v.Under, v.Air = r.now.time, r.airIn(i)
			if v.Height > 0 {
				v.Under = v.Time + (r.now.time-v.Time)*v.Height/(v.Height-height)
			}
		}
		v.Height, v.Time = height, r.now.time
	}
}

// airIn is the air in a space that holds its own, m³ at one atmosphere.
func (r *Run) airIn(i int) float64 {
	if r.spaces[i].bell {
		return r.bellAir(i, &r.now)
	}
	return r.now.excess[i] + (r.spaces[i].capacity - r.now.water[i])
}

// ventsSpace is the space whose air a listed opening lets out; −1: it is none such.
func (r *Run) ventsSpace(p *port) int {
	inside := p.From + p.To - compartment.Outside
	if p.Listed == nil || p.Pump != 0 || p.From != compartment.Outside && p.To != compartment.Outside || inside < 0 || !r.spaces[inside].holdsAir() {
		return -1
	}
	return inside
}

// ventOf is the memory of an opening by its name, which a parting leaves alone.
func (r *Run) ventOf(name string) *vent {
	i := slices.IndexFunc(r.vents, func(v vent) bool { return v.Name == name })
	if i < 0 {
		i = len(r.vents)
		r.vents = append(r.vents, vent{Name: name, Under: math.NaN()})
	}
	return &r.vents[i]
}

// ventWarnings tell of vents that went under for good before the air was out, where that made a difference: the body stayed up on what
// was left, or more than a hundredth of the space left it by the vent under water.
func (r *Run) ventWarnings() (all []Warning) {
	for j := range r.ports {
		p := &r.ports[j]
		i := r.ventsSpace(p)
		if i < 0 {
			continue
		}
		v, worth := r.ventOf(p.Name), 0.01*r.spaces[i].capacity
		if !(v.Under >= 0) || v.Air < worth {
			continue
		}
		if stays := math.IsNaN(r.sections[p.body].foundered); stays || v.Air-v.Left > worth {
			all = append(all, Warning{Kind: VentUnder, Name: v.Name, Value: v.Air, Time: v.Under})
		}
	}
	return all
}
