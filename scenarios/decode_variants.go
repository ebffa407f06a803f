package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Variant is a further scenario: the file's with values replaced.
type Variant struct {
	Name string
	Set  []Setting // in file order
}

// Setting is one value replaced.
type Setting struct {
	Path string // such as bulkheads.B4.top
	Text string // the new value as written; a list in brackets
}

// Spread is how far the workshop misses one value. Exactly one of Normal and Uniform says something.
type Spread struct {
	Path     string
	Normal   float64     // standard deviation, SI; with Relative: as a share of the value
	Relative bool        //
	Uniform  *[2]float64 // the least and the greatest that is added to the value, SI; nil: the spread is normal
}

// variantDoc is an item of `variants:`.
type variantDoc struct {
	body
	Name *name     `yaml:"name" jsonschema:"required"`
	Set  *settings `yaml:"set" jsonschema:"required" jsonschema_description:"Value paths such as bulkheads.B4.top, each with its new value."`
}

func (v *variantDoc) noun() string { return "a variant" }

// settings is a mapping from value paths to new values, which are decoded once they stand in their places.
type settings struct{ node *node }

func (s *settings) decode(d *decoder, n, _ *node) {
	if n.kind != mappingNode {
		d.fault(n, n.named()+" stands where values to replace are due", "`{bulkheads.B4.top: 50 mm}`")
		return
	}
	for i, v := range n.items {
		if v.kind == nullNode {
			d.fault(n.keys[i], quote(n.keys[i].text)+" gets no value", "a value in place of the one in the file")
		}
	}
	s.node = n
}

func (s *settings) shape() shape {
	return shape{any: true, example: "{bulkheads.B4.top: 50 mm}"}
}

func (v *variantDoc) spec() Variant {
	out := Variant{Name: v.Name.text()}
	if v.Set == nil || v.Set.node == nil {
		return out
	}
	for i, k := range v.Set.node.keys {
		out.Set = append(out.Set, Setting{Path: k.text, Text: v.Set.node.items[i].written()})
	}
	return out
}

// spreadDoc is an item of `spread:`.
type spreadDoc struct {
	body
	Value   *text      `yaml:"value" jsonschema:"required" jsonschema_description:"A value path such as openings.cut-1.slot.width."`
	Normal  *anything  `yaml:"normal" jsonschema:"oneof_required=normal" jsonschema_description:"Standard deviation, of the value where in %."`
	Uniform *deviation `yaml:"uniform" jsonschema:"oneof_required=uniform" jsonschema_description:"[least, greatest], added to the value."`
}

func (s *spreadDoc) noun() string { return "a spread" }

// anything is a quantity of any kind; which it has to be depends on the path beside it.
type anything struct {
	node *node
	Quantity
}

func (a *anything) decode(d *decoder, n, _ *node) {
	a.node = n
	a.Quantity, _ = d.quantity(n, rule{})
}

func (a *anything) shape() shape { return shape{number: &rule{kinds: everyKind()}, example: "15 %"} }

func everyKind() []Kind {
	kinds := make([]Kind, len(kindFacts))
	for i := range kinds {
		kinds[i] = Kind(i)
	}
	return kinds
}

// deviation is two quantities of any kind.
type deviation [2]anything

func (v *deviation) decode(d *decoder, n, key *node) {
	items, _ := d.items(n, key, 2, "[least, greatest] with units, such as [-4 mm, 4 mm]")
	for i, item := range items {
		v[i].decode(d, item, item)
	}
}

func (v *deviation) shape() shape {
	item := new(anything).shape()
	return shape{items: &item, count: 2, example: "[-4 mm, 4 mm]"}
}

// spec converts one spread of the file whose nodes are root. Its path must lead to a number that the file or a default gives.
func (s *spreadDoc) spec(d *decoder, root *node) (Spread, bool) {
	if s.Value == nil {
		return Spread{}, false
	}
	path := string(*s.Value)
	_, at := s.node.find("value")
	kinds, t := kindsAt(root, path)
	if t != nil {
		d.fault(at, t.what, t.want)
		return Spread{}, false
	}
	out := Spread{Path: path}
	if s.Normal != nil {
		out.Relative = s.Normal.Unit.Kind == Share
		allowed := append(slices.Clone(kinds), Share)
		if !d.deviates(s.Normal, allowed) {
			return Spread{}, false
		}
		out.Normal = s.Normal.Unit.Difference(s.Normal.Number)
		if out.Normal <= 0 {
			d.fault(s.Normal.node, quote(s.Normal.node.text)+" is no standard deviation", "something more than nothing")
			return Spread{}, false
		}
		return out, true
	}
	if s.Uniform == nil || s.Uniform[1].node == nil {
		return Spread{}, false
	}
	low, high := &s.Uniform[0], &s.Uniform[1]
	if !d.deviates(low, kinds) || !d.deviates(high, kinds) {
		return Spread{}, false
	}
	out.Uniform = &[2]float64{low.Unit.Difference(low.Number), high.Unit.Difference(high.Number)}
	if !(out.Uniform[0] < out.Uniform[1]) {
		d.fault(high.node, quote(high.node.text)+" is not more than "+quote(low.node.text), "the lesser value first, then the greater")
		return Spread{}, false
	}
	return out, true
}

func (d *decoder) deviates(a *anything, kinds []Kind) bool {
	if math.IsNaN(a.Value) {
		return false // told when it was read
	}
	if slices.Contains(kinds, a.Unit.Kind) {
		return true
	}
	d.fault(a.node, fmt.Sprintf("%s is %s", quote(a.node.text), article(a.Unit.Kind.String())), due(kinds))
	return false
}

// dotted splits a path.
func dotted(path string) []string { return strings.Split(path, ".") }
