package flood_test

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/flood"
)

// sampleWatch looks for numbers that are none in samples and results.
type sampleWatch struct {
	first string             // the first of them
	floor bool               // the pool has one: what joints bear on it is not known
	noGM  map[string]float64 // s: since when a body that is not steep, nor out of the water, has no metacentric height
}

func (f *sampleWatch) check(name string, time float64, numbers ...float64) {
	for i, x := range numbers {
		if f.first == "" && (math.IsNaN(x) || math.IsInf(x, 0)) {
			f.first = fmt.Sprintf("%g s, %s, its number %d, %g", time, name, i, x)
		}
	}
}

// sample looks at all members of a sample. The metacentric height is NaN of what is steep or displaces nothing; see result.
func (f *sampleWatch) sample(s *flood.Sample) {
	f.check("time", s.Time, s.Time)
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if !b.Present {
			continue
		}
		f.check(b.Name, s.Time, b.Sinkage, b.Trim, b.Heel, b.DraftFore, b.DraftAft, b.Displaced, b.Freeboard)
		if _, known := f.noGM[b.Name]; !known && math.IsNaN(b.GM) && math.Abs(b.Trim) < math.Pi/3 && b.Displaced > 0 {
			f.noGM[b.Name] = s.Time
		}
	}
	for _, c := range s.Spaces {
		f.check(c.Name, s.Time, c.Water, c.Depth, c.Air)
	}
	for _, j := range s.Joints {
		unknown := math.IsNaN(j.Bending) && math.IsNaN(j.Shear) && math.IsNaN(j.Torsion) && math.IsNaN(j.Axial) && math.IsNaN(j.EndMoment)
		if j.Present && !(f.floor && unknown) { // what it bears on the floor is not known
			f.check(j.Name, s.Time, j.Bending, j.Shear, j.Torsion, j.Axial, j.EndMoment)
		}
	}
	for _, p := range s.Passages {
		f.check(p.Name, s.Time, p.Water, p.Air)
	}
}

// result looks at a result. Times of what did not happen may be NaN, and the heel of what was never less than steep; a metacentric
// height too once its body has foundered.
func (f *sampleWatch) result(r *flood.Result) {
	f.check("totals", r.Duration, r.Duration, r.WaterBalance, r.WaterCrossed, r.AirBalance, r.AirCrossed)
	for _, s := range r.Separations {
		f.check("separation "+s.Joint, s.Time, s.Time, s.Trim)
		if !(f.floor && math.IsNaN(s.Bending)) {
			f.check("separation "+s.Joint, s.Time, s.Bending, s.Shear)
		}
	}
	for _, e := range r.Earlier {
		f.check("earlier "+e.Name, e.Parted, e.Parted)
	}
	for i := range r.Sections {
		f.section(&r.Sections[i])
	}
	for _, e := range r.Events {
		f.check("event "+string(e.Kind), e.Time, e.Time)
	}
	for _, m := range r.Margins {
		f.check("margin "+m.Name, m.Time, m.Closest, m.Time)
	}
	for _, w := range r.Warnings {
		f.check("warning "+w.Name, w.Time, w.Value, w.Time)
	}
	if c := r.Curve; c != nil {
		f.check("peaks of bending", c.Time, c.Time, c.Peak.Value, c.PeakShear.Value)
		f.check("places of bending", c.Time, c.X...)
		f.check("bending", c.Time, c.Bending...)
		f.check("shear", c.Time, c.Shear...)
	}
	for _, s := range r.Sections {
		if since, none := f.noGM[s.Name]; none && !(since >= s.Foundered) {
			f.check("metacentric height of "+s.Name, since, math.NaN())
		}
	}
}

func (f *sampleWatch) section(s *flood.SectionResult) {
	f.check("section "+s.Name, s.SteepestAt, s.Steepest, s.SteepestAt)
	if s.Fate == flood.Founders {
		f.check("foundering of "+s.Name, s.Foundered, s.Foundered, s.AfloatAlone)
	}
	if s.Steepest < math.Pi/3 && s.AfloatAlone != 0 { // what founders as it comes into being has no heel
		f.check("heel of "+s.Name, s.SteepestAt, s.WorstHeel)
	}
}
