package study_test

import (
	"testing"

	"github.com/byhead/byhead/scenarios/study"
)

// The digest tells models apart by what was set in them, and by nothing else.
func TestModelDigest(t *testing.T) {
	m := read(t, clamped)
	if m.Digest() != m.Scenario.Digest {
		t.Error("a model without changes has another digest than its scenario")
	}
	with := func(m *study.Model, path string, value float64) *study.Model {
		t.Helper()
		out, err := m.With([]study.Value{{Path: path, Value: value}})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	wide, late := with(m, "openings.cut.hole", 0.03), with(m, "run.until", 100)
	both := with(wide, "run.until", 100)
	again := with(with(m, "openings.cut.hole", 0.03), "run.until", 100)
	seen := map[string]bool{}
	for _, x := range []*study.Model{m, wide, late, both} {
		seen[x.Digest()] = true
	}
	if len(seen) != 4 || both.Digest() != again.Digest() {
		t.Errorf("four models have %d digests, the same one %s and %s", len(seen), both.Digest(), again.Digest())
	}
}
