package shoot

import "math"

// Bases are the usual rates of showing, frames a second.
var Bases = [3]float64{24, 25, 30}

// commonRates are frame rates that cameras offer, from telephones to those for slow motion: common knowledge of the trade, no
// standard.
var commonRates = []float64{24, 25, 30, 48, 50, 60, 72, 75, 90, 96, 100, 120, 150, 180, 200, 240, 250, 300, 400, 480, 500, 600, 960, 1000,
	1500, 2000}

// Camera is a way to film: at Rate frames a second, shown at Base.
type Camera struct {
	Base  float64
	Exact float64 // what the scale asks for
	Rate  float64 // what is used
}

// ExactRate is the frame rate at which a model of a scale (96: 1:96) moves on the screen as the ship would: √scale times the rate
// of showing (The VES Handbook of Visual Effects, appendix A, formulas for miniatures: 1:4 at 24 is 48; by Froude's rule times go
// by the square root of the scale).
func ExactRate(scale, base float64) float64 { return math.Sqrt(scale) * base }

// Cameras are what the rates of showing ask for at a scale, each with the nearest of the common rates.
func Cameras(scale float64) (all []Camera) {
	for _, base := range Bases {
		exact := ExactRate(scale, base)
		all = append(all, Camera{Base: base, Exact: exact, Rate: nearestRate(exact)})
	}
	return all
}

// nearestRate is the common rate with the least ratio to what is asked for.
func nearestRate(exact float64) (best float64) {
	for _, rate := range commonRates {
		if best == 0 || math.Abs(math.Log(rate/exact)) < math.Abs(math.Log(best/exact)) {
			best = rate
		}
	}
	return best
}

// OtherRate is the nearest common rate on the other side of the exact one; 0: there is none.
func (c Camera) OtherRate() (other float64) {
	for _, rate := range commonRates {
		if (rate-c.Exact)*(c.Rate-c.Exact) < 0 && (other == 0 || math.Abs(math.Log(rate/c.Exact)) < math.Abs(math.Log(other/c.Exact))) {
			other = rate
		}
	}
	return other
}

// OnScreen is how long something that takes so many seconds at the water is seen.
func (c Camera) OnScreen(seconds float64) float64 { return seconds * c.Rate / c.Base }

// Slow is by how much the film runs slower than the ship would: 0.02 is 2 % slower, negative is faster.
func (c Camera) Slow() float64 { return c.Rate/c.Exact - 1 }

// Stops is how many stops more light the rate wants than the rate of showing, at the same angle of the shutter: the time that a
// frame is exposed goes by one over the rate, and a stop is a factor of two.
func (c Camera) Stops() float64 { return math.Log2(c.Rate / c.Base) }

// flicker is what mains lamps do to a film. They pulse twice in a cycle, so every frame gets the same light where a whole number
// of pulses falls on it: any shutter will do then. Else the shutter has to be open for a whole number of pulses, and past one
// frame a pulse there is no such shutter (common practice).
type flicker int

// The ways it goes.
const (
	noFlicker   flicker = iota // at any shutter
	byShutter                  // only with exposures of whole pulses
	alwaysRisks                // lamps on direct current, or daylight
)

// flickerAt is how a rate does under lamps on mains of so many cycles a second.
func flickerAt(rate, mains float64) flicker {
	pulses := 2 * mains / rate
	switch {
	case pulses < 1:
		return alwaysRisks
	case math.Abs(pulses-math.Round(pulses)) < 1e-9:
		return noFlicker
	}
	return byShutter
}
