package shoot

import (
	"math"
	"strings"
	"testing"

	"github.com/byhead/byhead/flood"
)

// TestDeepestPointOnEnd: a box of a metre that stands on its fore end with 300 mm of it out reaches 700 mm down; once it has gone
// under it counts no more, and the same for a heel, by plane geometry.
func TestDeepestPointOnEnd(t *testing.T) {
	_, v := read(t, box)
	w := newWatch(v)
	at := func(time, trim, heel, aft float64) {
		w.sample(&flood.Sample{Time: time, Bodies: []flood.BodySample{{Name: "hull", Present: true, Trim: trim, Heel: heel, DraftAft: aft}}})
	}
	at(0, 0, 0, 0.1)
	near(t, "upright", w.reach["hull"].depth, 0.1, 1e-12)
	at(1, 0, math.Pi/6, 0.1) // the lower bilge: the keel line's depth and half the breadth times sin 30°
	near(t, "heeled", w.reach["hull"].depth, 0.1+0.1*0.5, 1e-12)
	at(2, math.Pi/2, 0, -0.3)
	near(t, "on end", w.reach["hull"].depth, 0.7, 1e-12)
	near(t, "steepest", w.reach["hull"].steepest, math.Pi/2, 1e-12)
	at(3, math.Pi/2, 0, 0.5)
	near(t, "gone under", w.reach["hull"].depth, 0.7, 1e-12)
	if w.reach["hull"].time != 2 {
		t.Errorf("at %g s", w.reach["hull"].time)
	}
}

// TestMastsCount: a box keel up reaches down to what stands on it, a weight of 100 mm about 300 mm over the keel; where it rolls over
// the pool has room for all of it across.
func TestMastsCount(t *testing.T) {
	_, v := read(t, strings.Replace(box, "weights: [", "weights: [{name: mast, mass: 10 g, at: [500 mm, 0 mm, 300 mm], size: [10 mm, 10 mm, 100 mm], later: true}, ", 1))
	w := newWatch(v)
	// keel up with 80 mm of the hull under water: the keel line's after end is 70 mm above it
	w.sample(&flood.Sample{Bodies: []flood.BodySample{{Name: "hull", Present: true, Heel: math.Pi, DraftAft: -0.07}}})
	near(t, "keel up", w.reach["hull"].depth, 0.35-0.07, 1e-12)
	near(t, "across", w.reach["hull"].across(), math.Hypot(0.2, 0.35), 1e-12)
	topHeavy := planned(t, strings.Replace(box, "weights: [", "weights: [{name: mast, mass: 8 kg, at: [500 mm, 0 mm, 300 mm]}, ", 1), Options{})
	if topHeavy.Result.Fate != flood.Capsizes {
		t.Fatalf("it %s", topHeavy.Result.Fate)
	}
	near(t, "room to roll", topHeavy.Site.Sections[0].need(), math.Max(math.Hypot(0.2, 0.3), topHeavy.Site.Sections[0].need()), 0)
	near(t, "across", topHeavy.Site.Sections[0].Across, math.Hypot(0.2, 0.3), 1e-12)
}

// TestSite: depth, clear room and lines of a box that founders, by hand.
func TestSite(t *testing.T) {
	p := planned(t, box, Options{})
	s := p.Site
	if p.Result.Fate != flood.Founders || len(s.Sections) != 1 {
		t.Fatalf("%s, %+v", p.Result.Fate, s.Sections)
	}
	deepest := math.Max(s.Sections[0].Reached, 1) // a metre on end
	near(t, "depth", s.Depth, deepest+math.Max(0.1, 0.1*deepest), 1e-12)
	near(t, "clear along", s.Length, 3, 1e-12)
	near(t, "clear across", s.Breadth, 2.2, 1e-12)
	near(t, "line, lying", s.Sections[0].Line, 1.2*math.Hypot(s.Depth, 1.1), 1e-12)
	near(t, "line, on end", s.Sections[0].OnEnd, 1.2*math.Hypot(s.Depth-1, 1.1), 1e-12)
	shallow := planned(t, strings.Replace(box, "water: {", "water: {depth: 500 mm, ", 1), Options{})
	if shallow.Site.Enough() || !strings.Contains(strings.Join(shallow.Page().Blocks[3].Lines, " "), "TOO SHALLOW") {
		t.Errorf("a pool of half a metre: %+v", shallow.Page().Blocks[3])
	}
	near(t, "depth that it asks for", shallow.Site.Depth, s.Depth, 1e-9)
	if deep := planned(t, strings.Replace(box, "water: {", "water: {depth: 2 m, ", 1), Options{}); !deep.Site.Enough() {
		t.Error("a pool of two metres is not enough")
	}
}

// TestWithoutFloor: the run without the pool's floor reaches as deep as that of a scenario which gives none, and leaves the plan alone.
func TestWithoutFloor(t *testing.T) {
	deep := planned(t, box, Options{})
	shallow := planned(t, strings.Replace(box, "water: {", "water: {depth: 300 mm, ", 1), Options{})
	trims := len(shallow.last)
	w, err := shallow.withoutFloor(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "depth", w.reach["hull"].depth, deep.watch.reach["hull"].depth, 1e-9)
	if shallow.Vessel.Depth != 0.3 || len(shallow.last) != trims {
		t.Error("the plan has changed")
	}
}

// TestClearRoomOfSections: a hull of a metre that parts in halves turns about its middle, each half about its ends: half a metre all
// round.
func TestClearRoomOfSections(t *testing.T) {
	p := planned(t, strings.Replace(box, "compartments:", "joints: [{name: J, at: 500 mm, sections: [stern, bow], release: {time: 1 s}}]\ncompartments:", 1), Options{})
	near(t, "clear along", p.Site.Length, 2, 1e-9)
	near(t, "clear across", p.Site.Breadth, 1.2, 1e-9)
	if len(p.Site.Sections) != 3 || p.Site.Sections[0].Name != "hull" || p.Site.Sections[0].Line != 0 {
		t.Errorf("%+v", p.Site.Sections)
	}
}
