package plan

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// afloat is a body that a wish is for, as the rounds go on.
type afloat struct {
	wish    Wish
	name    string // as the float test has it
	body    *compartment.Body
	later   bool
	floater *compartment.Floater
	water   []float64
	mass    float64 // kg, without ballast
	centre  r3.Vec
	cells   []int // indices of the cells that lie in it
	pose    compartment.Pose
	balance compartment.Balance
	length  float64
}

// newAfloat takes a wish up on a vessel.
func newAfloat(v *compartment.Vessel, w Wish) *afloat {
	a := &afloat{wish: w, name: w.Of}
	a.body, a.later = bodyOf(v, w.Of)
	if a.later && a.body == v.Whole {
		a.name = "hull"
		if v.Whole.LaterMass > 0 {
			a.name = "hull+later"
		}
	}
	if a.wish.Heel == nil {
		a.wish.Heel = new(float64)
	}
	a.board(v)
	a.mass, a.centre = a.floater.Mass, a.floater.Centre
	a.length = a.floater.Length()
	return a
}

// board takes the spaces of a vessel, which may have the plan's ballast in it; masses stay those without.
func (a *afloat) board(v *compartment.Vessel) {
	a.body, _ = bodyOf(v, a.wish.Of)
	a.floater = compartment.NewFloater(a.body, v.Water.Density, a.later)
	a.water = a.floater.StartWater()
}

// takeCells finds which cells lie in the body.
func (a *afloat) takeCells(v *compartment.Vessel, cells []cell) {
	from, to := math.Inf(-1), math.Inf(1)
	if a.body.First > 0 {
		from = v.Spec.Joints[a.body.First-1].At
	}
	if a.body.Last < len(v.Spec.Joints) {
		to = v.Spec.Joints[a.body.Last].At
	}
	for i := range cells {
		if x := (cells[i].lo.X + cells[i].hi.X) / 2; x > from && x < to {
			a.cells = append(a.cells, i)
		}
	}
}

// begin puts the body where the wish has it; where that says nothing of the depth, where it displaces a share of its form.
func (a *afloat) begin(share float64) {
	fore, aft := a.body.KeelFore, a.body.KeelAft
	sinTrim, heel := 0.0, 0.0
	df, da := a.wish.DraftFore, a.wish.DraftAft
	if df != nil && da != nil {
		sinTrim = max(-0.8, min(0.8, (*df-*da)/(fore.X-aft.X)))
	}
	if a.wish.Heel != nil {
		heel = *a.wish.Heel
	}
	up := compartment.Inclined(heel, math.Asin(sinTrim))
	a.pose = compartment.Pose{Up: up}
	switch {
	case df != nil:
		a.pose.Sea = *df + r3.Dot(up, fore)
	case da != nil:
		a.pose.Sea = *da + r3.Dot(up, aft)
	default:
		a.pose.Sea, _, _ = a.body.Form.Offset(up, share*a.body.Form.Volume(), math.NaN())
	}
}

// weigh balances the body in its pose with ballast in the cells; without masses, with none.
func (a *afloat) weigh(cells []cell, masses []float64) {
	mass, moment := a.mass, r3.Scale(a.mass, a.centre)
	for _, i := range a.cells {
		if masses == nil {
			break
		}
		mass += masses[i]
		moment = r3.Add(moment, r3.Scale(masses[i], cells[i].centre(masses[i])))
	}
	centre := a.centre
	if mass > 0 {
		centre = r3.Scale(1/mass, moment)
	}
	a.floater.Reload(mass, centre)
	a.floater.Balance(a.pose, a.water, &a.balance)
}

// uprightness is Load × (KM − wanted) − up·LoadMoment at a pose: displacement times the excess of GM, in m⁴. At one pose it
// is linear in the ballast; by the metacentre's height KM over the origin (second moment over volume over the height of B).
func (a *afloat) uprightness(b *compartment.Balance) (value, km float64) {
	gm, _ := a.floater.Metacentric(b)
	kg := r3.Dot(b.Pose.Up, b.LoadMoment) / b.Load
	km = gm + kg
	return b.Load * (km - a.leastGM() - kg), km
}

// leastGM is what the body must have for the wish, or to stand of itself.
func (a *afloat) leastGM() float64 {
	if a.wish.GM != nil {
		return max(*a.wish.GM, leastGM)
	}
	return leastGM
}

// uprightSlopes are the derivatives of uprightness with respect to a turn along pitch, one along roll and a rise of the sea,
// by one-sided differences: they serve to find the next pose only, and where nothing moves any more they do not matter.
func (a *afloat) uprightSlopes(value float64) (slopes [3]float64) {
	steps := [3]float64{1e-5, 1e-5, 1e-5 * a.length}
	var b compartment.Balance
	for i, h := range steps {
		var move [3]float64
		move[i] = h
		pose := a.pose.Turned(a.balance.Pitch, a.balance.Roll, move[0], move[1], move[2])
		a.floater.Balance(pose, a.water, &b)
		moved, _ := a.uprightness(&b)
		slopes[i] = (moved - value) / h
	}
	a.floater.Levels(a.pose.Up, a.water)
	return slopes
}

// heelSlopes are the derivatives of heel with respect to turns along pitch and roll.
func (a *afloat) heelSlopes() (slopes [3]float64) {
	up := a.pose.Up
	across := up.Y*up.Y + up.Z*up.Z
	for i, t := range []r3.Vec{a.balance.Pitch, a.balance.Roll} {
		slopes[i] = (up.Z*t.Y - up.Y*t.Z) / across
	}
	return slopes
}
