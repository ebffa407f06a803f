package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// equations are those of one implicit stage,
//
//	V = base + hg·(inflow of water)                        of every space
//	P·(capacity − V)/atm = base + hg·(inflow of air and water)   of every airtight space: Boyle's law
//	0 = ∂E/∂pose                                           of every body
//
// linearised about a trial state: a sparse block of the spaces, and three columns and rows for each body's pose. The unknown
// of a space that is less than half full is its water V, of which the head is a function; of one that is fuller it is its
// head, of which the water is a function that goes on smoothly to V = capacity above the highest point. So a space fills,
// stands under pressure and empties again by one and the same equation: once V cannot grow, what flows in flows out, and the
// head is what makes it so. The air of an airtight space is counted by its excess over the room it has, at one atmosphere, and
// its unknown is the gauge pressure P: so both stay well known where the room is nearly gone.
type equations struct {
	spaces *profile
	rest   []float64   // right-hand side of the spaces, then their change
	column [][]float64 // by body and pose parameter: how the spaces' equations change with it
	row    [][]float64 // by body and pose parameter: how its equation changes with the spaces' unknowns
	schur  []float64   // 3 × 3 a body on the diagonal, as one dense matrix
	turn   []float64   // change of the pose parameters
	hg     float64     // the stage's share of the step, s
	share  float64     // of the solution that is taken: see damp
	pivots []int
	passed []int // of each space, to which air passes through it, as the block is laid out: see passesTo
}

func newEquations(r *Run) equations {
	n, k := r.unknowns(), 3*len(r.bodies)
	e := equations{
		spaces: newProfile(n, r.pairs()), rest: make([]float64, n),
		schur: make([]float64, k*k), turn: make([]float64, k), pivots: make([]int, k),
	}
	for i := range r.spaces {
		e.passed = append(e.passed, r.passesTo(i))
	}
	for range k {
		e.column = append(e.column, make([]float64, n))
		e.row = append(e.row, make([]float64, n))
	}
	return e
}

// pairs are the unknowns that stand in one equation: those of two neighbours, and where air passes through a space without any, those
// on both sides of its openings and the air that it passes on to.
func (r *Run) pairs() (all [][2]int) {
	couple := func(a, b []int) {
		for _, i := range a {
			for _, k := range b {
				all = append(all, [2]int{i, k})
			}
		}
	}
	for j := range r.ports {
		a, b := r.ports[j].sides[0], r.ports[j].sides[1]
		if a >= 0 && b >= 0 {
			couple(r.unknownsOf(a), r.unknownsOf(b))
		}
		for _, i := range [2]int{a, b} {
			if to := r.passesTo(i); to >= 0 {
				couple(r.unknownsOf(a), r.unknownsOf(to))
				couple(r.unknownsOf(b), r.unknownsOf(to))
			}
		}
	}
	for i := range r.spaces {
		if g := r.spaces[i].gas; g >= 0 {
			all = append(all, [2]int{i, g})
		}
	}
	return all
}

// passesTo is the space in whose air it ends up what blows into a space without any; −1: none.
func (r *Run) passesTo(i int) int {
	if to := r.airOf(i); to != i && r.trapped(to) {
		return to
	}
	return -1
}

// leadAir lays the equations out anew where air has begun, or ceased, to pass through a space.
func (r *Run) leadAir() {
	for i, to := range r.eq.passed {
		if r.passesTo(i) != to {
			r.eq = newEquations(r)
			return
		}
	}
}

// unknowns is how many there are apart from the poses: one of each space's water, one of each airtight space's air.
func (r *Run) unknowns() int {
	n := len(r.spaces)
	for i := range r.spaces {
		if r.spaces[i].gas >= 0 {
			n++
		}
	}
	return n
}

// unknownsOf are those of a space.
func (r *Run) unknownsOf(i int) []int {
	if i == compartment.Outside {
		return nil
	}
	if g := r.spaces[i].gas; g >= 0 {
		return []int{i, g}
	}
	return []int{i}
}

// verdict is how the search for a stage's state ended.
type verdict int

const (
	found    verdict = iota
	astray           // the iteration did not converge
	lostRest         // the rest that the body stood in is no minimum any more
)

// How many iterations a stage may take, and the search for the flows after a jump, which starts from far away.
const (
	maxIterations = 20
	maxFromAfar   = 60
)

// solve finds the state of a stage from a guess in s: water = base + hg × inflow, full spaces in balance, bodies at rest.
// The flows come back in s.rate, and s.water is made of base and of them, so that nothing is lost between spaces. No body has to do with
// another: one that is found stays as it is while the iteration goes on for the rest.
func (r *Run) solve(hg float64, base []float64, s *state) verdict {
	before, earlier, most := math.Inf(1), math.Inf(1), maxIterations
	for i := range r.spaces {
		r.spaces[i].lastChange, r.spaces[i].lastRise, r.spaces[i].levels, r.spaces[i].dips = 0, 0, false, 0
	}
	for k := range r.bodies {
		r.bodies[k].found, r.bodies[k].moved = false, math.Inf(1)
	}
	if hg == 0 {
		most = maxFromAfar
	}
	for iteration := range most {
		r.stats.Iterations++
		if !r.weighSought(s) {
			return lostRest
		}
		for j := range r.ports {
			if r.seeks(j) {
				r.evaluate(j, s)
			}
		}
		r.linearise(hg, base, s)
		r.weighSpaces()
		if !r.eliminate() {
			return astray
		}
		halved := iteration > 3 && before > inCircles*earlier && !r.draining
		if halved {
			r.damp(0.5)
		}
		r.draining = false
		size := r.apply(hg, s)
		r.allow(hg, s)
		worst := before
		if r.airtight { // water and air take turns at an opening: one step back is no way astray
			worst = math.Max(before, earlier)
		}
		if math.IsNaN(size) || hg > 0 && iteration > 3 && size > 2*worst && !r.draining {
			return astray
		}
		if iteration > 0 {
			r.bent = math.Max(size/(before*before), r.bent/2)
		}
		before, earlier = size, before
		if halved {
			continue
		}
		all, again := r.near(iteration)
		if all {
			r.account(hg, base, s)
			return found
		}
		if again {
			before, earlier = math.Inf(1), math.Inf(1)
		}
	}
	return astray
}

