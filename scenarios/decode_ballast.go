package scenarios

import (
	"fmt"
	"reflect"
)

// Ballast is how the vessel is to float and where ballast may go.
type Ballast struct {
	Want   []Want
	Places []Place
}

// Want is how one body is to float; nil: no matter.
type Want struct {
	Of                  string   // "hull", "hull+later" or a section; "": with all aboard
	DraftFore, DraftAft *float64 // m
	Heel                *float64 // rad
	GM                  *float64 // m, at least
}

// Place is a room that ballast may be laid in.
type Place struct {
	Name     string
	X, Y, Z  [2]float64
	Material Material
	Pieces   Pieces
}

// Material is what ballast is made of. Name is "lead", "steel", "brass" or "water", and "" where Density is the user's own.
type Material struct {
	Name    string
	Density float64 // kg/m³; 0 for water: that of the scenario
}

// Pieces is what ballast comes in: coins, strips of one cross-section, shot, or (none of them) any amount.
type Pieces struct {
	Coin  string
	Shot  bool
	Strip *[2]float64 // breadth and height, m
}

// The densities of materials, kg/m³, from memory of the usual handbook values: lead 11 340, mild steel 7850, brass 8500
// (alloys 8400 to 8730).
var materialDensities = map[string]float64{"lead": 11340, "steel": 7850, "brass": 8500, "water": 0}

// ballastDoc is `ballast:`.
type ballastDoc struct {
	body
	Want   []wantDoc  `yaml:"want" jsonschema:"required" jsonschema_description:"How it is to float."`
	Places []placeDoc `yaml:"places" jsonschema:"required" jsonschema_description:"Where ballast may go."`
}

func (b *ballastDoc) noun() string { return "the ballast" }

type wantDoc struct {
	body
	Of        *bodyName            `yaml:"of" jsonschema_description:"hull, hull+later or a section. Default: all aboard."`
	DraftFore *measure[coordinate] `yaml:"draft_fore" jsonschema:"anyof_required=draft_fore"`
	DraftAft  *measure[coordinate] `yaml:"draft_aft" jsonschema:"anyof_required=draft_aft"`
	Heel      *measure[angle]      `yaml:"heel" jsonschema:"anyof_required=heel"`
	GM        *measure[coordinate] `yaml:"gm" jsonschema:"anyof_required=gm" jsonschema_description:"At least."`
}

func (w *wantDoc) noun() string { return "a wish" }

// bodyName is hull, hull+later or a section's name.
type bodyName string

func (b *bodyName) decode(d *decoder, n, key *node) {
	if n.kind == scalarNode && n.text == "hull+later" {
		*b = bodyName(n.text)
		return
	}
	var r reference
	r.decode(d, n, key)
	*b = bodyName(r)
}

func (b *bodyName) shape() shape {
	return shape{pattern: `^(hull\+later|[A-Za-z0-9-]+)$`, example: "hull"}
}

type placeDoc struct {
	body
	Name     *name     `yaml:"name" jsonschema:"required"`
	X        *span     `yaml:"x" jsonschema:"required"`
	Y        *span     `yaml:"y" jsonschema:"required"`
	Z        *span     `yaml:"z" jsonschema:"required"`
	Material *material `yaml:"material" jsonschema:"required" jsonschema_description:"lead, steel, brass, water, or {density: …}."`
	Pieces   *pieces   `yaml:"pieces" jsonschema_description:"{coin: 10-euro-cent}, shot or {strip: 12 mm x 3 mm}. Default: any amount."`
}

func (p *placeDoc) noun() string { return "a place for ballast" }

type material struct{ Material }

type materials struct{}

func (materials) words() []string { return []string{"lead", "steel", "brass", "water"} }

type densityDoc struct {
	body
	Density *measure[density] `yaml:"density" jsonschema:"required"`
}

func (m *densityDoc) noun() string { return "a material" }

