package flood

import (
	"math"
	"testing"
)

// TestOrderConditions holds the tableau against the conditions for order 4 (and 3 for the embedded weights), which are
// exact rational numbers: Hairer, Nørsett & Wanner, Solving Ordinary Differential Equations I, table II.2.1 (from memory).
func TestOrderConditions(t *testing.T) {
	near := func(name string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-14 {
			t.Errorf("%s: %.17g, want %.17g", name, got, want)
		}
	}
	for i := range stages {
		sum, first := 0.0, 0.0
		for j := range stages {
			sum += weights[i][j]
			first += weights[i][j] * stageAt[j]
		}
		near("row sum", sum, stageAt[i])
		if i > 0 {
			near("stage order 2", first, stageAt[i]*stageAt[i]/2)
		}
	}
	for _, w := range []struct {
		name  string
		b     [stages]float64
		order int
	}{{"main", weights[stages-1], 4}, {"embedded", embedded, 3}} {
		var b, bc, bcc, bccc, bac, bcac, bacc, baac float64
		for i := range stages {
			c := stageAt[i]
			b += w.b[i]
			bc += w.b[i] * c
			bcc += w.b[i] * c * c
			bccc += w.b[i] * c * c * c
			for j := range stages {
				bac += w.b[i] * weights[i][j] * stageAt[j]
				bcac += w.b[i] * c * weights[i][j] * stageAt[j]
				bacc += w.b[i] * weights[i][j] * stageAt[j] * stageAt[j]
				for k := range stages {
					baac += w.b[i] * weights[i][j] * weights[j][k] * stageAt[k]
				}
			}
		}
		near(w.name+" order 1", b, 1)
		near(w.name+" order 2", bc, 1.0/2)
		near(w.name+" order 3a", bcc, 1.0/3)
		near(w.name+" order 3b", bac, 1.0/6)
		if w.order == 4 {
			near(w.name+" order 4a", bccc, 1.0/4)
			near(w.name+" order 4b", bcac, 1.0/8)
			near(w.name+" order 4c", bacc, 1.0/12)
			near(w.name+" order 4d", baac, 1.0/24)
		}
	}
}