// inCircles is the ratio of two changes that follow one another from which the iteration is taken to go to and fro over a bend of
// the laws, as where an opening begins to be covered. Half a change leads off the circle.
const inCircles = 0.7

// damp takes only a share of the solution.
func (r *Run) damp(share float64) {
	e := &r.eq
	e.share *= share
	for i := range e.rest {
		e.rest[i] *= share
	}
	for k := range e.turn {
		e.turn[k] *= share
	}
}

// seeks tells whether a port's flow is still sought in the present iteration.
func (r *Run) seeks(j int) bool { return r.ports[j].open && !r.bodies[r.ports[j].body].found }

// near tells whether all bodies are found. Where less is allowed than when one was, it is sought again.
func (r *Run) near(iteration int) (all, again bool) {
	all = true
	for k := range r.bodies {
		switch b := &r.bodies[k]; {
		case b.found && r.allowed < b.allowed:
			b.found, b.moved = false, 0 // nothing that the next change could be small beside
			all, again = false, true
		case b.found:
		case r.isNear(b.moved, b.movedBefore, iteration):
			b.found, b.allowed = true, r.allowed
		default:
			all = false
		}
	}
	return all, again
}

// isNear tells whether what a change of this size has led to is within a small share of the tolerance: as Newton's iteration
// goes, the next change is about bent·size², with what the last iterations showed for bent, of all bodies together. Where no damping hides
// it, the next change counts that is left by what the iteration leaves out, of how the masses turn with the pose: it has a direction, and
// would feed a swing.
func (r *Run) isNear(size, before float64, iteration int) bool {
	if r.undamped() {
		rate := size / before
		return size < farOff && rate < 0.5 && size*math.Max(leftOut, rate/(1-rate)) < r.allowed || size < r.allowed*0.1
	}
	if iteration > 0 {
		rate := size / before
		if size < farOff && rate < 0.5 && size*rate/(1-rate) < r.allowed {
			return true
		}
	}
	return size < r.allowed*0.1 || r.bent*size*size < r.allowed*0.1 && size < farOff
}

// leftOut is the next change as a share of one, by what the iteration leaves out; 0.006 was seen in rolls by 0.02 rad.
const leftOut = 1e-2

// farOff is a change after which nothing is said to be near, however much smaller it is than the one before.
const farOff = 1e-2

// allow sets how large a change may be left: a share of the tolerance; and once hardly anything flows, of what the quiet
// flow brings in the stage, so that a flow that dies away is followed until it is quiet.
func (r *Run) allow(hg float64, s *state) {
	r.allowed = iterationShare * r.set.Tolerance
	flow, quiet := 0.0, r.quietFlow()
	for j := range s.rate {
		flow = math.Max(flow, math.Max(math.Abs(s.rate[j]), math.Abs(s.gust[j])))
	}
	if hg > 0 && flow < ebbing*quiet {
		least := leastAllowed
		for k := range r.bodies {
			least = math.Max(least, poseRounding*r.asVelocity(&r.bodies[k], hg))
		}
		r.allowed = math.Min(r.allowed, math.Max(least, iterationShare*hg*quiet/r.largest))
	}
}

// poseRounding is how well a pose is known, rad or share of the length: in a step of microseconds that is much as a velocity, and stages
// of a quiet flow would go on for ever for it. Beyond the usual share of the tolerance it is not forgiven: velocities would be lost.
const poseRounding = 1e-15

// leastAllowed is a change that is rounding for sure.
const leastAllowed = 1e-13

// iterationShare of the tolerance may be left in a stage: small, so that what the error estimate sees is the step's error.
const iterationShare = 0.02

// weigh brings the waters to rest in the trial's poses and weighs the bodies there; weighSought those that are still sought. ok is
// false where a body has no rest.
func (r *Run) weigh(s *state) (ok bool) {
	for k := range r.bodies {
		if !r.weighBody(k, s) {
			return false
		}
	}
	return true
}

func (r *Run) weighSought(s *state) (ok bool) {
	for k := range r.bodies {
		if !r.bodies[k].found && !r.weighBody(k, s) {
			return false
		}
	}
	return true
}

