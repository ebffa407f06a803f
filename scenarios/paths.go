package scenarios

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// settable are the parts of a scenario in which a variant may replace values.
var settable = []string{"water", "hull", "bulkheads", "compartments", "weights", "openings", "joints", "marks", "run"}

// fixed are the keys that are not values: other parts refer to them.
var fixed = []string{"name", "between", "sections"}

// defaults is what a scenario has where its file says nothing, so that a variant or a spread may name it.
const defaults = `
water: {kind: fresh, temperature: 15 C}
run: {until: 10 min, every: 0.5 s, motion: settled, menisci: wet, tolerance: 1e-5, added_mass: 1, linear_damping: 1, quadratic_damping: 1}
`

// rectangles are the keys whose value is two sides, and what the sides are called.
var rectangles = map[string][]string{"slot": lengthWidth{}.words(), "door": lengthHeight{}.words()}

// step finds what one word of a path names inside a node: its index among the items, −1 if there is none. open is the node
// itself, or the mapping that a scalar of the format stands for: a compartment's bare name, or the sides of a rectangle.
func (n *node) step(above, word string) (open *node, index int) {
	open = n
	if n.kind == scalarNode {
		if keys, ok := rectangles[above]; ok {
			open = n.sides(keys)
		} else if above == "" {
			key := &node{line: n.line, column: n.column, text: "name"}
			open = &node{kind: mappingNode, line: n.line, column: n.column, keys: []*node{key}, items: []*node{n}}
		}
	}
	if open.kind == mappingNode {
		return open, slices.IndexFunc(open.keys, func(k *node) bool { return k.text == word })
	}
	for i, item := range open.items {
		if item.name() == word {
			return open, i
		}
	}
	if i := strings.Index("xyz", word); len(word) == 1 && i >= 0 && i < len(open.items) {
		return open, i
	}
	if i, err := strconv.Atoi(word); err == nil && i >= 0 && i < len(open.items) && strconv.Itoa(i) == word {
		return open, i
	}
	return open, -1
}

// name is what an item of a list is called: its name key, or the scalar that it is.
func (n *node) name() string {
	if _, v := n.find("name"); v != nil {
		return v.text
	}
	return n.text
}

// replace gives the nodes with the value at a path replaced, or added where a mapping has no such key yet. Nodes on the way
// are copied, all others shared. key is the path as a node, so that faults in what is added stand where the path was written.
func (n *node) replace(path []string, key, value *node) (*node, *trouble) {
	return n.replaced("", path, path, key, value)
}

func (n *node) replaced(above string, whole, path []string, key, value *node) (*node, *trouble) {
	if len(path) == 0 {
		return value, nil
	}
	open, i := n.step(above, path[0])
	fresh := *open
	fresh.keys, fresh.items = slices.Clone(open.keys), slices.Clone(open.items)
	if i < 0 {
		if open.kind != mappingNode {
			return nil, open.stranger(whole, path[0])
		}
		i = len(fresh.items)
		fresh.keys = append(fresh.keys, &node{line: key.line, column: key.column, text: path[0]})
		fresh.items = append(fresh.items, &node{kind: mappingNode, line: key.line, column: key.column})
	}
	below := ""
	if fresh.kind == mappingNode {
		below = path[0]
	}
	item, t := fresh.items[i].replaced(below, whole, path[1:], key, value)
	if t != nil {
		return nil, t
	}
	fresh.items[i] = item
	return &fresh, nil
}

// stranger tells that a list has no item of that name, or that a value has no parts.
func (n *node) stranger(path []string, word string) *trouble {
	if n.kind != sequenceNode {
		return &trouble{what: fmt.Sprintf("%s leads into %s, which has no part %s", quote(strings.Join(path, ".")), n.named(), quote(word)), want: "a path that ends at a value"}
	}
	var known []string
	for _, item := range n.items {
		if item.kind == mappingNode || len(path) == 2 {
			known = append(known, item.name())
		}
	}
	want := "no item, since the list is empty"
	if len(known) > 0 {
		want = meant(word, known) + "it has " + both(known)
	} else if len(n.items) > 0 {
		want = "x, y or z"
	}
	return &trouble{what: fmt.Sprintf("%s names %s, which is not in the list", quote(strings.Join(path, ".")), quote(word)), want: want}
}

