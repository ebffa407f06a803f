package flood

import (
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
)

// Separation is a joint's parting.
type Separation struct {
	Joint          string
	Time           float64 // s
	Cause          string  // hogging, sagging, shear, or the release: trim, time, wet
	Trim           float64 // of the body that it held together, rad
	Bending, Shear float64 // at the joint at that moment, N·m and N; NaN of what stands on the floor
}

// EarlierBody is a body that was there until a joint parted.
type EarlierBody struct {
	Name   string
	Parted float64 // s
}

// letGo parts a joint. In settled motion no time passes while the new bodies find their rests; spaces that are cut open stand at
// sea level in them at once.
func (r *Run) letGo(i int, cause string) {
	j := &r.joints[i]
	if j.body < 0 {
		return
	}
	k := j.body
	load := j.load
	if r.onIt(k, &r.now) {
		load = unknownLoad
		j.borne.Last = unknownLoad
	} else {
		j.borne.take(load, r.now.time)
	}
	j.borne.Parted = r.now.time
	r.separations = append(r.separations, Separation{
		Joint: j.Name, Time: r.now.time, Cause: cause, Trim: r.now.pose[k].Trim(), Bending: load.Bending, Shear: load.Shear,
	})
	r.lastWhole()
	r.note(Parted, j.Name, "", r.now.time)
	r.earlier = append(r.earlier, EarlierBody{r.bodies[k].Name, r.now.time})
	r.parted[i] = true
	r.comeApart()
	r.findRests()
	r.fireJoint(i)
}

// comeApart lays the run out anew for the joints that have parted, and brings over all that goes on.
func (r *Run) comeApart() {
	q := r.vessel.Parted(r.parted)
	before, was := r.layout, r.now
	r.layOut(q)
	r.now.time = was.time
	for i := range before.spaces {
		r.inheritSpace(&before, &was, i, q)
	}
	for k := range r.bodies {
		old := before.bodyWith(r.bodies[k].First) // what it is made of goes on as it went
		r.now.pose[k], r.now.turning[k] = was.pose[old], was.turning[old]
	}
	r.rewire()
	r.pressurise(&r.now)
}

// layout is what a parting changes the number of.
type layout struct {
	bodies []body
	spaces []space
	ports  []port
	portAt []int // of each passage of the vessel, its first port; −1: none
	byBody
	bySpace
	menisci []meniscus
}

// byBody and bySpace are what the story keeps of each.
type byBody struct {
	sections         []section
	deckUnder        []bool
	upSide           []float64 // which way up it was when it last was not steep
	passed           []passage
	gm               []float64 // metacentric height at the end of the last step, m
	gain, gainBefore []float64 // inflow of each, m³/s, now and a while ago
}

type bySpace struct{ filled, airLost []bool }

// bodyWith is the body that a piece lies in.
func (l *layout) bodyWith(piece int) int {
	return slices.IndexFunc(l.bodies, func(b body) bool { return b.First <= piece && piece <= b.Last })
}

// layOut makes bodies, spaces and ports as they are after partings, without water, and all that is sized by them. What was there
// before and goes on keeps its memory.
func (r *Run) layOut(q *compartment.Parted) {
	before := r.layout
	r.layout = layout{spaces: make([]space, len(q.Spaces))}
	for i, b := range q.Bodies {
		r.layOutBody(&before, b, q, i)
	}
	for i := range q.Passages {
		r.layOutPort(&before, &q.Passages[i])
	}
	r.layOutFaces(q)
	for i := range r.joints {
		j := &r.joints[i]
		j.body = r.bodyWith(i)
		if r.parted[i] {
			j.body = -1
		}
	}
	r.relaid = true
	r.makeRoom()
	r.rewire()
	r.makeBearings()
	r.watch = r.watch[:0]
	r.startWatches()
	r.layOutSamples()
}

