package compartment

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Metacentric are the metacentric heights at a balance, m: second moment of the waterplane, less those of the free surfaces,
// over the displaced volume, less the height of G over B. Transverse is about the axis through the waterplane's centroid
// along the projection of the keel line, longitudinal about the one across. NaN where nothing is displaced, and while
// |trim| > 60°, where the keel line has no projection worth the name.
func (f *Floater) Metacentric(b *Balance) (transverse, longitudinal float64) {
	if b.Pose.Steep() || b.Displaced <= 0 || b.Load <= 0 {
		return nan, nan
	}
	up := b.Pose.Up
	along := r3.Unit(r3.Sub(r3.Vec{X: 1}, r3.Scale(up.X, up)))
	across := r3.Cross(up, along)
	_, second := aboutCentre(b.Below, 1)
	for i := range f.surfaces {
		second = second.Add(f.surfaces[i].Second.Scale(-1))
	}
	gb := r3.Dot(up, r3.Sub(r3.Scale(1/b.Load, b.LoadMoment), r3.Scale(1/b.Displaced, b.Buoyancy)))
	transverse = r3.Dot(across, second.Apply(across))/b.Displaced - gb
	longitudinal = r3.Dot(along, second.Apply(along))/b.Displaced - gb
	return transverse, longitudinal
}

// Freeboard is the least vertical height of the deck edge over the sea, m, negative with a deck edge under.
func (b *Body) Freeboard(p Pose) float64 {
	least := math.Inf(1)
	for _, x := range b.DeckEdge {
		least = math.Min(least, p.Height(x))
	}
	return least
}

// Drafts are the depths of the keel-line points at the ends below the sea, m, negative above it.
func (b *Body) Drafts(p Pose) (fore, aft float64) { return -p.Height(b.KeelFore), -p.Height(b.KeelAft) }

// inclination holds a body at a heel and finds its trim and sinkage there.
type inclination struct {
	f     *Floater
	water []float64
	bal   Balance
	trim  float64
	sea   float64
}

// Arm is the righting arm at a heel, m: the slope of the least energy over trim and sinkage, over the weight. Positive turns
// the hull back to port (to lesser heel). ok is false where no trim is a minimum.
func (in *inclination) Arm(heel float64) (arm float64, ok bool) {
	for range 60 {
		up := Inclined(heel, in.trim)
		in.f.Balance(Pose{Up: up, Sea: in.sea}, in.water, &in.bal)
		byTrim := r3.Vec{X: -math.Cos(in.trim), Y: -math.Sin(in.trim) * math.Sin(heel), Z: -math.Sin(in.trim) * math.Cos(heel)}
		a, b := r3.Dot(byTrim, in.bal.Pitch), r3.Dot(byTrim, in.bal.Roll)
		h := &in.bal.Hessian
		// the trim circle at a heel is a great circle: the Hessian along it needs no correction
		htt := a*a*h[0][0] + 2*a*b*h[0][1] + b*b*h[1][1]
		hts, hss := a*h[0][2]+b*h[1][2], h[2][2]
		gt, gs := a*in.bal.Gradient[0]+b*in.bal.Gradient[1], in.bal.Gradient[2]
		dt, ds, convex := newton2(htt, hts, hss, gt, gs, in.f.length)
		in.trim += dt
		in.sea += ds
		if math.Abs(in.trim) > math.Pi/2 {
			return nan, false
		}
		if convex && math.Abs(dt) < 1e-11 && math.Abs(ds) < 1e-11*in.f.length {
			break
		}
	}
	byHeel := r3.Vec{Y: math.Cos(in.trim) * math.Cos(heel), Z: -math.Cos(in.trim) * math.Sin(heel)}
	excess := r3.Sub(in.bal.LoadMoment, in.bal.Buoyancy)
	return r3.Dot(excess, byHeel) / in.bal.Load, true
}

// newton2 is the step to the minimum of a quadratic in trim and sinkage, at most 0.2 rad and a tenth of the length.
func newton2(htt, hts, hss, gt, gs, length float64) (dt, ds float64, convex bool) {
	det := htt*hss - hts*hts
	if convex = hss > 0 && det > 0; convex {
		dt, ds = (hts*gs-hss*gt)/det, (hts*gt-htt*gs)/det
	} else {
		ds = -math.Copysign(0.02*length, gs)
		if hss > 0 {
			ds = -gs / hss
		}
		dt = -math.Copysign(0.02, gt-hts*gs/math.Max(hss, 1e-300))
	}
	dt = math.Max(-0.2, math.Min(0.2, dt))
	ds = math.Max(-0.1*length, math.Min(0.1*length, ds))
	return dt, ds, convex
}

// rangeOfStability is the heel at which the righting arm first vanishes less the heel at rest, on the side where it comes
// sooner; π if it does not. The arms are taken every two degrees, and the first change of sign is narrowed by bisection.
func (f *Floater) rangeOfStability(rest Pose, water []float64) float64 {
	if f.Mass == 0 {
		return nan // nothing to right, unless it is water
	}
	const stepSize = 2 * math.Pi / 180
	least := math.Pi
	for _, side := range [2]float64{1, -1} {
		in := inclination{f: f, water: water, trim: rest.Trim(), sea: rest.Sea}
		heel0 := rest.Heel()
		before := 0.0
		for turn := stepSize; turn <= math.Pi; turn += stepSize {
			arm, ok := in.Arm(heel0 + side*turn)
			if !ok || side*arm <= 0 {
				least = math.Min(least, in.narrow(heel0, side, before, turn))
				break
			}
			before = turn
		}
	}
	return least
}

