package scenarios

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/google/go-cmp/cmp"
)

// toldStory runs a scenario and gives its story and its result.
func toldStory(t *testing.T, text string) (string, *flood.Result) {
	t.Helper()
	s, err := Read(nil, "-", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.Build()
	if err != nil {
		t.Fatal(err)
	}
	story := NewStory(s, v)
	run, err := flood.Start(v, flood.Settings{Samples: story.Sample})
	if err != nil {
		t.Fatal(err)
	}
	result, err := run.Finish(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := story.Write(&out, result); err != nil {
		t.Fatal(err)
	}
	return out.String(), result
}

// What the story says would save the hull does: a little more and it floats, a little less and it founders.
func TestOppositeVerdictIsTrue(t *testing.T) {
	text, _ := toldStory(t, holedBox)
	found := regexp.MustCompile(`bulkhead B1: .* higher \(its top at ([0-9.]+) mm`).FindStringSubmatch(text)
	if found == nil {
		t.Fatalf("no height is told in:\n%s", text)
	}
	top, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		top  float64
		want flood.Fate
	}{{top + 0.3, flood.Floats}, {top - 0.3, flood.Founders}} { // told to a tenth of a millimetre
		_, r := toldStory(t, strings.Replace(holedBox, "top: 80 mm", fmt.Sprintf("top: %g mm", c.top), 1))
		if r.Fate != c.want {
			t.Errorf("top at %g mm: %s, want %s", c.top, r.Fate, c.want)
		}
	}
}

// And the other way round: what it says would sink a hull that floats.
func TestOppositeVerdictOfAFloatingHull(t *testing.T) {
	text, _ := toldStory(t, strings.Replace(holedBox, "top: 80 mm", "top: 100 mm", 1))
	found := regexp.MustCompile(`bulkhead B1: with its top more than ([0-9.]+) mm lower .* would founder`).FindStringSubmatch(text)
	if found == nil {
		t.Fatalf("no height is told in:\n%s", text)
	}
	lower, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		lower float64
		want  flood.Fate
	}{{lower - 0.3, flood.Floats}, {lower + 0.3, flood.Founders}} {
		_, r := toldStory(t, strings.Replace(holedBox, "top: 80 mm", fmt.Sprintf("top: %g mm", 100-c.lower), 1))
		if r.Fate != c.want {
			t.Errorf("%g mm lower: %s, want %s", c.lower, r.Fate, c.want)
		}
	}
}

// A hull holed amidships needs the walls on both sides of the hole: neither alone saves it, and the heights told for both do.
func TestOppositeVerdictNeedsTwo(t *testing.T) {
	const amidships = `format: 1
hull:
  box: {length: 1 m, breadth: 200 mm, depth: 150 mm}
  shell: {mass: 16 kg, at: [500 mm, 0 mm, 30 mm]}
bulkheads:
  - {name: B1, at: 400 mm, top: 85 mm}
  - {name: B2, at: 600 mm, top: 83 mm}
compartments: [aft, mid, fore]
openings:
  - {name: cut, between: [outside, mid], at: [500 mm, 0 mm, 0 mm], hole: 20 mm}
`
	text, _ := toldStory(t, amidships)
	// closed form, held by both: 16 kg on 0.8 of the waterplane of a level box draw 16/999.1/0.16 = 100.1 mm; trim is 0 by symmetry
	if !strings.Contains(text, "no bulkhead alone, but together: B2 17.1 mm higher (its top at 100.1 mm, or up to the deck) and B1 15.1 mm higher (its top at 100.1 mm") {
		t.Errorf("the story is:\n%s", text)
	}
	for top, want := range map[string]flood.Fate{"99.8 mm": flood.Founders, "100.4 mm": flood.Floats} {
		raised := strings.NewReplacer("top: 85 mm", "top: "+top, "top: 83 mm", "top: "+top).Replace(amidships)
		if _, r := toldStory(t, raised); r.Fate != want {
			t.Errorf("tops at %s: %s, want %s", top, r.Fate, want)
		}
	}
}

