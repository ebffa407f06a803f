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
	open       bool                  // to the sea, through a cut face: it stands at sea level at once, and has no part in the flows
	bell       bool                  // open to the sea through a mouth under water, with air of its own: see bell.go
	faces      []compartment.CutFace // by which it is open
	body       int                   // index into Run.bodies
	local      int                   // index into the body's own spaces
	capacity   float64               // m³
	byHead     bool                  // the unknown of a step is its head, not its water: see equations
	pinned     bool                  // full to the brim, yet not under pressure
	brimmed    bool                  // it has filled, and has not since lost more than reopens it
	gas        int                   // number of its air pressure among the unknowns; −1: the air comes and goes freely
	airless    bool                  // airtight, and its air is lost
	heavy      bool                  // of one by head: its equation is about its water rather than about the flows
	lack       float64               // m³ that its equation, by head, lacks at the trial state
	dips       float64               // m³, negative: what an iteration may take from one that was full to the brim, 0: anything
	levels     bool                  // of one by head: an iteration took its water along, and the head follows
	lastRise   float64               // of its head, in the same search, m
	lastChange float64               // of the pressure of its air, in the present search for a stage's state, Pa
	airTo      int                   // of one without air: where what bubbles into it leaves it, see airOf
	vain       int                   // how often it gasped air since it last had some: see reluctance
	gasped     float64               // s, when it did last
	lostAt     float64               // share of the capacity under which the air that is left is lost: see loseAir
}

// newSpace is a space of a body, not yet numbered among the unknowns.
func newSpace(s *compartment.Space, body, local int) space {
	return space{Space: s, body: body, local: local, capacity: s.Capacity(), gas: -1, airTo: compartment.Outside, lostAt: reopensShare}
}

// holdsAir tells that the space has air of its own.
func (sp *space) holdsAir() bool { return sp.gas >= 0 && !sp.airless && !sp.open }

// body is something that floats in a run.
type body struct {
	*compartment.Body
	gone    bool // it has foundered while others go on: it stays as it was
	floater *compartment.Floater
	water   []float64 // in its own spaces, m³: scratch of weigh
	spaces  []int     // their indices into Run.spaces
	balance compartment.Balance
	aside   compartment.Balance // while somebody looks aside
	soft    float64             // least stiffness of the last rest, dimensionless
	mover   *mover              // in free motion

	found              bool    // in the present stage: see solve
	allowed            float64 // when it was: see allow
	moved, movedBefore float64 // by the last two iterations: see apply
}

// port is a passage in a run. Its unknown is not the flow but the nominal speed v that would cross its area at the present
// difference of heads, Δp = Creep·v + Jet·v|v|. In it the flow is smooth where it is infinitely steep in Δp: Newton's
// iteration on Q(Δp) goes round in circles over that edge, on this parabola it does not. Air has a nominal speed of its own.
type port struct {
	*compartment.Passage
	passage            int // its number in the vessel's list
	body               int // whose up direction it is seen in
	open               bool
	wants              bool    // it is open where it leads anywhere: see rewire
	sides              [2]int  // From and To, but for spaces that stand at sea level now
	fromWater, toWater int     // whose water it is on the two sides: see waterOf
	mouth              bool    // the mouth of a bell: it passes air only
	least              float64 // capacity of the lesser of its spaces, m³
	centre             r3.Vec
	law                hydro.Orifice
	own                Law      // of the caller's; nil: law
	waterLaw           parabola // of the nominal speeds
	airLaw             parabola // the same for air at one atmosphere
	breadth            float64  // m² by which a nominal speed makes a flow
	view               hydro.View
	seen               r3.Vec // the up direction of view
	breathes           bool   // a side is airtight
	held               bool   // dry: its meniscus lets no water through
	fresh              bool   // it has just opened, or is there from the start, and what stands beside it has not been looked at
	upper              int    // of a hole wide enough for water and air to pass each other: the side that its normal leads to; else noSide

	water  stream  // of the last evaluation
	air    stream  // the same, of air at one atmosphere
	wet    float64 // area under water on one side at least, m²
	dry    float64 // area over water on one side at least, m²
	fading float64 // share of the air's flow that the last air of its source lets pass
}

