package flood

import (
	"math"

	"github.com/byhead/byhead/hydro"
)

// A run creeps where it goes on in steps that bring it nowhere: to and fro between two states, or ever just short of one. It is not
// given up at once, since a hull about to fall or a bubble that finds its balance takes hundreds of steps in a moment; but a look
// every so many attempts tells it long before it has tried too many.

// creepWatch is what such looks compare.
type creepWatch struct {
	attempts int     // made at the last look
	time     float64 // s, then
	mover    int     // what moved most when the last attempt failed: a space, or beyond those a port; −1: none did
	blame    []int   // how often each did since then
}

// In every lookEvery attempts a run has to get on by at least leastGain of the time that it is given, or, where that is less, by the
// time in which something falls the hull's length.
const (
	lookEvery = 10_000
	leastGain = 1e-4
)

// creeps looks whether the run gets on.
func (r *Run) creeps() bool {
	attempts := r.stats.Steps + r.stats.Rejected
	if attempts-r.creepWatch.attempts < lookEvery {
		return false
	}
	least := math.Min(leastGain*r.set.Until, math.Sqrt(r.size/hydro.Gravity))
	if r.now.time-r.creepWatch.time < least {
		return true
	}
	r.creepWatch.attempts, r.creepWatch.time = attempts, r.now.time
	clear(r.blame)
	return false
}

// larger is the larger of a change so far and that of a space, or beyond those of a port, which is kept as what moved most. One that is
// no number stays, so that the stage is astray.
func (r *Run) larger(so, change float64, index int) float64 {
	if change > so || math.IsNaN(change) {
		r.mover = index
		return change
	}
	return so
}

// blameMover counts against what moved most when an attempt failed, and blameWatch against what a step was cut to.
func (r *Run) blameMover() {
	if r.mover >= 0 {
		r.blame[r.mover]++
	}
}

func (r *Run) blameWatch(w *watch) {
	if w.kind == watchFilled || w.kind == watchGasp {
		r.blame[w.index]++
	}
}

// culprit is the name of the space or opening that stood in the way most often since the last look; "": none did.
func (r *Run) culprit() string {
	worst, most := -1, 0
	for i, n := range r.blame {
		if n > most {
			worst, most = i, n
		}
	}
	switch n := len(r.spaces); {
	case worst < 0:
		return ""
	case worst < n:
		return r.spaces[worst].Name
	default:
		return r.ports[worst-n].Name
	}
}
