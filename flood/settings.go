package flood

// Motion is how the hull's attitude follows its load.
type Motion string

// The motions.
const (
	Settled Motion = "settled" // at every instant in its stable rest
	Free    Motion = "free"    // with inertia, added mass and damping
	Held    Motion = "held"    // clamped as at the start
)

// Menisci is how holes and edges are wetted at the start.
type Menisci string

// The first-wetting states.
const (
	Wet Menisci = "wet"
	Dry Menisci = "dry"
)

// Settings says how a run goes. The zero value is a settled run of ten minutes with wet openings.
type Settings struct {
	Until     float64  // s at which the run ends at the latest; 0: 600
	Every     float64  // s between samples; 0: 0.5
	Motion    Motion   // "": Settled
	Keel      *float64 // m, with Held: level, the keel line that high over the sea; nil: as it floats
	Menisci   Menisci  // "": Wet
	Tolerance float64  // error of a step as a share of each space's capacity; 0: 1e-5; 1e-12 to 0.1

	AddedMass, LinearDamping, QuadraticDamping *float64 // factors on the documented values, with Free, 0 to MostFactor; nil: 1

	NoCurve bool // Result.Curve is not found: for one of many runs

	Laws map[string]Law // by the name of an opening, in the place of its own; nil: none

	Samples func(*Sample) // called with each sample as it comes; the sample is reused afterwards; nil: none are made
}

// The defaults of Settings.
const (
	DefaultUntil     = 600.0
	DefaultEvery     = 0.5
	DefaultTolerance = 1e-5
)

// MostFactor is the greatest factor on a documented value: what is a thousand times as much is no doubt about it any more.
const MostFactor = 1000.0

func (s Settings) withDefaults() Settings {
	if s.Until == 0 {
		s.Until = DefaultUntil
	}
	if s.Every == 0 {
		s.Every = DefaultEvery
	}
	if s.Motion == "" {
		s.Motion = Settled
	}
	if s.Menisci == "" {
		s.Menisci = Wet
	}
	if s.Tolerance == 0 {
		s.Tolerance = DefaultTolerance
	}
	return s
}
