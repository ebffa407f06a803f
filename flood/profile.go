package flood

import "slices"

// profile is a square matrix of which each row keeps its entries from the first that can ever be other than zero to the
// diagonal, and each column the same above it: the flows of a row of spaces touch neighbours only, and factors fill nothing
// outside that profile. There is no pivoting: a flow leaves one space and enters the other, so the matrices are diagonally
// dominant by columns, for which none is needed.
type profile struct {
	order []int     // position of each unknown
	start []int     // first column kept of each row, and first row of each column
	lower []float64 // rows, left of the diagonal
	upper []float64 // columns, above the diagonal
	diag  []float64
	at    []int // where each row's, and column's, entries begin: entry (i, start[i]) is at at[i]
	work  []float64
}

// newProfile lays out a matrix of n unknowns that are coupled by pairs, in an order that keeps neighbours together.
func newProfile(n int, pairs [][2]int) *profile {
	p := &profile{
		order: reverseCuthillMcKee(n, pairs), start: make([]int, n), at: make([]int, n+1),
		diag: make([]float64, n), work: make([]float64, n),
	}
	for i := range p.start {
		p.start[i] = i
	}
	for _, pair := range pairs {
		i, j := p.order[pair[0]], p.order[pair[1]]
		p.start[max(i, j)] = min(p.start[max(i, j)], min(i, j))
	}
	for i := range n {
		p.at[i+1] = p.at[i] + i - p.start[i]
	}
	p.lower, p.upper = make([]float64, p.at[n]), make([]float64, p.at[n])
	return p
}

// clear sets every entry to zero.
func (p *profile) clear() {
	clear(p.lower)
	clear(p.upper)
	clear(p.diag)
}

// add adds to the entry in the row of unknown i and the column of unknown j, which must be a pair or the same.
func (p *profile) add(i, j int, value float64) {
	switch i, j = p.order[i], p.order[j]; {
	case i == j:
		p.diag[i] += value
	case i > j:
		p.lower[p.at[i]+j-p.start[i]] += value
	default:
		p.upper[p.at[j]+i-p.start[j]] += value
	}
}

// diagonal is an entry on the diagonal.
func (p *profile) diagonal(i int) float64 { return p.diag[p.order[i]] }

// leastPivot of a diagonal entry has to be left over of it, else what is left is rounding: full spaces behind one another
// without a way out, into which something is pumped, have no head of their own. The solution is then long, and whoever
// asked for it bounds it.
const leastPivot = 1e-13

// factor replaces the matrix by its factors L and U, L with ones on the diagonal (Crout's order, row by row).
func (p *profile) factor() {
	for i := range p.diag {
		low, row, col := p.start[i], p.lower[p.at[i]:p.at[i+1]], p.upper[p.at[i]:p.at[i+1]]
		for j := low; j < i; j++ {
			from := max(low, p.start[j])
			below, left := p.upper[p.at[j]:p.at[j+1]], p.lower[p.at[j]:p.at[j+1]]
			l, u := row[j-low], col[j-low]
			for k := from; k < j; k++ {
				l -= row[k-low] * below[k-p.start[j]]
				u -= left[k-p.start[j]] * col[k-low]
			}
			row[j-low], col[j-low] = l/p.diag[j], u
		}
		whole := p.diag[i]
		for k := range row {
			p.diag[i] -= row[k] * col[k]
		}
		p.diag[i] = max(p.diag[i], leastPivot*whole)
	}
}

// solve replaces x by the solution, in the callers' order of unknowns.
func (p *profile) solve(x []float64) {
	for i, k := range p.order {
		p.work[k] = x[i]
	}
	for i := range p.work {
		row := p.lower[p.at[i]:p.at[i+1]]
		for k, l := range row {
			p.work[i] -= l * p.work[p.start[i]+k]
		}
	}
	for i := len(p.work) - 1; i >= 0; i-- {
		p.work[i] /= p.diag[i]
		col := p.upper[p.at[i]:p.at[i+1]]
		for k, u := range col {
			p.work[p.start[i]+k] -= u * p.work[i]
		}
	}
	for i, k := range p.order {
		x[i] = p.work[k]
	}
}

// reverseCuthillMcKee gives each of n unknowns its position in an order in which coupled ones stand close together (Cuthill
// & McKee 1969, reversed): level by level from an unknown of least degree, neighbours by their degree.
func reverseCuthillMcKee(n int, pairs [][2]int) []int {
	next := make([][]int, n)
	for _, p := range pairs {
		next[p[0]] = append(next[p[0]], p[1])
		next[p[1]] = append(next[p[1]], p[0])
	}
	byDegree := func(a, b int) int { return len(next[a]) - len(next[b]) }
	starts := make([]int, n)
	for i := range starts {
		starts[i] = i
	}
	slices.SortStableFunc(starts, byDegree)
	seen, queue := make([]bool, n), make([]int, 0, n)
	reach := func(i int) {
		if !seen[i] {
			seen[i] = true
			queue = append(queue, i)
		}
	}
	for _, s := range starts {
		head := len(queue)
		for reach(s); head < len(queue); head++ {
			around := next[queue[head]]
			slices.SortStableFunc(around, byDegree)
			for _, k := range around {
				reach(k)
			}
		}
	}
	order := make([]int, n)
	for position, i := range queue {
		order[i] = n - 1 - position
	}
	return order
}
