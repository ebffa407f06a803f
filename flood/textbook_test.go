package flood_test

import (
	"math"
	"testing"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"gonum.org/v1/gonum/spatial/r3"
)

// Rows of references.md group ST on floating and bilged boxes. Ships are built at 1:100, pontoons at 1:10; lengths below are
// the sources', and a length read off is multiplied back. The density is 1000 kg/m³ where a row is about form only.

const degree = math.Pi / 180

// box is a hull of a source's size at a scale, drawing d with its centre of mass (y, kg) off the middle.
func box(scale, l, b, depth, d, y, kg float64) compartment.Spec {
	k := 1 / scale
	s := bargeSpec()
	s.Hull.Box = &compartment.BoxSpec{Length: k * l, Breadth: k * b, Depth: k * depth}
	s.Weights[0].Mass = *s.Water.Density * k * k * k * l * b * d
	s.Weights[0].At = r3.Scale(k, r3.Vec{X: l / 2, Y: y, Z: kg})
	return s
}

// The box's wall-sided stability: GZ = sinθ(GM + ½ BM tan²θ), closed form; a centre of mass GZ/cosθ to starboard heels by θ.
func TestTextbookHeel(t *testing.T) {
	gz := func(gm, bm, deg float64) float64 {
		return math.Sin(deg*degree) * (gm + 0.5*bm*math.Pow(math.Tan(deg*degree), 2))
	}
	log := func(s float64) compartment.Spec { return box(1, 3, 0.3, 0.3, 0.3*s, 0, 0.15) }
	off := func(arm, deg float64) float64 { return -arm / math.Cos(deg*degree) }
	for _, c := range []struct {
		row       string
		spec      compartment.Spec
		want, eps float64 // degrees; eps: half a unit of the printed digits, through the slope of the source's formula
	}{
		// GZ printed to 5e-9 m, the slope of the arm at least GM = 0.0317 m.
		{"ST-51, 5°", box(1, 1, 0.2, 0.2, 0.08, off(2.77383e-3, 5), 0.05), 5, 1e-5},
		{"ST-51, 10°", box(1, 1, 0.2, 0.2, 0.08, off(5.61134e-3, 10), 0.05), 10, 1e-5},
		{"ST-51, 20°", box(1, 1, 0.2, 0.2, 0.08, off(11.77457e-3, 20), 0.05), 20, 1e-5},
		{"ST-51, 30°", box(1, 1, 0.2, 0.2, 0.08, off(19.30556e-3, 30), 0.05), 30, 1e-5},
		{"ST-52, loll", box(1, 1, 0.2, 0.2, 0.08, 0, 0.085), 21.8014, 5e-5},
		// Two digits printed: 0.35 m; the arm of the formula is 0.3492.
		{"ST-13, GZ 0.35 m at 25°", box(100, 100, math.Sqrt(216), 12, 6, off(0.35, 25), 5.5), 25, 0.005 / 0.8 / degree},
		{"ST-14, 25°", box(100, 65, 12, 8, 4, off(0.5605, 25), 4), 25, 0.00005 / degree},
		{"ST-14, 5° by GM sinθ = 0.0872", box(100, 65, 12, 8, 4, off(0.0872, 5), 4), 5, 0.06}, // the source leaves out ½BM tan²θ
		{"ST-14, 5°, wall-sided", box(100, 65, 12, 8, 4, off(gz(1, 3, 5), 5), 4), 5, 1e-7},
		{"ST-16, log, 43° 10'", box(10, 10, math.Sqrt(7.5*3), 6, 3, 0, 1.5+0.625+0.275), 43 + 10./60, 0.5 / 60},
		{"ST-55, loll", box(100, 150, math.Sqrt(60*5), 12, 5, 0, 2.5+5+0.08), 10.14, 0.005},
		{"ST-56, list at GM = 0", box(100, 150, math.Sqrt(12*7.6*4.2), 15, 7.6, -2*12/12250., 8), 5.58, 0.005},
		// tan²θ = 12 s(1−s) − 2, closed form; printed 13.675°, 19.486°, 23.486° (the last should be 23.485°)
		{"ST-40, square log, s 0.22", log(0.22), math.Atan(math.Sqrt(12*0.22*0.78-2)) / degree, 1e-6},
		{"ST-40, s 0.23", log(0.23), math.Atan(math.Sqrt(12*0.23*0.77-2)) / degree, 1e-6},
		{"ST-40, s 0.24", log(0.24), math.Atan(math.Sqrt(12*0.24*0.76-2)) / degree, 1e-6},
		{"ST-40, s 0.28", log(0.28), 41.2, 0.05},
		{"ST-39, s 0.5", log(0.5), 45, 1e-6},
		{"ST-38, s just under 0.211325", log(0.2113), 0, 1e-6},
		// heel 3° by the small-angle rule, which leaves out ½BM tan²θ = 0.026 ft beside GM = 16.98 ft: 0.005°
		{"ST-32, 60 of 312 tons moved 4.63 ft", box(10, 91, 30, 6, 4, -4.63*60/(91*30*4*64/2240.), (60*7+(312-60)*3)/312.), 3, 0.01},
	} {
		f := mustBuild(t, c.spec).FloatTest()[0]
		if got := f.Heel / degree; !f.Floats || math.Abs(got-c.want) > c.eps {
			t.Errorf("%s: heel %.6f°, the source has %g", c.row, got, c.want)
		}
		if math.Abs(f.Trim) > 1e-8 {
			t.Errorf("%s: trim %g", c.row, f.Trim)
		}
	}
}

