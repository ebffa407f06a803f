package compartment

// StillWater is what a body of several pieces bears where it floats at rest.
type StillWater struct {
	Joints []JointLoad // from the stern
	Curve  *LoadCurve
}

// JointLoad is the load at a joint, and what is asked of the joint by it.
type JointLoad struct {
	Name string
	Load
	Strain
}

// stillWater finds the loads of a body at rest in a pose, with the waters that the floater's last Balance left for it.
func (v *Vessel) stillWater(f *Floater, p Pose, ways floatWays) *StillWater {
	l := v.NewLoads(f.Body, ways.later)
	c := &LoadCase{Pose: p, Surfaces: f.Surfaces(), Air: ways.air}
	s := &StillWater{Curve: l.Curve(c)}
	at := make([]Load, f.Body.Last-f.Body.First)
	l.AtJoints(c, at)
	for i, load := range at {
		j := &v.Spec.Joints[f.Body.First+i]
		s.Joints = append(s.Joints, JointLoad{Name: j.Name, Load: load, Strain: j.Strain(load)})
	}
	return s
}
