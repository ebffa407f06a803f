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
		if s.began > 0 && s.capsized == s.began {
			all = append(all, Warning{Kind: RollsOver, Name: name, Time: s.began})
		}
		if s.deepest > r.vessel.Depth {
			all = append(all, Warning{Kind: TooShallow, Name: name, Value: s.deepest, Time: s.deepestAt})
		}
	}
	return all
}

// strains keeps the greatest share of what every joint holds.
func (r *Run) strains() {
	for i := range r.joints {
		j := &r.joints[i]
		if m := j.Strain(j.load).Margin; !r.parted[i] && !math.IsInf(m, 1) {
			j.asked = math.Max(j.asked, 1-m)
		}
	}
}

// sounds keeps how far down a body reached.
func (r *Run) sounds(k int, s *state) {
	b, sec := &r.bodies[k], &r.sections[k]
	low, _ := b.Form.Reach(s.pose[k].Up)
	if depth := s.pose[k].Sea - low; depth > sec.deepest && r.set.Motion != Held {
		sec.deepest, sec.deepestAt = depth, s.time
	}
}
