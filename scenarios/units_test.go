package scenarios

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestUnits checks every unit of the contract. Sizes are those of the international yard and pound agreement of 1959 (inch
// 25.4 mm, pound 0.45359237 kg, exactly), the standard gravity 9.80665 m/s² for the pound-force (NIST SP 811, appendix B.8,
// from memory), and the definitions of the Celsius and Fahrenheit scales.
func TestUnits(t *testing.T) {
	cases := []struct {
		text string
		kind Kind
		want float64
	}{
		{"1.1 m", Length, 1.1}, {"62 cm", Length, 0.62}, {"62 mm", Length, 0.062}, {"1.2 mm", Length, 0.0012},
		{"2 1/2 in", Length, 0.0635}, {"3/64 in", Length, 0.001190625}, {"-2 1/2 in", Length, -0.0635}, {"10 ft", Length, 3.048},
		{"2.5 kg", Mass, 2.5}, {"310 g", Mass, 0.31}, {"3 lb", Mass, 1.36077711}, {"11 oz", Mass, 0.311844754375},
		{"16 oz", Mass, 0.45359237}, {"20 s", Time, 20}, {"2 min", Time, 120}, {"1.5 h", Time, 5400},
		{"15 N", Force, 15}, {"1 lbf", Force, 0.45359237 * 9.80665}, {"1.2 N.m", Moment, 1.2}, {"4 lbf.in", Moment, 4 * 0.1129848290276167},
		{"3 l", Volume, 0.003}, {"300 ml", Volume, 0.0003}, {"1.2 cm2", Area, 0.00012}, {"7 mm2", Area, 7e-6}, {"2 in2", Area, 0.00129032},
		{"18 C", Temperature, 291.15}, {"0 C", Temperature, 273.15}, {"64 F", Temperature, 5.0 / 9 * (64 + 459.67)}, {"32 F", Temperature, 273.15},
		{"212 F", Temperature, 373.15}, {"80 deg", Angle, 80 * math.Pi / 180}, {"-8 deg", Angle, -8 * math.Pi / 180}, {"15 %", Share, 0.15},
		{"11340 kg/m3", Density, 11340}, {"35 mN/m", SurfaceTension, 0.035}, {"1.2 l/min", Flow, 2e-5}, {"200 Pa", Pressure, 200},
		{"62mm", Length, 0.062}, {"40s", Time, 40}, {"15%", Share, 0.15}, {" +5e-3 m ", Length, 0.005}, {".5 m", Length, 0.5}, {"5. m", Length, 5}, {"1E1 mm", Length, 0.01},
		{"0.92", Plain, 0.92}, {"1/4", Plain, 0.25}, {"-1", Plain, -1},
	}
	seen := map[string]bool{"": true}
	for _, c := range cases {
		q, err := ParseQuantity(c.text, c.kind)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if math.Abs(q.Value-c.want) > 2e-16*math.Abs(c.want) || q.Unit.Kind != c.kind {
			t.Errorf("%q is %v (%v), want %v (%v)", c.text, q.Value, q.Unit.Kind, c.want, c.kind)
		}
		seen[q.Unit.Name] = true
	}
	for _, u := range unitTable {
		if !seen[u.Name] {
			t.Errorf("no case for the unit %s", u.Name)
		}
	}
}

func TestDecimalUnitsAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(-20_000_000, 20_000_000).Draw(t, "n") // micrometres: two roundings, ÷1000 twice, would show
		mm := Quantity{Number: float64(n) / 1000, Unit: unitTable[2]}
		q, err := ParseQuantity(mm.String())
		if want := float64(n) / 1e6; err != nil || q.Value != want {
			t.Fatalf("%s is %v, want %v (%v)", mm, q.Value, want, err)
		}
	})
}

