package scenarios

import (
	"math"

	"github.com/byhead/byhead/compartment"
)

// FloatDocument is what `byhead float --json` prints: SI units and degrees, members in this order, null where they do not
// apply.
type FloatDocument struct {
	DocumentHead
	Conditions []FloatCondition `json:"conditions"`
	Marks      []MarkEntry      `json:"marks"` // of the first condition

	After        *float64        `json:"after_s,omitempty"` // the stage of a run that this is; the conditions tell what is aboard
	Laid         []LaidEntry     `json:"laid,omitempty"`    // what was laid on for a trial; the conditions are with it
	Measured     *MeasuredEntry  `json:"measured,omitempty"`
	Suspects     *[]string       `json:"suspects,omitempty"` // listed weights that would explain what was measured, the likeliest first
	Explanations *[]SuspectEntry `json:"explanations,omitempty"`
}

// LaidEntry is a mass laid on for a trial.
type LaidEntry struct {
	Mass float64    `json:"mass_kg"`
	At   [3]float64 `json:"at_m"`
}

// FloatCondition is one float test.
type FloatCondition struct {
	Name             string   `json:"name"`
	Floats           bool     `json:"floats"`
	Mass             *float64 `json:"mass_kg"`
	DraftFore        *float64 `json:"draft_fore_m"`
	DraftAft         *float64 `json:"draft_aft_m"`
	Trim             *float64 `json:"trim_deg"`
	Heel             *float64 `json:"heel_deg"`
	Freeboard        *float64 `json:"freeboard_m"`
	GMTransverse     *float64 `json:"gm_transverse_m"`
	GMLongitudinal   *float64 `json:"gm_longitudinal_m"`
	GMUpright        *float64 `json:"gm_upright_m"`
	LCG              *float64 `json:"lcg_m"`
	TCG              *float64 `json:"tcg_m"`
	VCG              *float64 `json:"vcg_m"`
	RangeOfStability *float64 `json:"range_of_stability_deg"`

	Verdict       string         `json:"verdict"`
	Judgement     string         `json:"judgement"` // the verdict in one line, for people
	Loll          *float64       `json:"loll_deg"`
	LowestOpening *HeightEntry   `json:"lowest_opening"`     // null: there is none to the outside
	LowestDry     *HeightEntry   `json:"lowest_dry_opening"` // of those that are clear of the sea
	RightingArm   *ArmsEntry     `json:"righting_arm"`
	Marks         []MarkEntry    `json:"marks"`
	Aboard        []WaterEntry   `json:"aboard,omitempty"` // at a stage of a run
	Holds         *float64       `json:"holds_m3"`         // the outer form below the sea's plane
	Spaces        []HoldEntry    `json:"spaces_hold"`
	InWater       []InWaterEntry `json:"in_water"` // fresh, then sea

	JointLoads   []JointLoadEntry `json:"joint_loads"`  // of the whole, from the stern
	BendingPeak  *PeakEntry       `json:"bending_peak"` // null for a section alone
	ShearPeak    *PeakEntry       `json:"shear_peak"`
	BendingCurve *LoadCurveEntry  `json:"bending_curve"`
}

// HeightEntry is how high the lowest point of an opening stands over the sea.
type HeightEntry struct {
	Name   string   `json:"name"`
	Height *float64 `json:"height_m"`
}

// WaterEntry is the water in a space at a stage of a run. Open: to the sea, which the water belongs to.
type WaterEntry struct {
	Name  string   `json:"name"`
	Water *float64 `json:"water_m3"`
	Open  bool     `json:"open"`
}

// ArmsEntry is the curve of righting arms: see compartment.Arms.
type ArmsEntry struct {
	Heel      []*float64   `json:"heel_deg"`
	Arm       []*float64   `json:"arm_m"`
	Starboard ArmSideEntry `json:"starboard"`
	Port      ArmSideEntry `json:"port"`
}

// ArmSideEntry is one side of it, counted from the heel at rest.
type ArmSideEntry struct {
	Range  *float64 `json:"range_deg"`
	Most   *float64 `json:"most_m"`
	MostAt *float64 `json:"most_at_heel_deg"`
	Area   *float64 `json:"area_m_rad"`
	Area30 *float64 `json:"area_30_m_rad"`
	Area40 *float64 `json:"area_40_m_rad"`
}

// HoldEntry is the water that a space takes up to the sea's plane.
type HoldEntry struct {
	Name  string   `json:"name"`
	Holds *float64 `json:"holds_m3"`
}

// InWaterEntry is how it floats in a kind of water.
type InWaterEntry struct {
	Kind      string      `json:"kind"`
	Density   *float64    `json:"density_kg_per_m3"`
	Floats    bool        `json:"floats"`
	DraftFore *float64    `json:"draft_fore_m"`
	DraftAft  *float64    `json:"draft_aft_m"`
	Trim      *float64    `json:"trim_deg"`
	Heel      *float64    `json:"heel_deg"`
	Marks     []MarkEntry `json:"marks"`
}

