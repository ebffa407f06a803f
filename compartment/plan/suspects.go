package plan

import (
	"cmp"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat/distuv"
)

// Suspect is a listed weight whose change alone would explain what was measured.
type Suspect struct {
	Name   string // "hull.shell" is the bare hull
	Change Change
	Mass   float64 // what it would have to be, kg
	At     r3.Vec  // and where; as listed where that is not what changes, or where the readings do not show it

	evidence float64 // logarithm of the likelihood of what was measured
}

// Change is what of a listed weight would have to be otherwise.
type Change string

// The changes.
const (
	MassChange  Change = "mass"
	PlaceChange Change = "place"
)

// How far off a listed weight usually is: common practice, no source. They rank explanations and exclude none: a third of
// its mass (one piece left out, one too many), a twentieth of the hull's size in place.
const (
	usualMass  = 1. / 3
	usualPlace = 1. / 20
)

// accusation is the difference between what was measured and what is listed: mass and moments about the origin, those of
// them that the readings show, with their covariance.
type accusation struct {
	shown      []int // of mass and the three moments
	off        *mat.VecDense
	covariance *mat.SymDense
	lo, hi     r3.Vec // of the hull
}

// accuse finds out whether the list is off by more than the readings' uncertainty, and which weight could be why.
func (m *Measured) accuse(t *trial, v *compartment.Vessel) {
	if t.prior[byMass] {
		return // without the mass no moment is known
	}
	a := newAccusation(t, v)
	n := len(a.shown)
	var chol mat.Cholesky
	if !chol.Factorize(a.covariance) || mahalanobis(&chol, a.off) <= noiseLimit(offShare, n) {
		return
	}
	m.Off = true
	for _, w := range aboard(v) {
		var best *Suspect
		for _, s := range []*Suspect{a.byMass(w), a.byPlace(w)} {
			if s != nil && (best == nil || s.evidence > best.evidence) {
				best = s
			}
		}
		if best != nil {
			m.Suspects = append(m.Suspects, *best)
		}
	}
	slices.SortStableFunc(m.Suspects, func(a, b Suspect) int { return cmp.Compare(b.evidence, a.evidence) })
}

// How likely noise is to stay under what is taken for more than noise. A list is found off 1 time of 20 though it is right;
// the weight that is to blame is let off 1 time of 1000, since likelihood ranks those who stay.
const (
	offShare     = 0.95
	excusedShare = 0.999
)

// noiseLimit is what a sum of n squared standard normal numbers stays under in a share of all cases.
func noiseLimit(share float64, n int) float64 {
	return distuv.ChiSquared{K: float64(n)}.Quantile(share)
}

func mahalanobis(chol *mat.Cholesky, off *mat.VecDense) float64 {
	var x mat.VecDense
	if chol.SolveVecTo(&x, off) != nil {
		return math.Inf(1)
	}
	return mat.Dot(off, &x)
}

func newAccusation(t *trial, v *compartment.Vessel) *accusation {
	a := &accusation{}
	a.lo, a.hi = v.Whole.Form.Bounds()
	mass := t.now[byMass]
	now := [mainUnknowns]float64{mass, mass * t.now[byX], mass * t.now[byY], mass * t.now[byZ]}
	c := v.Whole.Centre
	listed := [mainUnknowns]float64{v.Whole.Mass, v.Whole.Mass * c.X, v.Whole.Mass * c.Y, v.Whole.Mass * c.Z}
	j := mat.NewDense(mainUnknowns, mainUnknowns, nil)
	j.Set(byMass, byMass, 1)
	for i := byX; i <= byZ; i++ {
		j.Set(i, byMass, t.now[i])
		j.Set(i, i, mass)
	}
	all := t.carried(j)
	for i, held := range t.prior {
		if !held {
			a.shown = append(a.shown, i)
		}
	}
	n := len(a.shown)
	a.off, a.covariance = mat.NewVecDense(n, nil), mat.NewSymDense(n, nil)
	for r, i := range a.shown {
		a.off.SetVec(r, now[i]-listed[i])
		for k := r; k < n; k++ {
			a.covariance.SetSym(r, k, all.At(i, a.shown[k]))
		}
	}
	return a
}

