package page

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

func tub(t *testing.T) *compartment.Vessel {
	t.Helper()
	mass, top := 12.0, 0.08
	v, err := compartment.Build(compartment.Spec{
		Water:        compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15},
		Hull:         compartment.HullSpec{Box: &compartment.BoxSpec{Length: 1, Breadth: 0.2, Depth: 0.15}, Shell: compartment.ShellSpec{Mass: &mass, At: &r3.Vec{X: 0.5, Z: 0.03}}},
		Bulkheads:    []compartment.BulkheadSpec{{Name: "B1", At: 0.9, Top: &top}},
		Compartments: []compartment.CompartmentSpec{{Name: "aft"}, {Name: "fore"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// feed gives a recorder so many samples, every hundredth of an event.
func feed(r *Recorder, count int) {
	for i := range count {
		r.Sample(&flood.Sample{Time: 0.1 * float64(i), Event: i%100 == 50, Bodies: []flood.BodySample{{
			Name: "hull", Present: true, Trim: float64(i) * 1e-4, GM: math.NaN(), Pose: compartment.Upright(0.06),
		}}, Spaces: []flood.SpaceSample{{Name: "aft", Water: 1e-6 * float64(i), Level: 0.01}, {Name: "fore"}}})
	}
}

// However many samples come, a page holds so many at most; the first, the last and those of events are among them, and every value
// that is held is that of its time.
func TestRecorderThinsOut(t *testing.T) {
	for _, count := range []int{1, 2, 999, mostFrames, mostFrames + 1, 20*mostFrames + 7} {
		r := NewRecorder(tub(t))
		feed(r, count)
		r.end()
		if len(r.times) > mostFrames+1 || count <= mostFrames && len(r.times) != count {
			t.Errorf("of %d samples %d are held", count, len(r.times))
		}
		if count > mostFrames && len(r.times) < mostFrames/3 {
			t.Errorf("of %d samples only %d are held", count, len(r.times))
		}
		if first, last := r.times[0], r.times[len(r.times)-1]; first != 0 || last != 0.1*float64(count-1) {
			t.Errorf("of %d samples those from %g to %g s are held", count, first, last)
		}
		held := map[float64]bool{}
		for i, at := range r.times {
			held[at] = true
			water := r.columns["aft.water_m3"].at(i)
			if want := 1e-6 * math.Round(at/0.1); math.Abs(water-want) > volumeStep/2*1.001 {
				t.Errorf("at %g s there are %g m³, want %g", at, water, want)
			}
		}
		for i := 50; i < count; i += 100 {
			if !held[0.1*float64(i)] {
				t.Errorf("of %d samples the event at %g s is not held", count, 0.1*float64(i))
			}
		}
	}
}

// What is written of a column, differences in whole steps, comes to its values again; where there are none it says so.
func TestColumn(t *testing.T) {
	c := &column{step: 1e-4, start: 3}
	values := []float64{0, 1.23456, -7, math.NaN(), 5, 5, math.Inf(1), 1e-9}
	for _, x := range values {
		c.add(x)
	}
	text, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	var read struct {
		K float64    `json:"k"`
		S int        `json:"s"`
		D []*float64 `json:"d"`
	}
	if err := json.Unmarshal(text, &read); err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for i, x := range values {
		d := read.D[i]
		if (d == nil) != (math.IsNaN(x) || math.IsInf(x, 0)) {
			t.Errorf("%v is written as %v", x, d)
			continue
		}
		if d != nil {
			sum += *d
			if got := sum * read.K; math.Abs(got-x) > read.K/2 || math.Abs(c.at(i+3)-got) > 1e-12 {
				t.Errorf("%v is read as %v, and is %v here", x, got, c.at(i+3))
			}
		}
	}
	if read.S != 3 || !math.IsNaN(c.at(2)) || !math.IsNaN(c.at(11)) {
		t.Errorf("%s has values before its start or after its end", text)
	}
}

// A line that is thinned stays within the distance, with its ends; a square of many points on its sides is four corners.
func TestThinned(t *testing.T) {
	var wave, square []r3.Vec
	for i := range 1000 {
		x := float64(i) / 100
		wave = append(wave, r3.Vec{X: x, Y: math.Sin(x)})
	}
	const within = 0.01
	thin := thinnedLine(wave, within)
	if len(thin) > 60 || thin[0] != wave[0] || thin[len(thin)-1] != wave[999] {
		t.Errorf("%d points of a thousand are left", len(thin))
	}
	for _, p := range wave {
		near := math.Inf(1)
		for i := 1; i < len(thin); i++ {
			near = math.Min(near, fromSide(p, thin[i-1], thin[i]))
		}
		if near > within {
			t.Errorf("(%g, %g) is %g from the thinned line", p.X, p.Y, near)
		}
	}
	for i := range 40 {
		a, b := float64(i%10)/10, i/10
		square = append(square, [4]r3.Vec{{X: a}, {X: 1, Y: a}, {X: 1 - a, Y: 1}, {Y: 1 - a}}[b])
	}
	if got := thinnedLoop(square, 1e-9); len(got) != 4 {
		t.Errorf("a square came to %d corners: %v", len(got), got)
	}
}

// The steps of axes are round, and not more than asked for.
func TestSteps(t *testing.T) {
	for _, c := range []struct {
		span   float64
		number int
		want   float64
	}{{10, 5, 2}, {11, 5, 5}, {0.07, 5, 0.02}, {1300, 5, 500}, {5, 5, 1}} {
		if got := niceStep(c.span, c.number); math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%g in %d: %g, want %g", c.span, c.number, got, c.want)
		}
	}
	for _, c := range []struct{ span, want float64 }{{600, 120}, {182, 30}, {35, 5}, {1, 0.2}, {86400, 14400}} {
		if got := timeStepOf(c.span, 7); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g s: %g, want %g", c.span, got, c.want)
		}
	}
	if got := tickText(0, 0.5) + " " + tickText(1.25, 0.05) + " " + tickText(300, 100); got != "0.0 1.25 300" {
		t.Errorf("ticks are written %s", got)
	}
}

// Rows of a table in the story are laid out as one, with the head that begins with an empty cell; other lines stay lines.
func TestPartOf(t *testing.T) {
	got := partOf(scenarios.StoryPart{Title: "Release", Lines: []string{"         at the start  at the parting", "hogging  –             1.45 N.m", "A pin holds it.", "It is 3 mm thick."}})
	want := partLayout{"Release", []blockLayout{
		{Head: []string{"", "at the start", "at the parting"}, Rows: [][]string{{"hogging", "–", "1.45 N.m"}}},
		{Lines: []string{"A pin holds it.", "It is 3 mm thick."}},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
