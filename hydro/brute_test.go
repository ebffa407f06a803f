package hydro

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// chords returns a figure's area per height as a function of the height, found from its corners or its radius by
// intersecting its outline, and the heights at which that function has corners.
func chords(f *Figure, up r3.Vec) (chord func(z float64) float64, breaks []float64) {
	mid := r3.Dot(up, f.Centre())
	tilt := r3.Norm(r3.Cross(up, f.Normal()))
	if f.radius > 0 {
		half := f.radius * tilt
		return func(z float64) float64 {
			y := (z - mid) / half
			return 2 * f.radius / tilt * math.Sqrt(math.Max(0, (1-y)*(1+y)))
		}, []float64{mid - half, mid + half}
	}
	level := r3.Unit(r3.Cross(up, f.Normal()))
	corners := make([]r3.Vec, len(f.corners))
	for i, c := range f.corners {
		corners[i] = r3.Add(f.Centre(), r3.Add(r3.Scale(c.one, f.one), r3.Scale(c.two, f.two)))
		breaks = append(breaks, r3.Dot(up, corners[i]))
	}
	return func(z float64) float64 {
		var hits []float64
		for i, c := range f.corners {
			p, q := corners[i], corners[c.next]
			hp, hq := r3.Dot(up, p), r3.Dot(up, q)
			if (hp < z) != (hq < z) {
				x := (z - hp) / (hq - hp)
				hits = append(hits, r3.Dot(level, r3.Add(p, r3.Scale(x, r3.Sub(q, p)))))
			}
		}
		slices.Sort(hits)
		sum := 0.0
		for i := 0; i+1 < len(hits); i += 2 {
			sum += hits[i+1] - hits[i]
		}
		return sum / tilt
	}, breaks
}

// piecewise integrates f over all the finite intervals between the sorted breaks, by the double exponential rule, which
// bears square roots at both ends of an interval.
func piecewise(f func(float64) float64, breaks []float64) float64 {
	breaks = slices.DeleteFunc(slices.Clone(breaks), func(z float64) bool { return math.IsInf(z, 0) })
	slices.Sort(breaks)
	sum := 0.0
	for i := range len(breaks) - 1 {
		sum += doubleExponential(f, breaks[i], breaks[i+1])
	}
	return sum
}

// doubleExponential is the rule of Takahasi & Mori (1974) with a step that leaves about ten digits.
func doubleExponential(f func(float64) float64, a, b float64) float64 {
	const step = 1.0 / 16
	sum := 0.0
	for k := -56; k <= 56; k++ {
		t := step * float64(k)
		u := math.Exp(-math.Pi * math.Sinh(t)) // (1−x)/(1+x)
		near := 1 / (1 + u)                    // share of the way
		weight := math.Pi * math.Cosh(t) * u / ((1 + u) * (1 + u))
		sum += f(a+(b-a)*near) * weight
	}
	return sum * step * (b - a)
}
