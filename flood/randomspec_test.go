package flood_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/byhead/byhead/compartment"
	"gonum.org/v1/gonum/spatial/r3"
)

// scenario is a random one under way of being drawn.
type scenario struct {
	drawer
	skin    *skin
	at      []float64 // ends of the transverse spaces
	spec    compartment.Spec
	airy    bool // has airtight spaces
	jointed bool
}

// randomScenario is a vessel with spaces, ways between them and the sea, and joints, of every kind that a description knows. By the
// seed's last three digits in base two: a hull that curves or a box, airtight spaces or none, one to three joints or none.
func randomScenario(seed uint64) compartment.Spec {
	d := scenario{drawer: drawer{rand.New(rand.NewPCG(seed, 17))}, airy: seed/2%2 == 0, jointed: seed/4%2 == 0}
	n := 1 + d.IntN(8)
	if seed%2 == 0 {
		d.skin, n = d.curvedSkin(), 3+d.IntN(10)
	} else {
		d.skin = d.boxSkin()
	}
	d.spec.Hull = d.skin.hull()
	d.water()
	draft := d.loaded(&d.spec, d.skin, 1000)
	if depth := d.spec.Water.Depth; depth != nil {
		*depth *= draft
	}
	d.walls(n)
	d.boxes()
	d.aboard()
	if d.jointed {
		d.joints()
	}
	d.cut()
	for k := range 1 + d.IntN(n+1) {
		d.seaWay(fmt.Sprintf("sea-%d", k))
	}
	for i := 1; i < n; i++ {
		for k := range d.IntN(3) {
			d.wallWay(fmt.Sprintf("way-%d-%d", i, k), i)
		}
	}
	d.valves()
	d.tears()
	d.widest()
	if d.oneIn(4) {
		d.pump()
	}
	return d.spec
}

// water is fresh or sea water, with surface tension and without, in pools without a floor and in such as a hull lies in with its deck
// dry: Depth is here in drafts.
func (d *scenario) water() {
	w := &d.spec.Water
	w.Kind, w.Temperature = []compartment.WaterKind{compartment.Fresh, compartment.Sea}[d.IntN(2)], d.between(274, 303)
	if d.oneIn(2) {
		w.SurfaceTension = ptr([]float64{0, 0.035}[d.IntN(2)])
	}
	if d.oneIn(2) {
		w.Depth = ptr(d.scale(1.1, 2.2))
	}
}

// walls parts the hull into n spaces in a row, every fourth wall with a way over its top.
func (d *scenario) walls(n int) {
	d.at = []float64{0}
	for i := 1; i < n; i++ {
		d.at = append(d.at, d.skin.length*(float64(i)+0.6*(d.Float64()-0.5))/float64(n))
		b := compartment.BulkheadSpec{Name: fmt.Sprintf("B%d", i), At: d.at[i]}
		if d.oneIn(4) {
			b.Top = ptr(d.skin.depth * d.between(0.35, 0.95))
		}
		d.spec.Bulkheads = append(d.spec.Bulkheads, b)
	}
	d.at = append(d.at, d.skin.length)
	for i := range n {
		d.spec.Compartments = append(d.spec.Compartments, compartment.CompartmentSpec{Name: fmt.Sprintf("C%d", i)})
	}
}

// boxes cuts wing tanks out of some hulls, to port and to starboard.
func (d *scenario) boxes() {
	if !d.oneIn(3) {
		return
	}
	b := d.skin.breadth
	for _, side := range [][2]float64{{d.between(0.05, 0.25) * b, b}, {-b, -d.between(0.05, 0.25) * b}} {
		if d.oneIn(3) {
			continue
		}
		x := d.skin.length * d.between(0.15, 0.5)
		d.spec.Compartments = append(d.spec.Compartments, compartment.CompartmentSpec{
			Name: fmt.Sprintf("T%d", len(d.spec.Compartments)), X: &[2]float64{x, x + d.skin.length*d.between(0.1, 0.35)},
			Y: &side, Z: &[2]float64{-1, d.skin.depth * d.between(0.4, 1)},
		})
	}
}

// aboard gives the spaces what they hold: permeability, water at the start, air of their own.
func (d *scenario) aboard() {
	for i := range d.spec.Compartments {
		c := &d.spec.Compartments[i]
		if d.oneIn(2) {
			c.Permeability = ptr(d.between(0.5, 1))
		}
		c.Airtight = d.airy && (d.IntN(3) > 0 || i == 0)
		switch {
		case d.oneIn(20):
			c.Starts = &compartment.StartSpec{Share: ptr(1.0)}
		case d.oneIn(5):
			c.Starts = &compartment.StartSpec{Share: ptr(0.25 * d.Float64())}
		}
	}
}

