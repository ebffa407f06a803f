package compartment

import (
	"math"
	"testing"

	"github.com/byhead/byhead/hydro/solid"
	"gonum.org/v1/gonum/spatial/r3"
)

// corner is a point of a section: port and up.
type corner struct{ y, z float64 }

// prism is a body of one convex section from end to end, corners to be given port side last: from the keel over starboard.
func prism(t testing.TB, length float64, section []corner) *Body {
	t.Helper()
	var tris []solid.Triangle
	at := func(x float64, c corner) r3.Vec { return r3.Vec{X: x, Y: c.y, Z: c.z} }
	for k, a := range section {
		b := section[(k+1)%len(section)]
		tris = append(tris, solid.Triangle{at(0, a), at(length, b), at(length, a)}, solid.Triangle{at(0, a), at(0, b), at(length, b)})
		if k > 0 && k < len(section)-1 {
			tris = append(tris, solid.Triangle{at(0, section[0]), at(0, b), at(0, a)},
				solid.Triangle{at(length, section[0]), at(length, a), at(length, b)})
		}
	}
	form, err := solid.New(tris)
	if err != nil {
		t.Fatal(err)
	}
	if form.Volume() < 0 {
		form = form.Reversed()
	}
	return &Body{Name: "hull", Form: form, KeelFore: r3.Vec{X: length}, KeelMiddle: r3.Vec{X: length / 2}}
}

func rectangle(breadth, depth float64) []corner {
	b := breadth / 2
	return []corner{{-b, 0}, {-b, depth}, {b, depth}, {b, 0}}
}

// polygon has n corners on a circle about (0, r).
func polygon(r float64, n int) []corner {
	c := make([]corner, n)
	for k := range c {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(n))
		c[k] = corner{-r * sin, r - r*cos}
	}
	return c
}

// sectionArm is the righting arm of a prism by a second method, plane geometry: the section is cut by a level line that is
// bisected to the wanted area, and the arm is how far the centroid of what is wet lies to the side of G (0, kg).
func sectionArm(section []corner, area, kg, heel float64) float64 {
	sin, cos := math.Sincos(heel)
	turned := make([]corner, len(section)) // as seen from aft with port to the left: y is to starboard
	for k, c := range section {
		turned[k] = corner{-c.y*cos + c.z*sin, c.y*sin + c.z*cos}
	}
	lo, hi := -10.0, 10.0
	for range 56 { // 20 m halved to the last digit of a millimetre
		if a, _ := wetted(turned, (lo+hi)/2); a < area {
			lo = (lo + hi) / 2
		} else {
			hi = (lo + hi) / 2
		}
	}
	a, moment := wetted(turned, (lo+hi)/2)
	return moment/a - kg*sin
}

// wetted is the area of a section below a level, and its moment to starboard.
func wetted(section []corner, level float64) (area, moment float64) {
	var wet []corner
	for k, a := range section {
		b := section[(k+1)%len(section)]
		if a.z <= level {
			wet = append(wet, a)
		}
		if (a.z <= level) != (b.z <= level) {
			f := (level - a.z) / (b.z - a.z)
			wet = append(wet, corner{a.y + f*(b.y-a.y), level})
		}
	}
	for k, a := range wet {
		b := wet[(k+1)%len(wet)]
		cross := (a.y*b.z - b.y*a.z) / 2
		area += cross
		moment += cross * (a.y + b.y) / 3
	}
	if area < 0 {
		return -area, -moment
	}
	return area, moment
}

// afloat loads a prism so that a share s of it is under water, G at a height over the keel line amidships, in water of
// 1000 kg/m³.
func afloat(b *Body, s, kg float64) *Floater {
	return load(b, 1000*s*b.Form.Volume(), r3.Vec{X: b.KeelMiddle.X, Z: kg})
}

// upright is the pose on an even keel in which the body displaces its mass.
func (f *Floater) uprightPose(t testing.TB) Pose {
	t.Helper()
	up := r3.Vec{Z: 1}
	sea, _, _ := f.Body.Form.Offset(up, f.Mass/f.Density, nan)
	return Pose{Up: up, Sea: sea}
}
