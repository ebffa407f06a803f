package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// reopensShare is the share of a space that is let go of: air under it is lost, and a space that has filled is open again only
// once it has lost as much.
const reopensShare = 1 - reopens

// fillSlack is how near to full counts as full, as a share of the hull's length or of the capacity.
func (r *Run) fillSlack(i int) float64 {
	if r.spaces[i].gas >= 0 {
		return 1e-3 * reopensShare
	}
	return 1e-10
}

// airGone passes zero when the room for the air of an airtight space has shrunk to what is let go.
func (r *Run) airGone(i int, s *state) float64 {
	switch sp := &r.spaces[i]; {
	case sp.open:
		return -1
	case sp.airless:
		return 1
	default:
		return sp.lostAt - r.roomOf(i, s)/sp.capacity
	}
}

// loseAir lets the last air of a space go to where it was flowing, and is told once. From here on the space passes on what enters,
// under whatever pressure does that.
func (r *Run) loseAir(i int, time float64) {
	sp := &r.spaces[i]
	if !r.airLost[i] {
		r.airLost[i] = true
		r.note(AirLost, sp.Name, r.bodies[sp.body].Name, time)
	}
	left := r.now.excess[i] + (sp.capacity - r.now.water[i])
	r.airBook.crossed += left
	sp.airTo = r.airGoesTo(i)
	if to := r.airOf(sp.airTo); r.hardlyFeels(to, left) {
		r.now.excess[to] += left
	} else {
		r.airBook.enter(-left)
	}
	r.now.head[i] = r.bodies[sp.body].floater.Surfaces()[sp.local].High + r.now.press[i]/r.weight
	r.now.excess[i], r.now.press[i], sp.airless = 0, 0, true
	if sp.bell {
		r.drain(i, 0)
	}
}

// airOf is whose air it is that blows into space i: of one without any, bubbles rise through it and leave where its last air did.
func (r *Run) airOf(i int) int {
	for range len(r.spaces) {
		if i == compartment.Outside || !r.spaces[i].airless {
			return i
		}
		i = r.spaces[i].airTo
	}
	return compartment.Outside // full spaces in a ring
}

// airGoesTo is where most air flows to from space i.
func (r *Run) airGoesTo(i int) int {
	return r.mostGoesTo(i, r.now.gust, func(int) bool { return true })
}

// mostGoesTo is the side, among those that fit, to which most flows from space i at the rates given; nothing does: Outside.
func (r *Run) mostGoesTo(i int, rate []float64, fits func(side int) bool) int {
	to, most := compartment.Outside, 0.0
	for j := range r.ports {
		p := &r.ports[j]
		if !p.beside(i) {
			continue
		}
		if out := -p.sign(i) * rate[j]; out > most && fits(p.beyond(i)) {
			to, most = p.beyond(i), out
		}
	}
	return to
}

// hardlyFeels tells whether a space has air of its own, and so much room for it that a volume more or less is nothing to it. The
// last air of a space, taken from another bubble or given to it, would leave that under many atmospheres or none; it counts as
// the outside's.
func (r *Run) hardlyFeels(i int, volume float64) bool {
	return r.trapped(i) && r.roomOf(i, &r.now) > 1000*math.Abs(volume)
}

// gaspValue passes zero when air comes to stay in a space that has none: where beyond an open way stands air under a higher
// pressure than the water's at the way's upper edge, and a bubble's, and a bubble would grow. Else what comes in leaves again.
func (r *Run) gaspValue(i int, s *state) float64 {
	if !r.spaces[i].airless {
		return -1
	}
	_, push := r.gaspsThrough(i, s)
	if push <= 0 {
		return math.Max(-1, push/(r.weight*r.size))
	}
	if s.time < r.spaces[i].pausesUntil() {
		return -1
	}
	return math.Max(-1, r.growth(i, s)-r.spaces[i].reluctance())
}