func (m *material) decode(d *decoder, n, key *node) {
	if n.kind == mappingNode {
		var doc densityDoc
		d.into(reflect.ValueOf(&doc).Elem(), n, key)
		m.Density = doc.Density.must()
		return
	}
	var w word[materials]
	w.decode(d, n, key)
	m.Material = Material{Name: w.Text, Density: materialDensities[w.Text]}
}

func (m *material) shape() shape {
	return shape{words: materials{}.words(), docs: []docSpec{{doc: densityDoc{}}}, example: "lead"}
}

type pieces struct{ Pieces }

type pieceDoc struct {
	body
	Coin  *name                 `yaml:"coin" jsonschema:"oneof_required=coin"`
	Strip *sides[breadthHeight] `yaml:"strip" jsonschema:"oneof_required=strip" jsonschema_description:"BREADTH x HEIGHT of its cross-section."`
}

func (p *pieceDoc) noun() string { return "the pieces" }

type breadthHeight struct{}

func (breadthHeight) words() []string { return []string{"breadth", "height"} }

type shot struct{}

func (shot) words() []string { return []string{"shot"} }

func (p *pieces) decode(d *decoder, n, key *node) {
	if n.kind != mappingNode {
		var w word[shot]
		w.decode(d, n, key)
		p.Shot = w.Text != ""
		return
	}
	var doc pieceDoc
	d.into(reflect.ValueOf(&doc).Elem(), n, key)
	if doc.Coin != nil {
		p.Coin = doc.Coin.text()
	}
	if doc.Strip != nil {
		p.Strip = &[2]float64{doc.Strip.First, doc.Strip.Second}
	}
}

func (p *pieces) shape() shape {
	return shape{words: shot{}.words(), docs: []docSpec{{doc: pieceDoc{}}}, example: "shot"}
}

// spec converts, and checks what the documents cannot know of each other.
func (b *ballastDoc) spec(d *decoder, f *fileDoc) *Ballast {
	if b == nil {
		return nil
	}
	bodies := []string{"hull", "hull+later"}
	for _, j := range f.Joints {
		pair := j.Sections.pair()
		bodies = append(bodies, pair[:]...)
	}
	out := &Ballast{}
	for i := range b.Want {
		w := &b.Want[i]
		want := Want{DraftFore: w.DraftFore.si(), DraftAft: w.DraftAft.si(), Heel: w.Heel.si(), GM: w.GM.si()}
		if w.Of != nil {
			want.Of = string(*w.Of)
			d.known(w.node, "of", want.Of, "a body of this scenario", bodies)
		}
		out.Want = append(out.Want, want)
	}
	seen := map[string]int{}
	for i := range b.Places {
		p := &b.Places[i]
		place := Place{Name: p.Name.text(), X: p.X.must(), Y: p.Y.must(), Z: p.Z.must()}
		if p.Material != nil {
			place.Material = p.Material.Material
		}
		if p.Pieces != nil {
			place.Pieces = p.Pieces.Pieces
		}
		d.once(seen, p.node, place.Name, "place for ballast")
		out.Places = append(out.Places, place)
	}
	return out
}

// known tells of a word that is not among those that exist.
func (d *decoder) known(n *node, key, word, what string, known []string) {
	for _, k := range known {
		if k == word {
			return
		}
	}
	_, v := n.find(key)
	d.fault(v, quote(word)+" is not "+what, meant(word, known)+either(unique(known)))
}

func unique(words []string) (out []string) {
	seen := map[string]bool{}
	for _, w := range words {
		if !seen[w] {
			out = append(out, w)
		}
		seen[w] = true
	}
	return out
}

// once tells of a name given twice in one list, at the later one.
func (d *decoder) once(seen map[string]int, n *node, name, what string) {
	_, v := n.find("name")
	if v == nil {
		return
	}
	if line, twice := seen[name]; twice {
		d.fault(v, fmt.Sprintf("there is a %s %s already (line %d)", what, quote(name), line), "another name")
		return
	}
	seen[name] = v.line
}
