package compartment

import (
	"fmt"
	"math"
)

func (r *report) water(w *WaterSpec) {
	switch w.Kind {
	case "", Fresh, Sea:
	default:
		r.fault("water.kind", fmt.Sprintf("there is no water %q", w.Kind), "fresh or sea")
	}
	t := w.Temperature
	r.check("water.temperature", t, t > coldest-1e-9 && t < hottest+1e-9, "a temperature from 0 °C to 40 °C")
	maybe("water.depth", w.Depth, r.length)
	maybe("water.density", w.Density, func(path string, x float64) {
		r.check(path, x, x >= 500 && x <= 2000, "a density from 500 to 2000 kg/m³")
	})
	maybe("water.surface_tension", w.SurfaceTension, func(path string, x float64) {
		r.check(path, x, x >= 0 && x <= 0.2, "a surface tension from 0 to 200 mN/m")
	})
}

func (r *report) hull(h *HullSpec) {
	forms := 0
	if h.Offsets != nil {
		forms++
		r.offsets(h.Offsets)
	}
	if h.Mesh != nil {
		forms++
		r.mesh(h.Mesh)
	}
	if b := h.Box; b != nil {
		forms++
		r.length("hull.box.length", b.Length)
		r.length("hull.box.breadth", b.Breadth)
		r.length("hull.box.depth", b.Depth)
	}
	if w := h.Wigley; w != nil {
		forms++
		r.length("hull.wigley.length", w.Length)
		r.length("hull.wigley.breadth", w.Breadth)
		r.length("hull.wigley.draft", w.Draft)
		r.length("hull.wigley.depth", w.Depth)
		if w.Depth < w.Draft {
			r.fault("hull.wigley.depth", "the depth is less than the draft", "a depth of at least the draft")
		}
	}
	if forms != 1 {
		r.fault("hull", fmt.Sprintf("%d outer forms", forms), "exactly one of offsets, mesh, box and wigley")
	}
	r.shell(&h.Shell)
	maybe("hull.contact_angle", h.ContactAngle, r.angle)
}

// offsets checks the numbers only; the order of stations and points is the table reader's business in solid.Stations.
func (r *report) offsets(o *OffsetsSpec) {
	if len(o.Stations) < 2 {
		r.fault("hull.offsets", fmt.Sprintf("%d stations", len(o.Stations)), "at least two")
	}
	for i := range o.Stations {
		st := &o.Stations[i]
		r.coordinate(fmt.Sprintf("hull.offsets.%d.x", i), st.X)
		for j := range st.Points {
			r.coordinate(fmt.Sprintf("hull.offsets.%d.%d.z", i, j), st.Points[j].Z)
			r.coordinate(fmt.Sprintf("hull.offsets.%d.%d.y", i, j), st.Points[j].Y)
		}
	}
}

// mesh reports the first triangle past the limits: two million of them would not help anybody.
func (r *report) mesh(m *MeshSpec) {
	if len(m.Triangles) < 4 {
		r.fault("hull.mesh", fmt.Sprintf("%d triangles", len(m.Triangles)), "a closed surface")
	}
	for i := range m.Triangles {
		for _, v := range m.Triangles[i] {
			largest := max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
			if largest <= maxLength {
				continue
			}
			r.fault("hull.mesh", fmt.Sprintf("triangle %d has a corner at %.4g, %.4g, %.4g m", i+1, v.X, v.Y, v.Z),
				"coordinates from −20 m to 20 m; is the unit right?")
			return
		}
	}
}

func (r *report) shell(s *ShellSpec) {
	const path = "hull.shell"
	maybe(path+".mass", s.Mass, r.mass)
	maybe(path+".thickness", s.Thickness, r.length)
	maybe(path+".density", s.Density, r.density)
	if s.At != nil {
		r.point(path+".at", *s.At)
	}
	if s.Over != nil {
		r.span(path+".over", *s.Over)
	}
	switch {
	case s.Mass != nil && s.Thickness != nil:
		r.fault(path+".thickness", "a mass and a thickness", "either mass with at, or thickness with density")
	case s.Mass != nil && s.At == nil:
		r.fault(path, "the shell's mass has no place", "at: its centre")
	case s.Thickness != nil && s.Density == nil:
		r.fault(path, "the shell's thickness alone gives no mass", "density: of its material")
	case s.Thickness != nil && (s.At != nil || s.Over != nil):
		r.fault(path+".at", "a shell of some thickness has its centre from the hull's surface", "leave at and over away")
	case s.Mass == nil && s.Thickness == nil && (s.At != nil || s.Over != nil || s.Density != nil):
		r.fault(path, "a shell without mass", "mass, or thickness with density")
	}
	if s.Mass != nil && s.At != nil && s.Over != nil {
		r.middleThird(path, s.At.X, *s.Over)
	}
}

