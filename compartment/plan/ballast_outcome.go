package plan

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// Shortage is what stands between the hull and a wish, for the first body that fails.
type Shortage struct {
	Of     string
	Mass   float64 // kg: too much already (TooHeavy), or what the places lack (NoRoom); else what is to be laid
	Moment float64 // kg·m that weights have to come down for GM (TopHeavy)
	GM     float64 // m, with the wished drafts and the ballast as low as it can lie (TopHeavy)
	Wanted float64 // m, the GM that is wished
	Centre r3.Vec  // where the ballast would have to have its centre (WrongPlace)
}

// test builds the vessel with the plan's entries and floats it.
func (p *planner) test() error {
	p.out = &BallastPlan{Entries: p.entries()}
	spec := p.bare.Spec
	spec.Weights = slices.Clone(spec.Weights)
	for i := range p.out.Entries {
		spec.Weights = append(spec.Weights, p.out.Entries[i].Weight)
	}
	v, err := compartment.Build(spec)
	if err != nil {
		return fmt.Errorf("plan: the vessel with its ballast: %w", err)
	}
	p.out.Vessel = v
	p.out.Reached = v.FloatTest()
	for _, a := range p.bodies {
		for i := range p.out.Reached {
			if p.out.Reached[i].Name == a.name {
				p.out.Misses = append(p.out.Misses, a.compare(&p.out.Reached[i])...)
			}
		}
	}
	p.out.Misses = slices.DeleteFunc(p.out.Misses, func(m Miss) bool { return m.size() <= 1 })
	p.out.Feasible = len(p.out.Misses) == 0
	return nil
}

// size is a miss in what is allowed.
func (m *Miss) size() float64 {
	switch m.Quantity {
	case Floats:
		return math.MaxFloat64
	case GM:
		return max(0, m.Wanted-m.Reached) / lengthWithin
	case Heel:
		return math.Abs(math.Remainder(m.Reached-m.Wanted, 2*math.Pi)) / angleWithin
	}
	return math.Abs(m.Reached-m.Wanted) / lengthWithin
}

// compare sets a float test against the wish; sizes of misses may be nothing.
func (a *afloat) compare(f *compartment.Floating) (all []Miss) {
	if !f.Floats {
		return []Miss{{a.name, Floats, math.NaN(), math.NaN()}}
	}
	add := func(q Quantity, wanted *float64, reached float64) {
		if wanted != nil {
			all = append(all, Miss{a.name, q, *wanted, reached})
		}
	}
	add(DraftFore, a.wish.DraftFore, f.DraftFore)
	add(DraftAft, a.wish.DraftAft, f.DraftAft)
	add(Heel, a.wish.Heel, f.Heel)
	gm := f.GMTransverse // at rest; a loll is out of question, since a heel is always wished for
	if math.IsNaN(gm) {
		gm = math.Inf(-1) // on end: whatever it stands by, it is not its breadth
	}
	wanted := a.leastGM()
	add(GM, &wanted, gm)
	return all
}

// entries are the filled cells: neighbours that are filled alike in bulk as one.
func (p *planner) entries() (all []Entry) {
	counts := map[string]int{}
	var ends []*cell // the foremost cell of each entry
	for i := range p.cells {
		c, mass := &p.cells[i], p.masses[i]
		if mass <= 1e-6*p.scale && c.unit == 0 || c.unit > 0 && mass < c.unit/2 {
			continue
		}
		e := c.entry(mass)
		k := len(all) - 1
		for k >= 0 && !ends[k].joins(c, &all[k], &e) {
			k--
		}
		if k >= 0 {
			all[k].join(&e)
			ends[k] = c
			continue
		}
		counts[c.place.Name]++
		e.Weight.Name = fmt.Sprintf("%s-%d", c.place.Name, counts[c.place.Name])
		all, ends = append(all, e), append(ends, c)
	}
	p.freeNames(all)
	return all
}

// entry is what is laid into a cell.
func (c *cell) entry(mass float64) Entry {
	size := [3]float64{c.hi.X - c.lo.X, c.hi.Y - c.lo.Y, mass / c.perHeight()}
	density := c.place.Density
	e := Entry{Place: c.place.Name, Material: c.place.Material, Piece: c.place.Piece}
	if q := c.place.Piece; q != nil {
		e.Count = int(math.Round(mass / q.Mass))
		e.Layers = (e.Count + c.perLayer - 1) / c.perLayer
		mass = float64(e.Count) * q.Mass
		density = q.Mass / q.Volume
		size[2] = mass / density / (size[0] * size[1]) // of the pieces' own volume, without the gaps between them
	}
	e.Weight = compartment.WeightSpec{Mass: mass, At: c.centre(mass), Size: &size, Density: &density}
	return e
}

