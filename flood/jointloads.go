package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

// JointLoads is what a joint bore: at the start, at most, and when it let go. Magnitudes, N and N·m, of each kind for itself; their
// moments are the ends of steps. It is what a joint is designed by.
type JointLoads struct {
	Name        string
	Parted      float64 // s; NaN: it holds
	Start, Last compartment.Load
	Hogging     Extreme // of the bending
	Sagging     Extreme
	Shear       Extreme
	Torsion     Extreme
	Compression Extreme // of the axial force
	Tension     Extreme
}

// Extreme is the greatest magnitude of a load, and when that was. 0 and NaN: there was none of that kind.
type Extreme struct{ Value, Time float64 }

// most takes a load over where it is the greatest so far.
func (e *Extreme) most(value, time float64) {
	if value > e.Value {
		e.Value, e.Time = value, time
	}
}

// unborne are the loads of a joint that has borne nothing yet.
func unborne(name string) JointLoads {
	none := Extreme{0, math.NaN()}
	return JointLoads{Name: name, Parted: math.NaN(), Hogging: none, Sagging: none, Shear: none, Torsion: none, Compression: none, Tension: none}
}

// take puts a load at a time down.
func (b *JointLoads) take(l compartment.Load, time float64) {
	if time == 0 {
		b.Start = l
	}
	b.Last = l
	b.Hogging.most(l.Bending, time)
	b.Sagging.most(-l.Bending, time)
	b.Shear.most(math.Abs(l.Shear), time)
	b.Torsion.most(math.Abs(l.Torsion), time)
	b.Compression.most(l.Axial, time)
	b.Tension.most(-l.Axial, time)
}

// strains keeps what every joint bears, and the greatest share of what it holds: not on the floor, whose force is not in it.
func (r *Run) strains() {
	for i := range r.joints {
		j := &r.joints[i]
		if r.parted[i] {
			continue
		}
		if r.onTheFloor(j.body, &r.now) {
			if r.now.time == 0 {
				j.borne.Start = unknownLoad
			}
			continue
		}
		j.borne.take(j.load, r.now.time)
		if m := j.Strain(j.load).Margin; !math.IsInf(m, 1) {
			j.asked = math.Max(j.asked, 1-m)
		}
	}
}

// jointLoads are those of all joints, in the vessel's order.
func (r *Run) jointLoads() (all []JointLoads) {
	for i := range r.joints {
		all = append(all, r.joints[i].borne)
	}
	return all
}