// TestQuantityRoundTrip: what is written is read back, and a value in SI units comes back through every unit.
func TestQuantityRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(unitTable[:]).Draw(t, "unit")
		fact := kindFacts[u.Kind]
		value := rapid.Float64Range(fact.low+0.001*(fact.high-fact.low), fact.high-0.001*(fact.high-fact.low)).Draw(t, "value") // a little inside: the ends may round outward
		number := u.FromSI(value)
		written := Quantity{Number: number, Unit: u}
		q, err := ParseQuantity(written.String(), u.Kind)
		if err != nil || q.Number != number || q.Value != u.SI(number) {
			t.Fatalf("%s came back as %v: %v", written, q, err)
		}
		// the offset of a temperature costs digits of a value near its zero
		if d := math.Abs(q.Value - value); d > 4e-16*(math.Abs(value)+fact.high*btof(u.zero != "")) {
			t.Fatalf("%v came back as %v", value, q.Value)
		}
	})
}

func btof(b bool) float64 { return float64(btoi(b)) }

func TestDifferenceHasNoZero(t *testing.T) {
	f, _ := unitNamed("F")
	if d := f.Difference(9); math.Abs(d-5) > 1e-15 {
		t.Errorf("9 F apart are %v K, want 5", d)
	}
}

func TestQuantityMessages(t *testing.T) {
	cases := []struct {
		text  string
		kinds []Kind
		has   []string
	}{
		{"62", []Kind{Length}, []string{`"62" has no unit`, "m, cm, mm, in or ft"}},
		{"62 kg", []Kind{Length}, []string{"is a mass", "length"}},
		{"5 Nm", []Kind{Moment}, []string{"write N.m"}},
		{"5 °", []Kind{Angle}, []string{"write deg"}},
		{`5"`, []Kind{Length}, []string{"write in"}},
		{"5 mmm", []Kind{Length}, []string{"did you mean mm?"}},
		{"1,5 mm", []Kind{Length}, []string{"decimal point"}},
		{"1_000 mm", []Kind{Length}, []string{"decimal point"}},
		{"1/0 in", []Kind{Length}, []string{"not a number"}},
		{"2-1/2 in", []Kind{Length}, []string{"2 1/2"}},
		{"½ in", []Kind{Length}, []string{"plain characters"}},
		{"−5 mm", []Kind{Length}, []string{"plain characters"}},
		{"0x10 mm", []Kind{Length}, []string{"not a known unit"}},
		{"", []Kind{Length}, []string{"no value"}},
		{"nan", []Kind{Length}, []string{"not a finite number"}},
		{"+Infinity mm", []Kind{Length}, []string{"not a finite number"}},
		{"1e5 m", []Kind{Length}, []string{"absurd", "20 m"}},
		{"1e99999 m", []Kind{Length}, []string{"known unit"}},
		{strings.Repeat("9", 100) + " m", []Kind{Length}, []string{"not a quantity"}},
		{"5", []Kind{Volume, Length, Share}, []string{"(l or ml)", "(m, cm, mm, in or ft)", "(%)"}},
		{"5 mm", []Kind{Plain}, []string{"is a length", "plain number"}},
	}
	for _, c := range cases {
		q, err := ParseQuantity(c.text, c.kinds...)
		if err == nil {
			t.Errorf("%q was read as %v", c.text, q)
			continue
		}
		for _, has := range c.has {
			if !strings.Contains(err.Error(), has) {
				t.Errorf("%q: no %q in %q", c.text, has, err)
			}
		}
	}
}

// FuzzQuantity: no text panics, costs much, or becomes a number that is not finite; what is read is read again when written.
func FuzzQuantity(f *testing.F) {
	for _, seed := range []string{"62 mm", "2 1/2 in", "3/64 in", "-8 deg", "15%", "1e-3 kg", "64 F", "4 lbf.in", "", " ", "1/0 m", ".", "+", "1e999 m",
		"nan", "1 ", "½ in", "1 1 1/2 in", "00000000000000000000000001 m", "9/99999999999999 m", "\x00", "1\u00a0mm"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		q, err := ParseQuantity(text)
		if err != nil {
			if msg := err.Error(); strings.ContainsAny(msg, "\n\r") || !strings.Contains(msg, "; ") {
				t.Fatalf("message %q", msg)
			}
			return
		}
		if math.IsNaN(q.Value) || math.IsInf(q.Value, 0) {
			t.Fatalf("%q is %v", text, q.Value)
		}
		if again, err := ParseQuantity(q.String()); err != nil || again.Number != q.Number || again.Unit.Name != q.Unit.Name {
			t.Fatalf("%q is %v, which reads as %v: %v", text, q, again, err)
		}
	})
}
