package scenarios

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

// JointLoadEntry is what a joint bears where a body floats: see compartment.Load for the signs. Limit is the one of its
// limits that is nearest to being passed, Margin the share of it that is left, both null where it holds any load.
type JointLoadEntry struct {
	Name      string   `json:"name"`
	Bending   *float64 `json:"bending_nm"`
	Shear     *float64 `json:"shear_n"`
	Torsion   *float64 `json:"torsion_nm"`
	Axial     *float64 `json:"axial_n"`
	EndMoment *float64 `json:"end_moment_nm"`
	Limit     *string  `json:"limit"`
	Margin    *float64 `json:"margin"`
}

// PeakEntry is the greatest magnitude along a curve, with its sign; the member that does not apply is left out.
type PeakEntry struct {
	X       *float64 `json:"x_m"`
	Bending *float64 `json:"bending_nm,omitempty"`
	Shear   *float64 `json:"shear_n,omitempty"`
}

// LoadCurveEntry is the bending and the shear along a body.
type LoadCurveEntry struct {
	X       []*float64 `json:"x_m"`
	Bending []*float64 `json:"bending_nm"`
	Shear   []*float64 `json:"shear_n"`
}

// addLoads puts the loads in still water into a condition; nil: it does not float, or is a section alone.
func (c *FloatCondition) addLoads(s *compartment.StillWater) {
	if s == nil {
		return
	}
	for i := range s.Joints {
		c.JointLoads = append(c.JointLoads, newJointLoad(&s.Joints[i]))
	}
	c.BendingPeak = &PeakEntry{X: Number(s.Curve.Peak.X), Bending: Number(s.Curve.Peak.Value)}
	c.ShearPeak = &PeakEntry{X: Number(s.Curve.PeakShear.X), Shear: Number(s.Curve.PeakShear.Value)}
	c.BendingCurve = &LoadCurveEntry{}
	for i, x := range s.Curve.X {
		c.BendingCurve.X = append(c.BendingCurve.X, Number(x))
		c.BendingCurve.Bending = append(c.BendingCurve.Bending, Number(s.Curve.Bending[i]))
		c.BendingCurve.Shear = append(c.BendingCurve.Shear, Number(s.Curve.Shear[i]))
	}
}

func newJointLoad(j *compartment.JointLoad) JointLoadEntry {
	e := JointLoadEntry{
		Name: j.Name, Bending: Number(j.Bending), Shear: Number(j.Shear), Torsion: Number(j.Torsion),
		Axial: Number(j.Axial), EndMoment: Number(j.EndMoment),
	}
	if limit := string(j.Limit); !math.IsInf(j.Margin, 0) {
		e.Limit, e.Margin = &limit, Number(j.Margin)
	}
	return e
}
