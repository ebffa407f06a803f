package validation

import (
	"math"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// turned is a solid of revolution about the z axis, from radii at heights, the first and last on the axis.
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
func bowl(r, tall float64, rings int) (p [][2]float64) {
	for i := range rings + 1 {
		s, c := math.Sincos(math.Pi / 2 * float64(i) / float64(rings))
		p = append(p, [2]float64{r * s, r - r*c})
	}
	if tall > 0 {
		p = append(p, [2]float64{r, r + tall})
	}
	return append(p, [2]float64{0, r + tall})
}

// drum is an upright cylinder on z = 0.
func drum(r, height float64) [][3]r3.Vec {
	return turned([][2]float64{{0, 0}, {r, 0}, {r, height}, {0, height}}, corners)
}

// sphere stands on z = 0.
func sphere(r float64, rings int) [][3]r3.Vec {
	var p [][2]float64
	for i := range rings + 1 {
		s, c := math.Sincos(math.Pi * float64(i) / float64(rings))
		p = append(p, [2]float64{r * s, r - r*c})
	}
	p[0][0], p[rings][0] = 0, 0
	return turned(p, 2*rings)
}

// corners is how many a circle has.
const corners = 240

// prism is a prism along x from 0 over a convex loop of (y, z), counterclockwise from y to z.
func prism(loop [][2]float64, length float64) (m [][3]r3.Vec) {
	at := func(i int, x float64) r3.Vec { p := loop[i%len(loop)]; return r3.Vec{X: x, Y: p[0], Z: p[1]} }
	var middle r3.Vec
	for i := range loop {
		middle = r3.Add(middle, r3.Scale(1/float64(len(loop)), at(i, 0)))
	}
	far := r3.Add(middle, r3.Vec{X: length})
	for i := range loop {
		a, b, c, d := at(i, 0), at(i+1, 0), at(i, length), at(i+1, length)
		m = append(m, [3]r3.Vec{middle, b, a}, [3]r3.Vec{far, c, d}, [3]r3.Vec{a, b, d}, [3]r3.Vec{a, d, c})
	}
	return m
}

// ring is a circle about (0, z).
func ring(r, z float64, n int) (loop [][2]float64) {
	for k := range n {
		s, c := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(n))
		loop = append(loop, [2]float64{r * c, z + r*s})
	}
	return loop
}

// solid3 is the solid of triangles.
func solid3(form [][3]r3.Vec) *solid.Solid {
	tris := make([]solid.Triangle, len(form))
	for i, t := range form {
		tris[i] = t
	}
	return must(solid.New(tris))
}

// wet is what of a form is under the level z = d.
func wet(s *solid.Solid, d float64) solid.Below { return s.Below(solid.Plane{N: r3.Vec{Z: 1}, D: d}) }

// drafts are drafts over a size, of a form of such relative densities, its weight low enough to keep it upright.
func drafts(form [][3]r3.Vec, size, height float64, densities ...float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		body := solid3(form)
		at := r3.Vec{X: body.Centroid().X, Z: height}
		return each(func(s float64) float64 {
			p, _ := l.rest(loaded(meshed(form), 1000*s*body.Volume(), at))
			return p.Sea / p.Up.Z / size
		}, densities...)
	}
}

// wigleyNumbers are Cb, Cwp, Cm, KB/T, BM T/B² and BM_L T/L².
func wigleyNumbers(*laws) []float64 {
	const l, b, d = 1.2, 0.18, 0.075
	s := solid.Wigley(l, b, d, 0.11, 160, 72)
	w := wet(s, d)
	mid := s.Section(solid.Plane{N: r3.Vec{X: 1}, D: l / 2})
	area, above := mid.Area(), b*(0.11-d)
	return []float64{w.Volume / (l * b * d), w.Area / (l * b), (math.Abs(area) - above) / (b * d), w.Moment.Z / w.Volume / d,
		w.AreaSecond.YY / w.Volume * d / (b * b), (w.AreaSecond.XX - w.Area*l*l/4) / w.Volume * d / (l * l)}
}

// wigleySkin is the wetted surface over L², L/B 10, B/T 1.6.
func wigleySkin(*laws) []float64 {
	s := solid.Wigley(1, 0.1, 0.0625, 0.0625, 160, 72)
	deck := wet(s, 0.0625*(1-1e-9)).Area
	return []float64{s.Surface() - deck}
}

// halfCylinder is a half cylinder afloat to its axis: KM/R and the depth of B over R.
func halfCylinder(l *laws) []float64 {
	const r = 0.1
	loop := [][2]float64{}
	for k := range corners + 1 {
		s, c := math.Sincos(math.Pi * float64(k) / corners)
		loop = append(loop, [2]float64{-r * c, r - r*s})
	}
	loop = append(loop, [2]float64{r, 1.5 * r}, [2]float64{-r, 1.5 * r})
	form := prism(loop, 1)
	s := solid3(form)
	under := wet(s, r)
	_, gm := l.rest(loaded(meshed(form), 1000*under.Volume, r3.Vec{X: 0.5, Z: 0.6 * r}))
	return []float64{(gm + 0.6*r) / r, 1 - under.Moment.Z/under.Volume/r}
}

