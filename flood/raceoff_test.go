//go:build !race

package flood_test

// raceDetector tells whether the tests run under it.
const raceDetector = false
