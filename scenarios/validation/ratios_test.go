package validation

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

var ratios = flag.Bool("ratios", false, "run the benchmarks whose ratios stand in docs/performance.md, and write them there (minutes)")

// ratioRows is what each row says, and how it is made of what the benchmarks print.
var ratioRows = []struct {
	what string
	of   func(b benchmarks) string
}{
	{"plane query, plain loop over tree, 1 102 triangles", func(b benchmarks) string { return b.times("Below/plain/1000", "Below/tree/1000") }},
	{"the same, 10 584 triangles", func(b benchmarks) string { return b.times("Below/plain/10000", "Below/tree/10000") }},
	{"the same, 105 498 triangles", func(b benchmarks) string { return b.times("Below/plain/100000", "Below/tree/100000") }},
	{"demo parting, free over settled", func(b benchmarks) string { return b.metric("Parting", "×settled", 1) }},
	{"demo parting in free motion, plane queries of its bodies", func(b benchmarks) string { return b.metric("Parting", "hull-queries", 0) }},
	{"24 runs of the demo packet, one worker over two", func(b benchmarks) string { return b.metric("Spread", "×two-workers", 2) }},
	{"steps a simulated second, four minutes of a ship of six spaces", func(b benchmarks) string {
		return figure(b["FourMinutes"]["steps"]/240, 2)
	}},
	{"300 spaces in a row over 30, time", func(b benchmarks) string { return b.times("Spaces/300", "Spaces/30") }},
}

// benchmarks are what they printed, by name and unit.
type benchmarks map[string]map[string]float64

func (b benchmarks) times(a, c string) string { return figure(b[a]["ns/op"]/b[c]["ns/op"], 1) + " ×" }

func (b benchmarks) metric(name, unit string, decimals int) string {
	text := figure(b[name][unit], decimals)
	if strings.HasPrefix(unit, "×") {
		text += " ×"
	}
	return text
}

var benchLine = regexp.MustCompile(`(?m)^Benchmark(\S+?)-\d+\s+\d+\s+(.*)$`)

// TestRatios runs the benchmarks and writes their ratios; without its flag it sees to it that the page has these very rows.
func TestRatios(t *testing.T) {
	const file, mark = "../../docs/performance.md", "<!-- ratios -->\n"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(data), mark)
	old, after, ended := strings.Cut(rest, "<!-- end -->")
	if !ok || !ended {
		t.Fatalf("%s has no %s", file, strings.TrimSpace(mark))
	}
	if !*ratios {
		for _, r := range ratioRows {
			if !strings.Contains(old, "| "+r.what+" | ") {
				t.Errorf("%s lacks %q: go test ./scenarios/validation -run Ratios -ratios", file, r.what)
			}
		}
		return
	}
	found := measured(t)
	var page table
	page.head("ratio", "measured")
	for _, r := range ratioRows {
		text := r.of(found)
		if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
			t.Fatalf("%s: %s; the benchmarks gave %v", r.what, text, found)
		}
		page.row(r.what, text)
	}
	if err := os.WriteFile(file, []byte(before+mark+page.String()+"<!-- end -->"+after), 0o666); err != nil {
		t.Fatal(err)
	}
}

// measured runs the benchmarks, each package's by itself.
func measured(t *testing.T) benchmarks {
	found := benchmarks{}
	ctx, stop := context.WithTimeout(t.Context(), 20*time.Minute)
	defer stop()
	for pkg, which := range map[string]string{
		"./hydro/solid": "Below/(plain|tree)", "./flood": "^Benchmark(FourMinutes|Spaces)$", "./scenarios": "Parting", "./scenarios/study": "Spread",
	} {
		c := exec.CommandContext(ctx, "go", "test", "-run", "xxx", "-bench", which, "-benchtime", "3x", pkg)
		if pkg == "./hydro/solid" {
			c.Args[7] = "0.2s"
		}
		c.Dir = "../.."
		out, err := c.CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%s", pkg, err, out)
		}
		for _, m := range benchLine.FindAllStringSubmatch(string(out), -1) {
			values := map[string]float64{}
			fields := strings.Fields(m[2])
			for i := 0; i+1 < len(fields); i += 2 {
				x, err := strconv.ParseFloat(fields[i], 64)
				if err != nil {
					t.Fatal(fmt.Errorf("%s: %w", m[0], err))
				}
				values[fields[i+1]] = x
			}
			found[m[1]] = values
		}
	}
	return found
}
