package validation

import (
	"encoding/json"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

var sources = flag.String("mutants", "", "break the engine's source, one place at a time in files with this in their path, and see that the page fails; . is all of them: minutes")

// edit is a place in the source, and what is to stand there instead.
type edit struct{ file, old, new string }

var edits = []edit{
	{"hydro/coefficients.go", "0.81, 0.742,", "0.81, 0.752,"},
	{"hydro/coefficients.go", "weirRise    = 0.075", "weirRise    = 0.0075"},
	{"hydro/orifice.go", "(24 + 128*wall/(math.Pi*d))", "(24 + 64*wall/(math.Pi*d))"},
	{"hydro/water.go", "math.Pow(tau, 1.256)", "math.Pow(tau, 1.266)"},
	{"hydro/airflow.go", "expansionLoss = 0.351", "expansionLoss = 0.41"},
	{"hydro/exchange.go", "exchangeShare = 1.0 / 3", "exchangeShare = 1.0 / 4"},
	{"hydro/view.go", "(math.Asin(u)+u*math.Sqrt(1-u*u))/math.Pi", "(math.Asin(u)-u*math.Sqrt(1-u*u))/math.Pi"},
	{"compartment/balance.go", "second = second.Add(s.Second.Scale(-1))", "second = second.Add(s.Second.Scale(-0.9))"},
	{"compartment/stability.go", "second = second.Add(f.surfaces[i].Second.Scale(-1))", "second = second.Add(f.surfaces[i].Second.Scale(-0.9))"},
	{"compartment/balance.go", "lift := r3.Dot(p.Up, excess)", "lift := -r3.Dot(p.Up, excess)"},
	{"compartment/loadcurve.go", "sum = sum.plus(upward{below.Volume, below.Moment}.times(k.weight))", "sum = sum.plus(upward{below.Volume, below.Moment}.times(1.01 * k.weight))"},
	{"compartment/motioncoefficients.go", "squareExcess = 0.186", "squareExcess = 0.286"},
	{"flood/kinetics.go", "trace*r3.Dot(turn, turn) - r3.Dot(turn, about.Apply(turn))", "trace*r3.Dot(turn, turn) + r3.Dot(turn, about.Apply(turn))"},
}

// TestSourceMutants compiles the engine with each edit laid over it and wants the page to fail.
func TestSourceMutants(t *testing.T) {
	if *sources == "" {
		t.Skip("-mutants . runs it")
	}
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range edits {
		if !strings.Contains(e.file, *sources) {
			continue
		}
		name := filepath.Join(root, e.file)
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(text), e.old); n != 1 {
			t.Errorf("%s has %q %d times, not once", e.file, e.old, n)
			continue
		}
		folder := t.TempDir()
		broken, overlay := filepath.Join(folder, "broken.go"), filepath.Join(folder, "overlay.json")
		plan, _ := json.Marshal(map[string]map[string]string{"Replace": {name: broken}})
		if err := os.WriteFile(broken, []byte(strings.Replace(string(text), e.old, e.new, 1)), 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(overlay, plan, 0o666); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("go", "test", "-overlay", overlay, "-run", "TestPage$", ".").CombinedOutput()
		if err == nil || !strings.Contains(string(out), "--- FAIL: TestPage") {
			t.Errorf("%s: with %q the page still holds, %v\n%s", e.file, e.new, err, out)
			continue
		}
		t.Logf("%s: %q: %d lines of failure", e.file, e.new, strings.Count(string(out), "page_test.go"))
	}
}
