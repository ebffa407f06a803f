package flood

import (
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
)

// story is what has happened so far.
type story struct {
	events      []Event // of the present step
	told        []Event // of all steps
	ended       Ended
	gaveUp      *Failure
	warnings    []Warning
	edge        []Margin // by bulkhead: how far its edge stood over the water
	hit         int      // the watch that the present step was cut to
	overtopped  []bool   // by bulkhead
	edges       int      // falls in a row that led nowhere
	failedStart bool     // there was no rest at the start
	nextSample  float64
	lastSample  float64 // s: of the sample taken last
	sample      Sample
	parts       []spacePart // of the sample: after the spaces
}

// section is what a body's fate is made of.
type section struct {
	began               float64
	foundered, capsized float64 // s; NaN
	touched             bool    // the floor
	vertical            bool
	steepest            float64
	steepestAt          float64
	worstHeel           float64 // NaN: never less steep than 60°
	deepest, deepestAt  float64 // m below the sea that it reached down to, and when
	deck, gm            Margin
}

func (r *Run) startStory() {
	n := len(r.bodies)
	r.hit = -1
	r.overtopped = make([]bool, len(r.vessel.Bulkheads))
	r.gm = make([]float64, n)
	r.deckUnder, r.passed, r.upSide = make([]bool, n), make([]passage, n), make([]float64, n)
	for k := range r.bodies {
		r.upSide[k] = 1
		r.sections = append(r.sections, newSection(r.bodies[k].Name, 0))
	}
	for _, b := range r.vessel.Bulkheads {
		r.edge = append(r.edge, Margin{Name: b.Spec.Name, Kind: MarginEdge, Closest: math.Inf(1)})
	}
	r.startMenisci()
}

// newSection is that of a body that came into being at a time.
func newSection(name string, began float64) section {
	return section{
		began: began, foundered: math.NaN(), capsized: math.NaN(), worstHeel: math.NaN(),
		deck: Margin{Name: name, Kind: MarginDeck, Closest: math.Inf(1)},
		gm:   Margin{Name: name, Kind: MarginGM, Closest: math.Inf(1)},
	}
}

// note puts an event down.
func (r *Run) note(kind EventKind, name, section string, time float64) {
	e := Event{Time: time, Kind: kind, Name: name, Section: section}
	r.events = append(r.events, e)
	r.told = append(r.told, e)
}

// measure takes the margins at a state whose waters have been settled.
func (r *Run) measure(s *state) {
	for i, b := range r.vessel.Bulkheads {
		if j := r.portOf(b.Passage); b.Passage >= 0 && r.ports[j].open {
			r.edge[i].closer(-r.edgeExcess(j, s), s.time)
		}
	}
	for k := range r.bodies {
		if !r.bodies[k].gone && math.IsNaN(r.sections[k].foundered) {
			r.measureBody(k, s)
		}
	}
	for j := range r.ports {
		r.measureMeniscus(j, s)
	}
	for k := range r.bodies {
		r.gainBefore[k], r.gain[k] = r.gain[k], r.inflow(k, s.rate)
	}
}

// closer keeps the least value and its time.
func (m *Margin) closer(value, time float64) {
	if value < m.Closest {
		m.Closest, m.Time = value, time
	}
}

// measureBody takes a body's angles and margins.
func (r *Run) measureBody(k int, s *state) {
	sec, b, p := &r.sections[k], &r.bodies[k], s.pose[k]
	sec.measureAngles(p, s.time)
	sec.deck.closer(b.Freeboard(p), s.time)
	r.sounds(k, s)
	if p.Steep() {
		return
	}
	if p.Up.Z != 0 {
		r.upSide[k] = math.Copysign(1, p.Up.Z)
	}
	if gm := r.gm[k]; r.set.Motion != Held && !math.IsNaN(gm) && !r.onTheFloor(k, s) { // which holds it up
		sec.gm.closer(gm, s.time)
	}
}

// measureAngles takes how steep a body stands and how far it heels.
func (sec *section) measureAngles(p compartment.Pose, time float64) {
	if a := math.Abs(p.Trim()); a > sec.steepest {
		sec.steepest, sec.steepestAt = a, time
	}
	if h := p.Heel(); !p.Steep() && !(math.Abs(h) <= math.Abs(sec.worstHeel)) {
		sec.worstHeel = h
	}
}

