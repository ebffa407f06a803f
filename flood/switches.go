package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// trigger opens or shuts a port when its condition comes true, once.
type trigger struct {
	passage   int // the opening's number among the vessel's passages; −1: it releases a joint
	joint     int
	opens     bool
	condition compartment.Condition
	due       float64 // s; +Inf: not by the clock, or not yet
	spent     bool
}

// switches are the openings that open and shut.
type switches struct {
	triggers []trigger
}

// startSwitches collects the triggers in the order of the file, an opening's opening before its shutting.
func (r *Run) startSwitches() {
	for j := range r.ports {
		p := &r.ports[j]
		if p.Listed == nil {
			continue
		}
		p.wants = p.wants && len(p.Listed.Opens) == 0
		r.addTriggers(j, true, p.Listed.Opens)
		r.addTriggers(j, false, p.Listed.Shuts)
	}
	r.rewire()
	for i := range r.joints {
		for _, c := range r.joints[i].Release {
			r.addTrigger(trigger{passage: -1, joint: i, opens: true, condition: c})
		}
	}
}

func (r *Run) addTriggers(j int, opens bool, conditions []compartment.Condition) {
	for _, c := range conditions {
		r.addTrigger(trigger{passage: j, opens: opens, condition: c})
	}
}

func (r *Run) addTrigger(t trigger) {
	t.due = math.Inf(1)
	if t.condition.Time != nil {
		t.due = *t.condition.Time
	}
	r.triggers = append(r.triggers, t)
}

// nextScheduled is when the next trigger is due by the clock, +Inf: none is.
func (r *Run) nextScheduled() float64 {
	next := math.Inf(1)
	for i := range r.triggers {
		if t := &r.triggers[i]; !t.spent {
			next = math.Min(next, t.due)
		}
	}
	return next
}

// triggerValue passes zero when a trim is reached, or an opening's centre goes under or comes up.
func (r *Run) triggerValue(w *watch, s *state) float64 {
	t := &r.triggers[w.index]
	body, at := r.triggerPlace(t)
	pose := s.pose[body]
	switch w.kind {
	case watchTrim:
		want := *t.condition.Trim
		if want < 0 {
			return want - pose.Trim()
		}
		return pose.Trim() - want
	case watchUnder:
		return -pose.Height(at) / r.size
	}
	return pose.Height(at) / r.size
}

// triggerPlace is the body that a trigger watches, and the point of it that has to be under water: an opening's centre, a
// joint's point on the keel line.
func (r *Run) triggerPlace(t *trigger) (body int, at r3.Vec) {
	if t.passage < 0 {
		j := &r.joints[t.joint]
		return max(0, j.body), j.KeelPoint()
	}
	p := &r.ports[r.portOf(t.passage)]
	return p.body, p.centre
}

// fire spends a trigger: its opening opens or shuts (both of them, where a parting has made two), its joint parts. Those that a
// later one at the same instant overrules are told too, since both happened; shutting wins.
func (r *Run) fire(i int) {
	t := &r.triggers[i]
	t.spent = true
	if t.passage < 0 {
		r.letGo(t.joint, releaseCause(&t.condition))
		return
	}
	for j := range r.ports {
		if p := &r.ports[j]; p.passage == t.passage && p.wants != t.opens && !r.bodies[p.body].gone {
			r.swing(j, t.opens)
		}
	}
}

// swing opens or shuts a port.
func (r *Run) swing(j int, opens bool) {
	p := &r.ports[j]
	if p.wants = opens; p.leadsNowhere() {
		return
	}
	p.open, p.fresh = opens, opens
	kind := Shut
	if opens {
		kind = Opened
	} else {
		r.now.rate[j], r.now.speed[j], r.now.gust[j], r.now.blow[j] = 0, 0, 0, 0
	}
	r.note(kind, p.Name, r.bodies[p.body].Name, r.now.time)
}

// fireJoint spends the triggers that wait for a joint's parting, openings before shuttings, and its own other releases, which would
// hold back the end of the run.
func (r *Run) fireJoint(i int) {
	name := r.joints[i].Name
	for k := range r.triggers {
		if t := &r.triggers[k]; t.passage < 0 && t.joint == i {
			t.spent = true
		}
	}
	for _, opens := range [2]bool{true, false} {
		for i := range r.triggers {
			if t := &r.triggers[i]; !t.spent && t.opens == opens && t.condition.Joint != nil && *t.condition.Joint == name {
				r.fire(i)
			}
		}
	}
}

// fireDue spends the triggers whose time has come, openings before shuttings so that these win.
func (r *Run) fireDue() (fired bool) {
	for _, opens := range [2]bool{true, false} {
		for i := range r.triggers {
			if t := &r.triggers[i]; !t.spent && t.opens == opens && t.due <= r.now.time*(1+1e-14) {
				r.fire(i)
				fired = true
			}
		}
	}
	return fired
}

// releaseCause is the word for what released a joint.
func releaseCause(c *compartment.Condition) string {
	switch {
	case c.Time != nil:
		return "time"
	case c.Trim != nil:
		return "trim"
	}
	return "wet"
}
