package scenarios

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// shape says how a value is written: for the schema, and for messages about a key that is missing.
type shape struct {
	example string
	number  *rule     // a quantity that obeys this rule
	words   []string  // one of these
	pattern string    // a text of this form
	not     []string  // but none of these
	items   *shape    // a list of these
	count   int       // of items
	fields  []string  // or a mapping with these keys, each of the shape of items, or `A x B` of two of them
	any     bool      // a mapping with any keys and any values
	bool    bool      // true or false
	docs    []docSpec // or one of these documents
}

// docSpec is a document as part of a value's shape: itself, or a list of it.
type docSpec struct {
	doc  any
	list bool
}

// rule is what a quantity in one place of the format must be.
type rule struct {
	kinds     []Kind
	low, high float64 // in SI, inclusive; both 0: only what is absurd for the kind is refused
	above     bool    // low itself is not allowed
	example   string
	want      string // what would be right where the value is out of range
}

// ruled is a type that stands for a rule, so that the rule is part of a field's type.
type ruled interface{ rule() rule }

// measure is a quantity that obeys the rule R.
type measure[R ruled] struct{ Quantity }

func (m *measure[R]) decode(d *decoder, n, _ *node) {
	var r R
	m.Quantity, _ = d.quantity(n, r.rule())
}

func (m *measure[R]) shape() shape {
	var r R
	rule := r.rule()
	return shape{example: rule.example, number: &rule}
}

// si gives the value in SI units, nil for nil.
func (m *measure[R]) si() *float64 {
	if m == nil {
		return nil
	}
	return &m.Value
}

// must gives the value in SI units; NaN where a key that has to be there is not, which was told when that was found.
func (m *measure[R]) must() float64 { return m.or(math.NaN()) }

// or gives the value in SI units, or what holds where none is given.
func (m *measure[R]) or(otherwise float64) float64 {
	if m == nil {
		return otherwise
	}
	return m.Value
}

// quantity reads a quantity by a rule; one that is wrong has the value NaN.
func (d *decoder) quantity(n *node, r rule) (Quantity, bool) {
	nothing := Quantity{Number: math.NaN(), Value: math.NaN()}
	if n.kind != scalarNode {
		d.fault(n, n.named()+" stands where one value is due", due(r.kinds))
		return nothing, false
	}
	q, t := readQuantity(n.text, r.kinds)
	if bounded := r.low != 0 || r.high != 0; bounded && t != nil && t.most != "" {
		t.want = r.wantUpTo(t.most)
	} else if bounded && t == nil && (q.Value < r.low || q.Value > r.high || r.above && q.Value == r.low) {
		t = &trouble{what: quote(n.text) + " is out of range", want: r.want}
	}
	if t != nil {
		d.fault(n, t.what, t.want)
		return nothing, false
	}
	if q.Unit.Name != "" {
		d.units = append(d.units, q.Unit)
	}
	return q, true
}

// wantUpTo is what would be right where a value is absurd for its kind, most being the most that is not: the rule's own end where it has one.
func (r rule) wantUpTo(most string) string {
	if r.high < endless {
		return r.want
	}
	return r.want + ", up to " + most
}

const endless = math.MaxFloat64

// The rules of the format's quantities.
type (
	coordinate   struct{}
	extent       struct{}
	distance     struct{}
	mass         struct{}
	duration     struct{}
	instant      struct{}
	force        struct{}
	moment       struct{}
	area         struct{}
	flow         struct{}
	density      struct{}
	tension      struct{}
	temperature  struct{}
	angle        struct{}
	contactAngle struct{}
	permeability struct{}
	starting     struct{}
	coefficient  struct{}
	factor       struct{}
)

