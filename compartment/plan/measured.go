package plan

import (
	"context"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// ReadingKind is what was read or done in a measured float test.
type ReadingKind string

// The kinds of reading.
const (
	ReadMark  ReadingKind = "mark"  // depth of a mark below the sea, m
	ReadShift ReadingKind = "shift" // a weight now lies so far to port of its listed place, m
	ReadHeel  ReadingKind = "heel"  // rad, positive to starboard
	ReadTrim  ReadingKind = "trim"  // rad, positive by the head
)

// Reading is one line of a measured float test, in the order in which things were done: a shift holds for all that follows
// until the same weight is shifted again.
type Reading struct {
	Kind  ReadingKind
	Name  string  // of the mark or the weight
	Value float64 // SI
	Sigma float64 // standard deviation of Value, SI; 0: DefaultSigma, of a shift: it is exact
}

// Standard deviations where none is given: common practice, no source. A ruler against a wet hull is read to half a
// millimetre, an angle by pendulum or phone to a tenth of a degree.
const (
	DefaultMarkSigma  = 0.5e-3
	DefaultAngleSigma = 0.1 * math.Pi / 180
)

// mostReadings bounds the size of a least-squares problem.
const mostReadings = 2000

// Estimate is a measured quantity with its 95 % interval, SI; all NaN where the readings do not show it.
type Estimate struct{ Value, Low, High float64 }

// Measured is what a float test says of the vessel as it floats at the start, floodwater included, in body axes.
type Measured struct {
	Mass, LCG, TCG, VCG Estimate
	ListedMass          float64 // by the listed weights and the same floodwater
	ListedCentre        r3.Vec
	Suspects            []Suspect // listed weights that would explain the difference, the likeliest first
	Off                 bool      // the difference from the list is larger than the readings' uncertainty
	Misfit              float64   // root mean square of what the readings are off, in their standard deviations
	Spare               int       // readings more than unknowns
}

// Measure finds mass and centre of gravity from a measured float test by weighted least squares on the exact equilibrium:
// Gauss and Newton's iteration, each step by QR, the derivatives those of the rest itself. What the readings do not show is
// held at its listed value with an uncertainty of half the hull's size, which the others' intervals then carry; it is
// reported as NaN. Intervals are 1.96 standard deviations, and wider by the misfit where that is over one.
//
// It fails where a name is not known, nothing was read, or no mass and centre fit at all.
func Measure(ctx context.Context, v *compartment.Vessel, readings []Reading) (*Measured, error) {
	t, err := newTrial(v, readings)
	if err != nil {
		return nil, err
	}
	if err := t.fitFromAfar(ctx); err != nil {
		return nil, err
	}
	t.drop()
	if err := t.fit(ctx); err != nil {
		return nil, err
	}
	return t.report(v)
}

// The unknowns: mass and centre of all that is listed, then every uncertain shift.
const (
	byMass = iota
	byX
	byY
	byZ
	mainUnknowns
)

// trial is a float test as a least-squares problem.
type trial struct {
	f        *compartment.Floater
	water    []float64
	start    compartment.Pose
	states   []trialState
	listed   [mainUnknowns]float64
	size     [mainUnknowns]float64 // of the unknowns: what they are measured in, and twice what they are uncertain by at first
	prior    [mainUnknowns]bool    // held by its listed value
	now      []float64             // the unknowns
	shiftAt  []float64             // measured distance of every uncertain shift
	shiftOff []float64             // and its standard deviation

	covariance [][]float64 // of the unknowns at the end
	chi2       float64     // sum of the squared readings' residuals over their variance
	observed   int
}

// trialState is the hull between two shifts, and what was read in it.
type trialState struct {
	exact float64         // moment of exact shifts, kg·m to port
	loose map[int]float64 // mass of the weight by index of the uncertain shift
	read  []observation
	pose  compartment.Pose
}

// observation is a reading to be met.
type observation struct {
	kind         ReadingKind
	at           r3.Vec // of a mark
	value, sigma float64
}

func newTrial(v *compartment.Vessel, readings []Reading) (*trial, error) {
	f := compartment.NewFloater(v.Whole, v.Water.Density, false)
	t := &trial{f: f}
	rest, water := f.Start()
	t.water, t.start = water, rest.Pose
	lo, hi := v.Whole.Form.Bounds()
	room := v.Whole.Form.Volume() * f.Density
	t.listed = [mainUnknowns]float64{f.Mass, f.Centre.X, f.Centre.Y, f.Centre.Z}
	t.size = [mainUnknowns]float64{room, hi.X - lo.X, hi.Y - lo.Y, hi.Z - lo.Z}
	t.prior = [mainUnknowns]bool{true, true, true, true}
	if !rest.Stable || !(f.Mass > 0) { // the list is far off: begin with half of what floats, and G in the middle
		t.listed = [mainUnknowns]float64{room / 2, (lo.X + hi.X) / 2, 0, (lo.Z + hi.Z) / 2}
		f.Reload(t.listed[byMass], r3.Vec{X: t.listed[byX], Z: t.listed[byZ]})
		sea, _, _ := v.Whole.Form.Offset(r3.Vec{Z: 1}, room/2/f.Density, math.NaN())
		t.start = compartment.Upright(sea)
	}
	if err := t.take(v, readings); err != nil {
		return nil, err
	}
	t.now = t.begin(t.listed)
	return t, nil
}

// take sorts the readings into states.
func (t *trial) take(v *compartment.Vessel, readings []Reading) error {
	if len(readings) > mostReadings {
		return fmt.Errorf("the float test has %d readings; at most %d are taken", len(readings), mostReadings)
	}
	shifts := map[string]Reading{}
	loose := map[string]int{}
	var order []string
	state := trialState{pose: t.start}
	for i := range readings {
		r := readings[i]
		if r.Kind != ReadShift {
			o, err := observe(v, r)
			if err != nil {
				return err
			}
			state.read = append(state.read, o)
			t.observed++
			continue
		}
		if len(state.read) > 0 {
			t.states = append(t.states, state)
		}
		if _, known := shifts[r.Name]; !known {
			order = append(order, r.Name)
		}
		shifts[r.Name] = r
		delete(loose, r.Name)
		if r.Sigma > 0 {
			loose[r.Name] = len(t.shiftAt)
			t.shiftAt, t.shiftOff = append(t.shiftAt, r.Value), append(t.shiftOff, r.Sigma)
		}
		state = trialState{pose: t.start, loose: map[int]float64{}}
		for _, name := range order {
			mass, err := massAboard(v, name)
			if err != nil {
				return err
			}
			if k, uncertain := loose[name]; uncertain {
				state.loose[k] = mass
			} else {
				state.exact += mass * shifts[name].Value
			}
		}
	}
	if len(state.read) > 0 {
		t.states = append(t.states, state)
	}
	if t.observed == 0 {
		return fmt.Errorf("nothing was read: a float test needs the depth of marks, heel or trim")
	}
	return nil
}

// massAboard is the mass of a listed weight that can be shifted.
func massAboard(v *compartment.Vessel, name string) (float64, error) {
	for i := range v.Spec.Weights {
		switch w := &v.Spec.Weights[i]; {
		case w.Name != name:
		case w.Later:
			return 0, fmt.Errorf("the weight %q comes later: it is not aboard in the float test", name)
		default:
			return w.Mass, nil
		}
	}
	return 0, fmt.Errorf("there is no weight %q to shift", name)
}

// observe makes a reading ready.
func observe(v *compartment.Vessel, r Reading) (observation, error) {
	o := observation{kind: r.Kind, value: r.Value, sigma: r.Sigma}
	if !(o.sigma > 0) {
		o.sigma = DefaultAngleSigma
		if r.Kind == ReadMark {
			o.sigma = DefaultMarkSigma
		}
	}
	if r.Kind != ReadMark {
		return o, nil
	}
	for _, m := range v.Marks {
		if m.Name == r.Name {
			o.at = m.At
			return o, nil
		}
	}
	return o, fmt.Errorf("there is no mark %q", r.Name)
}