// middleThird refuses a centre that no linear spread without negative mass can have.
func (r *report) middleThird(path string, centre float64, over [2]float64) {
	if r.broken(path+".at", path+".over") {
		return
	}
	middle, third := (over[0]+over[1])/2, (over[1]-over[0])/6
	if math.Abs(centre-middle) > third*(1+1e-9) {
		r.fault(path+".at", fmt.Sprintf("the centre at x = %s is outside the middle third of the length that the mass is spread over",
			metres(centre)), fmt.Sprintf("x from %s to %s", metres(middle-third), metres(middle+third)))
	}
}

func (r *report) bulkhead(path string, b *BulkheadSpec) {
	r.coordinate(path+".at", b.At)
	maybe(path+".top", b.Top, r.coordinate)
	maybe(path+".cd", b.Cd, r.discharge)
}

// order checks that bulkheads and joints stand from the stern forward.
func (r *report) order(s *Spec) {
	for i := 1; i < len(s.Bulkheads); i++ {
		if !(s.Bulkheads[i].At > s.Bulkheads[i-1].At) {
			r.fault(r.paths.bulkheads[i]+".at", fmt.Sprintf("it does not stand before bulkhead %s", s.Bulkheads[i-1].Name),
				"bulkheads in order from the stern forward")
		}
	}
	for i := 1; i < len(s.Joints); i++ {
		if !(s.Joints[i].At > s.Joints[i-1].At+2*joined) {
			r.fault(r.paths.joints[i]+".at", fmt.Sprintf("it does not stand before joint %s", s.Joints[i-1].Name),
				"joints in order from the stern forward, more than 1 mm apart")
		}
	}
}

func (r *report) compartment(path string, c *CompartmentSpec) {
	maybe(path+".permeability", c.Permeability, func(path string, x float64) {
		r.check(path, x, x >= minShare && x <= 1, "a permeability of more than 0 and at most 1")
	})
	given := 0
	for i, x := range [3]*[2]float64{c.X, c.Y, c.Z} {
		if x != nil {
			given++
			r.span(path+"."+"xyz"[i:i+1], *x)
		}
	}
	if given == 1 || given == 2 {
		r.fault(path, "a box needs three ranges", "x, y and z, or none of them")
	}
	if c.Starts != nil {
		r.starts(path+".starts", c.Starts)
	}
}

func (r *report) starts(path string, s *StartSpec) {
	given := 0
	for _, x := range [3]*float64{s.Volume, s.Depth, s.Share} {
		if x != nil {
			given++
		}
	}
	if given != 1 {
		r.fault(path, fmt.Sprintf("the water at the start is given %d times", given), "one of a volume, a depth and a share")
	}
	maybe(path, s.Depth, r.distance)
	maybe(path, s.Share, r.share)
	maybe(path, s.Volume, func(path string, x float64) {
		r.check(path, x, x >= 0 && x <= maxLength*maxLength*maxLength, "a volume of 0 or more")
	})
}

// boxesApart refuses boxes that share room; faces may touch.
func (r *report) boxesApart(s *Spec) {
	for j := range s.Compartments {
		for i := range j {
			a, b := &s.Compartments[i], &s.Compartments[j]
			if !boxed(a) || !boxed(b) || r.broken(r.paths.compartments[i], r.paths.compartments[j]) {
				continue
			}
			if overlap(*a.X, *b.X) > 0 && overlap(*a.Y, *b.Y) > 0 && overlap(*a.Z, *b.Z) > 0 {
				r.fault(r.paths.compartments[j], fmt.Sprintf("its box overlaps that of %s", a.Name), "boxes that touch at most")
			}
		}
	}
}

func boxed(c *CompartmentSpec) bool { return c.X != nil && c.Y != nil && c.Z != nil }

// overlap is the length that two ranges share, less a hair for the rounding of units.
func overlap(a, b [2]float64) float64 { return min(a[1], b[1]) - max(a[0], b[0]) - 1e-9 }

func (r *report) weight(path string, w *WeightSpec) {
	r.mass(path+".mass", w.Mass)
	r.point(path+".at", w.At)
	maybe(path+".density", w.Density, r.density)
	if w.Size != nil {
		for i, x := range w.Size {
			r.length(fmt.Sprintf("%s.size.%d", path, i), x)
		}
	}
	if w.Over != nil {
		r.span(path+".over", *w.Over)
		r.middleThird(path, w.At.X, *w.Over)
	}
}
