package flood

import "gonum.org/v1/gonum/spatial/r3"

// Water that leaves a body takes the momentum along that it had with it: so the body keeps its velocity. What comes in from outside
// stood still, and has to be set in motion: of that the body becomes slower. Were nothing taken along, every swing in which a space
// takes in water while the body is slow, and lets go of it while it is fast, would be driven.

// countLeaving finds how much of its water each space gives to what is not its body, by the flows of the last evaluation.
func (r *Run) countLeaving() {
	clear(r.leaving)
	for j := range r.ports {
		if p := &r.ports[j]; p.open {
			r.leave(p, p.water.flow)
		}
	}
}

// countLeavingAt is countLeaving by the flows of a state.
func (r *Run) countLeavingAt(s *state) {
	clear(r.leaving)
	for j := range r.ports {
		r.leave(&r.ports[j], s.rate[j])
	}
}

// leave adds a flow through a port to what leaves the space that it comes from, if it goes out of the body.
func (r *Run) leave(p *port, flow float64) {
	from, to := p.fromWater, p.toWater
	if flow < 0 {
		from, to, flow = to, from, -flow
	}
	if from >= 0 && (to < 0 || r.spaces[to].body != r.spaces[from].body) {
		r.leaving[from] += flow
	}
}

// takeAlong takes off the forces along the tangents what momentum leaves with the water; ways: the body's motion for each of their rates.
func (r *Run) takeAlong(b *body, ways *[3][6]float64, along [3]float64, t *thrust) {
	for local, i := range b.spaces {
		q := r.leaving[i]
		if q == 0 || !r.movesWater(b, local) {
			continue
		}
		w := &b.floater.Surfaces()[local]
		at := r3.Scale(1/w.Volume, w.Moment)
		q *= b.floater.Density / r.weight
		var fast [3]r3.Vec // of that water
		for a := range ways {
			fast[a] = velocityAt(&ways[a], at)
		}
		for a := range fast {
			for c := range fast {
				by := q * r3.Dot(fast[a], fast[c])
				t.taken[a] -= by * along[c]
				t.drag[a][c] += by
			}
		}
	}
}

// velocityAt is that of a point which moves along with a body, from the motion of its origin and its turn.
func velocityAt(motion *[6]float64, at r3.Vec) r3.Vec {
	origin, turn := r3.Vec{X: motion[0], Y: motion[1], Z: motion[2]}, r3.Vec{X: motion[3], Y: motion[4], Z: motion[5]}
	return r3.Add(origin, r3.Cross(turn, at))
}