func TestTextbookUpright(t *testing.T) {
	sea := func(s compartment.Spec, density float64) compartment.Spec { s.Water.Density = &density; return s }
	mass := func(s compartment.Spec, m float64) compartment.Spec { s.Weights[0].Mass = m; return s }
	const none = 0
	for _, c := range []struct {
		row                 string
		spec                compartment.Spec
		scale               float64
		draft, gm, near, ng float64
	}{
		{"ST-23, box GM", box(1, 4, 2, 1, 0.6, 0, 0.5), 1, 0.6, 0.3556, 1e-12, 5e-5},
		{"ST-34, barge GM, ft", box(10, 40, 16, 8, 6, 0, 4), 10, 6, 2.556, 1e-12, 5e-4},
		{"ST-14, GM", box(10, 65, 12, 8, 4, 0, 4), 10, 4, 1, 1e-12, 1e-9},
		{"ST-32, GM, ft", box(10, 91, 30, 6, 4, 0, (60*7+(312-60)*3)/312.), 10, 4, 16.98, 1e-12, 5e-3},
		// printed to three digits; 150/(24·6·1.025) = 1.01626
		{"ST-06, 150 t", sea(mass(box(10, 24, 6, 3, 1, 0, 0.5), 150), 1025), 10, 1.016, none, 5e-4, 0},
		{"ST-07, from 1.006 to 1.025", sea(mass(box(100, 100, 20, 12, 7.5, 0, 5), 1006e-6*100*20*7.5), 1025), 100, 7.361, none, 5e-4, 0},
		{"ST-21, pontoon at sea", sea(box(10, 12, 6, 2.5, 1.5, 0, 0.7), 1025), 10, 1.4634, none, 5e-5, 0},
	} {
		f := mustBuild(t, c.spec).FloatTest()[0]
		if d := f.DraftAft * c.scale; math.Abs(d-c.draft) > c.near || math.Abs(f.Heel) > 1e-9 {
			t.Errorf("%s: draft %.6f, heel %g; the source has %g", c.row, d, f.Heel, c.draft)
		}
		if gm := f.GMTransverse * c.scale; c.gm != none && math.Abs(gm-c.gm) > c.ng {
			t.Errorf("%s: GM %.6f, the source has %g", c.row, gm, c.gm)
		}
	}
}

