package scenarios_test

import (
	"os"
	"os/exec"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
)

// consumer is a module of its own that uses the engine as docs/library.md says.
const consumer = "../testdata/consumer"

// Another program's module compiles against the engine and runs, without the network: all it needs is in the module cache, since
// this module needs it too.
func TestConsumerModule(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		t.Skip("left out: there is no go command, and with it nothing that could build another module")
	}
	t.Parallel()
	for _, c := range []struct{ args, want string }{
		{"run .", "she founders"},
		{"test ./...", "ok"},
	} {
		cmd := exec.CommandContext(t.Context(), "go", strings.Fields(c.args)...)
		cmd.Dir = consumer
		cmd.Env = append(os.Environ(), "GOPROXY=off", "GOFLAGS=-mod=readonly", "GOWORK=off", "GOTOOLCHAIN=local")
		out, err := cmd.CombinedOutput()
		if err != nil || !strings.Contains(string(out), c.want) {
			t.Errorf("go %s in %s: %v (after a change of dependencies: go mod tidy there)\n%s", c.args, consumer, err, out)
		}
	}
}

// What docs/library.md shows first is what the consumer compiles, but for how errors are handed on.
func TestLibraryPageCompiles(t *testing.T) {
	page, err := os.ReadFile("../docs/library.md")
	if err != nil {
		t.Fatal(err)
	}
	program, err := os.ReadFile(consumer + "/main.go")
	if err != nil {
		t.Fatal(err)
	}
	_, block, _ := strings.Cut(string(page), "```go\n")
	block, _, _ = strings.Cut(block, "```")
	lines := 0
	bare := regexp.MustCompile(`\s+//.*`).ReplaceAllString(string(program), "")
	for line := range strings.Lines(block) {
		line = strings.TrimSpace(regexp.MustCompile(`\s*//.*`).ReplaceAllString(line, ""))
		if line == "" || line == "}" {
			continue
		}
		if lines++; !strings.Contains(bare, "\t"+line) {
			t.Errorf("%s has no line %q", consumer+"/main.go", line)
		}
	}
	if lines < 5 {
		t.Errorf("the page shows %d lines", lines)
	}
	for _, member := range reflect.VisibleFields(reflect.TypeFor[flood.Settings]()) {
		if !strings.Contains(string(page), "`"+member.Name+"`") {
			t.Errorf("the page does not name Settings.%s", member.Name)
		}
	}
}
