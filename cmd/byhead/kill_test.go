package main

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// held is the tub with its tolerances, held in the water: its runs take about a millisecond.
const held = wide + "run: {motion: held, keel: -100 mm, until: 20 s}\n"

// TestProgram is no test: it is the program itself, in a process that others can kill. BYHEAD_TEST_ARGS has its arguments.
func TestProgram(t *testing.T) {
	args, ok := os.LookupEnv("BYHEAD_TEST_ARGS")
	if !ok {
		t.Skip("only as a process of another test")
	}
	os.Exit(run(context.Background(), strings.Split(args, "\n"), strings.NewReader(""), os.Stdout, os.Stderr, "."))
}

// program is the program with its arguments as a process of its own.
func program(t *testing.T, dir string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Skip("this test does not know its own file: ", err)
	}
	c := exec.Command(self, "-test.run", "^TestProgram$")
	c.Dir = dir
	c.Env = append(os.Environ(), "BYHEAD_TEST_ARGS="+strings.Join(args, "\n"))
	return c
}

// A spread that is killed ten times at random moments, without a word of warning, and resumed each time, leaves the same records
// and gives the same document as one that nobody disturbed. A study that got to its end in spite of it is begun anew, until
// ten kills have come in the middle of one.
func TestSpreadIsKilled(t *testing.T) {
	const kills, mostTries = 10, 200
	dir := t.TempDir()
	write(t, dir, "held.yaml", held)
	args := []string{"spread", "held.yaml", "--runs", strconv.Itoa(killedRuns), "--workers", "2", "--json", "--records"}
	calm := byheadIn(t, dir, "", append(args, "calm.ndjson")...)
	calm.want(t, statusDone, fmt.Sprintf(`"runs": %d`, killedRuns), "note: ")
	want, _ := os.ReadFile(filepath.Join(dir, "calm.ndjson"))
	args = append(args, "killed.ndjson", "--resume")
	path := filepath.Join(dir, "killed.ndjson")
	random := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 0))
	for landed, tries := 0, 0; landed < kills; tries++ {
		if tries == mostTries {
			t.Fatalf("only %d of %d kills came in the middle of a study", landed, tries)
		}
		before, after := kill(t, program(t, dir, args...), path, random)
		switch {
		case after == killedRuns:
			if got, _ := os.ReadFile(path); !bytes.Equal(got, want) {
				t.Fatal("the records of a study that got to its end are others than those of the undisturbed one")
			}
			if landed < kills {
				os.Remove(path)
			}
		case after > before:
			if landed++; landed%3 == 0 { // what a kill in the middle of a write leaves
				info, _ := os.Stat(path)
				if err := os.Truncate(path, info.Size()-1-random.Int64N(9)); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	byheadIn(t, dir, "", args...).want(t, statusDone, calm.stdout, "note: ")
	if got, _ := os.ReadFile(path); !bytes.Equal(got, want) {
		t.Error("the records are others than those of the undisturbed study")
	}
}

const killedRuns = 400

// kill starts a spread, lets it go on by a random number of bytes and then a random moment, and kills it. It gives the whole lines
// before and after.
func kill(t *testing.T, c *exec.Cmd, path string, random *rand.Rand) (before, after int) {
	t.Helper()
	data, _ := os.ReadFile(path)
	before = bytes.Count(data, []byte("\n"))
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	until := int64(len(data) + random.IntN(20_000))
	for began := time.Now(); time.Since(began) < 20*time.Second; time.Sleep(200 * time.Microsecond) {
		info, err := os.Stat(path)
		if err == nil && info.Size() > until || bytes.Count(data, []byte("\n")) == killedRuns {
			break
		}
	}
	time.Sleep(time.Duration(random.IntN(2000)) * time.Microsecond)
	c.Process.Kill()
	c.Wait()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return before, bytes.Count(data, []byte("\n"))
}

// Ctrl-C leaves whole lines, says how to go on, and that way leads to the same end. A study that was done before it came is
// begun anew.
func TestSpreadIsInterrupted(t *testing.T) {
	for range 20 {
		dir := t.TempDir()
		write(t, dir, "held.yaml", held)
		status, stdout, stderr := interrupted(dir, "spread", "held.yaml", "--runs", "300", "--records", "r.ndjson")
		if status == statusDone {
			continue
		}
		_, again, ok := strings.Cut(stderr, "to go on: byhead ")
		if status != statusInterrupted || stdout != "" || !ok {
			t.Fatalf("status %d, stdout %q, stderr %q", status, stdout, stderr)
		}
		data, _ := os.ReadFile(filepath.Join(dir, "r.ndjson"))
		if !bytes.HasSuffix(data, []byte("\n")) {
			t.Error("the records end within a line")
		}
		again, _, _ = strings.Cut(again, "\n")
		byheadIn(t, dir, "", strings.Fields(again)...).want(t, statusDone, "300 of 300 runs", "note: ")
		return
	}
	t.Error("no study was interrupted")
}

// interrupted runs the program until a few records are there.
func interrupted(dir string, args ...string) (status int, stdout, stderr string) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	go func() {
		for ctx.Err() == nil {
			if info, err := os.Stat(filepath.Join(dir, "r.ndjson")); err == nil && info.Size() > 3000 {
				stop()
			}
			time.Sleep(time.Millisecond)
		}
	}()
	var out, diagnosis bytes.Buffer
	status = run(ctx, args, strings.NewReader(""), &out, &diagnosis, dir)
	return status, out.String(), diagnosis.String()
}

func TestRunLine(t *testing.T) {
	if got, want := runLine(250, 1000, 50*time.Second), "[######..................] 250 of 1000 runs  5 runs/s  about 150 s left"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := runLine(0, 1000, time.Second); strings.Contains(got, "left") || strings.Contains(got, "NaN") {
		t.Errorf("nothing done yet: %q", got)
	}
}
