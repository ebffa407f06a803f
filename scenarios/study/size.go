package study

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Want is a wanted result: a number, or a text where Text says something.
type Want struct {
	Result string
	Number float64
	Text   string
}

// Sizing is what Size found.
type Sizing struct {
	Path      string
	Want      Want
	Found     bool
	Value     float64    // SI: the first of Crossings; NaN where none was found. Of a border the side on which the wish holds
	Outcome   Result     // the wanted result at Value
	Slope     float64    // of the result by the value, there; NaN at a border
	Crossings []Crossing // all that were found, rising
	Jumps     []Jump     // where a number jumps over what is wanted without taking it, or begins or ends to be there
	Looked    []Look     // every run that was made, rising by value
	Always    bool       // of a text: the wish holds at every value
}

// Crossing is a value that gives what is wanted, or the border of where it does.
type Crossing struct {
	Value, Slope   float64
	Outcome        Result
	Before, Beyond Result // the results next to it; of a border on either side
}

// Jump is a place where the result goes from one to another number at once; a Result without path: there is none there.
type Jump struct {
	Value          float64
	Before, Beyond Result
}

// Look is a run that was made: Y is the result's distance from what is wanted, or ±1 where the wish does or does not hold;
// NaN: no such result.
type Look struct {
	Value, Y float64
	Result   Result
	GaveUp   bool
	Unbuilt  error // there is no vessel with this value
}

// The numbers of Size.
const (
	looks     = 33    // runs over the whole range at first
	fineShare = 1e-7  // of the range: how closely a value is found
	jumpShare = 1e-3  // how much of a change may stay, when the range has shrunk to fineShare, without its being a jump
	slopeStep = 1e-3  // of the range, to either side, for the slope
	mostLooks = 2_000 // runs in all
)

// sizer looks for a wanted result over a range of one value.
type sizer struct {
	base     *Model
	path     string
	from, to float64
	want     Want
	o        Options
	looks    []Look // rising by value
}

// Size finds the values between a and b at which a run has the wanted result; for a text, such as a fate, the borders of where
// it has. It makes a row of runs, then closes in on every change between two neighbours: by halving, and for a number by false
// position too. Where neighbours tell of a hump that may reach what is wanted it looks there too. Two
// crossings that lie closer together than a thirty-second of the range can go unseen. Run's errors end it; a value with
// which no vessel can be built, or a run that gave up, counts as one without the result.
func Size(ctx context.Context, m *Model, path string, a, b float64, want Want, o Options) (*Sizing, error) {
	if a == b {
		return nil, fmt.Errorf("the range has no length; two different values")
	}
	s := &sizer{base: m, path: path, from: min(a, b), to: max(a, b), want: want, o: o}
	for _, end := range [2]float64{a, b} {
		if _, err := m.With([]Value{{Path: path, Value: end}}); err != nil {
			return nil, err
		}
	}
	if err := s.survey(ctx); err != nil {
		return nil, err
	}
	if err := s.humps(ctx); err != nil {
		return nil, err
	}
	if err := s.edges(ctx); err != nil {
		return nil, err
	}
	out := &Sizing{Path: path, Want: want, Value: math.NaN(), Slope: math.NaN(), Always: s.always()}
	if err := s.close(ctx, out); err != nil {
		return nil, err
	}
	out.Looked = s.looks
	if len(out.Crossings) > 0 {
		first := &out.Crossings[0]
		out.Found, out.Value, out.Outcome, out.Slope = true, first.Value, first.Outcome, first.Slope
	}
	return out, nil
}

// look makes one run.
func (s *sizer) look(ctx context.Context, x float64) (Look, error) {
	l := Look{Value: x, Y: math.NaN()}
	m, err := s.base.With([]Value{{Path: s.path, Value: x}})
	if err != nil {
		if faulty(err) == nil {
			return l, err
		}
		l.Unbuilt = err
		return l, nil
	}
	o, err := m.Run(ctx)
	if err != nil {
		return l, err
	}
	l.GaveUp = o.GaveUp != nil
	if r := o.Find(s.want.Result); r != nil {
		l.Result = *r
	}
	switch {
	case l.GaveUp:
	case s.want.Text != "":
		if l.Y = -1; l.Result.Text == s.want.Text {
			l.Y = 1
		}
	case l.Result.Path != "":
		l.Y = l.Result.Number - s.want.Number
	}
	return l, nil
}

// add looks at a further value.
func (s *sizer) add(ctx context.Context, x float64) (Look, error) {
	if len(s.looks) >= mostLooks {
		return Look{}, fmt.Errorf("%d runs were not enough: the result jumps to and fro; a narrower range", mostLooks)
	}
	l, err := s.look(ctx, x)
	if err != nil {
		return l, err
	}
	i, there := slices.BinarySearchFunc(s.looks, x, func(l Look, x float64) int { return compareNumber(l.Value, x) })
	if !there {
		s.looks = slices.Insert(s.looks, i, l)
		s.o.tell(len(s.looks), len(s.looks)+1)
	}
	return l, nil
}

// survey makes the first row of runs, side by side.
func (s *sizer) survey(ctx context.Context) error {
	return inOrder(ctx, looks, s.o.workers(), func(ctx context.Context, i int) (Look, error) {
		x := s.from + (s.to-s.from)*float64(i)/(looks-1)
		if i == looks-1 {
			x = s.to
		}
		return s.look(ctx, x)
	}, func(i int, l Look) error {
		s.looks = append(s.looks, l)
		s.o.tell(i+1, looks)
		return nil
	})
}

