package scenarios

import (
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/compartment/plan"
	"gonum.org/v1/gonum/spatial/r3"
)

// BallastDocument is what `byhead ballast --json` prints. Reached has the bodies' float tests by their names.
type BallastDocument struct {
	DocumentHead
	Feasible bool                      `json:"feasible"`
	Pieces   []BallastPiece            `json:"pieces"` // empty where it is not feasible: then Nearest has them
	Reached  map[string]BallastReached `json:"reached"`
	Reason   *string                   `json:"reason"`  // null where it is feasible
	Nearest  *BallastNearest           `json:"nearest"` // null where it is feasible
}

// BallastPiece is an entry of the list: mass_kg is of all its pieces together, at_m its centre, size_m its length, breadth and
// height as a solid.
type BallastPiece struct {
	Place    string     `json:"place"`
	Material string     `json:"material"`
	Count    *int       `json:"count"` // null: in bulk
	Mass     *float64   `json:"mass_kg"`
	At       [3]float64 `json:"at_m"`
	Size     [3]float64 `json:"size_m"`
}

// BallastReached is the float test of a body with the ballast aboard; `float` tells more of it.
type BallastReached struct {
	Floats       bool     `json:"floats"`
	Mass         *float64 `json:"mass_kg"`
	DraftFore    *float64 `json:"draft_fore_m"`
	DraftAft     *float64 `json:"draft_aft_m"`
	Trim         *float64 `json:"trim_deg"`
	Heel         *float64 `json:"heel_deg"`
	GMTransverse *float64 `json:"gm_transverse_m"`
	GMUpright    *float64 `json:"gm_upright_m"`
}

func newReached(t *compartment.Floating) BallastReached {
	r := BallastReached{Floats: t.Floats, Mass: Number(t.Mass)}
	if t.Floats {
		r.DraftFore, r.DraftAft = Number(t.DraftFore), Number(t.DraftAft)
		r.Trim, r.Heel = Degrees(t.Trim), Degrees(t.Heel)
		r.GMTransverse, r.GMUpright = Number(t.GMTransverse), Number(t.GMUpright)
	}
	return r
}

// BallastNearest is the plan that misses the wishes least.
type BallastNearest struct {
	Pieces  []BallastPiece            `json:"pieces"`
	Reached map[string]BallastReached `json:"reached"`
	Missed  []BallastMiss             `json:"missed"`
}

// BallastMiss is a wish that is not met, in m, of a heel in degrees.
type BallastMiss struct {
	Of       string   `json:"of"`
	Quantity string   `json:"quantity"` // draft_fore_m, draft_aft_m, heel_deg, gm_m or floats
	Wanted   *float64 `json:"wanted"`
	Reached  *float64 `json:"reached"`
}

// NewBallastDocument puts a plan into its document.
func NewBallastDocument(s *Scenario, p *plan.BallastPlan) *BallastDocument {
	d := &BallastDocument{
		DocumentHead: s.Head(), Feasible: p.Feasible, Pieces: []BallastPiece{}, Reached: map[string]BallastReached{},
	}
	pieces, reached := ballastPieces(p.Entries), map[string]BallastReached{}
	for i := range p.Reached {
		reached[p.Reached[i].Name] = newReached(&p.Reached[i])
	}
	if p.Feasible {
		d.Pieces, d.Reached = pieces, reached
		return d
	}
	reason := s.Words().BallastReason(s.Spec.Weights, p)
	d.Reason = &reason
	d.Nearest = &BallastNearest{Pieces: pieces, Reached: reached, Missed: []BallastMiss{}}
	for _, m := range p.Misses {
		d.Nearest.Missed = append(d.Nearest.Missed, newBallastMiss(m))
	}
	return d
}

func ballastPieces(entries []plan.Entry) []BallastPiece {
	pieces := []BallastPiece{}
	for i := range entries {
		e := &entries[i]
		w := &e.Weight
		piece := BallastPiece{
			Place: e.Place, Material: e.Material, Mass: Number(w.Mass), At: [3]float64{w.At.X, w.At.Y + 0, w.At.Z}, Size: *w.Size,
		}
		if e.Piece != nil {
			piece.Count = &e.Count
		}
		pieces = append(pieces, piece)
	}
	return pieces
}