// aboard are the listed weights, and the bare hull under the name of its path.
func aboard(v *compartment.Vessel) (all []Suspect) {
	shell := &v.Spec.Hull.Shell
	switch {
	case shell.Mass != nil && shell.At != nil:
		all = append(all, Suspect{Name: "hull.shell", Mass: *shell.Mass, At: *shell.At})
	case shell.Thickness != nil && shell.Density != nil:
		form := v.Whole.Form
		all = append(all, Suspect{Name: "hull.shell", Mass: *shell.Thickness * *shell.Density * form.Surface(), At: form.SurfaceCentroid()})
	}
	for i := range v.Spec.Weights {
		if w := &v.Spec.Weights[i]; !w.Later {
			all = append(all, Suspect{Name: w.Name, Mass: w.Mass, At: w.At})
		}
	}
	return all
}

// byMass is the weight with another mass in its place; nil where that explains nothing.
func (a *accusation) byMass(w Suspect) *Suspect {
	column := [mainUnknowns]float64{1, w.At.X, w.At.Y, w.At.Z}
	effect := mat.NewDense(len(a.shown), 1, nil)
	for r, i := range a.shown {
		effect.Set(r, 0, column[i])
	}
	change, ok := a.explain(&w, effect, []float64{usualMass * w.Mass})
	if !ok || w.Mass+change[0] < 0 {
		return nil
	}
	w.Change = MassChange
	w.Mass += change[0]
	return &w
}

// byPlace is the weight in another place; nil where that explains nothing, or the place would not be on the ship: within the
// hull's length and breadth and as high again as she is deep.
func (a *accusation) byPlace(w Suspect) *Suspect {
	size := r3.Sub(a.hi, a.lo)
	usual := [mainUnknowns]float64{0, usualPlace * size.X, usualPlace * size.Y, usualPlace * size.Z}
	var axes []int
	var spread []float64
	for _, i := range a.shown {
		if i != byMass {
			axes, spread = append(axes, i), append(spread, usual[i])
		}
	}
	if len(axes) == 0 {
		return nil
	}
	effect := mat.NewDense(len(a.shown), len(axes), nil)
	for c, i := range axes {
		effect.Set(slices.Index(a.shown, i), c, w.Mass)
	}
	change, ok := a.explain(&w, effect, spread)
	if !ok {
		return nil
	}
	at := [mainUnknowns]float64{0, w.At.X, w.At.Y, w.At.Z}
	for c, i := range axes {
		at[i] += change[c]
	}
	w.Change, w.At = PlaceChange, r3.Vec{X: at[byX], Y: at[byY], Z: at[byZ]}
	onBoard := w.At.X >= a.lo.X && w.At.X <= a.hi.X && w.At.Y >= a.lo.Y && w.At.Y <= a.hi.Y && w.At.Z >= a.lo.Z && w.At.Z <= a.hi.Z+size.Z
	if !onBoard {
		return nil
	}
	return &w
}

// explain fits a change whose effects on what is shown are the columns of effect: off = effect·change + noise. ok: what is left
// is no more than noise. The evidence is the likelihood of off where the change is normal with the usual spread.
func (a *accusation) explain(w *Suspect, effect *mat.Dense, usual []float64) (change []float64, ok bool) {
	n, free := effect.Dims()
	var noise, broad mat.Cholesky
	if !noise.Factorize(a.covariance) {
		return nil, false
	}
	var whitened, square mat.Dense // C⁻¹A, AᵀC⁻¹A
	var right, fitted mat.VecDense
	if noise.SolveTo(&whitened, effect) != nil {
		return nil, false
	}
	square.Mul(effect.T(), &whitened)
	right.MulVec(whitened.T(), a.off)
	if fitted.SolveVec(&square, &right) != nil {
		return nil, false
	}
	var left mat.VecDense
	left.MulVec(effect, &fitted)
	left.SubVec(a.off, &left)
	if n > free && mahalanobis(&noise, &left) > noiseLimit(excusedShare, n-free) {
		return nil, false
	}
	sum := mat.NewSymDense(n, nil)
	sum.CopySym(a.covariance)
	for c := range free {
		sum.SymRankOne(sum, usual[c]*usual[c], effect.ColView(c))
	}
	if !broad.Factorize(sum) {
		return nil, false
	}
	w.evidence = -(mahalanobis(&broad, a.off) + broad.LogDet()) / 2
	return fitted.RawVector().Data, true
}
