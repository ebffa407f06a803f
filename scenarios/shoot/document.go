package shoot

import (
	"math"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/scenarios"
)

const gravity = hydro.Gravity

// Document is what `byhead shoot --json` prints: SI units and degrees, null where a member does not apply.
type Document struct {
	scenarios.DocumentHead
	Scale    *float64       `json:"scale"` // null: the scenario gives none
	Fate     *flood.Fate    `json:"fate"`
	Events   []EventEntry   `json:"events"`
	Cameras  []CameraEntry  `json:"cameras"`
	Filmed   FilmedEntry    `json:"filmed"`
	Pool     PoolEntry      `json:"pool"`
	Sections []SectionEntry `json:"sections"`
	Lifts    []LiftEntry    `json:"lifts"`
	Readings []float64      `json:"readings_s"`
	Page     []PageEntry    `json:"page"` // what the sheet says in words
}

// EventEntry is a happening at three speeds. Lasting is until the next one, null of the last.
type EventEntry struct {
	Time     *float64        `json:"time_s"`
	Event    flood.EventKind `json:"event"`
	Name     string          `json:"name"`
	Log      *string         `json:"log"` // its name in the log; null: it is not there
	Full     *float64        `json:"full_size_s"`
	Lasting  *float64        `json:"lasting_s"`
	OnScreen *float64        `json:"on_screen_s"`
}

// CameraEntry is what a rate of showing asks for.
type CameraEntry struct {
	Base  float64  `json:"base_fps"`
	Exact float64  `json:"exact_fps"`
	Rate  float64  `json:"camera_fps"`
	Other *float64 `json:"other_fps"`
	Slow  float64  `json:"slow"` // share by which the film is slower than the ship
	Stops float64  `json:"more_light_stops"`
}

// FilmedEntry is what on_screen_s are for.
type FilmedEntry struct {
	Base float64 `json:"base_fps"`
	Rate float64 `json:"camera_fps"`
}

// PoolEntry is the room that the day takes.
type PoolEntry struct {
	Depth   *float64 `json:"depth_m"`
	Given   *float64 `json:"scenario_depth_m"`
	Enough  bool     `json:"deep_enough"`
	Length  *float64 `json:"clear_length_m"`
	Breadth *float64 `json:"clear_breadth_m"`
}

// SectionEntry is what a body asks of the pool; the lines are null of one that has parted into others.
type SectionEntry struct {
	Name     string   `json:"name"`
	Extent   *float64 `json:"length_m"`
	Reached  *float64 `json:"reached_m"`
	At       *float64 `json:"reached_s"`
	Steepest *float64 `json:"steepest_deg"`
	MayStand bool     `json:"may_stand_on_end"`
	Across   *float64 `json:"rolls_across_m"` // null: it does not roll over
	Line     *float64 `json:"line_lying_m"`
	OnEnd    *float64 `json:"line_on_end_m"`
}

// LiftEntry is what it takes to lift a section, all that water can reach flooded.
type LiftEntry struct {
	Name      string     `json:"name"`
	Mass      *float64   `json:"mass_kg"`
	Water     *float64   `json:"water_m3"`
	Submerged *float64   `json:"pull_under_water_n"`
	AtOnce    *float64   `json:"pull_at_once_n"`
	Stays     StaysEntry `json:"stays_m3"`
	Drained   StaysEntry `json:"pull_drained_n"`
	Breaking  *float64   `json:"line_breaking_load_n"` // at least, of each line
}

// StaysEntry is by how a section hangs.
type StaysEntry struct {
	Level   *float64 `json:"level"`
	ByAfter *float64 `json:"fore_end_down"`
	ByFore  *float64 `json:"after_end_down"`
}

// PageEntry is what a part of the sheet says beside its table.
type PageEntry struct {
	Title string   `json:"title"`
	Lines []string `json:"lines"`
}

// Document puts a plan into its document.
func (p *Plan) Document() *Document {
	number := scenarios.Number
	d := &Document{DocumentHead: p.Scenario.Head(), Events: []EventEntry{}, Cameras: []CameraEntry{}, Sections: []SectionEntry{}, Lifts: []LiftEntry{},
		Readings: append([]float64{}, p.Readings...), Page: []PageEntry{}}
	d.Filmed = FilmedEntry{p.Camera.Base, p.Camera.Rate}
	if p.Cameras != nil {
		d.Scale = number(p.Scenario.Scale)
	}
	if p.Result.Fate != flood.NoFate {
		d.Fate = &p.Result.Fate
	}
	s := &p.Site
	d.Pool = PoolEntry{number(s.Depth), number(s.Given), s.Enough(), number(s.Length), number(s.Breadth)}
	for i := range p.Moments {
		if p.Moments[i].Kind != flood.LostStability { // the contract's list of events is closed; the page tells it
			d.Events = append(d.Events, p.eventEntry(i))
		}
	}
	for _, c := range p.Cameras {
		d.Cameras = append(d.Cameras, CameraEntry{c.Base, c.Exact, c.Rate, aboveZero(c.OtherRate()), c.Slow(), c.Stops()})
	}
	for i := range s.Sections {
		k := &s.Sections[i]
		d.Sections = append(d.Sections, SectionEntry{k.Name, number(k.Extent), number(k.Reached), number(k.At), scenarios.Degrees(k.Steepest), k.Plunges, aboveZero(k.Across),
			aboveZero(k.Line), aboveZero(k.OnEnd)})
	}
	for i := range p.Lifts {
		l := &p.Lifts[i]
		by := func(x [attitude]float64) StaysEntry {
			return StaysEntry{number(x[Level]), number(x[ByAfter]), number(x[ByFore])}
		}
		d.Lifts = append(d.Lifts, LiftEntry{l.Name, number(l.Mass), number(l.Water), number(l.Submerged), number(l.AtOnce), by(l.Stays), by(l.Drained),
			number(breaking * l.AtOnce)})
	}
	for _, b := range p.Page().Blocks {
		d.Page = append(d.Page, PageEntry{b.Title, b.Written()})
	}
	return d
}

func (p *Plan) eventEntry(i int) EventEntry {
	m, lasts := &p.Moments[i], p.Moments[i].Then
	for k := i + 1; k < len(p.Moments) && p.Moments[k].Kind == flood.LostStability; k++ {
		lasts += p.Moments[k].Then
	}
	e := EventEntry{Time: scenarios.Number(m.Event.Time), Event: m.Kind, Name: m.Name, Full: scenarios.Number(m.Full), Lasting: scenarios.Number(lasts),
		OnScreen: scenarios.Number(p.Camera.OnScreen(lasts))}
	if m.Key != "" {
		e.Log = &m.Key
	}
	return e
}

func aboveZero(x float64) *float64 {
	if !(x > 0) {
		x = math.NaN()
	}
	return scenarios.Number(x)
}
