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
	soft  []soft
	lost  bool // a body lies so that its stability means nothing

	paid    float64 // what the present masses cost
	tangent float64 // what the programme's cost lacks of that
}

// soft is an equation of the programme that may fail at a price.
type soft struct {
	row            int
	price          float64
	least, largest float64 // of what it may be off by at no price
}

// Prices: a length of draft missed must outweigh any mass that would mend it (some ten to thirty times its share of the hull),
// and the wish to lie near where the weight is wanted may not outweigh mass. Of a hull that cannot have both, drafts go before
// GM: its waterline shows. Where the ballast is to lie low, mass counts little.
const (
	missPrice = 100.0
	gmPrice   = 40.0
	restPrice = 1000.0 // of an imbalance
	nearPrice = 1e-4
	lowMass   = 1e-3
	lowThrift = 30.0 // moments are small
)

// The longest stride of one round, a stride of 1; masses may then change by all that a cell holds.
const (
	mostTurn = 0.12 // rad
	mostRise = 0.04 // lengths
)

func (p *planner) newRound() *round {
	r := &round{p: p}
	for range p.cells {
		r.column(0, 0, 0)
	}
	for _, a := range p.bodies {
		a.weigh(p.cells, p.masses)
	}
	r.price()
	for range p.bodies {
		var move [3][2]int
		for i := range move {
			move[i] = [2]int{r.column(0, 0, 0), r.column(0, 0, 0)}
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
	r.limit(1)
	return r
}

// limit sets how far the programme may stride.
func (r *round) limit(stride float64) {
	p := r.p
	for i := range p.cells {
		full := p.cells[i].full / p.scale
		mass := p.masses[i] / p.scale
		r.lower[i], r.upper[i] = max(0, mass-stride*full), min(full, mass+stride*full)
		if p.kept != nil && !p.kept[i] {
			r.lower[i], r.upper[i] = 0, 0
		}
	}
	for _, move := range r.moves {
		for i, c := range move {
			most := stride * [3]float64{mostTurn, mostTurn, mostRise}[i]
			r.upper[c[0]], r.upper[c[1]] = most, most
		}
	}
}

// merit is the cost of the present masses and poses themselves, and the sum of what they miss, in lengths. Where nothing
// moves the programme is no approximation, so that this is the truth that its answers are held against.
func (r *round) merit() (cost, missing float64) {
	if r.lost {
		return math.Inf(1), math.Inf(1)
	}
	cost = r.paid
	for _, s := range r.soft {
		off := r.rhs[s.row]
		for i, mass := range r.p.masses {
			off -= r.rows[s.row][i] * mass / r.p.scale
		}
		by := max(0, off-s.largest, s.least-off)
		cost += s.price * by
		missing += by
	}
	return cost, missing
}

// price sets the cells' costs: mass, then nearness to where the first body wants it, and lowness.
func (r *round) price() {
	p, a := r.p, r.p.bodies[0]
	for i := range p.cells {
		c, mass := &p.cells[i], p.masses[i]/p.scale
		away := math.Abs((c.lo.X+c.hi.X)/2-p.near) / a.length
		r.cost[i] = p.thrift * (1 + nearPrice*(away+c.lo.Z/a.length+float64(i)*1e-4))
		paid := r.cost[i]
		if p.lowest {
			r.cost[i] = p.thrift * (lowMass + c.next(p.masses[i]).Z/a.length)
			paid = p.thrift * (lowMass + c.centre(p.masses[i]).Z/a.length)
		}
		r.paid += paid * mass
		r.tangent += (paid - r.cost[i]) * mass
	}
}

// wants is where all the ballast together would have to have its centre for the body's balance in its pose; the middle of
// the body where none is wanted.
func (a *afloat) wants() r3.Vec {
	a.weigh(nil, nil)
	mass, moment := a.lacks()
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
		over, under := r.miss(), r.miss()
		row := r.row(0)
		r.soften(over, under, restPrice, 0, 0)
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
	row[within] = 1
	r.soften(over, under, missPrice, 0, 2*band*weight)
}

// miss is a column by which an equation fails; soften gives it its price.
func (r *round) miss() int { return r.column(0, 0, math.Inf(1)) }

// soften lets the last row fail by its columns of more and less; between least and largest others see to it.
func (r *round) soften(over, under int, price, least, largest float64) {
	last := len(r.rows) - 1
	r.rows[last][over], r.rows[last][under] = -1, 1
	r.cost[over], r.cost[under] = price, price
	r.soft = append(r.soft, soft{last, price, least, largest})
}

// addUprightness makes the inequality of GM.
func (r *round) addUprightness(k int, a *afloat) {
	b := &a.balance
	value, km := a.uprightness(b)
	if math.IsNaN(value) || b.Load <= 0 {
		r.lost = true
		return
	}
	slopes := a.uprightSlopes(value)
	s := 1 / (max(a.mass/a.floater.Density, 0.05*a.body.Form.Volume()) * a.length) // the same in every round, near b.Load
	spare, over, short := r.column(0, 0, math.Inf(1)), r.miss(), r.miss()
	row := r.row(0)
	rhs := -value * s
	if a.wish.GM != nil { // a little over it, so that written figures may be rounded
		rhs += 0.1 * lengthWithin * b.Load * s
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
	row[spare] = -1
	r.soften(over, short, gmPrice, math.Inf(-1), 0)
	r.rhs[len(r.rhs)-1] = rhs
}
