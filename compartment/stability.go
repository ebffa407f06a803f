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
	plane := b.Below
	if f.open != nil {
		plane = less(plane, &b.Lost)
	}
	_, second := aboutCentre(plane, 1)
	for i := range f.surfaces {
		if !f.isOpen(i) {
			second = second.Add(f.surfaces[i].Second.Scale(-1))
		}
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
	rest, water := f.Start()
	seek := func(g *Floater) Rest { rest, _ := g.Start(); return rest }
	return v.floating(f, name, rest, water, floatWays{seek: seek, later: later, loads: body == v.Whole})
}

// floatWays is what the conditions of a float test differ in.
type floatWays struct {
	seek  func(*Floater) Rest // how the rest is sought, once more in other water
	later bool                // weights that come later are aboard
	loads bool                // bending and shear are asked for
	air   []float64           // in the body's spaces, Pa gauge; nil: 0
}

// floating tells how a body lies in a rest.
func (v *Vessel) floating(f *Floater, name string, rest Rest, water []float64, ways floatWays) Floating {
	t := Floating{Name: name, Mass: f.Mass, Centre: f.Centre}
	if !rest.Stable {
		t.sinks()
		t.Waters = v.inWaters(f, ways.seek)
		t.addFloodwater(f, water)
		for range v.Marks {
			t.Marks = append(t.Marks, nan)
		}
		return t
	}
	var b Balance
	body := f.Body
	f.Balance(rest.Pose, water, &b)
	t.Floats, t.Pose = true, rest.Pose
	t.Trim, t.Heel = rest.Pose.Trim(), rest.Pose.Heel()
	t.DraftFore, t.DraftAft = body.Drafts(rest.Pose)
	t.Freeboard = body.Freeboard(rest.Pose)
	t.GMTransverse, t.GMLongitudinal = f.Metacentric(&b)
	t.addFloodwater(f, water)
	if ways.loads {
		t.Still = v.stillWater(f, rest.Pose, ways)
	}
	t.GMUpright = f.gmUpright(rest.Pose, water)
	t.addArms(f, water)
	t.Lowest, t.LowestDry = v.lowestOpenings(body, rest.Pose)
	t.Holds, t.SpacesHold = body.filledTo(rest.Pose)
	t.Waters = v.inWaters(f, ways.seek)
	for _, m := range v.Marks {
		t.Marks = append(t.Marks, -rest.Pose.Height(m.At))
	}
	t.Verdict = t.judge(body)
	return t
}

// sinks puts down that there is no rest.
func (t *Floating) sinks() {
	t.Trim, t.Heel, t.DraftFore, t.DraftAft, t.Freeboard = nan, nan, nan, nan, nan
	t.GMTransverse, t.GMLongitudinal, t.GMUpright, t.RangeOfStability = nan, nan, nan, nan
	t.Pose = Pose{Up: r3.Vec{X: nan, Y: nan, Z: nan}, Sea: nan}
	t.Loll, t.Holds, t.Verdict = nan, nan, Sinks
}

// addArms draws the curve of righting arms, and takes from it the range of stability and the loll.
func (t *Floating) addArms(f *Floater, water []float64) {
	t.RangeOfStability, t.Loll = nan, nan
	if f.Mass > 0 { // else there is nothing to right, unless it is water
		t.Arms = f.RightingArms(t.Pose, water)
		t.RangeOfStability = math.Min(t.Arms.Starboard.Range, t.Arms.Port.Range)
	}
	if t.GMUpright < 0 && math.Abs(t.Heel) < math.Pi/2 && !t.Pose.Steep() {
		t.Loll = t.Heel
	}
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
		if f.isOpen(i) {
			continue
		}
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
		if !f.isOpen(i) {
			load += f.surfaces[i].Volume
		}
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