// weighBody is weigh for one body. Where it stands on a hump instead of in a hollow of its energy, it is first let down to the nearest
// rest; ok is false where that is far, or nowhere.
func (r *Run) weighBody(k int, s *state) (ok bool) {
	b := &r.bodies[k]
	r.fillSpaces(b, s.pose[k].Up, s)
	switch {
	case r.set.Motion == Held:
		b.balance.Pose = s.pose[k]
		b.balance.Pitch, b.balance.Roll = compartment.Tangents(s.pose[k].Up)
		b.floater.LetIn(s.pose[k])
		r.readBells(k, s)
		return true
	case b.gone:
		return true
	}
	b.floater.Weigh(s.pose[k], &b.balance)
	if r.free() {
		return true
	}
	if b.soft = b.floater.Stiffness(&b.balance); b.soft <= 0 && !r.letDown(b, k, s) {
		return false
	}
	r.readBells(k, s)
	return true
}

// fillSpaces brings a body's waters to rest, by head where that is the unknown and by volume elsewhere, and takes the other
// of the two over into the state.
func (r *Run) fillSpaces(b *body, up r3.Vec, s *state) {
	surfaces := b.floater.Surfaces()
	for i, g := range b.spaces {
		switch sp := &r.spaces[g]; {
		case sp.bell:
			s.water[g], b.water[i] = 0, r.bellAir(g, s)
			b.floater.Bell(i, b.water[i])
			continue
		case sp.open:
			s.water[g] = 0
		case sp.airless:
			b.floater.Level(i, up, sp.capacity)
			s.water[g] = sp.capacity
		case sp.byHead && !sp.levels:
			b.floater.Fill(i, up, s.head[g])
			if least := sp.capacity + sp.dips; sp.dips < 0 && surfaces[i].Volume < least {
				b.floater.Level(i, up, least)
				s.head[g] = surfaces[i].Level
			}
			s.water[g], sp.dips = surfaces[i].Volume, 0
		default:
			b.floater.Level(i, up, s.water[g])
			s.head[g] = surfaces[i].Level
			sp.levels = false
		}
		b.water[i] = s.water[g]
	}
}

// letDown finds the stable rest next to the one that the step began in.
func (r *Run) letDown(b *body, k int, s *state) bool {
	r.stats.PoseSolves++
	r.letsDown++
	start := r.now.pose[k]
	rest := b.floater.Settle(start, b.water, compartment.SearchStride/5, nil)
	if !rest.Stable || turned(rest.Pose, start) > farFromRest {
		return false
	}
	s.pose[k] = rest.Pose
	b.floater.Balance(rest.Pose, b.water, &b.balance)
	b.soft = b.floater.Stiffness(&b.balance)
	return true
}

// farFromRest is how far, rad, a rest may move in a step and still be the same rest.
const farFromRest = 0.1

// turned is the angle between two poses, rad.
func turned(a, b compartment.Pose) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a.Up, b.Up)), r3.Dot(a.Up, b.Up))
}

// linearise fills the equations about the trial state.
func (r *Run) linearise(hg float64, base []float64, s *state) {
	r.leadAir()
	e := &r.eq
	e.hg = hg
	e.spaces.clear()
	for k := range e.column {
		clear(e.column[k])
		clear(e.row[k])
	}
	clear(e.schur)
	for i := range r.spaces {
		e.rest[i] = r.lacking(i, base[i], s.water[i])
		r.enterSpace(i)
		switch sp := &r.spaces[i]; {
		case sp.open || sp.bell: // nothing of it is unknown but a bell's air
			if sp.gas >= 0 {
				r.enterBell(i, s)
			}
		case sp.gas >= 0:
			r.enterAir(i, s)
		}
	}
	for j := range r.ports {
		if p := &r.ports[j]; p.open && !(p.water.idle() && p.air.idle()) {
			if p.From >= 0 {
				r.enter(p, p.From, -1)
			}
			if p.To >= 0 {
				r.enter(p, p.To, 1)
			}
		}
	}
	if r.free() {
		r.countLeaving()
	}
	if r.set.Motion != Held {
		for k := range r.bodies {
			if r.bodies[k].gone || r.bodies[k].found {
				r.enterFixed(k)
				continue
			}
			r.enterBody(k)
		}
	}
}

// lacking is what the water of a space lacks of what its equation starts from; of one by head, beyond rounding, since just under the
// brim the head that rounding alone asks for may be anything.
func (r *Run) lacking(i int, base, water float64) float64 {
	if r.spaces[i].bell {
		return 0
	}
	lack := r.toHold(i, base) - water
	if sp := &r.spaces[i]; sp.byHead && math.Abs(lack) < roundingShare/10*sp.capacity {
		return 0
	}
	return lack
}

// toHold is the water that a space's equation starts from: the base, and of one that is full, exactly its capacity. What is
// missing to the brim by rounding would else have to flow in within the stage, and the shorter the step the higher the head
// for it.
func (r *Run) toHold(i int, base float64) float64 {
	if sp := &r.spaces[i]; sp.airless || sp.byHead && math.Abs(base-sp.capacity) <= (1-sp.fullFrom())*sp.capacity {
		return sp.capacity
	}
	return base
}

// enterSpace puts how a space's water changes with its own unknown, and with the pose, into its equation.
func (r *Run) enterSpace(i int) {
	e, sp := &r.eq, &r.spaces[i]
	if !sp.byHead {
		e.spaces.add(i, i, 1)
		return
	}
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	e.spaces.add(i, i, w.Area+idleShare*sp.capacity/r.size)
	if e.hg == 0 {
		e.rest[i] = 0 // the water is given, and the head is sought
	}
	if sp.pinned {
		e.spaces.add(i, i, 1)
	}
	if b := &r.bodies[sp.body]; w.Area > 0 && r.set.Motion != Held {
		e.column[3*sp.body][i] -= w.Area * r3.Dot(w.Centre, b.balance.Pitch)
		e.column[3*sp.body+1][i] -= w.Area * r3.Dot(w.Centre, b.balance.Roll)
	}
}

