package main

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// inParts is a tub that parts, with trapped air and variants: every chart has something to show.
const inParts = `format: 1
title: A tub in two <parts> & "air"
scale: 64
water: {kind: fresh, depth: 600 mm}
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 10 kg, at: [500 mm, 0 mm, 30 mm], over: [0 mm, 1 m]}
bulkheads:
  - {name: B1, at: 500 mm}
compartments:
  - {name: aft, airtight: true}
  - fore
openings:
  - {name: cut, between: [outside, fore], at: [1000 mm, 0 mm, 20 mm], hole: 20 mm}
  - {name: tear, between: [outside, aft], at: [500 mm, 0 mm, 20 mm], hole: 20 mm}
joints:
  - {name: J1, at: 500 mm, sections: [stern, bow], keeps: after, holds: {hogging: 40 N.m, sagging: 40 N.m}, release: {time: 20 s}}
run: {until: 60 s, every: 1 s}
variants:
  - {name: late, set: {joints.J1.release.time: 30 s}}
  - {name: small, set: {openings.cut.hole: 10 mm}}
`

func report(t *testing.T, args ...string) outcome {
	t.Helper()
	return byhead(t, map[string]string{"parts.yaml": inParts}, "", append([]string{"report"}, args...)...)
}

func (o outcome) file(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(o.dir, name))
	if err != nil {
		t.Fatal(err, o.stderr)
	}
	return string(data)
}

// The page has the verdict and the story in words that need no script, escaped; and nothing that is fetched from elsewhere.
func TestReport(t *testing.T) {
	o := report(t, "parts.yaml", "-o", "parts.html")
	if o.status != 0 || o.stdout != "" {
		t.Fatal(o)
	}
	html := o.file(t, "parts.html")
	for _, want := range []string{
		"<h1>A tub in two &lt;parts&gt; &amp; &#34;air&#34;</h1>", ">as given</b>", ">late</b>", "the hull parts at J1",
		"is a basis for the safety of a real vessel", "For models only", "licensed naval architect", "never alone", `id="chart-attitude"`, `id="chart-drafts"`,
		`id="chart-water"`, `id="chart-air"`, `id="chart-bending"`, `id="chart-strength"`, "J1 holds 40, hogging", "1:64",
	} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	links := regexp.MustCompile(`(?i)(src|href)="[^#"]|url\(|@import|https?://`)
	for _, l := range links.FindAllStringIndex(strings.ReplaceAll(html, `xmlns="http://www.w3.org/2000/svg"`, ""), -1) {
		t.Errorf("the page points elsewhere: %s", html[max(0, l[0]-40):min(len(html), l[1]+40)])
	}
	alone := report(t, "parts.yaml", "--alone", "-o", "-")
	if strings.Contains(alone.stdout, ">as given</b>") || !strings.HasPrefix(alone.stdout, "<!doctype html>") {
		t.Error("--alone shows more than the file's own run, or - does not write to standard output")
	}
}

// The variants that are shown are those that were asked for.
func TestReportVariants(t *testing.T) {
	for _, c := range []struct {
		flag string
		want []string
	}{{"small", []string{"as given", "small"}}, {"late,small", []string{"late", "small"}}} {
		o := report(t, "parts.yaml", "--variants", c.flag, "-o", "-")
		var got []string
		for _, m := range regexp.MustCompile(`<p class="verdict"><b class="tag">([^<]*)</b>`).FindAllStringSubmatch(o.stdout, -1) {
			got = append(got, m[1])
		}
		if strings.Join(got, ",") != strings.Join(c.want, ",") {
			t.Errorf("--variants %s shows %v", c.flag, got)
		}
	}
	o := report(t, "parts.yaml", "--variants", "smal", "-o", "x.html")
	if o.status != 2 || !strings.Contains(o.stderr, `no variant "smal"`) {
		t.Error(o)
	}
}

// Every chart is a whole SVG file; one that a run has nothing for is refused with what it wants.
func TestReportCharts(t *testing.T) {
	for _, chart := range []string{"attitude", "drafts", "water", "air", "bending", "strength"} {
		o := report(t, "parts.yaml", "--chart", chart, "-o", "c.svg")
		if o.status != 0 {
			t.Error(o)
			continue
		}
		svg := o.file(t, "c.svg")
		paths := 0
		for d := xml.NewDecoder(strings.NewReader(svg)); ; {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", chart, err)
			}
			if e, ok := token.(xml.StartElement); ok && e.Name.Local == "path" {
				paths++
			}
		}
		if paths == 0 || strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
			t.Errorf("%s: %d lines, or a number that is none", chart, paths)
		}
	}
	o := report(t, "tub.yaml", "--chart", "air", "-o", "c.svg")
	if o.status != 2 || !strings.Contains(o.stderr, "for want of an airtight compartment; it has attitude, drafts, water") {
		t.Error(o)
	}
}

func TestReportFaults(t *testing.T) {
	for _, c := range []struct {
		args   []string
		status int
		want   string
	}{
		{[]string{"parts.yaml"}, 2, "such as -o sink.html"},
		{[]string{"parts.yaml", "-o", "parts.yaml"}, 2, "does not end in .html"},
		{[]string{"parts.yaml", "-o", "x.html", "--chart", "water"}, 2, "does not end in .svg"},
		{[]string{"parts.yaml", "-o", "x.svg", "--chart", "watr"}, 2, "did you mean water?"},
		{[]string{"parts.yaml", "-o", "x.html", "--alone", "--variants", "late"}, 2, "exclude each other"},
		{[]string{"parts.yaml", "-o", "x.html", "--variants", "a,b,c"}, 2, "one or two are shown"},
		{[]string{"parts.yaml", "-o", "x.svg", "--chart", "water", "--variants", "late,small"}, 2, "shows one run"},
		{[]string{"parts.yaml", "-o", "there/is/no/folder.html", "--alone"}, 1, "cannot be written"},
	} {
		o := report(t, c.args...)
		if o.status != c.status || !strings.Contains(o.stderr, c.want) {
			t.Errorf("%v: status %d, %q; want %d with %q", c.args, o.status, o.stderr, c.status, c.want)
		}
		if left, _ := filepath.Glob(filepath.Join(o.dir, "x.*")); len(left) > 0 {
			t.Errorf("%v: it left %v", c.args, left)
		}
	}
	dir := t.TempDir()
	write(t, dir, "parts.yaml", inParts)
	write(t, dir, "notes.html", "my notes")
	o := byheadIn(t, dir, "", "report", "parts.yaml", "--alone", "-o", "notes.html")
	if o.status != 1 || !strings.Contains(o.stderr, "exists and is no page") || o.file(t, "notes.html") != "my notes" {
		t.Error(o)
	}
}

// The same file gives the same page, to the byte.
func TestReportIsTheSameEveryTime(t *testing.T) {
	a, b := report(t, "parts.yaml", "-o", "-"), report(t, "parts.yaml", "-o", "-")
	if a.stdout != b.stdout || a.stdout == "" {
		t.Error("two reports of one file differ")
	}
}