// growth is the water that would leave a space without air if it had a bubble, under the pressure at which as much comes into that
// as leaves it; as a share of the space in the time in which something falls the hull's length.
func (r *Run) growth(i int, s *state) float64 {
	sp := &r.spaces[i]
	if sp.bell {
		return r.bellGrowth(i, s)
	}
	b, head := &r.bodies[sp.body], s.head[i]
	pose, now := b.balance.Pose, s.press[i]
	for j := range r.ports {
		r.streams[2*j], r.streams[2*j+1] = r.ports[j].water, r.ports[j].air
	}
	b.balance.Pose = s.pose[sp.body]
	b.floater.Level(sp.local, b.balance.Pose.Up, reopens*sp.capacity)
	sp.airless = false
	s.press[i] = r.weight * (head - b.floater.Surfaces()[sp.local].High)
	r.crowdAt(i, r.balanced(s.press[i], func(press float64) float64 { return r.crowdAt(i, press, s) }), s)
	sum := 0.0
	for j := range r.ports {
		if p := &r.ports[j]; p.open && p.beside(i) {
			sum += p.sign(i) * p.water.flow
		}
	}
	b.floater.Level(sp.local, b.balance.Pose.Up, sp.capacity)
	sp.airless, s.head[i], s.press[i], b.balance.Pose = true, head, now, pose
	for j := range r.ports {
		r.ports[j].water, r.ports[j].air = r.streams[2*j], r.streams[2*j+1]
	}
	return -sum / sp.capacity * math.Sqrt(r.size/hydro.Gravity)
}

// reluctance is the growth that a space without air asks for before it gasps. It doubles by every gasp that comes to nothing, since
// where the flows would lose a bubble again as soon as it is there, gasps would follow one another without end.
func (sp *space) reluctance() float64 {
	if sp.vain == 0 {
		return 0
	}
	return math.Min(mostReluctance, leastReluctance*math.Pow(2, float64(sp.vain)))
}

// pausesUntil is when a space without air gasps again whose gasps come to nothing however much growth they asked for: each time it waits
// twice as long.
func (sp *space) pausesUntil() float64 {
	if sp.vain <= mostVain {
		return math.Inf(-1)
	}
	return sp.gasped + math.Min(longestPause, firstPause*math.Pow(2, float64(sp.vain-mostVain)))
}

const (
	mostVain     = 20   // the reluctance has long been the most by then
	firstPause   = 1e-4 // s
	longestPause = 10.0

	leastReluctance = 1e-7
	mostReluctance  = 5e-3
	vainShare       = 1e-4 // of a space: a gasp that led to as much air was not in vain
)

// gaspsThrough is the port through which air is pressed most against a space that has none, and how hard, Pa; none: −1, −∞.
func (r *Run) gaspsThrough(i int, s *state) (best int, push float64) {
	best, push = -1, math.Inf(-1)
	for j := range r.ports {
		p := &r.ports[j]
		if !p.open || p.Pump != 0 || !p.beside(i) {
			continue
		}
		other := p.beyond(i)
		p.look(s.pose[p.body].Up)
		air, dry := r.pressureAt(r.side(other, s.pose[p.body].Sea, s), p.view.High)
		if !dry {
			continue
		}
		if d := air - p.law.Bubbling - r.weight*(r.headBeside(p, i, s)-p.view.High); d > push {
			best, push = j, d
		}
	}
	return best, push
}

// gasp gives a space its first air again. It takes what little room has been let go of, under the pressure that the water has at
// the top; where there is none, some water makes room.
func (r *Run) gasp(i int) bool {
	sp := &r.spaces[i]
	j, _ := r.gaspsThrough(i, &r.now)
	if j < 0 {
		return false
	}
	other := r.ports[j].beyond(i)
	if sp.bell {
		return r.gaspBell(i, other)
	}
	high := r.bodies[sp.body].floater.Surfaces()[sp.local].High
	press := math.Max(r.weight*(r.now.head[i]-high), -0.9*hydro.Atmosphere)
	if room := sp.capacity - r.now.water[i]; room < reopensShare/2*sp.capacity {
		r.giveWater(i, reopensShare*sp.capacity-room)
	}
	room := sp.capacity - r.now.water[i]
	excess := press / hydro.Atmosphere * room
	taken := excess + room
	r.airBook.crossed += taken
	if r.hardlyFeels(other, taken) {
		r.now.excess[other] -= taken
	} else {
		r.airBook.enter(taken)
	}
	r.now.excess[i], r.now.press[i] = excess, press
	sp.airless, sp.brimmed, sp.lostAt = false, false, room/sp.capacity/2
	sp.vain, sp.gasped = sp.vain+1, r.now.time
	return true
}

// giveWater lets a little water of a full space out where most flows out, or else to the sea.
func (r *Run) giveWater(i int, volume float64) {
	to := r.mostGoesTo(i, r.now.rate, func(side int) bool {
		return side == compartment.Outside || r.roomOf(side, &r.now) > 1000*volume
	})
	to = r.waterOf(to)
	r.now.water[i] -= volume
	r.book.crossed += volume
	if to == compartment.Outside {
		r.book.enter(-volume)
		return
	}
	r.now.water[to] += volume
	if r.trapped(to) {
		r.now.excess[to] += volume
	}
}
