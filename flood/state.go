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

	// Of airtight spaces. Air is counted as volume at one atmosphere; what is over the room that the water leaves makes the
	// pressure: taken as it is, the air would be two large numbers' difference.
	excess []float64 // of the air in each space over the room it has, m³ at one atmosphere
	press  []float64 // gauge pressure of the air in each space, Pa
	blow   []float64 // nominal speed of air through each port, m/s: see port
	gust   []float64 // flow of air through each port, m³/s at one atmosphere

	turning   []compartment.Pose // the poses' rates of change, 1/s and m/s
	hastening []compartment.Pose // in free motion: along the tangents, how these change, 1/s² and m/s²
}

func newState(spaces, ports, bodies int) state {
	return state{
		water: make([]float64, spaces), head: make([]float64, spaces),
		speed: make([]float64, ports), rate: make([]float64, ports), pose: make([]compartment.Pose, bodies),
		excess: make([]float64, spaces), press: make([]float64, spaces), blow: make([]float64, ports), gust: make([]float64, ports),
		turning: make([]compartment.Pose, bodies), hastening: make([]compartment.Pose, bodies),
	}
}

// copyFrom makes s equal to o, of the same size.
func (s *state) copyFrom(o *state) {
	s.time = o.time
	copy(s.water, o.water)
	copy(s.head, o.head)
	copy(s.speed, o.speed)
	copy(s.rate, o.rate)
	copy(s.excess, o.excess)
	copy(s.press, o.press)
	copy(s.blow, o.blow)
	copy(s.gust, o.gust)
	copy(s.pose, o.pose)
	copy(s.turning, o.turning)
	copy(s.hastening, o.hastening)
}
