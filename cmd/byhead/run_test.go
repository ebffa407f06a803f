package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/byhead/byhead/scenarios"
)

// The tub: a box of 12 kg, holed forward. Water goes over its only bulkhead, and it founders; with the bulkhead up to the
// deck it floats.
const tub = `format: 1
title: A tub
scale: 100
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 12 kg, at: [500 mm, 0 mm, 30 mm]}
bulkheads:
  - {name: B1, at: 900 mm, top: 80 mm}
compartments: [aft, fore]
weights:
  - {name: crate, mass: 200 g, at: [500 mm, 0 mm, 100 mm], later: true}
openings:
  - {name: cut, between: [outside, fore], at: [1000 mm, 0 mm, 20 mm], hole: 20 mm}
marks:
  - {name: M, at: [1000 mm, 0 mm, 150 mm]}
`

func floatingTub() string { return strings.Replace(tub, ", top: 80 mm", "", 1) }

// outcome is what a run of the program came to.
type outcome struct {
	status         int
	stdout, stderr string
	dir            string
}

// byhead runs the program in a folder of its own that holds tub.yaml and what files adds (nil content: nothing).
func byhead(t *testing.T, files map[string]string, stdin string, args ...string) outcome {
	t.Helper()
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	for name, content := range files {
		write(t, dir, name, content)
	}
	return byheadIn(t, dir, stdin, args...)
}

func byheadIn(t *testing.T, dir, stdin string, args ...string) outcome {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status := run(context.Background(), args, strings.NewReader(stdin), &stdout, &stderr, dir)
	return outcome{status, stdout.String(), stderr.String(), dir}
}

func write(t *testing.T, dir, name, content string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o666); err != nil {
		t.Fatal(err)
	}
}

// left are the files in a folder.
func left(t *testing.T, dir string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// want checks the status and that stdout and stderr hold a text ("" means: is empty).
func (o outcome) want(t *testing.T, status int, stdout, stderr string) {
	t.Helper()
	if o.status != status {
		t.Errorf("status %d, want %d; stderr: %s", o.status, status, o.stderr)
	}
	holds := func(stream, got, want string) {
		t.Helper()
		if want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%s is %q, want %q in it", stream, got, want)
		}
	}
	holds("stdout", o.stdout, stdout)
	holds("stderr", o.stderr, stderr)
}

func TestWrongCommandLines(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"snik tub.yaml", "did you mean sink?"},
		{"xyzzy", "the commands are ballast, check, compare, demo, fit, float, gather, report, schema, shoot, sink, size, spread, templates, version"},
		{"sink tub.yaml --jsn", "did you mean --json?"},
		{"sink tub.yaml --quite-another", "sink has no flag --quite-another; see byhead sink --help"},
		{"sink", "takes one FILE and was given 0"},
		{"check a b", "takes one FILE and was given 2"},
		{"version now", "takes no arguments"},
		{"demo a b", "takes one NAME"},
		{"demo nowhere", "there is no demo"},
		{"sink tub.yaml --tolerance 2", "from 1e-12 to 0.1"},
		{"sink tub.yaml --tolerance NaN", "from 1e-12 to 0.1"},
		{"sink tub.yaml --tolerance 0", "from 1e-12 to 0.1"},
		{"sink tub.yaml --tolerance tight", "invalid argument"},
		{"sink tub.yaml --trace -", "needs a file's name"},
		{"sink tub.yaml --trace", "flag needs an argument"},
		{"float missing.yaml", "missing.yaml:1:1: there is no such file; the path of a scenario"},
		{"float .", ".:1:1: the file cannot be read (it is a folder); the path of a scenario"},
		{"float demo:nowhere", "demo:nowhere:1:1: there is no demo"},
	} {
		byhead(t, nil, "", strings.Fields(c.args)...).want(t, statusWrongInput, "", c.want)
	}
}

