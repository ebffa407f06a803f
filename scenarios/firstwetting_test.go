package scenarios

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/google/go-cmp/cmp"
)

// ended is a made-up result of a hull that ends so, with the bulkhead B1 overtopped at a time.
func ended(fate flood.Fate, at float64, events ...flood.Event) *flood.Result {
	r := &flood.Result{Duration: at, Ended: flood.EndedFoundered, Fate: fate, Events: events,
		Sections: []flood.SectionResult{{Name: "hull", Fate: fate, Foundered: math.NaN(), WorstHeel: math.NaN()}}}
	if fate == flood.Founders {
		r.Sections[0].Foundered = at
		r.Events = append(r.Events, flood.Event{Time: at, Kind: flood.Foundered, Name: "hull", Section: "hull"})
	} else {
		r.Ended = flood.EndedSettled
		r.Events = append(r.Events, flood.Event{Time: at, Kind: flood.SettledDown, Name: "hull", Section: "hull"})
	}
	return r
}

func TestFirstWettingDocument(t *testing.T) {
	wet, dry := ended(flood.Founders, 10), ended(flood.Floats, 4)
	wet.HeldBack = []flood.HeldBack{{Name: "cut", Holds: 0.01, Met: 0.008, Broke: math.NaN()}}
	if AsksForBoth(dry) || !AsksForBoth(wet) {
		t.Error("the other state is asked for where something held, and only there")
	}
	text, err := json.Marshal(NewFirstWetting(wet, dry, flood.Dry))
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{`{"menisci":"dry","held_back":["cut"],"fate":"floats","fate_differs":true,"duration_s":4,"sections":[{"name":"hull","fate":"floats"`,
		`"times":[{"event":"foundered","name":"hull","time_s":10,"other_time_s":null,"later_s":null},{"event":"settled","name":"hull","time_s":null,"other_time_s":4,"later_s":null}],"gave_up":null}`} {
		if !strings.Contains(string(text), part) {
			t.Errorf("no %s in %s", part, text)
		}
	}
	same := NewFirstWetting(wet, ended(flood.Founders, 12.5), flood.Dry)
	if same.FateDiffers || len(same.Times) != 1 || *same.Times[0].Later != 2.5 {
		t.Errorf("%+v", same)
	}
	wet.GaveUp = &flood.Failure{Time: 3, Cause: flood.TooManySteps}
	if AsksForBoth(wet) {
		t.Error("a run that gave up has nothing to compare")
	}
}

// What the story tells of both states, from its verdict on.
func TestFirstWettingWords(t *testing.T) {
	v := built(t, holedBox)
	held := func(r *flood.Result, all ...flood.HeldBack) *flood.Result { r.HeldBack = all; return r }
	for _, c := range []struct {
		name, menisci string
		r, other      *flood.Result
		want          string
	}{
		{"alone", Wet, ended(flood.Founders, 10), nil, "  The hull founders after 10.0 s.\n"},
		{"dry", Dry,
			held(ended(flood.Floats, 4), flood.HeldBack{Name: "cut", Holds: 0.01, Met: 0.008, Broke: math.NaN()}, flood.HeldBack{Name: "B1", Edge: true, Holds: 0.0035, Met: 0.004, Broke: 3}),
			ended(flood.Founders, 10),
			`  The hull stays afloat; it has come to rest after 4.0 s.
  A meniscus decides: with ` + "`menisci: wet`" + ` it ends otherwise, see below.

Where a meniscus decided (a first, dry take)
  cut: it held the water back to the end; 2.0 mm more head would have broken through.
  B1: it held the water back until 3.0 s; dry, it holds 3.5 mm of head.
  The same with ` + "`menisci: wet`" + `: another fate.
    The hull founders after 10.0 s.
`},
		{"earlier", Dry, held(ended(flood.Founders, 12), flood.HeldBack{Name: "cut", Holds: 0.01, Met: 0.02, Broke: 2}), ended(flood.Founders, 10),
			`  The hull founders after 12.0 s.

Where a meniscus decided (a first, dry take)
  cut: it held the water back until 2.0 s; dry, it holds 10.0 mm of head.
  The same with ` + "`menisci: wet`" + `: the same fate.
    The hull goes under at 10.0 s, 2.0 s earlier than in this run.
`},
	} {
		s := &Story{words: wordsIn(t, "mm", 0), vessel: v, motion: Settled, menisci: c.menisci, upright: map[string]*stood{}}
		if c.other != nil {
			s.Compare(c.other, OtherMenisci(flood.Menisci(c.menisci)))
		}
		var out strings.Builder
		if err := s.Write(&out, c.r); err != nil {
			t.Fatal(err)
		}
		_, got, _ := strings.Cut(out.String(), "Verdict\n")
		from, to := strings.Index(got, "\nFor the opposite"), strings.Index(got, "\nWhere a meniscus")
		if to < 0 {
			to = len(got)
		}
		if from >= 0 {
			got = got[:from] + got[to:]
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}
