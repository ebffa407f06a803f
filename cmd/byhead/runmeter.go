package main

import (
	"fmt"
	"strings"
	"time"
)

// runMeter shows on one line how many runs of a study are done: rate and time left. It draws when it is told, in one goroutine.
type runMeter struct{ meter }

func (a *app) newRunMeter() *runMeter { return &runMeter{*a.newMeter(0)} }

// done tells how many runs are done. It may be given to a study as its Progress.
func (m *runMeter) done(done, total int) {
	if elapsed, due := m.due(); due {
		fmt.Fprint(m.w, eraseLine+runLine(done, total, elapsed))
	}
}

// due tells whether the line is to be drawn now, and how long it has taken so far.
func (m *meter) due() (elapsed time.Duration, due bool) {
	if m.w == nil {
		return 0, false
	}
	now := m.now()
	elapsed = now.Sub(m.begun)
	if elapsed < progressAfter || m.drawn && now.Sub(m.last) < progressEvery {
		return elapsed, false
	}
	m.last, m.drawn = now, true
	return elapsed, true
}

// runLine is the bar and its figures.
func runLine(done, total int, elapsed time.Duration) string {
	const width = 24
	full := width * done / max(total, 1)
	line := fmt.Sprintf("[%s%s] %d of %d runs", strings.Repeat("#", full), strings.Repeat(".", width-full), done, total)
	if rate := float64(done) / elapsed.Seconds(); rate > 0 {
		line += fmt.Sprintf("  %.3g runs/s  about %.0f s left", rate, float64(total-done)/rate)
	}
	return line
}

// countMeter shows how many runs a search has made, of which nobody knows how many there will be.
type countMeter struct{ meter }

func (a *app) newCountMeter() *countMeter { return &countMeter{*a.newMeter(0)} }

func (m *countMeter) count(done, _ int) {
	if elapsed, due := m.due(); due {
		fmt.Fprintf(m.w, "%s%d runs  %.3g runs/s", eraseLine, done, float64(done)/elapsed.Seconds())
	}
}
