package scenarios

import (
	"errors"
	"os"
	"strings"
	"testing"
)

// FuzzRead: no text panics the reader; a fault is one line with a place inside the text; what reads without fault reads
// the same again; and every variant that was accepted can be made.
func FuzzRead(f *testing.F) {
	for _, path := range []string{"testdata/example.yaml", "testdata/every-key.yaml"} {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	for _, group := range [][]brokenCase{brokenYAML, brokenKeys, brokenUnits, brokenLists, brokenParts, brokenBuilds, brokenRuns, brokenVariants} {
		for _, c := range group {
			text, _ := marked(c.text)
			f.Add(text)
		}
	}
	for _, seed := range []string{"\ufeff", "a: &a\n  b: *a", "- - - - -", "? ", "a: |\n  [", "{", "[]]", "\t", "a: \"\\", "%YAML 9", "--- a\n...\nb", "a: !", "&", "*", "a: >-"} {
		f.Add(seed)
	}
	folder := testFolder()
	f.Fuzz(func(t *testing.T, text string) {
		s, err := read(folder, "boat.yaml", []byte(text), false)
		if err != nil {
			checkFaults(t, err, text)
			return
		}
		for _, v := range s.Variants {
			if _, err := s.Variant(v.Name); err != nil {
				t.Fatalf("the variant %q was accepted when read: %v", v.Name, err)
			}
		}
		if again, err := read(folder, "boat.yaml", []byte(text), false); err != nil || again.Digest != s.Digest {
			t.Fatalf("read twice, it differs: %v", err)
		}
	})
}

func checkFaults(t *testing.T, err error, text string) {
	var faults Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		t.Fatalf("not Faults: %v", err)
	}
	lines := splitLines(strings.TrimPrefix(text, "\ufeff"))
	for _, fault := range faults {
		if fault.What == "" || fault.Want == "" || strings.ContainsAny(fault.Error(), "\n\r") {
			t.Fatalf("not one line of two halves: %q", fault.Error())
		}
		if fault.File != "boat.yaml" {
			continue // a place in a named file
		}
		if fault.Line < 1 || fault.Line > len(lines) || fault.Column < 1 || fault.Column > len([]rune(lines[fault.Line-1]))+1 {
			t.Fatalf("no such place: %v", fault)
		}
	}
}
