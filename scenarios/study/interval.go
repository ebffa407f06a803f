package study

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Proportion is a share with the interval that holds it 19 times of 20.
type Proportion struct{ Share, Low95, High95 float64 }

// Wilson is the share of k among n with Wilson's score interval (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209), which holds
// at 0 and at n too. It is for independent draws. A share by a Latin hypercube of n scatters no more than one of n − 1 such draws
// (A. B. Owen, SIAM J. Numer. Anal. 34 (1997) 1884, of the variance; from memory), as a rule much less, so that the interval is on
// the safe side.
func Wilson(k, n int) Proportion {
	if n == 0 {
		return Proportion{math.NaN(), math.NaN(), math.NaN()}
	}
	z := distuv.UnitNormal.Quantile(0.975)
	size, share := float64(n), float64(k)/float64(n)
	middle := (share + z*z/(2*size)) / (1 + z*z/size)
	half := z / (1 + z*z/size) * math.Sqrt(share*(1-share)/size+z*z/(4*size*size))
	p := Proportion{share, math.Max(0, middle-half), math.Min(1, middle+half)}
	if k == 0 {
		p.Low95 = 0 // exactly
	}
	if k == n {
		p.High95 = 1
	}
	return p
}

// quantile is the value under which a share p of sorted values lies: straight between the middles of N steps of equal height
// (definition 5 of Hyndman & Fan, Am. Stat. 50 (1996) 361; Hazen 1914), where the values of a stratified sample stand.
func quantile(sorted []float64, p float64) float64 {
	n := len(sorted)
	if n == 0 {
		return math.NaN()
	}
	at := p*float64(n) - 0.5
	if at <= 0 {
		return sorted[0]
	}
	i := int(at)
	if i >= n-1 {
		return sorted[n-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