func (coordinate) rule() rule { return rule{kinds: []Kind{Length}, example: "62 mm"} }
func (extent) rule() rule {
	return rule{kinds: []Kind{Length}, high: endless, above: true, example: "62 mm", want: "a length of more than nothing"}
}
func (distance) rule() rule {
	return rule{kinds: []Kind{Length}, high: endless, example: "2 mm", want: "a length of 0 mm or more"}
}
func (mass) rule() rule {
	return rule{kinds: []Kind{Mass}, high: endless, above: true, example: "310 g", want: "a mass of more than nothing"}
}
func (duration) rule() rule {
	return rule{kinds: []Kind{Time}, high: endless, above: true, example: "10 min", want: "a time of more than nothing"}
}
func (instant) rule() rule {
	return rule{kinds: []Kind{Time}, high: endless, example: "5 s", want: "a time of 0 s or more"}
}
func (force) rule() rule {
	return rule{kinds: []Kind{Force}, high: endless, above: true, example: "15 N", want: "a force of more than nothing (limits are magnitudes)"}
}
func (moment) rule() rule {
	return rule{kinds: []Kind{Moment}, high: endless, above: true, example: "1.2 N.m", want: "a moment of more than nothing (limits are magnitudes)"}
}
func (area) rule() rule {
	return rule{kinds: []Kind{Area}, high: endless, above: true, example: "1.2 cm2", want: "an area of more than nothing"}
}
func (flow) rule() rule {
	return rule{kinds: []Kind{Flow}, high: endless, above: true, example: "1.2 l/min",
		want: "a flow of more than nothing, which runs from the first to the second space in `between`"}
}
func (density) rule() rule {
	return rule{kinds: []Kind{Density}, high: endless, above: true, example: "1050 kg/m3", want: "a density of more than nothing"}
}
func (tension) rule() rule {
	return rule{kinds: []Kind{SurfaceTension}, high: endless, example: "35 mN/m", want: "0 mN/m (none) or more"}
}
func (temperature) rule() rule {
	return rule{kinds: []Kind{Temperature}, low: 273.15, high: 313.15, example: "15 C", want: "a temperature from 0 C to 40 C"}
}
func (angle) rule() rule {
	return rule{kinds: []Kind{Angle}, low: -math.Pi / 2, high: math.Pi / 2, example: "8 deg", want: "an angle from -90 deg to 90 deg"}
}
func (contactAngle) rule() rule {
	return rule{kinds: []Kind{Angle}, high: math.Pi, example: "80 deg", want: "an angle from 0 deg to 180 deg"}
}
func (permeability) rule() rule {
	return rule{kinds: []Kind{Share, Plain}, high: 1, above: true, example: "0.92", want: "a share of more than 0 and at most 1"}
}
func (starting) rule() rule {
	return rule{kinds: []Kind{Volume, Length, Share}, high: endless, example: "300 ml", want: "0 ml or more"}
}
func (coefficient) rule() rule {
	return rule{kinds: []Kind{Plain}, high: 2, above: true, example: "0.61", want: "a coefficient of more than 0, 0.6 to 1 as a rule, 2 the most"}
}
func (factor) rule() rule {
	return rule{kinds: []Kind{Plain}, high: flood.MostFactor, example: "1.0",
		want: fmt.Sprintf("a factor of 0 or more, at most %g, where 1 is the documented value", flood.MostFactor)}
}

// words is a type that stands for a choice of words.
type words interface{ words() []string }

// word is one of the words that W names.
type word[W words] struct{ Text string }

func (w *word[W]) decode(d *decoder, n, _ *node) {
	var choice W
	known := choice.words()
	if n.kind != scalarNode || !slices.Contains(known, n.text) {
		d.fault(n, n.named()+" is not one of the words that may stand here", meant(n.text, known)+either(known))
		return
	}
	w.Text = n.text
}

func (w *word[W]) shape() shape {
	var choice W
	return shape{words: choice.words(), example: choice.words()[0]}
}

// or gives the word, or what holds where none is given.
func (w *word[W]) or(otherwise string) string {
	if w == nil {
		return otherwise
	}
	return w.Text
}

// yes is true or false.
type yes bool

