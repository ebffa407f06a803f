package scenarios

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
)

// Story is what a run comes to, in words: what happened in order of time and how the hull lay then, the verdict, and the
// margins. Give Sample to the run as flood.Settings.Samples, then Write the story with its result.
type Story struct {
	words    Words
	title    string
	vessel   *compartment.Vessel
	motion   string
	moments  []snapshot // the start and every event
	last     snapshot
	upright  map[string]*stood // by body
	airs     []*keptAir
	releases *releaseWatch

	menisci      string // of the run
	other        *flood.Result
	otherMenisci flood.Menisci // of the other run
	doubts       []Doubt
}

// stood is what is known of a body's stability while it stood, that is heeled by less than 90°.
type stood struct {
	first, least float64 // GM at the start, and the smallest, m
	leastAt      float64 // s
	heel         float64 // at its last sample, rad
}

// snapshot is how the bodies lay at a time.
type snapshot struct {
	time   float64
	bodies []flood.BodySample
}

// NewStory begins the story of a run of a scenario's vessel.
func NewStory(s *Scenario, v *compartment.Vessel) *Story {
	return &Story{words: s.Words(), title: s.Title, vessel: v, motion: s.Run.Motion, menisci: s.Run.Menisci, upright: map[string]*stood{}, airs: airsOf(v), releases: newReleaseWatch(v)}
}

// Sample keeps what the story needs of a sample.
func (t *Story) Sample(s *flood.Sample) {
	t.last.time, t.last.bodies = s.Time, append(t.last.bodies[:0], s.Bodies...)
	if s.Event || len(t.moments) == 0 {
		t.moments = append(t.moments, snapshot{s.Time, slices.Clone(s.Bodies)})
	}
	for i := range s.Bodies {
		t.stands(&s.Bodies[i], s.Time)
	}
	for _, a := range t.airs {
		a.sample(s)
	}
	t.releases.sample(s)
}

// stands keeps a body's stability, as long as it has not rolled over.
func (t *Story) stands(b *flood.BodySample, time float64) {
	if !b.Present || !(math.Abs(b.Heel) < math.Pi/2) || math.IsNaN(b.GM) {
		return
	}
	s := t.upright[b.Name]
	if s == nil {
		s = &stood{first: b.GM, least: b.GM, leastAt: time}
		t.upright[b.Name] = s
	}
	s.heel = b.Heel
	if b.GM < s.least {
		s.least, s.leastAt = b.GM, time
	}
}

// Write tells the story of the run that r came of.
func (t *Story) Write(w io.Writer, r *flood.Result) error {
	var b bytes.Buffer
	t.writeHead(&b)
	t.writeEvents(&b, r)
	t.writeVerdict(&b, r)
	t.writeMargins(&b, r)
	t.writeAirs(&b)
	t.writeCurve(&b, r)
	t.writeReleases(&b, r)
	t.writeOpposite(&b, r)
	t.writeMenisci(&b, r)
	t.writeDoubts(&b, r)
	_, err := w.Write(b.Bytes())
	return err
}

func (t *Story) writeHead(b *bytes.Buffer) {
	if t.title != "" {
		fmt.Fprintln(b, t.title)
	}
	fmt.Fprintf(b, "water of %.1f kg/m3, motion %s", t.vessel.Water.Density, t.motion)
	if t.words.Scaled() {
		fmt.Fprintf(b, "; at full size (1:%g) lengths are × %g and times × %.3g", t.words.scale, t.words.scale, math.Sqrt(t.words.scale))
	}
	fmt.Fprint(b, "\n\n")
}

// writeEvents is one line for the start, for every event, and for the end where no event stands there.
func (t *Story) writeEvents(b *bytes.Buffer, r *flood.Result) {
	table := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	fmt.Fprint(table, "time\t")
	if t.words.Scaled() {
		fmt.Fprint(table, "full size\t")
	}
	fmt.Fprintln(table, "trim\theel\tfreeboard\twhat happens")
	t.eachMoment(r, func(seconds float64, body, what string) {
		m := t.moment(seconds, body, what)
		m.write(table)
	})
	table.Flush() // into a buffer: it cannot fail
}

// steep is the trim, rad, past which heel says nothing.
const steep = math.Pi / 3

// bodyAt is how a body lay at the kept snapshot nearest to a time, the later of two at one time, for things act at once. What
// lies further off than a thousandth of a second and of the time is another time.
func (t *Story) bodyAt(time float64, body string) (flood.BodySample, bool) {
	best, found, nearest := flood.BodySample{}, false, 1e-3*(1+math.Abs(time))
	look := func(m *snapshot) {
		for _, s := range m.bodies {
			if away := math.Abs(m.time - time); s.Name == body && s.Present && away <= nearest {
				best, found, nearest = s, true, away
			}
		}
	}
	for i := range t.moments {
		look(&t.moments[i])
	}
	look(&t.last)
	return best, found
}

func (t *Story) writeVerdict(b *bytes.Buffer, r *flood.Result) {
	fmt.Fprintln(b, "\nVerdict")
	if r.GaveUp != nil {
		fmt.Fprintf(b, "  none: %s\n", t.words.Failure(r.GaveUp))
		return
	}
	for i := range r.Sections {
		s := &r.Sections[i]
		trim := math.NaN()
		if now, ok := t.bodyAt(r.Duration, s.Name); ok {
			trim = now.Trim
		}
		fmt.Fprintf(b, "  %s.\n", capital(t.words.Fate(s, r, trim)))
		t.writeExtremes(b, s)
	}
	if t.other != nil && t.other.GaveUp == nil && fatesDiffer(r, t.other) {
		fmt.Fprintf(b, "  A meniscus decides: with `menisci: %s` it ends otherwise, see below.\n", t.otherMenisci)
	}
}

// writeExtremes tells the largest angles of a section, where there is anything to tell.
func (t *Story) writeExtremes(b *bytes.Buffer, s *flood.SectionResult) {
	const worthTelling = math.Pi / 180 // rad
	if s.Steepest > worthTelling {
		fmt.Fprintf(b, "  Steepest: its keel stood %s from the level%s.", t.words.Angle(s.Steepest), t.words.at(s.SteepestAt))
		if s.PastVertical {
			fmt.Fprint(b, " It went past the vertical.")
		}
		fmt.Fprintln(b)
	}
	if math.Abs(s.WorstHeel) > worthTelling {
		fmt.Fprintf(b, "  Worst heel: %s.\n", t.words.Heel(s.WorstHeel))
	}
}

// capital begins a sentence.
func capital(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