// measureOnTheWay takes the angles and the freeboard of swinging bodies within the attempted step: a swing goes farthest between the ends of steps.
func (r *Run) measureOnTheWay(h float64) {
	if !r.free() {
		return
	}
	for k := range r.bodies {
		if r.bodies[k].gone || !math.IsNaN(r.sections[k].foundered) {
			continue
		}
		for i := 1; i < looksPerStep; i++ {
			x := float64(i) / looksPerStep
			p, time := r.poseWithin(k, x, h), r.now.time+x*h
			r.sections[k].measureAngles(p, time)
			r.sections[k].deck.closer(r.bodies[k].Freeboard(p), time)
		}
	}
}

// looksPerStep are enough for the farthest point of a swing of some ten steps to a thousandth: half a sixteenth of a step off, 1 − cos(2π/160).
const looksPerStep = 8

func (r *Run) capsize(k int, time float64) {
	if math.IsNaN(r.sections[k].capsized) {
		r.sections[k].capsized = time
		r.note(Capsized, r.bodies[k].Name, r.bodies[k].Name, time)
	}
}

func (r *Run) passVertical(k int, time float64) {
	r.upSide[k] = -r.upSide[k]
	if !r.sections[k].vertical {
		r.sections[k].vertical = true
		r.note(PastVertical, r.bodies[k].Name, r.bodies[k].Name, time)
	}
}

func (r *Run) founder(k int, time float64) {
	if !math.IsNaN(r.sections[k].foundered) {
		return
	}
	if !r.deckUnder[k] { // it goes under with the rest of a hull that sinks on an even keel
		r.deckUnder[k] = true
		r.note(DeckEdgeUnder, r.bodies[k].Name, r.bodies[k].Name, time)
	}
	r.sections[k].foundered = time
	r.note(Foundered, r.bodies[k].Name, r.bodies[k].Name, time)
	if !r.sinksOn() {
		r.lie(k)
	}
}

// lie takes a body out of what goes on that has foundered, and in free motion, where the pool has a floor, lies there. With the
// last one the run ends.
func (r *Run) lie(k int) {
	for i := range r.sections {
		if i != k && (math.IsNaN(r.sections[i].foundered) || !r.bodies[i].gone) {
			r.freeze(k)
			return
		}
	}
	r.end(EndedFoundered)
}

// freeze takes a body that has foundered out of what goes on.
func (r *Run) freeze(k int) {
	r.bodies[k].gone = true
	for j := range r.ports {
		if p := &r.ports[j]; p.body == k {
			p.open = false
			r.now.rate[j], r.now.speed[j], r.now.gust[j], r.now.blow[j] = 0, 0, 0, 0
		}
	}
}

// settle puts down that every section has come to rest, and ends the run.
func (r *Run) settle(time float64) {
	r.noteRests(time, func(int) bool { return true })
	r.end(EndedSettled)
}

// runOut ends a run whose time is up. Sections that have come to rest while others have not have settled all the same.
func (r *Run) runOut() {
	r.noteRests(r.now.time, r.restsAlone)
	r.end(EndedUntil)
	r.sampleEnd()
}

// noteRests puts down which of the sections that have not foundered have come to rest.
func (r *Run) noteRests(time float64, rests func(k int) bool) {
	for k := range r.bodies {
		if math.IsNaN(r.sections[k].foundered) && rests(k) {
			r.note(SettledDown, r.bodies[k].Name, r.bodies[k].Name, time)
		}
	}
}

func (r *Run) end(why Ended) {
	if r.ended == Running {
		r.ended = why
	}
}

func (r *Run) giveUp(cause FailureCause, name string) {
	r.gaveUp = &Failure{Time: r.now.time, Cause: cause, Name: name}
	r.ended = EndedGaveUp
	r.sampleEnd()
}

