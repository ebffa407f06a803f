package scenarios

import (
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
)

// eventKinds are all of them, so that a new one without words is found.
var eventKinds = [...]flood.EventKind{
	flood.Overtopped, flood.Filled, flood.AirLost, flood.Opened, flood.Shut, flood.BrokeThrough, flood.Parted, flood.DeckEdgeUnder,
	flood.Capsized, flood.PastVertical, flood.Foundered, flood.TouchedBottom, flood.SettledDown, flood.LostStability,
}

func TestEveryEventHasWords(t *testing.T) {
	w, seen := wordsIn(t, "mm", 1), map[string]flood.EventKind{}
	for _, kind := range eventKinds {
		text := w.Event(flood.Event{Kind: kind, Name: "NAME"})
		if !strings.Contains(text, "NAME") || strings.Contains(text, "-") || seen[text] != "" {
			t.Errorf("%s: %q (also of %q)", kind, text, seen[text])
		}
		seen[text] = kind
	}
	if got := w.Event(flood.Event{Kind: flood.Filled, Name: "hold", Section: "bow"}); got != "hold is full in bow" {
		t.Errorf("an event in a section: %q", got)
	}
	if got := w.Event(flood.Event{Kind: flood.Foundered, Name: "hull", Section: "hull"}); got != "the hull goes under" {
		t.Errorf("an event of the hull: %q", got)
	}
}

func TestEveryWarningBeginsWithItsName(t *testing.T) {
	w := wordsIn(t, "mm", 1)
	for _, kind := range []flood.WarningKind{flood.DryHoleHolds, flood.DryEdgeHolds, flood.NoVolume, flood.KeelUp, flood.Chatters} {
		text := w.Warning(flood.Warning{Kind: kind, Name: "NAME", Value: 0.5})
		if !strings.HasPrefix(text, "NAME: ") || strings.Contains(text, string(kind)) || strings.Contains(text, "\n") {
			t.Errorf("%s: %q", kind, text)
		}
	}
}

func TestEveryCauseHasWords(t *testing.T) {
	w := wordsIn(t, "mm", 1)
	for _, cause := range []flood.FailureCause{flood.StepTooSmall, flood.NotFinite, flood.TooManySteps, flood.Creeping, flood.NoRest} {
		text := w.Failure(&flood.Failure{Time: 3, Cause: cause, Name: "NAME"})
		if !strings.Contains(text, "NAME") || strings.Contains(text, string(cause)) || !strings.Contains(text, "3.0 s") {
			t.Errorf("%s: %q", cause, text)
		}
	}
}

func TestFates(t *testing.T) {
	w, nan := wordsIn(t, "mm", 100), math.NaN()
	r := &flood.Result{Duration: 90, Events: []flood.Event{{Time: 6, Kind: flood.Capsized, Name: "hull"}}}
	for _, c := range []struct {
		section flood.SectionResult
		trim    float64
		want    string
	}{
		{flood.SectionResult{Name: "hull", Fate: flood.Founders, Foundered: 60}, 0.3, "the hull founders by the head after 60.0 s (full size 10 min 00 s)"},
		{flood.SectionResult{Name: "hull", Fate: flood.Founders, Foundered: 60}, -0.3, "the hull founders by the stern after"},
		{flood.SectionResult{Name: "bow", Fate: flood.Founders, Foundered: 60}, 0.001, "section bow founders after"},
		{flood.SectionResult{Name: "hull", Fate: flood.Capsizes, Foundered: nan}, nan, "the hull capsizes after 6.0 s (full size 60.0 s)"},
		{flood.SectionResult{Name: "hull", Fate: flood.Capsizes, Foundered: 60}, nan, "and goes under after 60.0 s"},
		{flood.SectionResult{Name: "hull", Fate: flood.Floats}, 0, "the hull stays afloat"},
		{flood.SectionResult{Name: "hull", Fate: flood.Grounds}, 0, "lies on the bottom"},
		{flood.SectionResult{Name: "hull", Fate: flood.Undecided, Tends: flood.Sinking}, 0, "it was sinking"},
		{flood.SectionResult{Name: "hull", Fate: flood.Undecided, Tends: flood.Levelling}, 0, "levelling"},
		{flood.SectionResult{Name: "hull", Fate: flood.Undecided, Tends: flood.Levelling, OnlySwings: true}, 0, "not come to rest"},
		{flood.SectionResult{Name: "hull"}, 0, "no fate"},
	} {
		if got := w.Fate(&c.section, r, c.trim); !strings.Contains(got, c.want) {
			t.Errorf("%q, want %q in it", got, c.want)
		}
	}
}
