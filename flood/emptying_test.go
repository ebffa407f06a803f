package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Rows of references.md group EM: tanks that empty, with the hull held. Sources reckon with 9.81, 9.8 or 32.2 ft/s², the engine
// with 9.80665 m/s²; under a given head time goes with 1/√g, so times are multiplied by √(9.80665/g). Surface tension is off,
// and so is creep, of which the sources know nothing: it would take 1.3e-4 off the flow of EM-06.

const foot = 0.3048

// tank is a hold of some depth of water in a hull, and how its time runs against the source's.
type tank struct {
	spec  compartment.Spec
	keel  float64
	pace  float64 // the source's seconds per second of the run
	level func(*flood.Sample) float64
}

// tankOf is a box of a base area, square, with a single hold.
func tankOf(area, depth, start, gravity float64) tank {
	s := bargeSpec()
	side := math.Sqrt(area)
	s.Hull.Box = &compartment.BoxSpec{Length: side, Breadth: side, Depth: depth}
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: 1, At: r3.Vec{X: side / 2}}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold", Starts: &compartment.StartSpec{Depth: &start}}}
	return tank{spec: s, keel: 1, pace: math.Sqrt(refGravity / gravity), level: func(s *flood.Sample) float64 { return s.Spaces[0].Depth }}
}

// bottom gives the tank a hole in the middle of its bottom.
func (k tank) bottom(diameter, cd float64) tank {
	h := bored("hole", "hold", "outside", r3.Vec{X: k.spec.Hull.Box.Length / 2}, r3.Vec{Z: -1}, diameter)
	h.Cd = &cd
	k.spec.Openings = append(k.spec.Openings, h)
	return k
}

// toSea lowers the tank until the hole's mouth is ten nanometres under the sea: it can then empty to the last without the air
// coming up through the hole, of which the sources know nothing (a flat hole under less water than its width lets both pass).
func (k tank) toSea() tank { k.keel = -1e-8; return k }

// fall runs the tank and returns the times, in the source's seconds, at which the level comes down through the marks; 0 means
// empty, found from the last two samples by the law √h ∝ t to the end.
func (k tank) fall(t *testing.T, about float64, marks ...float64) (times []float64) {
	t.Helper()
	until := 1.3 * about / k.pace
	var at, h []float64
	set := flood.Settings{Until: until, Every: until / 4000, Motion: flood.Held, Keel: &k.keel, Tolerance: 1e-7,
		Samples: func(s *flood.Sample) { at, h = append(at, s.Time), append(h, k.level(s)) }}
	r, err := mustStart(t, withoutCreep(mustBuild(t, k.spec), 1), set).Finish(t.Context())
	if err != nil || r.GaveUp != nil {
		t.Fatalf("%v, %+v", err, r.GaveUp)
	}
	for _, m := range marks {
		times = append(times, k.pace*crossing(t, at, h, m))
	}
	return times
}

// crossing interpolates √h, which is linear in an upright tank; for a mark of 0 it goes on from 1 % and 0.01 % of the start.
func crossing(t *testing.T, at, h []float64, mark float64) float64 {
	t.Helper()
	if mark == 0 {
		a, b := crossing(t, at, h, 1e-2*h[0]), crossing(t, at, h, 1e-4*h[0])
		return b + (b-a)*1e-2/(1e-1-1e-2)
	}
	for i := 1; i < len(h); i++ {
		if h[i] <= mark && h[i-1] > mark {
			a, b := math.Sqrt(h[i-1]), math.Sqrt(max(0, h[i]))
			return at[i-1] + (at[i]-at[i-1])*(a-math.Sqrt(mark))/(a-b)
		}
	}
	t.Errorf("the level never comes down to %g m: it ends at %g", mark, h[len(h)-1])
	return math.NaN()
}

func disc(d float64) float64 { return math.Pi * d * d / 4 }

