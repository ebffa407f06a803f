package plan

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

const normal95 = 1.959963984540054 // the two-sided 95 % of the normal distribution

// report turns the unknowns into what is aboard with the floodwater, and looks for who is to blame.
func (t *trial) report(v *compartment.Vessel) (*Measured, error) {
	home := trialState{pose: t.start} // every weight in its place
	if !t.settle(&home, t.now) {
		return nil, errNoFit
	}
	m := &Measured{Spare: t.observed + t.priors() - mainUnknowns}
	t.widen(m)
	water, at := t.floodwater(home.pose)
	spread := t.outputs(water, at)
	mass, centre := withWater(t.now[byMass], r3.Vec{X: t.now[byX], Y: t.now[byY], Z: t.now[byZ]}, water, at)
	values := [mainUnknowns]float64{mass, centre.X, centre.Y, centre.Z}
	for i, e := range [mainUnknowns]*Estimate{&m.Mass, &m.LCG, &m.TCG, &m.VCG} {
		*e = Estimate{math.NaN(), math.NaN(), math.NaN()}
		if !t.prior[i] {
			half := normal95 * math.Sqrt(spread.At(i, i))
			*e = Estimate{values[i], values[i] - half, values[i] + half}
		}
	}
	m.ListedMass, m.ListedCentre = withWater(v.Whole.Mass, v.Whole.Centre, water, at)
	m.accuse(t, v)
	return m, nil
}

// widen takes the misfit into the covariance where the readings are further off than they claim.
func (t *trial) widen(m *Measured) {
	m.Misfit = math.Sqrt(t.chi2 / float64(t.observed))
	if m.Spare <= 0 {
		return
	}
	factor := math.Max(1, t.chi2/float64(m.Spare))
	for _, row := range t.covariance {
		for c := range row {
			row[c] *= factor
		}
	}
}

// floodwater is the water aboard, kg, and its centre in a pose.
func (t *trial) floodwater(p compartment.Pose) (mass float64, at r3.Vec) {
	t.f.Levels(p.Up, t.water)
	volume, moment := 0.0, r3.Vec{}
	for _, s := range t.f.Surfaces() {
		volume += s.Volume
		moment = r3.Add(moment, s.Moment)
	}
	if volume > 0 {
		at = r3.Scale(1/volume, moment)
	}
	return volume * t.f.Density, at
}

func withWater(mass float64, centre r3.Vec, water float64, at r3.Vec) (float64, r3.Vec) {
	all := mass + water
	if all <= 0 {
		return all, centre
	}
	return all, r3.Scale(1/all, r3.Add(r3.Scale(mass, centre), r3.Scale(water, at)))
}

// outputs is the covariance of mass and centre with the floodwater.
func (t *trial) outputs(water float64, at r3.Vec) *mat.Dense {
	mass := t.now[byMass]
	all := mass + water
	j := mat.NewDense(mainUnknowns, mainUnknowns, nil)
	j.Set(byMass, byMass, 1)
	for i, w := range [3]float64{at.X, at.Y, at.Z} {
		c := t.now[byX+i]
		j.Set(byX+i, byMass, c/all-(mass*c+water*w)/(all*all))
		j.Set(byX+i, byX+i, mass/all)
	}
	return t.carried(j)
}

// carried is the covariance of linear functions of the four main unknowns, a row of j each.
func (t *trial) carried(j *mat.Dense) *mat.Dense {
	c := mat.NewDense(mainUnknowns, mainUnknowns, nil)
	for r := range mainUnknowns {
		for k := range mainUnknowns {
			c.Set(r, k, t.covariance[r][k])
		}
	}
	var half, whole mat.Dense
	half.Mul(j, c)
	whole.Mul(&half, j.T())
	return &whole
}
