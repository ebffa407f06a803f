package compartment

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Worked examples of textbooks for box-shaped hulls and the like; numbers and sources are those of references.md, group ST.
// A tolerance is half of the last digit printed, unless a line says why it is another.

// boxShip is a box afloat with an upright rest: sizes in m, mass in t, water in t/m³.
func boxShip(t *testing.T, length, breadth, depth, mass, water, kg float64) *Floater {
	t.Helper()
	f := load(prism(t, length, rectangle(breadth, depth)), 1000*mass, r3.Vec{X: length / 2, Z: kg})
	f.Density = 1000 * water
	return f
}

// draft is that at rest, on an even keel.
func (f *Floater) restingDraft(t *testing.T) float64 {
	t.Helper()
	rest := f.Settle(f.uprightPose(t), nil, FallStride, nil)
	fore, aft := f.Body.Drafts(rest.Pose)
	near(t, "drafts at the ends", fore, aft, 1e-9)
	return (fore + aft) / 2
}

// uprightGM is the transverse metacentric height upright.
func (f *Floater) uprightGM(t *testing.T) float64 {
	t.Helper()
	var b Balance
	f.Balance(f.uprightPose(t), nil, &b)
	gm, _ := f.Metacentric(&b)
	return gm
}

func TestTextbookDrafts(t *testing.T) {
	// ST-06, stability problems, set no. 1: 24 × 6 m, 150 t, 1.025
	near(t, "ST-06", boxShip(t, 24, 6, 3, 150, 1.025, 0.5).restingDraft(t), 1.016, 5e-4)
	// ST-07, the same, set no. 3: 7.5 m at 1.006, in 1.025
	near(t, "ST-07", boxShip(t, 100, 20, 12, 7.5*100*20*1.006, 1.025, 5).restingDraft(t), 7.361, 5e-4)
	// ST-08, Derrett & Barrass, Ship Stability 5th ed. p. 210: TPC 20, d 6, 205 t; the waterplane is that of TPC
	const area = 20 * 100 / 1.025
	near(t, "ST-08", boxShip(t, area/20, 20, 12, 6*area*1.025+205, 1.025, 5).restingDraft(t), 6.1025, 5e-5)
	// ST-21, Douglas, Fluid Mechanics ex. 3.5: 12 × 6 m at 1.5 m in fresh water, in sea water of 1.025; loaded to 2 m there
	pontoon := boxShip(t, 12, 6, 4, 108, 1.025, 1)
	near(t, "ST-21", pontoon.restingDraft(t), 1.4634, 5e-5)
	near(t, "ST-21, weight in kN", pontoon.Mass*9.81/1000, 1059.48, 5e-3) // g = 9.81 there
	near(t, "ST-21, loaded to 2 m in fresh water", boxShip(t, 12, 6, 4, 108+353.16/9.81, 1, 1).restingDraft(t), 2, 5e-5)
}

func TestTextbookGM(t *testing.T) {
	const foot = 0.3048
	// ST-14, Derrett & Barrass p. 130 ex. 2: KB 2, BM 3, GM 1; GZ by GM·sinθ 0.0872 at 5°, wall-sided 0.5605 at 25°
	f := boxShip(t, 65, 12, 8, 65*12*4*1.025, 1.025, 4)
	near(t, "ST-14, GM", f.uprightGM(t), 1, 1e-12)
	near(t, "ST-14, W", f.Mass/1000, 3198, 0.5)
	arms := f.RightingArms(f.uprightPose(t), nil)
	near(t, "ST-14, 25°", arms.Arm[armSteps+10], 0.5605, 5e-5)
	// the source leaves ½BM·tan²θ·sinθ out, 1.0 mm at 5°
	near(t, "ST-14, 5°", arms.Arm[armSteps+2]-1.5*math.Pow(math.Tan(5*degree), 2)*math.Sin(5*degree), 0.0872, 5e-5)
	// ST-13, p. 130 ex. 1: 6000 t, KB 3, KM 6, KG 5.5, GZ at 25°
	b := 6 * math.Sqrt(6)
	f = boxShip(t, 6000/(6*b), b, 12, 6000, 1, 5.5)
	near(t, "ST-13", f.RightingArms(f.uprightPose(t), nil).Arm[armSteps+10], 0.35, 5e-3)
	// ST-23, Das, Fluid Mechanics ex. 4.6: 4 × 2 × 1 m at 0.6 m
	near(t, "ST-23", boxShip(t, 4, 2, 1, 4.8, 1, 0.5).uprightGM(t), 0.3556, 5e-5)
	// ST-34, Pao, Fluid Mechanics ex. 2.8: 40 × 16 × 8 ft at 6 ft, G in the middle
	near(t, "ST-34", boxShip(t, 40*foot, 16*foot, 8*foot, 40*16*6*foot*foot*foot, 1, 4*foot).uprightGM(t)/foot, 2.556, 5e-4)
}

