package scenarios

import (
	"sync"
	"testing"
)

// Goroutines may share a scenario: each of them sets values and takes variants, which read the same files anew in another unit. (What
// goes wrong here is seen by the race detector, or when two write to one map.)
func TestScenarioIsShared(t *testing.T) {
	folder, data, err := OpenDemo("packet")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Read(folder, "demo:packet", data)
	if err != nil {
		t.Fatal(err)
	}
	digest := s.Digest
	var all sync.WaitGroup
	for _, unit := range []string{"cm", "m", "in", "ft", "mm"} {
		all.Go(func() {
			s.Set("hull.offsets.unit", unit) // a hull in metres or inches is refused, once the table has been read
			if _, err := s.Set("openings.cut-1.slot.width", "1 mm"); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if s.Digest != digest {
		t.Error("setting values in a scenario has changed it")
	}
}