// checkPath refuses paths that no variant may set: those outside the settable parts, and names.
func checkPath(path string) *trouble {
	words := dotted(path)
	if !slices.Contains(settable, words[0]) {
		return &trouble{what: quote(path) + " is not the path of a value", want: meant(words[0], settable) + "a path begins with " + either(settable)}
	}
	if last := words[len(words)-1]; len(words) == 1 || slices.Contains(fixed, last) || slices.Contains(words, "") {
		return &trouble{what: quote(path) + " does not lead to a value that can be replaced", want: "a path such as bulkheads.B4.top"}
	}
	return nil
}

// kindsAt gives the kinds of quantity that may stand at a path of a scenario, which must have a number there.
func kindsAt(root *node, path string) ([]Kind, *trouble) {
	if t := checkPath(path); t != nil {
		return nil, t
	}
	words := dotted(path)
	kinds, t := kindsOfType(reflect.TypeFor[fileDoc](), path, words)
	if t != nil {
		return nil, t
	}
	n := root.at(words)
	if n == nil {
		basis, _ := parse([]byte(defaults))
		n = basis.at(words)
	}
	if n == nil {
		if t := root.firstStranger(words); t != nil {
			return nil, t
		}
		return nil, &trouble{what: "the scenario gives no value for " + quote(path), want: "a path whose value stands in the file"}
	}
	if q, t := readQuantity(n.text, kinds); t == nil && q.Unit.Kind != Plain && q.Unit.Kind != Share {
		return []Kind{q.Unit.Kind}, nil
	}
	return kinds, nil
}

// at finds the node at a path, nil if there is none.
func (n *node) at(path []string) *node {
	above := ""
	for _, word := range path {
		open, i := n.step(above, word)
		if i < 0 {
			return nil
		}
		above = ""
		if open.kind == mappingNode {
			above = word
		}
		n = open.items[i]
	}
	return n
}

// firstStranger is what stops a path: the first list that has no such item; nil if only keys are missing.
func (n *node) firstStranger(path []string) *trouble {
	above := ""
	for _, word := range path {
		open, i := n.step(above, word)
		if i < 0 {
			if open.kind == mappingNode {
				return nil
			}
			return open.stranger(path, word)
		}
		above = ""
		if open.kind == mappingNode {
			above = word
		}
		n = open.items[i]
	}
	return nil
}

// kindsOfType follows a path through the documents' types and gives the kinds of quantity at its end.
func kindsOfType(t reflect.Type, path string, words []string) ([]Kind, *trouble) {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if leaf, ok := reflect.New(t).Interface().(value); ok {
		return kindsOfShape(leaf.shape(), path, words)
	}
	if t.Kind() == reflect.Slice {
		if len(words) == 0 {
			return nil, &trouble{what: quote(path) + " is not a number", want: "a path that ends at a number"}
		}
		return kindsOfType(t.Elem(), path, words[1:])
	}
	if len(words) == 0 {
		return nil, &trouble{what: quote(path) + " is not a number", want: "a path that ends at a number"}
	}
	fields := fieldsOf(t)
	i := slices.IndexFunc(fields, func(f field) bool { return f.key == words[0] })
	if i < 0 {
		return nil, &trouble{what: fmt.Sprintf("%s names %s, which is no key there", quote(path), quote(words[0])), want: meant(words[0], keysOf(fields)) + "one of " + either(keysOf(fields))}
	}
	return kindsOfType(fields[i].kind, path, words[1:])
}

// kindsOfShape is the end of a path: a quantity, or one of a list or of a rectangle's sides.
func kindsOfShape(s shape, path string, words []string) ([]Kind, *trouble) {
	part := &s
	switch {
	case s.items != nil && len(words) == 1:
		part, words = s.items, nil
	case len(s.docs) > 0 && len(words) > 0:
		return kindsOfType(reflect.TypeOf(s.docs[0].doc), path, words)
	}
	if len(words) > 0 || part.number == nil {
		return nil, &trouble{what: quote(path) + " is not a number", want: "a path that ends at a number"}
	}
	return part.number.kinds, nil
}
