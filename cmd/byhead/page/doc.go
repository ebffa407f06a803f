// Package page lays out a run as one HTML page that needs nothing else: pictures drawn from the run's own geometry, which a
// script moves through time, charts as SVG, and the story in words. It computes no physics: everything shown is a sample of the
// run, a plane cut of its solids, or a word of package scenarios.
package page
