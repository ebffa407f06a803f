package flood_test

import "testing"

// tooLongUnderRace leaves out a test that under the race detector takes minutes: a run belongs to one goroutine, and what goroutines
// share is raced by others.
func tooLongUnderRace(t *testing.T) {
	t.Helper()
	if raceDetector {
		t.Skip("under the race detector this would take minutes, and it has one goroutine")
	}
}
