package study

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/scenarios"
)

// Axis is one value of a full factorial, and the places on it.
type Axis struct {
	Path   string
	Values []float64 // SI
}

// mostColumns is how many runs a comparison may have: more belong to Spread.
const mostColumns = 10_000

// NewAxis spaces n values from one to another, ends included.
func NewAxis(path string, from, to float64, n int) (Axis, error) {
	switch {
	case n < 1 || n > mostColumns:
		return Axis{}, fmt.Errorf("%d values; from 1 to %d", n, mostColumns)
	case n == 1 && from != to:
		return Axis{}, fmt.Errorf("one value cannot be at both ends; 2 or more")
	}
	a := Axis{Path: path}
	for i := range n {
		a.Values = append(a.Values, from+(to-from)*float64(i)/math.Max(1, float64(n-1)))
	}
	a.Values[n-1] = to
	return a, nil
}

// Grid makes a column of every combination of the axes' values on every column, the last axis going fastest. The error is
// of type compartment.Faults, or says that there are too many.
func Grid(columns []Column, axes []Axis) ([]Column, error) {
	total := len(columns)
	for _, a := range axes {
		if total *= len(a.Values); total > mostColumns {
			return nil, fmt.Errorf("the grid has more than %d points; fewer values, or the command spread", mostColumns)
		}
	}
	var out []Column
	for _, c := range columns {
		for k := range total / max(len(columns), 1) {
			values := point(axes, k)
			m, err := c.Model.With(values)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", pointName("", c.Model.Scenario, values), err)
			}
			name := ""
			if len(columns) > 1 {
				name = c.Name + " "
			}
			out = append(out, Column{pointName(name, c.Model.Scenario, values), m})
		}
	}
	return out, nil
}

// point is the k-th combination.
func point(axes []Axis, k int) []Value {
	values := make([]Value, len(axes))
	for i := len(axes) - 1; i >= 0; i-- {
		n := len(axes[i].Values)
		values[i] = Value{Path: axes[i].Path, Value: axes[i].Values[k%n]}
		k /= n
	}
	return values
}

// pointName writes a combination.
func pointName(name string, s *scenarios.Scenario, values []Value) string {
	for i, v := range values {
		if i > 0 {
			name += " "
		}
		name += v.Path + "=" + s.WriteValue(v.Path, v.Value, 6)
	}
	return name
}