func (y *yes) decode(d *decoder, n, _ *node) {
	if n.kind != scalarNode || n.quoted || (n.text != "true" && n.text != "false") {
		d.fault(n, n.named()+" is neither true nor false", "true or false")
		return
	}
	*y = n.text == "true"
}

func (y *yes) shape() shape { return shape{bool: true, example: "true"} }

// text is any text.
type text string

func (t *text) decode(d *decoder, n, _ *node) {
	if n.kind != scalarNode {
		d.fault(n, n.named()+" stands where a text is due", "a line of text")
		return
	}
	*t = text(strings.Join(strings.Fields(n.text), " "))
	for _, r := range *t { // an escape such as "\e" can write what the file itself may not hold, and a terminal would obey it
		if what, want := badRune(r, utf8.RuneLen(r), 0); what != "" {
			d.fault(n, what, want)
			return
		}
	}
}

func (t *text) shape() shape { return shape{pattern: ".*", example: "a line of text"} }

// name is what a part of the vessel is called. Names become parts of paths, hence the few characters.
type name string

var (
	namePattern = regexp.MustCompile(`^[A-Za-z0-9-]+$`)
	takenNames  = []string{"hull", "outside", "sea"}
)

func (m *name) decode(d *decoder, n, _ *node) {
	*m = name(n.text) // even if it is wrong: what refers to it is not at fault
	switch {
	case n.kind != scalarNode || !namePattern.MatchString(n.text):
		d.fault(n, n.named()+" is not a name", "letters, digits and hyphens, such as engine-room")
	case slices.Contains(takenNames, n.text):
		d.fault(n, "the name "+quote(n.text)+" has a meaning of its own", "another name: "+both(takenNames)+" are taken")
	}
}

func (m *name) shape() shape {
	return shape{pattern: namePattern.String(), not: takenNames, example: "engine-room"}
}

// reference is the name of a part of the vessel, or one of the taken names. Whether there is such a part is checked when
// the vessel is built.
type reference string

func (r *reference) decode(d *decoder, n, _ *node) {
	*r = reference(n.text)
	if n.kind != scalarNode || !namePattern.MatchString(n.text) {
		d.fault(n, n.named()+" is not a name", "the name of a part of the vessel: letters, digits and hyphens")
	}
}

func (r *reference) shape() shape {
	return shape{pattern: namePattern.String(), example: "engine-room"}
}

// items gives the items of a list of a fixed length. A wrong count stands at the list's key.
func (d *decoder) items(n, key *node, count int, want string) ([]*node, bool) {
	if n.kind != sequenceNode {
		d.fault(n, n.named()+" stands where a list of "+counted(count)+" is due", want)
		return nil, false
	}
	if len(n.items) != count {
		d.fault(key, fmt.Sprintf("the list has %s where %s are due", counted(len(n.items)), counted(count)), want)
		return nil, false
	}
	for _, item := range n.items {
		if item.kind == nullNode {
			d.fault(item, "this item of the list is empty", want)
			return nil, false
		}
	}
	return n.items, true
}

func counted(n int) string {
	names := [...]string{"no value", "one value", "two values", "three values", "four values"}
	if n < len(names) {
		return names[n]
	}
	return fmt.Sprintf("%d values", n)
}

// quantities decodes a list of a fixed number of quantities; those that are wrong become NaN.
func (d *decoder) quantities(n, key *node, to []float64, r rule, want string) bool {
	for i := range to {
		to[i] = math.NaN()
	}
	items, ok := d.items(n, key, len(to), want)
	for i, item := range items {
		q, fine := d.quantity(item, r)
		to[i], ok = q.Value, ok && fine
	}
	return ok
}

// point is [x, y, z].
type point [3]float64

const pointWanted = "[x, y, z] with units, such as [512 mm, 0 mm, 41 mm]"

func (p *point) decode(d *decoder, n, key *node) {
	d.quantities(n, key, p[:], coordinate{}.rule(), pointWanted)
}

