package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// round is the linear programme about the present masses and poses. Masses count in the planner's scale, lengths in each
// body's own, moments in volume × length. Its first columns are the cells' masses.
type round struct {
	programme
	p     *planner
	moves [][3][2]int // of each body: a turn along pitch, along roll, a rise; each as what it is more and what it is less
	soft  []int       // columns by which wishes are missed
}

// Prices: a length of draft missed must outweigh any mass that would mend it (about ten times its share of the hull), and the
// wish to lie near where the weight is wanted may not outweigh mass.
const (
	missPrice = 300.0
	nearPrice = 1e-4
)

// Strides of one round: as far as a linear programme can be trusted.
const (
	mostTurn = 0.12 // rad
	mostRise = 0.04 // lengths
)

func (p *planner) newRound() *round {
	r := &round{p: p}
	for i := range p.cells {
		upper := p.cells[i].full / p.scale
		if p.kept != nil && !p.kept[i] {
			upper = 0
		}
		r.column(0, 0, upper)
	}
	for _, a := range p.bodies {
		a.weigh(p.cells, p.masses)
	}
	r.price()
	for range p.bodies {
		var move [3][2]int
		for i := range move {
			most := mostTurn
			if i == 2 {
				most = mostRise
			}
			move[i] = [2]int{r.column(0, 0, most), r.column(0, 0, most)}
		}
		r.moves = append(r.moves, move)
	}
	r.bound = append(r.bound, p.bound...)
	for k, a := range p.bodies {
		r.addBalance(k, a)
		r.addDrafts(k, a)
		if !p.lowest {
			r.addUprightness(k, a)
		}
	}
	return r
}

// price sets the cells' costs: mass, then nearness to where the first body wants it, and lowness.
func (r *round) price() {
	p, a := r.p, r.p.bodies[0]
	wanted := a.wants(p.cells, p.masses)
	for i := range p.cells {
		c := &p.cells[i]
		away := math.Abs((c.lo.X+c.hi.X)/2-wanted.X) / a.length
		r.cost[i] = p.thrift * (1 + nearPrice*(away+c.lo.Z/a.length+float64(i)*1e-4))
		if p.lowest {
			r.cost[i] = p.thrift * (1e-3 + c.next(p.masses[i]).Z/a.length)
		}
	}
}

// wants is where all the ballast together would have to have its centre for the body's balance in its pose; the middle of
// the body where none is wanted. It must have been weighed with those masses.
func (a *afloat) wants(cells []cell, masses []float64) r3.Vec {
	mass, moment := a.lacks()
	for _, i := range a.cells {
		mass += masses[i]
		moment = r3.Add(moment, r3.Scale(masses[i], cells[i].centre(masses[i])))
	}
	if !(mass > 1e-6*a.floater.Density*a.body.Form.Volume()) {
		return a.body.KeelMiddle
	}
	return r3.Scale(1/mass, moment)
}

// lacks is the mass, kg, and its moment that are missing from balance in the pose.
func (a *afloat) lacks() (mass float64, moment r3.Vec) {
	b := &a.balance
	return a.floater.Density * (b.Displaced - b.Load), r3.Scale(a.floater.Density, r3.Sub(b.Buoyancy, b.LoadMoment))
}

// addBalance makes the three equations of a body's rest: the gradient of its energy, linear in masses and pose.
func (r *round) addBalance(k int, a *afloat) {
	b := &a.balance
	volume := a.body.Form.Volume()
	scales := [3]float64{1 / (volume * a.length), 1 / (volume * a.length), 1 / volume}
	for i, s := range scales {
		row := r.row(0)
		rhs := -b.Gradient[i] * s
		for _, j := range a.cells {
			next := r.p.cells[j].next(r.p.masses[j])
			slope := [3]float64{r3.Dot(next, b.Pitch), r3.Dot(next, b.Roll), -1}[i] / a.floater.Density * s
			row[j] = slope * r.p.scale
			rhs += slope * r.p.masses[j]
		}
		lengths := [3]float64{1, 1, a.length}
		for n, move := range r.moves[k] {
			row[move[0]] = b.Hessian[i][n] * s * lengths[n]
			row[move[1]] = -row[move[0]]
		}
		r.rhs[len(r.rhs)-1] = rhs
	}
}

// addDrafts makes the equations of drafts and heel: each within a band at no price, beyond it at a high one.
func (r *round) addDrafts(k int, a *afloat) {
	fore, aft := a.body.Drafts(a.pose)
	if a.wish.DraftFore != nil {
		r.addWish(k, a.draftSlopes(a.body.KeelFore), (*a.wish.DraftFore-fore)/a.length, lengthWithin/a.length, 1)
	}
	if a.wish.DraftAft != nil {
		r.addWish(k, a.draftSlopes(a.body.KeelAft), (*a.wish.DraftAft-aft)/a.length, lengthWithin/a.length, 1)
	}
	if a.wish.Heel != nil {
		weight := lengthWithin / angleWithin / a.length
		r.addWish(k, a.heelSlopes(), math.Remainder(*a.wish.Heel-a.pose.Heel(), 2*math.Pi), angleWithin, weight)
	}
}

// draftSlopes are the derivatives of a keel-line point's depth, in lengths.
func (a *afloat) draftSlopes(x r3.Vec) [3]float64 {
	return [3]float64{-r3.Dot(a.balance.Pitch, x) / a.length, -r3.Dot(a.balance.Roll, x) / a.length, 1}
}

// addWish makes slopes·move = by within a band; weight is what a unit missed counts, in lengths.
func (r *round) addWish(k int, slopes [3]float64, by, band, weight float64) {
	band *= r.p.share
	within := r.column(0, 0, 2*band*weight)
	over, under := r.miss(), r.miss()
	row := r.row((by + band) * weight)
	for n, move := range r.moves[k] {
		row[move[0]] = slopes[n] * weight
		row[move[1]] = -row[move[0]]
	}
	row[within], row[over], row[under] = 1, -1, 1
}

// miss is a column by which a wish is missed, in lengths.
func (r *round) miss() int {
	c := r.column(missPrice, 0, math.Inf(1))
	r.soft = append(r.soft, c)
	return c
}

// addUprightness makes the inequality of GM.
func (r *round) addUprightness(k int, a *afloat) {
	b := &a.balance
	value, km := a.uprightness(b)
	if math.IsNaN(value) || b.Load <= 0 {
		return
	}
	slopes := a.uprightSlopes(value)
	s := 1 / (b.Load * a.length)
	spare, short := r.column(0, 0, math.Inf(1)), r.miss()
	row := r.row(0)
	rhs := -value * s
	if a.wish.GM != nil { // a little over it, so that written figures may be rounded
		rhs += 0.1 * lengthWithin / a.length
	}
	for _, j := range a.cells {
		slope := (km - a.leastGM() - r3.Dot(b.Pose.Up, r.p.cells[j].next(r.p.masses[j]))) / a.floater.Density * s
		row[j] = slope * r.p.scale
		rhs += slope * r.p.masses[j]
	}
	lengths := [3]float64{1, 1, a.length}
	for n, move := range r.moves[k] {
		row[move[0]] = slopes[n] * s * lengths[n]
		row[move[1]] = -row[move[0]]
	}
	row[spare], row[short] = -1, 1
	r.rhs[len(r.rhs)-1] = rhs
}