// idleShare of a space's capacity per length of head ties a full one to the head it had: far under rounding wherever a real
// opening leads out of it, and decisive where none does.
const idleShare = 1e-13

// share is the factor of the flows in a space's equation.
func (r *Run) share(i int) float64 {
	if sp := &r.spaces[i]; r.eq.hg == 0 && sp.byHead {
		if sp.pinned {
			return 0
		}
		return 1
	}
	return r.eq.hg
}

// enterAir puts Boyle's law of an airtight space into its equation: how the excess of its air changes with the pressure and
// with the room that the water leaves. A space without air keeps its pressure at nothing.
func (r *Run) enterAir(i int, s *state) {
	e, sp := &r.eq, &r.spaces[i]
	if sp.airless {
		e.spaces.add(sp.gas, sp.gas, 1)
		e.rest[sp.gas] = 0
		return
	}
	share := s.press[i] / hydro.Atmosphere
	room := sp.capacity - s.water[i]
	e.rest[sp.gas] = r.fromAir[i] - share*room
	e.spaces.add(sp.gas, sp.gas, room/hydro.Atmosphere)
	if !sp.byHead {
		e.spaces.add(sp.gas, i, -share)
		return
	}
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	e.spaces.add(sp.gas, i, -share*w.Area)
	if b := &r.bodies[sp.body]; r.set.Motion != Held {
		e.column[3*sp.body][sp.gas] += share * w.Area * r3.Dot(w.Centre, b.balance.Pitch)
		e.column[3*sp.body+1][sp.gas] += share * w.Area * r3.Dot(w.Centre, b.balance.Roll)
	}
}

// enter puts a port's flows, times sign, into the equations of one of its spaces; the air that comes into one without any, into that of
// the space where it passes on to.
func (r *Run) enter(p *port, i int, sign float64) {
	sp := &r.spaces[i]
	if !sp.bell {
		r.enterStream(p, i, sign*r.share(i), &p.water)
	}
	if sp.holdsAir() {
		if !sp.bell {
			r.enterStream(p, sp.gas, sign*r.eq.hg, &p.water)
		}
		r.enterStream(p, sp.gas, sign*r.eq.hg, &p.air)
	} else if to := r.passesTo(i); to >= 0 {
		r.enterStream(p, r.spaces[to].gas, sign*r.eq.hg, &p.air)
	}
}

// enterStream puts factor × a flow into an equation.
func (r *Run) enterStream(p *port, row int, factor float64, t *stream) {
	r.eq.rest[row] += factor * t.flow
	r.enterHead(p, row, p.From, -factor*t.byA)
	r.enterHead(p, row, p.To, -factor*t.byB)
	r.enterPressure(row, p.From, -factor*t.pushA)
	r.enterPressure(row, p.To, -factor*t.pushB)
	if t.byWater != 0 {
		r.enterWater(row, t.source, -factor*t.byWater)
	}
}

// enterPressure puts coefficient × (change of the air's pressure in a space) into an equation.
func (r *Run) enterPressure(row, of int, coefficient float64) {
	if coefficient == 0 || !r.trapped(of) {
		return
	}
	if sp := &r.spaces[of]; sp.bell {
		r.enterBellPressure(sp, row, coefficient)
	} else {
		r.eq.spaces.add(row, sp.gas, coefficient)
	}
}

// enterHead puts coefficient × (change of the level on a side of a port) into equation i.
func (r *Run) enterHead(p *port, i, of int, coefficient float64) {
	if coefficient == 0 {
		return
	}
	e, b := &r.eq, &r.bodies[p.body]
	arm := r3.Scale(-1, p.centre)
	if of >= 0 {
		sp := &r.spaces[of]
		if sp.bell {
			r.enterBellLevel(sp, i, p.centre, coefficient)
			return
		}
		if sp.byHead {
			e.spaces.add(i, of, coefficient)
		} else {
			e.spaces.add(i, of, coefficient*r.rise(sp))
			arm = r3.Add(arm, r.surfaceCentre(sp))
		}
	}
	if r.set.Motion == Held {
		return
	}
	at := 3 * p.body
	e.column[at][i] += coefficient * r3.Dot(arm, b.balance.Pitch)
	e.column[at+1][i] += coefficient * r3.Dot(arm, b.balance.Roll)
	if of == compartment.Outside {
		e.column[at+2][i] += coefficient
	}
}

// rise is how much the level of a space rises with its water, m per m³; none where it overflows, and none where it is dry:
// what stands there then is its floor, also for a trial that owes water.
func (r *Run) rise(sp *space) float64 {
	s := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	if s.Volume >= sp.capacity || s.Volume <= 0 {
		return 0
	}
	return 1 / r.areaOf(sp)
}

// surfaceCentre is where water that enters a space finds its place: the middle of its surface.
func (r *Run) surfaceCentre(sp *space) r3.Vec {
	s := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	if s.Area > 0 {
		return s.Centre
	}
	return sp.Room.Centroid()
}

