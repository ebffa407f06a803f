package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/byhead/byhead/scenarios"
)

func TestDemosAreListed(t *testing.T) {
	o := byhead(t, nil, "", "demo")
	o.want(t, statusDone, "packet", "")
	if lines := strings.Count(o.stdout, "\n"); lines != len(scenarios.DemoNames()) {
		t.Errorf("%d lines for %d demos", lines, len(scenarios.DemoNames()))
	}
}

// What demo writes builds as it stands, and is never written over. One is built here; the tests of scenarios build all.
func TestDemoIsWritten(t *testing.T) {
	for i, name := range scenarios.DemoNames() {
		dir := t.TempDir()
		o := byheadIn(t, dir, "", "demo", name)
		o.want(t, statusDone, name+".yaml\n", "")
		if files := left(t, dir); !slices.Contains(files, "scenario.schema.json") || len(files) != strings.Count(o.stdout, "\n") {
			t.Errorf("%s: left %v, told %q", name, files, o.stdout)
		}
		if i == 0 {
			byheadIn(t, dir, "", "check", name+".yaml").want(t, statusDone, "holds", "")
		}
		byheadIn(t, dir, "", "demo", name) // the same bytes: nothing to write over
		write(t, dir, name+".yaml", "mine")
		before := left(t, dir)
		o = byheadIn(t, dir, "", "demo", name)
		o.want(t, statusFailed, "", name+".yaml exists and is not overwritten")
		mine, err := os.ReadFile(filepath.Join(dir, name+".yaml"))
		if err != nil || string(mine) != "mine" || !slices.Equal(left(t, dir), before) {
			t.Errorf("%s: %q, %v, left %v", name, mine, err, left(t, dir))
		}
	}
}

// All or nothing: where one file is in the way, none is written.
func TestDemoIsNotHalfWritten(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "scenario.schema.json", "mine")
	byheadIn(t, dir, "", "demo", "packet").want(t, statusFailed, "", "scenario.schema.json exists")
	if files := left(t, dir); len(files) != 1 {
		t.Errorf("left %v", files)
	}
}
