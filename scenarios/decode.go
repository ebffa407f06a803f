package scenarios

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// The decoder fills documents (structs) from nodes by the structs' own tags, which the schema is made from as well:
//
//	yaml:"name"                       the key
//	jsonschema:"required"             the mapping must have it
//	jsonschema:"oneof_required=key"   the mapping must have exactly one of the fields so marked
//	jsonschema:"anyof_required=key"   at least one
//	jsonschema_description:"…"        for the schema
//
// A field is a slice, or a pointer to a value (a type that decodes itself) or to another document; nil where the key is not
// there. Nothing is dropped for being wrong: a faulty quantity becomes NaN and a faulty list item stays in its list, so that
// the builder, which steps around what is NaN, can look for further faults in the same file.

// value is a type that decodes itself from a node.
type value interface {
	decode(d *decoder, n, key *node)
	shape() shape
}

// checker is a document with rules beyond its tags.
type checker interface{ check(d *decoder) }

// shorthand is a document that may be written as a plain value, too.
type shorthand interface{ short(d *decoder, n *node) }

// noun names a document in messages.
type noun interface{ noun() string }

// body is embedded in a document that has to know where it stands.
type body struct{ node *node }

func (b *body) stand(n *node) { b.node = n }

// has tells whether a key was written, sound or not.
func (b *body) has(key string) bool {
	k, _ := b.node.find(key)
	return k != nil
}

// later gives the key that was written last of those named; the mapping itself where none was.
func (b *body) later(keys ...string) *node {
	place := b.node
	for _, k := range b.node.keysOf() {
		if slices.Contains(keys, k.text) {
			place = k
		}
	}
	return place
}

func (n *node) keysOf() []*node {
	if n == nil {
		return nil
	}
	return n.keys
}

// decoder gathers what one pass over the nodes finds.
type decoder struct {
	faults  Faults
	spoiled []*node // nodes that faults were told of
	units   []Unit  // of every quantity read, in order
}

func (d *decoder) fault(n *node, what, want string) {
	d.faults = append(d.faults, Fault{Line: n.line, Column: n.column, What: what, Want: want})
	d.spoiled = append(d.spoiled, n)
}

// into decodes a node into v. key is the key whose value the node is; the node itself in a list.
func (d *decoder) into(v reflect.Value, n, key *node) {
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	switch doc := v.Addr().Interface().(type) {
	case value:
		doc.decode(d, n, key)
	default:
		if v.Kind() == reflect.Slice {
			d.list(v, n)
		} else {
			d.document(v, n)
		}
	}
}

// list decodes each item of a list.
func (d *decoder) list(v reflect.Value, n *node) {
	if n.kind != sequenceNode {
		d.fault(n, n.named()+" stands where a list is due", "items, each on a line that begins with `- `, or [in, brackets]")
		return
	}
	items := reflect.MakeSlice(v.Type(), len(n.items), len(n.items))
	for i, item := range n.items {
		if item.kind == nullNode {
			d.fault(item, "this item of the list is empty", "a value, or no item")
			continue
		}
		d.into(items.Index(i), item, item)
	}
	v.Set(items)
}

// document decodes a mapping into a struct.
func (d *decoder) document(v reflect.Value, n *node) {
	doc := v.Addr().Interface()
	if b, ok := doc.(interface{ stand(*node) }); ok {
		b.stand(n)
	}
	if s, ok := doc.(shorthand); ok && n.kind == scalarNode {
		s.short(d, n)
		return
	}
	fields := fieldsOf(v.Type())
	if n.kind != mappingNode {
		d.fault(n, fmt.Sprintf("%s stands where %s is due", n.named(), nounOf(doc)), "keys and values: "+both(keysOf(fields)))
		return
	}
	for i, k := range n.keys {
		at := slices.IndexFunc(fields, func(f field) bool { return f.key == k.text })
		if at < 0 {
			d.fault(k, fmt.Sprintf("%s has no key %s", nounOf(doc), quote(k.text)), meant(k.text, keysOf(fields))+"its keys are "+both(keysOf(fields)))
		} else if n.items[i].kind == nullNode {
			d.fault(k, "the key "+quote(k.text)+" has no value", "a value, or no key")
		} else {
			d.into(v.Field(fields[at].index), n.items[i], k)
		}
	}
	d.required(doc, fields, n)
	d.exactlyOne(v, fields, n)
	d.atLeastOne(doc, fields, n)
	if c, has := doc.(checker); has {
		c.check(d)
	}
}

// required tells of keys that a mapping must have and has not.
func (d *decoder) required(doc any, fields []field, n *node) {
	for _, f := range fields {
		if k, _ := n.find(f.key); f.required && k == nil {
			d.fault(n, fmt.Sprintf("%s has no %s", nounOf(doc), quote(f.key)), f.wanted())
		}
	}
}

// exactlyOne sees to keys that exclude one another: too many are told at the last, and the first written holds.
func (d *decoder) exactlyOne(v reflect.Value, fields []field, n *node) {
	var one, given []string
	for _, f := range fields {
		if f.oneof {
			one = append(one, f.key)
		}
	}
	if len(one) == 0 {
		return
	}
	var last *node
	for _, k := range n.keys {
		if slices.Contains(one, k.text) {
			given, last = append(given, k.text), k
		}
	}
	noun := nounOf(v.Addr().Interface())
	switch {
	case len(given) == 0:
		d.fault(n, fmt.Sprintf("%s has neither %s", noun, joined(one, " nor ")), "exactly one of them")
	case len(given) > 1:
		d.fault(last, fmt.Sprintf("%s has %s, which exclude one another", noun, both(given)), "exactly one of "+both(one))
		for _, f := range fields {
			if f.oneof && f.key != given[0] {
				v.Field(f.index).SetZero()
			}
		}
	}
}

// atLeastOne tells where none is there of keys of which one must be.
func (d *decoder) atLeastOne(doc any, fields []field, n *node) {
	var any []string
	for _, f := range fields {
		if !f.anyof {
			continue
		}
		if k, _ := n.find(f.key); k != nil {
			return
		}
		any = append(any, f.key)
	}
	if len(any) > 0 {
		d.fault(n, fmt.Sprintf("%s has neither %s", nounOf(doc), joined(any, " nor ")), "at least one of them")
	}
}

// field is what the tags of a struct's field say.
type field struct {
	key                    string
	index                  int
	required, oneof, anyof bool
	kind                   reflect.Type
}

// wanted says how a missing key would be written.
func (f field) wanted() string {
	t := f.kind
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if leaf, ok := reflect.New(t).Interface().(value); ok {
		if s := leaf.shape(); s.example != "" {
			return fmt.Sprintf("`%s: %s`", f.key, s.example)
		}
	}
	return fmt.Sprintf("`%s:` with its value", f.key)
}

func fieldsOf(t reflect.Type) []field {
	var fields []field
	for i := range t.NumField() {
		f := t.Field(i)
		key := f.Tag.Get("yaml")
		if key == "" || key == "-" {
			continue
		}
		rules := f.Tag.Get("jsonschema")
		fields = append(fields, field{
			key:      key,
			index:    i,
			required: slices.Contains(strings.Split(rules, ","), "required"),
			oneof:    strings.Contains(rules, "oneof_required="),
			anyof:    strings.Contains(rules, "anyof_required="),
			kind:     f.Type,
		})
	}
	return fields
}

func keysOf(fields []field) []string {
	keys := make([]string, len(fields))
	for i, f := range fields {
		keys[i] = f.key
	}
	return keys
}

func nounOf(doc any) string {
	if n, ok := doc.(noun); ok {
		return n.noun()
	}
	return "this mapping"
}
