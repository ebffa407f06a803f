package scenarios

import (
	"math"
	"slices"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
)

// How a mechanical release is sized. Common practice, no source, but for the friction, which is from memory of handbook tables (steel on
// brass, dry: 0.2 to 0.4).
const (
	releaseFactor  = 2.0  // what is released on command carries so many times the greatest load before
	loadFactor     = 1.25 // what lets go by load carries a load so many times less than what it lets go at: its scatter must be under that
	pinFriction    = 0.3
	benchArm       = 0.1  // m: of the weight that a latch is set by on the bench
	idleShare      = 0.05 // of the greatest bending: less than this at the parting sets no latch
	passedAlready  = 1.001
	leastLever     = 1e-3 // m
	uprightEnoughZ = 0.1  // of the up direction: beyond, the sea has no height in a plane across
)

// lightShares are how light a latch may be set, of which is told when it would go.
var lightShares = [3]float64{0.95, 0.9, 1 / loadFactor}

// wettingTimes of soluble links, s.
var wettingTimes = [4]float64{10, 20, 40, 80}

// ReleaseDesign is what a joint has to bear and to let go at, to part when it does in a run. SI units.
type ReleaseDesign struct {
	flood.JointLoads
	Cause   string  // "": it never parts
	Trim    float64 // at the parting, rad
	Lever   float64 // m, from the keel line to the deck in its plane
	Set     float64 // the bending that it lets go at, a magnitude, N·m; 0: it never parts
	Hogs    bool    // which way that bends
	Passed  float64 // s: when that much was borne before, so that no latch set by load goes at the parting; NaN: never
	Light   []LightRelease
	Wetting []WettingHeight
}

// LightRelease is when a latch goes that is set to a share of the load.
type LightRelease struct{ Share, Time, Trim float64 }

// WettingHeight is where a soluble link is wetted so long before the parting: the height over the keel line at which the sea stood
// then in the plane; NaN: not within the run.
type WettingHeight struct{ Seconds, Height float64 }

// Device is a kind of release and its sizes, in N at the lever's end.
type Device struct {
	Kind     string  // servo-pin, magnet-pair, spring-latch, soluble-link
	Command  bool    // let go on command (or by the clock), else by the load
	Carries  float64 // until then
	LetsGo   float64 // at; on command at anything up to it
	Draws    float64 // force that has to draw a pin; 0: of others
	BenchArm float64 // m, and the mass in kg that hung there has to open it; 0: of others
	Bench    float64
}

// ByLoad tells whether a latch set by load can go at the parting: something bends it then, and never did as much before.
func (d *ReleaseDesign) ByLoad() bool {
	return d.Set > idleShare*math.Max(d.Hogging.Value, d.Sagging.Value) && d.Set > 0 && math.IsNaN(d.Passed)
}

// most is the greatest bending of the sense in which it lets go; of one that never does, of either.
func (d *ReleaseDesign) most() float64 {
	switch {
	case d.Set == 0:
		return math.Max(d.Hogging.Value, d.Sagging.Value)
	case d.Hogs:
		return d.Hogging.Value
	}
	return d.Sagging.Value
}

// Devices are the releases that would do, with what each carries before and lets go at. The hull is taken as hinged at one edge of the
// plane, with the release at the other: at the deck where it hogs.
func (d *ReleaseDesign) Devices() []Device {
	pull, shear := d.Set/d.Lever, math.Abs(d.Last.Shear)
	if d.Set == 0 {
		shear = 0
	}
	most := d.most() / d.Lever
	pin, pinMost := math.Hypot(pull, shear), math.Hypot(most, d.Shear.Value)
	all := []Device{
		{Kind: "servo-pin", Command: true, Carries: releaseFactor * pinMost, LetsGo: pin, Draws: releaseFactor * pinFriction * math.Max(pin, 0)},
		{Kind: "soluble-link", Command: true, Carries: releaseFactor * most, LetsGo: pull},
	}
	if d.ByLoad() {
		all = append(all,
			Device{Kind: "magnet-pair", Carries: pull / loadFactor, LetsGo: pull},
			Device{Kind: "spring-latch", Carries: pull / loadFactor, LetsGo: pull, BenchArm: benchArm, Bench: d.Set / (hydro.Gravity * benchArm)})
	}
	return all
}

// releaseWatch keeps of every joint what its design needs of the samples.
type releaseWatch struct {
	vessel *compartment.Vessel
	tracks []jointTrack
}

// jointTrack is how a joint fared while it held.
type jointTrack struct{ time, bending, trim, sea []float64 }

func newReleaseWatch(v *compartment.Vessel) *releaseWatch {
	return &releaseWatch{v, make([]jointTrack, len(v.Spec.Joints))}
}

