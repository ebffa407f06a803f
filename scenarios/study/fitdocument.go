package study

import (
	"fmt"
	"math"
	"strings"

	"github.com/byhead/byhead/scenarios"
)

// FitDocument is what `byhead fit --json` prints, in SI units; angles of readings in degrees.
type FitDocument struct {
	scenarios.DocumentHead
	Values        []FittedEntry   `json:"values"`
	RMS           *float64        `json:"rms"` // of the residuals over their sigmas
	NotIdentified []string        `json:"not_identified"`
	Residuals     []ResidualEntry `json:"residuals"`
	Spare         int             `json:"spare"` // readings more than values
}

// FittedEntry is a value with its 95 % interval.
type FittedEntry struct {
	Path   string   `json:"path"`
	Value  *float64 `json:"value"`
	Low    *float64 `json:"low95"`
	High   *float64 `json:"high95"`
	Listed *float64 `json:"listed"` // what the scenario reckons with
}

// ResidualEntry is a reading against the fitted run: of an event the times.
type ResidualEntry struct {
	Time   *float64 `json:"time_s"`
	Kind   string   `json:"kind"`
	Name   string   `json:"name"`
	Read   *float64 `json:"read"`
	Fitted *float64 `json:"fitted"` // null: the fitted run has none
	Sigma  *float64 `json:"sigma"`
}

// NewFitDocument puts a fit into its document.
func NewFitDocument(s *scenarios.Scenario, f *Fitted) *FitDocument {
	d := &FitDocument{DocumentHead: s.Head(), Values: []FittedEntry{}, RMS: scenarios.Number(f.RMS), NotIdentified: []string{}, Residuals: []ResidualEntry{}, Spare: f.Spare}
	for _, v := range f.Values {
		d.Values = append(d.Values, FittedEntry{v.Path, scenarios.Number(v.Value), scenarios.Number(v.Low95), scenarios.Number(v.High95), scenarios.Number(v.Listed)})
	}
	for _, v := range f.NotIdentified {
		d.NotIdentified = append(d.NotIdentified, v.Path)
	}
	for i := range f.Residuals {
		r := &f.Residuals[i]
		unit := 1.0
		if r.Kind == scenarios.LogHeel || r.Kind == scenarios.LogTrim {
			unit = 180 / math.Pi
		}
		e := ResidualEntry{scenarios.Number(*r.Time), string(r.Kind), r.Name, scenarios.Number(r.Read * unit), nil, scenarios.Number(r.Sigma * unit)}
		if r.Seen {
			e.Fitted = scenarios.Number(r.Fitted * unit)
		}
		d.Residuals = append(d.Residuals, e)
	}
	return d
}

// FitLines are the lines to paste into the scenario: a variant with the values that were found, to as many digits as they are
// known.
func FitLines(s *scenarios.Scenario, f *Fitted) string {
	var sets []string
	for _, v := range f.Values {
		digits := 3
		if width := (v.High95 - v.Low95) / v.Value; width > 0 {
			digits = int(math.Max(2, math.Min(6, math.Ceil(1-math.Log10(width))+1)))
		}
		sets = append(sets, fmt.Sprintf("%s: %s", v.Path, s.WriteValue(v.Path, v.Value, digits)))
	}
	head := "variants:\n"
	if len(s.Variants) > 0 {
		head = "" // the list is there
	}
	name := "fitted"
	for k := 2; hasVariant(s, name); k++ {
		name = fmt.Sprintf("fitted-%d", k)
	}
	return fmt.Sprintf("%s  - {name: %s, set: {%s}}\n", head, name, strings.Join(sets, ", "))
}

func hasVariant(s *scenarios.Scenario, name string) bool {
	for _, v := range s.Variants {
		if v.Name == name {
			return true
		}
	}
	return false
}
