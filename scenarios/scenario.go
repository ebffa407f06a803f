package scenarios

import (
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"strings"

	"github.com/byhead/byhead/compartment"
)

// Scenario is a scenario file taken apart: all in SI units, nothing computed yet. Its methods leave it as it is, and may be called by
// any number of goroutines.
type Scenario struct {
	Format   int
	Title    string
	Scale    float64 // 96 is 1:96; 1 where the file gives none. For full-size equivalents and filming only
	Spec     compartment.Spec
	Run      Run
	Ballast  *Ballast // nil: none is asked for
	Variants []Variant
	Spread   []Spread
	Unit     Unit     // the unit of length that the file uses most (of equals the one used first; mm if none): for output
	Notes    []string // what the user should know of how the file was read, such as each loop of a mesh that was closed
	Digest   string   // SHA-256, hexadecimal, over the scenario's bytes and then, by path, the bytes of every file it names; the length of each in eight bytes (most significant first) goes before it

	root    *node // where everything stands
	folder  *folder
	variant *node // the item of `variants` that this scenario is; nil: it is the file's own
}

// Read takes a scenario apart. fsys is the folder of the scenario, from os.Root, and all that files named in it are looked for
// in; nil (a scenario from standard input) refuses them. name is the scenario's as the user typed it, for messages. The error
// is of type Faults: everything that is wrong with the scenario and the files that it names, sorted by place. Where something
// is wrong already, the vessel is built as far as it can be, so that its faults are told in the same go; where nothing is,
// Build tells them.
func Read(fsys fs.FS, name string, data []byte) (*Scenario, error) {
	return read(fsys, name, data, true)
}

// read is Read, with or without the building of a faulty scenario.
func read(fsys fs.FS, name string, data []byte, build bool) (*Scenario, error) {
	text, faults := checkText(data)
	if len(faults) > 0 {
		return nil, faults.in(name).sorted(name)
	}
	root, faults := parse(text)
	if root == nil {
		return nil, faults.in(name).sorted(name)
	}
	folder := &folder{fsys: fsys, name: name}
	s, d := assemble(root, folder)
	d.faults = append(faults, d.faults...)
	s.variants(d)
	if len(d.faults) > 0 {
		faults = d.faults.in(name)
		if build {
			faults = append(faults, s.buildFaults(d.spoiled)...)
		}
		return nil, faults.sorted(name)
	}
	s.Digest = digest(data, folder.files)
	return s, nil
}

// in fills in the file of those faults that have none.
func (fs Faults) in(name string) Faults {
	for i := range fs {
		if fs[i].File == "" {
			fs[i].File = name
		}
	}
	return fs
}

// assemble makes a scenario of nodes. What is wrong is in the decoder; the scenario then holds what could be understood.
func assemble(root *node, folder *folder) (*Scenario, *decoder) {
	folder.Lock()
	defer folder.Unlock()
	d := &decoder{}
	var doc fileDoc
	d.into(reflect.ValueOf(&doc).Elem(), root, root)
	s := &Scenario{Format: int(doc.Format.or(1)), Scale: doc.Scale.or(1), Run: doc.Run.spec(), root: root, folder: folder}
	if doc.Title != nil {
		s.Title = string(*doc.Title)
	}
	s.Unit = mostUsed(d.units)
	s.Spec = doc.spec(d, folder)
	s.Ballast = doc.Ballast.spec(d, &doc)
	s.listVariants(d, doc.Variants)
	s.listSpread(d, doc.Spread)
	s.Notes = folder.notes
	return s, d
}

// spec is the description of the vessel.
func (f *fileDoc) spec(d *decoder, files *folder) compartment.Spec {
	spec := compartment.Spec{Water: f.Water.spec()}
	if f.Hull != nil {
		spec.Hull = f.Hull.spec(d, files)
	}
	for i := range f.Bulkheads {
		spec.Bulkheads = append(spec.Bulkheads, f.Bulkheads[i].spec())
	}
	for i := range f.Compartments {
		spec.Compartments = append(spec.Compartments, f.Compartments[i].spec())
	}
	for i := range f.Weights {
		spec.Weights = append(spec.Weights, f.Weights[i].spec())
	}
	for i := range f.Openings {
		spec.Openings = append(spec.Openings, f.Openings[i].spec())
	}
	for i := range f.Joints {
		spec.Joints = append(spec.Joints, f.Joints[i].spec())
	}
	for i := range f.Marks {
		spec.Marks = append(spec.Marks, f.Marks[i].spec())
	}
	return spec
}

// mostUsed is the unit of length that is most frequent, the earliest of equals.
func mostUsed(units []Unit) Unit {
	best, _ := unitNamed("mm")
	counts, most := map[string]int{}, 0
	for _, u := range units {
		if u.Kind == Length {
			counts[u.Name]++
			most = max(most, counts[u.Name])
		}
	}
	for _, u := range units {
		if u.Kind == Length && counts[u.Name] == most {
			return u
		}
	}
	return best
}

func (s *Scenario) listVariants(d *decoder, docs []variantDoc) {
	seen := map[string]int{}
	for i := range docs {
		v := &docs[i]
		d.once(seen, v.node, v.Name.text(), "variant")
		s.Variants = append(s.Variants, v.spec())
	}
}