// TestTextbookShift: ST-32, Dighe ex. 2.10: a pontoon of 91 × 30 × 6 ft at 4 ft in water of 64 lb/ft³; 60 tons with their
// centre 7 ft above the bottom, the rest at 3 ft; shifted by 4.63 ft they heel it by 3°; GM 16.98 ft.
func TestTextbookShift(t *testing.T) {
	const ton, total = 2240.0, 91 * 30 * 4 * 64.0 // lb
	kg := (60*ton*7 + (total-60*ton)*3) / total
	f := boxShip(t, 91, 30, 6, total/1000, 0.064, kg) // feet and pounds do as metres and kilograms
	near(t, "ST-32, GM", f.uprightGM(t), 16.98, 5e-3)
	f.Reload(f.Mass, r3.Vec{X: f.Centre.X, Y: -60 * ton * 4.63 / total, Z: kg})
	heel := f.Settle(f.uprightPose(t), nil, FallStride, nil).Pose.Heel()
	// 4.63 is rounded, 0.1 %, and the source leaves out ½BM·tan²θ, 0.15 % of GM
	near(t, "ST-32, heel", heel/degree, 3, 3*0.0026)
}

// TestTextbookInclining: w·d = W·GM·tanθ, exactly so for a round section whose metacentre is its axis. ST-28: Sarkar, Fluid
// Mechanics ex. 2.14; ST-29: Lewitt, Hydraulics ex. 2.2; ST-30: Dighe ex. 2.7.
func TestTextbookInclining(t *testing.T) {
	for _, c := range []struct {
		name                     string
		weight, moved, far, tan  float64
		gm, printed, polygonSize float64
	}{
		{"ST-28", 16000, 160, 6, math.Tan(3 * degree), 1.1449, 5e-5, 12},
		{"ST-29", 3000, 15, 30, 1. / 30, 4.5, 0.05, 40},
		{"ST-30", 2000, 15, 24, 3. / 60, 3.6, 0.05, 40},
	} {
		body := prism(t, 100, polygon(c.polygonSize, 240))
		f := afloat(body, 0.5, c.polygonSize-c.gm)
		f.Reload(f.Mass, r3.Vec{X: f.Centre.X, Y: -c.moved / c.weight * c.far, Z: f.Centre.Z})
		heel := f.Settle(f.uprightPose(t), nil, FallStride, nil).Pose.Heel()
		// a polygon of n corners moves the metacentre by up to the order of R/n²; the printed digits do as for GM
		within := (c.printed/c.gm + c.polygonSize/240/240/c.gm) * c.tan
		near(t, c.name, math.Tan(heel), c.tan, within)
	}
}

// TestTextbookLoll: ST-16, Derrett & Barrass p. 231, log with 2GM −0.55 and BM 0.625: 43° 10′; ST-52, box B 0.2, d 0.08, KG
// 0.085: 21.8014°; ST-55, Tupper, Introduction to Naval Architecture p. 62, GM −0.08, BM 5: 10.14°; ST-56, zero GM and 2 t
// shifted by 12 m: 5.58°.
func TestTextbookLoll(t *testing.T) {
	for _, c := range []struct {
		name                          string
		breadth, draft, kg, off, want float64
		within                        float64
	}{
		{"ST-16", math.Sqrt(7.5 * 3), 3, 1.5 + 0.625 + 0.275, 0, 43 + 10./60, 0.5 / 60},
		{"ST-52", 0.2, 0.08, 0.085, 0, 21.8014, 5e-5},
		{"ST-55", math.Sqrt(60 * 5), 5, 2.5 + 5 + 0.08, 0, 10.14, 5e-3},
		{"ST-56", math.Sqrt(12 * 7.6 * 4.2), 7.6, 8, 2 * 12 / 12250., 5.58, 5e-3},
	} {
		f := afloat(prism(t, 10*c.breadth, rectangle(c.breadth, 4*c.draft)), 0.25, c.kg)
		f.Reload(f.Mass, r3.Vec{X: f.Centre.X, Y: -c.off, Z: f.Centre.Z})
		heel := f.Settle(f.uprightPose(t), nil, FallStride, nil).Pose.Heel()
		near(t, c.name, heel/degree, c.want, c.within)
	}
}

