package plan

import (
	"context"
	"errors"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

const mostFitSteps = 60

var errNoFit = errors.New("no mass and centre of gravity fit these readings: the hull would not float, or not so; look for a slip in signs, units or names")

// begin are the unknowns at the start of a search.
func (t *trial) begin(main [mainUnknowns]float64) []float64 {
	return append(append([]float64{}, main[:]...), t.shiftAt...)
}

// farOff is the misfit past which a search is taken to have gone astray: a list that is top-heavy can begin with the hull
// lolled over, and there the readings pull the wrong way.
const farOff = 10

// fitFromAfar fits from the list, and where that leads nowhere from a firm hull: G a quarter of the depth up in the middle, with
// the listed mass, then with half of what floats.
func (t *trial) fitFromAfar(ctx context.Context) error {
	err := t.fit(ctx)
	if err == nil && t.chi2 <= farOff*farOff*float64(t.observed) || ctx.Err() != nil {
		return err
	}
	best, least := t.now, math.Inf(1)
	if err == nil {
		least = t.chi2
	}
	lo, hi := t.f.Body.Form.Bounds()
	for _, mass := range [2]float64{t.listed[byMass], t.size[byMass] / 2} {
		t.firm()
		t.now = t.begin([mainUnknowns]float64{mass, t.listed[byX], 0, lo.Z + (hi.Z-lo.Z)/4})
		if again := t.fit(ctx); again == nil && t.chi2 < least {
			best, least, err = t.now, t.chi2, nil
		}
	}
	if err != nil {
		return err
	}
	t.firm()
	t.now = best
	return t.fit(ctx)
}

// firm lets every state be sought from an even keel.
func (t *trial) firm() {
	up := r3.Vec{Z: 1}
	sea, _, _ := t.f.Body.Form.Offset(up, t.size[byMass]/2/t.f.Density, math.NaN())
	for i := range t.states {
		t.states[i].pose = compartment.Pose{Up: up, Sea: sea}
	}
}

// fit goes to the least sum of squares by Gauss and Newton's step, halved while it does not go down.
func (t *trial) fit(ctx context.Context) error {
	residual, jacobian, ok := t.residuals(t.now)
	if !ok {
		return errNoFit
	}
	cost := squares(residual)
	for range mostFitSteps {
		if err := ctx.Err(); err != nil {
			return err
		}
		step, err := solveQR(jacobian, residual)
		if err != nil {
			return errNoFit
		}
		size, moved := t.stepSize(step), false
		for part := 1.0; part > 1e-6; part /= 2 {
			next := slices.Clone(t.now)
			for i := range next {
				next[i] += part * step[i]
			}
			r, j, ok := t.residuals(next)
			// what rounding does to a sum of squares must not stop the last step
			if ok && squares(r) <= cost*(1+1e-12)+1e-18 {
				t.now, residual, jacobian, cost, moved = next, r, j, squares(r), true
				break
			}
		}
		if !moved && size > 1e-6 {
			return errNoFit
		}
		if !moved || size < 1e-11 {
			break
		}
	}
	t.chi2 = squares(residual[:t.observed])
	return t.setCovariance(jacobian)
}

// stepSize is the largest part of a step, in the unknowns' sizes.
func (t *trial) stepSize(step []float64) (size float64) {
	for i, s := range t.size {
		size = math.Max(size, math.Abs(step[i]/s))
	}
	return size
}

func squares(x []float64) (sum float64) {
	for _, v := range x {
		sum += v * v
	}
	return sum
}

// residuals are what the readings, the uncertain shifts and the list are off at some values of the unknowns, each over its
// standard deviation, and the derivatives of what was predicted. ok is false where the hull finds no rest.
func (t *trial) residuals(at []float64) (residual []float64, jacobian *mat.Dense, ok bool) {
	n := len(at)
	rows := t.observed + len(t.shiftAt) + t.priors()
	residual, jacobian = make([]float64, rows), mat.NewDense(max(rows, n), n, nil)
	k := 0
	for i := range t.states {
		s := &t.states[i]
		if !t.settle(s, at) {
			return nil, nil, false
		}
		var b compartment.Balance
		t.f.Balance(s.pose, t.water, &b)
		moves, fine := t.moves(s, at, &b)
		if !fine {
			return nil, nil, false
		}
		for _, o := range s.read {
			value, slope := o.predict(s.pose, &b)
			residual[k] = (o.value - value) / o.sigma
			for c := range n {
				jacobian.Set(k, c, (slope[0]*moves[c][0]+slope[1]*moves[c][1]+slope[2]*moves[c][2])/o.sigma)
			}
			k++
		}
	}
	for i, d := range t.shiftAt {
		residual[k] = (d - at[mainUnknowns+i]) / t.shiftOff[i]
		jacobian.Set(k, mainUnknowns+i, 1/t.shiftOff[i])
		k++
	}
	for i, held := range t.prior {
		if held {
			residual[k] = (t.listed[i] - at[i]) / (t.size[i] / 2)
			jacobian.Set(k, i, 1/(t.size[i]/2))
			k++
		}
	}
	return residual, jacobian, true
}

func (t *trial) priors() (n int) {
	for _, held := range t.prior {
		if held {
			n++
		}
	}
	return n
}

// settle finds the rest of a state.
func (t *trial) settle(s *trialState, at []float64) bool {
	if !(at[byMass] > 0) {
		return false
	}
	side := s.exact
	for k, mass := range s.loose {
		side += mass * at[mainUnknowns+k]
	}
	t.f.Reload(at[byMass], r3.Vec{X: at[byX], Y: at[byY] + side/at[byMass], Z: at[byZ]})
	rest := t.f.Settle(s.pose, t.water, compartment.SearchStride, nil)
	if rest.Stable {
		s.pose = rest.Pose
	}
	return rest.Stable
}

// moves are how the rest moves with every unknown: turns along pitch and roll, and the sea's rise. At a rest the gradient
// g of the energy is nothing and stays so, hence H·move = −∂g/∂unknown.
func (t *trial) moves(s *trialState, at []float64, b *compartment.Balance) ([][3]float64, bool) {
	moves := make([][3]float64, len(at))
	var lu mat.LU
	h := &b.Hessian
	lu.Factorize(mat.NewDense(3, 3, []float64{h[0][0], h[0][1], h[0][2], h[1][0], h[1][1], h[1][2], h[2][0], h[2][1], h[2][2]}))
	for c := range at {
		moment, load := r3.Vec{}, 0.0 // ∂ of the load's moment and of the load, as volumes of water
		switch c {
		case byMass:
			moment, load = r3.Vec{X: at[byX], Y: at[byY], Z: at[byZ]}, 1
		case byX:
			moment.X = at[byMass]
		case byY:
			moment.Y = at[byMass]
		case byZ:
			moment.Z = at[byMass]
		default:
			moment.Y = s.loose[c-mainUnknowns]
		}
		g := mat.NewVecDense(3, []float64{-r3.Dot(moment, b.Pitch), -r3.Dot(moment, b.Roll), load})
		g.ScaleVec(1/t.f.Density, g)
		var move mat.VecDense
		if err := lu.SolveVecTo(&move, false, g); err != nil {
			return nil, false
		}
		moves[c] = [3]float64{move.AtVec(0), move.AtVec(1), move.AtVec(2)}
	}
	return moves, true
}

// predict is what should have been read at a rest, and its slopes by a turn along pitch, one along roll, and a rise of the sea.
func (o *observation) predict(p compartment.Pose, b *compartment.Balance) (value float64, slope [3]float64) {
	up, turns := p.Up, [2]r3.Vec{b.Pitch, b.Roll}
	switch o.kind {
	case ReadMark:
		slope[2] = 1
		for i, d := range turns {
			slope[i] = -r3.Dot(d, o.at)
		}
		return -p.Height(o.at), slope
	case ReadTrim:
		for i, d := range turns {
			slope[i] = -d.X / math.Sqrt(math.Max(1e-12, 1-up.X*up.X))
		}
		return p.Trim(), slope
	}
	for i, d := range turns {
		slope[i] = (up.Z*d.Y - up.Y*d.Z) / math.Max(1e-12, up.Y*up.Y+up.Z*up.Z)
	}
	return p.Heel(), slope
}

// solveQR is the least-squares step. Columns of very different units are brought to one length first.
func solveQR(j *mat.Dense, residual []float64) ([]float64, error) {
	scaled, length := unitColumns(j)
	rows, n := scaled.Dims()
	right := mat.NewVecDense(rows, nil)
	for i, r := range residual {
		right.SetVec(i, r)
	}
	var qr mat.QR
	qr.Factorize(scaled)
	var x mat.VecDense
	var near mat.Condition
	if err := qr.SolveVecTo(&x, false, right); err != nil && !errors.As(err, &near) {
		return nil, err
	} else if err != nil && math.IsInf(float64(near), 1) {
		return nil, err
	}
	step := make([]float64, n)
	for i := range step {
		step[i] = x.AtVec(i) / length[i]
		if math.IsNaN(step[i]) {
			return nil, errNoFit
		}
	}
	return step, nil
}

// unitColumns is a matrix with columns of length one, and what they were divided by. A column of zeros stays.
func unitColumns(j *mat.Dense) (*mat.Dense, []float64) {
	rows, n := j.Dims()
	scaled, length := mat.DenseCopyOf(j), make([]float64, n)
	for c := range n {
		length[c] = mat.Norm(j.ColView(c), 2)
		if length[c] == 0 {
			length[c] = 1
		}
		for r := range rows {
			scaled.Set(r, c, j.At(r, c)/length[c])
		}
	}
	return scaled, length
}

// setCovariance is (JᵀJ)⁻¹ = R⁻¹R⁻ᵀ.
func (t *trial) setCovariance(j *mat.Dense) error {
	scaled, length := unitColumns(j)
	_, n := scaled.Dims()
	var qr mat.QR
	qr.Factorize(scaled)
	var full mat.Dense
	qr.RTo(&full)
	var inverse mat.Dense
	var near mat.Condition
	if err := inverse.Inverse(full.Slice(0, n, 0, n)); err != nil && !(errors.As(err, &near) && !math.IsInf(float64(near), 1)) {
		return errNoFit
	}
	var product mat.Dense
	product.Mul(&inverse, inverse.T())
	t.covariance = make([][]float64, n)
	for r := range t.covariance {
		t.covariance[r] = make([]float64, n)
		for c := range n {
			t.covariance[r][c] = product.At(r, c) / (length[r] * length[c])
		}
	}
	return nil
}

// shownBy is how small a standard deviation must have become, as a share of what it was without readings, for a quantity to
// count as shown: a fifth. A centre of gravity known to a tenth of the hull's depth is no measurement.
const shownBy = 0.2

// drop lets go of the listed values of what the readings show, so that the list has no say in the result.
func (t *trial) drop() {
	for i := range t.prior {
		t.prior[i] = !(math.Sqrt(t.covariance[i][i]) < shownBy*t.size[i]/2)
	}
}