func TestTextbookEmptying(t *testing.T) {
	for _, c := range []struct {
		row   string
		tank  tank
		marks []float64
		want  []float64 // s
		near  float64   // relative: the printed digits, at least 1e-3 where the source rounds its steps
	}{
		{"EM-01", tankOf(disc(3), 5, 4, 9.81).bottom(0.4, 0.6).toSea(), []float64{2, 0}, []float64{24.797, 84.661}, 5e-5},
		{"EM-02", tankOf(disc(4), 6, 5, 9.81).bottom(0.5, 0.6).toSea(), []float64{2, 0}, []float64{39.58, 107.7}, 5e-4},
		{"EM-03", tankOf(disc(1.2), 4, 3, 9.81).bottom(0.05, 0.6).toSea(), []float64{0}, []float64{750.8}, 1e-3},
		{"EM-04", tankOf(3.2, 6, 5, 9.81).bottom(math.Sqrt(4e-3/math.Pi), 0.6).toSea(), []float64{2.5, 0}, []float64{1577, 5385}, 1e-3},
		{"EM-05", tankOf(16, 11, 10, 9.81).bottom(math.Sqrt(2e-3/math.Pi), 0.62).toSea(), []float64{0}, []float64{73695}, 5e-5},
		{"EM-06", tankOf(disc(4), 3, 2, 9.80665).bottom(0.06, 1).toSea(), []float64{1, 0}, []float64{831.37, 2838.49}, 2e-5},
		{"EM-07", tankOf(disc(1), 1.5, 1/disc(1), 9.8).bottom(0.02, 0.6).toSea(), []float64{0}, []float64{2124}, 1e-3},
		{"EM-20, the four holes as one", tankOf(200, 2, 1.5, 9.81).bottom(2*0.4350, 0.62).toSea(), []float64{0}, []float64{300}, 1e-3},
		{"EM-21", tankOf(disc(4*foot), 2.5, 6*foot, 32.2*foot).bottom(2*foot/12, 0.619), []float64{2 * foot}, []float64{240}, 1.5e-3},
		// a pipe of 1.5 m below the tank, its losses as one coefficient 1/√(0.9 + 1 + 4·0.01·1.5/0.02); heads over its mouth
		{"EM-22", tankOf(6, 4, 3.5, 9.81).bottom(0.02, 1/math.Sqrt(4.9)), []float64{2.25}, []float64{7078.7}, 5e-4},
	} {
		for i, got := range c.tank.fall(t, c.want[len(c.want)-1], c.marks...) {
			t.Logf("%s to %.3g m: %.5g s, the source has %.5g", c.row, c.marks[i], got, c.want[i])
			if !(math.Abs(got-c.want[i]) <= c.near*c.want[i]) {
				t.Errorf("%s to %g m: %.6g s, the source has %.6g", c.row, c.marks[i], got, c.want[i])
			}
		}
	}
}

// Two tanks joined by a hole that stays under water: the heads are the differences of their levels.
func TestTextbookTwoTanks(t *testing.T) {
	joined := func(a, b, high, low, depth, gravity float64) tank {
		k := tankOf(a+b, depth, low, gravity)
		box := k.spec.Hull.Box
		box.Length, box.Breadth = 4, (a+b)/4
		k.spec.Weights[0].At.X = 2
		k.spec.Bulkheads = []compartment.BulkheadSpec{{Name: "B", At: a / box.Breadth}}
		k.spec.Compartments = []compartment.CompartmentSpec{
			{Name: "first", Starts: &compartment.StartSpec{Depth: &high}}, {Name: "second", Starts: &compartment.StartSpec{Depth: &low}}}
		k.level = func(s *flood.Sample) float64 { return s.Spaces[0].Depth - s.Spaces[1].Depth }
		return k
	}
	lewitt := joined(12.5*foot*foot, 37.5*foot*foot, 11*foot, foot, 12*foot, 32.2*foot)
	lewitt.spec.Openings = []compartment.OpeningSpec{{Name: "hole", Between: [2]string{"first", "second"},
		At: r3.Vec{X: lewitt.spec.Bulkheads[0].At, Z: foot / 2}, Faces: &r3.Vec{X: 1}, Along: &r3.Vec{Y: 1},
		Door: &compartment.DoorSpec{Length: foot / 4, Height: foot / 4}, Cd: ptr(0.62)}}
	schaschke := joined(8, 4, 1.3, 1, 2, 9.81)
	hole := bored("hole", "first", "second", r3.Vec{X: schaschke.spec.Bulkheads[0].At, Z: 0.5}, r3.Vec{X: 1}, math.Sqrt(0.04/math.Pi))
	hole.Cd = ptr(0.62)
	schaschke.spec.Openings = []compartment.OpeningSpec{hole}
	for _, c := range []struct {
		row        string
		tank       tank
		mark, want float64
	}{{"EM-12", lewitt, 2 * foot, 105.4}, {"EM-14", schaschke, 0.1, 44.96}} {
		got := c.tank.fall(t, c.want, c.mark)[0]
		t.Logf("%s: %.5g s, the source has %.5g", c.row, got, c.want)
		if math.Abs(got-c.want) > 1e-3*c.want {
			t.Errorf("%s: %.6g s, the source has %.6g", c.row, got, c.want)
		}
	}
}