// What stands beside an event is how the body lay at that time: the later of two samples at one time.
func TestMomentsOfEvents(t *testing.T) {
	s := &Story{words: wordsIn(t, "mm", 1), upright: map[string]*stood{}}
	sample := func(time float64, event bool, trim float64) {
		s.Sample(&flood.Sample{Time: time, Event: event, Bodies: []flood.BodySample{{Name: "hull", Present: true, Trim: trim}}})
	}
	sample(0, false, 0)
	sample(0.5, false, 0.1)
	sample(0.7, true, 0.2)
	sample(0.7, true, 0.3)
	sample(1, false, 0.4)
	for _, c := range []struct{ time, trim float64 }{{0, 0}, {0.7, 0.3}, {1, 0.4}} {
		if got, ok := s.bodyAt(c.time, "hull"); !ok || got.Trim != c.trim {
			t.Errorf("at %g: trim %g (%t), want %g", c.time, got.Trim, ok, c.trim)
		}
	}
	if got, ok := s.bodyAt(0.6, "hull"); ok {
		t.Errorf("at 0.6 nothing was kept: %v", got)
	}
	if _, ok := s.bodyAt(0, "bow"); ok {
		t.Error("there is no bow")
	}
}

// The whole text of a made-up run.
func TestStoryText(t *testing.T) {
	v := built(t, holedBox)
	s := &Story{words: wordsIn(t, "mm", 100), title: "A tub", motion: Settled, vessel: v, upright: map[string]*stood{}}
	hull := flood.BodySample{Name: "hull", Present: true, Trim: 0.02, Heel: -0.05, Freeboard: 0.0311, GM: -0.002}
	s.Sample(&flood.Sample{Time: 0, Bodies: []flood.BodySample{{Name: "hull", Present: true, Freeboard: 0.09, GM: 0.01}}})
	s.Sample(&flood.Sample{Time: 36, Event: true, Bodies: []flood.BodySample{hull}})
	var out strings.Builder
	err := s.Write(&out, &flood.Result{
		Duration: 36, Ended: flood.EndedSettled, Fate: flood.Capsizes,
		Sections: []flood.SectionResult{{Name: "hull", Fate: flood.Capsizes, Foundered: math.NaN(), WorstHeel: -0.05}},
		Events:   []flood.Event{{Time: 36, Kind: flood.Capsized, Name: "hull", Section: "hull"}},
		Margins: []flood.Margin{
			{Name: "B1", Kind: flood.MarginEdge, Closest: 0.0032, Time: 30},
			{Name: "hull", Kind: flood.MarginDeck, Closest: 0.0311, Time: 36},
			{Name: "cut", Kind: flood.MarginMeniscus, Closest: -0.001, Time: 4},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := `A tub
water of 1000.0 kg/m3, motion settled; at full size (1:100) lengths are × 100 and times × 10

time    full size   trim               heel           freeboard  what happens
0.0 s   0.0 s       0.00°              0.00°          90.0 mm    the run starts
36.0 s  6 min 00 s  1.15° by the head  2.86° to port  31.1 mm    the hull rolls over

Verdict
  The hull capsizes after 36.0 s (full size 6 min 00 s).
  Worst heel: 2.86° to port.

Margins
  bulkhead B1: the water stayed 3.2 mm (full size 0.32 m) below its top, closest at 30.0 s (full size 5 min 00 s).
  least freeboard of the hull: 31.1 mm (full size 3.11 m) at 36.0 s (full size 6 min 00 s).

For the opposite verdict (by the balance at rest; run it again to be sure)
  it rolled over from a heel of 2.86° to port; its GM was 10.0 mm (full size 1.00 m) at the start and fell to -2.0 mm (full size -0.20 m) at 36.0 s (full size 6 min 00 s).
  weights lower, or water that runs across the hull divided by walls along it.

Where a meniscus could decide (a first, dry take differs from the next)
  cut: dry, it holds back 1.0 mm more head than ever stood at it in this run; the water would first have risen further, or stayed out.
`
	if diff := cmp.Diff(want, out.String()); diff != "" {
		t.Error(diff)
	}
}
