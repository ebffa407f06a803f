package shoot

import (
	"math"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// watch follows a run for what depends on how bodies lie, and on when spaces take water.
type watch struct {
	vessel *compartment.Vessel
	reach  map[string]*reached // by body
	filled []filling           // by space
}

// reached is how deep a body came down while a part of it was still above the sea.
type reached struct {
	body        *compartment.Body
	points      []r3.Vec // of the weights in it, which may stand out of the form as masts do
	depth, time float64  // m below the sea, s
	steepest    float64  // rad, between keel and level, until then
}

// filling is when a space took its water: the first samples with more than a fiftieth and more than 49 fiftieths of what it holds;
// NaN: none.
type filling struct{ begins, ends float64 }

func newWatch(v *compartment.Vessel) *watch {
	w := &watch{vessel: v, reach: map[string]*reached{}}
	for range v.Spaces {
		w.filled = append(w.filled, filling{math.NaN(), math.NaN()})
	}
	return w
}

// sample takes up one instant of the run.
func (w *watch) sample(s *flood.Sample) {
	for i := range s.Bodies {
		if b := &s.Bodies[i]; b.Present {
			w.sound(b, s.Time)
		}
	}
	for i, space := range w.vessel.Spaces {
		f := &w.filled[i]
		for k := range s.Spaces {
			if s.Spaces[k].Name != space.Name {
				continue
			}
			share := s.Spaces[k].Water / space.Capacity()
			if share > 0.02 && math.IsNaN(f.begins) {
				f.begins = s.Time
			}
			if share > 0.98 && math.IsNaN(f.ends) {
				f.ends = s.Time
			}
		}
	}
}

// sound finds how far down a body reaches, as long as a part of it is above the sea.
func (w *watch) sound(b *flood.BodySample, time float64) {
	r := w.reach[b.Name]
	if r == nil {
		r = &reached{body: bodyNamed(w.vessel, b.Name)}
		if r.body != nil {
			r.points = weightPoints(w.vessel, r.body)
		}
		w.reach[b.Name] = r
	}
	if r.body == nil {
		return
	}
	pose := poseOf(r.body, b)
	low, high := r.body.Form.Reach(pose.Up)
	if high < pose.Sea-1e-6*(high-low) {
		return // it has gone under
	}
	for _, q := range r.points {
		low = math.Min(low, r3.Dot(pose.Up, q))
	}
	r.steepest = math.Max(r.steepest, math.Abs(b.Trim))
	if depth := pose.Sea - low; depth > r.depth {
		r.depth, r.time = depth, time
	}
}

// weightPoints are the corners of the weights whose middle lies in a body.
func weightPoints(v *compartment.Vessel, body *compartment.Body) (points []r3.Vec) {
	low, high := body.Form.Reach(r3.Vec{X: 1})
	for i := range v.Spec.Weights {
		s := &v.Spec.Weights[i]
		if s.At.X < low || s.At.X > high {
			continue
		}
		from, to := s.At, s.At
		if s.Size != nil {
			half := r3.Vec{X: s.Size[0] / 2, Y: s.Size[1] / 2, Z: s.Size[2] / 2}
			from, to = r3.Sub(from, half), r3.Add(to, half)
		}
		if s.Over != nil {
			from.X, to.X = math.Max(low, s.Over[0]), math.Min(high, s.Over[1])
		}
		for k := range 8 {
			q := from
			if k&1 != 0 {
				q.X = to.X
			}
			if k&2 != 0 {
				q.Y = to.Y
			}
			if k&4 != 0 {
				q.Z = to.Z
			}
			points = append(points, q)
		}
	}
	return points
}

// across is the greatest distance athwartships between two corners of a box about a body and the weights in it, m.
func (r *reached) across() float64 {
	lo, hi := r.body.Form.Bounds()
	for _, q := range r.points {
		lo = r3.Vec{Y: math.Min(lo.Y, q.Y), Z: math.Min(lo.Z, q.Z)}
		hi = r3.Vec{Y: math.Max(hi.Y, q.Y), Z: math.Max(hi.Z, q.Z)}
	}
	return math.Hypot(hi.Y-lo.Y, hi.Z-lo.Z)
}

// poseOf is the water plane seen from a body, of what a sample tells: with u the direction up, the sea stands over the keel line's
// after end by the draft there.
func poseOf(body *compartment.Body, b *flood.BodySample) compartment.Pose {
	up := compartment.Inclined(b.Heel, b.Trim)
	return compartment.Pose{Up: up, Sea: b.DraftAft + r3.Dot(up, body.KeelAft)}
}

// bodyNamed is the body that the pieces of a name are together; nil: there is none.
func bodyNamed(v *compartment.Vessel, name string) *compartment.Body {
	if name == "hull" {
		return v.Whole
	}
	parts := strings.Split(name, "+")
	for first := range v.Pieces {
		last := first + len(parts) - 1
		if v.Pieces[first].Name == parts[0] && last < len(v.Pieces) && v.Pieces[last].Name == parts[len(parts)-1] {
			return v.BodyOf(first, last)
		}
	}
	return nil
}