func TestWrongScenarios(t *testing.T) {
	for name, c := range map[string]struct{ content, want string }{
		"empty.yaml":   {"", "empty.yaml:1:1: "},
		"unknown.yaml": {strings.Replace(tub, "bulkheads:", "bulkhead:", 1), "unknown.yaml:7:1: "},
		"bare.yaml":    {strings.Replace(tub, "1 m,", "1,", 1), "bare.yaml:5:17: "},
		"outside.yaml": {strings.Replace(tub, "at: 900 mm", "at: 1900 mm", 1), "outside.yaml:8:"},
		"large.yaml":   {tub + strings.Repeat("# a long comment\n", 70000), "large.yaml:"},
		"table.yaml":   {"format: 1\nhull:\n  offsets: {unit: mm, file: ../table.csv}\n", "table.yaml:3:"},
	} {
		for _, command := range []string{"check", "float", "sink"} {
			o := byhead(t, map[string]string{name: c.content}, "", command, name)
			o.want(t, statusWrongInput, "", c.want)
		}
	}
}

// All that is wrong is told in one go, each on a line of its own that begins with its place.
func TestAllFaultsAtOnce(t *testing.T) {
	broken := strings.Replace(strings.Replace(tub, "12 kg", "12", 1), "hole: 20 mm", "hole: 20", 1)
	o := byhead(t, map[string]string{"broken.yaml": broken}, "", "check", "broken.yaml")
	o.want(t, statusWrongInput, "", "broken.yaml:6:")
	lines := strings.Split(strings.TrimSpace(o.stderr), "\n")
	if len(lines) != 2 || !strings.HasPrefix(lines[0], "broken.yaml:6:") || !strings.HasPrefix(lines[1], "broken.yaml:13:") {
		t.Errorf("stderr is %q", o.stderr)
	}
}

// A scenario may name files of its own folder only, and none from standard input.
func TestWhereFilesAreReadFrom(t *testing.T) {
	withTable := "format: 1\nhull:\n  offsets: {unit: mm, file: table.csv}\n  mirror: true\n  shell: {mass: 1 kg, at: [500 mm, 0 mm, 20 mm]}\n"
	table := "x,z,y\n0,0,50\n0,80,50\n1000,0,50\n1000,80,50\n"
	files := map[string]string{"hull.yaml": withTable, "table.csv": table}
	byhead(t, files, "", "check", "hull.yaml").want(t, statusDone, "8.000 l", "")
	byhead(t, files, withTable, "check", "-").want(t, statusWrongInput, "", "-:3:")
	byhead(t, nil, tub, "check", "-").want(t, statusDone, "30.000 l", "")

	secret := t.TempDir()
	write(t, secret, "table.csv", table)
	dir := t.TempDir()
	write(t, dir, "hull.yaml", withTable)
	if err := os.Symlink(filepath.Join(secret, "table.csv"), filepath.Join(dir, "table.csv")); err != nil {
		t.Skip("no symbolic links here: ", err)
	}
	byheadIn(t, dir, "", "check", "hull.yaml").want(t, statusWrongInput, "", "hull.yaml:3:")
}

func TestPlainCommands(t *testing.T) {
	byhead(t, nil, "", "version").want(t, statusDone, "byhead "+scenarios.Version+"\n", "")
	byhead(t, nil, "", "schema").want(t, statusDone, `"$schema"`, "")
	byhead(t, nil, "", "--help").want(t, statusDone, "no basis for the safety of a real vessel", "")
	byhead(t, nil, "").want(t, statusDone, "Usage:", "")
	byhead(t, nil, "", "__complete", "sink", "demo:").want(t, statusDone, "demo:packet\n", "ShellCompDirectiveNoFileComp")
}

type closedPipe struct{}

func (closedPipe) Write([]byte) (int, error) { return 0, errors.New("closed") }

func TestResultsThatCannotBeWritten(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "tub.yaml", tub)
	for _, command := range []string{"check", "float", "sink"} {
		var stderr bytes.Buffer
		status := run(context.Background(), []string{command, "tub.yaml"}, strings.NewReader(""), closedPipe{}, &stderr, dir)
		if status != statusFailed || !strings.Contains(stderr.String(), "closed") {
			t.Errorf("%s: status %d, stderr %q", command, status, &stderr)
		}
	}
}
