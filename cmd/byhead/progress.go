package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"
)

// When progress is first shown, and how often.
const (
	progressAfter = 500 * time.Millisecond
	progressEvery = 100 * time.Millisecond
)

// meter shows on one line how far a run has come: simulated time, rate, time left. It draws when it is told of a step, so
// that no other goroutine writes in between, and leaves nothing behind.
type meter struct {
	w           io.Writer // nil: nobody looks
	until       float64   // s of simulated time
	now         func() time.Time
	begun, last time.Time
	drawn       bool
}

func (a *app) newMeter(until float64) *meter {
	m := &meter{until: until, now: time.Now}
	if isTerminal(a.stderr) {
		m.w = a.stderr
	}
	m.begun = m.now()
	return m
}

// at tells the simulated time that has been reached.
func (m *meter) at(simulated float64) {
	if m.w == nil {
		return
	}
	now := m.now()
	if now.Sub(m.begun) < progressAfter || m.drawn && now.Sub(m.last) < progressEvery {
		return
	}
	m.last, m.drawn = now, true
	fmt.Fprint(m.w, eraseLine+m.line(simulated, now.Sub(m.begun).Seconds()))
}

// erase takes the line away.
func (m *meter) erase() {
	if m.drawn {
		fmt.Fprint(m.w, eraseLine)
		m.drawn = false
	}
}

// line is the bar and its figures. At the present rate the time left is an upper bound: a run may end before `until`.
func (m *meter) line(simulated, elapsed float64) string {
	const width = 24
	share := math.Max(0, math.Min(1, simulated/m.until))
	full := int(share * width)
	bar := strings.Repeat("#", full) + strings.Repeat(".", width-full)
	line := fmt.Sprintf("[%s] %.1f of %.0f s", bar, simulated, m.until)
	if rate := simulated / elapsed; rate > 0 {
		line += fmt.Sprintf("  %.3g x real time  at most %.0f s left", rate, (m.until-simulated)/rate)
	}
	return line
}
