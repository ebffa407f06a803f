package flood

import (
	"context"
	"fmt"
	"iter"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// Run is a vessel's flooding under way. It belongs to one goroutine.
type Run struct {
	vessel *compartment.Vessel
	set    Settings
	weight float64 // ρg, N/m³
	size   float64 // length of the hull, m

	factors compartment.MotionFactors // in free motion

	layout
	eq equations

	now, next      state // at the step's start and at its end
	past, older    state // half the last step before its end, and at its start
	hasPast        bool
	held           bool    // water was held back in the step: see holdBack
	pastLength     float64 // s between past and now
	trial          [stages]state
	between        state // scratch of interpolation
	from, fromAir  []float64
	rates, gusts   [stages][]float64
	crossed, blown []float64 // m³ of water, and of air at one atmosphere, through each port in the step
	peak           []float64 // of each space: see keepPeaks
	bent           float64   // how far Newton's iteration is from straight: next change / change²

	letsDown    int       // how often a body had to be let down in this attempt
	levels      []float64 // of the waters, while a sample is taken
	extrapolate [stages][stages]float64
	length      float64 // of the next step, s
	wary        int     // how many steps are to come that grow little: see propose
	limit       Limit   // what set it
	watch       []watch
	switches
	story
	book     ledger    // of water
	airBook  ledger    // of air at one atmosphere
	airtight bool      // a space is
	streams  []stream  // of all ports, while a bubble is tried
	draining bool      // the last iteration took a water down by less than the tangent said: see drained
	leaving  []float64 // m³/s from each space to what is not its body: see countLeaving
	added    []float64 // m³ of air at one atmosphere, that bubbles took at the end of the attempted step: see moveAirs
	startled int       // how many instants are to come: see startle
	creepWatch
	allowed float64 // how large a change may be left in a stage
	largest float64 // capacity of the largest space, m³

	joints      []joint
	relaid      bool   // bodies, spaces and ports are others than before
	parted      []bool // by joint
	separations []Separation
	earlier     []EarlierBody
	startPose   compartment.Pose // of the whole
	bearings    []bearing        // by body; none where there are no joints
	moments     moments
	vents       []vent
	curve       *BendingCurve // once it has been asked for after the end

	flowEvaluations int
	stats           Stats
}

// Start puts a vessel afloat with the water that is aboard at the start, and finds what flows. It fails where
// the settings are out of range.
func Start(v *compartment.Vessel, settings Settings) (*Run, error) {
	set := settings.withDefaults()
	if err := set.check(); err != nil {
		return nil, err
	}
	if err := set.checkLaws(v); err != nil {
		return nil, err
	}
	r := &Run{vessel: v, set: set, weight: v.Water.Density * hydro.Gravity, bent: firstBent, extrapolate: extrapolation()}
	r.factors = set.factors()
	r.addBody(v.Whole)
	r.size = r.bodies[0].floater.Length()
	r.addPorts()
	for i := range r.spaces {
		r.largest = max(r.largest, r.spaces[i].capacity)
	}
	r.makeRoom()
	r.begin()
	return r, nil
}

// firstBent is the curvature that Newton's iteration is taken to have until it has shown its own.
const firstBent = 100

// check refuses settings that are out of range.
func (s Settings) check() error {
	switch {
	case !(s.Until > 0) || math.IsInf(s.Until, 0):
		return fmt.Errorf("flood: Until is %g s; it must be positive", s.Until)
	case !(s.Every > 0):
		return fmt.Errorf("flood: Every is %g s; it must be positive", s.Every)
	case !(s.Tolerance >= 1e-12 && s.Tolerance <= 0.1):
		return fmt.Errorf("flood: Tolerance is %g; it must lie between 1e-12 and 0.1", s.Tolerance)
	case s.Motion != Settled && s.Motion != Free && s.Motion != Held:
		return fmt.Errorf("flood: no motion %q; there are settled, free and held", s.Motion)
	case s.Menisci != Wet && s.Menisci != Dry:
		return fmt.Errorf("flood: no menisci %q; there are wet and dry", s.Menisci)
	}
	for _, f := range []struct {
		name  string
		value *float64
	}{{"AddedMass", s.AddedMass}, {"LinearDamping", s.LinearDamping}, {"QuadraticDamping", s.QuadraticDamping}} {
		if f.value != nil && !(*f.value >= 0 && *f.value <= MostFactor) {
			return fmt.Errorf("flood: %s is %g; it must lie between 0 and %g", f.name, *f.value, MostFactor)
		}
	}
	return nil
}

// addBody makes a body of the run, with all weights aboard.
func (r *Run) addBody(b *compartment.Body) {
	k := len(r.bodies)
	f := compartment.NewFloater(b, r.vessel.Water.Density, true)
	r.bodies = append(r.bodies, body{Body: b, floater: f, water: make([]float64, len(b.Spaces)), mover: r.newMover(b)})
	for i, s := range b.Spaces {
		r.bodies[k].spaces = append(r.bodies[k].spaces, len(r.spaces))
		r.spaces = append(r.spaces, newSpace(s, k, i))
		r.airtight = r.airtight || s.Airtight
	}
}

// addPorts makes a port of every passage.
func (r *Run) addPorts() {
	for index, p := range r.vessel.Passages {
		r.addPort(r.newPort(p, index, 0))
	}
}

// newPort makes a port of a passage, which is that of a number in the vessel's list.
func (r *Run) newPort(p *compartment.Passage, index, body int) port {
	q := port{Passage: p, passage: index, body: body, centre: p.Figure.Centre(), wants: p.Joint < 0, seen: r3.Vec{X: math.NaN()}}
	q.least, q.upper, q.sides = math.Inf(1), noSide, [2]int{p.From, p.To}
	for _, i := range [2]int{p.From, p.To} {
		if i >= 0 {
			q.least = min(q.least, r.spaces[i].capacity)
			q.breathes = q.breathes || r.spaces[i].Airtight
		}
	}
	q.vesselsLaw(r.vessel.Air.Density)
	if law := r.lawOf(index); law != nil {
		q.ownLaw(law)
	} else if q.breathes {
		q.upper = r.upperSide(p)
	}
	return q
}

// lawOf is the caller's law of a passage of the vessel; nil: it has none.
func (r *Run) lawOf(index int) Law {
	if index < 0 {
		return nil
	}
	return r.set.Laws[r.vessel.Passages[index].Name]
}

// makeRoom allocates all that a step needs.
func (r *Run) makeRoom() {
	n, p, k := len(r.spaces), len(r.ports), len(r.bodies)
	gas := n
	for i := range r.spaces {
		if sp := &r.spaces[i]; sp.Airtight {
			r.spaces[i].gas = gas
			gas++
		}
	}
	for _, s := range []*state{&r.now, &r.next, &r.past, &r.older, &r.between} {
		*s = newState(n, p, k)
	}
	for i := range r.trial {
		r.trial[i] = newState(n, p, k)
		r.rates[i], r.gusts[i] = make([]float64, p), make([]float64, p)
	}
	r.fromAir, r.blown = make([]float64, n), make([]float64, p)
	r.filled, r.airLost = make([]bool, n), make([]bool, n)
	r.gain, r.gainBefore = make([]float64, k), make([]float64, k)
	r.from, r.crossed, r.levels, r.peak = make([]float64, n), make([]float64, p), make([]float64, n), make([]float64, n)
	r.mover, r.blame = -1, make([]int, n+p)
	r.streams, r.added, r.leaving = make([]stream, 2*p), make([]float64, n), make([]float64, n)
	r.eq = newEquations(r)
}

// begin finds the state at the start: the rest, then the flows.
func (r *Run) begin() {
	for k := range r.bodies {
		b := &r.bodies[k]
		rest, water := b.floater.Start()
		for i, g := range b.spaces {
			r.now.water[g] = water[i]
		}
		r.now.pose[k] = r.overFloor(k, rest.Pose)
		if r.set.Motion == Held && r.set.Keel != nil {
			r.now.pose[k] = compartment.Upright(-*r.set.Keel)
		} else if !rest.Stable {
			r.now.pose[k] = sunk(b.floater)
			r.failedStart = true
		}
	}
	r.startStory()
	for i := range r.spaces {
		sp := &r.spaces[i]
		sp.brimmed = r.now.water[i] >= brim*sp.capacity
		sp.airless = sp.brimmed && sp.gas >= 0
		r.filled[i], r.airLost[i] = sp.brimmed, sp.airless
		r.now.head[i] = r.now.pose[sp.body].Sea
		if sp.airless { // under the atmosphere at its top, as it was filled; the flows find what it comes to
			_, r.now.head[i] = sp.Room.Reach(r.now.pose[sp.body].Up)
		}
	}
	r.book.open(r.now.water)
	r.airBook.open(r.airs(&r.now))
	r.startJoints()
	r.startSwitches()
	r.startWatches()
	r.restart()
	for k := range r.bodies {
		r.startPose = r.now.pose[k]
		r.lookUpsideDown(k)
	}
	r.survey(&r.now)
	r.startSamples()
	r.atOnce()
}

// lookUpsideDown notes a hull whose rest is keel up.
func (r *Run) lookUpsideDown(k int) {
	if p := r.now.pose[k]; p.Up.Z < 0 && !p.Steep() && !r.failedStart {
		r.upSide[k] = -1
		r.warnings = append(r.warnings, Warning{Kind: KeelUp, Name: r.bodies[k].Name})
		r.capsize(k, 0)
	}
}

// atOnce lets happen what is so from the start; what has been so all along, such as water over an edge, is told at 0.
func (r *Run) atOnce() {
	if r.failedStart {
		return
	}
	r.affect()
}

// sunk is a pose with the whole body under water.
func sunk(f *compartment.Floater) compartment.Pose {
	_, high := f.Body.Form.Reach(r3.Vec{Z: 1})
	return compartment.Upright(high + 1e-6*f.Length())
}

// Steps advances the run and yields every step as it is done, until the run has ended or ctx is done, which it yields as an
// error. The Step's slices are reused by the next one.
func (r *Run) Steps(ctx context.Context) iter.Seq2[Step, error] {
	return func(yield func(Step, error) bool) {
		for r.ended == Running {
			if err := ctx.Err(); err != nil {
				yield(Step{}, err)
				return
			}
			if !yield(r.Step(), nil) {
				return
			}
		}
	}
}

// Finish runs to the end and returns the result. Where ctx is done before, it returns what there is, and ctx's error.
func (r *Run) Finish(ctx context.Context) (*Result, error) {
	for _, err := range r.Steps(ctx) {
		if err != nil {
			return r.Result(), err
		}
	}
	return r.Result(), nil
}