// Inflow from a pump at the tank's foot, which stands ten nanometres in the sea, against outflow through a hole in the bottom.
func TestTextbookInflow(t *testing.T) {
	fed := func(k tank, inflow float64) tank {
		k.spec.Openings = append(k.spec.Openings, compartment.OpeningSpec{Name: "pump", Between: [2]string{"outside", "hold"},
			At: r3.Vec{X: k.spec.Hull.Box.Length / 4}, Faces: &r3.Vec{Z: -1}, Flow: &inflow})
		return k.toSea()
	}
	// The holes pass what the sources give at the upper head: area = q/(0.6 √(2gh)); g is the engine's, for q is fixed.
	size := func(q, h float64) float64 { return math.Sqrt(4 / math.Pi * q / (0.6 * math.Sqrt(2*refGravity*h))) }
	const cubic = foot * foot * foot
	for _, c := range []struct {
		row              string
		tank             tank
		mark, want, near float64
	}{
		{"EM-17", fed(tankOf(1500*foot*foot, 18*foot, 16*foot, refGravity).bottom(size(12*cubic, 16*foot), 0.6), 6*cubic), 6 * foot, 75.6 * 60, 1e-3},
		{"EM-18", fed(tankOf(150, 2, 1.5, refGravity).bottom(size(0.4, 1.5), 0.6), 0.2), 0.5, 1525.3, 1e-4},
	} {
		got := c.tank.fall(t, c.want, c.mark)[0]
		t.Logf("%s: %.6g s, the source has %.6g", c.row, got, c.want)
		if math.Abs(got-c.want) > c.near*c.want {
			t.Errorf("%s: %.6g s, the source has %.6g", c.row, got, c.want)
		}
	}
}

// references.md EM-19: a lock of 80 × 12 ft (as a square of that area) loses its 12 ft through a square sluice of 2.77 ft in
// 3 min, C_d 0.6. The sluice is under water on both sides, so the tank stands in the sea.
func TestTextbookLock(t *testing.T) {
	k := tankOf(80*12*foot*foot, 6, 1+12*foot, 32.2*foot)
	k.keel = -1
	k.level = func(s *flood.Sample) float64 { return s.Spaces[0].Depth - 1 }
	side := 2.77 * foot
	k.spec.Openings = []compartment.OpeningSpec{{Name: "sluice", Between: [2]string{"hold", "outside"},
		At: r3.Vec{X: k.spec.Hull.Box.Length / 2, Y: k.spec.Hull.Box.Breadth / 2, Z: 0.5}, Faces: &r3.Vec{Y: 1}, Along: &r3.Vec{X: 1},
		Door: &compartment.DoorSpec{Length: side, Height: side}, Cd: ptr(0.6)}}
	// the side is printed to 0.005 ft, its area and the time to 0.36 %
	if got := k.fall(t, 180, 0)[0]; math.Abs(got-180) > 0.0036*180 {
		t.Errorf("EM-19: %.5g s, the source has 180", got)
	}
}

// references.md EM-23: a reservoir of 20 000 yd² falls from 2 to 1 ft over a weir of 5 ft, C_d 0.6, in 109.5 min. It is taken a
// thousand times smaller, which makes it a thousand times faster: dt = A dh/q(h). A door stands for the weir.
func TestTextbookReservoir(t *testing.T) {
	k := tankOf(20*9*foot*foot, 3, 1+2*foot, 32.2*foot)
	k.level = func(s *flood.Sample) float64 { return s.Spaces[0].Depth - 1 }
	k.spec.Openings = []compartment.OpeningSpec{{Name: "weir", Between: [2]string{"hold", "outside"},
		At: r3.Vec{X: k.spec.Hull.Box.Length / 2, Y: k.spec.Hull.Box.Breadth / 2, Z: 1 + 1.5*foot}, Faces: &r3.Vec{Y: 1}, Along: &r3.Vec{X: 1},
		Door: &compartment.DoorSpec{Length: 5 * foot, Height: 3 * foot}, Cd: ptr(0.6)}}
	got := k.fall(t, 6.57, foot)[0] * 1000 / 60
	if math.Abs(got-109.5) > 1e-3*109.5 {
		t.Errorf("EM-23: %.6g min, the source has 109.5", got)
	}
}