func (s *Scenario) listSpread(d *decoder, docs []spreadDoc) {
	seen := map[string]int{}
	for i := range docs {
		one, ok := docs[i].spec(d, s.root)
		if !ok {
			continue
		}
		_, at := docs[i].node.find("value")
		if _, err := s.Spec.Value(one.Path); err != nil && !strings.HasPrefix(one.Path, "run.") {
			d.fault(at, quote(one.Path)+" is not a value that can be spread", "the path of one number, such as openings.cut-1.slot.width")
			continue
		}
		if line, twice := seen[one.Path]; twice {
			d.fault(at, fmt.Sprintf("%s is spread already (line %d)", quote(one.Path), line), "one spread for each value")
			continue
		}
		seen[one.Path] = at.line
		s.Spread = append(s.Spread, one)
	}
}

// variants decodes every variant, so that a wrong path or value is told at once, at its place in `variants`.
func (s *Scenario) variants(d *decoder) {
	for i := range s.Variants {
		_, faults := s.vary(i)
		d.faults = append(d.faults, faults...)
	}
}

// Variant gives this scenario with the values of one of its variants replaced. The error is of type Faults; an unknown name
// stands where the file lists its variants.
func (s *Scenario) Variant(name string) (*Scenario, error) {
	var known []string
	for i, v := range s.Variants {
		if v.Name == name {
			out, faults := s.vary(i)
			if len(faults) > 0 {
				return nil, faults.in(s.folder.name).sorted(s.folder.name)
			}
			return out, nil
		}
		known = append(known, v.Name)
	}
	want := "there are none in this file"
	if len(known) > 0 {
		want = meant(name, known) + "its variants are " + both(known)
	}
	place, _ := s.root.find("variants")
	if place == nil {
		place = s.root
	}
	return nil, Faults{{s.folder.name, place.line, place.column, "the scenario has no variant " + quote(name), want}}
}

// Set gives this scenario with the value at a path replaced by one written as in the file, such as "50 mm".
func (s *Scenario) Set(path, text string) (*Scenario, error) {
	t := checkPath(path)
	if t == nil {
		value, key := &node{line: s.root.line, column: s.root.column, text: text}, s.root
		var root *node
		if root, t = s.root.without("variants", "spread").replace(dotted(path), key, value); t == nil {
			out, d := assemble(root, s.folder)
			if len(d.faults) > 0 {
				return nil, fmt.Errorf("%s: %s; %s", path, d.faults[0].What, d.faults[0].Want)
			}
			out.Title, out.Digest = s.Title, s.DigestWith(path, text)
			return out, nil
		}
	}
	return nil, fmt.Errorf("%s; %s", t.what, t.want)
}

// vary makes the variant with this index.
func (s *Scenario) vary(index int) (*Scenario, Faults) {
	_, list := s.root.find("variants")
	_, set := list.items[index].find("set")
	if set == nil || set.kind != mappingNode {
		return nil, nil // told when the variants were decoded
	}
	root, words, faults := s.root.without("variants", "spread"), []string(nil), Faults(nil)
	for i, k := range set.keys {
		if set.items[i].kind == nullNode {
			continue
		}
		t := checkPath(k.text)
		if t == nil {
			var replaced *node
			if replaced, t = root.replace(dotted(k.text), k, set.items[i]); t == nil {
				root = replaced
			}
		}
		if t != nil {
			faults = append(faults, Fault{Line: k.line, Column: k.column, What: t.what, Want: t.want})
		}
		words = append(words, k.text, set.items[i].written())
	}
	out, d := assemble(root, s.folder)
	out.Title, out.variant = s.Title, list.items[index]
	out.Digest = s.DigestWith(words...)
	return out, append(faults, d.faults...)
}

// without gives a mapping without some of its keys.
func (n *node) without(keys ...string) *node {
	fresh := *n
	fresh.keys, fresh.items = nil, nil
	for i, k := range n.keys {
		drop := false
		for _, key := range keys {
			drop = drop || k.text == key
		}
		if !drop {
			fresh.keys, fresh.items = append(fresh.keys, k), append(fresh.items, n.items[i])
		}
	}
	return &fresh
}

// Lacks is the fault of a scenario without a part that somebody asks it for: at the mapping that lacks it.
func (s *Scenario) Lacks(what, want string) Faults {
	return Faults{{s.folder.name, s.root.line, s.root.column, what, want}}
}

// Build builds the vessel. The error is of type Faults, each at its place in the file.
func (s *Scenario) Build() (*compartment.Vessel, error) {
	vessel, err := compartment.Build(s.Spec)
	if err != nil {
		return nil, s.placed(err, nil).sorted(s.folder.name)
	}
	return vessel, nil
}

// buildFaults gives the faults of building a scenario that has others, less those that follow from the others.
func (s *Scenario) buildFaults(spoiled []*node) Faults {
	if _, err := compartment.Build(s.Spec); err != nil {
		return s.placed(err, spoiled)
	}
	return nil
}

// inVariant moves a fault that a variant makes in what the file has of its own to the variant: the later of the two.
func (s *Scenario) inVariant(f Fault) Fault {
	if s.variant == nil || f.File != s.folder.name || s.variant.covers(f.Line, f.Column) {
		return f
	}
	f.What = fmt.Sprintf("with this variant, in line %d: %s", f.Line, f.What)
	f.Line, f.Column = s.variant.line, s.variant.column
	return f
}

// placed turns the builder's faults into ours.
func (s *Scenario) placed(err error, spoiled []*node) Faults {
	var built compartment.Faults
	if !errors.As(err, &built) {
		return Faults{{s.folder.name, s.root.line, s.root.column, err.Error(), "a vessel that can be built"}}
	}
	var faults Faults
	for _, f := range built {
		if place, ok := s.place(f.Path, spoiled); ok {
			place.What, place.Want = f.What, f.Want
			faults = append(faults, s.inVariant(place))
		}
	}
	return faults
}
