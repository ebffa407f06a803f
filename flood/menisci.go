package flood

import (
	"math"

	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// meniscus is what a dry opening or edge holds back, and what it met. What holds is the surface at the far rim, for water has not
// been there yet: so a mouth stays dry while air leaves it under water, since air comes from the far side, and one with water on
// both sides is wet.
type meniscus struct {
	holds  float64 // m of head; 0: nothing
	head   float64 // the greatest head so far, m
	at     float64 // s, when that was
	first  float64 // the head under which water first passed it, m; NaN: none has, or it was wet before
	last   float64 // the head at the end of the last step, or after the last jump, m
	broke  float64 // s, when a dry one let water through; NaN
	wetted bool    // on both its sides
	kept   bool    // a dry one held back what would have passed a wet one
}

// closest is by how much the greatest head stood over what a dry one holds back, m.
func (m *meniscus) closest() float64 { return m.head - m.holds }

// newMeniscus finds what a dry port holds back: 4σ sin θ/d for a hole, 2σ sin θ/w for a slot or door, sin θ = 1 beyond
// 90°; an edge a depth of 2√(σ/ρg) sin(θ/2). Of an opening so wide that it is less than what a step may err by, nothing.
func (r *Run) newMeniscus(p *port) meniscus {
	m := meniscus{first: math.NaN(), broke: math.NaN()}
	switch w := r.vessel.Water; {
	case p.Pump != 0 || p.own != nil:
	case p.Bulkhead >= 0:
		m.holds = hydro.DryEdgeRise(w, p.Angle)
	default:
		m.holds = p.law.Breaking / r.weight
	}
	if m.holds < errorShare*r.set.Tolerance*r.size {
		m.holds = 0
	}
	return m
}

// startMenisci makes those of all ports, at a start dry or wet.
func (r *Run) startMenisci() {
	for j := range r.ports {
		p := &r.ports[j]
		m := r.newMeniscus(p)
		r.menisci = append(r.menisci, m)
		p.held, p.fresh = r.set.Menisci == Dry && m.holds > 0, true
	}
}

// changeMenisci takes over what holds after the vessel's values have changed, soap in the pool among them.
func (r *Run) changeMenisci() {
	for j := range r.ports {
		p, m := &r.ports[j], &r.menisci[j]
		m.holds = r.newMeniscus(p).holds
		p.held = r.set.Menisci == Dry && m.holds > 0 && !m.wetted
	}
}

// breakAtOnce lets break what holds less, after a change of values, than stands at it, and tells whether something did.
func (r *Run) breakAtOnce() (broke bool) {
	for j := range r.ports {
		if r.breakValue(j, &r.now) >= 0 {
			broke = r.breakThrough(j, r.now.time)
		}
	}
	return broke
}

// lookAtMouths wets the openings that have just opened, or are there from the start, with water on both sides, and keeps the heads
// that a jump has brought.
func (r *Run) lookAtMouths() {
	for j := range r.ports {
		p, m := &r.ports[j], &r.menisci[j]
		if !p.open || m.wetted || m.holds == 0 {
			continue
		}
		head, both := r.standing(p, &r.now)
		if p.fresh && both {
			m.wetted, p.held = true, false
		}
		m.last, p.fresh = head, false
	}
}

// loses is the head that a port's jet loses to its own surface, m: less does not pass a wet one either.
func (r *Run) loses(p *port) float64 {
	if p.Bulkhead >= 0 {
		return 0
	}
	return p.law.JetTension / r.weight
}

// standing is the head that presses on what a port's meniscus would be, m: of a hole the difference over its lowest point, of an
// edge the water over that; and whether there is water on both sides there. The waters must have been settled in the state.
func (r *Run) standing(p *port, s *state) (head float64, both bool) {
	from, to := r.sides(p, s)
	low := p.view.Low
	both = math.Min(from.Surface, to.Surface) > low
	if p.Bulkhead >= 0 {
		return math.Max(0, r.overEdge(from, to)-low), both
	}
	a, wetA := r.headAt(from, low, 0)
	b, wetB := r.headAt(to, low, 0)
	if wetA {
		head = math.Max(head, a-b)
	}
	if wetB {
		head = math.Max(head, b-a)
	}
	return head, both
}

// sides are what stands on the two sides of a port in a state, in whose pose the port is seen from here on.
func (r *Run) sides(p *port, s *state) (from, to hydro.Side) {
	pose := s.pose[p.body]
	p.look(pose.Up)
	return r.wetSide(p.From, pose.Sea, s), r.wetSide(p.To, pose.Sea, s)
}

// wetSide is a side with no surface at all where it holds no water.
func (r *Run) wetSide(index int, sea float64, s *state) hydro.Side {
	side := r.side(index, sea, s)
	if index >= 0 && s.water[index] <= 0 {
		side.Surface = math.Inf(-1)
		side.Head = side.Surface
	}
	return side
}

// overEdge is the higher level of two sides: a surface, or of a full space the height to which its water would stand under the air
// of the other side.
func (r *Run) overEdge(from, to hydro.Side) float64 {
	level := func(side, other hydro.Side) float64 {
		if math.IsInf(side.Surface, 1) {
			return side.Head - other.Air/r.weight
		}
		return side.Surface
	}
	return math.Max(level(from, to), level(to, from))
}

// breakValue passes zero when a dry port lets water through: the greatest pressure on it has passed what it holds, or water has come
// to it from both sides, or it is so wide and lies so flat that water over air falls through whatever the pressures are.
func (r *Run) breakValue(j int, s *state) float64 {
	p := &r.ports[j]
	if !p.held || !p.open {
		return -1
	}
	from, to := r.sides(p, s)
	var push float64
	if p.Bulkhead >= 0 {
		push = r.overEdge(from, to) - p.view.Low
	} else {
		push = hydro.WaterPush(&p.view, &r.vessel.Water, from, to) / r.weight
	}
	past := math.Max(push-r.menisci[j].holds, math.Min(from.Surface, to.Surface)-p.view.Low)
	past = math.Max(past, r.topples(p, from, to))
	return math.Max(-1, math.Min(1, past/r.size))
}

// topples is how far what stands at a flat hole is within the range in which water and air pass each other there, m; none does: −Inf.
func (r *Run) topples(p *port, from, to hydro.Side) float64 {
	slope := r3.Dot(p.Figure.Normal(), p.seen)
	if p.upper == noSide || slope*slope < flatEnough {
		return math.Inf(-1)
	}
	upper, lower, _ := p.upright(from, to)
	middle := (p.view.Low + p.view.High) / 2
	over, under := upper.Surface-middle, middle-lower.Surface
	balance := p.law.Width - math.Abs(upper.Head-middle-lower.Air/r.weight)
	return math.Min(balance, math.Min(over, under))
}

// flatEnough is the cos² of a hole's slope, 60°, up to which it counts as flat for what topples.
const flatEnough = 0.25

// breakThrough wets a dry port: from here on water passes it as if it had always been wet.
func (r *Run) breakThrough(j int, time float64) bool {
	p, m := &r.ports[j], &r.menisci[j]
	head, _ := r.standing(p, &r.now)
	m.first, m.broke, m.wetted, p.held = head, time, true, false
	r.note(BrokeThrough, p.Name, r.bodies[p.body].Name, time)
	return true
}

// measureMeniscus keeps the greatest head over a port, and the one under which water first passed it: that at which the step began,
// or the least that drives a jet.
func (r *Run) measureMeniscus(j int, s *state) {
	m, p := &r.menisci[j], &r.ports[j]
	if m.holds == 0 || !p.open {
		return
	}
	head, _ := r.standing(p, s)
	if head > m.head {
		m.head, m.at = head, s.time
	}
	switch {
	case p.held:
		m.kept = m.kept || head > r.loses(p) && math.Min(head, m.last) < m.holds // not where a jump let it through at once
	case !m.wetted && s.rate[j] != 0 && head > 0:
		m.first, m.wetted = math.Min(head, math.Max(m.last, r.loses(p))), true
	}
	m.last = head
}

// meniscusMargins are those of the openings and edges that water passed, or that kept it back.
func (r *Run) meniscusMargins() (all []Margin) {
	for j := range r.menisci {
		if m := &r.menisci[j]; m.holds > 0 && (!math.IsNaN(m.first) || m.kept) {
			all = append(all, Margin{Name: r.ports[j].Name, Kind: MarginMeniscus, Closest: m.closest(), Time: m.at})
		}
	}
	return all
}

// meniscusWarnings tell every port where a dry start would have held water back.
func (r *Run) meniscusWarnings() (all []Warning) {
	for j := range r.menisci {
		m, p := &r.menisci[j], &r.ports[j]
		if r.set.Menisci == Dry || !(m.first < m.holds) {
			continue
		}
		kind := DryHoleHolds
		if p.Bulkhead >= 0 {
			kind = DryEdgeHolds
		}
		all = append(all, Warning{Kind: kind, Name: p.Name, Value: m.holds - m.first, Time: m.at})
	}
	return all
}

// heldBack are the openings and edges that held water back which a wet one lets through, or would have, had they been dry.
func (r *Run) heldBack() (all []HeldBack) {
	for j := range r.menisci {
		m, p := &r.menisci[j], &r.ports[j]
		if m.kept || r.set.Menisci != Dry && m.first < m.holds {
			all = append(all, HeldBack{Name: p.Name, Edge: p.Bulkhead >= 0, Holds: m.holds, Met: m.head, Broke: m.broke})
		}
	}
	return all
}
