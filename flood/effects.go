package flood

import "math"

// affect lets the things that happened at the end of the step act, states before openings, each in the order of the file,
// and starts the flows anew where they jumped; what is so after the jump happens at the same instant.
func (r *Run) affect() {
	r.survey(&r.now)
	r.measure(&r.now)
	r.bends()
	r.strains()
	r.vent()
	for range maxCascade {
		if !r.happenNow() || r.ended != Running {
			break
		}
		r.restart()
		r.survey(&r.now)
	}
	r.mark()
	switch {
	case len(r.events) > 0:
		r.sampleNow(true)
	case r.ended != Running: // a wreck that has come to lie is no event, but the end
		r.sampleEnd()
	}
	if r.ended == Running && r.now.time >= r.set.Until {
		r.runOut()
	}
}

// maxCascade is how many jumps may follow one another at one instant.
const maxCascade = 20

// happenNow lets happen what is so now and was not, and tells whether flows jump by it.
func (r *Run) happenNow() (jumped bool) {
	for i := range r.watch {
		w := &r.watch[i]
		if w.on || i != r.hit && !(w.after >= 0) {
			continue
		}
		if w.kind == watchQuiet && jumped { // to be looked at again after the jump
			continue
		}
		w.on = true
		jumped = r.happen(w, r.now.time) || jumped
		if r.relaid { // by a parting: what is watched is another list now
			r.relaid, r.hit = false, -1
			return true
		}
	}
	r.hit = -1
	jumped = r.fireDue() || jumped
	r.relaid = false
	return jumped
}

// happen lets one thing happen, and tells whether flows jump by it.
func (r *Run) happen(w *watch, time float64) (jumps bool) {
	switch w.kind {
	case watchFilled:
		return r.fill(w.index, time)
	case watchGasp:
		return r.gasp(w.index)
	case watchOvertopped:
		if !r.overtopped[w.index] {
			r.overtopped[w.index] = true
			b := r.vessel.Bulkheads[w.index]
			r.note(Overtopped, b.Spec.Name, r.bodies[r.ports[r.portOf(b.Passage)].body].Name, time)
		}
		return false
	case watchBroke:
		return r.breakThrough(w.index, time)
	case watchTrim:
		r.fire(w.index)
		return true
	case watchUnder:
		t := &r.triggers[w.index]
		t.due = time + *t.condition.Wet
		return false
	case watchEmerged:
		r.triggers[w.index].due = math.Inf(1)
		return false
	case watchStrain:
		j := &r.joints[w.index]
		r.letGo(w.index, string(j.Strain(j.load).Limit))
		return true
	case watchMouth:
		r.turnMouth(w.index)
		return true
	case watchQuiet:
		r.settle(time)
		return false
	}
	return r.happenToBody(w, time)
}

// fill puts down that a space is full. What flows in then has to flow out, and the heads jump to where it does.
func (r *Run) fill(i int, time float64) bool {
	sp := &r.spaces[i]
	sp.brimmed = true
	if !r.filled[i] {
		r.filled[i] = true
		r.note(Filled, sp.Name, r.bodies[sp.body].Name, time)
	}
	if sp.holdsAir() {
		r.loseAir(i, time)
	}
	return true
}

// happenToBody puts down what a body went through.
func (r *Run) happenToBody(w *watch, time float64) bool {
	k := w.index
	name := r.bodies[k].Name
	switch w.kind {
	case watchDeckEdge:
		if !r.deckUnder[k] {
			r.deckUnder[k] = true
			r.note(DeckEdgeUnder, name, name, time)
		}
	case watchCapsized:
		r.capsize(k, time)
	case watchPastVertical:
		r.passVertical(k, time)
	case watchFoundered:
		r.founder(k, time)
		return r.bodies[k].gone
	case watchTouched:
		r.touch(k, time)
	case watchLies:
		r.lie(k)
		return true
	case watchUnstable:
		return r.lean(k)
	}
	return false
}
