package study

import (
	"cmp"
	"context"
	"math"
)

func compareNumber(a, b float64) int { return cmp.Compare(a, b) }

// shrink closes in on a change of sign until the bracket is a fineShare of the range, or the wanted number is met to a
// millionth of its change over the bracket. A number goes by false position, the weight of an end that stays halved (M. Dowell
// & P. Jarratt, BIT 11 (1971) 168, "Illinois"), and every third step halves the bracket, since the number may jump; a text is
// halved throughout.
func (s *sizer) shrink(ctx context.Context, a, b Look) (low, high Look, err error) {
	fine, met := fineShare*(s.to-s.from), 1e-6*math.Abs(b.Y-a.Y)
	side, ya, yb := 0, a.Y, b.Y
	for round := 0; b.Value-a.Value > fine; round++ {
		x := a.Value + (b.Value-a.Value)/2
		if s.want.Text == "" && round%3 != 2 {
			x = inside(a.Value+(b.Value-a.Value)*ya/(ya-yb), a.Value, b.Value, fine/2)
		}
		if x <= a.Value || x >= b.Value {
			break // as close as numbers lie
		}
		l, err := s.add(ctx, x)
		switch {
		case err != nil:
			return a, b, err
		case math.IsNaN(l.Y):
			return s.gap(ctx, a, l, b)
		case s.want.Text == "" && math.Abs(l.Y) <= met:
			return l, l, nil
		case l.Y*a.Y > 0:
			if yb = b.Y; side == -1 {
				yb /= 2
			}
			a, ya, side = l, l.Y, -1
		default:
			if ya = a.Y; side == 1 {
				ya /= 2
			}
			b, yb, side = l, l.Y, 1
		}
	}
	return a, b, nil
}

// inside keeps a place within a bracket, a little off its ends.
func inside(x, low, high, off float64) float64 {
	return math.Max(low+off, math.Min(high-off, x))
}

// gap is a bracket with a place in it that has no result: the change lies in what is left on either side of it, which is closed
// in on by halving; the result is a jump there.
func (s *sizer) gap(ctx context.Context, a, hole, b Look) (low, high Look, err error) {
	fine := fineShare * (s.to - s.from)
	h := hole.Value
	for h-a.Value > fine {
		l, err := s.add(ctx, a.Value+(h-a.Value)/2)
		if err != nil {
			return a, b, err
		}
		if !math.IsNaN(l.Y) && l.Y*a.Y > 0 {
			a = l
		} else {
			h = l.Value
		}
	}
	return a, b, nil
}
