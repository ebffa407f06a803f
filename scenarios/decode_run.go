package scenarios

import "fmt"

// Run is how a scenario's flooding is stepped through time.
type Run struct {
	Until, Every     float64 // s: the longest time that is simulated, and between rows of a trace
	Motion           string  // Settled, Free or Held
	Keel             *float64
	Menisci          string  // Wet or Dry
	Tolerance        float64 // of the stepping, relative
	AddedMass        float64 // factors on the documented values
	LinearDamping    float64
	QuadraticDamping float64
}

// The motions and the states of the menisci that a Run names.
const (
	Settled = "settled" // no time passes while the hull finds its next rest
	Free    = "free"    // inertia, added mass and damping
	Held    = "held"    // the pose stays as at the start; with Keel: level, the keel line that high over the sea
	Wet     = "wet"     // water has been there before
	Dry     = "dry"     // a first take: dry holes and edges hold water back until it breaks through
)

// runDoc is `run:`.
type runDoc struct {
	body
	Until            *measure[duration]   `yaml:"until" jsonschema_description:"Default: 10 min."`
	Every            *measure[duration]   `yaml:"every" jsonschema_description:"Time between rows of a trace. Default: 0.5 s."`
	Motion           *word[motions]       `yaml:"motion" jsonschema_description:"settled (default): rest to rest; free: with inertia and damping; held: it stays as at the start."`
	Keel             *measure[coordinate] `yaml:"keel" jsonschema_description:"With motion held: level, the keel line that high over the sea."`
	Menisci          *word[menisci]       `yaml:"menisci" jsonschema_description:"wet (default), or dry for a first take."`
	Tolerance        *measure[tolerance]  `yaml:"tolerance" jsonschema_description:"Of the stepping. Default: 1e-5."`
	AddedMass        *measure[factor]     `yaml:"added_mass" jsonschema_description:"Factor on the documented added mass. Default: 1."`
	LinearDamping    *measure[factor]     `yaml:"linear_damping" jsonschema_description:"Factor on the documented linear damping. Default: 1."`
	QuadraticDamping *measure[factor]     `yaml:"quadratic_damping" jsonschema_description:"Factor on the documented quadratic damping. Default: 1."`
}

func (r *runDoc) noun() string { return "the run" }

type motions struct{}

func (motions) words() []string { return []string{Settled, Free, Held} }

type menisci struct{}

func (menisci) words() []string { return []string{Wet, Dry} }

type tolerance struct{}

func (tolerance) rule() rule {
	return rule{kinds: []Kind{Plain}, low: 1e-12, high: 0.1, example: "1e-5", want: "a number from 1e-12 to 0.1"}
}

const mostRows = 1_000_000 // of a trace

func (r *runDoc) check(d *decoder) {
	run := r.spec()
	if rows := run.Until / run.Every; rows > mostRows {
		d.fault(r.later("until", "every"), fmt.Sprintf("this makes a trace of %.0f rows", rows), fmt.Sprintf("at most %d: a shorter `until` or a longer `every`", mostRows))
	}
	if r.has("keel") && (!r.has("motion") || (r.Motion != nil && r.Motion.Text != Held)) {
		d.fault(r.later("keel", "motion"), "`keel` says how a hull is held, and this one is not", "`motion: held` with it, or no `keel`")
	}
}

func (r *runDoc) spec() Run {
	if r == nil {
		r = &runDoc{}
	}
	return Run{
		Until: r.Until.or(600), Every: r.Every.or(0.5),
		Motion: r.Motion.or(Settled), Keel: r.Keel.si(), Menisci: r.Menisci.or(Wet), Tolerance: r.Tolerance.or(1e-5),
		AddedMass: r.AddedMass.or(1), LinearDamping: r.LinearDamping.or(1), QuadraticDamping: r.QuadraticDamping.or(1),
	}
}
