package flood

import "math"

// jointWarnings tell what a builder of a hull that comes apart has to know.
func (r *Run) jointWarnings() (all []Warning) {
	for _, s := range r.separations {
		if s.Time == 0 {
			all = append(all, Warning{Kind: PartsAtStart, Name: s.Joint})
		}
	}
	for i := range r.joints {
		j := &r.joints[i]
		limited := j.Holds.Hogging != nil || j.Holds.Sagging != nil || j.Holds.Shear != nil
		if !r.parted[i] && r.ended != Running && (limited || len(j.Release) > 0) {
			all = append(all, Warning{Kind: NeverParts, Name: j.Name, Value: j.asked, Time: r.now.time})
		}
	}
	for k := range r.sections {
		s, name := &r.sections[k], r.bodies[k].Name
		if after := s.capsized - s.began; s.began > 0 && after <= soon*math.Sqrt(r.size) {
			all = append(all, Warning{Kind: RollsOver, Name: name, Value: after, Time: s.capsized})
		}
		if s.deepest > r.vessel.Depth && !r.free() { // in free motion the floor bears it, and touched-bottom tells
			all = append(all, Warning{Kind: TooShallow, Name: name, Value: s.deepest, Time: s.deepestAt})
		}
	}
	return all
}

// soon after a parting is 10 s for a hull of a metre, and goes like the root of its length, as its rolling does.
const soon = 10.0

// sounds keeps how far down a body reached.
func (r *Run) sounds(k int, s *state) {
	b, sec := &r.bodies[k], &r.sections[k]
	low, _ := b.Form.Reach(s.pose[k].Up)
	if depth := s.pose[k].Sea - low; depth > sec.deepest && r.set.Motion != Held {
		sec.deepest, sec.deepestAt = depth, s.time
	}
}