func (p *point) shape() shape { return listShape[coordinate](3, "[512 mm, 0 mm, 41 mm]") }

// vec gives the point; NaN where it has to be given and is not.
func (p *point) vec() r3.Vec {
	if p == nil {
		return r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
	}
	return r3.Vec{X: p[0], Y: p[1], Z: p[2]}
}

// span is [from, to] along an axis.
type span [2]float64

func (s *span) decode(d *decoder, n, key *node) {
	if !d.quantities(n, key, s[:], coordinate{}.rule(), "[from, to] with units, such as [0 mm, 1060 mm]") {
		return
	}
	if !(s[0] < s[1]) {
		d.fault(n.items[1], fmt.Sprintf("%s is not more than %s", quote(n.items[1].text), quote(n.items[0].text)), "the lesser value first, then the greater")
		return
	}
}

func (s *span) shape() shape { return listShape[coordinate](2, "[0 mm, 1060 mm]") }

func (s *span) pair() *[2]float64 {
	if s == nil {
		return nil
	}
	pair := [2]float64(*s)
	return &pair
}

// size is [length, breadth, height].
type size [3]float64

func (s *size) decode(d *decoder, n, key *node) {
	d.quantities(n, key, s[:], extent{}.rule(), "[length, breadth, height] with units, such as [200 mm, 60 mm, 8 mm]")
}

func (s *size) shape() shape { return listShape[extent](3, "[200 mm, 60 mm, 8 mm]") }

// listShape is the shape of a list of quantities of one rule.
func listShape[R ruled](count int, example string) shape {
	item := new(measure[R]).shape()
	return shape{items: &item, count: count, example: example}
}

// names is a list of two names.
type names [2]reference

func (s *names) decode(d *decoder, n, key *node) {
	items, _ := d.items(n, key, 2, "two names, such as [outside, forepeak]")
	for i, item := range items {
		s[i].decode(d, item, item)
	}
}

func (s *names) shape() shape {
	item := new(reference).shape()
	return shape{items: &item, count: 2, example: "[outside, forepeak]"}
}

// sectionPair is a list of the names of two pieces, those on the two sides of a joint.
type sectionPair struct{ names }

func (s *sectionPair) decode(d *decoder, n, key *node) {
	items, _ := d.items(n, key, 2, "the names of the piece abaft it and of the piece before it, such as [stern, bow]")
	for i, item := range items {
		s.names[i].decode(d, item, item)
	}
}

func (s *sectionPair) shape() shape {
	item := new(reference).shape()
	return shape{items: &item, count: 2, example: "[stern, bow]"}
}

func (s *sectionPair) pair() [2]string {
	if s == nil {
		return [2]string{}
	}
	return s.names.pair()
}

func (s *names) pair() [2]string {
	if s == nil {
		return [2]string{}
	}
	return [2]string{string(s[0]), string(s[1])}
}

// direction is an axis by its letter, or [a, b, c] in bare numbers. S tells whether the letter may have a minus.
type direction[S words] struct{ Vec r3.Vec }

func (v *direction[S]) decode(d *decoder, n, key *node) {
	var s S
	known := s.words()
	want := either(known) + ", or [a, b, c] in numbers without units"
	if n.kind == scalarNode {
		if !slices.Contains(known, n.text) {
			d.fault(n, quote(n.text)+" is not a direction", want)
			v.Vec = r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
			return
		}
		sign := 1.0
		if n.text[0] == '-' {
			sign = -1
		}
		axes := map[byte]r3.Vec{'x': {X: sign}, 'y': {Y: sign}, 'z': {Z: sign}}
		v.Vec = axes[n.text[len(n.text)-1]]
		return
	}
	var abc [3]float64
	d.quantities(n, key, abc[:], rule{kinds: []Kind{Plain}}, want)
	if v.Vec = (r3.Vec{X: abc[0], Y: abc[1], Z: abc[2]}); r3.Norm(v.Vec) < 1e-9 {
		d.fault(n, "[0, 0, 0] points nowhere", want)
		return
	}
}