// joins tells that two bulk entries of neighbouring cells are one block.
func (c *cell) joins(next *cell, a, b *Entry) bool {
	const same = 1e-7
	return c.place == next.place && c.unit == 0 && math.Abs(c.hi.X-next.lo.X) < same && math.Abs(c.lo.Y-next.lo.Y) < same &&
		math.Abs(c.hi.Y-next.hi.Y) < same && math.Abs(c.lo.Z-next.lo.Z) < same && math.Abs(a.Weight.Size[2]-b.Weight.Size[2]) < same
}

// join lengthens a block by its neighbour.
func (e *Entry) join(o *Entry) {
	w, v := &e.Weight, &o.Weight
	sum := w.Mass + v.Mass
	w.At = r3.Scale(1/sum, r3.Add(r3.Scale(w.Mass, w.At), r3.Scale(v.Mass, v.At)))
	w.Mass = sum
	w.Size[0] += v.Size[0]
}

// freeNames gives entries names that no listed weight has.
func (p *planner) freeNames(all []Entry) {
	taken := map[string]bool{}
	for i := range p.bare.Spec.Weights {
		taken[p.bare.Spec.Weights[i].Name] = true
	}
	for i := range all {
		for taken[all[i].Weight.Name] {
			all[i].Weight.Name += "x"
		}
		taken[all[i].Weight.Name] = true
	}
}

// explain finds why the wishes are not met.
func (p *planner) explain(ctx context.Context) error {
	nearest := slices.Clone(p.masses)
	defer func() { p.masses = nearest }()
	if p.whole {
		p.thrift, p.share = 1e-3, plannedShare
		if err := p.afresh(ctx); err != nil {
			return err
		}
		if p.missing <= missed {
			p.out.Cause = TooCoarse
			return nil
		}
	}
	p.begin()
	if p.weightWrong() {
		return nil
	}
	p.lowest, p.thrift = true, lowThrift
	err := p.afresh(ctx)
	p.lowest = false
	if err != nil {
		return err
	}
	if p.missing <= missed && p.topHeavy() {
		return nil
	}
	p.begin()
	p.out.Cause = WrongPlace
	for _, a := range p.bodies {
		a.weigh(nil, nil)
		if a.wish.DraftFore == nil && a.wish.DraftAft == nil {
			continue
		}
		mass, moment := a.lacks()
		p.out.Short = Shortage{Of: a.name, Mass: mass, Centre: r3.Scale(1/mass, moment)}
		return nil
	}
	return nil
}

// afresh plans from the wished poses and no ballast.
func (p *planner) afresh(ctx context.Context) error {
	p.begin()
	p.kept = nil
	clear(p.masses)
	return p.rounds(ctx)
}

// weightWrong tells that a wished draft asks for less than nothing, or for more than the places hold.
func (p *planner) weightWrong() bool {
	for _, a := range p.bodies {
		if a.wish.DraftFore == nil || a.wish.DraftAft == nil {
			continue
		}
		a.weigh(nil, nil)
		mass, _ := a.lacks()
		room := 0.0
		for _, i := range a.cells {
			room += p.cells[i].full
		}
		switch {
		case mass < 0:
			p.out.Cause, p.out.Short = TooHeavy, Shortage{Of: a.name, Mass: -mass}
			return true
		case mass > room:
			p.out.Cause, p.out.Short = NoRoom, Shortage{Of: a.name, Mass: mass - room}
			return true
		}
	}
	return false
}

// topHeavy finds the body whose GM falls short with the ballast as low as it can lie.
func (p *planner) topHeavy() bool {
	for _, a := range p.bodies {
		a.weigh(p.cells, p.masses)
		value, _ := a.uprightness(&a.balance)
		if value >= 0 {
			continue
		}
		gm, _ := a.floater.Metacentric(&a.balance)
		p.out.Cause = TopHeavy
		p.out.Short = Shortage{Of: a.name, Moment: -value * a.floater.Density, GM: gm, Wanted: a.leastGM(), Mass: a.floater.Mass - a.mass}
		return true
	}
	return false
}
