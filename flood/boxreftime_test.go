package flood_test

import (
	"fmt"
	"math"
)

// refState is a reference run at one instant.
type refState struct {
	time  float64
	water []float64
	pose  refPose
}

// refRun steps a box ship through its flooding: the equilibrium at every stage of an explicit fifth-order pair.
type refRun struct {
	ship  *refShip
	held  bool // the pose stays as it is
	pose  refPose
	pump  func(t float64, rates []float64) // adds what pumps bring; nil: none
	limit float64                          // error of a step, as a share of each room's capacity
	step  float64
}

// The tableau of Dormand & Prince, J. Comp. Appl. Math. 6 (1980) 19, as in Hairer, Nørsett & Wanner, table II.5.2.
var (
	princeC = [7]float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}
	princeA = [7][6]float64{{}, {1. / 5}, {3. / 40, 9. / 40}, {44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
		{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84}}
	princeE = [7]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}
)

// rates are the flows into the rooms, with the hull at its rest.
func (r *refRun) rates(t float64, water []float64) ([]float64, error) {
	if r.held {
		up := refUp(r.pose.trim, r.pose.heel)
		for i, room := range r.ship.rooms {
			r.pose.levels[i], _ = room.level(up, water[i], r.pose.levels[i])
		}
	} else {
		p, err := r.ship.rest(water, r.pose)
		if err != nil {
			return nil, fmt.Errorf("at %g s: %w", t, err)
		}
		r.pose = p
	}
	up := refUp(r.pose.trim, r.pose.heel)
	out := make([]float64, len(water))
	for i := range r.ship.ports {
		p := &r.ship.ports[i]
		q := p.flow(up, r.ship.density*refGravity, r.surface(p.from, water), r.surface(p.to, water))
		if p.from >= 0 {
			out[p.from] -= q
		}
		if p.to >= 0 {
			out[p.to] += q
		}
	}
	if r.pump != nil {
		r.pump(t, out)
	}
	return out, nil
}

func (r *refRun) surface(room int, water []float64) float64 {
	switch {
	case room < 0:
		return r.pose.sea
	case water[room] <= 0:
		return math.Inf(-1)
	}
	return r.pose.levels[room]
}

// to advances the state to a time, by steps whose error stays under the limit.
func (r *refRun) to(s *refState, end float64) error {
	if r.step == 0 {
		r.step = 1e-3
	}
	for s.time < end {
		h := min(r.step, end-s.time)
		next, size, err := r.try(s, h)
		if err != nil {
			return err
		}
		if size <= 1 {
			s.time, s.water = s.time+h, next
			if end-s.time < 1e-12*end {
				s.time = end
			}
		}
		if grown := h * min(5, max(0.2, 0.9*math.Pow(size+1e-30, -0.2))); h == r.step || size > 1 || grown > r.step {
			r.step = grown
		}
		if r.step < 1e-12 {
			return fmt.Errorf("at %g s the step is too small", s.time)
		}
	}
	if _, err := r.rates(s.time, s.water); err != nil {
		return err
	}
	s.pose = r.pose
	s.pose.levels = append([]float64(nil), r.pose.levels...)
	return nil
}

// try is one step: where it leads and the size of its error in units of the limit.
func (r *refRun) try(s *refState, h float64) (next []float64, size float64, err error) {
	var k [7][]float64
	for i := range k {
		next = append([]float64(nil), s.water...)
		for j := range i {
			for m := range next {
				next[m] += h * princeA[i][j] * k[j][m]
			}
		}
		for m := range next { // a stage may overshoot an empty room
			next[m] = max(0, next[m])
		}
		if k[i], err = r.rates(s.time+princeC[i]*h, next); err != nil {
			return nil, 0, err
		}
	}
	for m := range next {
		e := 0.0
		for i := range k {
			e += h * princeE[i] * k[i][m]
		}
		size = max(size, math.Abs(e)/(r.limit*r.ship.rooms[m].capacity()))
	}
	return next, size, nil
}
