package scenarios

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/byhead/byhead/flood"
)

// Telling is a story in pieces, for those who lay it out themselves: the words are those of Story.Write.
type Telling struct {
	Lead    string // the water, the motion, the scale
	Moments []StoryMoment
	Parts   []StoryPart // the verdict first
}

// StoryMoment is one line of what happens in order of time, as text.
type StoryMoment struct {
	Seconds               float64
	Time                  string
	FullTime              string // "" where no scale is given
	Trim, Heel, Freeboard string // "–": it says nothing
	What                  string
}

// StoryPart is a paragraph with its heading, a sentence or so a line; of a table the rows, with their cells in columns.
type StoryPart struct {
	Title string
	Lines []string
}

// Tell gives the story of the run that r came of, in pieces.
func (t *Story) Tell(r *flood.Result) *Telling {
	var lead bytes.Buffer
	t.writeHead(&lead)
	lines := strings.Split(strings.TrimSpace(lead.String()), "\n")
	told := &Telling{Lead: lines[len(lines)-1]}
	t.eachMoment(r, func(seconds float64, body, what string) {
		told.Moments = append(told.Moments, t.moment(seconds, body, what))
	})
	for _, write := range []func(*bytes.Buffer, *flood.Result){
		t.writeVerdict, t.writeMargins, func(b *bytes.Buffer, _ *flood.Result) { t.writeAirs(b) }, t.writeCurve, t.writeReleases, t.writeOpposite, t.writeMenisci,
		t.writeDoubts,
	} {
		var b bytes.Buffer
		write(&b, r)
		if part, ok := partOf(b.String()); ok {
			told.Parts = append(told.Parts, part)
		}
	}
	return told
}

// partOf takes what a part of the story was written as: a heading, then lines that are set in.
func partOf(text string) (p StoryPart, ok bool) {
	for line := range strings.SplitSeq(strings.Trim(text, "\n"), "\n") {
		if p.Title == "" {
			p.Title = line
		} else {
			p.Lines = append(p.Lines, strings.TrimRight(strings.TrimPrefix(line, "  "), " "))
		}
	}
	return p, p.Title != ""
}

// eachMoment goes through the start, every event, and the end where no event stands there.
func (t *Story) eachMoment(r *flood.Result, tell func(seconds float64, body, what string)) {
	if len(t.moments) > 0 {
		tell(0, "hull", "the run starts")
	}
	for _, e := range r.Events {
		body := e.Section
		if body == "" {
			body = "hull"
		}
		tell(e.Time, body, t.words.Event(e))
	}
	if r.Ended == flood.EndedUntil || r.Ended == flood.EndedGaveUp {
		tell(r.Duration, "hull", "the run ends")
	}
}

// moment is a line, with how a body lay then.
func (t *Story) moment(seconds float64, body, what string) StoryMoment {
	m := StoryMoment{Seconds: seconds, Time: t.words.Time(seconds), Trim: "–", Heel: "–", Freeboard: "–", What: what}
	if t.words.Scaled() {
		m.FullTime = t.words.FullTime(seconds)
	}
	if s, ok := t.bodyAt(seconds, body); ok {
		m.Trim, m.Freeboard = t.words.Trim(s.Trim), t.words.Length(s.Freeboard)
		if -steep <= s.Trim && s.Trim <= steep {
			m.Heel = t.words.Heel(s.Heel)
		}
	}
	return m
}

// write puts the moment into a table.
func (m *StoryMoment) write(w io.Writer) {
	fmt.Fprintf(w, "%s\t", m.Time)
	if m.FullTime != "" {
		fmt.Fprintf(w, "%s\t", m.FullTime)
	}
	fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", m.Trim, m.Heel, m.Freeboard, m.What)
}
