package compartment

import (
	"math"
	"slices"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

func bulkheadAt(h HullSpec, at ...float64) Spec {
	s := Spec{Water: WaterSpec{Kind: Fresh, Temperature: 288.15}, Hull: h, Weights: []WeightSpec{{Name: "load", Mass: 0.1, At: r3.Vec{X: 0.5, Z: 0.02}}}}
	s.Compartments = []CompartmentSpec{{Name: "S0"}}
	for i, x := range at {
		s.Bulkheads = append(s.Bulkheads, BulkheadSpec{Name: "B" + string(rune('1'+i)), At: x})
		s.Compartments = append(s.Compartments, CompartmentSpec{Name: "S" + string(rune('1'+i))})
	}
	return s
}

func mustPlates(t testing.TB, s Spec, shell float64) []*Plate {
	t.Helper()
	plates, err := mustBuild(t, s).Plates(shell)
	if err != nil {
		t.Fatal(err)
	}
	return plates
}

// erodedArea is the area of what, in the plane x = at, is seen from a place along straight lines and lies at least t from a
// solid's skin, by distances in space: another way than the outline's. The end of each of many rays is found by halving.
func erodedArea(form *solid.Solid, at, t, y, z float64) (area float64) {
	const rays, far = 360, 1.0
	for k := range rays {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / rays)
		inside, outside := 0.0, far
		for step := 0.004; inside+step < outside; { // the first end, not any
			x := r3.Vec{X: at, Y: y + (inside+step)*cos, Z: z + (inside+step)*sin}
			on, normal, d := form.Nearest(x)
			if d >= t && r3.Dot(r3.Sub(x, on), normal) < 0 {
				inside += step
			} else {
				outside, step = inside+step, step/2
			}
			if outside-inside < 1e-7 {
				break
			}
			step = min(step, (outside-inside)/2)
		}
		area += inside * inside * math.Pi / rays
	}
	return area
}

// The plate of a hull with plates of no thickness is the section of the solid itself.
func TestPlateOfABareHullIsItsSection(t *testing.T) {
	for name, h := range map[string]HullSpec{
		"table": {Offsets: ship()}, "wigley": {Wigley: &WigleySpec{1, 0.15, 0.06, 0.1}}, "box": {Box: &BoxSpec{1, 0.2, 0.15}},
	} {
		for _, p := range mustPlates(t, bulkheadAt(h, 0.33, 0.93), 0) {
			near(t, name+" "+p.Name+" by the solid's integral", p.Area/p.HullArea, 1, 1e-5)
			if len(p.Notes) > 0 {
				t.Errorf("%s %s: %v", name, p.Name, p.Notes)
			}
		}
	}
}

// Closed forms: a rectangle loses its thickness all round; and of the steel square's section, in which one corner points
// inward, the plate is A − t P + 5 t² − (π/4) t² (Steiner's formula for parallel curves, corner by corner).
func TestPlateWithinAShell(t *testing.T) {
	const shell = 0.002
	p := mustPlates(t, bulkheadAt(HullSpec{Box: &BoxSpec{1, 0.2, 0.15}}, 0.5), shell)[0]
	near(t, "rectangle", p.Area, (0.2-2*shell)*(0.15-2*shell), 1e-9)

	square := []StationPoint{{0, 0}, {0, 0.1}, {0.04, 0.1}, {0.04, 0.03}, {0.12, 0.03}, {0.12, 0}}
	h := HullSpec{Offsets: &OffsetsSpec{Stations: []Station{{0, square}, {1, square}}}}
	p = mustPlates(t, bulkheadAt(h, 0.5), shell)[0]
	area, girth := 0.1*0.04+0.08*0.03, 2*(0.1+0.12)
	near(t, "steel square", p.Area, area-shell*girth+(5-math.Pi/4)*shell*shell, 1e-8)
}

