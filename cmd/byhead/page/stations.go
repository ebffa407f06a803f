package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// stationGap is the share of the hull's length within which two stations are one, and which they keep from its ends.
const stationGap = 0.012

// takeStations cuts sections through the middle of every space, and through the openings to the sea, the first of which is shown first.
func (s *shapes) takeStations(r *Recorder, length func(float64) string) {
	lo, hi := s.form.Bounds()
	gap := stationGap * (hi.X - lo.X)
	var at []float64
	add := func(x float64) {
		x = max(lo.X+gap, min(hi.X-gap, x))
		for k := range r.vessel.Spec.Bulkheads { // a section in a wall's own plane would be of either side
			if b := r.vessel.Spec.Bulkheads[k].At; math.Abs(x-b) < gap/4 {
				x = b + gap/4
			}
		}
		if !slices.ContainsFunc(at, func(o float64) bool { return math.Abs(o-x) < gap }) {
			at = append(at, x)
		}
	}
	first := (lo.X + hi.X) / 2
	for i := len(r.openings) - 1; i >= 0; i-- {
		if o := r.openings[i]; o.Flow == nil && (o.Between[0] == outside || o.Between[1] == outside) {
			first = o.At.X
		}
	}
	add(first)
	first = at[0]
	for _, o := range r.openings {
		if o.Between[0] == outside || o.Between[1] == outside {
			add(o.At.X)
		}
	}
	for i := range r.spaces {
		from, to := r.spaces[i].Room.Bounds()
		add((from.X + to.X) / 2)
	}
	slices.Sort(at)
	for i, x := range at {
		if x == first {
			s.Station = i
		}
		s.Stations = append(s.Stations, s.station(r, x, length))
	}
}

// station is the section at x.
func (s *shapes) station(r *Recorder, x float64, length func(float64) string) stationOut {
	first, _ := piecesAt(r.vessel, x)
	out := stationOut{X: s.place(r3.Vec{X: x})[0], Piece: first, Hull: s.section(s.form, x), Spaces: []sectionOut{}}
	var through []string
	for i := range r.spaces {
		loops := s.section(r.spaces[i].Room, x)
		if len(loops) == 0 {
			continue
		}
		out.Spaces = append(out.Spaces, sectionOut{i, loops, s.section(s.bare[i], x)})
		if name := compartmentOf(r.vessel, &r.spaces[i]); !slices.Contains(through, name) {
			through = append(through, name)
		}
	}
	out.Label = fmt.Sprintf("at %s: %s", length(x), strings.Join(through, ", "))
	return out
}

// compartmentOf is the name of the compartment that a space is, or is a part of.
func compartmentOf(v *compartment.Vessel, s *spaceShape) string { return v.Spaces[s.Index].Name }

// section is the outline of a form across the hull, without x.
func (s *shapes) section(of *solid.Solid, x float64) []loop {
	loops := []loop{}
	for _, l := range s.figure(sectionOf(of, x)) {
		var out loop
		for i := 0; i < len(l); i += 3 {
			out = append(out, l[i+1], l[i+2])
		}
		loops = append(loops, out)
	}
	return loops
}

// sectionOf is the section of a form as one figure, or, of one too odd for that, as the cuts of its plates.
func sectionOf(of *solid.Solid, x float64) (o solid.Outline) {
	seen, err := compartment.SectionSeen(of, compartment.AcrossX, x)
	if err != nil {
		return of.Section(solid.Plane{N: r3.Vec{X: 1}, D: x})
	}
	for _, l := range seen {
		var loop []r3.Vec
		for _, q := range l {
			loop = append(loop, compartment.AcrossX.Body(q, x))
		}
		o = append(o, loop)
	}
	return o
}
