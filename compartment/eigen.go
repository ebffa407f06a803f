package compartment

import "math"

var nan = math.NaN()

// eigen3 gives the eigenvalues of a symmetric matrix, ascending, and the eigenvectors in the rows of v, by Jacobi's
// rotations. A matrix that does not couple an axis keeps that axis exactly: symmetric bodies stay symmetric.
func eigen3(a [3][3]float64) (w [3]float64, v [3][3]float64) {
	v = [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 50 {
		off := math.Abs(a[0][1]) + math.Abs(a[0][2]) + math.Abs(a[1][2])
		size := math.Abs(a[0][0]) + math.Abs(a[1][1]) + math.Abs(a[2][2])
		if off <= 1e-16*size || off == 0 {
			break
		}
		rotate(&a, &v, 0, 1)
		rotate(&a, &v, 0, 2)
		rotate(&a, &v, 1, 2)
	}
	w = [3]float64{a[0][0], a[1][1], a[2][2]}
	for _, s := range [3][2]int{{0, 1}, {1, 2}, {0, 1}} {
		if i, j := s[0], s[1]; w[i] > w[j] {
			w[i], w[j] = w[j], w[i]
			v[i], v[j] = v[j], v[i]
		}
	}
	return w, v
}

// rotate zeroes a[p][q] and turns the vectors with it.
func rotate(a, v *[3][3]float64, p, q int) {
	if a[p][q] == 0 {
		return
	}
	theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
	t := 1 / (math.Abs(theta) + math.Hypot(1, theta))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Hypot(1, t)
	s := t * c
	for k := range 3 {
		x, y := a[k][p], a[k][q]
		a[k][p], a[k][q] = c*x-s*y, s*x+c*y
	}
	for k := range 3 {
		x, y := a[p][k], a[q][k]
		a[p][k], a[q][k] = c*x-s*y, s*x+c*y
		x, y = v[p][k], v[q][k]
		v[p][k], v[q][k] = c*x-s*y, s*x+c*y
	}
	a[p][q], a[q][p] = 0, 0
}
