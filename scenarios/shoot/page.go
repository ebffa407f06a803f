package shoot

import (
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// Page is the sheet for the poolside in words.
type Page struct {
	Title  string
	Lines  []string // under the title: the verdict
	Blocks []Block
	Foot   string
}

// Block is a part of a page: a table, or lines. Empty rows and lines are not written.
type Block struct {
	Title   string
	Head    []string // of the columns
	Rows    [][]string
	Shares  []float64 // of the breadth, by column
	Box     int       // the column that is a box to tick, −1: none
	Blank   int       // the column that is a line to write on, −1: none
	Lines   []string
	Ticked  bool // a box to tick before every line
	Caution bool // what nobody may miss
	Large   bool // in larger letters than the others
}

// writer puts a plan into words.
type writer struct {
	*Plan
	scenarios.Words
}

// Page writes the plan.
func (p *Plan) Page() *Page {
	w := &writer{p, p.Scenario.Words()}
	title := p.Scenario.Title
	if title == "" {
		title = "a scenario without a title"
	}
	page := &Page{Title: title, Foot: fmt.Sprintf("input digest %s, byhead %s. For models only.", p.Scenario.Digest[:16], scenarios.Version)}
	if w.Scaled() {
		page.Title += fmt.Sprintf(" (1:%g)", p.Scenario.Scale)
	}
	for i := range p.Result.Sections {
		s := &p.Result.Sections[i]
		trim, known := p.last[s.Name]
		if !known {
			trim = math.NaN()
		}
		page.Lines = append(page.Lines, sentence(w.Fate(s, p.Result, trim)))
	}
	page.Blocks = []Block{w.order(), w.cautions(), w.camera(), w.pool(), w.lifting(), w.reset(), w.logging()}
	return page
}

// sentence begins with a capital and ends with a full stop.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] + "." }

// order is the table of events.
func (w *writer) order() Block {
	b := Block{Title: "Order of events", Box: 1, Blank: 5, Large: true,
		Head: []string{"no.", "", "what happens", "model", "", "really at"}, Shares: []float64{5, 4, 47, 13, 14, 17}}
	if w.Scaled() {
		b.Head = []string{"no.", "", "what happens", "model", "full size", "on screen", "really at"}
		b.Shares, b.Blank = []float64{5, 4, 42, 11, 13, 12, 13}, 6
	} else {
		b.Head = append(b.Head[:4], "until the next", "really at")
	}
	row := func(number int, what string, at, full, then float64) {
		cells := []string{fmt.Sprint(number), "", what, w.Time(at)}
		if w.Scaled() {
			cells = append(cells, w.Time(full), w.lasting(w.Camera.OnScreen(then)), "")
		} else {
			cells = append(cells, w.lasting(then), "")
		}
		b.Rows = append(b.Rows, cells)
	}
	first := math.NaN()
	if len(w.Moments) > 0 {
		first = w.Moments[0].Event.Time
	}
	row(0, "clock and cameras run, the first water comes in", 0, 0, first)
	for i := range w.Moments {
		m := &w.Moments[i]
		row(i+1, w.Event(m.Event), m.Event.Time, m.Full, m.Then)
	}
	if w.Scaled() {
		b.Lines = []string{fmt.Sprintf("On screen: from this line to the next, filmed at %g and shown at %g frames a second.", w.Camera.Rate, w.Camera.Base)}
	}
	return b
}

// lasting writes how long something lasts until the next.
func (w *writer) lasting(seconds float64) string {
	if seconds < 0.05 {
		return "at once"
	}
	return w.Time(seconds)
}

// camera is the table of rates.
func (w *writer) camera() Block {
	b := Block{Title: "Camera, frames a second", Box: -1, Blank: -1}
	if w.Cameras == nil {
		b.Lines = []string{"The scenario gives no scale: add `scale:` to it (96 is 1:96) for the speed of the camera. The rule is the square root of the scale times the rate of showing."}
		return b
	}
	b.Head, b.Shares = []string{"shown at", "scale asks", "camera", "looks", "more light", "next nearest"}, []float64{13, 16, 13, 23, 15, 20}
	for _, c := range w.Cameras {
		other := "–"
		if rate := c.OtherRate(); rate > 0 {
			other = fmt.Sprintf("%g: %s", rate, pace(Camera{c.Base, c.Exact, rate}))
		}
		b.Rows = append(b.Rows, []string{fmt.Sprintf("%g", c.Base), fmt.Sprintf("%.1f", c.Exact), fmt.Sprintf("%g", c.Rate), pace(c), fmt.Sprintf("%.1f stops", c.Stops()), other})
	}
	b.Lines = []string{"The square root of the scale times the rate of showing (Visual Effects Society handbook). A camera with free rates: as the scale asks.",
		fmt.Sprintf("Flicker at %g: %s. Lamps on batteries or direct current, undimmed, or daylight; film a test and look at it.", w.Camera.Rate, flickerWords(w.Camera.Rate))}
	return b
}

// pace says how a film seems against the ship.
func pace(c Camera) string {
	percent := 100 * c.Slow()
	switch {
	case percent >= 0.05:
		return fmt.Sprintf("%.1f %% slow", percent)
	case percent <= -0.05:
		return fmt.Sprintf("%.1f %% fast", -percent)
	}
	return "right"
}

// flickerWords is what mains lamps do at a rate, in lands of 50 and of 60 Hz.
func flickerWords(rate float64) string {
	one := func(mains float64) string {
		switch FlickerAt(rate, mains) {
		case NoFlicker:
			return fmt.Sprintf("none under %g Hz mains", mains)
		case ByShutter:
			return fmt.Sprintf("under %g Hz mains an exposure of 1/%g s or whole times that", mains, 2*mains)
		}
		return fmt.Sprintf("under %g Hz mains no shutter helps", mains)
	}
	if FlickerAt(rate, 50) == AlwaysRisks && FlickerAt(rate, 60) == AlwaysRisks {
		return "under mains lamps no shutter helps"
	}
	return one(50) + "; " + one(60)
}

// large writes a length of the pool: metres to two places, or feet to one, rounded up.
func (w *writer) large(metres float64) string {
	if w.feet() {
		return fmt.Sprintf("%.1f ft", math.Ceil(metres/0.3048*10-1e-9)/10)
	}
	return fmt.Sprintf("%.2f m", math.Ceil(metres*100-1e-9)/100)
}

// pool says how deep and how large the water has to be.
func (w *writer) pool() Block {
	s := &w.Site
	b := Block{Title: "Pool", Box: -1, Blank: -1}
	deepest, need := "", 0.0
	for i := range s.Sections {
		if k := &s.Sections[i]; k.need() > need {
			need = k.need()
			deepest = fmt.Sprintf("%s reaches %s down at %s", bodyName(k.Name), w.large(k.Reached), w.Time(k.At))
			if k.Plunges && k.Extent > k.Reached {
				deepest = fmt.Sprintf("%s may stand on end as it goes, %s long", bodyName(k.Name), w.large(k.Extent))
			}
		}
	}
	depth := fmt.Sprintf("Depth %s or more: %s, the rest to spare (a rule of ours).", w.large(s.Depth), deepest)
	switch {
	case math.IsInf(s.Given, 1):
	case s.Enough():
		depth += fmt.Sprintf(" The scenario's %s is enough.", w.large(s.Given))
	default:
		depth += fmt.Sprintf(" TOO SHALLOW: the scenario's pool has %s.", w.large(s.Given))
	}
	b.Lines = []string{depth, fmt.Sprintf("Clear of walls, lamps and people: %s along the hull by %s across, the hull in the middle: room to turn about, and for each section about its ends.",
		w.large(s.Length), w.large(s.Breadth))}
	return b
}

// bodyName names a body within a sentence.
func bodyName(name string) string {
	if name == "hull" {
		return "the hull"
	}
	return "section " + name
}

// lifting is the table of pulls and lines.
func (w *writer) lifting() Block {
	b := Block{Title: "Lines and lifting", Box: -1, Blank: -1,
		Head: []string{"", "dry", "pull, under water", "out, all at once", "drained, level", "line, lying", "on end"}, Shares: []float64{15, 12, 16, 17, 16, 13, 11}}
	most := 0.0
	for i := range w.Lifts {
		l := &w.Lifts[i]
		most = max(most, l.AtOnce)
		lying, onEnd := "–", "–"
		for k := range w.Site.Sections {
			if s := &w.Site.Sections[k]; s.Name == l.Name && s.Line > 0 {
				lying, onEnd = w.large(s.Line), w.large(s.OnEnd)
			}
		}
		pull := "none: it floats up"
		if l.Submerged > 0 {
			pull = w.Force(l.Submerged)
		}
		b.Rows = append(b.Rows, []string{l.Name, w.Mass(l.Mass), pull, w.Force(l.AtOnce), w.Force(l.Drained[Level]), lying, onEnd})
	}
	b.Lines = []string{
		"All flooded, no air left: the most it can be." + w.onScale(" A hand scale shows %s as %s.", most),
		fmt.Sprintf("Two lines to each, one at each end, each to bear it all: breaking load %s%s or more (%d times, as for textile slings by Directive 2006/42/EC). Lengths: from the floor, lying or its upper end, to a hand on the long side, a fifth to spare (ours).",
			w.Force(breaking*most), w.onScale(" (%[2]s)", breaking*most), breaking),
		"Up slowly and level, then wait at the surface: water leaves only by the openings, in about the time it came in.",
	}
	for i := range w.Lifts {
		b.Lines = append(b.Lines, w.drainWords(&w.Lifts[i]))
	}
	return b
}

// onScale puts a pull, and what it is in kilograms, as hand scales show it and lines are sold by, into a text; "" where pulls are in
// pounds anyway.
func (w *writer) onScale(format string, newtons float64) string {
	if w.feet() {
		return ""
	}
	return fmt.Sprintf(format, w.Force(newtons), fmt.Sprintf("%.1f kg", newtons/gravity))
}

// feet tells whether the scenario speaks in inches or feet.
func (w *writer) feet() bool { return w.Scenario.Unit.Name == "in" || w.Scenario.Unit.Name == "ft" }

// drainWords says what stays in a section and how to hang it; nothing where all runs out.
func (w *writer) drainWords(l *Lift) string {
	const drop = 1e-6 // m³
	if l.Stays[Level] < drop {
		return ""
	}
	text := fmt.Sprintf("%s keeps %s level", sentenceStart(bodyName(l.Name)), w.Volume(l.Stays[Level]))
	best := Level
	for _, a := range [2]Attitude{ByAfter, ByFore} {
		if l.Stays[a] < l.Stays[best]-drop {
			best = a
		}
	}
	if best == Level {
		return text + ", and no less hanging by an end."
	}
	kept := "nothing"
	if l.Stays[best] > drop {
		kept = w.Volume(l.Stays[best])
	}
	return text + fmt.Sprintf("; hanging by its %s end it keeps %s and pulls %s.", [attitude]string{ByAfter: "after", ByFore: "fore"}[best], kept, w.Force(l.Drained[best]))
}

func sentenceStart(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// names joins names, as many as there is room for.
func names(list []string) string {
	const most = 8
	if len(list) > most {
		return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
	}
	return strings.Join(list, ", ")
}

// reset is what has to be as it was before the next take.
func (w *writer) reset() Block {
	b := Block{Title: "Before every take", Box: -1, Blank: -1, Ticked: true}
	var works, clear, plugged, joints, tight, held []string
	for i := range w.Vessel.Passages {
		p := w.Vessel.Passages[i]
		if p.Listed == nil || p.Pump != 0 {
			continue
		}
		if len(p.Listed.Opens)+len(p.Listed.Shuts) > 0 {
			works = append(works, p.Name)
		}
		if p.From != compartment.Outside && p.To != compartment.Outside {
			continue
		}
		if clear = append(clear, p.Name); p.Joint < 0 && len(p.Listed.Opens) == 0 && w.rest != nil && lowest(p.Figure, w.rest.Pose.Up) < w.rest.Pose.Sea {
			plugged = append(plugged, p.Name)
		}
	}
	for _, s := range w.Result.Separations {
		joints = append(joints, s.Joint)
	}
	for _, s := range w.Vessel.Spaces {
		if s.Airtight {
			tight = append(tight, s.Name)
		}
	}
	for _, warning := range w.Result.Warnings {
		if warning.Kind == flood.DryHoleHolds || warning.Kind == flood.DryEdgeHolds {
			held = append(held, warning.Name)
		}
	}
	add := func(list []string, format string) {
		if len(list) > 0 {
			b.Lines = append(b.Lines, fmt.Sprintf(format, names(list)))
		}
	}
	add(joints, "Put together again, and tight: %s; release armed and tried once.")
	add(works, "Back to how they stand at the start: %s.")
	add(clear, "Clear of grit and bubbles: %s.")
	add(plugged, "Plugged until the clock runs, as they are under water: %s.")
	b.Lines = append(b.Lines, w.emptied())
	add(tight, "Airtight, tried under water with no bubble: %s.")
	b.Lines = append(b.Lines, w.afloat())
	add(held, "Wet all through as after a take: dry, these hold the first water back: %s.")
	b.Lines = append(b.Lines, "Water at rest; weights where they are listed; batteries, lines, clock.")
	return b
}

// emptied says how much water may be in her.
func (w *writer) emptied() string {
	var list []string
	for _, s := range w.Vessel.Spaces {
		if v := s.StartVolume(); v > 0 {
			list = append(list, fmt.Sprintf("%s of water in %s", w.Volume(v), s.Name))
		}
	}
	if len(list) == 0 {
		return "Emptied and sponged out, every space: no water aboard."
	}
	return "Emptied and sponged out, then " + names(list) + "."
}

// atStart is how the hull floats as a take begins; nil: it does not.
func atStart(v *compartment.Vessel) *compartment.Floating {
	tests := v.FloatTest()
	t := &tests[0]
	if len(tests) > 1 && tests[1].Name == "hull+later" {
		t = &tests[1]
	}
	if !t.Floats {
		return nil
	}
	return t
}

// afloat says how she must lie before a take.
func (w *writer) afloat() string {
	if w.rest == nil {
		return "She does not float by the list of weights: see float."
	}
	return fmt.Sprintf("Lies as she should: draft %s fore, %s aft, heel %s.", w.Length(w.rest.DraftFore), w.Length(w.rest.DraftAft), w.Heel(w.rest.Heel))
}

// logging is what to write down for fit.
func (w *writer) logging() Block {
	b := Block{Title: "Log, for fit", Box: -1, Blank: -1}
	marks := "the marks"
	if len(w.Vessel.Marks) == 0 {
		marks = "marks (the scenario has none: `marks:` with a point at each end lets drafts be read off the film)"
	}
	var times []string
	for _, at := range w.Readings {
		times = append(times, w.Time(at))
	}
	b.Lines = []string{"The times above, by one clock in the picture of every camera, and how sure they are (sigma)."}
	if len(times) > 0 {
		b.Lines = append(b.Lines, fmt.Sprintf("At %s or near: trim, %s, water in spaces that can be seen into.", strings.Join(times, ", "), marks))
	}
	b.Lines = append(b.Lines, fmt.Sprintf("Water: %.0f °C by the scenario, really ______. Soap: ______. Frame rate: ______. What went otherwise: overleaf.", w.Vessel.Spec.Water.Temperature-273.15),
		"`shoot FILE --csv` writes the log; `fit` and `float --measured` read it, and rows left empty count for nothing.")
	return b
}

// cautions are what nobody may miss.
func (w *writer) cautions() Block {
	b := Block{Title: "Take care", Box: -1, Blank: -1, Caution: true}
	b.Lines = []string{
		"The rules of the place come first. Never alone at the water; one person only watches, with a float or a pole to hand.",
		"Cold or deep water: nobody goes in after a wreck. It comes up from the edge, by its lines.",
		"Lines under load: hands and feet out of every loop, nobody in line with them, gloves, no turn round a hand or waist.",
		"Mains and water kill: lamps, pumps, chargers on batteries or extra-low voltage.",
		"Lead: gloves, wash before eating, nothing filed or melted here. Make fast the lines before it goes in.",
		"No pyrotechnics: a release is a pin, a magnet, a servo or a plug that dissolves.",
		"For models only: no basis for the safety of a real vessel or of anything that carries a person.",
	}
	return b
}

// Written are the lines that are not empty.
func (b *Block) Written() (lines []string) {
	for _, line := range b.Lines {
		if line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}
