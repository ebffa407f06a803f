package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// space is a space in a run.
type space struct {
	*compartment.Space
	body     int     // index into Run.bodies
	local    int     // index into the body's own spaces
	capacity float64 // m³
	byHead   bool    // the unknown of a step is its head, not its water: see equations
	pinned   bool    // full to the brim, yet not under pressure
	brimmed  bool    // it has filled, and has not since lost more than reopens it
}

// body is something that floats in a run.
type body struct {
	*compartment.Body
	floater *compartment.Floater
	water   []float64 // in its own spaces, m³: scratch of weigh
	spaces  []int     // their indices into Run.spaces
	balance compartment.Balance
	soft    float64 // least stiffness of the last rest, dimensionless
}

// port is a passage in a run. Its unknown is not the flow but the nominal speed v that would cross its area at the present
// difference of heads, Δp = Creep·v + Jet·v|v|. In it the flow is smooth where it is infinitely steep in Δp: Newton's
// iteration on Q(Δp) goes round in circles over that edge, on this parabola it does not.
type port struct {
	*compartment.Passage
	body   int // whose up direction it is seen in
	open   bool
	least  float64 // capacity of the lesser of its spaces, m³
	centre r3.Vec
	law    hydro.Orifice
	view   hydro.View
	seen   r3.Vec // the up direction of view

	// of the last evaluation: the flow as a linear function of the heads on its two sides
	flow     float64 // m³/s at the present heads, by the tangent at the nominal speed
	byA, byB float64 // its derivatives with respect to the heads, m²/s
	drop     float64 // difference of heads, m, both counted from the lowest point of the opening that can flow
	wetA     bool    // whether the drop follows that side's head
	wetB     bool
	wet      float64 // area under water on one side at least, m²
}

// look brings the port's view up to date.
func (p *port) look(up r3.Vec) {
	if p.seen != up {
		p.Figure.View(up, &p.view)
		p.seen = up
	}
}

// brim is the share of its capacity from which a space is full, and reopens that to which it has to fall to be open again:
// what happens between the two is no event.
const (
	brim    = 1 - 1e-11
	reopens = 1 - 1e-6
)

// fullFrom is the share of its capacity from which a space is full now.
func (sp *space) fullFrom() float64 {
	if sp.brimmed {
		return reopens
	}
	return brim
}

// head is the height along up to which the water of a space would rise, m; full tells that the space has no surface.
func (r *Run) head(i int, s *state) (head float64, full bool) {
	sp := &r.spaces[i]
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	switch {
	case w.Volume >= brim*sp.capacity, sp.brimmed && w.Volume >= reopens*sp.capacity && s.head[i] >= w.High:
		return math.Max(w.High, s.head[i]), true
	case w.Volume <= 0:
		return math.Inf(-1), false
	}
	return w.Level, false
}

// side is what stands on one side of a port: a space, or the sea.
func (r *Run) side(index int, b *body, s *state) hydro.Side {
	if index == compartment.Outside {
		sea := b.balance.Pose.Sea
		return hydro.Side{Surface: sea, Head: sea}
	}
	head, full := r.head(index, s)
	if full {
		return hydro.Side{Surface: math.Inf(1), Head: head}
	}
	return hydro.Side{Surface: head, Head: head}
}

// evaluate finds the flow of a port at its nominal speed, and from it the flow at the present heads, linearised.
func (r *Run) evaluate(j int, s *state) {
	p := &r.ports[j]
	b := &r.bodies[p.body]
	p.look(b.balance.Pose.Up)
	if p.Pump != 0 {
		r.pump(p, s)
		return
	}
	r.flowEvaluations++
	from, to := r.side(p.From, b, s), r.side(p.To, b, s)
	floor := p.view.Low
	if math.Min(from.Head, to.Head) <= floor { // the jet's own surface has to be overcome first
		floor += p.law.JetTension / r.weight
	}
	ha, hb := max(from.Head, floor), max(to.Head, floor)
	p.drop, p.wetA, p.wetB = ha-hb, from.Head > floor, to.Head > floor
	if !p.wetA && !p.wetB {
		p.flow, p.byA, p.byB, p.drop, s.speed[j] = 0, 0, 0, 0, 0
		return
	}
	p.wet = p.view.AreaBelow(math.Max(ha, hb))
	if v := s.speed[j]; v > 0 && !p.wetA || v < 0 && !p.wetB { // nothing there to flow that way
		s.speed[j] = p.speedAt(r.weight * p.drop)
	}
	// the head on the higher side is put where the nominal speed has it
	driven := p.pressure(s.speed[j]) / r.weight
	var missA, missB float64
	if v := s.speed[j]; v > 0 || v == 0 && p.drop >= 0 {
		from = shifted(from, hb+driven)
		missA = ha - from.Head
	} else {
		to = shifted(to, ha-driven)
		missB = hb - to.Head
	}
	f := p.law.Water(&p.view, &r.vessel.Water, from, to)
	p.byA, p.byB = f.ByA, f.ByB
	p.flow = f.Rate + f.ByA*missA + f.ByB*missB
	r.fade(p, s)
}

