package validation

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// group is a chapter of the page.
type group struct {
	title  string
	checks []check
}

// known says how a source's value is known.
type known string

const (
	read     known = "read"        // it stands in the source named, or in the companion scripts or the library named
	computed known = "computed"    // from the source's formula or inputs, by a second hand
	closed   known = "closed form" // classical: nobody's in particular
	second   known = "second method"
	memory   known = "from memory" // quoted, not verified
)

// check is one row of the page: what a source has, and what the engine has for the same thing.
type check struct {
	id     string // as the tests of the rooms cite it
	what   string // with the conditions
	source string
	known  known
	want   string // the source's values as printed there, parted by " / "
	unit   string
	off    allowed
	why    string // why so much is allowed
	ours   func(*laws) []float64
}

// allowed is how far off a value may be: a share of it, or in its own unit.
type allowed struct{ share, plain float64 }

func share(x float64) allowed { return allowed{share: x} }
func plain(x float64) allowed { return allowed{plain: x} }

// printed is half a unit in the last of so many decimals, and a hair for values that lie right between two.
func printed(decimals int) allowed { return allowed{plain: 0.501 * math.Pow(10, -float64(decimals))} }

// outcome is a check that was done.
type outcome struct {
	*check
	wants, gots []float64
	worst       float64 // the largest difference of all values, in the sense of off; signed
	err         error
}

// do reckons a row. What panics in it, such as a vessel that cannot be built, is its error.
func (c *check) do(l *laws) (o outcome) {
	o.check = c
	defer func() {
		if p := recover(); p != nil {
			o.err = fmt.Errorf("%v", p)
		}
	}()
	for _, text := range strings.Split(c.want, " / ") {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			o.err = err
			return o
		}
		o.wants = append(o.wants, x)
	}
	o.gots = c.ours(l)
	if len(o.gots) != len(o.wants) {
		o.err = fmt.Errorf("%d values, the source has %d", len(o.gots), len(o.wants))
		return o
	}
	for i, got := range o.gots {
		d := got - o.wants[i]
		if c.off.share > 0 {
			d /= math.Abs(o.wants[i])
		}
		if !(math.Abs(d) <= math.Abs(o.worst)) {
			o.worst = d
		}
	}
	return o
}

func (o *outcome) limit() float64 { return o.off.share + o.off.plain }

// passes tells whether every value is as near as it has to be.
func (o *outcome) passes() bool { return o.err == nil && math.Abs(o.worst) <= o.limit() }

func (o *outcome) String() string {
	if o.err != nil {
		return fmt.Sprintf("%s (%s): %v", o.id, o.what, o.err)
	}
	return fmt.Sprintf("%s (%s): %v %s, the source has %v; off by %.3g, allowed %.3g", o.id, o.what, o.gots, o.unit, o.wants, o.worst, o.limit())
}

// row is the outcome as a line of the page.
func (o *outcome) row() string {
	var ours []string
	for i, text := range strings.Split(o.want, " / ") {
		ours = append(ours, like(text, o.gots[i]))
	}
	unit := func(text string) string {
		if o.unit == "" {
			return text
		}
		return text + " " + o.unit
	}
	off, limit := rounded(o.worst, o.limit()), fmt.Sprintf("%.3g", o.limit())
	if o.off.share > 0 {
		off, limit = rounded(100*o.worst, 100*o.limit())+" %", fmt.Sprintf("%.3g %%", 100*o.limit())
	} else if off == "0" {
		limit = unit(limit)
	} else {
		off, limit = unit(off), unit(limit)
	}
	source := fmt.Sprintf("%s (%s)", o.source, o.known)
	if o.source == "" {
		source = string(o.known)
	}
	return fmt.Sprintf("| %s | %s | %s | %s | %s | %s | %s: %s |\n", o.id, o.what, source, unit(o.want), unit(strings.Join(ours, " / ")), off, limit, o.why)
}

// like writes a number as another is written; one digit more where that has few.
func like(text string, x float64) string {
	mantissa, exponent, scientific := strings.Cut(text, "e")
	whole, decimals, _ := strings.Cut(mantissa, ".")
	digits := len(decimals)
	if n := len(strings.TrimLeft(strings.Trim(whole, "-")+decimals, "0")); n <= 5 {
		digits++
	}
	if scientific {
		power, _ := strconv.Atoi(exponent)
		return strconv.FormatFloat(x/math.Pow10(power), 'f', digits, 64) + "e" + exponent
	}
	return positiveZero(strconv.FormatFloat(x, 'f', digits, 64))
}

// rounded writes a difference no finer than a hundredth of what is allowed: no digit of it is rounding error, and few are the stepping's.
func rounded(x, limit float64) string {
	unit := math.Pow(10, math.Floor(math.Log10(limit))-1)
	return positiveZero(fmt.Sprintf("%+.3g", unit*math.Round(x/unit)))
}

func positiveZero(text string) string {
	if x, err := strconv.ParseFloat(text, 64); err == nil && x == 0 {
		return strings.TrimLeft(text, "+-")
	}
	return text
}