// enterBody puts a body's balance in: its gradient, its Hessian, and how the waters weigh on it.
func (r *Run) enterBody(k int) {
	e, b := &r.eq, &r.bodies[k]
	n := len(e.turn)
	for a := range 3 {
		e.turn[3*k+a] = -b.balance.Gradient[a]
		for c := range 3 {
			e.schur[(3*k+a)*n+3*k+c] = b.balance.Hessian[a][c]
		}
	}
	for _, g := range b.spaces {
		if sp := &r.spaces[g]; sp.bell || !sp.open {
			r.enterWeight(k, g)
		}
	}
	if r.free() {
		r.enterMotion(k)
	}
}

// enterFixed keeps a body where it is that has foundered, or is found.
func (r *Run) enterFixed(k int) {
	e := &r.eq
	n := len(e.turn)
	for a := range 3 {
		e.turn[3*k+a] = 0
		e.schur[(3*k+a)*n+3*k+a] = 1
	}
}

// weightOf is how more water in a space weighs on its body, for each m³ of it; of a bell, for each m³ of its air.
func (r *Run) weightOf(i int) [3]float64 {
	sp := &r.spaces[i]
	b := &r.bodies[sp.body]
	centre, water := r.surfaceCentre(sp), 1.0
	if sp.bell {
		w := r.surfaceOf(sp)
		centre, water = w.Centre, w.Area*r.levelByAir(sp)
	}
	return [3]float64{water * r3.Dot(centre, b.balance.Pitch), water * r3.Dot(centre, b.balance.Roll), -water}
}

// enterWeight puts that in, at the unknown of the space: its water, the air of a bell, or the head of one that is known by
// it, of which the water is A·(δh − δn·x̄).
func (r *Run) enterWeight(k, i int) {
	e, sp, weight := &r.eq, &r.spaces[i], r.weightOf(i)
	at, area := i, 1.0
	switch {
	case sp.bell:
		at = sp.gas
	case sp.byHead:
		area = r.surfaceOf(sp).Area
	}
	n := len(e.turn)
	for a, w := range weight {
		e.row[3*k+a][at] = w * area
		if sp.bell || !sp.byHead {
			continue
		}
		for c, x := range weight[:2] {
			e.schur[(3*k+a)*n+3*k+c] -= w * area * x
		}
	}
}

// eliminate solves the linearised equations: first the spaces for given poses, then the poses, then the spaces.
func (r *Run) eliminate() bool {
	e := &r.eq
	r.stats.Factorisations++
	e.share = 1
	e.spaces.factor()
	e.spaces.solve(e.rest)
	if r.set.Motion == Held {
		return true
	}
	n := len(e.turn)
	for c := range n {
		e.spaces.solve(e.column[c])
		for a := range n {
			for i, x := range e.row[a] {
				e.schur[a*n+c] -= x * e.column[c][i]
			}
		}
	}
	for a := range n {
		for i, x := range e.row[a] {
			e.turn[a] -= x * e.rest[i]
		}
	}
	if !solveDense(e.schur, e.turn, e.pivots) {
		return false
	}
	for c := range n {
		for i, x := range e.column[c] {
			e.rest[i] -= x * e.turn[c]
		}
	}
	return true
}

// solveDense solves a small dense system in place, with partial pivoting; x is the right-hand side and the solution.
func solveDense(a, x []float64, pivots []int) bool {
	n := len(x)
	for c := range n {
		p := c
		for i := c + 1; i < n; i++ {
			if math.Abs(a[i*n+c]) > math.Abs(a[p*n+c]) {
				p = i
			}
		}
		if a[p*n+c] == 0 || math.IsNaN(a[p*n+c]) {
			return false
		}
		if pivots[c] = p; p != c {
			for k := range n {
				a[c*n+k], a[p*n+k] = a[p*n+k], a[c*n+k]
			}
			x[c], x[p] = x[p], x[c]
		}
		for i := c + 1; i < n; i++ {
			f := a[i*n+c] / a[c*n+c]
			for k := c; k < n; k++ {
				a[i*n+k] -= f * a[c*n+k]
			}
			x[i] -= f * x[c]
		}
	}
	for c := n - 1; c >= 0; c-- {
		for k := c + 1; k < n; k++ {
			x[c] -= a[c*n+k] * x[k]
		}
		x[c] /= a[c*n+c]
	}
	return true
}

// apply moves the trial state by the solution, and returns the size of the largest move: the largest share of a space's capacity, of
// the hull's length, of a radian.
func (r *Run) apply(hg float64, s *state) (size float64) {
	for k := range r.bodies {
		b := &r.bodies[k]
		b.movedBefore, b.moved = b.moved, 0
	}
	r.steady(&size)
	for j := range r.ports {
		if r.seeks(j) {
			r.moves(r.ports[j].body, r.applyToPort(j, hg, s), len(r.spaces)+j, &size)
		}
	}
	for i := range r.spaces {
		if k := r.spaces[i].body; !r.bodies[k].found {
			r.moves(k, r.applyToSpace(i, s), i, &size)
		}
	}
	for k := range r.bodies {
		if b := &r.bodies[k]; r.set.Motion != Held && !b.gone && !b.found {
			move := r.applyToPose(k, s) * r.asVelocity(b, hg)
			b.moved, size = math.Max(b.moved, move), math.Max(size, move)
		}
	}
	return size
}

// moves counts a change in a body, and keeps what moved most of all: see larger.
func (r *Run) moves(k int, change float64, index int, worst *float64) {
	r.bodies[k].moved = math.Max(r.bodies[k].moved, change)
	*worst = r.larger(*worst, change, index)
}