// joints puts one to three along the hull, a half of them in bulkheads' planes.
func (d *scenario) joints() {
	at, volume := 0.08*d.skin.length, 0.0
	volume, _ = d.skin.volume()
	strength := 1000 * volume * 9.8 * d.skin.length
	for k := range 1 + d.IntN(3) {
		if at += d.skin.length * d.between(0.08, 0.35); at > 0.92*d.skin.length {
			break
		}
		if d.oneIn(2) && len(d.spec.Bulkheads) > 0 {
			if b := d.spec.Bulkheads[d.IntN(len(d.spec.Bulkheads))]; b.At > at {
				at = b.At
			}
		}
		j := compartment.JointSpec{Name: fmt.Sprintf("J%d", k), At: at, Sections: [2]string{fmt.Sprintf("P%d", k), fmt.Sprintf("P%d", k+1)},
			Keeps: []compartment.KeepKind{compartment.KeepAfter, compartment.KeepForward, compartment.KeepBoth}[d.IntN(3)]}
		if d.IntN(3) > 0 {
			j.Holds.Hogging, j.Holds.Sagging = ptr(strength*d.scale(2e-3, 1e-1)), ptr(strength*d.scale(2e-3, 1e-1))
			if d.oneIn(3) {
				j.Holds.Shear = ptr(strength / d.skin.length * d.scale(0.02, 0.5))
			}
			if d.oneIn(4) {
				j.Hinge = ptr(d.skin.depth * d.Float64())
			}
		}
		for range d.IntN(3) {
			j.Release = append(j.Release, d.condition(false))
		}
		d.spec.Joints = append(d.spec.Joints, j)
	}
}

// condition is a time, a trim, a wetting or a parting.
func (d *scenario) condition(joint bool) compartment.Condition {
	switch n := d.IntN(4); {
	case n == 0:
		return compartment.Condition{Time: ptr(120 * d.Float64())}
	case n == 1:
		return compartment.Condition{Trim: ptr(math.Copysign(0.002+0.15*d.Float64(), d.NormFloat64()))}
	case n == 2 && joint && len(d.spec.Joints) > 0:
		return compartment.Condition{Joint: &d.spec.Joints[d.IntN(len(d.spec.Joints))].Name}
	}
	return compartment.Condition{Wet: ptr(20 * d.Float64())}
}

// owner is the space that a place in the hull belongs to.
func (d *scenario) owner(p r3.Vec) string {
	for _, c := range d.spec.Compartments {
		if c.X != nil && c.X[0] <= p.X && p.X <= c.X[1] && c.Y[0] <= p.Y && p.Y <= c.Y[1] && p.Z <= c.Z[1] {
			return c.Name
		}
	}
	for i := 1; i < len(d.at); i++ {
		if p.X < d.at[i] {
			return fmt.Sprintf("C%d", i-1)
		}
	}
	return fmt.Sprintf("C%d", len(d.at)-2)
}

// opening gives a way between two spaces its form, its wall and its edge, and lets some open or shut later. Sizes are 0.3 to 60 mm.
func (d *scenario) opening(name, a, b string, at r3.Vec) {
	if d.oneIn(2) {
		a, b = b, a
	}
	o := compartment.OpeningSpec{Name: name, Between: [2]string{a, b}, At: at, Wall: 0.004 * d.Float64()}
	size := d.scale(0.0003, 0.06)
	switch d.IntN(6) {
	case 0:
		o.Slot = &compartment.SlotSpec{Length: size, Width: d.scale(0.0003, size)}
	case 1:
		o.Door = &compartment.DoorSpec{Length: size, Height: d.scale(0.0003, 0.06)}
	case 2:
		o.Area = ptr(size * size * math.Pi / 4)
	default:
		o.Hole = &size
	}
	o.Edge = []compartment.EdgeKind{"", compartment.Sharp, compartment.Rounded, compartment.Tube}[d.IntN(4)]
	if d.oneIn(5) {
		o.Opens = append(o.Opens, d.condition(true))
	}
	if d.oneIn(8) {
		o.Shuts = append(o.Shuts, d.condition(true))
	}
	if (a == "outside" || b == "outside") && d.oneIn(6) {
		o.Rises = 0.02 * d.Float64()
	}
	d.spec.Openings = append(d.spec.Openings, o)
}