// references.md EM-25: a thin box of 0.2 m² afloat at 0.08 m with a hole of 1e-4 m² in its bottom, C_d 0.6, sinks under a
// constant head, its rim of 0.15 m under after A(D − d₀)/(C_d a √(2 g d₀)) = 186.276 s. Its floor is all free surface, which
// cancels its waterplane: a centre of mass under half the draft keeps it upright.
func TestTextbookSinkingBowl(t *testing.T) {
	s := bargeSpec()
	s.Hull.Box = &compartment.BoxSpec{Length: 0.5, Breadth: 0.4, Depth: 0.15}
	s.Weights[0].At = r3.Vec{X: 0.25, Z: 0.02}
	s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}}
	hole := bored("hole", "outside", "hold", r3.Vec{X: 0.25}, r3.Vec{Z: -1}, math.Sqrt(4e-4/math.Pi))
	hole.Cd = ptr(0.6)
	s.Openings = []compartment.OpeningSpec{hole}
	r, err := mustStart(t, withoutCreep(mustBuild(t, s), 1), flood.Settings{Tolerance: 1e-8}).Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := 0.2 * (0.15 - 0.08) / (0.6 * 1e-4 * math.Sqrt(2*refGravity*0.08))
	if math.Abs(want-186.276) > 5e-4 {
		t.Errorf("closed form %.6g s, printed 186.276", want)
	}
	// On an even keel the rim goes under all round at once, and nothing is left above: it has foundered.
	got := r.Sections[0].Foundered
	t.Logf("EM-25: rim under at %.6f s, closed form %.6f, %s", got, want, r.Fate)
	if !(math.Abs(got-want) <= 1e-6*want) || r.Fate != flood.Founders {
		t.Errorf("EM-25: rim under at %g s, fate %q; wanted %g s, founders; events %v", got, r.Fate, want, r.Events)
	}
}

// turned is a solid of revolution about the z axis as a mesh, from radii at heights, the first and last on the axis.
func turned(profile [][2]float64, around int) (m [][3]r3.Vec) {
	at := func(i, j int) r3.Vec {
		s, c := math.Sincos(2 * math.Pi * float64(j%around) / float64(around))
		return r3.Vec{X: profile[i][0] * c, Y: profile[i][0] * s, Z: profile[i][1]}
	}
	for i := range len(profile) - 1 {
		for j := range around {
			a, b, c, d := at(i, j), at(i, j+1), at(i+1, j+1), at(i+1, j)
			if profile[i][0] > 0 {
				m = append(m, [3]r3.Vec{a, b, c})
			}
			if profile[i+1][0] > 0 {
				m = append(m, [3]r3.Vec{a, c, d})
			}
		}
	}
	return m
}

// bowl is a hemisphere's profile with a lid; tall adds a cylinder on top.
func bowl(r, tall float64) (p [][2]float64) {
	const rings = 60
	for i := range rings + 1 {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / rings)
		p = append(p, [2]float64{r * s, r - r*c})
	}
	if tall > 0 {
		p = append(p, [2]float64{r, r + tall})
	}
	return append(p, [2]float64{0, r + tall})
}

// The inscribed mesh of 60 × 120 facets is 4e-4 smaller than the round tank.
func TestTextbookRoundTanks(t *testing.T) {
	round := func(mesh [][3]r3.Vec, start, gravity, hole, cd float64) tank {
		k := tankOf(1, 1, start, gravity).toSea()
		k.spec.Hull = compartment.HullSpec{Mesh: &compartment.MeshSpec{Name: "tank", Triangles: mesh}}
		k.spec.Weights[0].At = r3.Vec{}
		h := bored("hole", "hold", "outside", r3.Vec{}, r3.Vec{Z: -1}, hole)
		h.Cd = &cd
		k.spec.Openings = []compartment.OpeningSpec{h}
		return k
	}
	for _, c := range []struct {
		row              string
		tank             tank
		mark, want, near float64
	}{
		{"EM-08", round(turned(bowl(2, 0), 120), 1.5, 9.8, 0.05, 0.6), 0, 2287, 2e-3},
		{"EM-09", round(turned(bowl(6*foot, 0), 120), 5.9999*foot, 32.2*foot, 8*foot/12, 0.6), 4 * foot, 58.1, 2e-3},
		{"EM-11", round(turned(bowl(5*foot, 13*foot), 120), 17*foot, 32.2*foot, foot/4, 0.62), 0, 1885, 2e-3},
	} {
		got := c.tank.fall(t, c.want, c.mark)[0]
		t.Logf("%s: %.5g s, the source has %.5g", c.row, got, c.want)
		if math.Abs(got-c.want) > c.near*c.want {
			t.Errorf("%s: %.6g s, the source has %.6g", c.row, got, c.want)
		}
	}
}