// applyToPose moves a body, by no more than a fifth of a radian or of its length, and returns the size of what the solution has.
func (r *Run) applyToPose(k int, s *state) (size float64) {
	b, t := &r.bodies[k], r.eq.turn[3*k:3*k+3]
	size = sizeOf([3]float64(t), b.floater.Length())
	f := math.Min(1, 0.2/math.Max(size, 1e-300))
	s.pose[k] = b.balance.Pose.Turned(b.balance.Pitch, b.balance.Roll, f*t[0], f*t[1], f*t[2])
	return size
}

// applyToSpace moves the water and the air of a space, and returns the size of that: what is small to the space may be much to a
// bubble in it.
func (r *Run) applyToSpace(i int, s *state) (size float64) {
	e, sp := &r.eq, &r.spaces[i]
	if sp.bell {
		return r.applyToBell(i, s)
	}
	room := sp.capacity - s.water[i]
	gain := e.rest[i]
	if sp.byHead {
		if size = math.Abs(gain) / r.size; size > 0.1*r.allowed && sp.airless && r.roundedOff(i) {
			size = 0
		}
		s.head[i] = r.headAfter(i, s.head[i], r.hastened(i, s.head[i], gain))
		gain = r.gainByHead(i)
		r.takeWater(i, gain, s)
	} else {
		size = math.Abs(gain) / sp.capacity
		next := drained(s.water[i], gain, sp.capacity)
		r.draining = r.draining || next > s.water[i]+gain
		s.water[i] = next
	}
	if !sp.holdsAir() {
		return size
	}
	if !sp.byHead {
		s.water[i] = math.Min(s.water[i], sp.capacity-room*leastRoom)
	}
	least := (s.press[i]+hydro.Atmosphere)/4 - hydro.Atmosphere // an absolute pressure is not negative
	s.press[i] = math.Max(least, s.press[i]+e.rest[sp.gas])
	return math.Max(size, math.Abs(gain)/math.Min(sp.capacity, feltRooms*room))
}

// roundedOff tells whether what the flows of a full space without air leave over is nothing, or no more than the rounding of the heads
// makes of them. Where wide openings lead to more such spaces and only a fine one out of them, whose flow begins at its lowest point by
// the power 2.5 of the head, Newton's iteration would look for that head in the noise of the wide ones.
func (r *Run) roundedOff(i int) bool {
	left, noise := 0.0, nothingShare*r.quietFlow()
	for j := range r.ports {
		p := &r.ports[j]
		switch {
		case !p.open:
		case p.From == i:
			left -= p.water.flow
			noise += math.Abs(p.water.byA) * headNoise * r.size
		case p.To == i:
			left += p.water.flow
			noise += math.Abs(p.water.byB) * headNoise * r.size
		}
	}
	return math.Abs(left) <= noise
}

// headNoise is the rounding of a head, as a share of the hull's length; nothingShare of the quiet flow is none at all.
const (
	headNoise    = 4e-16
	nothingShare = 1e-4
)

// feltRooms is how many times the room for its air has to be moved to be as much as moving the capacity.
const feltRooms = 10

// weighSpaces finds which spaces whose unknown is the head owe their equation to their water rather than to the flows, and what it lacks.
func (r *Run) weighSpaces() {
	for i := range r.spaces {
		if sp := &r.spaces[i]; sp.byHead && !sp.airless {
			area := r.bodies[sp.body].floater.Surfaces()[sp.local].Area
			sp.heavy = r.eq.spaces.diagonal(i) < 2*area
			sp.lack = r.eq.rest[i]
		}
	}
}

// hastened is a change of head, lengthened by Aitken's rule where it follows a longer one the same way: to where a space is
// just full under a corner, a triple root, Newton's iteration goes by a third of the way at a time. A space with air of its own does
// not get there, and its head goes with the pressure, which is not lengthened; and changes that are held back follow no rule.
func (r *Run) hastened(i int, head, rise float64) float64 {
	sp := &r.spaces[i]
	if sp.holdsAir() || r.eq.share < 1 {
		sp.lastRise = 0
		return rise
	}
	rate := rise / sp.lastRise
	sp.lastRise = rise
	left := r.bodies[sp.body].floater.Surfaces()[sp.local].High - head
	if faster := rise / (1 - rate); rise > 0 && rate > 0.4 && rate < 0.8 && faster < left {
		sp.lastRise = 0
		return faster
	}
	return rise
}

// gainByHead is the water that a space gains by the change of its head, by the tangent.
func (r *Run) gainByHead(i int) float64 {
	sp := &r.spaces[i]
	w, b := &r.bodies[sp.body].floater.Surfaces()[sp.local], &r.bodies[sp.body]
	rise := r.eq.rest[i]
	if r.set.Motion != Held {
		t := r.eq.turn[3*sp.body:]
		rise -= r3.Dot(w.Centre, b.balance.Pitch)*t[0] + r3.Dot(w.Centre, b.balance.Roll)*t[1]
	}
	return w.Area * rise
}

