package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/scenarios"
)

// Model is a vessel and how its flooding is stepped. It never changes, and may be shared by goroutines.
type Model struct {
	Scenario *scenarios.Scenario // the words, units and digest; of a changed model that of the scenario it came from
	Vessel   *compartment.Vessel
	Settings flood.Settings

	set []string // paths and values that were set since the scenario was read
}

// Digest is the digest of the model's input: the scenario's, with the values that With has set since. Where Settings or Vessel
// were replaced by hand it does not know.
func (m *Model) Digest() string { return m.Scenario.DigestWith(m.set...) }

// Value is a value in SI units by its path in the scenario; besides those of the vessel there are those of run.
type Value = compartment.PathValue

// NewModel builds a scenario's vessel. The error is of type scenarios.Faults.
func NewModel(s *scenarios.Scenario) (*Model, error) {
	v, err := s.Build()
	if err != nil {
		return nil, err
	}
	return &Model{Scenario: s, Vessel: v, Settings: settingsOf(s)}, nil
}

// settingsOf are a scenario's for one run of many, which needs no curve of bending.
func settingsOf(s *scenarios.Scenario) flood.Settings {
	set := s.Run.Settings()
	set.NoCurve = true
	return set
}

// With is the model with other values. The error is of type compartment.Faults where a path is not known or the vessel
// cannot be built with them.
func (m *Model) With(values []Value) (*Model, error) {
	out := *m
	out.set = slices.Clone(m.set)
	var vessel []Value
	for _, v := range values {
		out.set = append(out.set, v.Path, strconv.FormatFloat(v.Value, 'g', -1, 64))
		if !strings.HasPrefix(v.Path, "run.") {
			vessel = append(vessel, v)
			continue
		}
		if err := out.setRun(v); err != nil {
			return nil, err
		}
	}
	if len(vessel) > 0 {
		var err error
		if out.Vessel, err = m.Vessel.WithAll(vessel); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

// runValue is a number among the settings of a run, and the range that the scenario file allows it.
type runValue struct {
	name      string
	low, high float64
	at        func(*flood.Settings) **float64
}

func plainly(field func(*flood.Settings) *float64) func(*flood.Settings) **float64 {
	return func(s *flood.Settings) **float64 { p := field(s); return &p }
}

// runValues are the numbers of run.
func runValues() []runValue {
	const longest, most = 1e7, 1000
	tiny := math.SmallestNonzeroFloat64
	return []runValue{
		{"until", tiny, longest, plainly(func(s *flood.Settings) *float64 { return &s.Until })},
		{"every", tiny, longest, plainly(func(s *flood.Settings) *float64 { return &s.Every })},
		{"tolerance", 1e-12, 0.1, plainly(func(s *flood.Settings) *float64 { return &s.Tolerance })},
		{"keel", -20, 20, func(s *flood.Settings) **float64 { return &s.Keel }},
		{"added_mass", 0, most, func(s *flood.Settings) **float64 { return &s.AddedMass }},
		{"linear_damping", 0, most, func(s *flood.Settings) **float64 { return &s.LinearDamping }},
		{"quadratic_damping", 0, most, func(s *flood.Settings) **float64 { return &s.QuadraticDamping }},
	}
}

func findRunValue(path string) (runValue, error) {
	var known []string
	for _, r := range runValues() {
		if known = append(known, "run."+r.name); "run."+r.name == path {
			return r, nil
		}
	}
	want := "one of " + strings.Join(known, ", ")
	if near := compartment.Nearest(path, known); near != "" {
		want = "did you mean " + near + "?"
	}
	return runValue{}, compartment.Faults{{Path: path, What: fmt.Sprintf("there is no number %q", path), Want: want}}
}

func (m *Model) setRun(v Value) error {
	r, err := findRunValue(v.Path)
	if err != nil {
		return err
	}
	if !(v.Value >= r.low && v.Value <= r.high) {
		return compartment.Faults{{Path: v.Path, What: fmt.Sprintf("%g is out of range", v.Value), Want: fmt.Sprintf("from %g to %g", max(r.low, 0), r.high)}}
	}
	switch p := r.at(&m.Settings); r.name {
	case "until", "every", "tolerance":
		**p = v.Value // the settings are this model's own
	default:
		x := v.Value
		*p = &x // what the old pointer leads to is shared
	}
	return nil
}

// Value is the value at a path as the model has it. The error is of type compartment.Faults.
func (m *Model) Value(path string) (float64, error) {
	if !strings.HasPrefix(path, "run.") {
		return m.Vessel.Spec.Value(path)
	}
	r, err := findRunValue(path)
	if err != nil {
		return 0, err
	}
	p := *r.at(&m.Settings)
	if p == nil {
		return 0, compartment.Faults{{Path: path, What: "the value is not given", Want: "a value to start from"}}
	}
	return *p, nil
}

// Variant is the model of one of the scenario's variants, made from this one where its values are numbers, else built anew. The
// error is of type scenarios.Faults.
func (m *Model) Variant(name string) (*Model, error) {
	s, err := m.Scenario.Variant(name)
	if err != nil {
		return nil, err
	}
	if v := m.reached(s, name); v != nil {
		return &Model{Scenario: s, Vessel: v, Settings: settingsOf(s)}, nil
	}
	return NewModel(s)
}

// reached is the vessel of a variant by With, nil where that does not lead to the same description.
func (m *Model) reached(s *scenarios.Scenario, name string) *compartment.Vessel {
	i := slices.IndexFunc(m.Scenario.Variants, func(v scenarios.Variant) bool { return v.Name == name })
	var values []Value
	for _, set := range m.Scenario.Variants[i].Set {
		if strings.HasPrefix(set.Path, "run.") {
			continue
		}
		x, err := s.Spec.Value(set.Path)
		if err != nil {
			return nil
		}
		values = append(values, Value{Path: set.Path, Value: x})
	}
	v, err := m.Vessel.WithAll(values)
	if err != nil || !reflect.DeepEqual(v.Spec, s.Spec) {
		return nil
	}
	return v
}

// Run steps the flooding to its end. The error is that of flood.Start or ctx's; a run that gave
// up is no error but an outcome.
func (m *Model) Run(ctx context.Context) (*Outcome, error) {
	var moments moments
	settings := m.Settings
	settings.Samples = moments.keep
	settings.Every = settings.Until // no samples but those at events, which are all that is needed
	run, err := flood.Start(m.Vessel, settings)
	if err != nil {
		return nil, err
	}
	result, err := run.Finish(ctx)
	if err != nil {
		return nil, err
	}
	return newOutcome(m.Scenario, result, moments), nil
}

// faulty are the paths of compartment.Faults that an error is made of; nil if it is another.
func faulty(err error) compartment.Faults {
	var faults compartment.Faults
	if errors.As(err, &faults) {
		return faults
	}
	return nil
}
