package plan

import (
	"context"
	"math"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// planner is the state of a planning.
type planner struct {
	bare   *compartment.Vessel
	places []Place
	cells  []cell
	bodies []*afloat
	masses []float64 // kg in each cell
	scale  float64   // kg that the hull's form could displace: masses are counted in it
	whole  bool      // some place is for whole pieces
	out    *BallastPlan

	thrift  float64 // price of mass
	lowest  bool    // GM is left out, and the ballast is to lie as low as it can
	share   float64 // of what a wish may be missed by, that may be used
	near    float64 // m along, where the first body wants its ballast
	kept    []bool  // cells that may be used; nil: all
	bound   []int   // upper bounds that mattered in the last programme: the next begins with them
	missing float64 // by how much the wishes are missed, in lengths
}

func newPlanner(v *compartment.Vessel, wishes []Wish, places []Place) *planner {
	p := &planner{bare: v, places: places, thrift: 1, share: plannedShare}
	p.scale = v.Water.Density * v.Whole.Form.Volume()
	for i := range wishes {
		p.bodies = append(p.bodies, newAfloat(v, wishes[i]))
	}
	p.begin()
	p.cells = makeCells(v, places, p.lists())
	p.masses = make([]float64, len(p.cells))
	for _, a := range p.bodies {
		a.takeCells(v, p.cells)
	}
	for i := range places {
		p.whole = p.whole || places[i].Piece != nil
	}
	return p
}

// lists tells that something is not the same to port and to starboard, so that the ballast may have to be laid unevenly.
func (p *planner) lists() bool {
	for _, a := range p.bodies {
		a.weigh(nil, nil)
		b := &a.balance
		moment := r3.Dot(r3.Sub(b.LoadMoment, b.Buoyancy), b.Roll)
		if a.wish.Heel != nil && math.Abs(*a.wish.Heel) > 1e-9 || math.Abs(moment) > 1e-9*a.body.Form.Volume()*a.length {
			return true
		}
	}
	for i := range p.places {
		if !p.mirrored(&p.places[i]) {
			return true
		}
	}
	return false
}

// mirrored tells that the places have one like this on the other side; it may be the same one.
func (p *planner) mirrored(q *Place) bool {
	const same = 1e-9
	for i := range p.places {
		o := &p.places[i]
		if math.Abs(o.Y[0]+q.Y[1]) < same && math.Abs(o.Y[1]+q.Y[0]) < same && o.X == q.X && o.Z == q.Z && o.Density == q.Density {
			return true
		}
	}
	return false
}

// begin puts every body in the pose of its wish. Those that may lie at any depth displace the share that the whole is to.
func (p *planner) begin() {
	share := 0.0
	for _, a := range p.bodies {
		if a.wish.DraftFore == nil && a.wish.DraftAft == nil {
			continue
		}
		a.begin(0)
		a.weigh(nil, nil)
		if a.body == p.bare.Whole {
			share = a.balance.Displaced / a.body.Form.Volume()
		}
	}
	for _, a := range p.bodies {
		if a.wish.DraftFore == nil && a.wish.DraftAft == nil {
			least := 1.2 * a.mass / a.floater.Density / a.body.Form.Volume()
			a.begin(min(0.8, max(share, least, 0.05)))
		}
	}
	p.near = p.bodies[0].wants().X
}

// missed is a sum of misses, in lengths, below which the wishes are met: what a programme may fail by (equationHolds), doubled.
const missed = 2 * equationHolds

// solve plans, builds, floats, and plans again with the spaces that the ballast leaves.
func (p *planner) solve(ctx context.Context) error {
	for range 3 {
		if err := p.plan(ctx); err != nil {
			return err
		}
		if err := p.test(); err != nil {
			return err
		}
		if p.out.Feasible {
			return nil
		}
		for _, a := range p.bodies {
			a.board(p.out.Vessel)
		}
		if p.dry() {
			break // the spaces do not matter: the next would be the same
		}
	}
	return p.explain(ctx)
}

// dry tells that no water is aboard, which is all that the ballast's room could change.
func (p *planner) dry() bool {
	for _, a := range p.bodies {
		for _, w := range a.water {
			if w > 0 {
				return false
			}
		}
	}
	return true
}

// plan finds the masses: in bulk, and then in whole pieces.
func (p *planner) plan(ctx context.Context) error {
	p.thrift, p.share, p.lowest, p.kept = 1, plannedShare, false, nil
	if err := p.rounds(ctx); err != nil {
		return err
	}
	if p.missing > missed { // once more, counting nothing but the misses
		p.thrift = 1e-3
		if err := p.rounds(ctx); err != nil {
			return err
		}
	}
	if !p.whole {
		return p.tidy(ctx)
	}
	return p.pieces(ctx)
}

// Shares of all the ballast: a crumb is not worth cutting a piece for, down to leastCrumb where larger ones cannot be left out,
// and leaving crumbs out may cost tidiness more.
const (
	crumb      = 0.1
	leastCrumb = 0.003
	tidiness   = 0.005
)

// tidy plans without the smallest amounts, as long as the wishes are met without them.
func (p *planner) tidy(ctx context.Context) error {
	for share := crumb; share > leastCrumb; {
		all, small := p.sum(), 0
		p.keep()
		back, missing := p.position(), p.missing
		for i, m := range p.masses {
			if m > 0 && m < share*all {
				p.kept[i], p.masses[i] = false, 0
				small++
			}
		}
		if small == 0 {
			break
		}
		if err := p.rounds(ctx); err != nil {
			return err
		}
		if p.missing > max(missed, (1+tidiness)*missing) || p.sum() > (1+tidiness)*all {
			p.goBack(back)
			p.missing = missing
			share /= 3
		}
	}
	p.kept = nil
	return nil
}

// sum is all the ballast, kg.
func (p *planner) sum() (all float64) {
	for _, m := range p.masses {
		all += m
	}
	return all
}

// mostProgrammes is how many programmes a search for whole pieces may solve.
const mostProgrammes = 150

// piecesShares are the shares of what a wish may be missed by that the searches may use, one after another: the lightest plan lies
// at the edge of what may be used, and where its heights turn out a little different, beyond what is allowed.
var piecesShares = [...]float64{0.9, 0.7, 0.4, 0.7, 0.4, 0.2}

// pieces turns the plan into whole pieces. Of the searches, each about the heights and poses of the one before, the one whose
// float test misses least is taken. The first half of them use the cells of the plan in bulk and those beside them; most
// plans need no more, and few cells are quick.
func (p *planner) pieces(ctx context.Context) error {
	p.keepNear()
	best, least := p.masses, math.Inf(1)
	for k, share := range piecesShares {
		p.share = share
		if k == len(piecesShares)/2 {
			p.kept = nil
		}
		found, err := p.search(ctx)
		if err != nil {
			return err
		}
		if !found {
			continue
		}
		if off := p.off(); off < least {
			least, best = off, append([]float64(nil), p.masses...)
		}
		if least <= 1 {
			break
		}
	}
	for i := range p.cells {
		p.masses[i] = best[i]
		if u := p.cells[i].unit; u > 0 { // of no use unless nothing was found
			p.masses[i] = math.Round(best[i]/u) * u
		}
	}
	return nil
}

// search is one branch and bound about the present masses and poses; it takes its answer over.
func (p *planner) search(ctx context.Context) (found bool, err error) {
	r := p.newRound()
	smallest := math.Inf(1)
	for i := range p.cells {
		if u := p.cells[i].unit; u > 0 {
			r.step[i] = u / p.scale
			smallest = min(smallest, u)
		}
	}
	b, err := r.wholly(ctx, p.thrift*smallest/p.scale/2, mostProgrammes)
	if err != nil || b.best == nil {
		return false, err
	}
	p.accept(r, b.best)
	return true, nil
}

// keepNear lets those cells be used that are in use, and their neighbours in the list.
func (p *planner) keepNear() {
	p.keep()
	used := append([]bool(nil), p.kept...)
	for i := range used {
		if used[i] && i > 0 {
			p.kept[i-1] = true
		}
		if used[i] && i+1 < len(used) {
			p.kept[i+1] = true
		}
	}
}

// off is the largest miss in any body's rest from upright, in what is allowed.
func (p *planner) off() (worst float64) {
	for _, a := range p.bodies {
		a.weigh(p.cells, p.masses)
		rest, water := a.floater.Start()
		if !rest.Stable {
			return math.MaxFloat64
		}
		var b compartment.Balance
		a.floater.Balance(rest.Pose, water, &b)
		gm, _ := a.floater.Metacentric(&b)
		fore, aft := a.body.Drafts(rest.Pose)
		f := compartment.Floating{Floats: true, DraftFore: fore, DraftAft: aft, Heel: rest.Pose.Heel(), GMTransverse: gm, GMUpright: gm}
		for _, m := range a.compare(&f) {
			worst = max(worst, m.size())
		}
	}
	return worst
}
