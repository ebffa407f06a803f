package scenarios

import (
	"bytes"
	"fmt"
	"math"

	"github.com/byhead/byhead/flood"
)

// What is in doubt in free motion: what the sea sets against it is known to some tens of per cent.
const (
	AddedMassInDoubt = "added_mass"
	DampingInDoubt   = "damping"
)

// Doubt is one more run with one of these halved or doubled.
type Doubt struct {
	Factor string
	Value  float64
	Result *flood.Result
}

// Doubts are the four of them, still without results.
func Doubts() []Doubt {
	return []Doubt{{AddedMassInDoubt, 0.5, nil}, {AddedMassInDoubt, 2, nil}, {DampingInDoubt, 0.5, nil}, {DampingInDoubt, 2, nil}}
}

// Settings are those of a run with the doubtful factor times its value.
func (d *Doubt) Settings(s flood.Settings) flood.Settings {
	times := func(p *float64) *float64 {
		f := d.Value
		if p != nil {
			f *= *p
		}
		return &f
	}
	if d.Factor == AddedMassInDoubt {
		s.AddedMass = times(s.AddedMass)
	} else {
		s.LinearDamping, s.QuadraticDamping = times(s.LinearDamping), times(s.QuadraticDamping)
	}
	return s
}

// DoubtEntry is a doubt in a document.
type DoubtEntry struct {
	Factor   string      `json:"factor"` // added_mass or damping
	Value    float64     `json:"value"`
	Fate     *flood.Fate `json:"fate"` // null: it gave up
	Duration *float64    `json:"duration_s"`
	Sections []Section   `json:"sections"`
	GaveUp   *GaveUp     `json:"gave_up"`
}

// NewDoubtEntries are those of a document.
func NewDoubtEntries(doubts []Doubt) (all []DoubtEntry) {
	for _, d := range doubts {
		e := DoubtEntry{
			Factor: d.Factor, Value: d.Value, Fate: orNull(d.Result.Fate), Duration: Number(d.Result.Duration), Sections: []Section{},
			GaveUp: newGaveUp(d.Result.GaveUp),
		}
		for i := range d.Result.Sections {
			e.Sections = append(e.Sections, newSection(&d.Result.Sections[i]))
		}
		all = append(all, e)
	}
	return all
}

// Doubt lets the story tell what the doubtful runs came to.
func (t *Story) Doubt(doubts []Doubt) { t.doubts = doubts }

// writeDoubts tells how far the verdict moves with what is doubtful.
func (t *Story) writeDoubts(b *bytes.Buffer, r *flood.Result) {
	if len(t.doubts) == 0 {
		return
	}
	fmt.Fprintf(b, "\nHow sure that is (what the water sets against motion is known to some tens of per cent)\n")
	for i := range t.doubts {
		for _, line := range t.doubtful(&t.doubts[i], r) {
			fmt.Fprintf(b, "  %s.\n", line)
		}
	}
}

func (t *Story) doubtful(d *Doubt, r *flood.Result) (lines []string) {
	with := map[string]string{AddedMassInDoubt: "added mass", DampingInDoubt: "damping"}[d.Factor]
	with += map[bool]string{true: " doubled", false: " halved"}[d.Value > 1]
	o := d.Result
	switch {
	case o.GaveUp != nil:
		return []string{"With " + with + ": no verdict, " + t.words.Failure(o.GaveUp)}
	case fatesDiffer(r, o):
		lines = append(lines, "With "+with+": another fate")
		for i := range o.Sections {
			lines = append(lines, "  "+capital(t.words.Fate(&o.Sections[i], o, math.NaN())))
		}
		return lines
	}
	line := "With " + with + ": the same fate"
	for i := range o.Sections {
		line += t.moved(&r.Sections[i], &o.Sections[i])
	}
	return []string{line}
}

const tenthDegree = math.Pi / 1800

// moved tells how far the numbers of a section's verdict move.
func (t *Story) moved(here, there *flood.SectionResult) (text string) {
	say := func(what string, amount, least float64, words func(float64) string, more, less string) {
		if !(math.Abs(amount) >= least) {
			return
		}
		side := more
		if amount < 0 {
			side = less
		}
		text += fmt.Sprintf("; %s %s %s %s", here.Name, what, words(math.Abs(amount)), side)
	}
	say("goes under", there.Foundered-here.Foundered, 0.05, t.words.Time, "later", "earlier")
	say("stands", there.Steepest-here.Steepest, tenthDegree, t.words.Angle, "steeper at most", "less steep at most")
	say("heels", math.Abs(there.WorstHeel)-math.Abs(here.WorstHeel), tenthDegree, t.words.Angle, "more at most", "less at most")
	return text
}