// MarkEntry is how deep a mark lies below the sea; null where the hull does not float.
type MarkEntry struct {
	Name  string   `json:"name"`
	Depth *float64 `json:"depth_m"`
}

// NewFloatDocument puts float tests of a vessel into their document.
func NewFloatDocument(s *Scenario, v *compartment.Vessel, tests []compartment.Floating) *FloatDocument {
	d := &FloatDocument{DocumentHead: s.Head(), Conditions: []FloatCondition{}, Marks: []MarkEntry{}}
	w := s.Words()
	for i := range tests {
		d.Conditions = append(d.Conditions, newCondition(w, v, &tests[i]))
	}
	var depths []float64
	if len(tests) > 0 {
		depths = tests[0].Marks
	}
	d.Marks = markEntries(v, depths)
	return d
}

// At says that the float tests are of a stage of a run, s after its start. A mark is then told of the body that it is on.
func (d *FloatDocument) At(v *compartment.Vessel, time float64, tests []compartment.Floating) {
	d.After = Number(time)
	depths := make([]float64, len(v.Marks))
	for i := range depths {
		depths[i] = math.NaN()
		for k := range tests {
			if math.IsNaN(depths[i]) {
				depths[i] = tests[k].Marks[i]
			}
		}
	}
	d.Marks = markEntries(v, depths)
}

// markEntries are the depths of the vessel's marks, null where there is none.
func markEntries(v *compartment.Vessel, depths []float64) []MarkEntry {
	entries := []MarkEntry{}
	for i, m := range v.Marks {
		entry := MarkEntry{Name: m.Name}
		if i < len(depths) {
			entry.Depth = Number(depths[i])
		}
		entries = append(entries, entry)
	}
	return entries
}

func newCondition(w Words, v *compartment.Vessel, t *compartment.Floating) FloatCondition {
	c := FloatCondition{
		Name: t.Name, Floats: t.Floats, Mass: Number(t.Mass),
		LCG: Number(t.Centre.X), TCG: Number(t.Centre.Y), VCG: Number(t.Centre.Z),
		Verdict: string(t.Verdict), Judgement: w.Judgement(t), Marks: markEntries(v, t.Marks),
		Spaces: []HoldEntry{}, InWater: []InWaterEntry{}, JointLoads: []JointLoadEntry{},
	}
	for _, s := range t.Aboard {
		c.Aboard = append(c.Aboard, WaterEntry{s.Name, Number(s.Volume), s.Open})
	}
	for _, o := range t.Waters {
		c.InWater = append(c.InWater, InWaterEntry{
			Kind: string(o.Kind), Density: Number(o.Density), Floats: o.Floats, DraftFore: Number(o.DraftFore), DraftAft: Number(o.DraftAft),
			Trim: Degrees(o.Trim), Heel: Degrees(o.Heel), Marks: markEntries(v, o.Marks),
		})
	}
	if !t.Floats {
		return c
	}
	c.DraftFore, c.DraftAft = Number(t.DraftFore), Number(t.DraftAft)
	c.Trim, c.Heel = Degrees(t.Trim), Degrees(t.Heel)
	c.Freeboard = Number(t.Freeboard)
	c.GMTransverse, c.GMLongitudinal, c.GMUpright = Number(t.GMTransverse), Number(t.GMLongitudinal), Number(t.GMUpright)
	c.RangeOfStability = Degrees(t.RangeOfStability)
	c.Loll, c.Holds = Degrees(t.Loll), Number(t.Holds)
	c.LowestOpening, c.LowestDry = newHeight(t.Lowest), newHeight(t.LowestDry)
	c.RightingArm = newArms(t.Arms)
	c.addLoads(t.Still)
	for _, s := range t.SpacesHold {
		c.Spaces = append(c.Spaces, HoldEntry{s.Name, Number(s.Volume)})
	}
	return c
}

func newHeight(o compartment.OpeningHeight) *HeightEntry {
	if o.Name == "" {
		return nil
	}
	return &HeightEntry{o.Name, Number(o.Height)}
}

func newArms(a *compartment.Arms) *ArmsEntry {
	if a == nil {
		return nil
	}
	e := &ArmsEntry{Starboard: newArmSide(a.Starboard), Port: newArmSide(a.Port)}
	for k := range a.Heel {
		e.Heel, e.Arm = append(e.Heel, Degrees(a.Heel[k])), append(e.Arm, Number(a.Arm[k]))
	}
	return e
}

func newArmSide(s compartment.ArmSide) ArmSideEntry {
	return ArmSideEntry{Degrees(s.Range), Number(s.Most), Degrees(s.MostAt), Number(s.Area), Number(s.Area30), Number(s.Area40)}
}