// wedge is a V section of a half angle afloat at a draft: BM, and KB over the draft.
func wedge(l *laws) []float64 {
	const d, kg = 0.06, 0.03
	half := 0.1 * math.Tan(40*degree)
	form := prism([][2]float64{{0, 0}, {half, 0.1}, {-half, 0.1}}, 1)
	s := solid3(form)
	under := wet(s, d)
	kb := under.Moment.Z / under.Volume
	_, gm := l.rest(loaded(meshed(form), 1000*under.Volume, r3.Vec{X: 0.5, Z: kg}))
	return []float64{gm + kg - kb, kb / d}
}

// coneGM are the metacentric heights, over the height, of homogeneous cones of half angles at which they are to be just stable.
func coneGM(l *laws) (out []float64) {
	for _, c := range [][2]float64{{0.2, 40.118}, {0.5, 27.014}, {0.8, 15.530}} {
		form := turned([][2]float64{{0, 0}, {math.Tan(c[1] * degree), 1}, {0, 1}}, corners)
		s := solid3(form)
		out = append(out, l.gm(form, 1000, 1000*c[0]*s.Volume(), 0.3, s.Centroid().Z))
	}
	return out
}

const (
	chords   = "the circle has 240 corners: 1e-4"
	facetted = "the hull has 160 × 72 facets a side: 1e-4 of the volume"
)

var geometryChecks = []check{
	{"ST-44", "round log on its side, draft/D at relative density 0.25, 0.5, 0.75", "segment's area", closed, "0.298014 / 0.5 / 0.701986", "", plain(2e-4), chords,
		drafts(prism(ring(0.1, 0.1, corners), 1), 0.2, 0.05, 0.25, 0.5, 0.75)},
	{"ST-45", "sphere, draft/D at relative density 0.25, 0.5, 0.6, 0.75", "h²(3 − 2h) = s", closed, "0.326352 / 0.5 / 0.567069 / 0.673648", "", plain(4e-4), "the sphere has 60 rings of 120 facets",
		drafts(sphere(0.1, 60), 0.2, 0.05, 0.25, 0.5, 0.6, 0.75)},
	{"ST-46", "half cylinder afloat to its axis, KM/R and B's depth/R", "4/(3π)", closed, printf("%.6f", 1, 4/(3*math.Pi)), "", plain(1e-4), chords, halfCylinder},
	{"ST-47", "V section, half angle 40°, draft 60 mm: BM = ⅔ d tan²α, and KB/d", "classical", closed, "0.028164 / 0.666667", "m; -", plain(6e-7), toPrint, wedge},
	{"ST-48", "Wigley's hull: C_b, C_wp, C_m, KB/T, BM·T/B², BM_L·T/L²", "Wigley 1942; Journée, DUT report 909 (1992)", computed, printf("%.6f", 4./9, 2./3, 2./3, 5./8, 3./35, 3./40), "", share(4e-4), facetted, wigleyNumbers},
	{"ST-49", "the same, L/B 10, B/T 1.6: wetted surface over L²", "tables of hydrodynamics workshops", computed, "0.14879", "", plain(2e-5), "the last digit printed and the facets", wigleySkin},
	{"ST-43", "cones, apex down, of 40.118°, 27.014°, 15.530° half angle and relative density 0.2, 0.5, 0.8: GM over the height", "tan²α = s^(−1/3) − 1", closed, "0 / 0 / 0", "", plain(3e-4), chords, coneGM},
	{"ST-06", "box of 24 × 6 m, 150 t, water of 1.025: draft", "Stability problems, set no. 1 (scribd 199299155)", read, "1.016", "m", printed(3), toPrint, boxDraft(10, 24, 6, 3, 150, 1025)},
	{"ST-07", "box drawing 7.5 m in water of 1.006, in 1.025", "Stability problems, set no. 3", read, "7.361", "m", printed(3), toPrint, boxDraft(100, 100, 20, 12, 1006e-6*100*20*7.5, 1025)},
	{"ST-08", "205 t added at 20 t/cm and draft 6 m: draft", "Derrett & Barrass, Ship Stability, 5th ed., p. 210", read, "6.1025", "m", printed(4), toPrint,
		boxDraft(100, 2000/1.025/20, 20, 12, (6*2000+205)*1e-3, 1025)},
	{"ST-21", "pontoon of 12 × 6 m drawing 1.5 m in fresh water, at sea; with 353.16 kN more in fresh water: drafts", "Douglas et al., Fluid Mechanics, ex. 3.5, " + tri, read, "1.4634 / 2.0000", "m", printed(4), toPrint,
		func(l *laws) []float64 {
			return append(boxDraft(10, 12, 6, 2.5, 108, 1025)(l), boxDraft(10, 12, 6, 2.5, 108+353.16/9.81, 1000)(l)...)
		}},
}

// boxDraft is the draft of a box of a source's size built at 1:scale, with a mass in kg at that scale.
func boxDraft(scale, length, breadth, depth, mass, density float64) func(*laws) []float64 {
	return func(l *laws) []float64 {
		s := boxed(length/scale, breadth/scale, depth/scale, mass, 0, 0.2*depth/scale)
		s.Water.Density = &density
		return []float64{scale * l.float(s).DraftAft}
	}
}
