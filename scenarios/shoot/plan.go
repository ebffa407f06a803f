package shoot

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// Plan is a day of filming, from one run.
type Plan struct {
	Scenario *scenarios.Scenario
	Vessel   *compartment.Vessel
	Result   *flood.Result
	Moments  []Moment // in order of time, without the start
	Cameras  []Camera // one for each of Bases; nil: the scenario gives no scale
	Camera   Camera   // what Moments' times on screen are for; zero: as it happens
	Site     Site
	Lifts    []Lift
	Readings []float64 // s, when to read marks, depths and trim

	last  map[string]float64 // trim of bodies at their last sample, rad
	watch *watch
	rest  *compartment.Floating // of the hull as a take begins, with the weights that come later; nil: it does not float
}

// Moment is something that happens.
type Moment struct {
	flood.Event
	Key  string  // EVENT:NAME for the log; "": it is not logged, or has been before
	Full float64 // s at full size
	Then float64 // s of the model until the next moment; NaN: it is the last
}

// Options are the choices of a plan.
type Options struct {
	Base     float64 // frames a second that the film is shown at; 0: 24
	Rate     float64 // frames a second of the camera; 0: the nearest common one to what the scale asks for
	Progress func(time float64)
}

// New runs a scenario and plans the day. The error is that of flood.Start, ctx's, or tells where the computation gave up.
func New(ctx context.Context, s *scenarios.Scenario, v *compartment.Vessel, o Options) (*Plan, error) {
	p := &Plan{Scenario: s, Vessel: v, watch: newWatch(v), last: map[string]float64{}}
	var err error
	if p.Result, err = p.run(ctx, v, p.watch, o.Progress); err != nil {
		return nil, err
	}
	deep := p.watch
	if slices.ContainsFunc(p.Result.Events, func(e flood.Event) bool { return e.Kind == flood.TouchedBottom }) {
		if deep, err = p.withoutFloor(ctx, o.Progress); err != nil {
			return nil, err
		}
	}
	p.moments()
	p.cameras(o)
	p.Site = siteOf(v, p.Result, deep, s.Run.Settings().Motion == flood.Settled)
	p.Lifts = lifts(v, p.parted(), p.open)
	p.readings()
	p.rest = atStart(v)
	return p, nil
}

// run steps a vessel to the end under a watch.
func (p *Plan) run(ctx context.Context, v *compartment.Vessel, w *watch, progress func(float64)) (*flood.Result, error) {
	settings := p.Scenario.Run.Settings()
	settings.Samples = func(s *flood.Sample) {
		w.sample(s)
		for i := range s.Bodies {
			if b := &s.Bodies[i]; b.Present {
				p.last[b.Name] = b.Trim
			}
		}
	}
	r, err := flood.Start(v, settings)
	if err != nil {
		return nil, err
	}
	for step, err := range r.Steps(ctx) {
		if err != nil {
			return nil, err
		}
		if progress != nil {
			progress(step.Time)
		}
	}
	result := r.Result()
	if result.GaveUp != nil {
		return nil, fmt.Errorf("there is no plan: %s", p.Scenario.Words().Failure(result.GaveUp))
	}
	return result, nil
}

// withoutFloor is a watch of the same run in water without a floor: how deep it comes is not to be learnt where the floor holds it.
func (p *Plan) withoutFloor(ctx context.Context, progress func(float64)) (*watch, error) {
	spec := p.Vessel.Spec
	spec.Water.Depth = nil
	v, err := compartment.Build(spec)
	if err != nil {
		return nil, err
	}
	w, last := newWatch(v), p.last
	p.last = map[string]float64{} // this run's are not those of the story
	_, err = p.run(ctx, v, w, progress)
	p.last = last
	return w, err
}

// moments lists what happens. The log has each kind of event of each thing once, as study.Fit takes the first, and not that
// something has come to rest: that is when flows are under a threshold, long after anybody sees them.
func (p *Plan) moments() {
	seen := map[string]bool{}
	for i, e := range p.Result.Events {
		m := Moment{Event: e, Full: e.Time * math.Sqrt(p.Scenario.Scale), Then: math.NaN()}
		if i+1 < len(p.Result.Events) {
			m.Then = p.Result.Events[i+1].Time - e.Time
		}
		if key := string(e.Kind) + ":" + e.Name; e.Kind != flood.LostStability && e.Kind != flood.SettledDown && !seen[key] {
			m.Key, seen[key] = key, true
		}
		p.Moments = append(p.Moments, m)
	}
}

// cameras finds what to film with; without a scale there is nothing to slow down for.
func (p *Plan) cameras(o Options) {
	base := o.Base
	if base == 0 {
		base = Bases[0]
	}
	if p.Scenario.Words().Scaled() {
		p.Cameras = Cameras(p.Scenario.Scale)
	}
	exact := ExactRate(math.Max(1, p.Scenario.Scale), base)
	p.Camera = Camera{Base: base, Exact: exact, Rate: o.Rate}
	if o.Rate == 0 {
		p.Camera.Rate = nearestRate(exact)
		if p.Cameras == nil {
			p.Camera.Rate = base
		}
	}
}

// parted tells which joints have parted.
func (p *Plan) parted() []bool {
	parted := make([]bool, len(p.Vessel.Spec.Joints))
	for i, j := range p.Vessel.Spec.Joints {
		parted[i] = slices.ContainsFunc(p.Result.Separations, func(s flood.Separation) bool { return s.Joint == j.Name })
	}
	return parted
}

// open tells whether a passage is open at the end of the run.
func (p *Plan) open(passage *compartment.PartedPassage) bool {
	if passage.Joint >= 0 || passage.Pump != 0 {
		return false
	}
	if passage.Listed == nil {
		return true
	}
	open := len(passage.Listed.Opens) == 0
	for _, e := range p.Result.Events {
		if e.Name != passage.Name && e.Name != passage.Listed.Name {
			continue
		}
		switch e.Kind {
		case flood.Opened:
			open = true
		case flood.Shut:
			open = false
		}
	}
	return open
}

// readings puts the readings at a quarter, the half and three quarters of the time until something parts, capsizes or goes under.
func (p *Plan) readings() {
	until := p.Result.Duration
	for _, e := range p.Result.Events {
		switch e.Kind {
		case flood.Parted, flood.Capsized, flood.Foundered:
			until = math.Min(until, e.Time)
		}
	}
	step := 1.0
	if until < 20 {
		step = 0.1
	}
	for i := range 3 {
		at := math.Round(until*float64(i+1)/4/step) * step
		if at > 0 && !slices.Contains(p.Readings, at) {
			p.Readings = append(p.Readings, at)
		}
	}
}