func newBallastMiss(m plan.Miss) BallastMiss {
	out := BallastMiss{Of: m.Of, Quantity: string(m.Quantity) + "_m", Wanted: Number(m.Wanted), Reached: Number(m.Reached)}
	switch m.Quantity {
	case plan.Heel:
		out.Quantity, out.Wanted, out.Reached = "heel_deg", Degrees(m.Wanted), Degrees(m.Reached)
	case plan.Floats:
		out.Quantity = string(m.Quantity)
	}
	return out
}

// BallastTask is the wishes and places of the scenario as the planner takes them. The error is of type Faults: there are
// none, or what the planner does not know.
func (s *Scenario) BallastTask(v *compartment.Vessel) (wishes []plan.Wish, places []plan.Place, err error) {
	_, at := s.root.find("ballast")
	if s.Ballast == nil || at == nil {
		return nil, nil, s.Lacks("the scenario asks for no ballast", "`ballast:` with `want:` and `places:`")
	}
	for _, w := range s.Ballast.Want {
		wishes = append(wishes, plan.Wish{Of: w.Of, DraftFore: w.DraftFore, DraftAft: w.DraftAft, Heel: w.Heel, GM: w.GM})
	}
	_, list := at.find("places")
	var faults Faults
	for i := range s.Ballast.Places {
		place, ok := s.Ballast.Places[i].plan(v.Water.Density)
		if f := s.placeFault(v, &place, ok, list.items[i], s.Ballast.Places[i].Pieces.Coin); f != nil {
			faults = append(faults, *f)
		}
		places = append(places, place)
	}
	if len(faults) > 0 {
		return nil, nil, faults.sorted(s.folder.name)
	}
	return wishes, places, nil
}

// placeFault is what keeps anything from being laid in a place: a coin that nobody knows, a hull that is elsewhere, pieces that
// are larger than the room.
func (s *Scenario) placeFault(v *compartment.Vessel, p *plan.Place, known bool, n *node, coin string) *Fault {
	fault := func(n *node, what, want string) *Fault { return &Fault{s.folder.name, n.line, n.column, what, want} }
	_, pieces := n.find("pieces")
	if !known {
		if _, c := pieces.find("coin"); c != nil {
			pieces = c
		}
		return fault(pieces, quote(coin)+" is no coin that is known", meant(coin, plan.CoinNames())+either(plan.CoinNames()))
	}
	w := s.Words()
	room := v.Whole.Form.ClipBox(r3.Vec{X: p.X[0], Y: p.Y[0], Z: p.Z[0]}, r3.Vec{X: p.X[1], Y: p.Y[1], Z: p.Z[1]})
	if room.Volume() <= 1e-9*v.Whole.Form.Volume() {
		lo, hi := v.Whole.Form.Bounds()
		return fault(n, "the place "+p.Name+" lies outside the hull", fmt.Sprintf("a place inside it, that is between x = %s and %s, y = %s and %s, z = %s and %s",
			w.Length(lo.X), w.Length(hi.X), w.Length(lo.Y), w.Length(hi.Y), w.Length(lo.Z), w.Length(hi.Z)))
	}
	const touch = 1e-9
	if q := p.Piece; q != nil && (q.Length > p.X[1]-p.X[0]+touch || q.Breadth > p.Y[1]-p.Y[0]+touch || q.Height > p.Z[1]-p.Z[0]+touch) {
		return fault(pieces, fmt.Sprintf("one piece, %s × %s × %s, is larger than the place", w.Length(q.Length), w.Length(q.Breadth), w.Length(q.Height)),
			"smaller pieces, or a larger place")
	}
	return nil
}

// plan is the place as the planner takes it; false: its coin is not known.
func (p *Place) plan(water float64) (plan.Place, bool) {
	out := plan.Place{Name: p.Name, X: p.X, Y: p.Y, Z: p.Z, Material: p.Material.Name, Density: p.Material.Density}
	switch {
	case p.Material.Name == "water":
		out.Density = water
	case p.Material.Name == "":
		out.Material = decimals(p.Material.Density, 0) + " kg/m3"
	}
	switch q := p.Pieces; {
	case q.Coin != "":
		c, ok := plan.Coin(q.Coin)
		if !ok {
			return out, false
		}
		out.Piece = &c
	case q.Shot:
		out.Density *= plan.ShotPacking
		out.Material += " shot"
	case q.Strip != nil:
		strip := plan.Strip(q.Strip[0], q.Strip[1], math.Max(out.Density, 1))
		out.Piece = &strip
	}
	return out, true
}
