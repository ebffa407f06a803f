package flood

import (
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// kinetics is the kinetic energy of a body near a pose, over ρg: of its masses and floodwater, each space's as a point at its
// centroid, and of the water about it by the added mass. There is no force along the sea, so that the centre of all masses
// neither drifts nor turns about up: with n the up direction in body axes, its rate ṅ and that of the sea ḋ, the body turns
// by ω = ṅ × n, and the centre G rises by n-wards ṅ·G − ḋ.
type kinetics struct {
	up       r3.Vec
	sea      float64
	tangents [2]r3.Vec // pitch and roll at the pose

	mass     float64
	first    r3.Vec        // ∫ x dm about the body's origin
	firstBy  [2]r3.Vec     // its change as up turns along the tangents and the waters run to their level
	second   solid.Moments // ∫ x xᵀ dm
	secondBy [2]solid.Moments

	added   [6][6]float64    // of the origin's velocity and the turn
	addedBy [3][6][6]float64 // its change along the tangents and with the sea
}

// rates are how fast a pose changes.
type rates struct {
	up  r3.Vec
	sea float64
}

// A body has at least this share of the mass of water that its form holds, and gyradii of at least this share of its length: a hull
// described without mass, or with all of it in a point, would move at no cost.
const (
	leastMass     = 1e-6
	leastGyradius = 1e-2
)

// takeMasses takes over the masses of a body, with the waters that its spaces hold.
func (k *kinetics) takeMasses(b *body, holds func(local int) bool, weight float64) {
	f := b.floater
	per := 1 / weight
	k.up, k.sea = b.balance.Pose.Up, b.balance.Pose.Sea
	k.tangents = [2]r3.Vec{b.balance.Pitch, b.balance.Roll}
	mass := math.Max(f.Mass, leastMass*f.Density*b.Form.Volume())
	k.mass, k.first, k.second = per*mass, r3.Scale(per*mass, f.Centre), f.Inertia.Scale(per)
	about := k.second.Add(outer(k.first, f.Centre).Scale(-1))
	least := k.mass * leastGyradius * leastGyradius * f.Length() * f.Length()
	if lack := (least - min(about.YY+about.ZZ, about.XX+about.ZZ, about.XX+about.YY)) / 2; lack > 0 {
		k.second = k.second.Add(solid.Moments{XX: lack, YY: lack, ZZ: lack})
	}
	k.firstBy, k.secondBy = [2]r3.Vec{}, [2]solid.Moments{}
	per *= f.Density
	for i := range f.Surfaces() {
		w := &f.Surfaces()[i]
		if !holds(i) {
			continue
		}
		k.mass += per * w.Volume
		k.first = r3.Add(k.first, r3.Scale(per, w.Moment))
		k.second = k.second.Add(outer(w.Moment, w.Moment).Scale(per / w.Volume))
		for a, t := range k.tangents {
			run := r3.Scale(-1, w.Second.Apply(t)) // the surface tilts about its own centre
			k.firstBy[a] = r3.Add(k.firstBy[a], r3.Scale(per, run))
			k.secondBy[a] = k.secondBy[a].Add(outer(w.Moment, run).Add(outer(run, w.Moment)).Scale(per / w.Volume))
		}
	}
}

// outer is a bᵀ, of which only the symmetric part is kept: half of a bᵀ + b aᵀ.
func outer(a, b r3.Vec) solid.Moments {
	return solid.Moments{
		XX: a.X * b.X, YY: a.Y * b.Y, ZZ: a.Z * b.Z,
		XY: (a.X*b.Y + a.Y*b.X) / 2, XZ: (a.X*b.Z + a.Z*b.X) / 2, YZ: (a.Y*b.Z + a.Z*b.Y) / 2,
	}
}

// takeAdded takes over the added mass.
func (k *kinetics) takeAdded(s *compartment.Surround, weight float64) {
	scaled(&k.added, s.Added(), 1/weight)
	for a := range k.addedBy {
		scaled(&k.addedBy[a], s.AddedChange(a), 1/weight)
	}
}

func scaled(to, from *[6][6]float64, f float64) {
	for i := range from {
		for j := range from[i] {
			to[i][j] = f * from[i][j]
		}
	}
}

// motion is the velocity of the body's origin and its turn, in body axes, for rates at an up direction and a centre.
func motion(up, centre r3.Vec, v rates) (m [6]float64, rise float64, turn r3.Vec) {
	turn = r3.Cross(v.up, up)
	rise = r3.Dot(v.up, centre) - v.sea
	u := r3.Sub(r3.Scale(rise, up), r3.Cross(turn, centre))
	return [6]float64{u.X, u.Y, u.Z, turn.X, turn.Y, turn.Z}, rise, turn
}

// energy is the kinetic energy at a pose near that of k for rates there, linear in what changes with the pose.
func (k *kinetics) energy(up r3.Vec, sea float64, v rates) float64 {
	away := r3.Sub(up, k.up)
	along := [3]float64{r3.Dot(away, k.tangents[0]), r3.Dot(away, k.tangents[1]), sea - k.sea}
	first, second := k.first, k.second
	for a := range k.firstBy {
		first = r3.Add(first, r3.Scale(along[a], k.firstBy[a]))
		second = second.Add(k.secondBy[a].Scale(along[a]))
	}
	centre := r3.Scale(1/k.mass, first)
	m, rise, turn := motion(up, centre, v)
	about := second.Add(outer(first, centre).Scale(-1))
	trace := about.XX + about.YY + about.ZZ
	t := k.mass*rise*rise + trace*r3.Dot(turn, turn) - r3.Dot(turn, about.Apply(turn))
	for i, x := range m {
		for j, y := range m {
			a := k.added[i][j]
			for c, d := range along {
				a += d * k.addedBy[c][i][j]
			}
			t += x * a * y
		}
	}
	return t / 2
}

// inertia is the generalised mass along the tangents and of the sea's rise, and the motion that each is.
func (k *kinetics) inertia() (m [3][3]float64, ways [3][6]float64) {
	centre := r3.Scale(1/k.mass, k.first)
	about := k.second.Add(outer(k.first, centre).Scale(-1))
	trace := about.XX + about.YY + about.ZZ
	var rise [3]float64
	var turn [3]r3.Vec
	for a, v := range [3]rates{{up: k.tangents[0]}, {up: k.tangents[1]}, {sea: 1}} {
		ways[a], rise[a], turn[a] = motion(k.up, centre, v)
	}
	for a := range m {
		for b := range m {
			m[a][b] = k.mass*rise[a]*rise[b] + trace*r3.Dot(turn[a], turn[b]) - r3.Dot(turn[a], about.Apply(turn[b])) +
				product(&ways[a], &k.added, &ways[b])
		}
	}
	return m, ways
}

// product is aᵀ m b.
func product(a *[6]float64, m *[6][6]float64, b *[6]float64) (sum float64) {
	for i, x := range a {
		for j, y := range b {
			sum += x * m[i][j] * y
		}
	}
	return sum
}
