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

// takeAlong takes off the forces along the tangents what momentum leaves with the water.
func (r *Run) takeAlong(b *body, along [3]float64, t *thrust) {
	for local, i := range b.spaces {
		q := r.leaving[i]
		if q == 0 || !r.movesWater(b, local) {
			continue
		}
		w := &b.floater.Surfaces()[local]
		ways := b.mover.waysOf(r3.Scale(1/w.Volume, w.Moment))
		q *= b.floater.Density / r.weight
		for a := range ways {
			for c := range ways {
				by := q * r3.Dot(ways[a], ways[c])
				t.taken[a] -= by * along[c]
				t.drag[a][c] += by
			}
		}
	}
}

// waysOf are the velocities of what moves along with the body at a point, for each of the coordinates' rates.
func (k *kinetics) waysOf(at r3.Vec) (ways [3]r3.Vec) {
	centre := r3.Scale(1/k.mass, k.first)
	for a, v := range [3]rates{{up: k.tangents[0]}, {up: k.tangents[1]}, {sea: 1}} {
		_, rise, turn := motion(k.up, centre, v)
		ways[a] = r3.Add(r3.Scale(rise, k.up), r3.Cross(turn, r3.Sub(at, centre)))
	}
	return ways
}