// TestTextbookFreeSurface: ST-19, Derrett & Barrass p. 195: a tank of 10 × 6 m in n parts side by side, 1.025, 1000 t: the
// loss of GM is 0.1845, 0.0461, 0.0205 m, the first over n². Here at a tenth of the size: 1 × 0.6 m in a box of 1 t. The loss
// is taken of righting arms at a thousandth of a radian, the water free and the water frozen.
func TestTextbookFreeSurface(t *testing.T) {
	for n, loss := range map[int]float64{1: 0.01845, 2: 0.00461, 3: 0.00205} {
		arm := func(free bool) float64 {
			v := mustBuild(t, tanked(n, free))
			f := NewFloater(v.Whole, v.Water.Density, false)
			rest, water := f.Start()
			in := inclination{f: f, water: water, trim: rest.Pose.Trim(), sea: rest.Pose.Sea}
			arm, ok := in.Arm(1e-3)
			if !ok {
				t.Fatal("no rest at that heel")
			}
			return arm
		}
		near(t, "ST-19", (arm(false)-arm(true))/math.Sin(1e-3), loss, 6e-6)
	}
}

// TestTextbookTankPumpedOut: ST-18, Derrett & Barrass p. 195 ex. 1 (its inputs; the answer computed by a second hand, the
// page not read): 8153.75 t, KM 8, KG 7.5, a full tank of 15 × 10 × 2 m on the keel pumped out to half: GM 0.2245 m. Here at
// a tenth of the size, in a box whose KM is 0.8 m after the pumping.
func TestTextbookTankPumpedOut(t *testing.T) {
	const breadth, mass, water = 1.8, 8000.0, 0.3 * 1025
	draft := (1.6 - math.Sqrt(1.6*1.6-4*2*breadth*breadth/12)) / 2 // T/2 + B²/(12 T) = 0.8
	dry := mass - water/2
	at := mass / 1025 / breadth / draft / 2
	spec := Spec{
		Water: WaterSpec{Kind: Sea, Temperature: 288.15, Density: ptr(1025.0)},
		Hull:  HullSpec{Box: &BoxSpec{Length: 2 * at, Breadth: breadth, Depth: 1.5}},
		Compartments: []CompartmentSpec{{Name: "hold"}, {Name: "tank", Starts: &StartSpec{Share: ptr(0.5)},
			X: &[2]float64{at - 0.75, at + 0.75}, Y: &[2]float64{-0.5, 0.5}, Z: &[2]float64{0, 0.2}}},
	}
	spec.Weights = []WeightSpec{{Name: "ship", Mass: dry, At: r3.Vec{X: at, Z: ((dry+water)*0.75 - water*0.1) / dry}}}
	near(t, "ST-18", mustBuild(t, spec).FloatTest()[0].GMUpright, 0.02245, 5e-6)
}

// tanked is a box of 1 t with tanks half full of water in the middle: n of them side by side, or their water as weights.
func tanked(n int, free bool) Spec {
	s := Spec{
		Water: WaterSpec{Kind: Fresh, Temperature: 288.15, Density: ptr(1025.0)},
		Hull:  HullSpec{Box: &BoxSpec{Length: 2, Breadth: 1.2, Depth: 0.9}},
	}
	s.Compartments = []CompartmentSpec{{Name: "hold"}}
	water := 1.0 * 0.6 * 0.2
	s.Weights = []WeightSpec{{Name: "hull-and-all", Mass: 1000 - 1025*water, At: r3.Vec{X: 1, Z: 0.3}}}
	for k := range n {
		b := 0.6 / float64(n)
		lo := -0.3 + b*float64(k)
		tank := CompartmentSpec{Name: string(rune('a' + k)), X: &[2]float64{0.5, 1.5}, Y: &[2]float64{lo, lo + b}, Z: &[2]float64{0, 0.4}}
		if free {
			tank.Starts = &StartSpec{Share: ptr(0.5)}
		} else {
			s.Weights = append(s.Weights, WeightSpec{Name: "ice-" + tank.Name, Mass: 1025 * water / float64(n), At: r3.Vec{X: 1, Y: lo + b/2, Z: 0.1}})
		}
		s.Compartments = append(s.Compartments, tank)
	}
	return s
}