// stream is the flow of water, or of air, through a port, as a linear function of what stands on its two sides.
type stream struct {
	flow         float64 // m³/s at the present state, by the tangent at the nominal speed
	byA, byB     float64 // its derivatives by the levels on the two sides, the pressures there following, m²/s
	byWater      float64 // its derivative by the water in the space that it comes from, where it fades with that, 1/s
	source       int     // that space
	pushA, pushB float64 // its derivatives by the pressures of the air there, m³/s/Pa
	driven       bool    // something stands there to flow the way of the drop
	drop         float64 // what drives it, m of head for water, Pa for air
	feelsA       bool    // whether the drop follows that side's level
	feelsB       bool
	holdsA       hold // what a bubble needs on that side: see pressureOver
	holdsB       hold
	fromA        bool // whether it can come from that side
	fromB        bool
}

// flows tells whether anything stands there to flow at a nominal speed; that of rest has a sign too.
func (t *stream) flows(v float64) bool {
	if math.Signbit(v) {
		return t.fromB
	}
	return t.fromA
}

// moving is a nominal speed, or none where nothing stands there to flow at it.
func (t *stream) moving(v float64) float64 {
	if !t.flows(v) {
		return 0
	}
	return v
}

// still is no flow, whatever moves.
func (t *stream) still() { *t = stream{} }

// scale multiplies the flow and its derivatives.
func (t *stream) scale(f float64) {
	t.flow, t.byA, t.byB, t.pushA, t.pushB = f*t.flow, f*t.byA, f*t.byB, f*t.pushA, f*t.pushB
	t.byWater *= f
}

// idle tells that nothing flows and nothing would by a small change.
func (t *stream) idle() bool {
	return t.flow == 0 && t.byA == 0 && t.byB == 0 && t.pushA == 0 && t.pushB == 0 && t.byWater == 0
}

// beside tells whether a port leads out of space i, and beyond what is on its other side.
func (p *port) beside(i int) bool { return p.From == i || p.To == i }
func (p *port) beyond(i int) int  { return p.From + p.To - i }

