package scenarios

import (
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment/plan"
)

// Readings are the rows of a log as a measured float test, in file order. Rows with a time are of the flood test that the same
// log tells of, and left out, as long as others say how it floats. name is the file's, for messages; the error is of type
// Faults, where a row is of another sort.
func (s *Scenario) Readings(name string, rows []LogRow) ([]plan.Reading, error) {
	var faults Faults
	var readings []plan.Reading
	observed := false
	both := slices.ContainsFunc(rows, func(row LogRow) bool {
		return row.Time == nil && (row.Kind == LogMark || row.Kind == LogHeel || row.Kind == LogTrim)
	})
	for _, row := range rows {
		if both && row.Time != nil {
			continue
		}
		fault := func(what, want string) {
			faults = append(faults, Fault{File: name, Line: row.Line, Column: row.Column, What: what, Want: want})
		}
		switch {
		case row.Time != nil:
			fault("a time in a float test", "no time: its rows hold in file order")
		case row.Kind == LogDepth || row.Kind == LogEvent:
			fault(quote(string(row.Kind))+" in a float test", "mark, shift, heel or trim")
		case row.Kind == LogShift && s.comesLater(row.Name):
			fault(fmt.Sprintf("the weight %s comes later: it is not aboard in the float test", quote(row.Name)), "a weight that is aboard")
		}
		observed = observed || row.Kind != LogShift
		reading := plan.Reading{Kind: plan.ReadingKind(row.Kind), Name: row.Name, Value: row.Value}
		if !math.IsNaN(row.Sigma) {
			reading.Sigma = row.Sigma
		}
		readings = append(readings, reading)
	}
	if !observed {
		faults = append(faults, Fault{File: name, Line: 1, Column: 1, What: "nothing was read off", Want: "rows of the kinds mark, heel or trim"})
	}
	if len(faults) > 0 {
		return nil, faults[:min(len(faults), mostLogFaults)]
	}
	return readings, nil
}

func (s *Scenario) comesLater(weight string) bool {
	for i := range s.Spec.Weights {
		if s.Spec.Weights[i].Name == weight {
			return s.Spec.Weights[i].Later
		}
	}
	return false
}

// MeasuredEntry is what `float --measured` adds to the document. Of what the readings do not show the three numbers are
// null, and NotShown says why.
type MeasuredEntry struct {
	Mass     EstimateEntry `json:"mass_kg"`
	LCG      EstimateEntry `json:"lcg_m"`
	TCG      EstimateEntry `json:"tcg_m"`
	VCG      EstimateEntry `json:"vcg_m"`
	Listed   ListedEntry   `json:"listed"` // by the list, with the same floodwater
	Misfit   *float64      `json:"misfit"` // root mean square of what the readings are off, in standard deviations
	Spare    int           `json:"spare"`  // readings more than unknowns
	ListOff  bool          `json:"list_off"`
	NotShown []string      `json:"not_shown"`
}

// EstimateEntry is a measured number with its 95 % interval.
type EstimateEntry struct {
	Value *float64 `json:"value"`
	Low   *float64 `json:"low95"`
	High  *float64 `json:"high95"`
}

// ListedEntry is mass and centre by the list.
type ListedEntry struct {
	Mass *float64 `json:"mass_kg"`
	LCG  *float64 `json:"lcg_m"`
	TCG  *float64 `json:"tcg_m"`
	VCG  *float64 `json:"vcg_m"`
}

// SuspectEntry says how a listed weight would have to be otherwise.
type SuspectEntry struct {
	Name   string      `json:"name"`
	Change string      `json:"change"` // mass or place
	Mass   *float64    `json:"mass_kg"`
	At     [3]*float64 `json:"at_m"`
}

// AddMeasured puts a measured float test into the document.
func (d *FloatDocument) AddMeasured(m *plan.Measured) {
	estimate := func(e plan.Estimate) EstimateEntry {
		return EstimateEntry{Number(e.Value), Number(e.Low), Number(e.High)}
	}
	c := m.ListedCentre
	d.Measured = &MeasuredEntry{
		Mass: estimate(m.Mass), LCG: estimate(m.LCG), TCG: estimate(m.TCG), VCG: estimate(m.VCG),
		Listed: ListedEntry{Number(m.ListedMass), Number(c.X), Number(c.Y), Number(c.Z)},
		Misfit: Number(m.Misfit), Spare: m.Spare, ListOff: m.Off, NotShown: notShown(m),
	}
	names, entries := []string{}, []SuspectEntry{}
	for _, s := range m.Suspects {
		names = append(names, s.Name)
		entries = append(entries, SuspectEntry{s.Name, string(s.Change), Number(s.Mass), [3]*float64{Number(s.At.X), Number(s.At.Y), Number(s.At.Z)}})
	}
	d.Suspects, d.Explanations = &names, &entries
}

// notShown says in plain words what the readings do not show, and what would.
func notShown(m *plan.Measured) []string {
	lines := []string{}
	for _, c := range []struct {
		e    plan.Estimate
		text string
	}{
		{m.Mass, "mass: read the depth of a mark, better of four"},
		{m.LCG, "centre along: read the trim, or marks at both ends"},
		{m.TCG, "centre across: read the heel, or marks on both sides"},
		{m.VCG, "height of the centre: incline her, a listed weight moved across by a known distance (shift) and the heel read"},
	} {
		if math.IsNaN(c.e.Value) {
			lines = append(lines, c.text)
		}
	}
	return lines
}

// Measured says what a float test came to: the numbers, beside those of the list, then who is to blame.
func (w Words) Measured(m *plan.Measured) (rows [][]string, lines []string) {
	row := func(name string, e plan.Estimate, listed float64, write func(float64) string) {
		if math.IsNaN(e.Value) {
			rows = append(rows, []string{name, "not shown", "", write(listed)})
			return
		}
		rows = append(rows, []string{name, write(e.Value), write(e.Low) + " to " + write(e.High), write(listed)})
	}
	row("mass", m.Mass, m.ListedMass, w.Mass)
	row("centre from the after end", m.LCG, m.ListedCentre.X, w.Length)
	row("centre to port", m.TCG, m.ListedCentre.Y, w.Length)
	row("centre above the keel line", m.VCG, m.ListedCentre.Z, w.Length)
	for _, text := range notShown(m) {
		lines = append(lines, "not shown is the "+text)
	}
	if m.Spare > 0 && m.Misfit > 2 { // twice what they claim is past chance for more than a few readings
		lines = append(lines, fmt.Sprintf("the readings disagree among themselves: they are off by %.1f times their standard deviations", m.Misfit))
	}
	switch {
	case !m.Off:
		lines = append(lines, "the list of weights agrees with what was measured")
	case len(m.Suspects) == 0:
		lines = append(lines, "the list of weights is off, and no one weight explains it: look for several, or for one that is not listed")
	default:
		lines = append(lines, "the list of weights is off; any one of these would explain it, the likeliest first")
		for _, s := range m.Suspects {
			lines = append(lines, "  "+w.suspect(s))
		}
	}
	return rows, lines
}

func (w Words) suspect(s plan.Suspect) string {
	if s.Change == plan.MassChange {
		return fmt.Sprintf("%s, if it weighs %s", s.Name, w.Mass(s.Mass))
	}
	return fmt.Sprintf("%s, if it stands at [%s, %s, %s]", s.Name, w.Length(s.At.X), w.Length(s.At.Y), w.Length(s.At.Z))
}