// cut is a hole low in a side, open from the start, so that something happens.
func (d *scenario) cut() {
	at := d.skin.side(d.skin.length*d.between(0.1, 0.9), d.between(0.05, 0.5))
	at.Y *= float64(1 - 2*d.IntN(2))
	d.opening("cut", "outside", d.owner(r3.Scale(0.999, at)), at)
	o := &d.spec.Openings[len(d.spec.Openings)-1]
	o.Opens, o.Shuts, o.Rises = nil, nil, 0
}

// seaWay is a hole in the bottom, a side, an end or the deck.
func (d *scenario) seaWay(name string) {
	i := d.IntN(len(d.at) - 1)
	x := d.at[i] + d.between(0.15, 0.85)*(d.at[i+1]-d.at[i])
	port := float64(1 - 2*d.IntN(2))
	var at r3.Vec
	switch d.IntN(10) {
	case 0, 1:
		at = d.skin.side(x, 0)
		at.Y *= d.between(-0.9, 0.9)
	case 2, 3:
		at = d.skin.side(x, 1)
		at.Y *= d.between(-0.8, 0.8)
	case 4:
		at = d.skin.side([]float64{0, d.skin.length}[d.IntN(2)], d.between(0.3, 0.9))
		at.Y *= d.between(-0.5, 0.5)
	default:
		at = d.skin.side(x, d.between(0.05, 0.95))
		at.Y *= port
	}
	inside := r3.Scale(0.999, at)
	d.opening(name, "outside", d.owner(inside), at)
}

// wallWay is a way through the wall between two neighbours, below its top.
func (d *scenario) wallWay(name string, i int) {
	low, high := d.skin.section(d.at[i])[0].Z, d.skin.depth
	if top := d.spec.Bulkheads[i-1].Top; top != nil {
		high = *top
	}
	at := r3.Vec{X: d.at[i], Z: d.between(low+0.1*(high-low), low+0.95*(high-low))}
	at.Y = d.skin.halfBreadth(at.X, at.Z) * d.between(-0.8, 0.8)
	step := r3.Vec{X: 1e-5}
	if a, b := d.owner(r3.Sub(at, step)), d.owner(r3.Add(at, step)); a != b {
		d.opening(name, a, b, at)
	}
}

// valves are ways between boxed compartments and what lies beside them.
func (d *scenario) valves() {
	for i, c := range d.spec.Compartments {
		if c.X == nil || d.oneIn(3) {
			continue
		}
		at := r3.Vec{X: d.between(c.X[0], c.X[1]), Y: c.Y[0], Z: c.Z[1] * d.between(0.2, 0.95)}
		if c.Y[0] < 0 {
			at.Y = c.Y[1]
		}
		d.opening(fmt.Sprintf("valve-%d", i), c.Name, d.owner(r3.Scale(0.99, at)), at)
	}
}

// tears lay bulkheads open that stand in the planes of joints.
func (d *scenario) tears() {
	for _, j := range d.spec.Joints {
		at := r3.Vec{X: j.At, Z: d.skin.depth * d.between(0.2, 0.7)}
		at.Y = d.skin.halfBreadth(at.X, at.Z) * d.between(-0.5, 0.5)
		step := r3.Vec{X: 1e-5}
		abaft, before := d.owner(r3.Sub(at, step)), d.owner(r3.Add(at, step))
		switch {
		case abaft == before || d.oneIn(2):
		case j.Keeps == compartment.KeepForward:
			d.opening("tear-"+j.Name, "outside", before, at)
		default:
			d.opening("tear-"+j.Name, "outside", abaft, at)
		}
	}
}

// widest makes one of the openings as fine and another as wide as they come, so that every model has both.
func (d *scenario) widest() {
	order := d.Perm(len(d.spec.Openings))
	for k, size := range []float64{0.0003, 0.06} {
		o := &d.spec.Openings[order[k]]
		o.Hole, o.Slot, o.Door, o.Area = ptr(size), nil, nil, nil
	}
}

// pump moves water out of a space, or in, over the deck.
func (d *scenario) pump() {
	i := d.IntN(len(d.at) - 1)
	at := d.skin.side((d.at[i]+d.at[i+1])/2, 1)
	at.Y = 0
	p := compartment.OpeningSpec{Name: "pump", Between: [2]string{d.owner(r3.Sub(at, r3.Vec{Z: 1e-5})), "outside"}, At: at, Flow: ptr(d.scale(1e-7, 1e-4))}
	if d.oneIn(3) {
		p.Between[0], p.Between[1] = p.Between[1], p.Between[0]
	}
	d.spec.Openings = append(d.spec.Openings, p)
}
