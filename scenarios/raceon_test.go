//go:build race

package scenarios

// raceDetector tells whether the tests run under it.
const raceDetector = true
