package flood

// Limit is what limited the length of a step.
type Limit int

// The limits.
const (
	ByError     Limit = iota // the estimated error
	ByIteration              // the stages' iterations did not converge on a longer one
	ByGrowth                 // a step is at most so many times its predecessor
	ByEvent                  // something happened at its end
	ByEnd                    // the run's end
	ByStability              // the rest is about to be lost
	numLimits
)

var limitNames = [numLimits]string{"error", "iteration", "growth", "event", "end", "stability"}

func (l Limit) String() string { return limitNames[l] }

// Step tells of one accepted step.
type Step struct {
	Time   float64 // at its end, s
	Length float64 // s
	Limit  Limit
	Events []Event // at its end; reused by the next step
}