// takeWater takes the water of a nearly full space along instead of its head, where its equation is rather about that. Under a
// corner the water is the third power of the distance to it, and Newton's iteration by the head creeps. From the corner itself it
// goes to where nothing flows, and takes no more water along than what lacks there: see fillSpaces.
func (r *Run) takeWater(i int, gain float64, s *state) {
	sp := &r.spaces[i]
	if sp.airless || r.eq.hg == 0 {
		return
	}
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	if sp.gas < 0 && w.Area == 0 && sp.lack < 0 && s.head[i] < w.High {
		sp.dips = sp.lack
		return
	}
	if !sp.heavy {
		return
	}
	switch room := sp.capacity - w.Volume; {
	case room <= 0 || math.Abs(gain) < 0.1*room:
	case gain < room:
		s.water[i], sp.levels = w.Volume+gain, true
	case sp.gas < 0:
		s.head[i] = w.High
	}
}

// steady holds all changes back where pressures go to and fro, and counts the change of each as it came out:
// water and air take turns at an opening, and Newton's tangents over that bend can lead to and fro for ever.
func (r *Run) steady(size *float64) {
	whole := r.weight * r.size
	factor := 1.0
	r.mover = -1
	for i := range r.spaces {
		if sp := &r.spaces[i]; r.sways(sp) {
			change := r.eq.rest[sp.gas]
			r.moves(sp.body, math.Abs(change)/whole, i, size)
			if change*sp.lastChange < 0 && math.Abs(change) > r.allowed*whole {
				factor = math.Min(factor, math.Abs(sp.lastChange/change)/2)
			}
		}
	}
	factor = math.Max(factor, 0.1)
	for i := range r.spaces {
		if sp := &r.spaces[i]; r.sways(sp) {
			sp.lastChange = factor * r.eq.rest[sp.gas]
		}
	}
	if factor < 1 {
		r.damp(factor)
	}
}

// sways tells whether the pressure of a space is sought in the present iteration.
func (r *Run) sways(sp *space) bool { return sp.holdsAir() && !sp.bell && !r.bodies[sp.body].found }

// leastRoom is the share of the room for its air that an iteration leaves to a space.
const leastRoom = 0.25

// headAfter is a head after a change, at most the hull's length. Over the highest point and under the lowest the water does
// not change with the head, and the tangent says nothing about what comes beyond: coming from there, it goes in only so far.
func (r *Run) headAfter(i int, head, change float64) float64 {
	sp := &r.spaces[i]
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	next := head + math.Max(-r.size, math.Min(r.size, change))
	if sp.airless {
		return next
	}
	if sp.holdsAir() && next >= w.High {
		return w.High - (w.High-head)*leastRoom
	}
	switch tall := w.High - w.Low; {
	case head > w.High && next < w.High:
		next = math.Max(next, w.High-0.01*tall)
	case head < w.Low && next > w.Low:
		next = math.Min(next, w.Low+0.5*tall)
	}
	return next
}

// drained is a water after a change that may not take it from something to nothing in one go: the outflow through a hole at
// the lowest point is infinitely steep there, and Newton's tangent goes past it.
func drained(water, change, capacity float64) float64 {
	if next := water + change; next > 0 || water <= 1e-13*capacity {
		return next
	}
	return water / 30
}

// applyToPort takes a port's flows and nominal speeds along, and returns how much of a space's capacity the change of speed
// would bring in the stage. The flows are those of the whole solution, which alone keep what full spaces hold; of the speeds'
// changes it is the share that is taken of all: found from the drop that a shortened change leaves, they would go far astray where
// waters stand level beside a wide door.
func (r *Run) applyToPort(j int, hg float64, s *state) (size float64) {
	p := &r.ports[j]
	a, b := r.sideChange(p, p.From, hg, s), r.sideChange(p, p.To, hg, s)
	s.rate[j] = p.water.after(&a, &b) + p.water.byWater*r.waterChange(&p.water, hg)
	if p.Pump != 0 {
		return 0
	}
	before := s.speed[j]
	s.speed[j] = before + r.eq.share*(r.followWater(p, before, s.rate[j], &a, &b)-before)
	rounding := pressureRounding * (r.weight*r.size + math.Abs(pressOf(p.From, s)) + math.Abs(pressOf(p.To, s)))
	size = hg * p.water.beyond(p.wet*(p.water.moving(s.speed[j])-p.water.moving(before)), rounding) / p.least
	if !p.breathes {
		return size
	}
	s.gust[j] = p.air.after(&a, &b) + p.air.byWater*r.waterChange(&p.air, hg)
	before = s.blow[j]
	s.blow[j] = before + r.eq.share*(r.followAir(p, before, s.gust[j], &a, &b)-before)
	return math.Max(size, hg*p.air.beyond(p.fading*p.dry*(p.air.moving(s.blow[j])-p.air.moving(before)), rounding)/p.least)
}

// pressureRounding is how well a pressure is known, as a share of itself: some units in the last place.
const pressureRounding = 1e-15

// pressOf is the pressure of a space's air.
func pressOf(i int, s *state) float64 {
	if i < 0 {
		return 0
	}
	return s.press[i]
}

// beyond is the size of a change of flow beyond what the rounding of the pressures beside it makes.
func (t *stream) beyond(change, rounding float64) float64 {
	return math.Max(0, math.Abs(change)-rounding*math.Max(math.Abs(t.pushA), math.Abs(t.pushB)))
}

// sideChange is how what stands on one side of a port changes by the solution, and how a flow acts back on it.
type sideChange struct {
	level, press         float64 // m, Pa
	levelBack, pressBack float64 // by how much 1 m³/s into it over the stage raises them
}

// after is a flow after the changes on its two sides.
func (t *stream) after(a, b *sideChange) float64 {
	return t.flow + t.byA*a.level + t.byB*b.level + t.pushA*a.press + t.pushB*b.press
}

