package scenarios

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"math"
	"strconv"
	"testing"

	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
)

// The three rules by which a stern on end is designed (issue 6), from the scenario's own numbers and the table of offsets, by hand,
// against the run.

// handSections are areas, heights of the middle and girths (deck included) of the sections of a table of offsets, by straight lines
// between its points. Lengths in m.
type handSections struct{ x, area, middle, girth []float64 }

func readSections(t *testing.T) *handSections {
	t.Helper()
	folder, _, err := OpenDemo("parting")
	if err != nil {
		t.Fatal(err)
	}
	file, err := fs.ReadFile(folder, "parting.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	h := &handSections{}
	var section [][2]float64 // z, y
	var last float64
	for _, row := range rows[1:] {
		var v [3]float64
		for k := range v {
			if v[k], err = strconv.ParseFloat(row[k], 64); err != nil {
				t.Fatal(err)
			}
			v[k] /= 1000
		}
		if v[0] != last {
			h.add(last, section)
			section = nil
		}
		section, last = append(section, [2]float64{v[1], v[2]}), v[0]
	}
	h.add(last, section)
	return h
}

// add puts a station down.
func (h *handSections) add(x float64, points [][2]float64) {
	var area, moment float64
	girth := 2 * (points[0][1] + points[len(points)-1][1]) // a flat bottom, and the deck
	for k := 1; k < len(points); k++ {
		a, b := points[k-1], points[k]
		dz := b[0] - a[0]
		area += dz * (a[1] + b[1])
		moment += dz * (a[1]*(2*a[0]+b[0]) + b[1]*(a[0]+2*b[0])) / 3
		girth += 2 * math.Hypot(dz, b[1]-a[1])
	}
	h.x, h.area, h.middle, h.girth = append(h.x, x), append(h.area, area), append(h.middle, moment/area), append(h.girth, girth)
}

// at is one of the lists at x, straight between the stations.
func (h *handSections) at(list []float64, x float64) float64 {
	for k := 1; k < len(h.x); k++ {
		if x <= h.x[k] {
			return list[k-1] + (x-h.x[k-1])/(h.x[k]-h.x[k-1])*(list[k]-list[k-1])
		}
	}
	return math.NaN()
}

// skinAbaft is the skin from the after end, which is closed, to x: its area, and the first moment of that along the keel.
func (h *handSections) skinAbaft(x float64) (area, moment float64) {
	const parts = 200
	area = h.area[0]
	for k := range parts {
		at := x * (float64(k) + 0.5) / parts
		area += h.at(h.girth, at) * x / parts
		moment += h.at(h.girth, at) * at * x / parts
	}
	return area, moment
}

// partingLoad is the stern of the demo as it hangs: her masses, kg, and their middles, m.
type partingLoad struct {
	h                     *handSections
	rho                   float64
	lead, houses          float64
	shell, shellX, shellZ float64
}

// The houses of 250 g are shared by length, 200 mm of 240 mm; the shell is what is left of the stern's mass.
func newPartingLoad(t *testing.T, p *partingRun) *partingLoad {
	t.Helper()
	l := &partingLoad{h: readSections(t), rho: p.vessel.Water.Density, lead: 2.2, houses: 0.25 * 200 / 240}
	stern := p.vessel.FloatTest()[1]
	if stern.Name != "stern" {
		t.Fatalf("%s", stern.Name)
	}
	l.shell = stern.Mass - l.lead - l.houses
	l.shellX = (stern.Mass*stern.Centre.X - l.lead*0.275 - l.houses*0.4) / l.shell
	l.shellZ = (stern.Mass*stern.Centre.Z - l.lead*0.036 - l.houses*0.14) / l.shell
	return l
}

// inWater is what the stern weighs in water, kg, and the middle of that, m, when the sea stands at x along the keel: her masses less
// what of their solids is under it. Of the shell abaft x nothing is.
func (l *partingLoad) inWater(x float64) (m, xG, zG float64) {
	lead := l.lead * (1 - l.rho/11340)
	aft, aftMoment := l.h.skinAbaft(x)
	const thickness = 1.5e-3
	dry := 1050 * thickness * aft
	dryX := aftMoment / aft
	wet := l.shell - dry
	buoyed := wet * l.rho / 1050
	wetX := (l.shell*l.shellX - dry*dryX) / wet
	m = lead + l.houses + l.shell - buoyed
	xG = (lead*0.275 + l.houses*0.4 + l.shell*l.shellX - buoyed*wetX) / m
	return m, xG, (lead*0.036 + l.houses*0.14 + (l.shell-buoyed)*l.shellZ) / m
}

// slab is the slab of air that carries her in a sample: the middle of it along the keel and over the keel line, and its thickness
// along the vertical.
type slabByHand struct{ x, z, thick, m, xG, zG float64 }

func (l *partingLoad) slab(b *flood.BodySample) (s slabByHand) {
	sin, cos := math.Sin(b.Trim), math.Cos(b.Trim)
	keel := -b.DraftAft / sin // where the sea stands at the keel line
	s.x = keel
	for range 20 {
		s.z = l.h.at(l.h.middle, s.x)
		sea := keel + s.z*cos/sin
		s.m, s.xG, s.zG = l.inWater(sea)
		inside := l.h.at(l.h.area, s.x) - 1.5e-3*l.h.at(l.h.girth, s.x) // within the plates
		s.thick = s.m / (l.rho * inside / sin)
		s.x = sea + s.thick/2/sin
	}
	return s
}

func TestPartingByHand(t *testing.T) {
	p := partingWith(t, "")
	l := newPartingLoad(t, p)
	t.Run("slab and levers", func(t *testing.T) { slabAndLevers(t, p, l) })
	t.Run("hang", func(t *testing.T) { hangRule(t, p, l) })
	t.Run("bending", func(t *testing.T) { bendsToTheParting(t, p) })
}

// The slab rule, p = ρgt with t = m/(ρA), against the air's own pressure: within 3 %. By hand the section is taken at the slab's
// middle and straight between stations, and the skin as girth × length, which leaves out the slope of the lines. The lever rule,
// tan(90° − angle) = (z_c − z_G)/(x_G − x_slab), against the angle: within 1°: its slab is a slice square to the keel about the section's
// own middle, the real one is level and tapers. (2.3 % and 0.7° when this was written.)
func slabAndLevers(t *testing.T, p *partingRun, l *partingLoad) {
	from, to := p.stands(t).Time+5, p.result.Sections[0].Foundered-5
	seen, worstSlab, worstAngle := 0, 0.0, 0.0
	for i := range p.samples {
		q := &p.samples[i]
		b, ok := bodyIn(q, "stern")
		if !ok || q.Time < from || q.Time > to {
			continue
		}
		s := l.slab(&b)
		slabOff := spaceIn(t, q, "poop").Air/(l.rho*hydro.Gravity*s.thick) - 1
		angleOff := b.Trim*180/math.Pi - (90 - math.Atan((s.z-s.zG)/(s.xG-s.x))*180/math.Pi)
		if seen%20 == 0 {
			t.Logf("%.1f s: slab %.1f mm thick at %.1f mm, z %.1f, G %.1f, %.1f mm, %.3f kg: pressure off by %.2f %%; angle %.2f°, off by %.2f°",
				q.Time, s.thick*1e3, s.x*1e3, s.z*1e3, s.xG*1e3, s.zG*1e3, s.m, 100*slabOff, b.Trim*180/math.Pi, angleOff)
		}
		seen++
		worstSlab, worstAngle = math.Max(worstSlab, math.Abs(slabOff)), math.Max(worstAngle, math.Abs(angleOff))
	}
	if seen < 50 || !(worstSlab < 0.03) || !(worstAngle < 1) {
		t.Errorf("%d samples: the slab rule is off by up to %.2f %%, the lever rule by up to %.2f°", seen, 100*worstSlab, worstAngle)
	}
}

// The hang rule: (V_air − m/ρ)/Q with Q = C_d A √(2ρgt/ρ_air), V_air the air aboard as she passes 75°. The section narrows towards the
// stern, so that the slab thickens and the pressure grows by a third while she hangs: Q is taken at the mean of its ends. Within 5 %:
// the pressure grows faster at the end than evenly, and what creeps through the plate takes a few hundredths of it (3 % when this was
// written).
func hangRule(t *testing.T, p *partingRun, l *partingLoad) {
	m := l.lead*(1-l.rho/11340) + l.houses + l.shell*(1-l.rho/1050) // as the last of her goes under
	start, end := p.stands(t), &p.samples[len(p.samples)-1]
	var poop float64
	for _, s := range p.vessel.Spaces {
		if s.Name == "poop" {
			poop = s.Capacity()
		}
	}
	pressure := func(s *flood.Sample) float64 { return spaceIn(t, s, "poop").Air }
	settled := pressure(start)
	for i := range p.samples { // the first pressure once she stands still: as she rears the water lags
		if p.samples[i].Time > start.Time+3 {
			settled = pressure(&p.samples[i])
			break
		}
	}
	const cd, d = 0.81, 0.8e-3 // the contract's, for a length of 1.9 diameters
	air := p.vessel.Air.Density
	q := cd * math.Pi / 4 * d * d * (math.Sqrt(2*settled/air) + math.Sqrt(2*pressure(end)/air)) / 2
	want := (poop - spaceIn(t, start, "poop").Water - m/l.rho) / q
	got := p.result.Sections[0].Foundered - start.Time
	t.Logf("she hangs for %.1f s, by the rule %.1f s", got, want)
	if !(math.Abs(got/want-1) < 0.05) {
		t.Errorf("she hangs for %.1f s, by the rule %.1f s", got, want)
	}
}
