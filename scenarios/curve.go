package scenarios

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"

	"github.com/byhead/byhead/flood"
)

// CurveHeader is the first line of a curve's CSV.
const CurveHeader = "time_s,x_m,bending_nm,shear_n"

// WriteCurve writes the bending along the hull at its worst moment as CSV in SI units, a line for every place; of no curve, nil, the
// header alone.
func WriteCurve(out io.Writer, c *flood.BendingCurve) error {
	b := bufio.NewWriter(out)
	fmt.Fprintln(b, CurveHeader)
	if c != nil {
		for i, x := range c.X {
			fmt.Fprintf(b, "%g,%g,%g,%g\n", c.Time, x, c.Bending[i]+0, c.Shear[i]+0) // −0 + 0 is 0
		}
	}
	return b.Flush()
}

// writeCurve tells where the hull bent most while it was whole.
func (t *Story) writeCurve(b *bytes.Buffer, r *flood.Result) {
	c := r.Curve
	if c == nil {
		return
	}
	w := t.words
	open, missing := math.Abs(c.Bending[0]), "what the water about the hull sets against its motion is not in it"
	if t.motion == string(flood.Held) {
		missing = "the clamp's force is not in it"
	}
	parts := ": a hull of even strength would part here"
	if open > mostlyOpen*math.Abs(c.Peak.Value) {
		parts = ""
	}
	fmt.Fprintf(b, "\nBending along the whole hull\n  Worst%s: %s at x = %s%s.\n", w.at(c.Time), w.Bending(c.Peak.Value), w.Length(c.Peak.X), parts)
	if open > toldOpen*math.Abs(c.Peak.Value) {
		fmt.Fprintf(b, "  At the after end %s is left of it, where there can be none: by so much it is wrong then, for %s.\n",
			w.Moment(open), missing)
	}
	if j := t.nearestJoint(c.Peak.X); j != "" {
		fmt.Fprintf(b, "  %s.\n", j)
	}
	fmt.Fprintf(b, "  Greatest shear then: %s at x = %s.\n", w.Force(math.Abs(c.PeakShear.Value)), w.Length(c.PeakShear.X))
}

// What is left at the after end, as a share of the peak, from which on it is told, and from which on nothing is said of where she parts.
const (
	toldOpen   = 0.1
	mostlyOpen = 0.5
)

// nearestJoint says how far the joint that is nearest lies from a place; "" where there is none.
func (t *Story) nearestJoint(x float64) string {
	joints := t.vessel.Spec.Joints
	if len(joints) == 0 {
		return ""
	}
	best := 0
	for i := range joints {
		if math.Abs(joints[i].At-x) < math.Abs(joints[best].At-x) {
			best = i
		}
	}
	away, side := x-joints[best].At, "before"
	if away < 0 {
		side = "abaft"
	}
	if math.Abs(away) < 0.5e-3 {
		return fmt.Sprintf("That is at joint %s", joints[best].Name)
	}
	return fmt.Sprintf("That is %s %s joint %s: what stands there has to be stronger than the joint", t.words.Length(math.Abs(away)), side, joints[best].Name)
}
