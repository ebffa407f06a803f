package study

import (
	"github.com/byhead/byhead/scenarios"
)

// SizeDocument is what `byhead size --json` prints. Values are in Unit, results in SI units and degrees.
type SizeDocument struct {
	scenarios.DocumentHead
	Path      string      `json:"path"`
	Result    string      `json:"result"`
	Want      any         `json:"want"`
	Value     *float64    `json:"value"` // null: none was found
	Unit      string      `json:"unit"`
	Found     bool        `json:"found"`
	Outcome   any         `json:"outcome"`   // the result at Value; null: none was found
	Slope     *float64    `json:"slope"`     // of the result for one Unit more; null at a border
	Crossings []*float64  `json:"crossings"` // all values that were found
	Jumps     []JumpEntry `json:"jumps"`     // where the result jumps over what is wanted, or begins or ends to be there
	Runs      int         `json:"runs"`
	NoVessel  int         `json:"no_vessel"` // runs with whose value no vessel can be built
	GaveUp    int         `json:"gave_up"`
}

// JumpEntry is a jump: the results on either side, null where there is none.
type JumpEntry struct {
	Value  *float64 `json:"value"`
	Before any      `json:"before"`
	Beyond any      `json:"beyond"`
}

// NewSizeDocument puts what was found into its document.
func NewSizeDocument(s *scenarios.Scenario, z *Sizing, unit scenarios.Unit) *SizeDocument {
	d := &SizeDocument{DocumentHead: s.Head(), Path: z.Path, Result: z.Want.Result, Unit: unit.Name, Found: z.Found,
		Crossings: []*float64{}, Jumps: []JumpEntry{}, Runs: len(z.Looked)}
	d.Want = scenarios.Number(z.Want.Number)
	if z.Want.Text != "" {
		d.Want = plain(&Result{Text: z.Want.Text})
	}
	if z.Found {
		d.Value, d.Outcome = scenarios.Number(unit.FromSI(z.Value)), plain(&z.Outcome)
		d.Slope = scenarios.Number(z.Slope * PerUnit(unit))
	}
	for _, c := range z.Crossings {
		d.Crossings = append(d.Crossings, scenarios.Number(unit.FromSI(c.Value)))
	}
	for i := range z.Jumps {
		j := &z.Jumps[i]
		d.Jumps = append(d.Jumps, JumpEntry{scenarios.Number(unit.FromSI(j.Value)), there(&j.Before), there(&j.Beyond)})
	}
	for _, l := range z.Looked {
		if l.Unbuilt != nil {
			d.NoVessel++
		}
		if l.GaveUp {
			d.GaveUp++
		}
	}
	return d
}

// there is a result as JSON has it, nil where it is none.
func there(r *Result) any {
	if r.Path == "" {
		return nil
	}
	return plain(r)
}

// PerUnit is how much one of a unit is in SI units, as a difference.
func PerUnit(u scenarios.Unit) float64 { return u.Difference(1) }
