package scenarios

import "github.com/byhead/byhead/flood"

// SinkDocument is what `byhead sink --json` prints: SI units and degrees, members in this order, null where they do not
// apply.
type SinkDocument struct {
	DocumentHead
	Duration      *float64         `json:"duration_s"`
	Ended         flood.Ended      `json:"ended"`
	Fate          *flood.Fate      `json:"fate"` // null: the run gave up
	Separation    *Separation      `json:"separation"`
	Separations   []Separation     `json:"separations"`
	Sections      []Section        `json:"sections"`
	Earlier       []EarlierSection `json:"earlier"`
	Events        []Happening      `json:"events"`
	Margins       []MarginEntry    `json:"margins"`
	Warnings      []string         `json:"warnings"` // one line each, beginning with a name
	BendingCurve  *BendingCurve    `json:"bending_curve"`
	WaterBalance  *float64         `json:"water_balance_m3"`
	AirBalance    *float64         `json:"air_balance_kg"`
	GaveUp        *GaveUp          `json:"gave_up"`
	FirstWetting  *FirstWetting    `json:"first_wetting"`  // null: no meniscus held water back, or would have
	Doubt         []DoubtEntry     `json:"doubt"`          // null: not asked for, or no motion is free
	ReleaseDesign []ReleaseEntry   `json:"release_design"` // of every joint
}

// Separation is a joint's parting.
type Separation struct {
	Joint   string   `json:"joint"`
	Time    *float64 `json:"time_s"`
	Cause   string   `json:"cause"`
	Trim    *float64 `json:"trim_deg"`
	Bending *float64 `json:"bending_nm"`
	Shear   *float64 `json:"shear_n"`
}

// Section is the fate of a body.
type Section struct {
	Name         string          `json:"name"`
	Fate         *flood.Fate     `json:"fate"`
	Foundered    *float64        `json:"foundered_s"`
	AfloatAlone  *float64        `json:"afloat_alone_s"`
	Steepest     *float64        `json:"steepest_deg"`
	SteepestAt   *float64        `json:"steepest_s"`
	WorstHeel    *float64        `json:"worst_heel_deg"`
	PastVertical bool            `json:"past_vertical"`
	Tends        *flood.Tendency `json:"tends"` // of the undecided only
}

// EarlierSection is a body that was there until a joint parted.
type EarlierSection struct {
	Name   string   `json:"name"`
	Parted *float64 `json:"parted_s"`
}

// Happening is an event. Section is null where it belongs to none.
type Happening struct {
	Time    *float64        `json:"time_s"`
	Event   flood.EventKind `json:"event"`
	Name    string          `json:"name"`
	Section *string         `json:"section"`
}

// MarginEntry is how close something came to turning out otherwise.
type MarginEntry struct {
	Name    string           `json:"name"`
	Kind    flood.MarginKind `json:"kind"`
	Closest *float64         `json:"closest_m"`
	Time    *float64         `json:"time_s"`
}

// BendingCurve is the bending and the shear along the hull at the moment at which it bent most while it was whole, the parting among
// them. Null where nothing bends.
type BendingCurve struct {
	Time      *float64   `json:"time_s"`
	X         []float64  `json:"x_m"`
	Bending   []float64  `json:"bending_nm"`
	Shear     []float64  `json:"shear_n"`
	Peak      *PeakEntry `json:"peak"` // of the bending: a hull of even strength would part here
	PeakShear *PeakEntry `json:"peak_shear"`
}

// GaveUp is when and why a run could not go on, and what it was about.
type GaveUp struct {
	Time  *float64           `json:"time_s"`
	Cause flood.FailureCause `json:"cause"`
	Name  *string            `json:"name"`
}

// NewSinkDocument puts a result into its document.
func NewSinkDocument(s *Scenario, r *flood.Result) *SinkDocument {
	d := &SinkDocument{
		DocumentHead: s.Head(),
		Duration:     Number(r.Duration), Ended: r.Ended, Fate: orNull(r.Fate),
		Separations: []Separation{}, Sections: []Section{}, Earlier: []EarlierSection{},
		Events: []Happening{}, Margins: []MarginEntry{}, Warnings: []string{}, ReleaseDesign: []ReleaseEntry{},
		WaterBalance: Number(r.WaterBalance), AirBalance: Number(r.AirBalance), GaveUp: newGaveUp(r.GaveUp),
	}
	for _, s := range r.Separations {
		d.Separations = append(d.Separations, Separation{s.Joint, Number(s.Time), s.Cause, Degrees(s.Trim), Number(s.Bending), Number(s.Shear)})
	}
	if len(d.Separations) > 0 {
		d.Separation = &d.Separations[0]
	}
	for _, e := range r.Earlier {
		d.Earlier = append(d.Earlier, EarlierSection{e.Name, Number(e.Parted)})
	}
	for i := range r.Sections {
		d.Sections = append(d.Sections, newSection(&r.Sections[i]))
	}
	for _, e := range r.Events {
		if e.Kind == flood.LostStability {
			continue // the list of the contract is closed; the story tells it
		}
		d.Events = append(d.Events, Happening{Number(e.Time), e.Kind, e.Name, orNull(e.Section)})
	}
	for _, m := range r.Margins {
		d.Margins = append(d.Margins, MarginEntry{m.Name, m.Kind, Number(m.Closest), Number(m.Time)})
	}
	for _, w := range r.Warnings {
		d.Warnings = append(d.Warnings, s.Words().Warning(w))
	}
	if c := r.Curve; c != nil {
		d.BendingCurve = &BendingCurve{
			Time: Number(c.Time), X: c.X, Bending: c.Bending, Shear: c.Shear,
			Peak:      &PeakEntry{X: Number(c.Peak.X), Bending: Number(c.Peak.Value)},
			PeakShear: &PeakEntry{X: Number(c.PeakShear.X), Shear: Number(c.PeakShear.Value)},
		}
	}
	return d
}

func newGaveUp(f *flood.Failure) *GaveUp {
	if f == nil {
		return nil
	}
	return &GaveUp{Number(f.Time), f.Cause, orNull(f.Name)}
}

func newSection(s *flood.SectionResult) Section {
	return Section{
		Name: s.Name, Fate: orNull(s.Fate),
		Foundered: Number(s.Foundered), AfloatAlone: Number(s.AfloatAlone),
		Steepest: Degrees(s.Steepest), SteepestAt: Number(s.SteepestAt),
		WorstHeel: Degrees(s.WorstHeel), PastVertical: s.PastVertical,
		Tends: orNull(s.Tends),
	}
}