// narrow finds where between two turns the righting arm vanishes.
func (in *inclination) narrow(heel0, side, lo, hi float64) float64 {
	trim, sea := in.trim, in.sea
	for hi-lo > 1e-9 {
		mid := (lo + hi) / 2
		in.trim, in.sea = trim, sea
		if arm, ok := in.Arm(heel0 + side*mid); !ok || side*arm <= 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return (lo + hi) / 2
}

// gmUpright is the transverse metacentric height at zero heel and the trim at rest there, at zero trim if none is stable.
func (f *Floater) gmUpright(rest Pose, water []float64) float64 {
	in := inclination{f: f, water: water, sea: rest.Sea}
	if math.Abs(rest.Heel()) < math.Pi/2 {
		in.trim = rest.Trim()
	}
	if _, ok := in.Arm(0); !ok {
		level := r3.Vec{Z: 1}
		sea, _, _ := f.Body.Form.Offset(level, in.bal.Load, nan)
		f.Balance(Pose{Up: level, Sea: sea}, water, &in.bal)
	}
	gm, _ := f.Metacentric(&in.bal)
	return gm
}

// FloatTest floats the whole vessel, with the weights that come later too if there are any, and each piece alone, from
// the stern: spaces as at the start, openings shut, cut faces closed.
func (v *Vessel) FloatTest() []Floating {
	tests := []Floating{v.float(v.Whole, false, "hull")}
	if v.Whole.LaterMass > 0 {
		tests = append(tests, v.float(v.Whole, true, "hull+later"))
	}
	if len(v.Pieces) > 1 {
		for _, p := range v.Pieces {
			tests = append(tests, v.float(p, true, p.Name))
		}
	}
	return tests
}

// float is one condition of the float test.
func (v *Vessel) float(body *Body, later bool, name string) Floating {
	f := NewFloater(body, v.Water.Density, later)
	t := Floating{Name: name, Mass: f.Mass, Centre: f.Centre}
	rest, water := f.Start()
	var b Balance
	if !rest.Stable {
		t.Trim, t.Heel, t.DraftFore, t.DraftAft, t.Freeboard = nan, nan, nan, nan, nan
		t.GMTransverse, t.GMLongitudinal, t.GMUpright, t.RangeOfStability = nan, nan, nan, nan
		t.Pose = Pose{Up: r3.Vec{X: nan, Y: nan, Z: nan}, Sea: nan}
		t.addFloodwater(f, water)
		for range v.Marks {
			t.Marks = append(t.Marks, nan)
		}
		return t
	}
	f.Balance(rest.Pose, water, &b)
	t.Floats, t.Pose = true, rest.Pose
	t.Trim, t.Heel = rest.Pose.Trim(), rest.Pose.Heel()
	t.DraftFore, t.DraftAft = body.Drafts(rest.Pose)
	t.Freeboard = body.Freeboard(rest.Pose)
	t.GMTransverse, t.GMLongitudinal = f.Metacentric(&b)
	t.addFloodwater(f, water)
	t.GMUpright = f.gmUpright(rest.Pose, water)
	t.RangeOfStability = f.rangeOfStability(rest.Pose, water)
	for _, m := range v.Marks {
		t.Marks = append(t.Marks, -rest.Pose.Height(m.At))
	}
	return t
}

// addFloodwater counts the water aboard into mass and centre, where it lies at rest.
func (t *Floating) addFloodwater(f *Floater, water []float64) {
	up := t.Pose.Up
	if !t.Floats {
		up = r3.Vec{Z: 1}
	}
	f.Levels(up, water)
	moment := r3.Scale(t.Mass, t.Centre)
	for i := range f.surfaces {
		t.Mass += f.Density * f.surfaces[i].Volume
		moment = r3.Add(moment, r3.Scale(f.Density, f.surfaces[i].Moment))
	}
	if t.Mass > 0 {
		t.Centre = r3.Scale(1/t.Mass, moment)
	}
}

// Start is the rest at the start: every space as its start says, found by following the fall of potential energy from
// upright. water: m³ in each of the body's spaces.
func (f *Floater) Start() (rest Rest, water []float64) {
	water = f.StartWater()
	up := r3.Vec{Z: 1}
	f.Levels(up, water)
	load := f.Mass / f.Density
	for i := range f.surfaces {
		load += f.surfaces[i].Volume
	}
	if f.Room(water) <= 0 {
		return Rest{Pose: Pose{Up: up, Sea: math.Inf(1)}}, water
	}
	if load == 0 { // it lies on the water, any way up
		low, _ := f.Body.Form.Reach(up)
		return Rest{Pose: Pose{Up: up, Sea: low}, Stable: true}, water
	}
	sea, _, _ := f.Body.Form.Offset(up, math.Min(load, f.Body.Form.Volume()), nan)
	return f.Settle(Pose{Up: up, Sea: sea}, water, FallStride, nil), water
}

// StartWater is the water in each of the body's spaces at the start, m³. A depth is measured with the hull upright.
func (f *Floater) StartWater() []float64 {
	water := make([]float64, len(f.Body.Spaces))
	for i, s := range f.Body.Spaces {
		water[i] = s.StartVolume()
	}
	return water
}

// StartVolume is the water that a space starts with, m³: as given, a share of its capacity, or what stands in it up to a
// depth above its lowest point with the hull upright.
func (s *Space) StartVolume() float64 {
	switch {
	case s.Start.Volume != nil:
		return *s.Start.Volume
	case s.Start.Share != nil:
		return *s.Start.Share * s.Capacity()
	case s.Start.Depth != nil:
		up := r3.Vec{Z: 1}
		low, _ := s.Room.Reach(up)
		return s.Fraction * s.Room.Below(planeAt(up, low+*s.Start.Depth)).Volume
	}
	return 0
}
