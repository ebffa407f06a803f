package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// ledger keeps account of the water, or of the air: what was there, and what came in from outside less what went out.
type ledger struct {
	start   float64 // m³
	in      float64 // m³, net
	crossed float64 // m³ through all ports, both ways added up
	lost    float64 // rounding of in, by Kahan's compensated summation
}

// open starts the account.
func (l *ledger) open(water []float64) {
	for _, w := range water {
		l.start += w
	}
}

// enter adds what came in.
func (l *ledger) enter(volume float64) {
	y := volume - l.lost
	t := l.in + y
	l.lost = (t - l.in) - y
	l.in = t
}

// commit makes the attempted step's end the present: notes what was passed on the way, samples, and keeps the accounts.
func (r *Run) commit(h float64) {
	r.turn(&r.next)
	r.measureOnTheWay(h)
	r.noteOnTheWay(h)
	r.accountFor()
	r.rememberPast(h)
	r.next.time = r.now.time + h
	r.now, r.next = r.next, r.now
	r.landed()
	r.stats.Steps++
}

// rememberPast keeps the step's start and its middle, a stage, for the first guess of the next step. Where water was held back they do
// not lead to the step's end.
func (r *Run) rememberPast(h float64) {
	r.older.copyFrom(&r.now)
	r.past.copyFrom(&r.trial[1])
	r.hasPast, r.pastLength = !r.held, h/2
}

// accountFor enters what went through each port in the step. Of air what counts is that of the airtight spaces: all else is the
// outside.
func (r *Run) accountFor() {
	for _, air := range r.added {
		r.airBook.crossed += math.Abs(air)
		r.airBook.enter(air)
	}
	for j, w := range r.crossed {
		p := &r.ports[j]
		r.book.crossed += math.Abs(w)
		if p.fromWater == compartment.Outside {
			r.book.enter(w)
		}
		if p.toWater == compartment.Outside {
			r.book.enter(-w)
		}
		if air := r.blown[j]; air != 0 {
			r.airBook.crossed += math.Abs(air)
			if !r.trapped(r.airOf(p.From)) {
				r.airBook.enter(air)
			}
			if !r.trapped(r.airOf(p.To)) {
				r.airBook.enter(-air)
			}
		}
	}
}

// airs is the air in each space that has its own, m³ at one atmosphere.
func (r *Run) airs(s *state) []float64 {
	var all []float64
	for i := range r.spaces {
		if sp := &r.spaces[i]; sp.holdsAir() {
			all = append(all, s.excess[i]+(sp.capacity-s.water[i]))
		}
	}
	return all
}

// turn finds the rate of change of the poses at a state in which the bodies have been weighed: H·ṗ = −Σ C·V̇.
func (r *Run) turn(s *state) {
	if r.free() {
		return
	}
	clear(s.turning)
	if !r.rests() {
		return
	}
	clear(r.from)
	r.addFlows(r.from, s.rate, 1)
	clear(r.fromAir)
	r.addAir(r.fromAir, s.rate, s.gust, 1)
	for k := range r.bodies {
		b := &r.bodies[k]
		if b.gone {
			continue
		}
		r.gm[k], _ = b.floater.Metacentric(&b.balance)
		h, x, pivots := flat(&b.balance.Hessian), [3]float64{}, [3]int{}
		for _, i := range b.spaces {
			gain := r.from[i]
			switch sp := &r.spaces[i]; {
			case sp.bell:
				gain = r.fromAir[i]
			case sp.open:
				continue
			}
			for a, w := range r.weightOf(i) {
				x[a] -= w * gain
			}
		}
		if b.soft <= 0 || !solveDense(h[:], x[:], pivots[:]) {
			continue
		}
		up := r3.Add(r3.Scale(x[0], b.balance.Pitch), r3.Scale(x[1], b.balance.Roll))
		s.turning[k] = compartment.Pose{Up: up, Sea: x[2]}
	}
}

// noteOnTheWay puts down, in their order, the things that do not cut a step, and the samples that are due.
func (r *Run) noteOnTheWay(h float64) {
	for {
		first, hit := 2.0, -1
		for i := range r.watch {
			w := &r.watch[i]
			if w.cuts || w.on || w.after < 0 {
				continue
			}
			if x := r.crossing(w, h); x < first {
				first, hit = x, i
			}
		}
		r.sampleUntil(r.now.time+math.Min(first, 1)*h, h)
		if hit < 0 {
			return
		}
		r.watch[hit].on = true
		r.happen(&r.watch[hit], r.now.time+first*h)
		r.sampleAt(first, h)
	}
}

