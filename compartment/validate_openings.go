package compartment

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

func (r *report) opening(path string, o *OpeningSpec, s *Spec) {
	r.between(path, o, spaceNames(s))
	r.point(path+".at", o.At)
	r.shape(path, o)
	if o.Along != nil {
		r.direction(path+".along", *o.Along)
	}
	if o.Faces != nil {
		r.direction(path+".faces", *o.Faces)
	}
	if o.Along != nil && o.Faces != nil && !r.broken(path+".along", path+".faces") {
		r.across(path, *o.Along, *o.Faces)
	}
	r.distance(path+".wall", o.Wall)
	r.distance(path+".rises", o.Rises)
	switch o.Edge {
	case "", Sharp, Rounded, Tube:
	default:
		r.fault(path+".edge", fmt.Sprintf("there is no edge %q", o.Edge), "sharp, rounded or tube")
	}
	maybe(path+".cd", o.Cd, r.discharge)
	maybe(path+".contact_angle", o.ContactAngle, r.angle)
	r.conditions(path+".opens", o.Opens, s)
	r.conditions(path+".shuts", o.Shuts, s)
}

func (r *report) between(path string, o *OpeningSpec, known []string) {
	for i, name := range o.Between {
		if name != outside && !slices.Contains(known, name) {
			r.unknown(fmt.Sprintf("%s.between.%d", path, i), "compartment", name, append(slices.Clone(known), outside))
		}
	}
	if o.Between[0] == o.Between[1] {
		r.fault(path+".between.1", fmt.Sprintf("both sides are %q", o.Between[1]), "two different spaces, or one and outside")
	}
}

// shape checks that an opening has exactly one, and its measures. Of two shapes the later in this order is at fault; the
// reader of a file, which knows where they stand, tells the later one there.
func (r *report) shape(path string, o *OpeningSpec) {
	var given []string
	if o.Hole != nil {
		given = append(given, "hole")
		r.length(path+".hole", *o.Hole)
	}
	if o.Slot != nil {
		given = append(given, "slot")
		r.length(path+".slot.length", o.Slot.Length)
		r.length(path+".slot.width", o.Slot.Width)
	}
	if o.Door != nil {
		given = append(given, "door")
		r.length(path+".door.length", o.Door.Length)
		r.length(path+".door.height", o.Door.Height)
	}
	if o.Area != nil {
		given = append(given, "area")
		r.check(path+".area", *o.Area, *o.Area >= minArea && *o.Area <= maxLength*maxLength, "an area of more than 0 and at most 400 m²")
	}
	if o.Flow != nil {
		given = append(given, "flow")
		r.check(path+".flow", *o.Flow, *o.Flow >= minPump && *o.Flow <= maxPump, "a flow of more than 0 and at most 10 m³/s")
	}
	const want = "exactly one of hole, slot, door, area and flow"
	switch len(given) {
	case 0:
		r.fault(path, "an opening without a shape", want)
	case 1:
	default:
		r.fault(path+"."+given[len(given)-1], fmt.Sprintf("an opening with %d shapes", len(given)), want)
	}
}

// across refuses a length that would stand out of the plate.
func (r *report) across(path string, along, normal r3.Vec) {
	if r3.Norm(r3.Cross(r3.Unit(along), r3.Unit(normal))) < 1e-3 {
		r.fault(path+".along", "its length stands at right angles to the plate", "a direction in the plate")
	}
}

func (r *report) conditions(path string, all []Condition, s *Spec) {
	for i := range all {
		at := conditionPath(path, i, len(all))
		r.condition(at, &all[i])
		if name := all[i].Joint; name != nil {
			r.knownJoint(at+".joint", *name, s)
		}
	}
}

// conditionPath leaves the index away where there is one condition only, as a file does.
func conditionPath(path string, i, n int) string {
	if n == 1 {
		return path
	}
	return fmt.Sprintf("%s.%d", path, i)
}

func (r *report) condition(path string, c *Condition) {
	given := 0
	if c.Joint != nil {
		given++
	}
	for _, x := range [3]*float64{c.Time, c.Trim, c.Wet} {
		if x != nil {
			given++
		}
	}
	if given != 1 {
		r.fault(path, fmt.Sprintf("a condition with %d members", given), "exactly one of time, joint, trim and wet")
	}
	maybe(path+".time", c.Time, r.time)
	maybe(path+".wet", c.Wet, r.time)
	maybe(path+".trim", c.Trim, func(path string, x float64) {
		r.check(path, x, x != 0 && math.Abs(x) <= math.Pi/2, "a trim from −90° to 90°, not 0: its sign tells from which side")
	})
}

func (r *report) knownJoint(path, name string, s *Spec) {
	known := make([]string, len(s.Joints))
	for i := range s.Joints {
		known[i] = s.Joints[i].Name
	}
	if !slices.Contains(known, name) {
		r.unknown(path, "joint", name, known)
	}
}

func (r *report) joint(path string, j *JointSpec) {
	r.coordinate(path+".at", j.At)
	switch j.Keeps {
	case "", KeepAfter, KeepForward, KeepBoth:
	default:
		r.fault(path+".keeps", fmt.Sprintf("nobody is called %q", j.Keeps), "after, forward or both")
	}
	load := func(path string, x float64) {
		r.check(path, x, x >= minForce && x <= maxForce, "a magnitude of more than 0")
	}
	maybe(path+".holds.hogging", j.Holds.Hogging, load)
	maybe(path+".holds.sagging", j.Holds.Sagging, load)
	maybe(path+".holds.shear", j.Holds.Shear, load)
	maybe(path+".hinge", j.Hinge, r.coordinate)
	for i := range j.Release {
		at := conditionPath(path+".release", i, len(j.Release))
		r.condition(at, &j.Release[i])
		if j.Release[i].Joint != nil {
			r.fault(at+".joint", "a joint cannot be released by a joint", "time, trim or wet")
		}
	}
}

// chain checks the pieces' names: well-formed, each used once, and each joint's forward piece the after piece of the next.
func (r *report) chain(s *Spec) {
	seen := map[string]bool{}
	for k := range s.Joints {
		for side, name := range s.Joints[k].Sections {
			path := fmt.Sprintf("%s.sections.%d", r.paths.joints[k], side)
			if what, want := illFormed(name); what != "" {
				r.fault(path, what, want)
				continue
			}
			if side == 0 && k > 0 {
				if before := s.Joints[k-1].Sections[1]; name != before {
					r.fault(path, fmt.Sprintf("the piece abaft this joint is %q here and %q at the joint before", name, before),
						"one name for one piece")
				}
				continue
			}
			if seen[name] {
				r.fault(path, fmt.Sprintf("two pieces are called %q", name), "a name for each piece")
			}
			seen[name] = true
		}
	}
}