// layOutBody takes a body over, or makes it.
func (r *Run) layOutBody(before *layout, b *compartment.Body, q *compartment.Parted, i int) {
	old := before.bodyWith(b.First)
	made := body{Body: b}
	sec := newSection(b.Name, r.now.time)
	deckUnder, gm := false, math.NaN()
	if before.bodies[old].Body == b {
		made, sec, deckUnder, gm = before.bodies[old], before.sections[old], before.deckUnder[old], before.gm[old]
	} else {
		made.floater = compartment.NewFloater(b, r.vessel.Water.Density, true)
		made.water = make([]float64, len(b.Spaces))
		made.mover = r.newMover(b)
	}
	made.spaces = make([]int, len(b.Spaces))
	for k := range q.Spaces {
		if ps := &q.Spaces[k]; ps.Body == i {
			made.spaces[ps.Local] = k
			sp := newSpace(ps.Space, i, ps.Local)
			sp.open = len(ps.Faces) > 0 && !r.free()
			if sp.open {
				sp.faces = ps.Faces
			}
			made.floater.Open(ps.Local, sp.open)
			r.spaces[k] = sp
		}
	}
	r.bodies = append(r.bodies, made)
	r.sections, r.deckUnder, r.gm = append(r.sections, sec), append(r.deckUnder, deckUnder), append(r.gm, gm)
	r.upSide, r.passed = append(r.upSide, before.upSide[old]), append(r.passed, passage{})
}

// layOutPort makes a port of a passage, open as that it was, or from now on where it lay shut in a joint's plane.
func (r *Run) layOutPort(before *layout, pp *compartment.PartedPassage) {
	passage := *pp.Passage
	old := before.portOf(pp.Index)
	was := &before.ports[old]
	p := r.newPort(&passage, pp.Index, pp.Body)
	p.wants = was.wants || was.Joint >= 0 && passage.Joint < 0 && !was.listedLater()
	p.held, p.fresh = was.held, p.wants && !was.open
	r.addPort(p)
	r.menisci = append(r.menisci, before.menisci[old])
}

// layOutFaces makes ports of cut faces. In free motion time passes while the sea comes in through them; at rest only the air of a
// diving bell has to find its way out.
func (r *Run) layOutFaces(q *compartment.Parted) {
	if !r.free() {
		r.addMouths()
		return
	}
	for i := range q.Spaces {
		for _, face := range q.Spaces[i].Faces {
			p := r.newPort(&compartment.Passage{
				From: i, To: compartment.Outside, Figure: face.Figure, Law: face.Law, Bulkhead: -1, Joint: -1,
			}, cutFace, q.Spaces[i].Body)
			r.addPort(p)
			r.menisci = append(r.menisci, meniscus{})
		}
	}
}

// cutFace is the number of a port that is none of the vessel's passages.
const cutFace = -2

// leadsNowhere tells of a port between the sea and a space that is open to it.
func (p *port) leadsNowhere() bool {
	return p.From == compartment.Outside && p.To == compartment.Outside
}

// orSea is a space, or the outside where it is open to the sea.
func (r *Run) orSea(i int) int {
	if i >= 0 && r.spaces[i].open {
		return compartment.Outside
	}
	return i
}

// addPort puts a port down behind the others.
func (l *layout) addPort(p port) {
	for len(l.portAt) <= p.passage {
		l.portAt = append(l.portAt, -1)
	}
	if p.passage >= 0 && l.portAt[p.passage] < 0 {
		l.portAt[p.passage] = len(l.ports)
	}
	l.ports = append(l.ports, p)
}

// portOf is the first port of a passage of the vessel; −1: there is none.
func (l *layout) portOf(passage int) int {
	if passage < 0 || passage >= len(l.portAt) {
		return -1
	}
	return l.portAt[passage]
}

// listedLater tells whether a port of an opening waits for something to open it.
func (p *port) listedLater() bool { return p.Listed != nil && len(p.Listed.Opens) > 0 }