// humps looks where three neighbours on one side of what is wanted have the middle one nearest to it: at the top of the
// parabola through them, if that comes near.
func (s *sizer) humps(ctx context.Context) error {
	if s.want.Text != "" {
		return nil
	}
	var tops []float64
	for i := 1; i+1 < len(s.looks); i++ {
		a, b, c := &s.looks[i-1], &s.looks[i], &s.looks[i+1]
		same := a.Y*b.Y > 0 && b.Y*c.Y > 0
		if !same || math.Abs(b.Y) > math.Abs(a.Y) || math.Abs(b.Y) > math.Abs(c.Y) {
			continue
		}
		h1, h2 := b.Value-a.Value, c.Value-b.Value
		d1, d2 := (b.Y-a.Y)/h1, (c.Y-b.Y)/h2
		bend := (d2 - d1) / (h1 + h2)
		if bend == 0 {
			continue
		}
		if x := (a.Value+b.Value)/2 - d1/(2*bend); x > a.Value && x < c.Value {
			tops = append(tops, x)
		}
	}
	for _, x := range tops {
		if _, err := s.add(ctx, x); err != nil {
			return err
		}
	}
	return nil
}

// edges closes in on where a number begins or ends to be there: what is wanted may lie close to it.
func (s *sizer) edges(ctx context.Context) error {
	type gap struct{ a, b float64 }
	var gaps []gap
	for i := 1; i < len(s.looks); i++ {
		if math.IsNaN(s.looks[i-1].Y) != math.IsNaN(s.looks[i].Y) {
			gaps = append(gaps, gap{s.looks[i-1].Value, s.looks[i].Value})
		}
	}
	for _, g := range gaps {
		lowGone := math.IsNaN(s.at(g.a).Y)
		for g.b-g.a > fineShare*(s.to-s.from) {
			l, err := s.add(ctx, g.a+(g.b-g.a)/2)
			if err != nil {
				return err
			}
			if math.IsNaN(l.Y) == lowGone {
				g.a = l.Value
			} else {
				g.b = l.Value
			}
		}
	}
	return nil
}

func (s *sizer) at(x float64) *Look {
	for i := range s.looks {
		if s.looks[i].Value == x {
			return &s.looks[i]
		}
	}
	return nil
}

func (s *sizer) always() bool {
	return s.want.Text != "" && !slices.ContainsFunc(s.looks, func(l Look) bool { return l.Y != 1 })
}

// close closes in on every change between neighbours.
func (s *sizer) close(ctx context.Context, out *Sizing) error {
	row := slices.Clone(s.looks)
	for i := range row {
		if row[i].Y == 0 { // met exactly
			if err := s.cross(ctx, out, row[i], row[i], row[i]); err != nil {
				return err
			}
		}
		if i == 0 {
			continue
		}
		a, b := row[i-1], row[i]
		switch {
		case math.IsNaN(a.Y) != math.IsNaN(b.Y):
			if s.want.Text == "" && b.Value-a.Value <= 2*fineShare*(s.to-s.from) {
				out.Jumps = append(out.Jumps, Jump{a.Value + (b.Value-a.Value)/2, a.Result, b.Result})
			}
		case a.Y*b.Y < 0:
			if err := s.between(ctx, out, a, b); err != nil {
				return err
			}
		}
	}
	return nil
}

// between finds the change between two neighbours on either side of what is wanted.
func (s *sizer) between(ctx context.Context, out *Sizing, a, b Look) error {
	spread := math.Abs(b.Y - a.Y)
	low, high, err := s.shrink(ctx, a, b)
	if err != nil {
		return err
	}
	if s.want.Text != "" {
		met := low
		if high.Y > 0 {
			met = high
		}
		out.Crossings = append(out.Crossings, Crossing{Value: met.Value, Slope: math.NaN(), Outcome: met.Result, Before: low.Result, Beyond: high.Result})
		return nil
	}
	near := low
	if math.Abs(high.Y) < math.Abs(low.Y) {
		near = high
	}
	if low.Value != high.Value && math.Abs(high.Y-low.Y) > jumpShare*spread && near.Y != 0 {
		out.Jumps = append(out.Jumps, Jump{low.Value + (high.Value-low.Value)/2, low.Result, high.Result})
		return nil
	}
	return s.cross(ctx, out, near, low, high)
}

// cross notes a crossing with its slope.
func (s *sizer) cross(ctx context.Context, out *Sizing, at, low, high Look) error {
	c := Crossing{Value: at.Value, Slope: math.NaN(), Outcome: at.Result, Before: low.Result, Beyond: high.Result}
	if s.want.Text == "" {
		step := slopeStep * (s.to - s.from)
		a, b := math.Max(s.from, at.Value-step), math.Min(s.to, at.Value+step)
		l, err := s.look(ctx, a)
		if err != nil {
			return err
		}
		h, err := s.look(ctx, b)
		if err != nil {
			return err
		}
		c.Slope = (h.Y - l.Y) / (b - a)
	}
	out.Crossings = append(out.Crossings, c)
	return nil
}
