package shoot

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// Attitude is how a section hangs when it comes up.
type Attitude int

// The attitudes.
const (
	Level    Attitude = iota // by both ends, keel down
	ByAfter                  // by its after end, its fore end down
	ByFore                   // by its fore end, its after end down
	attitude                 // how many there are
)

// up is the upward direction in body axes.
func (a Attitude) up() r3.Vec {
	return [attitude]r3.Vec{{Z: 1}, {X: -1}, {X: 1}}[a]
}

// Lift is what it takes to bring a section up from the floor. Every space that water can reach is taken to be full: the most that
// it can come to, with no air left in it.
type Lift struct {
	Name      string
	Mass      float64           // kg, dry, with all weights aboard
	Water     float64           // m³ inside when full
	Stays     [attitude]float64 // m³ of it that no opening lets out while it hangs in air
	Submerged float64           // N, under water: weight of body and floodwater less that of the water it displaces; negative: it rises
	AtOnce    float64           // N, in air with all the water still inside
	Drained   [attitude]float64 // N, in air with what stays
}

// lifts are those of the sections as a run left them: parted tells which joints have parted, open which passages are open.
func lifts(v *compartment.Vessel, parted []bool, open func(*compartment.PartedPassage) bool) (all []Lift) {
	q := v.Parted(parted)
	for i := range q.Bodies {
		all = append(all, liftOf(v, q, i, open))
	}
	return all
}

func liftOf(v *compartment.Vessel, q *compartment.Parted, index int, open func(*compartment.PartedPassage) bool) Lift {
	body := q.Bodies[index]
	density := v.Water.Density
	f := compartment.NewFloater(body, density, true)
	l := Lift{Name: body.Name, Mass: f.Mass}
	reached := sills(q, r3.Vec{Z: 1}, func(*compartment.PartedPassage) bool { return true })
	for i := range q.Spaces {
		if s := &q.Spaces[i]; s.Body == index {
			l.Water += held(s, reached[i])
		}
	}
	displaced := body.Form.Volume()
	if body.Appendages != nil {
		displaced += body.Appendages.Volume()
	}
	if body.LaterAppendages != nil {
		displaced += body.LaterAppendages.Volume()
	}
	weight := func(water float64) float64 { return hydro.Gravity * (l.Mass + density*water) }
	l.AtOnce = weight(l.Water)
	l.Submerged = l.AtOnce - hydro.Gravity*density*displaced
	for a := range attitude {
		l.Stays[a] = stays(q, index, f, reached, a.up(), open)
		l.Drained[a] = weight(l.Stays[a])
	}
	return l
}

// held is the water in a space when all that water can reach is full; else what it starts with.
func held(s *compartment.PartedSpace, sill float64) float64 {
	if math.IsInf(sill, 1) {
		return math.Min(s.StartVolume(), s.Capacity())
	}
	return s.Capacity()
}

// stays is the water that a body keeps when it hangs in air: in every space what stands below the sill that it would have to run
// over on the easiest way out.
func stays(q *compartment.Parted, index int, f *compartment.Floater, reached []float64, up r3.Vec, open func(*compartment.PartedPassage) bool) (total float64) {
	levels := sills(q, up, open)
	for i := range q.Spaces {
		s := &q.Spaces[i]
		if s.Body != index {
			continue
		}
		full := held(s, reached[i])
		if math.IsInf(reached[i], 1) || math.IsInf(levels[i], 1) {
			total += full // nothing came in, or nothing goes out
			continue
		}
		f.Fill(s.Local, up, levels[i])
		total += f.Surfaces()[s.Local].Volume
	}
	return total
}

// sills are for every space the height along up that water in it must pass on its way to the outside: of all ways through open
// passages and cut faces the lowest of their highest sills. +Inf: there is no way. Pumps are ways where water is let in.
func sills(q *compartment.Parted, up r3.Vec, open func(*compartment.PartedPassage) bool) []float64 {
	levels := make([]float64, len(q.Spaces))
	for i := range q.Spaces {
		levels[i] = math.Inf(1)
		for k := range q.Spaces[i].Faces {
			levels[i] = math.Min(levels[i], lowest(q.Spaces[i].Faces[k].Figure, up))
		}
	}
	at := func(i int) float64 {
		if i == compartment.Outside {
			return math.Inf(-1)
		}
		return levels[i]
	}
	for changed := true; changed; {
		changed = false
		for i := range q.Passages {
			p := &q.Passages[i]
			if !open(p) {
				continue
			}
			sill := lowest(p.Figure, up)
			for _, side := range [2][2]int{{p.From, p.To}, {p.To, p.From}} {
				if side[0] == compartment.Outside {
					continue
				}
				if way := math.Max(sill, at(side[1])); way < levels[side[0]] {
					levels[side[0]], changed = way, true
				}
			}
		}
	}
	return levels
}

// lowest is the least height of a figure along up.
func lowest(f *hydro.Figure, up r3.Vec) float64 {
	var view hydro.View
	f.View(up, &view)
	return view.Low
}
