//go:build race

package main

// raceDetector tells whether the tests run under it.
const raceDetector = true
