package page

import (
	"math"
	"strconv"
)

// column is one quantity over the frames of a run: whole multiples of its step, from the frame where it begins.
type column struct {
	step  float64
	start int
	whole []int64
}

// absent stands for a value that does not apply at a frame.
const absent = math.MinInt64

func (c *column) add(x float64) {
	if n := math.Round(x / c.step); math.Abs(n) < 1<<53 {
		c.whole = append(c.whole, int64(n))
		return
	}
	c.whole = append(c.whole, absent)
}

// at is the value at a frame, NaN where there is none.
func (c *column) at(frame int) float64 {
	k := frame - c.start
	if k < 0 || k >= len(c.whole) || c.whole[k] == absent {
		return math.NaN()
	}
	return float64(c.whole[k]) * c.step
}

// MarshalJSON writes the differences from one value to the next, which are short: {"k": step, "s": start, "d": [...]}, null
// where there is no value.
func (c *column) MarshalJSON() ([]byte, error) {
	out := append([]byte(`{"k":`), strconv.FormatFloat(c.step, 'g', -1, 64)...)
	out = strconv.AppendInt(append(out, `,"s":`...), int64(c.start), 10)
	out = append(out, `,"d":[`...)
	last := int64(0)
	for i, w := range c.whole {
		if i > 0 {
			out = append(out, ',')
		}
		if w == absent {
			out = append(out, "null"...)
			continue
		}
		out = strconv.AppendInt(out, w-last, 10)
		last = w
	}
	return append(out, "]}"...), nil
}
