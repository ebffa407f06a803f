package scenarios

import (
	"math"
	"testing"
)

func wordsIn(t *testing.T, unit string, scale float64) Words {
	t.Helper()
	u, ok := unitNamed(unit)
	if !ok {
		t.Fatalf("no unit %s", unit)
	}
	return Words{u, scale}
}

func TestLengthsInTheFilesUnit(t *testing.T) {
	for _, c := range []struct {
		unit   string
		metres float64
		want   string
	}{
		{"mm", 0.0623, "62.3 mm"}, {"mm", -0.00042, "-0.42 mm"}, {"mm", -1e-9, "0.00 mm"}, {"mm", math.NaN(), "–"},
		{"cm", 0.0623, "6.23 cm"}, {"m", 0.0623, "0.0623 m"}, {"ft", 0.3048, "1.0000 ft"},
		{"in", 0.0254 * (2 + 27./64), "2 27/64 in"}, {"in", 0.0254 * 0.5, "1/2 in"}, {"in", 0.0254 * 3, "3 in"},
		{"in", -0.0254 * 1.25, "-1 1/4 in"}, {"in", 0.0254 * 1.253, "1 1/4 in (+0.003)"}, {"in", 0.0254 * 0.001, "0 in (+0.001)"},
		{"in", -0.0254 * 1.253, "-1 1/4 in (-0.003)"},
	} {
		if got := wordsIn(t, c.unit, 1).Length(c.metres); got != c.want {
			t.Errorf("%g m in %s: %q, want %q", c.metres, c.unit, got, c.want)
		}
	}
}

func TestOtherQuantities(t *testing.T) {
	mm, in := wordsIn(t, "mm", 1), wordsIn(t, "in", 1)
	for got, want := range map[string]string{
		mm.Mass(0.31):             "310.0 g",
		mm.Mass(2.5):              "2.500 kg",
		in.Mass(0.45359237):       "16.00 oz",
		in.Mass(4.5359237):        "10.000 lb",
		mm.Volume(3e-4):           "300.0 ml",
		mm.Volume(4.2e-3):         "4.200 l",
		mm.Area(28.8e-6):          "28.8 mm2",
		mm.Area(3.8e-4):           "3.8 cm2",
		in.Area(0.00064516):       "1 in2",
		mm.Time(18.44):            "18.4 s",
		mm.Time(119.97):           "2 min 00 s",
		mm.Time(212.4):            "3 min 32 s",
		mm.Time(7200):             "2 h 00 min",
		mm.Angle(math.Pi / 6):     "30.00°",
		mm.Trim(0.01):             "0.57° by the head",
		mm.Trim(-0.01):            "0.57° by the stern",
		mm.Heel(-1e-9):            "0.00°",
		mm.Heel(0.01):             "0.57° to starboard",
		mm.Heel(math.NaN()):       "–",
		decimals(-0.004, 2):       "0.00",
		decimals(math.NaN(), 2):   "–",
		mm.both(3):                "3.0 s",
		mm.bothLengths(0.0123456): "12.3 mm",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Froude's rule: at 1:100 lengths are a hundred times, times ten times those of the model.
func TestFullSize(t *testing.T) {
	w := wordsIn(t, "mm", 100)
	if got, want := w.both(60), "60.0 s (full size 10 min 00 s)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := w.bothLengths(0.0123), "12.3 mm (full size 1.23 m)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := wordsIn(t, "in", 12).FullLength(0.3048), "12.00 ft"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
