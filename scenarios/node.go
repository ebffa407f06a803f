package scenarios

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"gopkg.in/yaml.v3"
)

// The limits of a scenario's text. They keep a small file from growing into a large one through aliases.
const (
	mostAliases = 100
	mostNodes   = 10_000
	mostLevels  = 20
)

// nodeKind is what a node of the file is.
type nodeKind uint8

const (
	scalarNode nodeKind = iota
	mappingNode
	sequenceNode
	nullNode // a key without a value, or ~
)

// node is a value in the file with its place. Nodes are never changed once the file is read; a variant copies those on the
// way to what it replaces.
type node struct {
	kind         nodeKind
	line, column int
	text         string  // of a scalar, as written, without its quotes
	quoted       bool    // a scalar in quotes is never a number, true or false
	keys, items  []*node // a mapping has as many keys as items, a sequence has items only
}

// named is what a kind of node is called in messages.
func (n *node) named() string {
	switch n.kind {
	case mappingNode:
		return "a mapping of keys to values"
	case sequenceNode:
		return "a list"
	case nullNode:
		return "no value"
	}
	return quote(n.text)
}

// find gives the key and the value of a mapping, nil and nil if it has no such key.
func (n *node) find(key string) (k, v *node) {
	if n == nil || n.kind != mappingNode {
		return nil, nil
	}
	for i, k := range n.keys {
		if k.text == key {
			return k, n.items[i]
		}
	}
	return nil, nil
}

// parse reads the text into nodes. It refuses what YAML allows but a scenario does not need: several documents, repeated
// keys, merge keys, tags, keys that are not words, and aliases past the limits. root is nil where the text is no YAML.
//
// This is the only place that knows the YAML library. Only its nodes are used, never its decoding: that loses places, lets
// repeated keys pass, and panics on some merge keys.
func parse(text []byte) (root *node, faults Faults) {
	docs, err := yamlDocuments(text)
	if err != nil {
		return nil, Faults{syntaxFault(string(text), err)}
	}
	if len(docs) == 0 {
		return nil, Faults{{Line: 1, Column: 1, What: "the file is empty", Want: "a scenario has at least `format: 1` and `hull:`"}}
	}
	w := &nodeWalker{open: map[*yaml.Node]bool{}, seen: map[*yaml.Node]bool{}}
	for _, second := range docs[1:] {
		w.fault(second, "a second document begins here", "one file is one scenario: remove the line `---` or split the file")
	}
	root = w.walk(docs[0].Content[0], 1)
	if w.over {
		root = nil // what is left of it would only be full of gaps
	}
	return root, w.faults
}

// yamlDocuments reads the nodes of the first document, and the second's if there is one. The library panics on some broken
// texts (an internal error of its own, or an index); that is an error of the text here.
func yamlDocuments(text []byte) (docs []*yaml.Node, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("yaml: %v", v)
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(text))
	for len(docs) < 2 {
		var doc yaml.Node
		if err := decoder.Decode(&doc); errors.Is(err, io.EOF) {
			return docs, nil
		} else if err != nil {
			return nil, err
		}
		docs = append(docs, &doc)
	}
	return docs, nil
}

// nodeWalker copies the library's nodes with aliases expanded, within the limits.
type nodeWalker struct {
	faults  Faults
	count   int
	aliases int
	over    bool                // past a limit: nothing more is copied
	open    map[*yaml.Node]bool // nodes whose copying has begun and not ended: an alias to one would have no end
	seen    map[*yaml.Node]bool // aliases already counted
}

func (w *nodeWalker) fault(y *yaml.Node, what, want string) {
	w.faults = append(w.faults, Fault{Line: y.Line, Column: y.Column, What: what, Want: want})
}

// limit tells once that the file is too large.
func (w *nodeWalker) limit(y *yaml.Node, what, want string) *node {
	if !w.over {
		w.fault(y, what, want)
	}
	w.over = true
	return &node{kind: nullNode, line: y.Line, column: y.Column}
}

func (w *nodeWalker) walk(y *yaml.Node, level int) *node {
	if w.count++; w.over || w.count > mostNodes {
		return w.limit(y, fmt.Sprintf("the file has more than %d values and keys when its aliases are written out", mostNodes),
			"a smaller scenario; offsets belong in a CSV file")
	}
	if level > mostLevels {
		return w.limit(y, fmt.Sprintf("this is nested more than %d levels deep", mostLevels), "a scenario needs no more than eight")
	}
	if y.Kind == yaml.AliasNode {
		return w.alias(y, level)
	}
	if y.Style&yaml.TaggedStyle != 0 {
		w.fault(y, "the tag "+quote(y.Tag)+" is not used in a scenario", "the value without a tag")
	}
	n := &node{line: y.Line, column: y.Column, text: y.Value}
	w.open[y] = true
	switch y.Kind {
	case yaml.MappingNode:
		w.mapping(y, n, level)
	case yaml.SequenceNode:
		n.kind = sequenceNode
		for _, item := range y.Content {
			n.items = append(n.items, w.walk(item, level+1))
		}
	default:
		n.quoted = y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
		if !n.quoted && (y.Value == "" || y.Value == "~" || y.Value == "null") {
			n.kind = nullNode
		}
	}
	delete(w.open, y)
	return n
}

// alias copies what an alias stands for. The copy's place is where it is used, the place of what lies inside is where that
// is written.
func (w *nodeWalker) alias(y *yaml.Node, level int) *node {
	if !w.seen[y] {
		w.seen[y] = true
		w.aliases++
	}
	if w.aliases > mostAliases {
		return w.limit(y, fmt.Sprintf("the file has more than %d aliases", mostAliases), "values written out")
	}
	if w.open[y.Alias] {
		return w.limit(y, "the alias "+quote("*"+y.Value)+" stands inside what it names", "a value without an alias to itself")
	}
	n := *w.walk(y.Alias, level)
	n.line, n.column = y.Line, y.Column
	return &n
}

func (w *nodeWalker) mapping(y *yaml.Node, n *node, level int) {
	n.kind = mappingNode
	first := map[string]*yaml.Node{}
	for i := 0; i+1 < len(y.Content); i += 2 {
		yk := y.Content[i]
		if yk.Tag == "!!merge" && yk.Style == 0 {
			w.fault(yk, "merge keys (`<<`) are not used in a scenario", "the keys written out")
			continue
		}
		k, v := w.walk(yk, level+1), w.walk(y.Content[i+1], level+1)
		if w.over {
			return
		}
		switch earlier := first[k.text]; {
		case k.kind != scalarNode:
			w.fault(yk, "this key is "+k.named(), "a key is one word followed by a colon")
		case earlier != nil:
			w.fault(yk, fmt.Sprintf("the key %s stands here a second time (first in line %d)", quote(k.text), earlier.Line), "one of the two")
		default:
			first[k.text] = yk
			n.keys, n.items = append(n.keys, k), append(n.items, v)
		}
	}
}

// written gives a value as text again: a list in brackets.
func (n *node) written() string {
	if n.kind != sequenceNode {
		return n.text
	}
	parts := make([]string, len(n.items))
	for i, item := range n.items {
		parts[i] = item.written()
	}
	return "[" + strings.Join(parts, ", ") + "]"
}