// references.md ST-19: subdividing a tank of 10 × 6 m into n cells of equal width divides the loss of GM by n²; salt water
// in a ship of 1000 t: 0.1845, 0.0461, 0.0205 m. Built at 1:10, the ship's water as salt as the tank's.
func TestTextbookFreeSurface(t *testing.T) {
	spec := func(cells int, fluid bool) compartment.Spec {
		s := box(10, 20, 10, 10, 1000/1.025/200, 0, 3)
		s.Water.Density = ptr(1025.0)
		const water = 0.6 * 0.01 * 10 // m³ at 1:10: 1 m deep in the source's tank
		s.Weights[0].Mass = 1000 - 1025*water
		s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}}
		if !fluid {
			s.Weights = append(s.Weights, compartment.WeightSpec{Name: "ice", Mass: 1025 * water, At: r3.Vec{X: 1, Z: 0.15}})
		}
		for i := range cells {
			y := -0.3 + 0.6*float64(i)/float64(cells)
			c := compartment.CompartmentSpec{Name: "cell-" + string(rune('a'+i)), X: &[2]float64{0.5, 1.5},
				Y: &[2]float64{y, y + 0.6/float64(cells)}, Z: &[2]float64{0.1, 0.4}}
			if fluid {
				c.Starts = &compartment.StartSpec{Depth: ptr(0.1)}
			}
			s.Compartments = append(s.Compartments, c)
		}
		return s
	}
	for n, want := range map[int]float64{1: 0.1845, 2: 0.0461, 3: 0.0205} {
		solid := mustBuild(t, spec(n, false)).FloatTest()[0]
		fluid := mustBuild(t, spec(n, true)).FloatTest()[0]
		if loss := 10 * (solid.GMTransverse - fluid.GMTransverse); math.Abs(loss-want) > 5e-5 {
			t.Errorf("ST-19, %d cells: loss %.6f m, the source has %g", n, loss, want)
		}
	}
}

// bilge runs a 1:100 ship with one bilged compartment to its end: drafts along z at both ends in the source's metres.
func bilge(t *testing.T, row string, spec compartment.Spec, hole r3.Vec, faces r3.Vec) (aft, fore, heel, gm float64) {
	t.Helper()
	spec.Openings = []compartment.OpeningSpec{bored("cut", "outside", "bilged", hole, faces, 0.02)}
	var last flood.BodySample
	run := mustStart(t, mustBuild(t, spec), flood.Settings{Until: 3000, Every: 10, Samples: func(s *flood.Sample) { last = s.Bodies[0] }})
	r, err := run.Finish(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if r.Ended != flood.EndedSettled || r.Fate != flood.Floats {
		t.Errorf("%s: ended %q, fate %q", row, r.Ended, r.Fate)
	}
	p := run.Pose(0)
	scale := 100.
	return scale * p.Sea / p.Up.Z, scale * (p.Sea - p.Up.X*spec.Hull.Box.Length) / p.Up.Z, p.Heel() / degree, scale * last.GM
}

// A compartment amidships, up to the deck. Whether a source counts the lost waterplane with the permeability (L − μl) or
// without (L − l) is said in each row; floodwater that levels with the sea gives the former, d·L/(L − μl) exactly.
func TestTextbookBilgedAmidships(t *testing.T) {
	for _, c := range []struct {
		row                     string
		l, b, depth, d, kg, hit float64
		share, draft, near      float64
	}{
		{"ST-01: empty, so without permeability; printed 5.77", 150, 24, 12, 5, 11.2, 20, 1, 5.77, 5e-3},
		{"ST-02: μ 0.25; printed 5.138 is (L − l), (L − μl) is 5.1282", 100, 15, 10, 5, 4, 10, 0.25, 5.1282, 5e-5},
		{"ST-03: μ 0.3489; printed +0.26167 is (L − l), (L − μl) is 3·60/(60 − 0.3489·12)", 60, 15, 8, 3, 3, 12, 0.3489,
			3 * 60 / (60 - 0.3489*12), 5e-5},
		{"ST-04: empty, so without permeability; 2·40/30", 40, 6, 5, 2, 1.9, 10, 1, 2 * 40 / 30., 5e-5},
		{"ST-05: μ 1/6; printed 5.085 is (L − μl)", 150, 20, 12, 5, 5, 15, 1. / 6, 5.085, 5e-4},
	} {
		s := box(100, c.l, c.b, c.depth, c.d, 0, c.kg)
		s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: (c.l - c.hit) / 200}, {Name: "B2", At: (c.l + c.hit) / 200}}
		s.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "bilged", Permeability: &c.share}, {Name: "fore"}}
		aft, fore, heel, gm := bilge(t, c.row, s, r3.Vec{X: c.l / 200, Y: c.b / 200, Z: c.d / 400}, r3.Vec{Y: 1})
		exact := c.d * c.l / (c.l - c.share*c.hit)
		if math.Abs(aft-exact) > 1e-5*exact || math.Abs(fore-exact) > 1e-5*exact || math.Abs(heel) > 1e-5 {
			t.Errorf("%s: drafts %.6f and %.6f m, heel %g; closed form %.6f", c.row, aft, fore, heel, exact)
		}
		if math.Abs(aft-c.draft) > c.near {
			t.Errorf("%s: draft %.5f m", c.row, aft)
		}
		// GM by lost buoyancy is per ton of the intact ship, GM with floodwater per ton of both: the product is the same.
		lost := gm * exact / c.d
		want := 0.5*exact + (c.l-c.share*c.hit)*math.Pow(c.b, 3)/12/(c.l*c.b*c.d) - c.kg
		if math.Abs(lost-want) > 1e-5*c.kg {
			t.Errorf("%s: GM %.6f m, by lost buoyancy %.6f", c.row, lost, want)
		}
	}
}

