package main

import (
	"bytes"
	"context"
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
// and gives the same document as one that nobody disturbed.
func TestSpreadIsKilled(t *testing.T) {
	const runs, kills = 400, 10
	dir := t.TempDir()
	write(t, dir, "held.yaml", held)
	args := []string{"spread", "held.yaml", "--runs", strconv.Itoa(runs), "--json", "--records"}
	calm := byheadIn(t, dir, "", append(args, "calm.ndjson")...)
	calm.want(t, statusDone, `"runs": 400`, "note: ")
	args = append(args, "killed.ndjson", "--resume")
	path := filepath.Join(dir, "killed.ndjson")
	random := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 0))
	landed := 0 // kills that found the process with something written and something left to do
	for kill := range kills {
		c := program(t, dir, args...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		// wait until it has gone on by a random number of bytes, then a random moment more
		before, _ := os.ReadFile(path)
		until := int64(len(before) + random.IntN(20_000))
		for began := time.Now(); time.Since(began) < 20*time.Second; time.Sleep(200 * time.Microsecond) {
			if info, err := os.Stat(path); err == nil && info.Size() > until {
				break
			}
		}
		time.Sleep(time.Duration(random.IntN(2000)) * time.Microsecond)
		c.Process.Kill()
		c.Wait()
		after, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if lines := bytes.Count(after, []byte("\n")); lines > bytes.Count(before, []byte("\n")) && lines < runs {
			landed++
		}
		if kill%3 == 0 && len(after) > 10 { // what a kill in the middle of a write leaves
			if err := os.Truncate(path, int64(len(after)-1-random.IntN(9))); err != nil {
				t.Fatal(err)
			}
		}
	}
	if landed < kills/2 {
		t.Errorf("only %d of %d kills came in the middle of it", landed, kills)
	}
	byheadIn(t, dir, "", args...).want(t, statusDone, calm.stdout, "note: ")
	want, _ := os.ReadFile(filepath.Join(dir, "calm.ndjson"))
	if got, _ := os.ReadFile(path); !bytes.Equal(got, want) {
		t.Error("the records are others than those of the undisturbed study")
	}
}

// Ctrl-C leaves whole lines, says how to go on, and that way leads to the same end.
func TestSpreadIsInterrupted(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "held.yaml", held)
	args := []string{"spread", "held.yaml", "--runs", "300", "--records", "r.ndjson"}
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	go func() {
		for {
			if info, err := os.Stat(filepath.Join(dir, "r.ndjson")); err == nil && info.Size() > 3000 {
				stop()
				return
			}
			time.Sleep(time.Millisecond)
		}
	}()
	var stdout, stderr bytes.Buffer
	status := run(ctx, args, strings.NewReader(""), &stdout, &stderr, dir)
	_, again, ok := strings.Cut(stderr.String(), "to go on: byhead ")
	if status != statusInterrupted || stdout.Len() > 0 || !ok {
		t.Fatalf("status %d, stdout %q, stderr %q", status, &stdout, &stderr)
	}
	data, _ := os.ReadFile(filepath.Join(dir, "r.ndjson"))
	if !bytes.HasSuffix(data, []byte("\n")) {
		t.Error("the records end within a line")
	}
	again, _, _ = strings.Cut(again, "\n")
	byheadIn(t, dir, "", strings.Fields(again)...).want(t, statusDone, "300 of 300 runs", "note: ")
}

func TestRunLine(t *testing.T) {
	if got, want := runLine(250, 1000, 50*time.Second), "[######..................] 250 of 1000 runs  5 runs/s  about 150 s left"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := runLine(0, 1000, time.Second); strings.Contains(got, "left") || strings.Contains(got, "NaN") {
		t.Errorf("nothing done yet: %q", got)
	}
}