func (v *direction[S]) shape() shape {
	var s S
	item := shape{number: &rule{kinds: []Kind{Plain}}}
	return shape{words: s.words(), items: &item, count: 3, example: "x"}
}

func (v *direction[S]) vec() *r3.Vec {
	if v == nil {
		return nil
	}
	return &v.Vec
}

type axes struct{}

func (axes) words() []string { return []string{"x", "y", "z"} }

type facings struct{}

func (facings) words() []string { return []string{"x", "-x", "y", "-y", "z", "-z"} }

// sides is a rectangle by its two sides: `24 mm x 1.2 mm`, or a mapping with each by name.
type sides[N words] struct{ First, Second float64 }

func (s *sides[N]) decode(d *decoder, n, key *node) {
	var called N
	keys := called.words()
	n = n.sides(keys)
	s.First, s.Second = math.NaN(), math.NaN()
	want := fmt.Sprintf("%s x %s, such as 24 mm x 1.2 mm", strings.ToUpper(keys[0]), strings.ToUpper(keys[1]))
	if n.kind != mappingNode {
		d.fault(n, n.named()+" does not give two sides", want)
		return
	}
	for i, to := range []*float64{&s.First, &s.Second} {
		k, v := n.find(keys[i])
		if k == nil {
			d.fault(n, "there is no "+quote(keys[i])+" here", want)
			continue
		}
		q, _ := d.quantity(v, extent{}.rule())
		*to = q.Value
	}
	for _, k := range n.keys {
		if !slices.Contains(keys, k.text) {
			d.fault(k, "a rectangle has no key "+quote(k.text), meant(k.text, keys)+both(keys))
		}
	}
}

func (s *sides[N]) shape() shape {
	var called N
	one := new(measure[extent]).shape()
	return shape{fields: called.words(), items: &one, example: "24 mm x 1.2 mm"}
}

// sides writes a scalar `A x B` as the mapping that it stands for; any other node is returned as it is.
func (n *node) sides(keys []string) *node {
	if n.kind != scalarNode {
		return n
	}
	first, second, ok := strings.Cut(strings.ReplaceAll(n.text, "×", "x"), "x")
	if !ok || strings.TrimSpace(first) == "" || strings.TrimSpace(second) == "" {
		return n
	}
	m := &node{kind: mappingNode, line: n.line, column: n.column}
	for i, part := range []string{first, second} {
		at := node{line: n.line, column: n.column, text: keys[i]}
		value := at
		value.text = strings.TrimSpace(part)
		m.keys, m.items = append(m.keys, &at), append(m.items, &value)
	}
	return m
}

type lengthWidth struct{}

func (lengthWidth) words() []string { return []string{"length", "width"} }

type lengthHeight struct{}

func (lengthHeight) words() []string { return []string{"length", "height"} }

// unitName is the unit of a table.
type unitName struct{ Unit Unit }

func (u *unitName) decode(d *decoder, n, _ *node) {
	unit, ok := unitNamed(n.text)
	if n.kind != scalarNode || !ok || unit.Kind != Length {
		want := either(unitNames(Length))
		if usual, ok := usualNames[n.text]; ok {
			want = "write " + usual + "? " + want
		}
		d.fault(n, n.named()+" is not a unit of length", want)
		return
	}
	u.Unit = unit
	d.units = append(d.units, unit)
}

// unit gives the unit; the zero Unit where there is none.
func (u *unitName) unit() Unit {
	if u == nil {
		return Unit{}
	}
	return u.Unit
}

func (u *unitName) shape() shape { return shape{words: unitNames(Length), example: "mm"} }

func (m *name) text() string {
	if m == nil {
		return ""
	}
	return string(*m)
}

// must gives the two ends; NaN where the key has to be there and is not.
func (s *span) must() [2]float64 {
	if s == nil {
		return [2]float64{math.NaN(), math.NaN()}
	}
	return *s
}
