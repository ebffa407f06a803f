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
	if m.w == nil {
		return
	}
	now := m.now()
	if now.Sub(m.begun) < progressAfter || m.drawn && now.Sub(m.last) < progressEvery {
		return
	}
	m.last, m.drawn = now, true
	fmt.Fprint(m.w, eraseLine+runLine(done, total, now.Sub(m.begun)))
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
