package validation

import (
	"context"
	"fmt"
	"math"

	"github.com/byhead/byhead/compartment"
	"github.com/byhead/byhead/flood"
	"github.com/byhead/byhead/hydro"
	"gonum.org/v1/gonum/spatial/r3"
)

// laws are what rows are reckoned with: the zero value is the engine as it is. Each member, where it is given, breaks one
// thing in it: the tables and laws that a caller of the engine can replace.
type laws struct {
	water    func(*hydro.Water)                                        // of the formulas
	air      func(*hydro.Air)                                          // of the formulas
	orifice  func(*hydro.Orifice)                                      // the law of every opening and edge
	spec     func(*compartment.Spec)                                   // every description before it is built
	vessel   func(*compartment.Vessel)                                 // every vessel once it is built
	settings func(*flood.Settings)                                     // every run's
	motion   *compartment.MotionFactors                                // of added mass and damping
	own      func(*compartment.Vessel, *compartment.Passage) flood.Law // a law in the place of an opening's own
}

func must[T any](x T, err error) T {
	if err != nil {
		panic(err)
	}
	return x
}

// fresh is fresh water at a temperature in °C.
func (l *laws) fresh(celsius float64) hydro.Water { return l.kelvin(celsius + 273.15) }

// kelvin is fresh water at a temperature in K.
func (l *laws) kelvin(t float64) hydro.Water {
	w := must(hydro.FreshWater(t))
	if l.water != nil {
		l.water(&w)
	}
	return w
}

// sea is sea water at a temperature in °C.
func (l *laws) sea(celsius float64) hydro.Water {
	w := must(hydro.SeaWater(celsius + 273.15))
	if l.water != nil {
		l.water(&w)
	}
	return w
}

// airAt is air of one atmosphere at a temperature in K.
func (l *laws) airAt(kelvin float64) hydro.Air {
	a := hydro.NewAir(kelvin)
	if l.air != nil {
		l.air(&a)
	}
	return a
}

// law is the law of an opening as it is used.
func (l *laws) law(o hydro.Orifice) hydro.Orifice {
	if l.orifice != nil {
		l.orifice(&o)
	}
	return o
}

// build builds a vessel.
func (l *laws) build(spec compartment.Spec) *compartment.Vessel {
	if l.spec != nil {
		l.spec(&spec)
	}
	v := must(compartment.Build(spec))
	for _, p := range v.Passages {
		p.Law = l.law(p.Law)
	}
	if l.vessel != nil {
		l.vessel(v)
	}
	return v
}

// float is the float test of a hull with all aboard.
func (l *laws) float(spec compartment.Spec) compartment.Floating {
	f := l.build(spec).FloatTest()[0]
	if !f.Floats {
		panic("it does not float")
	}
	return f
}

// rest is where a hull with all aboard comes to rest, and its GM there: of forms with many plates, for which a whole float test
// takes long.
func (l *laws) rest(spec compartment.Spec) (p compartment.Pose, gm float64) {
	v := l.build(spec)
	f := compartment.NewFloater(v.Whole, v.Water.Density, true)
	rest, water := f.Start()
	if !rest.Stable {
		panic("it does not float")
	}
	var b compartment.Balance
	f.Balance(rest.Pose, water, &b)
	gm, _ = f.Metacentric(&b)
	return rest.Pose, gm
}

// run runs a vessel to its end.
func (l *laws) run(v *compartment.Vessel, set flood.Settings) *flood.Result {
	r := must(l.start(v, set).Finish(context.Background()))
	if r.GaveUp != nil {
		panic(fmt.Sprintf("the run gave up: %+v", *r.GaveUp))
	}
	return r
}

func (l *laws) start(v *compartment.Vessel, set flood.Settings) *flood.Run {
	if l.settings != nil {
		l.settings(&set)
	}
	if l.own != nil {
		set.Laws = map[string]flood.Law{}
		for _, p := range v.Passages {
			if p.Pump == 0 {
				set.Laws[p.Name] = l.own(v, p)
			}
		}
	}
	return must(flood.Start(v, set))
}

// surround is what the sea sets against the motion of a form given by triangles, in water of 1000 kg/m³.
func (l *laws) surround(form [][3]r3.Vec) *compartment.Surround {
	return l.around(l.build(meshed(form)))
}

// inviscid is the same in water without friction.
func (l *laws) inviscid(form [][3]r3.Vec) *compartment.Surround {
	v := l.build(meshed(form))
	v.Water.Viscosity = 0
	return l.around(v)
}

func (l *laws) around(v *compartment.Vessel) *compartment.Surround {
	f := compartment.DocumentedMotion
	if l.motion != nil {
		f = *l.motion
	}
	return v.NewSurround(v.Whole, f)
}

func ptr[T any](x T) *T { return &x }

const (
	degree  = math.Pi / 180
	foot    = 0.3048
	gravity = hydro.Gravity
)

// plainWater is water of 1000 kg/m³ at 15 °C without surface tension.
func plainWater() compartment.WaterSpec {
	return compartment.WaterSpec{Kind: compartment.Fresh, Temperature: 288.15, Density: ptr(1000.0), SurfaceTension: ptr(0.0)}
}

// boxed is a box of a mass with its centre at (y, z) amidships.
func boxed(length, breadth, depth, mass, y, z float64) compartment.Spec {
	return compartment.Spec{
		Water:   plainWater(),
		Hull:    compartment.HullSpec{Box: &compartment.BoxSpec{Length: length, Breadth: breadth, Depth: depth}},
		Weights: []compartment.WeightSpec{{Name: "all", Mass: mass, At: r3.Vec{X: length / 2, Y: y, Z: z}}},
	}
}

// ship is a box of a source's size built at 1:scale, that draws d there with its centre of mass (y, kg) off the middle.
func ship(scale, length, breadth, depth, d, y, kg float64) compartment.Spec {
	k := 1 / scale
	return boxed(k*length, k*breadth, k*depth, 1000*k*k*k*length*breadth*d, k*y, k*kg)
}

// meshed is a hull given by triangles.
func meshed(form [][3]r3.Vec) compartment.Spec {
	return compartment.Spec{Water: plainWater(), Hull: compartment.HullSpec{Mesh: &compartment.MeshSpec{Name: "form", Triangles: form}}}
}

// loaded gives a hull one weight.
func loaded(s compartment.Spec, mass float64, at r3.Vec) compartment.Spec {
	s.Weights = []compartment.WeightSpec{{Name: "all", Mass: mass, At: at}}
	return s
}

// bored is a sharp round hole of a fixed coefficient.
func bored(name, from, to string, at, faces r3.Vec, diameter, cd float64) compartment.OpeningSpec {
	return compartment.OpeningSpec{Name: name, Between: [2]string{from, to}, At: at, Faces: &faces, Hole: &diameter, Cd: &cd}
}

// withoutCreep takes creeping flow out of a vessel's openings, of which textbooks know nothing.
func withoutCreep(v *compartment.Vessel) *compartment.Vessel {
	for _, p := range v.Passages {
		p.Law.Creep = hydro.MinimumCreep(p.Law.Jet)
		p.Law.AirCreep = hydro.MinimumCreep(p.Law.AirJet * v.Air.Density)
	}
	return v
}

// each is f of every value.
func each(f func(float64) float64, xs ...float64) (out []float64) {
	for _, x := range xs {
		out = append(out, f(x))
	}
	return out
}
