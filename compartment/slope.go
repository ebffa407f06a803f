package compartment

import "math"

// slope is a number with its derivatives by the pose: a turn along pitch, one along roll, a rise of the sea.
type slope struct{ v, a, b, c float64 }

func constant(x float64) slope { return slope{v: x} }

func (x slope) plus(y slope) slope  { return slope{x.v + y.v, x.a + y.a, x.b + y.b, x.c + y.c} }
func (x slope) minus(y slope) slope { return slope{x.v - y.v, x.a - y.a, x.b - y.b, x.c - y.c} }

// times a plain number.
func (x slope) by(f float64) slope { return slope{f * x.v, f * x.a, f * x.b, f * x.c} }

func (x slope) times(y slope) slope {
	return slope{x.v * y.v, x.v*y.a + x.a*y.v, x.v*y.b + x.b*y.v, x.v*y.c + x.c*y.v}
}

func (x slope) over(y slope) slope {
	i := 1 / y.v
	q := x.v * i
	return slope{q, (x.a - q*y.a) * i, (x.b - q*y.b) * i, (x.c - q*y.c) * i}
}

// mapped is a function of x whose value and derivative at x.v are given.
func (x slope) mapped(value, rate float64) slope {
	return slope{value, rate * x.a, rate * x.b, rate * x.c}
}

func (x slope) squared() slope { return x.mapped(x.v*x.v, 2*x.v) }

// root of nothing has no slope: what is under it here is a product of factors that go to nothing together.
func (x slope) root() slope {
	r := math.Sqrt(x.v)
	if r == 0 {
		return slope{}
	}
	return x.mapped(r, 0.5/r)
}

// oneOver is 1/x.
func (x slope) oneOver() slope {
	i := 1 / x.v
	return x.mapped(i, -i*i)
}

// part is the value (k = 0) or the derivative by the pose's coordinate k − 1.
func (x slope) part(k int) float64 { return [4]float64{x.v, x.a, x.b, x.c}[k] }