// sample takes a sample's loads, trims and the height of the sea at every joint.
func (w *releaseWatch) sample(s *flood.Sample) {
	for i := range s.Joints {
		j := &w.vessel.Spec.Joints[i]
		k := slices.IndexFunc(s.Bodies, func(b flood.BodySample) bool {
			return b.Present && hasPiece(b.Name, j.Sections[0]) && hasPiece(b.Name, j.Sections[1])
		})
		if !s.Joints[i].Present || math.IsNaN(s.Joints[i].Bending) || k < 0 { // on the floor nobody knows what it bears
			continue
		}
		t, p := &w.tracks[i], s.Bodies[k].Pose
		sea := math.NaN()
		if p.Up.Z > uprightEnoughZ {
			sea = (p.Sea - p.Up.X*j.At) / p.Up.Z
		}
		t.time, t.bending = append(t.time, s.Time), append(t.bending, s.Joints[i].Bending)
		t.trim, t.sea = append(t.trim, s.Bodies[k].Trim), append(t.sea, sea)
	}
}

// hasPiece tells whether a body of that name has a piece in it.
func hasPiece(body, piece string) bool {
	return body == "hull" || slices.Contains(strings.Split(body, "+"), piece)
}

// designs are the joints' release designs.
func (w *releaseWatch) designs(r *flood.Result) (all []ReleaseDesign) {
	for i := range r.Joints {
		d := ReleaseDesign{JointLoads: r.Joints[i], Passed: math.NaN(), Trim: math.NaN()}
		d.Lever = math.Max(deckAt(w.vessel, w.vessel.Spec.Joints[i].At), leastLever)
		for _, s := range r.Separations {
			if s.Joint == d.Name {
				d.Cause, d.Trim = s.Cause, s.Trim
				if !math.IsNaN(s.Bending) { // what it bears on the floor is not known
					d.Set, d.Hogs = math.Abs(s.Bending), s.Bending > 0
				}
			}
		}
		if d.Cause != "" {
			d.follow(&w.tracks[i])
		}
		all = append(all, d)
	}
	return all
}

// follow finds in a joint's track when it bore as much before, when lighter latches would go, and where the sea stood.
func (d *ReleaseDesign) follow(t *jointTrack) {
	sign := 1.0
	if !d.Hogs {
		sign = -1
	}
	if most := d.most(); most > passedAlready*d.Set {
		d.Passed = d.Hogging.Time
		if !d.Hogs {
			d.Passed = d.Sagging.Time
		}
	}
	if d.ByLoad() {
		for _, share := range lightShares {
			if time, trim, ok := t.reaches(sign, share*d.Set); ok {
				d.Light = append(d.Light, LightRelease{share, time, trim})
			}
		}
	}
	for _, seconds := range wettingTimes {
		d.Wetting = append(d.Wetting, WettingHeight{seconds, t.at(t.sea, d.Parted-seconds)})
	}
}

// reaches is when the bending of a sense first was so great, and the trim then, straight between samples.
func (t *jointTrack) reaches(sign, bending float64) (time, trim float64, ok bool) {
	for i, b := range t.bending {
		if sign*b < bending {
			continue
		}
		if i == 0 {
			return t.time[0], t.trim[0], true
		}
		u := (bending - sign*t.bending[i-1]) / (sign*b - sign*t.bending[i-1])
		return t.time[i-1] + u*(t.time[i]-t.time[i-1]), t.trim[i-1] + u*(t.trim[i]-t.trim[i-1]), true
	}
	return math.NaN(), math.NaN(), false
}

// at is one of the lists at a time, straight between samples; NaN before the first and after the last.
func (t *jointTrack) at(list []float64, time float64) float64 {
	for i := 1; i < len(t.time); i++ {
		if t.time[i-1] <= time && time <= t.time[i] && t.time[i] > t.time[i-1] {
			return list[i-1] + (time-t.time[i-1])/(t.time[i]-t.time[i-1])*(list[i]-list[i-1])
		}
	}
	return math.NaN()
}

// deckAt is the height of the deck edge over the keel line at x, straight between its points.
func deckAt(v *compartment.Vessel, x float64) float64 {
	below, above := math.Inf(-1), math.Inf(1)
	var low, high float64
	for _, p := range v.Whole.DeckEdge {
		if p.X <= x && p.X > below {
			below, low = p.X, p.Z
		}
		if p.X >= x && p.X < above {
			above, high = p.X, p.Z
		}
	}
	switch {
	case math.IsInf(below, 0):
		return high
	case math.IsInf(above, 0) || !(above > below):
		return low
	}
	return low + (x-below)/(above-below)*(high-low)
}
