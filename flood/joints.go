package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

// joint is a plane at which the hull can come apart.
type joint struct {
	*compartment.JointSpec
	body  int              // the body that it holds together; −1: it has parted
	load  compartment.Load // at the last survey
	asked float64          // greatest share of what it holds
	borne JointLoads       // until it parts
}

// bearing finds what the joints of a body bear.
type bearing struct {
	loads *compartment.Loads
	found []compartment.Load // by joint of the body, from the stern
	air   []float64          // in the body's spaces, Pa
}

// startJoints lays out the joints and the workspace for their loads.
func (r *Run) startJoints() {
	specs := r.vessel.Spec.Joints
	for i := range specs {
		r.joints = append(r.joints, joint{JointSpec: &specs[i], borne: unborne(specs[i].Name)})
	}
	r.parted = make([]bool, len(specs))
	r.makeBearings()
}

// makeBearings makes the workspaces of the bodies that a joint holds together.
func (r *Run) makeBearings() {
	r.bearings = make([]bearing, len(r.bodies))
	for k := range r.bodies {
		if b := r.bodies[k].Body; b.Last > b.First {
			r.bearings[k] = bearing{
				loads: r.vessel.NewLoads(b, true), found: make([]compartment.Load, b.Last-b.First), air: make([]float64, len(b.Spaces)),
			}
		}
	}
}

// bear finds what every joint bears in a state whose waters have been settled.
func (r *Run) bear(s *state) {
	for k := range r.bearings {
		b := &r.bearings[k]
		if b.loads == nil || r.bodies[k].gone {
			continue
		}
		b.loads.AtJoints(r.loadCase(k, s), b.found)
		for i, load := range b.found {
			r.joints[r.bodies[k].First+i].load = load
		}
	}
}

// loadCase is how a body lies in a state, with its waters and airs.
func (r *Run) loadCase(k int, s *state) *compartment.LoadCase {
	b := &r.bodies[k]
	for i, g := range b.spaces {
		r.bearings[k].air[i] = r.airPressure(g, s)
	}
	return &compartment.LoadCase{Pose: s.pose[k], Surfaces: b.floater.Surfaces(), Air: r.bearings[k].air, Motion: r.loadMotion(k, s)}
}

// airPressure is the gauge pressure of the air in a space, or at the highest point of a full one, Pa.
func (r *Run) airPressure(i int, s *state) float64 {
	sp := &r.spaces[i]
	if sp.open {
		return 0
	}
	if head, full := r.head(i, s); full {
		return r.weight * (head - r.bodies[sp.body].floater.Surfaces()[sp.local].High)
	}
	return s.press[i]
}

// strainValue passes zero when a joint lets go under its load.
func (r *Run) strainValue(i int, s *state) float64 {
	if r.parted[i] || r.onTheFloor(r.joints[i].body, s) {
		return -1
	}
	return math.Max(-1, -r.joints[i].Strain(r.joints[i].load).Margin)
}
