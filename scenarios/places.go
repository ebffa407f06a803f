package scenarios

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/byhead/byhead/compartment"
)

// place finds where a path of the builder stands, as a fault without words. Not ok: the fault follows from others, told of
// what lies on the way, at the place, or inside it.
//
// A value stands where it is written, a list of the file, such as `compartments`, at its key; and what the file does not
// have at the mapping that lacks it.
func (s *Scenario) place(path string, spoiled []*node) (f Fault, ok bool) {
	if f, ok := s.folder.place(s.root, path); ok {
		return f, true
	}
	words := dotted(path)
	key, n, way := s.root.deepest(tablePath(words))
	for _, bad := range spoiled {
		on := func(x *node) bool { return same(bad, x) }
		if slices.ContainsFunc(way, on) || (inside(bad, n) && (len(words) > 1 || n.kind == mappingNode)) {
			return Fault{}, false
		}
	}
	if len(spoiled) > 0 && s.doubtful(words, spoiled) {
		return Fault{}, false
	}
	at := n
	if key != nil && (len(words) == 1 && n.kind == sequenceNode || n.kind == nullNode) {
		at = key
	}
	return Fault{File: s.folder.name, Line: at.line, Column: at.column}, true
}

// doubtful tells whether a fault at a path may come only of another elsewhere: an order is not judged where a neighbour's
// place is unknown, nor a count or a name where the list that it is compared with could not be read.
func (s *Scenario) doubtful(words []string, spoiled []*node) bool {
	unread := func(list string) bool {
		key, n := s.root.find(list)
		return key != nil && slices.ContainsFunc(spoiled, func(bad *node) bool { return same(bad, key) || same(bad, n) })
	}
	list, last := words[0], words[len(words)-1]
	switch {
	case list == "compartments" && len(words) == 1:
		return unread("bulkheads") || slices.ContainsFunc(s.Spec.Compartments, func(c compartment.CompartmentSpec) bool {
			given := btoi(c.X != nil) + btoi(c.Y != nil) + btoi(c.Z != nil)
			return given == 1 || given == 2 // whether it is meant as a box is not known
		})
	case list == "openings" && slices.Contains(words, "between"):
		return unread("compartments") || slices.ContainsFunc(s.Spec.Compartments, func(c compartment.CompartmentSpec) bool { return c.Name == "" })
	case list == "openings" && last == "joint":
		return unread("joints") || slices.ContainsFunc(s.Spec.Joints, func(j compartment.JointSpec) bool { return j.Name == "" })
	case list == "bulkheads" && last == "at":
		i := slices.IndexFunc(s.Spec.Bulkheads, func(b compartment.BulkheadSpec) bool { return b.Name == words[1] })
		return i > 0 && math.IsNaN(s.Spec.Bulkheads[i-1].At)
	case list == "joints" && len(words) > 2:
		i := slices.IndexFunc(s.Spec.Joints, func(j compartment.JointSpec) bool { return j.Name == words[1] })
		return i > 0 && (last == "at" && math.IsNaN(s.Spec.Joints[i-1].At) || words[2] == "sections" && s.Spec.Joints[i-1].Sections[1] == "")
	}
	return false
}

// tablePath writes the builder's path into a table of offsets, which counts stations and points by their index alone, as the
// path that it has in a scenario with an inline table: hull.offsets.3.5.y is hull.offsets.stations.3.points.5.1.
func tablePath(path []string) []string {
	if len(path) < 3 || path[0] != "hull" || path[1] != "offsets" {
		return path
	}
	out := append([]string{"hull", "offsets", "stations"}, path[2])
	for _, word := range path[3:] {
		switch word {
		case "x":
			out = append(out, word)
		case "z":
			out = append(out, "0")
		case "y":
			out = append(out, "1")
		default:
			out = append(out, "points", word)
		}
	}
	return out
}

// deepest follows a path as far as the file has it: the value there and its key (nil in a list). way is what a fault must not
// stand at for one of this path to count: the keys passed, the values that are no mappings, and the last value.
func (n *node) deepest(path []string) (key, last *node, way []*node) {
	above := ""
	for _, word := range path {
		open, i := n.step(above, word)
		if i < 0 {
			break
		}
		if n.kind != mappingNode {
			way = append(way, n)
		}
		key, above = nil, ""
		if open.kind == mappingNode {
			key, above = open.keys[i], word
			way = append(way, key)
		}
		n = open.items[i]
	}
	return key, n, append(way, n)
}

// same tells whether two nodes are one, or stand for one: the parts of `24 mm x 1.2 mm` are made anew whenever they are asked
// for.
func same(a, b *node) bool {
	return a.kind == b.kind && a.text == b.text && a.line == b.line && a.column == b.column
}

// covers tells whether a node, or one inside it, has this place.
func (n *node) covers(line, column int) bool {
	here := func(x *node) bool { return x.covers(line, column) }
	return n.line == line && n.column == column || slices.ContainsFunc(n.keys, here) || slices.ContainsFunc(n.items, here)
}

// inside tells whether a node, or one with its place, lies in another.
func inside(n, other *node) bool {
	within := func(x *node) bool { return same(n, x) || inside(n, x) }
	return slices.ContainsFunc(other.keys, within) || slices.ContainsFunc(other.items, within)
}

// place finds a path such as hull.offsets.3.5.y in the table's own file.
func (f *folder) place(root *node, path string) (Fault, bool) {
	rest, ok := strings.CutPrefix(path, "hull.offsets.")
	named := root.at([]string{"hull", "offsets", "file"})
	if !ok || named == nil {
		return Fault{}, false
	}
	unit := root.at([]string{"hull", "offsets", "unit"})
	words := dotted(rest)
	station, err := strconv.Atoi(words[0])
	if err != nil || unit == nil {
		return Fault{}, false
	}
	point := 0
	if len(words) > 1 {
		point, _ = strconv.Atoi(words[1]) // a word that is no number means the station: its first row
	}
	for _, file := range f.files {
		if file.path != named.text {
			continue
		}
		row := point
		stations := file.tables[unit.text]
		for i := 0; i < station && i < len(stations); i++ {
			row += len(stations[i].Points)
		}
		if places := file.places[unit.text]; row < len(places) {
			return Fault{File: f.joined(file.path), Line: places[row].Line, Column: places[row].Column}, true
		}
	}
	return Fault{}, false
}
