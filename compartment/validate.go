package compartment

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Limits of what a description may hold: beyond them a value is taken for a slip of the pen. The engine is for models. The
// least values are far below what a hand can make, and keep every quotient of two of them an ordinary number.
const (
	minLength = 1e-6  // m
	minMass   = 1e-9  // kg
	minArea   = 1e-12 // m²
	minPump   = 1e-12 // m³/s
	minShare  = 1e-6  // of a permeability and of a coefficient
	minSolid  = 1e-2  // kg/m³
	maxLength = 20.0  // m, of any coordinate and length
	maxMass   = 20e3  // kg
	maxPump   = 10.0  // m³/s: a model of 20 m is empty in minutes
	maxCd     = 2.0   // a coefficient fitted to a log may pass 1 where the area was measured too small
	minForce  = 1e-9  // N and N·m
	maxForce  = 1e9   // N and N·m
	maxTime   = 1e7   // s: four months
	maxSolid  = 25e3  // kg/m³: osmium has 22 590
	maxName   = 100   // letters
	coldest   = 273.15
	hottest   = 313.15
	joined    = 0.5e-3 // m: a bulkhead that near to a joint's plane stands in it
)

// Fault is one thing that is wrong with a description.
type Fault struct {
	Path string // the value, such as "openings.cut-1.at"; list items by name, or by index where the name does not serve
	What string // what is wrong
	Want string // what would be right
}

// Error is the path and the two halves of the message.
func (f Fault) Error() string { return f.Path + ": " + f.Message() }

// Message is what is wrong; what would be right.
func (f Fault) Message() string {
	if f.Want == "" {
		return f.What
	}
	return f.What + "; " + f.Want
}

// Faults are all the things that are wrong with a description.
type Faults []Fault

// Error is one line for each fault.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i := range f {
		lines[i] = f[i].Error()
	}
	return strings.Join(lines, "\n")
}

// report collects faults, and tells later stages what they can still rely on.
type report struct {
	faults Faults
	paths  paths
}

func (r *report) fault(path, what, want string) {
	r.faults = append(r.faults, Fault{Path: path, What: what, Want: want})
}

// broken tells whether the value at any of the paths, or anything in it, has a fault already.
func (r *report) broken(paths ...string) bool {
	for i := range r.faults {
		for _, p := range paths {
			rest, found := strings.CutPrefix(r.faults[i].Path, p)
			if found && (rest == "" || rest[0] == '.') {
				return true
			}
		}
	}
	return false
}

// validate looks at every value on its own and against its neighbours, before any geometry is made.
func (r *report) validate(s *Spec) {
	r.water(&s.Water)
	r.hull(&s.Hull)
	r.names(s)
	for i := range s.Bulkheads {
		r.bulkhead(r.paths.bulkheads[i], &s.Bulkheads[i])
	}
	r.order(s)
	for i := range s.Compartments {
		r.compartment(r.paths.compartments[i], &s.Compartments[i])
	}
	r.boxesApart(s)
	for i := range s.Weights {
		r.weight(r.paths.weights[i], &s.Weights[i])
	}
	for i := range s.Openings {
		r.opening(r.paths.openings[i], &s.Openings[i], s)
	}
	for i := range s.Joints {
		r.joint(r.paths.joints[i], &s.Joints[i])
	}
	r.chain(s)
	for i := range s.Marks {
		r.point(r.paths.marks[i]+".at", s.Marks[i].At)
	}
}

// check is the one place where numbers are judged: ok is the range, want the words for it.
func (r *report) check(path string, x float64, ok bool, want string) {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		r.fault(path, fmt.Sprintf("%g is not a number to compute with", x), want)
	case !ok:
		r.fault(path, fmt.Sprintf("%.6g is out of range", x), want)
	}
}

func (r *report) length(path string, x float64) {
	r.check(path, x, x >= minLength && x <= maxLength, "a length from 1 µm to 20 m")
}

func (r *report) distance(path string, x float64) {
	r.check(path, x, x >= 0 && x <= maxLength, "a distance from 0 to 20 m")
}

func (r *report) coordinate(path string, x float64) {
	r.check(path, x, math.Abs(x) <= maxLength, "a coordinate from −20 m to 20 m")
}

func (r *report) mass(path string, x float64) {
	r.check(path, x, x >= minMass && x <= maxMass, "a mass from 1 µg to 20 t")
}

func (r *report) density(path string, x float64) {
	r.check(path, x, x >= minSolid && x <= maxSolid, "a density from 0.01 to 25 000 kg/m³")
}

func (r *report) discharge(path string, x float64) {
	r.check(path, x, x >= minShare && x <= maxCd, "a coefficient of more than 0 and at most 2")
}

func (r *report) angle(path string, x float64) {
	r.check(path, x, x >= 0 && x <= math.Pi, "a contact angle from 0° to 180°")
}

func (r *report) time(path string, x float64) {
	r.check(path, x, x >= 0 && x <= maxTime, "a time from 0 to 10 000 000 s")
}

func (r *report) share(path string, x float64) {
	r.check(path, x, x >= 0 && x <= 1, "a share from 0 to 1")
}

func (r *report) point(path string, x r3.Vec) {
	r.coordinate(path+".x", x.X)
	r.coordinate(path+".y", x.Y)
	r.coordinate(path+".z", x.Z)
}

func (r *report) direction(path string, x r3.Vec) {
	r.point(path, x)
	if n := r3.Norm(x); n < 1e-9 {
		r.fault(path, "a direction without length", "a vector such as [1, 0, 0]")
	}
}

// span checks a range [least, greatest].
func (r *report) span(path string, x [2]float64) {
	r.coordinate(path+".0", x[0])
	r.coordinate(path+".1", x[1])
	if x[0] >= x[1] {
		r.fault(path, fmt.Sprintf("a range from %s to %s", metres(x[0]), metres(x[1])), "the lesser value first")
	}
}

// maybe checks an optional number.
func maybe(path string, x *float64, check func(string, float64)) {
	if x != nil {
		check(path, *x)
	}
}

// metres writes a length for people: in mm below a metre.
func metres(x float64) string {
	if math.Abs(x) < 1 {
		return fmt.Sprintf("%.4g mm", math.Round(1e9*x)/1e6+0) // −0 + 0 is 0
	}
	return fmt.Sprintf("%.5g m", x)
}

// litres writes a volume for people.
func litres(v float64) string {
	if math.Abs(v) < 1e-3 {
		return fmt.Sprintf("%.4g ml", 1e6*v)
	}
	return fmt.Sprintf("%.4g l", 1e3*v)
}