// references.md ST-04, whose GM of 0.6 m intact fixes KG: GM 0.55833 m after bilging (contradiction 2 there), lost buoyancy.
func TestTextbookBilgedGM(t *testing.T) {
	s := box(100, 40, 6, 5, 2, 0, 1+36./24-0.6)
	s.Bulkheads = []compartment.BulkheadSpec{{Name: "B1", At: 0.15}, {Name: "B2", At: 0.25}}
	s.Compartments = []compartment.CompartmentSpec{{Name: "aft"}, {Name: "bilged"}, {Name: "fore"}}
	aft, _, _, gm := bilge(t, "ST-04", s, r3.Vec{X: 0.2, Y: 0.03, Z: 0.005}, r3.Vec{Y: 1})
	if lost := gm * aft / 2; math.Abs(lost-0.55833) > 5e-5 {
		t.Errorf("ST-04: GM %.6f m by lost buoyancy, the source has 0.55833", lost)
	}
}

// An end compartment. ST-09 is topped at 3.5 m and counts its permeability (it fills: then lost buoyancy is the same whichever
// way); ST-10 is up to the deck and empty. Exact, not small-angle, drafts: of ST-09 printed to 1e-4 m; of ST-10 by the cubic of
// TestRefEndBilgedToDeck, 3.79066 and 5.99945 m, where the row has 3.7912 and 5.9983.
func TestTextbookBilgedEnd(t *testing.T) {
	for _, c := range []struct {
		row                      string
		l, d, hit, top, kg       float64
		share                    float64
		draftAft, draftFor, near float64
	}{
		{"ST-09", 64, 5, 6, 3.5, 2.5, 0.25, 4.8592, 5.3049, 1e-4},
		{"ST-10", 75, 4.5, 5, 6, 2.25, 1, 3.79066, 5.99945, 2e-5},
	} {
		s := box(100, c.l, 10, 6, c.d, 0, c.kg)
		s.Compartments = []compartment.CompartmentSpec{{Name: "hold"}, {Name: "bilged", Permeability: &c.share,
			X: &[2]float64{(c.l - c.hit) / 100, c.l / 100}, Y: &[2]float64{-0.05, 0.05}, Z: &[2]float64{0, c.top / 100}}}
		aft, fore, heel, _ := bilge(t, c.row, s, r3.Vec{X: c.l / 100, Z: 0.015}, r3.Vec{X: 1})
		if math.Abs(aft-c.draftAft) > c.near || math.Abs(fore-c.draftFor) > c.near || math.Abs(heel) > 1e-6 {
			t.Errorf("%s: drafts %.5f aft, %.5f fore, heel %g; wanted %.5f, %.5f", c.row, aft, fore, heel, c.draftAft, c.draftFor)
		}
	}
}

// references.md ST-11, a wing compartment at model size, empty, so without permeability: exact heel 9.4640° and centreline
// draft 0.086167 m (the small-angle textbook has 9.6251°).
func TestTextbookBilgedWing(t *testing.T) {
	run := mustStart(t, mustBuild(t, wingSpec()), flood.Settings{})
	if _, err := run.Finish(t.Context()); err != nil {
		t.Fatal(err)
	}
	p := run.Pose(0)
	if heel, draft := p.Heel()/degree, p.Sea/p.Up.Z; math.Abs(heel-9.4640) > 1e-4 || math.Abs(draft-0.086167) > 1e-6 {
		t.Errorf("ST-11: heel %.5f°, draft %.7f m; printed 9.4640°, 0.086167 m", heel, draft)
	}
}