// followWater is the nominal speed of the water for the new difference of heads. Where the flow hardly acts back on the heads,
// it is that of the new heads; where it does (a wide door between level waters, a space whose air it presses) it is taken by the
// tangent of the parabola.
func (r *Run) followWater(p *port, v, rate float64, a, b *sideChange) float64 {
	t := &p.water
	if !t.driven {
		return v
	}
	drop := t.drop + (a.press-b.press)/r.weight
	if t.feelsA {
		drop += a.level
	}
	if t.feelsB {
		drop -= b.level
	}
	stiff := math.Abs(t.byA)*a.levelBack > stiffShare || math.Abs(t.byB)*b.levelBack > stiffShare
	stiff = stiff && (t.feelsA && t.feelsB || math.IsInf(a.levelBack, 1) || math.IsInf(b.levelBack, 1))
	stiff = stiff || math.Abs(t.pushA)*a.pressBack > stiffShare || math.Abs(t.pushB)*b.pressBack > stiffShare
	return p.waterLaw.follow(v, r.weight*drop, rate, p.wet, stiff)
}

// followAir is the same for air.
func (r *Run) followAir(p *port, u, gust float64, a, b *sideChange) float64 {
	t := &p.air
	if !t.driven {
		return u
	}
	drop := t.drop
	if t.feelsA {
		drop += r.weight*a.level + t.holdsA.after(a.level)
	}
	if t.feelsB {
		drop -= r.weight*b.level + t.holdsB.after(b.level)
	}
	drop += a.press - b.press
	stiff := math.Abs(t.pushA)*a.pressBack > stiffShare || math.Abs(t.pushB)*b.pressBack > stiffShare
	return p.airLaw.follow(u, drop, gust, p.dry, stiff)
}

// follow is the nominal speed for the new difference of pressures: the one that this drives, or, where the flow acts back on
// it, the one that the flow needs. The latter goes by the tangent at the present speed, which is nearly level near rest, so
// it is kept within what either the pressure or the flow explains.
func (l parabola) follow(v, dp, rate, area float64, stiff bool) float64 {
	driven := l.speedAt(dp)
	if !stiff {
		return driven
	}
	needed := v + (dp-l.pressure(v))/l.slope(v)
	most := math.Max(math.Abs(v), math.Abs(driven))
	if area > 0 {
		most = math.Max(most, math.Abs(rate)/area)
	}
	return math.Max(-3*most, math.Min(3*most, needed))
}

// stiffShare is how much of a difference of heads a flow may take back within a stage without being called stiff.
const stiffShare = 0.5

// sideChange is how one side of a port changes by the whole solution.
func (r *Run) sideChange(p *port, of int, hg float64, s *state) (c sideChange) {
	e, b := &r.eq, &r.bodies[p.body]
	whole := 1 / e.share
	arm := r3.Scale(-1, p.centre)
	if of >= 0 {
		sp := &r.spaces[of]
		if sp.bell {
			return r.bellChange(sp, p.centre, hg)
		}
		if sp.byHead {
			c.level = math.Max(-r.size, math.Min(r.size, whole*e.rest[of]))        // as headAfter bounds it
			c.levelBack = hg / r.bodies[sp.body].floater.Surfaces()[sp.local].Area // none: infinite
		} else {
			rise := r.rise(sp)
			c.level, c.levelBack = whole*e.rest[of]*rise, hg*rise
			arm = r3.Add(arm, r.surfaceCentre(sp))
		}
		if sp.holdsAir() {
			c.press = whole * e.rest[sp.gas]
			c.pressBack = hg * (hydro.Atmosphere + s.press[of]) / (sp.capacity - s.water[of])
		}
	}
	if r.set.Motion == Held {
		return c
	}
	t := e.turn[3*p.body : 3*p.body+3]
	c.level += whole * (t[0]*r3.Dot(arm, b.balance.Pitch) + t[1]*r3.Dot(arm, b.balance.Roll))
	if of == compartment.Outside {
		c.level += whole * t[2]
	}
	return c
}

// account makes the waters and the airs of what was there and of what flowed.
func (r *Run) account(hg float64, base []float64, s *state) {
	copy(s.water, base)
	r.addFlows(s.water, s.rate, hg)
	copy(s.excess, r.fromAir)
	r.addAir(s.excess, s.rate, s.gust, hg)
}

// addFlows adds duration × flow to the waters: each flow leaves one space and enters the other.
func (r *Run) addFlows(water, rate []float64, duration float64) {
	for j := range r.ports {
		p := &r.ports[j]
		w := duration * rate[j]
		if p.fromWater >= 0 {
			water[p.fromWater] -= w
		}
		if p.toWater >= 0 {
			water[p.toWater] += w
		}
	}
}

// addAir adds what air and water flowed to the excess of the airs over their room, of which the water takes away.
func (r *Run) addAir(excess, rate, gust []float64, duration float64) {
	if !r.airtight {
		return
	}
	for j := range r.ports {
		p := &r.ports[j]
		water, air := duration*rate[j], duration*gust[j]
		if r.trapped(p.fromWater) {
			excess[p.fromWater] -= water
		}
		if r.trapped(p.toWater) {
			excess[p.toWater] += water
		}
		if i := r.airOf(p.From); r.trapped(i) {
			excess[i] -= air
		}
		if i := r.airOf(p.To); r.trapped(i) {
			excess[i] += air
		}
	}
}