// filmShare of a space's capacity is the film of water that leaves it ever more slowly: a hole at the lowest point would
// empty it in a finite time with an infinitely steep end, in which no step can be found.
const filmShare = 1e-9

// fade lets the outflow of a space with no more than a film of water fade with that.
func (r *Run) fade(p *port, s *state) {
	source, slope := p.From, &p.byA
	if p.flow < 0 {
		source, slope = p.To, &p.byB
	}
	if source == compartment.Outside {
		return
	}
	sp := &r.spaces[source]
	film := filmShare * sp.capacity
	x := s.water[source] / film
	if sp.byHead || x >= 1 {
		return
	}
	x = max(0, x)
	flow := p.flow
	p.flow, p.byA, p.byB = x*flow, x*p.byA, x*p.byB
	*slope += flow / film * r.areaOf(sp)
}

// shifted is a side with its head, and its surface if it has one, at another height.
func shifted(s hydro.Side, head float64) hydro.Side {
	if !math.IsInf(s.Surface, 1) {
		s.Surface = head
	}
	s.Head = head
	return s
}

// pump runs at its rate until its source is dry: over the last millionth of the source's room it fades, so that what
// still enters there is passed on. Into a full space it lifts the head by up to one length of the hull, and fades over
// a second: what has no way out is not forced in. Both fade by straight lines, and on a little beyond nothing: Newton's
// iteration comes to rest on a bent line, and not on a curve with two level ends.
func (r *Run) pump(p *port, s *state) {
	p.flow, p.byA, p.byB, p.drop, p.wetA, p.wetB = p.Pump, 0, 0, 0, false, false
	source, sink, bySource, bySink := p.From, p.To, &p.byA, &p.byB
	p.wetA, p.wetB = p.From >= 0, p.To >= 0
	if p.Pump < 0 {
		source, sink, bySource, bySink = p.To, p.From, &p.byB, &p.byA
	}
	f, g := 1.0, 1.0
	if source >= 0 {
		sp := &r.spaces[source]
		if f = math.Min(1, s.water[source]/(pumpFade*sp.capacity)); f < 1 {
			*bySource = p.Pump / (pumpFade * sp.capacity) * r.areaOf(sp)
		}
	}
	if sink >= 0 {
		if head, full := r.head(sink, s); full {
			sp := &r.spaces[sink]
			high := r.bodies[sp.body].floater.Surfaces()[sp.local].High
			if g = math.Max(-0.01, math.Min(1, 2-(head-high)/r.size)); g > -0.01 && g < 1 {
				*bySink = -p.Pump * f / r.size
			}
		}
	}
	*bySource *= g
	p.flow *= f * g
}

const pumpFade = 1e-6

// pressure is Δp at a nominal speed, Pa, and slope its derivative.
func (p *port) pressure(v float64) float64 { return (p.law.Creep + p.law.Jet*math.Abs(v)) * v }
func (p *port) slope(v float64) float64    { return p.law.Creep + 2*p.law.Jet*math.Abs(v) }

// speedAt is the nominal speed at Δp.
func (p *port) speedAt(dp float64) float64 {
	a := math.Abs(dp)
	if a == 0 {
		return 0
	}
	return math.Copysign(2*a/(p.law.Creep+math.Sqrt(p.law.Creep*p.law.Creep+4*p.law.Jet*a)), dp)
}

// areaOf is by how much water a space rises a metre, m²: the free surface, or where that is a corner, the water over its
// depth.
func (r *Run) areaOf(sp *space) float64 {
	s := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	least := 1e-9 * sp.capacity / max(s.High-s.Low, 1e-9)
	if depth := s.Level - s.Low; depth > 0 {
		least = max(least, s.Volume/depth*0.1)
	}
	return max(s.Area, least)
}
