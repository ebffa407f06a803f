package scenarios

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// Moment writes newton metres to three digits; where the file is in inches, pound-force inches.
func (w Words) Moment(nm float64) string {
	if w.imperial() {
		return fmt.Sprintf("%s lbf.in", threeDigits(nm/(poundForce*0.0254)))
	}
	return threeDigits(nm) + " N.m"
}

// Force writes newtons to three digits; where the file is in inches, pounds-force.
func (w Words) Force(n float64) string {
	if w.imperial() {
		return threeDigits(n/poundForce) + " lbf"
	}
	return threeDigits(n) + " N"
}

const poundForce = 0.45359237 * hydro.Gravity // N, exactly: g is the standard one

// threeDigits writes a number to three digits, without an exponent.
func threeDigits(x float64) string {
	if x == 0 || math.IsNaN(x) {
		return decimals(x, 0)
	}
	places := 2 - int(math.Floor(math.Log10(math.Abs(x))))
	return decimals(x, min(max(places, 0), 6))
}

// Bending writes a bending moment and which way it bends.
func (w Words) Bending(nm float64) string {
	way := "hogging"
	if nm < 0 {
		way = "sagging"
	}
	return w.Moment(math.Abs(nm)) + " " + way
}

// leastLoad is the share of weight and of weight × length below which a load is only rounding.
const leastLoad = 1e-9

// JointLoad is one line on what a joint bears, and what share of its limits that is.
func (w Words) JointLoad(j *compartment.JointLoad) string {
	text := fmt.Sprintf("%s, shear %s", w.Bending(j.Bending), w.Force(math.Abs(j.Shear)))
	switch asked := 1 - j.Margin; {
	case math.IsInf(j.Margin, 0):
	case asked > 1:
		text += fmt.Sprintf("; it lets go at once: %s is %.0f %% of what it holds", j.Limit, 100*asked)
	case asked >= 0.005:
		text += fmt.Sprintf("; %.0f %% of what it holds in %s", 100*asked, j.Limit)
	default:
		text += "; next to nothing of what it holds"
	}
	return text
}

// GreatestBending is one line on where a hull of even strength would part.
func (w Words) GreatestBending(t *compartment.Floating) string {
	c := t.Still.Curve
	if weight := t.Mass * hydro.Gravity; math.Abs(c.Peak.Value) <= leastLoad*weight*(c.X[len(c.X)-1]-c.X[0]) {
		return "none"
	}
	return fmt.Sprintf("%s, at x = %s: a hull of even strength would part there", w.Bending(c.Peak.Value), w.Length(c.Peak.X))
}

// GreatestShear is the same of the shear.
func (w Words) GreatestShear(t *compartment.Floating) string {
	c := t.Still.Curve
	if math.Abs(c.PeakShear.Value) <= leastLoad*t.Mass*hydro.Gravity {
		return "none"
	}
	return fmt.Sprintf("%s, at x = %s", w.Force(math.Abs(c.PeakShear.Value)), w.Length(c.PeakShear.X))
}
