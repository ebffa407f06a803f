package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro"
	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// inWater is the surround of a form in water of a viscosity.
func inWater(form *solid.Solid, viscosity float64) *Surround {
	v := &Vessel{Water: hydro.Water{Density: 1000, Viscosity: viscosity}, rows: newRows()}
	return v.NewSurround(&Body{Form: form}, DocumentedMotion)
}

// resistance is the force of damping along an axis at a velocity.
func resistance(s *Surround, axis int, speed float64) float64 {
	var velocity, force [6]float64
	var slope [6][6]float64
	velocity[axis] = speed
	s.Damp(velocity, &force, &slope)
	return -force[axis]
}

// rubbed is what friction has against a small velocity, over it, far under water at 20 °C.
func rubbed(form *solid.Solid, axis int) (skin, rate float64) {
	s := inWater(form, 1.0016e-3) // IAPWS SR6-08(2011)
	s.Immerse(Upright(1000))
	return resistance(s, axis, 1e-9) / 1e-9, s.grid.rate
}

// TestFrictionOfCylinder: across, by the drag coefficient of a cylinder in a small swing, 3π³/(2K √(πβ)), K = UT/d and β = d²/(νT), the
// first term of Stokes's series (G. G. Stokes 1851; C.-Y. Wang, J. Fluid Mech. 32 (1968) 55; from memory), which loses as much in a period as
// a force proportional to the velocity does: of 4/(3π) ρ d C U per metre. Along it by the plate that swings in its plane, ρ√(νω/2).
func TestFrictionOfCylinder(t *testing.T) {
	const length, d, nu = 40.0, 1.0, 1.0016e-6
	across, rate := rubbed(extruded(t, ring(), length), 2)
	period := 2 * math.Pi / rate
	k, beta := 1.0, d*d/(nu*period) // any K: the force is linear
	c := 3 * math.Pow(math.Pi, 3) / (2 * k * math.Sqrt(math.Pi*beta))
	offBy(t, "across", across, 4/(3*math.Pi)*1000*d*c*k*d/period*length, 0.01)
	along, _ := rubbed(extruded(t, ring(), length), 0)
	offBy(t, "along", along, 1000*math.Sqrt(nu*rate/2)*math.Pi*d*length, 0.01)
	if want := math.Sqrt(hydro.Gravity / math.Cbrt(math.Pi/4*length)); math.Abs(rate/want-1) > 0.01 {
		t.Errorf("it is taken to swing at %g rad/s, want %g", rate, want)
	}
}

// TestFrictionOfOthers: how far off docs/motion.md says it is; of a sphere the strips have π/4 of the skin. A sphere has 6πμa²√(ω/2ν) (Stokes 1851; Landau and Lifshitz, Fluid
// Mechanics, §24), a square prism along its length its four sides, a plate that moves in its own plane across the strips both of its.
func TestFrictionOfOthers(t *testing.T) {
	const nu = 1.0016e-6
	plate := func(rate float64) float64 { return 1000 * math.Sqrt(nu*rate/2) }
	for axis, off := range map[int][2]float64{0: {-0.49, -0.46}, 2: {0.04, 0.07}} {
		got, rate := rubbed(spheroidForm(t, 1), axis)
		between(t, "sphere", got/(1.5*math.Pi*plate(rate))-1, off)
	}
	got, rate := rubbed(extruded(t, [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 5), 0)
	between(t, "square prism, along", got/(4*5*plate(rate))-1, [2]float64{-0.11, -0.08})
	got, rate = rubbed(extruded(t, [][2]float64{{0, 0}, {1, 0}, {1, 0.01}, {0, 0.01}}, 10), 0)
	between(t, "plate, along", got/(2*10*plate(rate))-1, [2]float64{0.25, 0.3})
}

func between(t *testing.T, what string, got float64, want [2]float64) {
	t.Helper()
	t.Logf("%s: %+.1f %%", what, 100*got)
	if !(want[0] <= got && got <= want[1]) {
		t.Errorf("%s is off by %g, want %g to %g", what, got, want[0], want[1])
	}
}

// TestFrictionInFall: of a fall at 0.5 m/s less than a hundredth of the drag, which was measured with it.
func TestFrictionInFall(t *testing.T) {
	drag := func(viscosity float64) float64 {
		s := inWater(mustBox(), viscosity)
		s.Immerse(Upright(1000))
		return resistance(s, 2, 0.5)
	}
	if more := drag(1.0016e-3)/drag(0) - 1; !(more > 0 && more < 0.01) {
		t.Errorf("friction has %g of the drag", more)
	}
}

// TestSkinSetsInSmoothly: a strip that just dips in resists as little as it is wet; its centroid, as the cells have it, lies anywhere
// there, and any force in it had that lever (random scenario 2434 was stopped by 1e-27 m² of water).
func TestSkinSetsInSmoothly(t *testing.T) {
	s := inWater(mustBox(), 1.0016e-3)
	up := r3.Unit(r3.Vec{X: -0.63, Y: 0.11, Z: 0.77})
	wet := func(sea float64) int { s.Immerse(Pose{Up: up, Sea: sea}); return len(s.strips) }
	for n := 1; n < 16; n++ {
		below, above := -2.0, 2.0
		for range 60 {
			if m := (below + above) / 2; wet(m) < n {
				below = m
			} else {
				above = m
			}
		}
		for axis := range 6 {
			wet(below)
			before := resistance(s, axis, 1e-3)
			for _, more := range []float64{1e-15, 1e-12, 1e-9, 1e-7, 1e-6} {
				wet(above + more)
				if now := resistance(s, axis, 1e-3); !(now <= before*1.01+1e-9) {
					t.Errorf("strip %d dips in by %g m: %g resists along axis %d, %g before", n, more, now, axis, before)
				}
			}
		}
	}
}