// restart finds the flows at the present state anew, after something jumped, and how long the first step may be. The heads
// of full spaces are those at which what flows in flows out; where that would be under the brim, the space is only just full.
func (r *Run) restart() {
	r.hasPast = false
	r.bent = firstBent
	r.settleWaters(&r.now)
	for i := range r.spaces {
		sp := &r.spaces[i]
		sp.byHead, sp.pinned = sp.airless && !sp.bell || sp.gas < 0 && r.now.water[i] >= sp.fullFrom()*sp.capacity, false
		w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
		switch {
		case !sp.byHead:
			r.now.head[i] = w.Level
		case !sp.airless:
			r.now.head[i] = math.Max(r.now.head[i], w.High)
		}
	}
	r.pressurise(&r.now)
	r.lookAtMouths()
	if s := &r.trial[0]; r.beginFlows(s) {
		copy(r.from, r.now.water)
		copy(r.fromAir, r.now.excess)
		if r.solve(0, r.from, s) == found {
			r.now.copyFrom(s)
			copy(r.now.water, r.from) // as it was, to the last bit
			copy(r.now.excess, r.fromAir)
		}
	}
	r.startle()
	r.turn(&r.now)
	r.standUp()
	r.length, r.limit = r.firstLength(), ByEvent
	if r.startled > 0 {
		r.length = 0 // to be found when the instants are over
	}
}

// chooseUnknowns takes the water of a space as the unknown of the next step, or where it is more than half full, its head.
func (r *Run) chooseUnknowns() {
	for i := range r.spaces {
		sp := &r.spaces[i]
		sp.pinned = false
		sp.brimmed = sp.brimmed && r.staysBrimmed(i)
		sp.byHead = sp.airless && !sp.bell || r.now.water[i] > sp.capacity/2
		if sp.holdsAir() && r.roomOf(i, &r.now) > 2*reopensShare*sp.capacity {
			sp.lostAt = reopensShare
		}
		if sp.holdsAir() && r.roomOf(i, &r.now) > vainShare*sp.capacity {
			sp.vain = 0
		}
		if head, _ := r.head(i, &r.now); !math.IsInf(head, -1) {
			r.now.head[i] = head
		}
	}
}

// staysBrimmed tells whether a space that has filled is full still: what little it lacks is what the iterations left, as long as its
// head stands over its highest point. Once that has fallen under it, the space drains, and its level has to follow the water that it
// has lost: taken for full in each step anew, it would give that away under a head which depends on how short the step is.
func (r *Run) staysBrimmed(i int) bool {
	sp := &r.spaces[i]
	if sp.airless || r.now.water[i] >= brim*sp.capacity {
		return true
	}
	return r.now.water[i] >= reopens*sp.capacity && r.now.head[i] >= r.bodies[sp.body].floater.Surfaces()[sp.local].High
}

// beginFlows sets the heads of the full spaces to where they balance, and every port's nominal speed and flow to what the
// heads drive, at the present state, in s and in r.now.
func (r *Run) beginFlows(s *state) bool {
	s.copyFrom(&r.now)
	if !r.weigh(s) {
		return false
	}
	r.balanceBrims(s)
	r.driven(s)
	copy(s.water, r.now.water) // not what the heads make of it, to the last bit
	copy(s.excess, r.now.excess)
	r.now.copyFrom(s)
	return true
}

// driven sets every port's nominal speeds and flows to what the heads and pressures drive.
func (r *Run) driven(s *state) {
	for j := range r.ports {
		p := &r.ports[j]
		s.rate[j], s.gust[j] = 0, 0
		if !p.open {
			continue
		}
		s.rate[j], s.gust[j] = r.plainFlow(p, s), r.plainAir(p, s)
		if p.Pump == 0 {
			r.evaluate(j, s) // for the differences of pressure
			s.speed[j] = p.waterLaw.speedAt(r.weight * p.water.drop)
			s.blow[j] = p.airLaw.speedAt(p.air.drop)
		}
	}
}

// firstLength is a step over which no space gains more than a small share of its room, by the root of the tolerance that
// the method's order gives.
func (r *Run) firstLength() float64 {
	clear(r.from)
	r.addFlows(r.from, r.now.rate, 1)
	h := r.set.Until / 100
	if r.length > 0 {
		h = r.length
	}
	share := math.Sqrt(math.Sqrt(r.set.Tolerance)) * 0.1
	for i := range r.spaces {
		if gain := math.Abs(r.from[i]); gain > 0 {
			h = math.Min(h, share*r.spaces[i].capacity/gain)
		}
	}
	clear(r.fromAir)
	r.addAir(r.fromAir, r.now.rate, r.now.gust, 1)
	for i := range r.spaces {
		if gain := math.Abs(r.fromAir[i]); gain > 0 {
			h = math.Min(h, share*r.weight*r.size/(gain*r.stiffness(i, &r.now)))
		}
	}
	return math.Max(h, 10*r.shortestOfAir())
}
