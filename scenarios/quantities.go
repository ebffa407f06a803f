package scenarios

import (
	"fmt"
	"math"
	"strconv"
)

// Words writes results for people: lengths in the unit that the file uses most, and where a scale is given what things are
// at full size, by Froude's rule (W. Froude, 1868: at equal v²/(gL) lengths go by the scale and times by its square root).
type Words struct {
	unit  Unit    // of length
	scale float64 // 96 is 1:96; 1: none was given
}

// Words gives the words of a scenario.
func (s *Scenario) Words() Words { return Words{unit: s.Unit, scale: s.Scale} }

// Scaled tells whether there is a full size to speak of.
func (w Words) Scaled() bool { return w.scale > 1 }

// imperial tells whether the file speaks in inches or feet, so that masses are ounces and pounds.
func (w Words) imperial() bool { return w.unit.Name == "in" || w.unit.Name == "ft" }

// Length writes metres in the file's unit, to about a hundredth of a millimetre. Inches are fractions to 1/64, and what
// they leave out follows in brackets where it is half a thousandth or more.
func (w Words) Length(metres float64) string {
	x := w.unit.FromSI(metres)
	if math.IsNaN(x) {
		return "–"
	}
	switch w.unit.Name {
	case "in":
		return inches(x)
	case "m":
		return decimals(x, 4) + " m"
	case "cm":
		return decimals(x, 2) + " cm"
	case "ft":
		return decimals(x, 4) + " ft"
	}
	if math.Abs(x) < 1 {
		return decimals(x, 2) + " mm"
	}
	return decimals(x, 1) + " mm"
}

// inches writes a number of inches to the nearest 1/64, with the rest beside it.
func inches(x float64) string {
	parts := int64(math.Round(math.Abs(x) * 64))
	sign := ""
	if x < 0 && parts > 0 {
		sign = "-"
	}
	text := sign + fraction64(parts) + " in"
	shown := math.Copysign(float64(parts)/64, x)
	if rest := x - shown; math.Abs(rest) >= 0.0005 {
		text += fmt.Sprintf(" (%+.3f)", rest)
	}
	return text
}

// fraction64 writes so many 64ths: 155 is "2 27/64".
func fraction64(parts int64) string {
	whole, above, below := parts/64, parts%64, int64(64)
	for above > 0 && above%2 == 0 {
		above, below = above/2, below/2
	}
	switch {
	case above == 0:
		return strconv.FormatInt(whole, 10)
	case whole == 0:
		return fmt.Sprintf("%d/%d", above, below)
	}
	return fmt.Sprintf("%d %d/%d", whole, above, below)
}

// FullLength writes what a length of the model is at full size, in metres or feet.
func (w Words) FullLength(metres float64) string {
	full, unit := metres*w.scale, "m"
	if w.imperial() {
		full, unit = full/0.3048, "ft"
	}
	return decimals(full, 2) + " " + unit
}

// Time writes a time of the model: seconds, from two minutes on minutes and seconds.
func (w Words) Time(seconds float64) string { return clock(seconds) }

// FullTime writes what a time of the model is at full size.
func (w Words) FullTime(seconds float64) string { return clock(seconds * math.Sqrt(w.scale)) }

// clock writes a time to a tenth of a second while that can matter, then in minutes and hours.
func clock(seconds float64) string {
	switch {
	case math.IsNaN(seconds):
		return "–"
	case seconds < 119.95:
		return decimals(seconds, 1) + " s"
	case seconds < 7199.5:
		whole := int64(math.Round(seconds))
		return fmt.Sprintf("%d min %02d s", whole/60, whole%60)
	}
	whole := int64(math.Round(seconds / 60))
	return fmt.Sprintf("%d h %02d min", whole/60, whole%60)
}

// Mass writes kilograms: grams or ounces, from two kilograms or pounds on those.
func (w Words) Mass(kg float64) string {
	if w.imperial() {
		ounces := kg / 0.028349523125 // the avoirdupois ounce, exactly
		if math.Abs(ounces) >= 32 {
			return decimals(ounces/16, 3) + " lb"
		}
		return decimals(ounces, 2) + " oz"
	}
	if math.Abs(kg) >= 2 {
		return decimals(kg, 3) + " kg"
	}
	return decimals(1000*kg, 1) + " g"
}

// Volume writes cubic metres as millilitres, from two litres on litres; where the file is in inches, cubic inches beside it.
func (w Words) Volume(m3 float64) string {
	text := decimals(1e6*m3, 1) + " ml"
	if math.Abs(m3) >= 2e-3 {
		text = decimals(1e3*m3, 3) + " l"
	}
	if w.imperial() {
		text += fmt.Sprintf(" (%s in3)", decimals(m3/1.6387064e-5, 1)) // 0.0254³ m³, exactly
	}
	return text
}

// Area writes square metres as square millimetres or square centimetres, or square inches.
func (w Words) Area(m2 float64) string {
	switch {
	case w.imperial():
		return strconv.FormatFloat(m2/0.00064516, 'g', 4, 64) + " in2"
	case math.Abs(m2) < 1e-4:
		return strconv.FormatFloat(m2*1e6, 'g', 4, 64) + " mm2"
	}
	return strconv.FormatFloat(m2*1e4, 'g', 4, 64) + " cm2"
}

// Angle writes radians in degrees, to a hundredth.
func (w Words) Angle(rad float64) string {
	if math.IsNaN(rad) {
		return "–"
	}
	return decimals(rad*(180/math.Pi), 2) + "°"
}

// Trim writes a trim and by which end it is.
func (w Words) Trim(rad float64) string {
	return w.sided(rad, "by the head", "by the stern")
}

// Heel writes a heel and to which side it is.
func (w Words) Heel(rad float64) string {
	return w.sided(rad, "to starboard", "to port")
}

func (w Words) sided(rad float64, positive, negative string) string {
	text := w.Angle(math.Abs(rad))
	switch {
	case text == "–" || text == w.Angle(0):
		return text
	case rad > 0:
		return text + " " + positive
	}
	return text + " " + negative
}

// decimals writes a number to so many decimals, never as a negative zero; what is no number is a dash.
func decimals(x float64, n int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	text := strconv.FormatFloat(x, 'f', n, 64)
	for _, c := range text {
		if c >= '1' && c <= '9' {
			return text
		}
	}
	return strconv.FormatFloat(0, 'f', n, 64)
}
