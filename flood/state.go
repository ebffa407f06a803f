package flood

import "github.com/byhead/byhead/compartment"

// state is everything that a moment of a run is made of, apart from what is fixed in the Vessel.
type state struct {
	time  float64
	water []float64          // in each space, m³
	head  []float64          // of each full space: height along up to which its water would rise, m
	speed []float64          // nominal speed through each port, m/s: see port
	rate  []float64          // flow of water through each port, m³/s
	pose  []compartment.Pose // of each body

	turning []compartment.Pose // the poses' rates of change, 1/s and m/s
}

func newState(spaces, ports, bodies int) state {
	return state{
		water: make([]float64, spaces), head: make([]float64, spaces),
		speed: make([]float64, ports), rate: make([]float64, ports), pose: make([]compartment.Pose, bodies),
		turning: make([]compartment.Pose, bodies),
	}
}

// copyFrom makes s equal to o, of the same size.
func (s *state) copyFrom(o *state) {
	s.time = o.time
	copy(s.water, o.water)
	copy(s.head, o.head)
	copy(s.speed, o.speed)
	copy(s.rate, o.rate)
	copy(s.pose, o.pose)
	copy(s.turning, o.turning)
}