// Of a hull whose skin leans every way the plate is what lies a shell's thickness from it, measured in space.
func TestPlateIsAShellsThicknessFromTheSkin(t *testing.T) {
	const shell = 0.0016
	for name, h := range map[string]HullSpec{"table": {Offsets: ship()}, "wigley": {Wigley: &WigleySpec{1, 0.15, 0.06, 0.1}}} {
		s := bulkheadAt(h, 0.2, 0.8)
		form := mustBuild(t, s).Whole.Form
		for _, p := range mustPlates(t, s, shell) {
			want := erodedArea(form, p.At, shell, 0, 0.07)
			t.Logf("%s at %g: %.8f m2 by the outline, %.8f by distances, %.4f %%", name, p.At, p.Area, want, 100*(p.Area/want-1))
			near(t, name+" "+p.Name, p.Area/want, 1, 1e-3) // the tolerance
		}
	}
}

// A section with a waist narrower than two shells falls into two parts, and one that is narrower all over leaves nothing.
func TestPlateComesApartAtAWaist(t *testing.T) {
	waist := []StationPoint{{0, -0.05}, {0, 0.05}, {0.04, 0.05}, {0.045, 0.001}, {0.055, 0.001}, {0.06, 0.05}, {0.1, 0.05}, {0.1, -0.05},
		{0.06, -0.05}, {0.055, -0.001}, {0.045, -0.001}, {0.04, -0.05}}
	h := HullSpec{Offsets: &OffsetsSpec{Stations: []Station{{0, waist}, {1, waist}}}}
	p := mustPlates(t, bulkheadAt(h, 0.5), 0.002)[0]
	if len(p.Cut) != 2 || !slices.Contains(p.Notes, "it is in 2 parts") {
		t.Errorf("%d loops, %v", len(p.Cut), p.Notes)
	}
	form := mustBuild(t, bulkheadAt(h, 0.5)).Whole.Form
	near(t, "both parts", p.Area, 2*erodedArea(form, 0.5, 0.002, 0, 0.02), 1e-3*p.Area)
	p = mustPlates(t, bulkheadAt(h, 0.5), 0.06)[0]
	if len(p.Cut) != 0 || p.Area != 0 || !slices.Contains(p.Notes, "nothing of it is left within the shell") {
		t.Errorf("area %g, %v", p.Area, p.Notes)
	}
}

// Tops, openings of every shape, one that reaches over the edge, a pump; and the walls of the barge's box: B2 loses what the
// box takes of it.
func TestPlatesOfABarge(t *testing.T) {
	s := barge()
	s.Openings = append(s.Openings,
		OpeningSpec{Name: "door", Between: [2]string{"after", "mid"}, At: r3.Vec{X: 0.3, Y: -0.03, Z: 0.07}, Door: &DoorSpec{Length: 0.03, Height: 0.05}, Wall: 0.003},
		OpeningSpec{Name: "notch", Between: [2]string{"after", "mid"}, At: r3.Vec{X: 0.3, Y: 0.05, Z: 0.002}, Hole: ptr(0.01)},
		OpeningSpec{Name: "bilge", Between: [2]string{"after", "mid"}, At: r3.Vec{X: 0.3, Y: 0.05, Z: 0.06}, Flow: ptr(1e-5)})
	const shell = 0.002
	plates := map[string]*Plate{}
	var names []string
	for _, p := range mustPlates(t, s, shell) {
		plates[p.Name], names = p, append(names, p.Name)
	}
	want := []string{"B1", "B2", "wing.after", "wing.forward", "wing.starboard", "wing.top"} // floor and port side lie in the skin
	if !slices.Equal(names, want) {
		t.Fatalf("plates %v, want %v", names, want)
	}
	b1 := plates["B1"]
	hole := math.Pi / 4 * 0.014 * 0.014
	notch := halfMoon(0.005, 0.002-shell)
	near(t, "B1", b1.Area, 0.196*0.146, 1e-9)
	near(t, "B1 less its openings", areaOfLoops(b1.Cut), 0.196*0.146-hole-0.03*0.05-notch, 2.1e-4*(hole+math.Pi*0.005*0.005)) // inscribed polygons of 180 corners
	near(t, "B1's thickness, from the door", b1.Thickness, 0.003, 0)
	if len(b1.Holes) != 4 || b1.Holes[0].Notched || !b1.Holes[2].Notched || b1.Holes[3].Loop != nil {
		t.Errorf("B1: %+v, %v", b1.Holes, b1.Notes)
	}
	near(t, "B2 up to its top, beside the box", plates["B2"].Area, 0.196*0.098-(0.098-0.04)*(0.08-shell), 1e-9)
	near(t, "end of the box", plates["wing.after"].Area, (0.098-0.04)*(0.08-shell), 1e-9)
	near(t, "side of the box", plates["wing.starboard"].Area, 0.2*(0.08-shell), 1e-9)
	near(t, "lid of the box", plates["wing.top"].Area, 0.2*(0.098-0.04), 1e-9)
	if h := plates["wing.starboard"].Holes; len(h) != 1 || h[0].Spec.Name != "valve" || h[0].Centre != (r2.Vec{X: 0.75, Y: 0.03}) {
		t.Errorf("the box's side: %+v", h)
	}
}

