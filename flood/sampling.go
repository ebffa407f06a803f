package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro"
)

// startSamples lays out the sample and takes the one at time 0.
func (r *Run) startSamples() {
	r.layOutSamples()
	r.sampleNow(len(r.events) > 0)
	r.nextSample = 1
}

// layOutSamples makes the sample as long as there are bodies, spaces and ports.
func (r *Run) layOutSamples() {
	r.sample = Sample{}
	for k := range r.bodies {
		r.sample.Bodies = append(r.sample.Bodies, BodySample{Name: r.bodies[k].Name})
	}
	for i := range r.spaces {
		r.sample.Spaces = append(r.sample.Spaces, SpaceSample{Name: r.spaces[i].Name})
	}
	r.layOutParts()
	for j := range r.ports {
		r.sample.Passages = append(r.sample.Passages, PassageSample{Name: r.ports[j].Name})
	}
	for i := range r.joints {
		r.sample.Joints = append(r.sample.Joints, JointSample{Name: r.joints[i].Name})
	}
}

// sampleUntil takes the samples that are due up to a time within the step of length h.
func (r *Run) sampleUntil(time, h float64) {
	for r.nextSample*r.set.Every <= time*(1+1e-14) {
		due := r.nextSample * r.set.Every
		r.nextSample++
		if r.set.Samples == nil {
			continue
		}
		r.interpolate(min(1, (due-r.now.time)/h), h, &r.between)
		r.between.time = min(due, time) // a multiple that rounding has put behind what comes next would let the times fall
		r.take(&r.between, false)
	}
}

// sampleAt takes a sample at a share of the step, where something happened.
func (r *Run) sampleAt(x, h float64) {
	if r.set.Samples != nil {
		r.interpolate(x, h, &r.between)
		r.take(&r.between, true)
	}
}

// sampleNow takes a sample of the present state.
func (r *Run) sampleNow(event bool) {
	if r.set.Samples != nil {
		r.between.copyFrom(&r.now)
		r.take(&r.between, event)
	}
}

// sampleEnd takes the sample at the end of the run, unless there is one of that time already.
func (r *Run) sampleEnd() {
	if r.lastSample < r.now.time {
		r.sampleNow(false)
	}
}

// take hands out a sample of a state: its bodies are let into their rest exactly, its flows are those of the laws there.
func (r *Run) take(s *state, event bool) {
	r.sample.Time, r.sample.Event, r.lastSample = s.time, event, s.time
	r.lookAside()
	defer r.lookBack()
	for k := range r.bodies {
		b := &r.bodies[k]
		b.floater.Balance(s.pose[k], r.loadBody(k, s), &b.balance)
		if r.rests() && r.ended != EndedFoundered && !b.gone {
			r.polish(k, s)
		}
		r.readBells(k, s)
		r.sample.Bodies[k] = r.bodySample(k, s)
	}
	for i := range r.spaces {
		r.sample.Spaces[i] = r.spaceSample(i, s)
	}
	r.sampleParts(s)
	r.sampleJoints(s)
	for j := range r.ports {
		r.sample.Passages[j].Water, r.sample.Passages[j].Air = s.rate[j], r.gustAtSource(j, s)
	}
	r.set.Samples(&r.sample)
}

// lookAside and lookBack stand about whatever looks aside from the run's own way: where each water is sought next, and what each body
// was weighed at last, must not depend on who looks, or the run would differ in its last bits with every other choice of samples.
func (r *Run) lookAside() {
	for i := range r.spaces {
		sp := &r.spaces[i]
		r.levels[i] = r.bodies[sp.body].floater.Surfaces()[sp.local].Level
	}
	for k := range r.bodies {
		r.bodies[k].aside = r.bodies[k].balance
	}
}

func (r *Run) lookBack() {
	r.returnLevels()
	for k := range r.bodies {
		r.bodies[k].balance = r.bodies[k].aside
	}
}

// returnLevels puts the levels back that were kept.
func (r *Run) returnLevels() {
	for i := range r.spaces {
		sp := &r.spaces[i]
		r.bodies[sp.body].floater.Surfaces()[sp.local].Level = r.levels[i]
	}
}