// inheritSpace brings the water and the air of a space over to what has become of it.
func (r *Run) inheritSpace(before *layout, s *state, i int, q *compartment.Parted) {
	was := &before.spaces[i]
	heirs := q.Heirs(was.Index, before.bodies[was.body].Body)
	if len(heirs) == 1 && was.bell && len(r.spaces[heirs[0]].faces) == len(was.faces) {
		r.inheritBell(before, s, i, heirs[0], q)
		return
	}
	if len(heirs) == 1 && !r.spaces[heirs[0]].open {
		h := heirs[0]
		sp := &r.spaces[h]
		sp.byHead, sp.pinned, sp.brimmed, sp.airless, sp.lostAt = was.byHead, was.pinned, was.brimmed, was.airless, was.lostAt
		sp.vain, sp.gasped, sp.airTo = was.vain, was.gasped, r.heirOf(before, was.airTo, sp.body, q)
		r.now.water[h], r.now.head[h], r.now.excess[h], r.now.press[h] = s.water[i], s.head[i], s.excess[i], s.press[i]
		r.filled[h], r.airLost[h] = before.filled[i], before.airLost[i]
		return
	}
	air, room := 0.0, 0.0
	if was.holdsAir() {
		air = s.excess[i] + (was.capacity - s.water[i])
	}
	waters := r.divided(was, s, i, heirs)
	for n, h := range heirs {
		room += r.spaces[h].capacity - waters[n]
	}
	for n, h := range heirs {
		share := 1.0
		if len(heirs) > 1 && room > 0 {
			share = (r.spaces[h].capacity - waters[n]) / room
		}
		r.bequeath(h, waters[n], share*air)
		if sp := &r.spaces[h]; was.airless && !sp.open { // what lacks in a full space is rounding, and no room without air
			sp.brimmed, sp.airless, sp.lostAt = true, sp.gas >= 0, was.lostAt
			_, r.now.head[h] = sp.Room.Reach(r.now.pose[sp.body].Up)
		}
	}
}

// inheritBell lets a bell whose boundary is as it was keep its air.
func (r *Run) inheritBell(before *layout, s *state, i, heir int, q *compartment.Parted) {
	sp, air := &r.spaces[heir], s.excess[i]+before.spaces[i].capacity
	was := &before.spaces[i]
	sp.open, sp.bell, sp.airless, sp.vain, sp.gasped, sp.lostAt = false, true, was.airless, was.vain, was.gasped, was.lostAt
	sp.airTo = r.heirOf(before, was.airTo, sp.body, q)
	r.now.excess[heir], r.now.press[heir] = air-sp.capacity, s.press[i]
	r.filled[heir], r.airLost[heir] = before.filled[i], before.airLost[i]
	r.bodies[sp.body].floater.Bell(sp.local, air)
}

// heirOf is what has become of a space for the air that goes there from a body: the outside, where it is open, divided, or of another.
func (r *Run) heirOf(before *layout, i, body int, q *compartment.Parted) int {
	if i == compartment.Outside {
		return i
	}
	heirs := q.Heirs(before.spaces[i].Index, before.bodies[before.spaces[i].body].Body)
	if len(heirs) != 1 || r.spaces[heirs[0]].body != body {
		return compartment.Outside
	}
	return r.orSea(heirs[0])
}

// bequeath gives a space a share of what another held, air at one atmosphere. What is open to the sea gives its water to that, and
// its air to the outside.
func (r *Run) bequeath(heir int, water, air float64) {
	sp := &r.spaces[heir]
	if !sp.open {
		r.now.water[heir] = water
		r.now.excess[heir] = air - (sp.capacity - water)
		return
	}
	r.book.crossed += water
	r.book.enter(-water)
	r.airBook.crossed += air
	r.airBook.enter(-air)
}

// divided is the water of space i, as it was, by the parts of it.
func (r *Run) divided(was *space, s *state, i int, heirs []int) []float64 {
	if len(heirs) == 1 {
		return []float64{s.water[i]}
	}
	parts := make([]*compartment.Space, len(heirs))
	for n, h := range heirs {
		parts[n] = r.spaces[h].Space
	}
	return was.Split(s.pose[was.body].Up, s.water[i], parts)
}

// findRests lets every new body down to its rest, and notes what it went through.
func (r *Run) findRests() {
	if !r.rests() {
		r.restart()
		r.settleWaters(&r.now)
		r.measure(&r.now)
		return
	}
	for k := range r.bodies {
		if r.sections[k].began != r.now.time || r.bodies[k].gone {
			continue
		}
		b := &r.bodies[k]
		rest := r.fall(k)
		switch {
		case rest.Sunk || r.room(k) <= plungeShare*b.Form.Volume(): // what is left of it cannot carry it
			r.founder(k, r.now.time)
		case rest.Stable:
			r.now.pose[k] = rest.Pose
			r.notePassed(k)
		default:
			r.giveUp(NoRest, b.Name)
		}
		r.passed[k] = passage{}
	}
	r.restart()
	r.settleWaters(&r.now)
	r.measure(&r.now)
}