// halfMoon is the area of a circle's part above a level that is h over its centre.
func halfMoon(r, h float64) float64 { return r*r*math.Acos(h/r) - h*math.Sqrt(r*r-h*h) }

func areaOfLoops(loops [][]r2.Vec) (area float64) {
	for _, l := range loops {
		area += areaOfLoop(l)
	}
	return area
}

// Seen from abaft, port is to the left: a limber to port is drawn there, on a plate whose outline is not symmetric either.
func TestPlateIsSeenFromAbaft(t *testing.T) {
	s := barge()
	s.Openings = s.Openings[1:2] // the limber at y = +10 mm, z = 20 mm
	if c := mustPlates(t, s, 0)[0].Holes[0].Centre; c != (r2.Vec{X: -0.01, Y: 0.02}) {
		t.Errorf("the limber is seen at %v", c)
	}
}

// A bulkhead in a joint's plane is a plate for each piece that keeps it, with the same outline and openings.
func TestDoubledPlates(t *testing.T) {
	for keeps, want := range map[KeepKind][]string{"": {"B1.stern", "B1.bow"}, KeepBoth: {"B1.stern", "B1.bow"}, KeepAfter: {"B1"}, KeepForward: {"B1"}} {
		s := barge()
		s.Joints[0].At, s.Joints[0].Keeps = 0.3003, keeps
		var names []string
		for _, p := range mustPlates(t, s, 0.002) {
			if p.Axis == AcrossX && p.Spec != nil && p.Spec.Name == "B1" {
				names = append(names, p.Name)
				if len(p.Holes) != 1 || p.Section == "" {
					t.Errorf("%s of %q has %d openings", p.Name, p.Section, len(p.Holes))
				}
			}
		}
		if !slices.Equal(names, want) {
			t.Errorf("kept %q: %v, want %v", keeps, names, want)
		}
	}
}

// The lid of a tapering box of 15° is inset by its thickness over the cosine of the taper, and no corner comes nearer to the skin.
func TestLeaningSkinInsetsMore(t *testing.T) {
	wide := []StationPoint{{0, 0}, {0, 0.1}, {0.1, 0.1}}
	narrow := []StationPoint{{0, 0}, {0, 0.05}, {0.1, 0.05}}
	h := HullSpec{Offsets: &OffsetsSpec{Mirror: true, Stations: []Station{{0, wide}, {0.2, narrow}}}}
	p := mustPlates(t, bulkheadAt(h, 0.1), 0.002)[0]
	lean := math.Atan2(0.05, 0.2)
	near(t, "plate", p.Area, (0.15-2*0.002/math.Cos(lean))*(0.1-0.004), 1e-8)
}
