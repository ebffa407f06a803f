package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// moment is how the whole hull lay at a time, for its bending.
type moment struct {
	Time       float64
	Pose       compartment.Pose
	Water, Air []float64 // m³ and Pa, by space
	Moves      bool
	Motion     compartment.Motion // where it moves
}

// moments are some of the run while the hull was whole, evenly over its steps: from them the worst for bending is found when it is
// asked for, since a curve along the hull costs more than a step.
type moments struct {
	Kept    []moment
	Stride  int      // steps between those kept
	Count   int      // steps since the last
	Over    bool     // it is whole no longer
	Joint   []moment // the one at which a joint bent most; none: none did
	AtJoint float64  // that bending, N·m
}

// mostMoments are kept; then every other one goes, and the steps between them double.
const mostMoments = 256

// bends keeps the present moment when its turn has come, or a joint has never bent so much.
func (r *Run) bends() {
	m := &r.moments
	if m.Over || !r.bendsAtAll() || r.onTheFloor(0, &r.now) {
		return
	}
	most := 0.0
	for i := range r.joints {
		most = math.Max(most, math.Abs(r.joints[i].load.Bending))
	}
	if most > m.AtJoint {
		m.AtJoint = most
		m.Joint = r.keepMoment(m.Joint[:0])
	}
	if m.Count++; m.Count < m.Stride {
		return
	}
	m.Count = 0
	if m.Kept = r.keepMoment(m.Kept); len(m.Kept) < mostMoments {
		return
	}
	for i := 0; i < len(m.Kept); i += 2 { // changed about, so that the memory of those that go is there for others
		m.Kept[i/2], m.Kept[i] = m.Kept[i], m.Kept[i/2]
	}
	m.Kept, m.Stride = m.Kept[:(len(m.Kept)+1)/2], 2*max(m.Stride, 1)
}

// keepMoment appends the present moment of the whole to a list, in the memory of one that was there before. A list that is full gets
// room for as many more as there are, so that hardly any step allocates.
func (r *Run) keepMoment(list []moment) []moment {
	if len(list) == cap(list) {
		more := make([]moment, len(list), max(1, min(mostMoments, 8*len(list))))
		copy(more, list)
		list = more
		n := len(r.spaces)
		room := make([]float64, 2*n*(cap(list)-len(list)))
		for i := len(list); i < cap(list); i++ {
			m := &list[:cap(list)][i]
			m.Water, room = room[:0:n], room[n:]
			m.Air, room = room[:0:n], room[n:]
		}
	}
	list = list[:len(list)+1]
	m := &list[len(list)-1]
	m.Time, m.Pose, m.Moves = r.now.time, r.now.pose[0], r.free()
	m.Water, m.Air = append(m.Water[:0], r.now.water...), m.Air[:0]
	for i := range r.spaces {
		m.Air = append(m.Air, r.airPressure(i, &r.now))
	}
	if m.Moves {
		m.Motion = *r.loadMotion(0, &r.now)
	}
	return list
}

// bendsAtAll tells whether a curve of bending is kept: not where it is not asked for, nor of a hull without joints that is held by a
// clamp of unknown place.
func (r *Run) bendsAtAll() bool {
	return !r.set.NoCurve && !r.failedStart && (r.set.Motion != Held || len(r.joints) > 0)
}

// lastWhole keeps the moment of the first parting, which is the last of the whole hull; not on the floor, whose force is not known.
func (r *Run) lastWhole() {
	m := &r.moments
	if !m.Over && r.bendsAtAll() && !r.onTheFloor(0, &r.now) {
		m.Kept = r.keepMoment(m.Kept)
	}
	m.Over = true
}

// bendingCurve is the bending along the hull at the worst moment while it was whole; nil where nothing bends. It is chosen by rough
// peaks: of the moment at which a joint bent most, of every 32nd of those kept and the last, then of ever nearer ones about the worst
// so far.
func (r *Run) bendingCurve() *BendingCurve {
	all := r.moments.Kept
	if len(all) == 0 {
		return nil
	}
	hull := newWhole(r.vessel)
	worst, most, last := 0, 0.0, len(all)-1
	seen := make([]bool, len(all))
	look := func(i int) {
		if seen[i] {
			return
		}
		seen[i] = true
		if b := hull.rough(&all[i]); b > most {
			worst, most = i, b
		}
	}
	look(last)
	for i := 0; i < last; i += 32 {
		look(i)
	}
	for _, stride := range [3]int{8, 2, 1} {
		near := worst
		for i := max(0, near-3*stride); i <= min(last, near+3*stride); i += stride {
			look(i)
		}
	}
	then := &all[worst]
	for i := range r.moments.Joint {
		if m := &r.moments.Joint[i]; hull.rough(m) > most {
			most, then = hull.rough(m), m
		}
	}
	if most <= leastBending*hull.weight*hull.floater.Length() {
		return nil
	}
	return &BendingCurve{Time: then.Time, LoadCurve: *hull.loads.Curve(hull.lies(then))}
}

// leastBending is the share of weight × length under which a bending is only rounding.
const leastBending = 1e-9

// whole weighs the whole hull aside from the run.
type whole struct {
	floater *compartment.Floater
	loads   *compartment.Loads
	weight  float64 // N
}

func newWhole(v *compartment.Vessel) *whole {
	f := compartment.NewFloater(v.Whole, v.Water.Density, true)
	return &whole{f, v.NewLoads(v.Whole, true), f.Mass * hydro.Gravity}
}

// rough is about the greatest bending at a moment.
func (w *whole) rough(m *moment) float64 { return math.Abs(w.loads.Greatest(w.lies(m)).Value) }

// lies is how the hull lay at a moment, with its waters at rest.
func (w *whole) lies(m *moment) *compartment.LoadCase {
	w.floater.Levels(m.Pose.Up, m.Water)
	c := &compartment.LoadCase{Pose: m.Pose, Surfaces: w.floater.Surfaces(), Air: m.Air}
	if m.Moves {
		c.Motion = &m.Motion
	}
	return c
}
