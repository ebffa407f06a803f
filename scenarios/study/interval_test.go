package study_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/scenarios/study"
)

// R. G. Newcombe, Statistics in Medicine 17 (1998) 857, table I, method 3 (score, without correction): quoted from memory, the
// first as other programs' tests quote it too.
func TestWilsonAgainstNewcombe(t *testing.T) {
	for _, c := range []struct {
		k, n      int
		low, high float64
	}{
		{81, 263, 0.2553, 0.3662},
		{15, 148, 0.0624, 0.1605},
		{0, 20, 0, 0.1611},
		{1, 29, 0.0061, 0.1718},
	} {
		p := study.Wilson(c.k, c.n)
		if math.Abs(p.Low95-c.low) > 0.00005 || math.Abs(p.High95-c.high) > 0.00005 || p.Share != float64(c.k)/float64(c.n) {
			t.Errorf("%d of %d: %+v, want %g to %g", c.k, c.n, p, c.low, c.high)
		}
	}
	if p := study.Wilson(20, 20); p.High95 != 1 || math.Abs(p.Low95-(1-0.1611)) > 0.00005 {
		t.Errorf("20 of 20: %+v", p)
	}
	if p := study.Wilson(0, 0); !math.IsNaN(p.Share) {
		t.Errorf("0 of 0: %+v", p)
	}
}
