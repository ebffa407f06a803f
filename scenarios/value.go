package scenarios

import (
	"errors"
	"reflect"
	"strconv"

	"github.com/byhead/byhead/flood"
)

// Settings is a run as the engine takes it.
func (r Run) Settings() flood.Settings {
	return flood.Settings{
		Until: r.Until, Every: r.Every, Motion: flood.Motion(r.Motion), Keel: r.Keel, Menisci: flood.Menisci(r.Menisci),
		Tolerance: r.Tolerance,
		AddedMass: &r.AddedMass, LinearDamping: &r.LinearDamping, QuadraticDamping: &r.QuadraticDamping,
	}
}

// ParseValue reads a value for a path as the file would have it, such as "50 mm" for bulkheads.B4.top. Whether the file has
// such a value, or may have one, is not asked. The error says what is wrong and what would be right.
func (s *Scenario) ParseValue(path, text string) (Quantity, error) {
	kinds, t := s.kindsFor(path)
	if t != nil {
		return Quantity{}, errors.New(t.what + "; " + t.want)
	}
	return ParseQuantity(text, kinds...)
}

// kindsFor are the kinds of quantity that may stand at a path: the one that the file has there, if it has one with a unit.
func (s *Scenario) kindsFor(path string) ([]Kind, *trouble) {
	if t := checkPath(path); t != nil {
		return nil, t
	}
	kinds, t := kindsOfType(reflect.TypeFor[fileDoc](), path, dotted(path))
	if t != nil {
		return nil, t
	}
	if q, ok := s.written(path, kinds); ok && q.Unit.Kind != Plain && q.Unit.Kind != Share {
		return []Kind{q.Unit.Kind}, nil
	}
	return kinds, nil
}

// written is the quantity that the file, or a default, has at a path.
func (s *Scenario) written(path string, kinds []Kind) (Quantity, bool) {
	n := s.root.at(dotted(path))
	if n == nil {
		basis, _ := parse([]byte(defaults))
		n = basis.at(dotted(path))
	}
	if n == nil || n.kind != scalarNode {
		return Quantity{}, false
	}
	q, t := readQuantity(n.text, kinds)
	return q, t == nil
}

// unitAt is the unit that the file has at a path; else the file's usual one for what stands there.
func (s *Scenario) unitAt(path string) Unit {
	kinds, t := s.kindsFor(path)
	if t != nil || len(kinds) == 0 {
		return Unit{}
	}
	if q, ok := s.written(path, kinds); ok {
		return q.Unit
	}
	if kinds[0] == Length {
		return s.Unit
	}
	for _, k := range kinds {
		if k == Plain {
			return Unit{}
		}
	}
	u, _ := unitNamed(unitNames(kinds[0])[0])
	return u
}

// WriteValue writes a value in SI units as the file would have it at a path, to so many digits.
func (s *Scenario) WriteValue(path string, si float64, digits int) string {
	u := s.unitAt(path)
	text := strconv.FormatFloat(u.FromSI(si), 'g', digits, 64)
	if u.Name == "" {
		return text
	}
	return text + " " + u.Name
}

// MetricWords writes results of no one scenario, in millimetres.
func MetricWords() Words {
	mm, _ := unitNamed("mm")
	return Words{unit: mm, scale: 1}
}
