package main

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// The meter waits half a second, draws at most ten times a second, and leaves nothing behind.
func TestMeter(t *testing.T) {
	var out bytes.Buffer
	clock := time.Unix(0, 0)
	m := &meter{w: &out, until: 480, now: func() time.Time { return clock }, begun: clock}
	m.at(10)
	if out.Len() > 0 {
		t.Errorf("drawn at once: %q", &out)
	}
	m.erase()
	if out.Len() > 0 {
		t.Errorf("erased what is not there: %q", &out)
	}
	clock = clock.Add(600 * time.Millisecond)
	m.at(120)
	if got, want := out.String(), eraseLine+"[######..................] 120.0 of 480 s  200 x real time  at most 2 s left"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	drawn := out.Len()
	clock = clock.Add(50 * time.Millisecond)
	if m.at(130); out.Len() != drawn {
		t.Errorf("drawn again after 50 ms: %q", &out)
	}
	clock = clock.Add(60 * time.Millisecond)
	if m.at(140); out.Len() == drawn {
		t.Error("not drawn after 110 ms")
	}
	m.erase()
	if !strings.HasSuffix(out.String(), eraseLine) {
		t.Errorf("not erased: %q", &out)
	}
}

func TestNoMeterWhereNobodyLooks(t *testing.T) {
	var stderr bytes.Buffer
	a := &app{stderr: &stderr}
	m := a.newMeter(10)
	m.now = func() time.Time { return m.begun.Add(time.Hour) }
	m.at(5)
	m.erase()
	if stderr.Len() > 0 {
		t.Errorf("drawn into what is no terminal: %q", &stderr)
	}
	if got := a.paint("error"); got != "error" {
		t.Errorf("coloured: %q", got)
	}
}
