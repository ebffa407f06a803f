package compartment

import "testing"

// Figures in messages are written as people write them: no exponents, and no rounding errors of a plate at 0.
func TestFiguresInMessages(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{grams(11.34), "11340"}, {grams(12.3456), "12345.6"}, {grams(0.0005), "0.5"}, {grams(20000), "20000000"},
		{metres(3.469e-18), "0 mm"}, {metres(-1e-18), "0 mm"}, {metres(0.0123), "12.3 mm"}, {metres(-0.05), "-50 mm"}, {metres(1.5), "1.5 m"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