// look brings the port's view up to date.
func (p *port) look(up r3.Vec) {
	if p.seen != up {
		p.Figure.View(up, &p.view)
		if p.seen = up; p.mouth {
			p.centre = p.Figure.Highest(up) // the brow, which its flow follows
		}
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

// head is the height along up of the water's surface in a space, m, or of one that is full, to which it would rise.
func (r *Run) head(i int, s *state) (head float64, full bool) {
	sp := &r.spaces[i]
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	switch {
	case sp.airless && sp.bell: // under the sea's pressure
		return s.pose[sp.body].Sea, true
	case sp.airless:
		return s.head[i], true
	case sp.bell: // of one that air fills beyond its mouth, how far
		return w.Level, false
	case sp.gas >= 0:
	case w.Volume >= brim*sp.capacity, sp.brimmed && w.Volume >= reopens*sp.capacity && s.head[i] >= w.High:
		if sp.byHead { // under a corner there may be as much with the head under the highest point, and the flows feel it there
			return s.head[i], true
		}
		return math.Max(w.High, s.head[i]), true
	}
	if w.Volume <= 0 {
		return math.Inf(-1), false
	}
	return w.Level, false
}

// side is what stands on one side of a port: a space, or the sea, at that height. What of a port reaches over the highest point of a full
// space is dry as long as the head does not reach it, as it was just before the space filled; but where there is no air at all, all of
// a port is under water.
func (r *Run) side(index int, sea float64, s *state) hydro.Side {
	if index == compartment.Outside {
		return hydro.Side{Surface: sea, Head: sea}
	}
	head, full := r.head(index, s)
	sp := &r.spaces[index]
	if full && sp.gas >= 0 {
		return hydro.Side{Surface: math.Inf(1), Head: head}
	}
	dry := math.IsInf(head, -1)
	if dry { // what of an opening lies under its floor leads nowhere
		head = r.surfaceOf(sp).Low
	}
	switch {
	case sp.gas < 0:
		return hydro.Side{Surface: head, Head: head}
	case sp.bell && !dry: // the water in it stands under the sea's pressure
		return hydro.Side{Surface: head, Head: sea, Air: s.press[index]}
	}
	return hydro.Side{Surface: head, Head: head + s.press[index]/r.weight, Air: s.press[index]}
}

// evaluate finds the flows of a port at its nominal speeds, and from them the flows at the present state, linearised.
func (r *Run) evaluate(j int, s *state) {
	p := &r.ports[j]
	b := &r.bodies[p.body]
	p.look(b.balance.Pose.Up)
	p.water.still()
	p.air.still()
	if p.Pump != 0 {
		r.pump(p, s)
		return
	}
	r.flowEvaluations++
	sea := b.balance.Pose.Sea
	from, to := r.side(p.From, sea, s), r.side(p.To, sea, s)
	if p.mouth {
		r.passMouth(p, from, to)
		r.fadeAir(p, s)
		return
	}
	if !p.held {
		s.speed[j] = r.pour(p, s.speed[j], from, to)
		r.fade(p, s)
	}
	if p.breathes {
		s.blow[j] = r.breathe(p, s.blow[j], from, to)
		r.fadeAir(p, s)
		r.exchange(p, from, to)
	}
}

// pour finds the flow of water through a port near a nominal speed, and returns that speed. The drop is that at the lowest point of
// the opening, where water flows if it does anywhere. Which side the water comes from is said by the nominal speed and not by the
// drop of a trial state: else an opening between a wet and a dry side that are nearly in balance shuts and opens in turn for ever.
// Only where nothing stands to flow that way is it the speed that the drop would drive.
func (r *Run) pour(p *port, v float64, from, to hydro.Side) float64 {
	ha, wetA := r.headAt(from, p.view.Low, p.law.JetTension)
	hb, wetB := r.headAt(to, p.view.Low, p.law.JetTension)
	t, l := &p.water, p.waterLaw
	if p.wet = 0; !wetA && !wetB {
		return 0
	}
	t.driven, t.drop = true, ha-hb
	t.fromA, t.fromB = wetA && !r.isDry(p.From), wetB && !r.isDry(p.To)
	t.feelsA, t.feelsB = t.fromA, t.fromB
	p.wet = p.breadth
	if p.own == nil {
		p.wet = p.view.AreaBelow(math.Min(p.view.High, math.Max(from.Surface, to.Surface)))
	}
	if !t.flows(v) {
		v = l.speedAt(r.weight * t.drop)
	}
	if v == 0 {
		v = math.Copysign(0, t.drop)
	}
	if !t.flows(v) {
		return v
	}
	// the head on the higher side is put where the nominal speed has it
	driven := l.pressure(v) / r.weight
	var f hydro.Flow
	if !math.Signbit(v) {
		miss := t.drop - driven
		f = p.waterThrough(&r.vessel.Water, r.shifted(p.From, from, -miss), to)
		t.flow = f.Rate + r.follows(p.From, f.ByA, f.ByAir)*miss
	} else {
		miss := driven - t.drop
		f = p.waterThrough(&r.vessel.Water, from, r.shifted(p.To, to, -miss))
		t.flow = f.Rate + r.follows(p.To, f.ByB, -f.ByAir)*miss
	}
	t.byA, t.byB, t.pushA, t.pushB = f.ByA, f.ByB, f.ByAir, -f.ByAir
	return v
}

// isDry tells whether a side is a space that holds no water. What stands there is its floor, from under which none comes.
func (r *Run) isDry(index int) bool {
	if index == compartment.Outside {
		return false
	}
	sp := &r.spaces[index]
	return !sp.airless && !sp.bell && r.surfaceOf(sp).Volume <= 0
}

// headAt is the pressure on one side of an opening at a height, as a head, and whether that height is under water there. A
// dry side counts with what a jet into it loses to its own surface.
func (r *Run) headAt(side hydro.Side, height, tension float64) (head float64, wet bool) {
	if side.Surface > height {
		return side.Head, true
	}
	return height + (side.Air+tension)/r.weight, false
}

// shifted is a side with its head at another height: by its level, or where it has air of its own, by the pressure of that.
func (r *Run) shifted(index int, s hydro.Side, by float64) hydro.Side {
	s.Head += by
	if r.trapped(index) {
		s.Air += by * r.weight
	} else {
		s.Surface += by // that of a full space is infinite, and stays
	}
	return s
}

// follows is the derivative by the head as shifted moves it, from those by the level and by the pressure.
func (r *Run) follows(index int, byLevel, byPressure float64) float64 {
	if r.trapped(index) {
		return byPressure * r.weight
	}
	return byLevel
}

// trapped tells whether a side of a port has air of its own.
func (r *Run) trapped(index int) bool { return index >= 0 && r.spaces[index].holdsAir() }

// pump runs at its rate until its source is dry: over the last millionth of the source's room it fades, so that what
// still enters there is passed on. Against a pressure it lifts the head by up to one length of the hull over the brim of a space
// that is full or airtight, draws it down by as much under the floor of an airtight one, and fades over a second length: what
// has no way out is not forced in. All fade by straight lines, and on a little beyond nothing: Newton's iteration comes to rest on
// a bent line, and not on a curve with two level ends.
func (r *Run) pump(p *port, s *state) {
	t := &p.water
	source, sink := p.From, p.To
	bySource, bySink, pushSource, pushSink := &t.byA, &t.byB, &t.pushA, &t.pushB
	if p.Pump < 0 {
		source, sink, bySource, bySink, pushSource, pushSink = p.To, p.From, &t.byB, &t.byA, &t.pushB, &t.pushA
	}
	wet, drawn, lifted := 1.0, 1.0, 1.0
	if source >= 0 {
		sp := &r.spaces[source]
		if wet = math.Min(1, r.waterIn(source, s)/(pumpFade*sp.capacity)); wet < 1 {
			t.byWater, t.source = math.Abs(p.Pump)/(pumpFade*sp.capacity), source
		}
		if head, full := r.pumpHead(source, s); sp.gas >= 0 {
			drawn = r.pumpShare(r.bodies[sp.body].floater.Surfaces()[sp.local].Low - head)
			r.fadePump(p.Pump*wet, drawn, full, bySource, pushSource)
		}
	}
	if sink >= 0 {
		sp := &r.spaces[sink]
		if head, full := r.pumpHead(sink, s); full || sp.gas >= 0 {
			lifted = r.pumpShare(head - r.bodies[sp.body].floater.Surfaces()[sp.local].High)
			r.fadePump(-p.Pump*wet*drawn, lifted, full, bySink, pushSink)
		}
	}
	*bySource *= lifted
	*pushSource *= lifted
	t.byWater *= math.Copysign(drawn*lifted, p.Pump)
	t.flow = p.Pump * wet * drawn * lifted
}

// waterIn is the water in a space, m³; that in a bell is the sea's.
func (r *Run) waterIn(i int, s *state) float64 {
	if sp := &r.spaces[i]; sp.open || sp.bell {
		return r.surfaceOf(sp).Volume
	}
	return s.water[i]
}

// pumpHead is what a pump feels of a space: its level, with the pressure of its own air, or the head of a full one.
func (r *Run) pumpHead(i int, s *state) (head float64, full bool) {
	if head, full = r.head(i, s); !full && r.spaces[i].holdsAir() {
		head = math.Max(head, r.bodies[r.spaces[i].body].floater.Surfaces()[r.spaces[i].local].Low) + s.press[i]/r.weight
	}
	return head, full
}

// pumpShare is what a pump still moves against a head of so much, m.
func (r *Run) pumpShare(against float64) float64 {
	return math.Max(-0.01, math.Min(1, 2-against/r.size))
}

// fadePump puts in how a fading flow changes with the head that it fades against.
func (r *Run) fadePump(flow, share float64, full bool, by, push *float64) {
	if share > -0.01 && share < 1 {
		*by += flow / r.size
		if !full {
			*push += flow / r.size / r.weight
		}
	}
}

const pumpFade = 1e-6

// parabola is Δp = creep·v + jet·v|v|.
type parabola struct{ creep, jet float64 }

// pressure is Δp at a nominal speed, Pa, slope its derivative, and speedAt the nominal speed at Δp.
func (l parabola) pressure(v float64) float64 { return (l.creep + l.jet*math.Abs(v)) * v }
func (l parabola) slope(v float64) float64    { return l.creep + 2*l.jet*math.Abs(v) }
func (l parabola) speedAt(dp float64) float64 {
	a := math.Abs(dp)
	if a == 0 {
		return 0
	}
	return math.Copysign(2*a/(l.creep+math.Sqrt(l.creep*l.creep+4*l.jet*a)), dp)
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