// Result is what the run has come to so far; after its end, what it came to.
func (r *Run) Result() *Result {
	res := &Result{
		Duration: r.now.time, Ended: r.ended, Events: slices.Clone(r.told), GaveUp: r.gaveUp,
		WaterCrossed: r.book.crossed, Stats: r.statistics(),
	}
	left := 0.0
	for _, w := range r.now.water {
		left += w
	}
	res.WaterBalance = r.book.in - left + r.book.start
	left = 0
	for _, a := range r.airs(&r.now) {
		left += a
	}
	res.AirBalance = r.vessel.Air.Density * (r.airBook.in - left + r.airBook.start)
	res.AirCrossed = r.vessel.Air.Density * r.airBook.crossed
	for k := range r.bodies {
		res.Sections = append(res.Sections, r.sectionResult(k))
	}
	res.Fate = r.fate(res.Sections)
	if r.ended != Running {
		if r.curve == nil {
			r.curve = r.bendingCurve()
		}
		res.Curve = r.curve
	}
	res.Joints = r.jointLoads()
	res.Separations, res.Earlier = slices.Clone(r.separations), slices.Clone(r.earlier)
	res.Margins, res.HeldBack = r.margins(), r.heldBack()
	res.Warnings = append(slices.Clone(r.warnings), r.meniscusWarnings()...)
	res.Warnings = append(res.Warnings, r.jointWarnings()...)
	res.Warnings = append(res.Warnings, r.ventWarnings()...)
	return res
}

// Stats counts the work so far.
func (r *Run) statistics() Stats {
	s := r.stats
	s.FlowEvaluations = r.flowEvaluations
	for k := range r.bodies {
		s.HullQueries += r.bodies[k].floater.HullQueries
		s.SpaceQueries += r.bodies[k].floater.SpaceQueries
	}
	return s
}

func (r *Run) sectionResult(k int) SectionResult {
	s := &r.sections[k]
	res := SectionResult{
		Name: r.bodies[k].Name, Foundered: s.foundered, AfloatAlone: s.foundered - s.began,
		Steepest: s.steepest, SteepestAt: s.steepestAt, WorstHeel: s.worstHeel, PastVertical: s.vertical,
	}
	settled := r.ended == EndedSettled || r.ended == EndedUntil && r.restsAlone(k)
	switch {
	case r.ended == EndedGaveUp:
		res.Fate = NoFate
	case !math.IsNaN(s.capsized):
		res.Fate = Capsizes
	case !math.IsNaN(s.foundered):
		res.Fate = Founders
	case settled && r.aground(k):
		res.Fate = Grounds
	case settled:
		res.Fate = Floats
	default:
		res.Fate, res.Tends, res.OnlySwings = Undecided, r.tendency(k), r.onlySwings(k)
	}
	return res
}

// onlySwings tells whether nothing flows in a body any more, and it has only not come to rest.
func (r *Run) onlySwings(k int) bool {
	return r.free() && r.ebbOf(k, &r.now) >= 0 && r.calmOf(k, &r.now) < 0
}

// tendency tells where an undecided body was going: it sinks if its inflow does not ebb, or would use up its reserve of
// buoyancy before it has ebbed at the rate it does now.
func (r *Run) tendency(k int) Tendency {
	gain := r.gain[k]
	ebb := (r.gainBefore[k] - gain) / math.Max(r.lastLength(), 1e-12)
	if gain <= 0 {
		return Levelling
	}
	if ebb <= 0 || gain*gain/ebb > r.room(k) {
		return Sinking
	}
	return Levelling
}

// lastLength is how long the last step was, s.
func (r *Run) lastLength() float64 { return 2 * r.pastLength }

// fate is that of the whole: capsizes if any section does, else undecided if any is, else the first of floats, grounds and
// founders that any has.
func (r *Run) fate(sections []SectionResult) Fate {
	if r.ended == EndedGaveUp {
		return NoFate
	}
	for _, f := range []Fate{Capsizes, Undecided, Floats, Grounds, Founders} {
		for _, s := range sections {
			if s.Fate == f {
				return f
			}
		}
	}
	return NoFate
}

// margins are those that were measured.
func (r *Run) margins() []Margin {
	var all []Margin
	keep := func(m Margin) {
		if !math.IsInf(m.Closest, 0) {
			all = append(all, m)
		}
	}
	for _, m := range r.edge {
		keep(m)
	}
	for i := range r.sections {
		keep(r.sections[i].deck)
		keep(r.sections[i].gm)
	}
	return append(all, r.meniscusMargins()...)
}
