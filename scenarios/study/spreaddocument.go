package study

import (
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// SpreadDocument is what `byhead spread --json` and `byhead gather --json` print: the same of the same records.
type SpreadDocument struct {
	StudyHead
	Sampling   string                          `json:"sampling"`
	Seed       uint64                          `json:"seed"`
	Of         int                             `json:"of"`
	Runs       int                             `json:"runs"`
	GaveUp     int                             `json:"gave_up"`
	Redrawn    int                             `json:"redrawn"`
	Fates      map[flood.Fate]*ProportionEntry `json:"fates"`
	Quantiles  map[string]QuantilesEntry       `json:"quantiles"`
	MattersFor string                          `json:"matters_for"`
	Matters    []MatterEntry                   `json:"matters"`
	Together   *float64                        `json:"together"` // the share that no value explains alone
}

// ProportionEntry is a share with its 95 % interval; null where no run has a fate.
type ProportionEntry struct {
	Share *float64 `json:"share"`
	Low   *float64 `json:"low95"`
	High  *float64 `json:"high95"`
}

// QuantilesEntry are the quantiles of a result over the runs that have it, which are so many.
type QuantilesEntry struct {
	Count int      `json:"count"`
	P05   *float64 `json:"p05"`
	P50   *float64 `json:"p50"`
	P95   *float64 `json:"p95"`
}

// MatterEntry is how large a share of the scatter comes of one value.
type MatterEntry struct {
	Path  string   `json:"path"`
	Share *float64 `json:"share"`
}

// NewSpreadDocument puts a summary into its document.
func NewSpreadDocument(s *Summary) *SpreadDocument {
	d := &SpreadDocument{
		StudyHead: StudyHead{documentFormat, s.Version, s.InputDigest}, Sampling: s.Sampling, Seed: s.Seed, Of: s.Of,
		Runs: s.Runs, GaveUp: s.GaveUp, Redrawn: s.Redrawn,
		Fates: map[flood.Fate]*ProportionEntry{}, Quantiles: map[string]QuantilesEntry{},
		MattersFor: s.About, Matters: []MatterEntry{}, Together: scenarios.Number(s.Joint),
	}
	for fate, p := range s.Fates {
		d.Fates[fate] = &ProportionEntry{scenarios.Number(p.Share), scenarios.Number(p.Low95), scenarios.Number(p.High95)}
	}
	for _, q := range s.Quantiles {
		d.Quantiles[q.Result] = QuantilesEntry{q.Count, scenarios.Number(q.P05), scenarios.Number(q.P50), scenarios.Number(q.P95)}
	}
	for _, m := range s.Matters {
		d.Matters = append(d.Matters, MatterEntry{m.Path, scenarios.Number(m.Share)})
	}
	return d
}
