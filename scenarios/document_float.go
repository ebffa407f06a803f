package scenarios

import "github.com/byhead/byhead/compartment"

// FloatDocument is what `byhead float --json` prints: SI units and degrees, members in this order, null where they do not
// apply.
type FloatDocument struct {
	DocumentHead
	Conditions []FloatCondition `json:"conditions"`
	Marks      []MarkEntry      `json:"marks"` // of the first condition
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
}

// MarkEntry is how deep a mark lies below the sea; null where the hull does not float.
type MarkEntry struct {
	Name  string   `json:"name"`
	Depth *float64 `json:"depth_m"`
}

// NewFloatDocument puts float tests of a vessel into their document.
func NewFloatDocument(s *Scenario, v *compartment.Vessel, tests []compartment.Floating) *FloatDocument {
	d := &FloatDocument{DocumentHead: s.Head(), Conditions: []FloatCondition{}, Marks: []MarkEntry{}}
	for i := range tests {
		d.Conditions = append(d.Conditions, newCondition(&tests[i]))
	}
	for i, m := range v.Marks {
		entry := MarkEntry{Name: m.Name}
		if len(tests) > 0 && tests[0].Floats && i < len(tests[0].Marks) {
			entry.Depth = Number(tests[0].Marks[i])
		}
		d.Marks = append(d.Marks, entry)
	}
	return d
}

func newCondition(t *compartment.Floating) FloatCondition {
	c := FloatCondition{
		Name: t.Name, Floats: t.Floats, Mass: Number(t.Mass),
		LCG: Number(t.Centre.X), TCG: Number(t.Centre.Y), VCG: Number(t.Centre.Z),
	}
	if !t.Floats {
		return c
	}
	c.DraftFore, c.DraftAft = Number(t.DraftFore), Number(t.DraftAft)
	c.Trim, c.Heel = Degrees(t.Trim), Degrees(t.Heel)
	c.Freeboard = Number(t.Freeboard)
	c.GMTransverse, c.GMLongitudinal, c.GMUpright = Number(t.GMTransverse), Number(t.GMLongitudinal), Number(t.GMUpright)
	c.RangeOfStability = Degrees(t.RangeOfStability)
	return c
}