// polish takes Newton's step to the rest from where the interpolant has it, which is near: one step where that is short, a
// search where it is not, as near the loss of a stability, where poses move like a square root; from there, or where that leads
// astray from the start of the step, as the hull itself went.
func (r *Run) polish(k int, s *state) {
	b := &r.bodies[k]
	h, x, pivots := flat(&b.balance.Hessian), b.balance.Gradient, [3]int{}
	stable := b.floater.Stiffness(&b.balance) > 0 && solveDense(h[:], x[:], pivots[:])
	if size := math.Max(math.Hypot(x[0], x[1]), math.Abs(x[2])/b.floater.Length()); stable && size < 1e-5 {
		s.pose[k] = b.balance.Pose.Turned(b.balance.Pitch, b.balance.Roll, -x[0], -x[1], -x[2])
		b.balance.Displaced = b.balance.Load
		return
	}
	for _, from := range [2]compartment.Pose{s.pose[k], r.now.pose[k]} {
		rest := b.floater.Settle(from, b.water, compartment.FallStride, nil)
		if rest.Stable && r.onTheWay(k, rest.Pose) {
			s.pose[k] = rest.Pose
			b.floater.Balance(rest.Pose, b.water, &b.balance)
			return
		}
	}
}

// onTheWay tells whether a rest may lie between those of the step's two ends: the interpolant, which goes wide of the mark where
// poses move like a square root, may be nearer to a rest on the other side.
func (r *Run) onTheWay(k int, rest compartment.Pose) bool {
	start, end := r.now.pose[k], r.next.pose[k]
	return turned(start, rest)+turned(rest, end) < turned(start, end)+farFromRest/2
}

// flat is a 3 × 3 matrix by rows.
func flat(m *[3][3]float64) (out [9]float64) {
	for a := range 3 {
		copy(out[3*a:], m[a][:])
	}
	return out
}

func (r *Run) bodySample(k int, s *state) BodySample {
	b, p := &r.bodies[k], s.pose[k]
	out := BodySample{Name: b.Name, Present: true, Pose: p, Trim: p.Trim(), Heel: p.Heel(), Displaced: b.balance.Displaced + b.balance.Lost.Volume}
	out.Sinkage = r.startPose.Height(b.KeelMiddle) - p.Height(b.KeelMiddle)
	out.DraftFore, out.DraftAft = b.Drafts(p)
	out.Freeboard = b.Freeboard(p)
	out.GM, _ = b.floater.Metacentric(&b.balance)
	return out
}

func (r *Run) spaceSample(i int, s *state) SpaceSample {
	sp := &r.spaces[i]
	w := &r.bodies[sp.body].floater.Surfaces()[sp.local]
	out := SpaceSample{Name: sp.Name, Water: r.waterIn(i, s), Depth: math.Max(0, w.Level-w.Low), Level: w.Level}
	switch head, full := r.head(i, s); {
	case sp.open && w.Volume >= brim*sp.capacity: // under the sea
		out.Full, out.Air = true, r.weight*(s.pose[sp.body].Sea-w.High)
	case full:
		out.Full, out.Air = true, r.weight*(head-w.High)
	case sp.gas >= 0:
		out.Air = s.press[i]
	}
	return out
}

// sampleJoints takes what the joints bear in the pose that the sample has.
func (r *Run) sampleJoints(s *state) {
	if len(r.joints) == 0 {
		return
	}
	r.bear(s)
	for i := range r.joints {
		l := r.joints[i].load
		if k := r.joints[i].body; k >= 0 && r.onIt(k, s) {
			l = unknownLoad
		}
		r.sample.Joints[i] = JointSample{r.joints[i].Name, !r.parted[i], l.Bending, l.Shear, l.Torsion, l.Axial, l.EndMoment}
	}
}

// unknownLoad is what a joint bears of a body that stands on the floor: how the floor bears it is not known.
var unknownLoad = compartment.Load{Bending: math.NaN(), Shear: math.NaN(), Torsion: math.NaN(), Axial: math.NaN(), EndMoment: math.NaN()}

// gustAtSource is a port's flow of air, m³/s at the density on the side that it comes from.
func (r *Run) gustAtSource(j int, s *state) float64 {
	p := &r.ports[j]
	source := p.From
	if s.gust[j] < 0 {
		source = p.To
	}
	if !r.trapped(source) {
		return s.gust[j]
	}
	return s.gust[j] / (1 + s.press[source]/hydro.Atmosphere)
}

// Pose is how a body lies now, by its index in the result's sections.
func (r *Run) Pose(k int) compartment.Pose { return r.now.pose[k] }

// Water is the water in each space now, m³, in the order of the vessel's spaces; the caller's own copy.
func (r *Run) Water() []float64 { return append([]float64(nil), r.now.water...) }

// Time is the present time, s.
func (r *Run) Time() float64 { return r.now.time }
