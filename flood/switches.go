package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// trigger opens or shuts a port when its condition comes true, once.
type trigger struct {
	port      int // −1: it releases a joint
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
		p.open = p.open && len(p.Listed.Opens) == 0
		r.addTriggers(j, true, p.Listed.Opens)
		r.addTriggers(j, false, p.Listed.Shuts)
	}
	for i := range r.joints {
		for _, c := range r.joints[i].Release {
			r.addTrigger(trigger{port: -1, joint: i, opens: true, condition: c})
		}
	}
}

func (r *Run) addTriggers(j int, opens bool, conditions []compartment.Condition) {
	for _, c := range conditions {
		r.addTrigger(trigger{port: j, opens: opens, condition: c})
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
	if t.port < 0 {
		j := &r.joints[t.joint]
		return j.body, r3.Vec{X: j.At}
	}
	return r.ports[t.port].body, r.ports[t.port].centre
}

// fire spends a trigger: its port opens or shuts. Those that a later one at the same instant overrules are told too, since
// both happened; shutting wins.
func (r *Run) fire(i int) {
	t := &r.triggers[i]
	t.spent = true
	if t.port < 0 {
		r.letGo(t.joint)
		return
	}
	p := &r.ports[t.port]
	if p.open == t.opens {
		return
	}
	p.open = t.opens
	kind := Shut
	if t.opens {
		kind = Opened
	}
	if !p.open {
		r.now.rate[t.port], r.now.speed[t.port] = 0, 0
		r.now.gust[t.port], r.now.blow[t.port] = 0, 0
	}
	r.note(kind, p.Name, r.bodies[p.body].Name, r.now.time)
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
