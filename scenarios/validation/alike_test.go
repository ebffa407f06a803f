package validation

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var number = regexp.MustCompile(`[-+]?[0-9]+(\.[0-9]+)?(e[-+]?[0-9]+)?`)

// alike tells whether two lines are the same but for one in the last digit of numbers.
func alike(a, b string) bool {
	if a == b {
		return true
	}
	x, y := number.FindAllString(a, -1), number.FindAllString(b, -1)
	if len(x) != len(y) || number.ReplaceAllString(a, "0") != number.ReplaceAllString(b, "0") {
		return false
	}
	for i := range x {
		p, errA := strconv.ParseFloat(x[i], 64)
		q, errB := strconv.ParseFloat(y[i], 64)
		if errA != nil || errB != nil || math.Abs(p-q) > 1.001*math.Max(lastDigitOf(x[i]), lastDigitOf(y[i])) {
			return false
		}
	}
	return true
}

// lastDigitOf is the worth of a number's last digit.
func lastDigitOf(text string) float64 {
	mantissa, exponent, _ := strings.Cut(text, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	power, _ := strconv.Atoi(exponent)
	return math.Pow10(power - len(decimals))
}

func TestAlike(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"| 1.25 s |", "| 1.26 s |", true}, {"| 1.25 s |", "| 1.27 s |", false}, {"+1.2e-05 m", "+1.3e-05 m", true}, {"+1.2e-05", "+1.2e-04", false},
		{"a 1", "b 1", false}, {"1 2", "1", false}, {"0", "+0.01", true}, {"0", "-0.01", true},
	} {
		if alike(c.a, c.b) != c.same {
			t.Errorf("%q and %q: %v", c.a, c.b, !c.same)
		}
	}
}

func TestNumbersOfThePage(t *testing.T) {
	for _, c := range [][2]string{
		{like("0.61", 0.6149), "0.615"}, {like("5.2000e-9", 5.19996e-9), "5.19996e-9"}, {like("999.8431", 999.84277), "999.8428"}, {like("-0.125", -1e-9), "0.0000"},
		{rounded(1e-13, 1e-3), "0"}, {rounded(-0.000523, 0.001), "-0.0005"}, {rounded(3.1e-6, 2e-5), "+3e-06"},
	} {
		if c[0] != c[1] {
			t.Errorf("%s, not %s", c[0], c[1])
		}
	}
}
