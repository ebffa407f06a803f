package study

import (
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// parts is an invented hull that parts twice, so that a space is divided and a wall with a hole and a gap over it is doubled.
const parts = `format: 1
hull:
  box: {length: 1200 mm, breadth: 180 mm, depth: 120 mm}
  shell: {mass: 5 kg, at: [600 mm, 0 mm, 40 mm], over: [0 mm, 1200 mm]}
bulkheads: [{name: B1, at: 400 mm}, {name: B2, at: 800 mm, top: 30 mm}]
compartments: [{name: aft}, {name: mid}, {name: fore, airtight: true}]
openings:
  - {name: weep, between: [aft, mid], at: [400 mm, 0 mm, 10 mm], hole: 6 mm}
  - {name: cut, between: [outside, fore], at: [1100 mm, 90 mm, 5 mm], hole: 20 mm}
  - {name: door, between: [outside, mid], at: [500 mm, 90 mm, 5 mm], hole: 20 mm, opens: {time: 8 s}}
joints:
  - {name: J1, at: 400 mm, sections: [stern, mid], release: {time: 2 s}}
  - {name: J2, at: 600 mm, sections: [mid, bow], release: {time: 4 s}}
run: {until: 3 min, menisci: dry}
`

// Every event of a run has a name that can be asked for, those of things that a parting has made two among them.
func TestEventsCanBeAskedFor(t *testing.T) {
	s, err := scenarios.Read(nil, "parts.yaml", []byte(parts))
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	run, err := flood.Start(v, s.Run.Settings())
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	doubled := 0
	for _, e := range r.Events {
		if e.Kind == flood.LostStability {
			continue
		}
		if err := CheckResult(v, "events."+string(e.Kind)+"."+e.Name+".time_s"); err != nil {
			t.Error(err)
		}
		if e.Kind == flood.BrokeThrough && strings.HasPrefix(e.Name, "weep.") {
			doubled++
		}
	}
	if doubled != 2 || len(r.Separations) != 2 {
		t.Errorf("%d halves of weep broke through, %d partings: %+v", doubled, len(r.Separations), r.Events)
	}
	for _, name := range ResultNames(v) {
		if strings.HasPrefix(name, "events.broke-through.B2.") && strings.Count(name, ".") == 3 {
			doubled++
		}
	}
	if doubled != 2+3 {
		t.Errorf("%d names of what happens at B2, not 3: time, trim, heel", doubled-2)
	}
}
